/* The working of the gas: equilibrium of the mean, then the mean over unevenly mixed parcels. */
#include <math.h>
#include <string.h>

#include "smoke.h"
#include "unmixedness.h"
#include "working_steps.h"

/* Gases of the set in the order of the species table, that of the report. */
typedef struct gases {
    int count;
    int set[DW_GAS_MAX];       /* position in the set       */
    int species[DW_GAS_MAX];   /* position in the table     */
} gases;

static gases gases_of(const dw_work_point *p)
{
    const dw_gas_set *set = &p->model->gases;
    gases g = {.count = 0};
    for (size_t s = 0; s < p->model->data->species.count; s++) {
        for (int j = 0; j < set->count; j++) {
            if (set->species[j] != (int)s) continue;
            g.set[g.count] = j;
            g.species[g.count++] = (int)s;
        }
    }
    return g;
}

static const char *const element_name[DW_ELEMENT_COUNT] = {"C", "H", "O", "N", "Ar"};

/* Atoms of a kilogram of the mixture: b_C, b_H ... */
static void put_elements(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_reactants *re = &p->solved->reactants;
    dw_work_table_begin(w, "Atoms in fuel and air", "element", DW_ELEMENT_COUNT);
    for (size_t e = 0; e < DW_ELEMENT_COUNT; e++) dw_work_row(w, e, "%s", element_name[e]);
    dw_work_column(w, DW_WORK_DATA, "b_fuel", "atoms in a kilogram of fuel, from its composition",
                   "mol/kg", re->fuel_kg.n);
    dw_work_column(w, DW_WORK_DATA, "b_air", "atoms in a kilogram of air", "mol/kg", re->air_kg.n);
    dw_work_column_is(w, "", "b", "atoms in a kilogram of what burns", "mol/kg",
                      "z*b_fuel + (1 - z)*b_air", NULL, "definition");
}

static void put_potentials(const dw_work_point *p)
{
    static const char *const symbol[4] = {"pi_C", "pi_H", "pi_E", "pi_N"};
    static const char *const meaning[4] = {"potential of carbon (as in CO2)",
                                           "potential of hydrogen (as in H2O)",
                                           "potential of the surplus oxygen",
                                           "potential of nitrogen"};
    for (int k = 0; k < 4; k++) {
        dw_work_put(p->w, DW_WORK_SOLVED, symbol[k], meaning[k], "", p->solved->mean.potential[k]);
    }
    dw_work_put(p->w, DW_WORK_SOLVED, "n_mean", "moles of gas in a kilogram", "mol/kg",
                p->solved->mean.gas_mol);
    dw_work_put(p->w, DW_WORK_SOLVED, "n_solid", "moles of solid carbon in a kilogram", "mol/kg",
                p->solved->mean.graphite_mol);
}

/* The table of gases: atoms, g/RT and the mean gas that follows from the potentials. */
static void put_mean(const dw_work_point *p, const gases *g, const dw_gas_potentials *at)
{
    dw_working *w = p->w;
    const dw_species_table *table = &p->model->data->species;
    const dw_gas_set *set = &p->model->gases;
    double atoms[DW_ELEMENT_COUNT][DW_GAS_MAX], excess[DW_GAS_MAX], mass[DW_GAS_MAX],
        potential[DW_GAS_MAX], x[DW_GAS_MAX], inert[DW_GAS_MAX];
    dw_work_table_begin(w, "The gases that may form", "gas", (size_t)g->count);
    for (int i = 0; i < g->count; i++) {
        const dw_species *s = &table->species[g->species[i]];
        const int j = g->set[i];
        dw_work_row(w, (size_t)i, "%s", s->name);
        for (int e = 0; e < DW_ELEMENT_COUNT; e++) atoms[e][i] = s->atoms[e];
        excess[i] = set->weight[j][2];
        mass[i] = s->molar_mass_kg_mol;
        potential[i] = at->g_rt[j];
        x[i] = p->solved->mean.x[j];
        inert[i] = j == set->role[DW_ROLE_AR] ? 1.0 : 0.0;
    }
    dw_work_column(w, DW_WORK_DATA, "C", "atoms of carbon", "", atoms[DW_C]);
    dw_work_column(w, DW_WORK_DATA, "H", "atoms of hydrogen", "", atoms[DW_H]);
    dw_work_column(w, DW_WORK_DATA, "O", "atoms of oxygen", "", atoms[DW_O]);
    dw_work_column(w, DW_WORK_DATA, "N", "atoms of nitrogen", "", atoms[DW_N]);
    dw_work_column(w, DW_WORK_DATA, "Ar", "1 for argon, which does not react", "", inert);
    dw_work_column(w, DW_WORK_DATA, "E", "surplus oxygen: O - 2 C - H/2", "", excess);
    dw_work_column(w, DW_WORK_DATA, "M", "molar mass", "kg/mol", mass);
    dw_work_column(w, DW_WORK_DATA, "g_RT", "free enthalpy / (R T) at T_c and 1 bar", "",
                   potential);
    put_potentials(p);
    dw_work_column_is(w, "", "x_m", "share in the mean gas", "",
                      "(1 - Ar)*exp(-g_RT - ln(p_air/100000) + C*pi_C + H*pi_H + E*pi_E + N*pi_N) + "
                      "Ar*b_Ar/n_mean",
                      x, "rp1311");
}

static void put_mean_balances(const dw_work_point *p)
{
    dw_working *w = p->w;
    dw_work_balance(w, "", "n_mean", "all shares add up to one", "sum(x_m) = 1", "definition");
    static const char *const solved_for[DW_ELEMENT_COUNT] = {"pi_C", "pi_H", "pi_E", "pi_N", NULL};
    for (int e = 0; e < DW_ELEMENT_COUNT; e++) {
        const char *name = element_name[e];
        dw_work_balance(w, dw_work_keepf(w, "closure.elements.%s", name), solved_for[e],
                        dw_work_keepf(w, "atoms of %s: as many in the gas as were put in", name),
                        e == DW_C ? "n_mean*sum(x_m*C) + n_solid = b_C"
                                  : dw_work_keepf(w, "n_mean*sum(x_m*%s) = b_%s", name, name),
                        "definition");
    }
    dw_work_balance(w, "", "M_gas", "the molar mass used for the density is that of this gas",
                    "M_gas = sum(x_m*M)", "definition");
}

/* g/RT of the gases that the checks need, at the temperature of the composition. */
static void put_water_gas(const dw_work_point *p, const dw_gas_potentials *at)
{
    dw_working *w = p->w;
    static const struct {
        dw_role role;
        const char *name;
    } gas[4] = {{DW_ROLE_CO, "CO"}, {DW_ROLE_CO2, "CO2"}, {DW_ROLE_H2, "H2"}, {DW_ROLE_H2O, "H2O"}};
    for (int i = 0; i < 4; i++) {
        const int j = p->model->gases.role[gas[i].role];
        dw_work_put(w, DW_WORK_DATA, dw_work_keepf(w, "g_%s", gas[i].name),
                    dw_work_keepf(w, "g_RT of %s", gas[i].name), "",
                    at->g_rt[j]);
        dw_work_put(w, DW_WORK_STEP, dw_work_keepf(w, "xm_%s", gas[i].name),
                    dw_work_keepf(w, "x_m of %s", gas[i].name), "", p->solved->mean.x[j]);
    }
    dw_work_step_is(w, "", "K_w", "constant of the water-gas shift CO + H2O = CO2 + H2", "",
                    "exp(g_CO + g_H2O - g_CO2 - g_H2)", NAN, "nasa9");
    dw_work_balance(w, "", NULL, "the mean gas satisfies the water-gas shift",
                    "K_w = xm_CO2*xm_H2/(xm_CO*xm_H2O)",
                    "nasa9");
}

/* One step for each gas: its mean over the parcels. */
static void put_means(const dw_work_point *p, const gases *g, bool parcels, bool traces)
{
    dw_working *w = p->w;
    const dw_species_table *table = &p->model->data->species;
    for (int i = 0; i < g->count; i++) {
        const char *name = table->species[g->species[i]].name;
        const double x = p->result->gas_wet.x[g->species[i]];
        const bool trace = !(x >= 0.5e-5);
        /* The four of the ratios are worked out with the others, whatever their share. */
        const bool always = strcmp(name, "CO") == 0 || strcmp(name, "CO2") == 0 ||
                            strcmp(name, "H2") == 0 || strcmp(name, "H2O") == 0;
        if ((trace && !always) != traces) continue;
        dw_work_step_is(w, dw_work_keepf(w, "gas_wet.%s", name), dw_work_keepf(w, "x_%s", name),
                        dw_work_keepf(w, "share of %s, wet", name), "",
                        parcels ? dw_work_keepf(w, "sum(w*n*y_%s)/sum(w*n)", name)
                                : dw_work_keepf(w, "xm_%s", name),
                        x, "beta_mixing");
    }
}

/* Points, weights and equilibrium of every parcel. False when one has none. */
static bool put_parcels(const dw_work_point *p, const gases *g)
{
    dw_working *w = p->w;
    const dw_reactants *re = &p->solved->reactants;
    dw_parcels all;
    double mean[DW_GAS_MAX], gas_mol_kg;
    if (dw_unmixedness_mean(&p->model->gases, &re->frozen.lean, &re->frozen.rich, &re->fuel_kg, &re->air_kg,
                            dw_result_fuel_share(p->result), p->result->unmixedness,
                            re->pressure_pa_abs, re->graphite, mean, &gas_mol_kg, &all) != DW_OK) {
        return false;
    }
    dw_work_text(w, "The gas in a real kiln is unevenly mixed: the share of fuel z_k differs from "
                    "parcel to parcel, by a beta distribution with mean z and spread s. Each "
                    "parcel is brought to equilibrium in the same way as the mean gas, and the "
                    "contents of all parcels are added up by weight.");
    if (re->frozen.at.lean_k != re->frozen.at.rich_k) {
        dw_work_text(w, "A parcel with more fuel than its air can burn is worked out at T_rich, every other at "
                        "T_lean.");
    }
    dw_work_table_begin(w, "Parcels", "parcel", (size_t)all.count);
    for (int k = 0; k < all.count; k++) dw_work_row(w, (size_t)k, "%d", k + 1);
    dw_work_column(w, DW_WORK_DATA, "z_k", "share of fuel by mass", "", all.z);
    dw_work_column(w, DW_WORK_DATA, "w", "weight", "", all.weight);
    dw_work_column(w, DW_WORK_DATA, "n", "moles of gas in a kilogram", "mol/kg", all.gas_mol);
    for (int i = 0; i < g->count; i++) {
        const char *name = p->model->data->species.species[g->species[i]].name;
        dw_work_column(w, DW_WORK_DATA, dw_work_keepf(w, "y_%s", name),
                       dw_work_keepf(w, "share of %s", name), "", all.x[g->set[i]]);
    }
    dw_work_balance(w, "", NULL, "all weights add up to one", "sum(w) = 1", "beta_mixing");
    dw_work_balance(w, "", NULL, "the fuel in all parcels is the fuel put in", "sum(w*z_k) = z",
                    "beta_mixing");
    return true;
}

/* Wet shares as a column, with what is worked out from them row by row. */
static void put_wet(const dw_work_point *p, const gases *g)
{
    dw_working *w = p->w;
    const dw_species_table *table = &p->model->data->species;
    double x[DW_GAS_MAX], dry[DW_GAS_MAX], water[DW_GAS_MAX], mass[DW_GAS_MAX];
    dw_work_table_begin(w, "The gas in the chamber", "gas", (size_t)g->count);
    for (int i = 0; i < g->count; i++) {
        const int s = g->species[i];
        dw_work_row(w, (size_t)i, "%s", table->species[s].name);
        x[i] = p->result->gas_wet.x[s];
        dry[i] = p->result->gas_dry.x[s];
        mass[i] = table->species[s].molar_mass_kg_mol;
        water[i] = strcmp(table->species[s].name, "H2O") == 0 ? 1.0 : 0.0;
    }
    dw_work_column(w, DW_WORK_STEP, "x", "share, wet", "", x);
    dw_work_column(w, DW_WORK_DATA, "M", "molar mass", "kg/mol", mass);
    dw_work_column(w, DW_WORK_DATA, "wet", "1 for water", "", water);
    dw_law_column(w, "gas_dry.*", NULL, NULL, dw_dry_share_law, dry);
}

void dw_work_gas(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_result *r = p->result;
    const gases g = gases_of(p);
    dw_gas_potentials between;
    const dw_gas_potentials *at;
    if (dw_frozen_at(&p->solved->reactants.frozen, &p->model->gases, r->equivalence_ratio, &between, &at) != DW_OK) {
        return;
    }
    dw_work_section(w, "What burns, and what it burns to");
    (void)dw_frozen_mean_k(r->gas_temperature_k, dw_quench_of(&p->solved->kiln.settings), r->equivalence_ratio,
                           "composition_temperature_k", w);
    dw_law_write(w, "", NULL, NULL, dw_mixture_share_law, dw_result_fuel_share(r));
    put_elements(p);
    for (int e = 0; e < DW_ELEMENT_COUNT; e++) {
        dw_work_put(w, DW_WORK_STEP, dw_work_keepf(w, "b_%s", element_name[e]),
                    dw_work_keepf(w, "b of %s, from the table", element_name[e]), "mol/kg",
                    p->solved->inside.mix.n[e]);
    }
    dw_work_text(w, "At equilibrium no reaction goes any further. The share of every gas then "
                    "follows from one number for each element, its potential, and the potentials "
                    "are those with which all atoms are accounted for.");
    put_mean(p, &g, at);
    put_mean_balances(p);
    put_water_gas(p, at);

    dw_work_section(w, "The gas in the chamber, wet and dry");
    dw_work_put(w, DW_WORK_INPUT, "s", "unmixedness: spread / mean", "", r->unmixedness);
    const bool parcels = p->solved->inside.uneven && put_parcels(p, &g);
    if (!parcels) {
        for (int i = 0; i < g.count; i++) {
            const char *name = p->model->data->species.species[g.species[i]].name;
            dw_work_put(w, DW_WORK_STEP, dw_work_keepf(w, "xm_%s", name),
                        dw_work_keepf(w, "x_m of %s", name), "",
                        p->solved->mean.x[g.set[i]]);
        }
    }
    put_means(p, &g, parcels, false);
    dw_work_section(w, "Gases in traces");
    put_means(p, &g, parcels, true);
    dw_work_section(w, "Dry shares and ratios");
    put_wet(p, &g);
    dw_law_write(w, "reducing_fraction", NULL, NULL, dw_reducing_law, r->reducing_frac);
    dw_law_write(w, "co_co2_ratio", NULL, NULL, dw_co_ratio_law, r->co_co2_ratio);
    dw_law_write(w, "h2_h2o_ratio", NULL, NULL, dw_h2_ratio_law, r->h2_h2o_ratio);
    (void)dw_smoke_limit(p->model->data, &p->solved->kiln.fuel, "smoke_aeration", w);
}

#include "working_ladder.h"

#include <math.h>
#include <stdlib.h>

#include "unmixedness.h"
#include "oxygen.h"
#include "working_mixtures.h"
#include "working_ware.h"

enum { RUNG_MAX = 64 };

/** A ladder on its way into a working. All borrowed. */
typedef struct maker {
    dw_working *w;
    const dw_ladder *ladder;
    const dw_rung *rung;
    size_t count;
    double z[RUNG_MAX];       /* share of fuel of each rung */
} maker;

static dw_work_mixtures mixtures_of(const maker *m, const double *z, size_t rows,
                                    const char *z_symbol)
{
    const dw_ware_mixer *mixer = &m->ladder->mixer;
    return (dw_work_mixtures){.gases = mixer->gases,
                              .potentials = &mixer->potentials,
                              .fuel_kg = &mixer->fuel_kg,
                              .air_kg = &mixer->air_kg,
                              .pressure_pa_abs = mixer->pressure_pa_abs,
                              .rows = rows,
                              .z = z,
                              .z_symbol = z_symbol,
                              .x = "e",
                              .g = "gT",
                              .temperature = "T_gas"};
}

static void begin_table(maker *m, const char *title)
{
    dw_work_table_begin(m->w, title, "rung", m->count);
    for (size_t i = 0; i < m->count; i++) {
        dw_work_row(m->w, i, "%.4g", m->rung[i].equivalence_ratio);
        dw_work_row_key(m->w, i, "%zu", i);
    }
}

/* Oxygen and carbon at the ware: the model's numbers as columns. */
static void put_oxygen(const maker *m)
{
    dw_working *w = m->w;
    double column[4][RUNG_MAX];
    for (size_t i = 0; i < m->count; i++) {
        const dw_ware *ware = &m->rung[i].ware;
        column[0][i] = ware->mean.log10_po2_bar;
        column[1][i] = ware->probe_emf_v;
        column[2][i] = ware->co_co2_ratio;
        column[3][i] = ware->mean.carbon_activity;
    }
    dw_law_column(w, "rungs.*.log10_po2_bar", NULL, NULL, dw_equilibrium_oxygen_law, column[0]);
    dw_law_column(w, "rungs.*.probe_emf_v", NULL, NULL, dw_probe_emf_law, column[1]);
    dw_law_column(w, "rungs.*.co_co2_ratio", NULL, NULL, dw_gas_ratio_law, column[2]);
    if (m->ladder->mixer.gases->graphite < 0) return;
    dw_law_column(w, "rungs.*.carbon_activity", NULL, NULL, dw_equilibrium_carbon_law, column[3]);
}

/* Dry shares of the evenly mixed gas; without a spread they are the uneven ones too. */
static void put_dry(const maker *m, const char *x)
{
    static const struct {
        const char *gas, *key;
    } dry[4] = {{"CO", "co_dry"}, {"CO2", "co2_dry"}, {"H2", "h2_dry"}, {"O2", "o2_dry"}};
    const bool even = !dw_mixer_uneven(&m->ladder->mixer);
    for (int k = 0; k < 4; k++) {
        double column[RUNG_MAX];
        if (!even && k > 0) break;
        for (size_t i = 0; i < m->count; i++) {
            const dw_rung_gas *g = &m->rung[i].mixed;
            const double value[4] = {g->co, g->co2, g->h2, g->o2};
            column[i] = value[k];
        }
        dw_law_column(m->w,
                      dw_work_keepf(m->w, "%s%s%s", k == 0 ? "rungs.*.co_dry_mixed" : "",
                                    even && k == 0 ? " " : "",
                                    even ? dw_work_keepf(m->w, "rungs.*.%s", dry[k].key) : ""),
                      dw_work_keepf(m->w, "d>d_%s x>%s_%s x_H2O>%s_H2O", dry[k].gas, x, dry[k].gas, x),
                      dw_work_keepf(m->w, "share of %s in the dry gas, evenly mixed", dry[k].gas),
                      dw_rung_dry_law, column);
    }
}

/* The table of rungs: mixture, equilibrium at the ware,
and at the temperature of the composition. */
static dw_status put_rungs(maker *m)
{
    dw_working *w = m->w;
    const dw_ladder *l = m->ladder;
    double phi[RUNG_MAX];
    bool graphite[RUNG_MAX], allowed[RUNG_MAX];
    for (size_t i = 0; i < m->count; i++) {
        phi[i] = m->rung[i].equivalence_ratio;
        m->z[i] = m->rung[i].ware.mean.z;
        allowed[i] = l->mixer.graphite;
        graphite[i] = dw_ware_lets_carbon(l->mixer.graphite, phi[i]);
    }
    dw_work_section(w, "The rungs: gas at equilibrium with the ware");
    dw_work_text(w,
                 "Each rung is a mixture of the fuel and the air of the kiln, brought to equilibrium: "
                    "the share of every gas follows from one number for each element, its potential; "
                    "the potentials are those with which all atoms are accounted for.");
    begin_table(m, "Rungs");
    dw_work_column(w, DW_WORK_INPUT, "phi", "equivalence ratio", "", phi);
    dw_work_column_is(w, "rungs.*.air_ratio", "lambda", "air ratio", "", "1/phi", NULL,
                      "definition");
    dw_law_column(w, "", NULL, NULL, dw_fuel_share_law, m->z);
    dw_work_mixtures mix = mixtures_of(m, m->z, m->count, "z");
    mix.graphite = graphite;
    dw_status status = dw_work_mixtures_put(w, &mix);
    if (status != DW_OK) return status;
    put_oxygen(m);
    if (l->composition_temperature_k == l->mixer.potentials.temperature_k) {
        put_dry(m, "e");
        return DW_OK;
    }
    dw_work_section(w, "The rungs: gas whose reactions freeze");
    dw_work_text(w, "Below T_q the gas keeps the composition that it has at T_c.");
    begin_table(m, "Rungs at the temperature of the composition");
    dw_work_column(w, DW_WORK_STEP, "z", "share of fuel, by mass", "", m->z);
    mix = mixtures_of(m, m->z, m->count, "z");
    mix.potentials = &l->composition;
    mix.graphite = allowed;
    mix.x = "x";
    mix.g = "g";
    mix.temperature = "T_c";
    status = dw_work_mixtures_put(w, &mix);
    if (status == DW_OK) put_dry(m, "x");
    return status;
}

/* ---- uneven gas --------------------------------------------------------------------------- */

enum { SHOWN = 5 };
static const dw_role shown_role[SHOWN] = {DW_ROLE_CO, DW_ROLE_CO2, DW_ROLE_H2, DW_ROLE_O2,
                                          DW_ROLE_H2O};
static const char *const shown_name[SHOWN] = {"CO", "CO2", "H2", "O2", "H2O"};

/* Points, weights and what each parcel of a rung holds. */
static dw_status put_parcels(const maker *m, size_t index)
{
    dw_working *w = m->w;
    const dw_ware_mixer *mixer = &m->ladder->mixer;
    dw_parcels all;
    double mean[DW_GAS_MAX], gas_mol_kg;
    const dw_status status = dw_unmixedness_mean(
        mixer->gases, &m->ladder->composition, &mixer->fuel_kg, &mixer->air_kg, m->z[index],
        mixer->spread, mixer->pressure_pa_abs, mixer->graphite, mean, &gas_mol_kg, &all);
    if (status != DW_OK) return status;
    dw_work_table_begin(w, dw_work_keepf(w, "Parcels of the rung %.4g",
                                         m->rung[index].equivalence_ratio),
                        "parcel", (size_t)all.count);
    for (int i = 0; i < all.count; i++) dw_work_row(w, (size_t)i, "%d", i + 1);
    dw_work_column(w, DW_WORK_DATA, "z_k", "share of fuel by mass", "", all.z);
    dw_work_column(w, DW_WORK_DATA, "w", "weight", "", all.weight);
    dw_work_column(w, DW_WORK_SOLVED, "n_k", "moles of gas in a kilogram", "mol/kg", all.gas_mol);
    for (int k = 0; k < SHOWN; k++) {
        dw_work_column(w, DW_WORK_SOLVED, dw_work_keepf(w, "y_%s", shown_name[k]),
                       dw_work_keepf(w, "share of %s in equilibrium at T_c", shown_name[k]), "",
                       all.x[mixer->gases->role[shown_role[k]]]);
    }
    return DW_OK;
}

static dw_status put_uneven_rung(const maker *m, size_t index)
{
    dw_working *w = m->w;
    const dw_rung_gas *g = &m->rung[index].unmixed;
    dw_work_section(w, "Uneven gas at the rung %.4g", m->rung[index].equivalence_ratio);
    const dw_status status = put_parcels(m, index);
    if (status != DW_OK) return status;
    dw_work_put(w, DW_WORK_STEP, "z_m", "z of this rung", "", m->z[index]);
    dw_work_balance(w, "", NULL, "all weights add up to one", "sum(w) = 1", "beta_mixing");
    dw_work_balance(w, "", NULL, "the fuel in all parcels is the fuel put in", "sum(w*z_k) = z_m",
                    "beta_mixing");
    dw_work_step_is(w, "", "n_dry", "moles of dry gas in a kilogram", "mol/kg",
                    "sum(w*n_k*(1 - y_H2O))", NAN, "beta_mixing");
    static const char *const key[4] = {"co_dry", "co2_dry", "h2_dry", "o2_dry"};
    const double value[4] = {g->co, g->co2, g->h2, g->o2};
    for (int k = 0; k < 4; k++) {
        dw_work_step_is(w, dw_work_keepf(w, "rungs.%zu.%s", index, key[k]),
                        dw_work_keepf(w, "u_%s", shown_name[k]),
                        dw_work_keepf(w, "share of %s in the dry gas, unevenly mixed",
                                      shown_name[k]), "",
                        dw_work_keepf(w, "sum(w*n_k*y_%s)/n_dry", shown_name[k]), value[k],
                        "beta_mixing");
    }
    return DW_OK;
}

/* Leaner and richer parcels of the rungs that have them, two rows each. */
static dw_status put_quantiles(const maker *m)
{
    dw_working *w = m->w;
    const double spread = m->ladder->mixer.spread;
    double z_mean[2 * RUNG_MAX], share[2 * RUNG_MAX], z[2 * RUNG_MAX], oxygen[2 * RUNG_MAX];
    bool graphite[2 * RUNG_MAX];
    size_t rows = 0;
    for (size_t i = 0; i < m->count; i++) rows += m->rung[i].ware.has_parcels ? 2 : 0;
    if (rows == 0) return DW_OK;
    dw_work_section(w, "Leaner and richer parcels at the ware");
    dw_work_text(w, "Near phi 1 two parcels are brought to equilibrium at T_gas, each by itself: "
                    "the one below which the leanest tenth of the gas is, and the one above which "
                    "the richest tenth is.");
    dw_work_table_begin(w, "Parcels at the ware", "rung", rows);
    rows = 0;
    for (size_t i = 0; i < m->count; i++) {
        const dw_ware *ware = &m->rung[i].ware;
        if (!ware->has_parcels) continue;
        for (int side = 0; side < 2; side++) {
            const dw_ware_gas *gas = side == 0 ? &ware->lean : &ware->rich;
            share[rows] = side == 0 ? DW_WARE_PARCEL_SHARE : 1.0 - DW_WARE_PARCEL_SHARE;
            z_mean[rows] = m->z[i];
            z[rows] = gas->z;
            oxygen[rows] = gas->log10_po2_bar;
            graphite[rows] = m->ladder->mixer.graphite;
            dw_work_row(w, rows, "%.4g, %s", m->rung[i].equivalence_ratio,
                        side == 0 ? "leaner" : "richer");
            dw_work_row_key(w, rows, "%zu.%s_log10_po2_bar", i, side == 0 ? "lean" : "rich");
            rows++;
        }
    }
    dw_work_column(w, DW_WORK_STEP, "z_m", "z of the rung", "", z_mean);
    dw_work_column(w, DW_WORK_CONSTANT, "q", "share of the gas that is leaner", "", share);
    dw_law_column(w, "", "z>z_m", NULL, dw_mixture_alpha_law, NULL);
    dw_law_column(w, "", "z>z_m", NULL, dw_mixture_beta_law, NULL);
    dw_work_column(w, DW_WORK_SOLVED, "z_p", "share of fuel in the parcel", "", z);
    if (spread >= DW_NO_SPREAD) {
        dw_work_balance(w, "", "z_p", "that share of the gas is leaner than the parcel",
                        "betainc(z_p, alpha, beta) = q", "beta_mixing");
    }
    dw_work_mixtures mix = mixtures_of(m, z, rows, "z_p");
    mix.graphite = graphite;
    const dw_status status = dw_work_mixtures_put(w, &mix);
    if (status != DW_OK) return status;
    dw_law_column(w, "rungs.*", "lg_pO2>lg_p", NULL, dw_equilibrium_oxygen_law, oxygen);
    return DW_OK;
}

static dw_status put_all(maker *m)
{
    dw_working *w = m->w;
    const dw_ladder *l = m->ladder;
    dw_work_section(w, "Constants of oxygen");
    dw_work_oxygen_constants(l->model, l->mixer.potentials.temperature_k, w);
    dw_status status = put_rungs(m);
    if (status != DW_OK || !dw_mixer_uneven(&l->mixer)) return status;
    dw_work_section(w, "Uneven gas");
    dw_work_put(w, DW_WORK_INPUT, "s", "unmixedness: spread / mean", "", l->mixer.spread);
    dw_work_text(w, "The gas in a real kiln is unevenly mixed: the share of fuel z_k differs from "
                    "parcel to parcel, by a beta distribution with mean z and spread s. Each "
                    "parcel is brought to equilibrium in the same way as the rungs, and the "
                    "contents of all parcels are added up by weight.");
    status = put_quantiles(m);
    for (size_t i = 0; i < m->count && status == DW_OK; i++) status = put_uneven_rung(m, i);
    return status;
}

dw_status dw_working_ladder(const dw_kiln *kiln, const dw_ladder *ladder, const dw_rung *rung,
                            size_t count, dw_working *w)
{
    if (count == 0 || count > RUNG_MAX) return DW_ERR_ARG;
    struct {
        dw_solved solved;
        maker maker;
    } *job = calloc(1, sizeof *job);
    if (job == NULL) return DW_ERR_NOMEM;
    job->maker = (maker){.w = w, .ladder = ladder, .rung = rung, .count = count};
    dw_status status = dw_working_before_flows(ladder->model, kiln, w, &job->solved);
    if (status == DW_OK) status = put_all(&job->maker);
    free(job);
    return status == DW_OK ? dw_working_status(w) : status;
}

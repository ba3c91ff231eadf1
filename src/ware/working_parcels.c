/* The working of the leaner and the richer parcels of an uneven gas. */
#include <math.h>

#include "mixture_spread.h"
#include "ware_gas.h"
#include "working_mixtures.h"
#include "working_ware.h"

/* Below this the distribution is a point (mixture_spread.c draws the line at the same place). */
static const double no_spread = 1e-6;

/* z_l, z_h, z_q and z_r of a mean mixture: what is leaner than all but a tenth, richer, where the richest
 * twentieth begins, and its mean. parcels: the first two. */
static dw_status put_spread(double z_mean, double spread, bool parcels, double z[3], dw_working *w)
{
    double begins = NAN;
    dw_status status = DW_OK;
    z[0] = z[1] = NAN;
    if (parcels) status = dw_mixture_quantile(z_mean, spread, DW_WARE_PARCEL_SHARE, &z[0]);
    if (parcels && status == DW_OK) {
        status = dw_mixture_quantile(z_mean, spread, 1.0 - DW_WARE_PARCEL_SHARE, &z[1]);
    }
    if (status == DW_OK) {
        status = dw_mixture_quantile(z_mean, spread, 1.0 - DW_WARE_RICHEST_SHARE, &begins);
    }
    if (status == DW_OK) {
        status = dw_mixture_richest(z_mean, spread, DW_WARE_RICHEST_SHARE, NULL, &z[2]);
    }
    if (status != DW_OK) return status;
    if (!(spread >= no_spread)) {
        dw_work_step_is(w, "", "z_r", "fuel in the richest twentieth: the same as everywhere", "",
                        "z", z[2],
                        "definition");
        return DW_OK;
    }
    dw_work_step_is(w, "", "alpha", "first parameter of the beta distribution", "",
                    "z*((1 - z)/(z*s^2) - 1)", NAN, "beta_mixing");
    dw_work_step_is(w, "", "beta", "second number", "", "(1 - z)*((1 - z)/(z*s^2) - 1)", NAN,
                    "beta_mixing");
    if (parcels) {
        dw_work_put(w, DW_WORK_SOLVED, "z_l", "share of fuel below which the leanest tenth of the "
                                              "gas is", "",
                    z[0]);
        dw_work_balance(w, "", "z_l", "a tenth is leaner",
                        dw_work_keepf(w, "betainc(z_l, alpha, beta) = %g", DW_WARE_PARCEL_SHARE),
                        "beta_mixing");
        dw_work_put(w, DW_WORK_SOLVED, "z_h", "share of fuel above which the richest tenth of the "
                                              "gas is", "",
                    z[1]);
        dw_work_balance(w, "", "z_h", "a tenth is richer",
                        dw_work_keepf(w, "betainc(z_h, alpha, beta) = %g",
                                      1.0 - DW_WARE_PARCEL_SHARE),
                        "beta_mixing");
    }
    dw_work_put(w, DW_WORK_SOLVED, "z_q", "share of fuel at which the richest twentieth begins",
                "", begins);
    dw_work_balance(w, "", "z_q", "a twentieth is richer",
                    dw_work_keepf(w, "betainc(z_q, alpha, beta) = %g",
                                  1.0 - DW_WARE_RICHEST_SHARE),
                    "beta_mixing");
    dw_work_step_is(w, "", "z_r", "mean share of fuel in the richest twentieth", "",
                    "z*(1 - betainc(z_q, alpha + 1, beta))/(1 - betainc(z_q, alpha, beta))", z[2],
                    "beta_mixing");
    return DW_OK;
}

enum { PARCEL_MAX = 4 };

/** The parcels beside the mean gas, in the order of the report. */
typedef struct parcels {
    size_t count;
    const char *name[PARCEL_MAX];
    double z[PARCEL_MAX];
    const dw_ware_gas *gas[PARCEL_MAX];
} parcels;

static void add(parcels *p, const char *name, double z, const dw_ware_gas *gas)
{
    if (!isfinite(gas->equivalence_ratio)) return;
    p->name[p->count] = name;
    p->z[p->count] = z;
    p->gas[p->count++] = gas;
}

/* Shares of fuel as a table, with the richness of each. */
static void put_richness(const parcels *p, dw_working *w)
{
    double phi[PARCEL_MAX];
    dw_work_table_begin(w, "Parcels", "parcel", p->count);
    for (size_t i = 0; i < p->count; i++) {
        phi[i] = p->gas[i]->equivalence_ratio;
        dw_work_row(w, i, "%s", p->name[i]);
        dw_work_row_key(w, i, "%zu", i + 1);
    }
    dw_work_column(w, DW_WORK_STEP, "z_p", "share of fuel, by mass", "", p->z);
    dw_work_column_is(w, "parcels.*.equivalence_ratio", "phi_p", "equivalence ratio", "",
                      "need*z_p/(1 - z_p)", phi, "definition");
}

/* What those that have an equilibrium come to. */
static dw_status put_gases(const dw_model *model, const dw_solved *solved, const parcels *p,
                           dw_working *w)
{
    double z[PARCEL_MAX], oxygen[PARCEL_MAX], carbon[PARCEL_MAX];
    bool graphite[PARCEL_MAX];
    size_t rows = 0;
    for (size_t i = 0; i < p->count; i++) rows += isfinite(p->gas[i]->log10_po2_bar) ? 1 : 0;
    if (rows == 0) return DW_OK;
    dw_work_table_begin(w, "Parcels at equilibrium", "parcel", rows);
    rows = 0;
    for (size_t i = 0; i < p->count; i++) {
        if (!isfinite(p->gas[i]->log10_po2_bar)) continue;
        dw_work_row(w, rows, "%s", p->name[i]);
        dw_work_row_key(w, rows, "%zu", i + 1);
        z[rows] = p->z[i];
        oxygen[rows] = p->gas[i]->log10_po2_bar;
        carbon[rows] = p->gas[i]->carbon_activity;
        graphite[rows++] = solved->reactants.graphite || p->gas[i]->equivalence_ratio > 3.0;
    }
    dw_gas_potentials at;
    dw_status status = dw_gas_potentials_at(&model->gases, solved->net.gas_temperature_k, &at);
    if (status != DW_OK) return status;
    dw_work_column(w, DW_WORK_STEP, "z_p", "share of fuel, by mass", "", z);
    const dw_work_mixtures m = {.gases = &model->gases,
                                .potentials = &at,
                                .fuel_kg = &solved->reactants.fuel_kg,
                                .air_kg = &solved->reactants.air_kg,
                                .pressure_pa_abs = solved->reactants.pressure_pa_abs,
                                .rows = rows,
                                .z = z,
                                .z_symbol = "z_p",
                                .graphite = graphite,
                                .x = "e",
                                .g = "gT",
                                .temperature = "T_gas"};
    status = dw_work_mixtures_put(w, &m);
    if (status != DW_OK) return status;
    dw_work_column_is(w, "parcels.*.log10_po2_bar", "lg_p",
                      "logarithm of the oxygen pressure in bar", "", "2*log10(K_1*e_CO2/e_CO)",
                      oxygen, "nasa9");
    if (model->gases.graphite < 0) return DW_OK;
    dw_work_column_is(w, "parcels.*.carbon_activity", "aC_p",
                      "carbon activity, from 2 CO = C + CO2", "",
                      "exp(2*gT_CO - gT_CO2 - gT_C)*e_CO^2/e_CO2*p_air/100000", carbon, "nasa9");
    return DW_OK;
}

dw_status dw_working_ware_parcels(const dw_model *model, const dw_solved *solved,
                                  const dw_result *result, const dw_ware *ware, dw_working *w)
{
    if (!ware->given) return DW_OK;
    dw_work_section(w, "Leaner and richer parcels");
    dw_work_text(w, "The gas is unevenly mixed, by a beta distribution with mean z and spread s. "
                    "Parcels of the gas are brought to equilibrium at T_gas, each by itself.");
    const double z_mean = result->gas_flow_kg_s / (result->gas_flow_kg_s + result->air_flow_kg_s);
    double z[3];
    const dw_status status =
        put_spread(z_mean, solved->kiln.settings.unmixedness, ware->has_parcels, z, w);
    if (status != DW_OK) return status;
    parcels p = {.count = 0};
    add(&p, "leanest tenth ends at", z[0], &ware->lean);
    add(&p, "richest tenth begins at", z[1], &ware->rich);
    add(&p, "richest 5 %, mean", z[2], &ware->richest);
    if (isfinite(ware->primary.equivalence_ratio)) {
        const double air = result->primary_aeration * solved->reactants.stoichiometric_kg_kg;
        const double z_burner = 1.0 / (1.0 + air);
        dw_work_step_is(w, "", "z_b", "share of fuel in gas and burner air alone", "",
                        "1/(1 + aer*need)",
                        z_burner, "definition");
        add(&p, "gas and burner air alone", z_burner, &ware->primary);
    }
    put_richness(&p, w);
    return put_gases(model, solved, &p, w);
}

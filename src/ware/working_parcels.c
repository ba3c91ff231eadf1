/* The working of the leaner and the richer parcels of an uneven gas. */
#include <math.h>

#include "unmixedness.h"
#include "ware_gas.h"
#include "working_mixtures.h"
#include "working_ware.h"

/* z_l, z_h, z_q and z_r: what is leaner than all but a tenth, richer, where the richest twentieth begins, and
 * its mean. The first two where there are parcels. */
static void put_spread(const dw_ware *ware, double spread, dw_working *w)
{
    if (!(spread >= DW_NO_SPREAD)) {
        dw_work_step_is(w, "", "z_r", "fuel in the richest twentieth: the same as everywhere", "",
                        "z", ware->richest.z, "definition");
        return;
    }
    dw_law_write(w, "", NULL, NULL, dw_mixture_alpha_law, NAN);
    dw_law_write(w, "", NULL, NULL, dw_mixture_beta_law, NAN);
    if (ware->has_parcels) {
        dw_work_put(w, DW_WORK_SOLVED, "z_l", "share of fuel below which the leanest tenth of the "
                                              "gas is", "",
                    ware->lean.z);
        dw_work_balance(w, "", "z_l", "a tenth is leaner",
                        dw_work_keepf(w, "betainc(z_l, alpha, beta) = %g", DW_WARE_PARCEL_SHARE),
                        "beta_mixing");
        dw_work_put(w, DW_WORK_SOLVED, "z_h", "share of fuel above which the richest tenth of the "
                                              "gas is", "",
                    ware->rich.z);
        dw_work_balance(w, "", "z_h", "a tenth is richer",
                        dw_work_keepf(w, "betainc(z_h, alpha, beta) = %g",
                                      1.0 - DW_WARE_PARCEL_SHARE),
                        "beta_mixing");
    }
    dw_work_put(w, DW_WORK_SOLVED, "z_q", "share of fuel at which the richest twentieth begins",
                "", ware->z_richest_from);
    dw_work_balance(w, "", "z_q", "a twentieth is richer",
                    dw_work_keepf(w, "betainc(z_q, alpha, beta) = %g",
                                  1.0 - DW_WARE_RICHEST_SHARE),
                    "beta_mixing");
    dw_work_step_is(w, "", "z_r", "mean share of fuel in the richest twentieth", "",
                    "z*(1 - betainc(z_q, alpha + 1, beta))/(1 - betainc(z_q, alpha, beta))",
                    ware->richest.z, "beta_mixing");
}

enum { PARCEL_MAX = 4 };

/** The parcels beside the mean gas, in the order of the report. */
typedef struct parcels {
    size_t count;
    const char *name[PARCEL_MAX];
    const dw_ware_gas *gas[PARCEL_MAX];
} parcels;

static void add(parcels *p, const char *name, const dw_ware_gas *gas)
{
    if (!isfinite(gas->equivalence_ratio)) return;
    p->name[p->count] = name;
    p->gas[p->count++] = gas;
}

/* Shares of fuel as a table, with the richness of each. */
static void put_richness(const parcels *p, dw_working *w)
{
    double z[PARCEL_MAX], phi[PARCEL_MAX];
    dw_work_table_begin(w, "Parcels", "parcel", p->count);
    for (size_t i = 0; i < p->count; i++) {
        z[i] = p->gas[i]->z;
        phi[i] = p->gas[i]->equivalence_ratio;
        dw_work_row(w, i, "%s", p->name[i]);
        dw_work_row_key(w, i, "%zu", i + 1);
    }
    dw_work_column(w, DW_WORK_STEP, "z_p", "share of fuel, by mass", "", z);
    dw_law_column(w, "parcels.*.equivalence_ratio", "z>z_p phi>phi_p", NULL, dw_equivalence_ratio_law,
                  phi);
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
        z[rows] = p->gas[i]->z;
        oxygen[rows] = p->gas[i]->log10_po2_bar;
        carbon[rows] = p->gas[i]->carbon_activity;
        graphite[rows++] =
            dw_ware_lets_carbon(solved->reactants.graphite, p->gas[i]->equivalence_ratio);
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
    dw_law_column(w, "parcels.*.log10_po2_bar", "lg_pO2>lg_p", NULL, dw_equilibrium_oxygen_law, oxygen);
    if (model->gases.graphite < 0) return DW_OK;
    dw_law_column(w, "parcels.*.carbon_activity", "a_C>aC_p", NULL, dw_equilibrium_carbon_law, carbon);
    return DW_OK;
}

dw_status dw_working_ware_parcels(const dw_model *model, const dw_solved *solved,
                                  const dw_ware *ware, dw_working *w)
{
    if (!ware->given) return DW_OK;
    dw_work_section(w, "Leaner and richer parcels");
    dw_work_text(w, "The gas is unevenly mixed, by a beta distribution with mean z and spread s. "
                    "Parcels of the gas are brought to equilibrium at T_gas, each by itself.");
    put_spread(ware, solved->kiln.settings.unmixedness, w);
    parcels p = {.count = 0};
    add(&p, "leanest tenth ends at", &ware->lean);
    add(&p, "richest tenth begins at", &ware->rich);
    add(&p, "richest 5 %, mean", &ware->richest);
    if (isfinite(ware->primary.equivalence_ratio)) {
        dw_law_write(w, "", NULL, NULL, dw_burner_share_law, ware->primary.z);
        add(&p, "gas and burner air alone", &ware->primary);
    }
    put_richness(&p, w);
    return put_gases(model, solved, &p, w);
}

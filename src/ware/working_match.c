/* The working of the mixture of fuel and air that has the oxygen given without a kiln. */
#include "working_match.h"

#include <math.h>

#include "chamber_gas.h"
#include "working_mixtures.h"

/** What one table of the mixture needs. */
typedef struct table {
    const char *title;
    double temperature_k;
    const char *x, *g, *temperature;   /* symbols */
    bool solved;                       /* the share of fuel is found here */
} table;

static void put_need(const dw_match_mixtures *mixtures, dw_working *w)
{
    dw_work_text(w, "The gas is taken to be %s burnt with dry air and mixed evenly, in equilibrium.",
                 mixtures->fuel->name);
    dw_work_put(w, DW_WORK_DATA, "Ef", "oxygen in a kilogram of fuel less what it needs to burn",
                "mol/kg", mixtures->fuel_kg.excess_o);
    dw_work_put(w, DW_WORK_DATA, "Ea", "oxygen in a kilogram of air", "mol/kg",
                mixtures->air_kg.excess_o);
    dw_law_write(w, "", NULL, NULL, dw_air_need_law, mixtures->stoichiometric_kg_kg);
}

static dw_status put_mixture(const dw_match_mixtures *mixtures, const dw_matched_gas *gas,
                             const table *t, dw_working *w)
{
    dw_gas_potentials at;
    const dw_status status =
        dw_gas_potentials_at(&mixtures->model->gases, t->temperature_k, &at);
    if (status != DW_OK) return status;
    dw_work_table_begin(w, t->title, "gas", 1);
    dw_work_row(w, 0, "gas");
    dw_work_column(w, t->solved ? DW_WORK_SOLVED : DW_WORK_STEP, "z", "share of fuel, by mass", "",
                   &gas->z);
    const dw_work_mixtures m = {.gases = &mixtures->model->gases,
                                .potentials = &at,
                                .fuel_kg = &mixtures->fuel_kg,
                                .air_kg = &mixtures->air_kg,
                                .pressure_pa_abs = mixtures->pressure_pa_abs,
                                .rows = 1,
                                .z = &gas->z,
                                .z_symbol = "z",
                                .x = t->x,
                                .g = t->g,
                                .temperature = t->temperature};
    return dw_work_mixtures_put(w, &m);
}

static void put_ratio(const dw_matched_gas *gas, const char *x, const char *oxygen, dw_working *w)
{
    dw_work_balance(w, "", "z", "the mixture whose oxygen is the one given",
                    dw_work_keepf(w, "log10(%s_O2*p_air/100000) = %s", x, oxygen), "definition");
    dw_work_step_is(w, "equivalence_ratio", "phi", "equivalence ratio", "",
                    "sum(need*z/(1 - z))", gas->equivalence_ratio, "definition");
}

dw_status dw_work_match_sensor(const dw_model *model, const dw_ware_given *given,
                               const dw_matched_gas *gas, dw_working *w)
{
    const dw_match_mixtures *mixtures = &given->mixtures;
    double log10_po2_bar;
    dw_status status =
        dw_given_oxygen_read(model, given, given->sensor_temperature_k, w, &log10_po2_bar);
    if (status != DW_OK || gas->found != DW_MATCH_GAS) return status;
    dw_work_section(w, "The gas at the sensor");
    put_need(mixtures, w);
    dw_work_text(w, "The sensor brings the gas to equilibrium at its own temperature. On the way to the "
                    "ware the mixture of fuel and air stays as it is; the oxygen pressure does not.");
    const table t = {"Gas at the sensor", given->sensor_temperature_k, "s", "gs", "T_s", true};
    status = put_mixture(mixtures, gas, &t, w);
    if (status == DW_OK) put_ratio(gas, "s", "lg_s", w);
    return status;
}

dw_status dw_work_match_ware(const dw_ware_given *given, const dw_matched_gas *gas,
                             double temperature_k, dw_working *w)
{
    if (gas->found != DW_MATCH_GAS) return DW_OK;
    const bool heated = given->sensor == DW_SENSOR_HEATED;
    dw_work_section(w, "The gas at the ware");
    if (!heated) put_need(&given->mixtures, w);
    const table t = {"Gas at the ware", temperature_k, "e", "gT", "T_gas", !heated};
    return put_mixture(&given->mixtures, gas, &t, w);
}

static void put_shares(const dw_matched_gas *gas, const char *x, dw_working *w)
{
    dw_work_step_is(w, "gas.o2_wet", "o2_w", "share of O2, wet", "",
                    dw_work_keepf(w, "sum(%s_O2)", x), gas->o2_wet, "definition");
    dw_work_step_is(w, "gas.o2_dry", "o2_d", "share of O2, dry", "",
                    dw_work_keepf(w, "sum(%s_O2/(1 - %s_H2O))", x, x), gas->o2_dry, "definition");
    dw_work_step_is(w, "gas.co_dry", "co_d", "share of CO, dry", "",
                    dw_work_keepf(w, "sum(%s_CO/(1 - %s_H2O))", x, x), gas->co_dry, "definition");
}

dw_status dw_work_match_shares(const dw_ware_given *given, const dw_matched_gas *gas,
                               double temperature_k, dw_working *w)
{
    if (gas->found == DW_MATCH_AIR) {
        dw_work_section(w, "The gas with this oxygen");
        dw_law_write(w, "gas.o2_wet gas.o2_dry", NULL, NULL, dw_match_air_law, gas->o2_wet);
    }
    if (gas->found != DW_MATCH_GAS) return DW_OK;
    if (given->sensor != DW_SENSOR_HEATED) put_ratio(gas, "e", "lg_pO2", w);
    (void)dw_frozen_mean_k(temperature_k, dw_match_quench(), gas->equivalence_ratio,
                           "gas.composition_temperature_k", w);
    if (gas->composition_temperature_k == temperature_k) {
        put_shares(gas, "e", w);
        return DW_OK;
    }
    const table t = {"Gas as it freezes", gas->composition_temperature_k, "x", "g", "T_c", false};
    const dw_status status = put_mixture(&given->mixtures, gas, &t, w);
    if (status == DW_OK) put_shares(gas, "x", w);
    return status;
}

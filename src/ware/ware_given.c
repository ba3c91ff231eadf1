#include "ware_given.h"

#include <math.h>

#include "constants.h"
#include "oxygen.h"

/* Oxygen as it was given, without a law. */
DW_LAW(as_given, "lg_pO2", "logarithm of the oxygen pressure in bar", "", "definition", (double lg_in),
       lg_in)

dw_status dw_given_oxygen_read(const dw_model *model, const dw_ware_given *given, double temperature_k,
                               dw_working *w, double *log10_po2_bar)
{
    dw_oxygen_ratio constants;
    const dw_status status = dw_oxygen_ratio_at(&model->gases, temperature_k, &constants);
    if (status != DW_OK) return status;
    const bool heated = given->sensor == DW_SENSOR_HEATED;
    const double value = given->value;
    const struct {
        const char *symbol, *meaning, *unit;
        const dw_law *law;
        const char *names;
    } ways[] = {
        [DW_OXYGEN_LOG10] = {"lg_in", "logarithm of the oxygen pressure in bar", "", &as_given_law, NULL},
        [DW_OXYGEN_CO_CO2] = {"CO_CO2_in", "CO / CO2", "", dw_ratio_oxygen_law, NULL},
        [DW_OXYGEN_VOLTS] = {"E_in", heated ? "volts of the sensor against dry air"
                                            : "voltage of a zirconia probe against dry air", "V",
                             dw_probe_oxygen_law, heated ? "T_gas>T_s lg_pO2>lg_s" : NULL},
        [DW_OXYGEN_H2_H2O] = {"H2_H2O_in", "H2 / H2O", "", dw_ratio_oxygen_law,
                              "K_1>K_2 CO_CO2_in>H2_H2O_in"}};
    double found = NAN;
    switch (given->given) {
    case DW_OXYGEN_LOG10: found = as_given(value); break;
    case DW_OXYGEN_CO_CO2: found = dw_oxygen_from_co_co2(&constants, value); break;
    case DW_OXYGEN_H2_H2O: found = dw_oxygen_from_h2_h2o(&constants, value); break;
    case DW_OXYGEN_VOLTS:
        found = dw_probe_log10_po2_bar(value, heated ? given->sensor_temperature_k : temperature_k,
                                       given->mixtures.pressure_pa_abs);
        break;
    }
    *log10_po2_bar = found;
    if (w == NULL) return DW_OK;
    if (heated) {
        dw_work_put(w, DW_WORK_INPUT, "T_s", "temperature of the heated sensor", "K",
                    given->sensor_temperature_k);
    }
    dw_work_put(w, DW_WORK_INPUT, ways[given->given].symbol, ways[given->given].meaning,
                ways[given->given].unit, value);
    dw_law_write(w, heated ? "" : "log10_po2_bar", ways[given->given].names,
                 heated ? "logarithm of the oxygen pressure at the sensor, in bar" : NULL,
                 ways[given->given].law, found);
    return DW_OK;
}

dw_status dw_given_oxygen_at(const dw_model *model, const dw_ware_given *given, double temperature_k,
                             dw_matched_gas *gas, double *log10_po2_bar)
{
    dw_status status = dw_given_oxygen_read(model, given, temperature_k, NULL, log10_po2_bar);
    if (status != DW_OK) return status;
    const bool heated = given->sensor == DW_SENSOR_HEATED;
    status = dw_match_oxygen(&given->mixtures, heated ? given->sensor_temperature_k : temperature_k,
                             *log10_po2_bar, gas);
    if (status == DW_OK) status = dw_match_composition(&given->mixtures, temperature_k, gas);
    if (status != DW_OK || !heated || gas->found != DW_MATCH_GAS) return status;
    return dw_match_oxygen_at(&given->mixtures, gas, temperature_k, log10_po2_bar);
}

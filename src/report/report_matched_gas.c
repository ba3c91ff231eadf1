/* The gas that has an oxygen given without a kiln, in a potter's words. */
#include <math.h>

#include "report_oxides.h"
#include "report_parts.h"

static void put(dw_report *r, dw_item *group, const char *key, dw_number number)
{
    if (isfinite(number.si)) {
        (void)dw_report_number(r, group, key, NULL, number);
    } else {
        (void)dw_report_null(r, group, key, NULL, NULL);
    }
}

/* Nothing finer than 0.01 %. */
static dw_number share(double value)
{
    dw_number number = dw_number_share(value, 2);
    number.resolution_si = 1.0e-4;
    return number;
}

/* A mixture: first what a potter would say, then what an analyser would show. */
static void put_mixture_line(dw_report *r, dw_item *screen, const dw_data *data,
                             const dw_matched_gas *gas)
{
    const bool lean = gas->band == 0;
    dw_item *line =
        dw_report_line(r, screen, NULL, "Gas",
                       lean ? "{0}: O2 {1} of the gas, {2} of the dry gas; equivalence ratio {3}"
                            : "{0}: CO {1} and O2 {2} of the dry gas; equivalence ratio {3}");
    (void)dw_report_text(r, line, NULL, NULL, dw_sentence(r, dw_reduction_phrase(r, data, gas->band)));
    (void)dw_report_number(r, line, NULL, NULL, share(lean ? gas->o2_wet : gas->co_dry));
    (void)dw_report_number(r, line, NULL, NULL, share(gas->o2_dry));
    dw_number phi = dw_number_plain(gas->equivalence_ratio, 12);
    phi.resolution_si = 1.0e-3;
    (void)dw_report_number(r, line, NULL, NULL, phi);
}

static const char *mixture_word(dw_match_found found)
{
    switch (found) {
    case DW_MATCH_GAS: return "burnt gas";
    case DW_MATCH_AIR: return "air";
    case DW_MATCH_ABOVE_AIR: return "more oxygen than air";
    case DW_MATCH_TOO_RICH: return "too rich";
    case DW_MATCH_NONE: break;
    }
    return "";
}

void dw_build_matched_gas(dw_report *r, dw_item *screen, const dw_data *data,
                          const dw_matched_gas *gas)
{
    dw_item *line;
    switch (gas->found) {
    case DW_MATCH_GAS: put_mixture_line(r, screen, data, gas); break;
    case DW_MATCH_AIR:
        line = dw_report_line(r, screen, NULL, "Gas",
                              "{0}: O2 {1}, air with hardly any burnt gas in it");
        (void)dw_report_text(r, line, NULL, NULL, dw_sentence(r, dw_reduction_phrase(r, data, gas->band)));
        (void)dw_report_number(r, line, NULL, NULL, share(gas->o2_wet));
        break;
    case DW_MATCH_ABOVE_AIR:
        (void)dw_report_text(r, screen, NULL, "Gas",
                             "More oxygen than air holds: check the figure that was given, and with "
                             "volts the sensor's wires and its zero");
        break;
    case DW_MATCH_TOO_RICH:
        line = dw_report_line(r, screen, NULL, "Gas",
                              "Richer than equivalence ratio {0}, beyond what is worked out here: check "
                              "the figure that was given");
        (void)dw_report_number(r, line, NULL, NULL, dw_number_plain(DW_MATCH_RICHEST, 2));
        break;
    case DW_MATCH_NONE: break;
    }
}

void dw_build_matched_gas_keys(dw_report *r, const dw_data *data, const dw_matched_gas *gas)
{
    dw_item *group = dw_report_group(r, dw_report_root(r), "gas", NULL, DW_STYLE_SECTION);
    (void)dw_report_text(r, group, "found", NULL, mixture_word(gas->found));
    if (gas->band >= 0) {
        (void)dw_report_text(r, group, "word", NULL, data->band[gas->band].word);
    } else {
        (void)dw_report_null(r, group, "word", NULL, NULL);
    }
    put(r, group, "o2_wet", dw_number_share(gas->o2_wet, 3));
    put(r, group, "o2_dry", dw_number_share(gas->o2_dry, 3));
    put(r, group, "co_dry", dw_number_share(gas->co_dry, 3));
    put(r, group, "composition_temperature_k",
        dw_number_temperature(gas->composition_temperature_k));
}

void dw_build_given_keys(dw_report *r, const dw_ware_given *given)
{
    dw_item *root = dw_report_root(r);
    const char *sensor = given->sensor == DW_SENSOR_ZIRCONIA ? "zirconia"
                         : given->sensor == DW_SENSOR_HEATED ? "heated"
                                                             : NULL;
    if (sensor != NULL) {
        (void)dw_report_text(r, root, "sensor", NULL, sensor);
    } else {
        (void)dw_report_null(r, root, "sensor", NULL, NULL);
    }
    put(r, root, "sensor_temperature_k", dw_number_temperature(given->sensor_temperature_k));
    (void)dw_report_text(r, root, "fuel", NULL, given->mixtures.fuel->name);
}

void dw_build_given(dw_report *r, dw_item *text, const dw_ware_given *given)
{
    const bool screen = text != NULL && text->style == DW_STYLE_SCREEN;
    if (given->sensor == DW_SENSOR_ZIRCONIA) {
        (void)dw_report_text(r, text, NULL, screen ? "Sensor" : "",
                             "A zirconia probe, as hot as the kiln, with air on its other side.");
    } else if (given->sensor == DW_SENSOR_HEATED) {
        dw_item *line = dw_report_line(
            r, text, NULL, screen ? "Sensor" : "",
            "The sensor heats itself to {0} and reads the gas as it is there. On the way to the ware the "
            "mixture of fuel and air stays the same; the oxygen pressure does not.");
        (void)dw_report_number(r, line, NULL, NULL,
                               dw_number_temperature(given->sensor_temperature_k));
    }
    dw_item *line = dw_report_line(r, text, NULL, screen ? "Fuel" : "",
                                   given->fuel_given
                                       ? "The fuel is {0}, burnt with dry air and mixed evenly{1}."
                                       : "The fuel is taken to be {0}, burnt with dry air and mixed evenly{1}.");
    (void)dw_report_text(r, line, NULL, NULL, given->mixtures.fuel->name);
    (void)dw_report_text(r, line, NULL, NULL, given->fuel_given ? "" : " (`--fuel` names another)");
}

/* The gas that has an oxygen given without a kiln, in a potter's words. */
#include <math.h>

#include "report_oxides.h"
#include "report_parts.h"

/* A number, or null when it has no value. */
static void put(dw_report *r, dw_item *group, const char *key, double si)
{
    dw_item *item = dw_report_output(r, group, "oxides", key, si);
    if (item != NULL && !isfinite(si)) item->kind = DW_ITEM_NULL;
}

/* The next hole of a sentence. */
static void fill(dw_report *r, dw_item *line, const char *key, double si)
{
    (void)dw_report_number(r, line, NULL, NULL, dw_output_number("oxides", key, si));
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
    fill(r, line, lean ? "gas.o2_wet" : "gas.co_dry", lean ? gas->o2_wet : gas->co_dry);
    fill(r, line, "gas.o2_dry", gas->o2_dry);
    fill(r, line, "equivalence_ratio", gas->equivalence_ratio);
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
        fill(r, line, "gas.o2_wet", gas->o2_wet);
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
    dw_report_output_text(r, group, "oxides", "gas.word",
                          gas->band >= 0 ? data->band[gas->band].word : NULL);
    put(r, group, "gas.o2_wet", gas->o2_wet);
    put(r, group, "gas.o2_dry", gas->o2_dry);
    put(r, group, "gas.co_dry", gas->co_dry);
    put(r, group, "gas.composition_temperature_k", gas->composition_temperature_k);
}

void dw_build_given_keys(dw_report *r, const dw_ware_given *given)
{
    dw_item *root = dw_report_root(r);
    const char *sensor = given->sensor == DW_SENSOR_ZIRCONIA ? "zirconia"
                         : given->sensor == DW_SENSOR_HEATED ? "heated"
                                                             : NULL;
    dw_report_output_text(r, root, "oxides", "sensor", sensor);
    put(r, root, "sensor_temperature_k", given->sensor_temperature_k);
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
        fill(r, line, "sensor_temperature_k", given->sensor_temperature_k);
    }
    dw_item *line = dw_report_line(r, text, NULL, screen ? "Fuel" : "",
                                   given->fuel_given
                                       ? "The fuel is {0}, burnt with dry air and mixed evenly{1}."
                                       : "The fuel is taken to be {0}, burnt with dry air and mixed evenly{1}.");
    (void)dw_report_text(r, line, NULL, NULL, given->mixtures.fuel->name);
    (void)dw_report_text(r, line, NULL, NULL, given->fuel_given ? "" : " (`--fuel` names another)");
}

/* Words for states of oxides, windows and glazes, and for the gas that has an oxygen given without a kiln. */
#include "report_oxides.h"

#include <math.h>
#include <stdio.h>


/* "wustite (FeO)". */
static const char *form_name(dw_report *report, const dw_metal *metal, int form)
{
    if (form < 0 || form >= metal->form_count) return NULL;
    return dw_report_keepf(report, "%s (%s)", metal->form[form].name, metal->form[form].formula);
}

const char *dw_forms_short(dw_report *report, const dw_metal *metal, const dw_ware_metal *state)
{
    if (!state->known) return NULL;
    const dw_oxide_form *form = metal->form;
    if (state->mixed) {
        return dw_report_keepf(report, "%s to %s", form[state->lean.form].formula,
                               form[state->rich.form].formula);
    }
    if (state->mean.other >= 0) {
        return dw_report_keepf(report, "%s or %s", form[state->mean.form].formula,
                               form[state->mean.other].formula);
    }
    return form[state->mean.form].formula;
}

const char *dw_forms_long(dw_report *report, const dw_metal *metal, const dw_ware_metal *state)
{
    if (!state->known) return "not given: no calibration covers this temperature";
    const char *mean = form_name(report, metal, state->mean.form);
    if (state->mixed) {
        const char *lean = form_name(report, metal, state->lean.form);
        const char *rich = form_name(report, metal, state->rich.form);
        return dw_report_keepf(report, "mixed: %s where the gas is leaner, %s where it is richer; "
                                       "%s in the mean gas",
                               lean != NULL ? lean : "", rich != NULL ? rich : "",
                               mean != NULL ? mean : "");
    }
    if (state->mean.other < 0) return mean;
    const char *other = form_name(report, metal, state->mean.other);
    return dw_report_keepf(report, "%s, near the boundary with %s", mean != NULL ? mean : "",
                           other != NULL ? other : "");
}

const char *dw_fit_word(dw_ware_fit fit)
{
    switch (fit) {
    case DW_FIT_YES: return "yes";
    case DW_FIT_NEAR: return "partly or nearly";
    case DW_FIT_NO: return "no";
    case DW_FIT_UNKNOWN: return "not known";
    case DW_FIT_NOT_ASKED: break;
    }
    return NULL;
}

const char *dw_heat_word(dw_ware_heat heat)
{
    switch (heat) {
    case DW_HEAT_BELOW: return "not yet";
    case DW_HEAT_WITHIN: return "now";
    case DW_HEAT_ABOVE: break;
    }
    return "past";
}

const char *dw_glaze_reason(dw_report *report, const dw_ware_glaze *glaze)
{
    switch (glaze->refusal) {
    case DW_GLAZE_GIVEN: return NULL;
    case DW_GLAZE_NO_OXYGEN: return "too cold for oxygen figures";
    case DW_GLAZE_TOO_COLD: return "below 1200 degC; the formulas are for molten glazes";
    case DW_GLAZE_TOO_HOT: return "above 1630 degC, where the formulas end";
    case DW_GLAZE_NO_IRON: return "the glaze has no iron";
    case DW_GLAZE_OUTSIDE: break;
    }
    return dw_report_keepf(report, "the glaze has %s, which the formulas do not cover",
                           glaze->glaze->outside);
}

size_t dw_metal_columns(dw_report *report, const dw_oxide_table *oxides, int shown, dw_column *column)
{
    size_t used = 0;
    for (int i = 0; i < oxides->metal_count; ++i) {
        const char *name = oxides->metal[i].name;
        column[used++] = (dw_column){.key = name, .is_text = true};
        column[used++] = (dw_column){.key = dw_report_keepf(report, "%s_forms", name),
                                     .label = i < shown ? name : NULL, .is_text = true};
    }
    return used;
}

void dw_metal_cells(dw_report *report, const dw_oxide_table *oxides, const dw_ware *ware, dw_cell *cell)
{
    for (size_t i = 0; i < (size_t)oxides->metal_count; ++i) {
        const dw_ware_metal *state = &ware->metal[i];
        if (state->known) cell[2 * i].text = oxides->metal[i].form[state->mean.form].name;
        cell[2 * i + 1].text = dw_forms_short(report, &oxides->metal[i], state);
    }
}

/* ---- the gas of a state without a kiln ------------------------------------------------------------ */

/* A number, or null when it has no value. */
static void put(dw_report *r, dw_item *group, const char *key, double si)
{
    dw_item *item = dw_report_output(r, group, "oxides", key, si);
    if (item != NULL && !isfinite(si)) item->kind = DW_ITEM_NULL;
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
    dw_add_text(r, line, dw_sentence(r, dw_reduction_phrase(r, data, gas->band)));
    dw_add_output(r, line, "oxides", lean ? "gas.o2_wet" : "gas.co_dry", lean ? gas->o2_wet : gas->co_dry);
    dw_add_output(r, line, "oxides", "gas.o2_dry", gas->o2_dry);
    dw_add_output(r, line, "oxides", "equivalence_ratio", gas->equivalence_ratio);
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
        dw_add_text(r, line, dw_sentence(r, dw_reduction_phrase(r, data, gas->band)));
        dw_add_output(r, line, "oxides", "gas.o2_wet", gas->o2_wet);
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
        dw_add_number(r, line, dw_number_plain(DW_MATCH_RICHEST, 2));
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
        dw_add_output(r, line, "oxides", "sensor_temperature_k", given->sensor_temperature_k);
    }
    dw_item *line = dw_report_line(r, text, NULL, screen ? "Fuel" : "",
                                   given->fuel_given
                                       ? "The fuel is {0}, burnt with dry air and mixed evenly{1}."
                                       : "The fuel is taken to be {0}, burnt with dry air and mixed evenly{1}.");
    dw_add_text(r, line, given->mixtures.fuel->name);
    dw_add_text(r, line, given->fuel_given ? "" : " (`--fuel` names another)");
}

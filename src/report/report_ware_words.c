/* Words for states of oxides, windows and glazes. */
#include "report_oxides.h"

#include <math.h>
#include <stdio.h>

const char *dw_form_name(dw_report *report, const dw_metal *metal, int form)
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
    const char *mean = dw_form_name(report, metal, state->mean.form);
    if (state->mixed) {
        const char *lean = dw_form_name(report, metal, state->lean.form);
        const char *rich = dw_form_name(report, metal, state->rich.form);
        return dw_report_keepf(report, "mixed: %s where the gas is leaner, %s where it is richer; "
                                       "%s in the mean gas",
                               lean != NULL ? lean : "", rich != NULL ? rich : "",
                               mean != NULL ? mean : "");
    }
    if (state->mean.other < 0) return mean;
    const char *other = dw_form_name(report, metal, state->mean.other);
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

size_t dw_metal_columns(dw_report *report, const dw_oxide_table *oxides, const char *command,
                        const char *list, int shown, dw_column *column)
{
    size_t used = 0;
    for (int i = 0; i < oxides->metal_count; ++i) {
        const char *name = oxides->metal[i].name;
        column[used++] = dw_output_column(command, dw_report_keepf(report, "%s.*.%s", list, name));
        column[used] = dw_output_column(command, dw_report_keepf(report, "%s.*.%s_forms", list, name));
        if (i >= shown) column[used].label = NULL;
        ++used;
    }
    return used;
}

void dw_metal_cells(dw_report *report, const dw_oxide_table *oxides, const dw_ware *ware, dw_cell *cell)
{
    for (int i = 0; i < oxides->metal_count; ++i) {
        const dw_ware_metal *state = &ware->metal[i];
        if (state->known) cell[2 * i].text = oxides->metal[i].form[state->mean.form].name;
        cell[2 * i + 1].text = dw_forms_short(report, &oxides->metal[i], state);
    }
}

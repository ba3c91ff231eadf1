#include <math.h>

#include "reports.h"

static const char units_note[] =
    "The end of a key is the unit of its number, in JSON always SI. Pressures are gauge, against "
    "the room's air at the same height, unless the key ends in _abs. Drafts are positive when they "
    "pull. Heights are above the chamber floor. Shares and mole fractions run from 0 to 1. Heating "
    "values are at 25 degC.";

static const char caution_note[] =
    "An estimate is not a measurement. Keep a carbon monoxide alarm and the ventilation working. "
    "Local code and a licensed gas fitter decide about burners, flue and room. Read SAFETY.md.";

dw_number dw_number_typed(const dw_report_source *source, size_t offset, dw_number number)
{
    number.typed = dw_typed_unit(source->file, offset);
    return number;
}

void dw_build_head(dw_report *report, const dw_report_source *source)
{
    dw_item *root = dw_report_root(report);
    dw_item *head = dw_report_group(report, root, NULL, NULL, DW_STYLE_SECTION);
    dw_item *program = dw_report_group(report, head, "program", NULL, DW_STYLE_SECTION);
    (void)dw_report_text(report, program, "name", NULL, "damperwise");
    (void)dw_report_text(report, program, "version", NULL, source->version);
    (void)dw_report_text(report, head, "command", NULL, source->command);
    if (source->kiln != NULL) (void)dw_report_text(report, head, "kiln", NULL, source->kiln->name);
    (void)dw_report_text(report, head, "units", NULL, units_note);
    (void)dw_report_text(report, head, "caution", NULL, caution_note);
}

const char *dw_caution_text(void)
{
    return caution_note;
}

void dw_build_caution(dw_report *report, dw_item *parent, const char *label)
{
    (void)dw_report_text(report, parent, NULL, label,
                         "An estimate, not a measurement. Keep a CO alarm and ventilation on. "
                         "Local code and a licensed gas fitter decide. Read SAFETY.md.");
}

const char *dw_reduction_phrase(dw_report *report, const dw_data *data, int band)
{
    if (band < 0 || (size_t)band >= data->band_count) return "";
    /* "light", "medium" and "heavy" are strengths of something: of reduction, once a band begins
     * where fuel is left over. The words are the user's own: the limits decide, not the words. */
    const bool reducing = band > 0 && data->band[band - 1].phi_below >= 1.0;
    const char *phrase =
        dw_report_keepf(report, "%s%s", data->band[band].word, reducing ? " reduction" : "");
    return phrase != NULL ? phrase : "";
}

const char *dw_sentence(dw_report *report, const char *text)
{
    if (text == NULL) return "";
    const bool small = text[0] >= 'a' && text[0] <= 'z';
    const char *kept = small ? dw_report_keepf(report, "%c%s", text[0] - 'a' + 'A', text + 1)
                             : dw_report_keep(report, text);
    return kept != NULL ? kept : "";
}

void dw_fill(const dw_maker *m, dw_item *line, const char *key)
{
    const dw_outputs from = {.data = m->source->data, .object[DW_IN_POINT] = m->result};
    double si;
    const dw_output_row *row;
    if (dw_output_get(&from, "estimate", key, &si, &row) == DW_OK) {
        dw_add_output(m->report, line, "estimate", key, si);
    } else {
        dw_report_fail(m->report);
    }
}

dw_number dw_number_setting(const dw_report_source *source, const char *key)
{
    const dw_output_row *row = dw_output_find("estimate", key);
    if (row == NULL || row->place != DW_IN_KILN) return dw_number_plain(NAN, 1);
    return dw_number_typed(source, row->offset,
                           dw_output_number("estimate", key, dw_output_read(row, NULL, source->kiln, 0)));
}

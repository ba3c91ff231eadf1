#include "report_parts.h"

#include <math.h>

void dw_fill_number(const dw_maker *m, dw_item *line, dw_number number)
{
    (void)dw_report_number(m->report, line, NULL, NULL, number);
}

void dw_fill_text(const dw_maker *m, dw_item *line, const char *text)
{
    (void)dw_report_text(m->report, line, NULL, NULL, text);
}

void dw_fill(const dw_maker *m, dw_item *line, const char *key)
{
    const dw_outputs from = {.data = m->source->data, .object[DW_IN_POINT] = m->result};
    double si;
    const dw_output_row *row;
    if (dw_output_get(&from, "estimate", key, &si, &row) == DW_OK) {
        dw_fill_number(m, line, dw_output_number("estimate", key, si));
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

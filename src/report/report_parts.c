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

dw_number dw_number_temperature(double si)
{
    dw_number number = dw_number_of(si, DW_DIM_TEMPERATURE, 12);
    number.resolution_si = 1.0;
    return number;
}

dw_number dw_number_height(double si)
{
    dw_number number = dw_number_of(si, DW_DIM_LENGTH, 12);
    number.resolution_si = 0.01;
    return number;
}

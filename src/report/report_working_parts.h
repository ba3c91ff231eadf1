#ifndef DW_REPORT_WORKING_PARTS_H
#define DW_REPORT_WORKING_PARTS_H

/**
 * @file report_working_parts.h
 * The parts of report_working.h: one step, one table.
 *
 * Layer: report. Not for others.
 */

#include "report_working.h"
#include "working_digits.h"

/** A working on its way into a report. All borrowed. */
typedef struct dw_work_maker {
    dw_report *r;
    const dw_report_source *source;
    const dw_working *w;
    const dw_work_digits *digits;
    const dw_report *of;             /**< the report that the working is of; NULL: none       */
    dw_unit_system system;
    dw_item *root, *steps, *tables;  /**< the last two for programs                           */
} dw_work_maker;

/** One step: text into section, the same for programs into the list of steps. */
void dw_build_work_step(const dw_work_maker *m, dw_item *section, const char *title, size_t step);

/** One table likewise. */
void dw_build_work_table(const dw_work_maker *m, dw_item *section, size_t index);

/** True when people are not shown a row of a table of so many, because they are more than a page; says
 *  in the table how many are left out. Programs are given them all. */
bool dw_work_row_left_out(const dw_work_maker *m, dw_item *table, size_t rows, size_t row);

#endif

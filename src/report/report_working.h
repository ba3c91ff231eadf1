#ifndef DW_REPORT_WORKING_H
#define DW_REPORT_WORKING_H

/**
 * @file report_working.h
 * A working as a report: for people step by step, for programs as "steps", "tables" and
 * "not_worked".
 *
 * Layer: report.
 */

#include "reports.h"
#include "working.h"

/**
 * Adds a working.
 *
 * @param[in] source  its command says which keys have a reason to have no working (outputs.h).
 * @param[in] first_line  what is worked out; NULL: kiln and setting.
 * @param[in] of      the report that the working is of, for the numbers as it shows them; NULL: none.
 * @param[in] system  units of those.
 */
void dw_build_working(dw_report *report, const dw_report_source *source, const dw_working *w,
                      const char *first_line, const dw_report *of, dw_unit_system system);

/* ---- shared by the files that build it ---------------------------------------------------- */

/* Numbers are printed with so many digits that whoever works a step out with the printed numbers gets the
 * printed result. */

/** Digits of a result. */
enum { DW_WORK_RESULT_DIGITS = 6, DW_WORK_SHOWN_SIZE = 40 };

typedef struct dw_work_digits dw_work_digits;

/** Finds the digits; NULL when out of memory. */
dw_work_digits *dw_work_digits_find(const dw_working *w);
void dw_work_digits_free(dw_work_digits *d);

/** How a number that is put in stands in a step: one number, never a column. */
void dw_work_show_input(const dw_work_digits *d, size_t step, size_t quantity,
                        char out[DW_WORK_SHOWN_SIZE]);

/** An entry of a column, as its table has it. */
void dw_work_show_entry(const dw_work_digits *d, size_t quantity, size_t row,
                        char out[DW_WORK_SHOWN_SIZE]);

/** A number to result digits. */
void dw_work_show_result(double value, char out[DW_WORK_SHOWN_SIZE]);

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

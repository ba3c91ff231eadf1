#ifndef DW_WORKING_DIGITS_H
#define DW_WORKING_DIGITS_H

/**
 * @file working_digits.h
 * With how many digits the numbers of a working are printed, so that whoever works a step out with
 * the printed numbers gets the printed result.
 *
 * Layer: report. Allocates; no global state.
 */

#include "working.h"

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

#endif

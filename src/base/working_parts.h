#ifndef DW_WORKING_PARTS_H
#define DW_WORKING_PARTS_H

/**
 * @file working_parts.h
 * How a working is written down. For the files that write one; see working.h for reading it.
 *
 * Layer: base. Without a working (NULL) nothing is written. Texts are copied. In a formula a symbol means what was
 * last given that symbol. A table has at least one row.
 */

#include "working.h"

/** A heading. Symbols stay known. */
void dw_work_section(dw_working *w, const char *format, ...) DW_PRINTF(2, 3);

/** A sentence between the steps. */
void dw_work_text(dw_working *w, const char *format, ...) DW_PRINTF(2, 3);

/** A number that is put in. */
void dw_work_put(dw_working *w, dw_work_origin origin, const char *symbol, const char *meaning,
                 const char *unit, double value);

/**
 * A step with one number as its result.
 *
 * @param[in] keys     see dw_work_step.
 * @param[in] formula  right side.
 * @param[in] value    the model's own; NaN: the model does not keep it, the formula's is taken.
 */
void dw_work_step_is(dw_working *w, const char *keys, const char *symbol, const char *meaning,
                     const char *unit, const char *formula, double value, const char *source);

/** A balance; solved_for is the symbol of a number or a column put in as DW_WORK_SOLVED, or NULL. */
void dw_work_balance(dw_working *w, const char *keys, const char *solved_for, const char *meaning,
                     const char *formula, const char *source);

/** Begins a table with so many rows; columns and names of rows follow. */
void dw_work_table_begin(dw_working *w, const char *title, const char *row_title, size_t rows);
void dw_work_row(dw_working *w, size_t row, const char *format, ...) DW_PRINTF(3, 4);

/** What `*` in the keys of columns stands for, in place of the name of the row. */
void dw_work_row_key(dw_working *w, size_t row, const char *format, ...) DW_PRINTF(3, 4);

/** A column of numbers put in, of the table begun last. */
void dw_work_column(dw_working *w, dw_work_origin origin, const char *symbol, const char *meaning,
                    const char *unit, const double *value);

/** A column that is the result of a step; value may be NULL as NaN above. */
void dw_work_column_is(dw_working *w, const char *keys, const char *symbol, const char *meaning,
                       const char *unit, const char *formula, const double *value,
                       const char *source);

/** A key of one report and what it is called in another, or several with spaces between. */
typedef struct dw_work_rename {
    const char *from, *to;
} dw_work_rename;

/** From here on keys are those of another report: one in the list goes by its new name, any other is
 *  left out. list is borrowed until the next call; NULL: keys stay as they are given. */
void dw_work_rename_keys(dw_working *w, const dw_work_rename *list, size_t count);

/** From here on keys are left out altogether, until dw_work_rename_keys() with NULL. */
void dw_work_drop_keys(dw_working *w);

/** A text that lives as long as the working, for keys and formulas; "" after a failure. */
const char *dw_work_keepf(dw_working *w, const char *format, ...) DW_PRINTF(2, 3);

#endif

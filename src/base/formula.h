#ifndef DW_FORMULA_H
#define DW_FORMULA_H

/**
 * @file formula.h
 * A formula in plain text, worked out for given numbers.
 *
 * Layer: base. Pure functions, no state, no allocation, no locale.
 *
 * The formula that a reader sees is the one that is worked out, so that the two cannot part.
 */

#include <stdbool.h>
#include <stddef.h>

#include "dw_status.h"

/** What a name stands for: one number, or a column of a table (all columns of a formula are as
 *  long as each other). */
typedef struct dw_formula_value {
    const double *number;   /**< borrowed                                                   */
    size_t count;           /**< 0: one number; else rows of a column                       */
} dw_formula_value;

/** Finds a name of a formula. False when there is none of that name. */
typedef bool (*dw_formula_lookup)(void *user, const char *name, size_t length,
                                  dw_formula_value *value);

/** Takes each name of a formula in order of appearance, once for each appearance. */
typedef void (*dw_formula_take)(void *user, const char *name, size_t length);

/** Row to work out for formulas that give one number. */
#define DW_FORMULA_NO_ROW ((size_t)-1)

/**
 * Works out an expression.
 *
 * Numbers, names, `+ - * / ^` (right to left, before a sign: -2^2 is -4), brackets, the constant
 * `pi`, and sqrt exp ln log10 sin asin abs max(a, b) min(a, b) betainc(x, a, b) (beta_share.h), and
 * sum(...), which adds its argument over the rows of the columns in it, and largest(...), which takes
 * the largest. Outside these two a column stands for its entry in `row`.
 *
 * @param[in]  text    the expression; ends at NUL or at `=`.
 * @param[in]  row     DW_FORMULA_NO_ROW, or the row of columns.
 * @param[out] result  NaN on failure.
 * @retval DW_OK
 * @retval DW_ERR_ARG    a NULL pointer.
 * @retval DW_ERR_INPUT  not a formula, a name is not found, a column without a row, brackets too deep.
 * @par Checked by  tests/unit/base/test_formula.c
 */
DW_MUST_CHECK
dw_status dw_formula_evaluate(const char *text, dw_formula_lookup lookup, void *user, size_t row,
                              double *result);

/** Hands over every name of a text that is no function and not pi. */
void dw_formula_names(const char *text, dw_formula_take take, void *user);

/** The text after the first `=` that follows, NULL when there is none. */
const char *dw_formula_right(const char *text);

#endif

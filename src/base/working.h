#ifndef DW_WORKING_H
#define DW_WORKING_H

/**
 * @file working.h
 * How every number of a report comes about, as steps that a reader can follow with a calculator:
 * symbol, meaning, formula, what is put in, result, source.
 *
 * Layer: base. Allocates; no global state. Errors stick: once memory ran out, or a formula is not
 * one, every later call does nothing; callers check dw_working_status() once.
 *
 * The formula of a step is a text (formula.h), and that very text is worked out for the numbers
 * put in: it is the second opinion on the model's own code, and cannot say anything else than what
 * it does. What is found by solving (pressures, molar mass, potentials) is an input of the steps and
 * has a balance in place of a formula: two sides that must come out alike, for a column row by row.
 */

#include <stdbool.h>
#include <stddef.h>

#include "dw_status.h"

/** Where a number comes from. */
typedef enum dw_work_origin {
    DW_WORK_INPUT,      /**< of the description, given or assumed                        */
    DW_WORK_CONSTANT,
    DW_WORK_DATA,       /**< looked up in the data of gases or dampers                   */
    DW_WORK_SOLVED,     /**< found so that a balance closes                              */
    DW_WORK_STEP        /**< result of an earlier step                                   */
} dw_work_origin;

/** A number, or a column of a table. All texts are owned by the working. */
typedef struct dw_work_quantity {
    const char *symbol;
    const char *meaning;    /**< a few words                                              */
    const char *unit;       /**< SI; "" for none                                          */
    dw_work_origin origin;
    int step;               /**< that gives it, or the balance that it closes; 0: none    */
    int table;              /**< number of the table it is a column of; 0: one number     */
    size_t rows;            /**< 0: one number                                            */
    const double *value;    /**< one, or one a row; the model's own                       */
} dw_work_quantity;

/** A table whose columns are quantities. */
typedef struct dw_work_table {
    const char *title, *row_title;
    size_t rows;
    const char *const *row;       /**< name of each                                       */
    const char *const *row_key;   /**< what `*` in a key stands for: its name, or another   */
    bool has_row_keys;            /**< others were given                                   */
    size_t column_count;
    const size_t *column;         /**< index of each quantity                             */
} dw_work_table;

typedef struct dw_work_step {
    const char *formula;    /**< right side; of a balance both sides, `=` between         */
    bool is_balance;
    size_t result;          /**< quantity; DW_WORK_NONE: a balance that finds nothing      */
    size_t input_count;
    const size_t *input;    /**< quantities, each once, in order of appearance             */
    const char *meaning;    /**< of a balance                                             */
    const char *source;     /**< key of config/sources.yaml                                */
    const char *keys;       /**< JSON keys of the report that it explains, spaces between; a step `*`
                             *   of one stands for the key of the row; "" for none         */
} dw_work_step;

#define DW_WORK_NONE ((size_t)-1)

typedef enum dw_work_kind { DW_WORK_SECTION, DW_WORK_TEXT, DW_WORK_TABLE, DW_WORK_LINE } dw_work_kind;

/** What comes in which order: a heading, a sentence, a table, a step. */
typedef struct dw_work_item {
    dw_work_kind kind;
    const char *text;       /**< heading, sentence                                        */
    size_t index;           /**< of the table or step; their number is one more            */
} dw_work_item;

typedef struct dw_working dw_working;

/** A new, empty working; NULL when out of memory. */
dw_working *dw_working_create(void);

/** Frees it; NULL is allowed. */
void dw_working_destroy(dw_working *w);

/** @retval DW_OK, DW_ERR_NOMEM, DW_ERR_BUG (a formula is none, or needs a name that is not there) */
dw_status dw_working_status(const dw_working *w);

size_t dw_working_item_count(const dw_working *w);
const dw_work_item *dw_working_item(const dw_working *w, size_t index);
size_t dw_working_step_count(const dw_working *w);
const dw_work_step *dw_working_step(const dw_working *w, size_t index);
size_t dw_working_table_count(const dw_working *w);
const dw_work_table *dw_working_table(const dw_working *w, size_t index);
size_t dw_working_quantity_count(const dw_working *w);
const dw_work_quantity *dw_working_quantity(const dw_working *w, size_t index);

/** The last quantity of a symbol that is one number; NULL when there is none. */
const dw_work_quantity *dw_working_find(const dw_working *w, const char *symbol);

/**
 * Works out the formula of a step.
 *
 * @param[in]  numbers  for each quantity the numbers to put in; NULL, or NULL in it: the model's own.
 * @param[in]  row      of a result that is a column, else 0.
 * @param[out] left     of a balance its left side, else the result; NaN on failure.
 * @param[out] right    of a balance its right side, else the same; NaN on failure.
 * @retval DW_OK, DW_ERR_ARG, DW_ERR_INPUT
 */
DW_MUST_CHECK
dw_status dw_working_evaluate(const dw_working *w, size_t step, const double *const *numbers,
                              size_t row, double *left, double *right);

#endif

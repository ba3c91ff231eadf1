#ifndef DW_OUTPUTS_H
#define DW_OUTPUTS_H

/**
 * @file outputs.h
 * Every output of the program: what it is called in JSON, text and tables, how finely it is shown, where
 * its number is, and why it has no working when it has none.
 *
 * Layer: report. Constant tables (outputs_point.c, outputs_room.c, outputs_ware.c) and look-ups in them; no
 * state, no allocation. Builders name a row by its key; key, label and digits are in the row alone.
 */

#include "data.h"
#include "report_tree.h"

/** What an output is. */
typedef enum dw_output_kind {
    DW_OUTPUT_NUMBER, /**< with a dimension                                                    */
    DW_OUTPUT_COUNT,  /**< a whole number                                                      */
    DW_OUTPUT_YES_NO,
    DW_OUTPUT_WORD,   /**< a word, a name or a sentence                                        */
    DW_OUTPUT_SHOWN   /**< a column of the text alone: no key of the JSON                      */
} dw_output_kind;

/** The struct that holds a number. */
typedef enum dw_output_place {
    DW_IN_NOTHING,
    DW_IN_KILN,       /**< dw_kiln, resolved                                                   */
    DW_IN_POINT,      /**< dw_result                                                           */
    DW_IN_DOUBT,      /**< dw_doubt                                                            */
    DW_IN_DAMPER,     /**< dw_damper_words                                                     */
    DW_IN_COURSE,     /**< dw_room_course                                                      */
    DW_IN_EXPOSURE,   /**< dw_exposure                                                         */
    DW_IN_LIGHTING,   /**< dw_lighting                                                         */
    DW_IN_BURNER,     /**< dw_lighting_burner, one                                             */
    DW_IN_LIMITS,     /**< dw_co_data                                                          */
    DW_IN_WARE,       /**< dw_ware                                                             */
    DW_IN_GAS,        /**< dw_matched_gas                                                      */
    DW_IN_GIVEN,      /**< dw_ware_given                                                       */
    DW_IN_BOUNDARY,   /**< dw_ware_boundary, one                                               */
    DW_IN_PARCEL,     /**< dw_ware_gas, one                                                    */
    DW_IN_GLAZE,      /**< dw_ware_glaze, one                                                  */
    DW_IN_WINDOW,     /**< dw_window, one                                                      */
    DW_IN_RUNG,       /**< dw_rung, one                                                        */
    DW_IN_LADDER,     /**< dw_ladder_view                                                      */
    DW_IN_COUNT
} dw_output_place;

/** One output. */
typedef struct dw_output_row {
    const char *key;          /**< path in the JSON; `*` stands for one step, or for all that follow as
                                   the last                                                    */
    const char *label;        /**< in the text; NULL: not there                                */
    const char *heading;      /**< of a column of a table; NULL: not in the text               */
    const char *note;         /**< remark after the value; may be NULL                         */
    dw_output_kind kind;
    dw_number number;         /**< NUMBER: dimension and rounding; si is not used              */
    double column_step_si;    /**< in a table so many decimals in every row; 0: by the digits  */
    bool in_sweep;            /**< also a column of the rows of `sweep`                        */
    dw_output_place place;    /**< NOTHING: made by the builder                                */
    size_t offset;            /**< in the struct: of a double, an int for COUNT, a bool for YES_NO */
    size_t stride;            /**< in a list of the struct: from one entry to the next         */
    size_t count_offset;      /**< list: of the int that counts it                             */
    bool count_in_data;       /**< list: of a size_t of dw_data instead                        */
    bool magnitude;           /**< shown without its sign                                      */
    const char *species;      /**< at the offset is a dw_gas: the share of this gas, `*`: of the one
                                   that the key names                                          */
    double (*read)(const void *object); /**< in place of the offset: worked out of the struct  */
    const char *not_worked;   /**< why it has no working; NULL: it has one, or the command has none */
} dw_output_row;

/** Rows in the order in which reasons for no working are listed. */
typedef struct dw_output_list {
    const dw_output_row *row;
    size_t count;
} dw_output_list;

enum { DW_OUTPUT_LIST_MAX = 6 };

/** The commands there are, by index; NULL after the last. */
const char *dw_output_command(size_t index);

/** The lists that make up a command, ended by NULL. None for a command that there is not. */
const dw_output_list *const *dw_output_lists(const char *command);

/**
 * The row of a key of the JSON of a command.
 *
 * @param[in] command  "estimate", "sweep", "check", "check --keys", "room", "exposure", "why", "oxides",
 *                     "ladder".
 * @param[in] key      a path such as "flows.3.mass_kg_s", or as it is in the row: "flows.*.mass_kg_s".
 * @return NULL for a key that the command does not have.
 * @par Checked by tests/unit/report/test_outputs.c
 */
const dw_output_row *dw_output_find(const char *command, const char *key);

/** Why a key has no working: its own reason or that of all keys beside it; NULL when it has a working, or
 *  the command has none. */
const char *dw_output_not_worked(const char *command, const char *key);

/* ---- numbers by key ----------------------------------------------------------------------- */

/** What was worked out, by place. All borrowed; NULL where there is none. */
typedef struct dw_outputs {
    const dw_data *data;
    const void *object[DW_IN_COUNT];
} dw_outputs;

/** A number as it is in an object of the row's place; NaN where it has no value. index counts in a list. */
double dw_output_read(const dw_output_row *row, const dw_data *data, const void *object, size_t index);

/**
 * A number by its key, without a report.
 *
 * @param[out] si   in the unit of dim; NaN where the output has no value at this setting, and on failure.
 * @param[out] row  its row: kind, dimension, label; NULL on failure.
 * @retval DW_OK
 * @retval DW_ERR_ARG   the command has no such key, the list no such entry, or it is not a number.
 * @retval DW_ERR_DOMAIN  the number is only in the report of the command, or what it is in was not worked
 *                        out.
 * @par Checked by tests/unit/report/test_outputs.c
 */
DW_MUST_CHECK
dw_status dw_output_get(const dw_outputs *from, const char *command, const char *key, double *si,
                        const dw_output_row **row);

/* ---- for builders ------------------------------------------------------------------------- */

/** The row of a key, and a number shown by its rule. A key without a row is a mistake of the builder: the
 *  report fails. */
dw_number dw_output_number(const char *command, const char *key, double si);

/** Adds a number without key or label: the next hole of a sentence. */
void dw_add_output(dw_report *report, dw_item *parent, const char *command, const char *key, double si);

/** Adds a number, a count or a yes or no with key, label and note of its row. */
dw_item *dw_report_output(dw_report *report, dw_item *parent, const char *command, const char *key, double si);

/** Adds a word with key and label of its row; NULL: null, and not in the text. */
void dw_report_output_text(dw_report *report, dw_item *parent, const char *command, const char *key,
                           const char *text);

/** A column that shows a row. */
dw_column dw_output_column(const char *command, const char *key);

/** A table with a column for each row of a list such as "places", in the order of the catalogue. */
dw_item *dw_output_table(dw_report *report, dw_item *parent, const char *command, const char *list,
                         const char *label);

/** Adds the numbers of an object by their rows, from the first to the last as they are in the catalogue;
 *  shown: in the text too. One without a value has a dash there, and null in JSON. */
void dw_report_outputs(dw_report *report, dw_item *parent, const char *command, const char *first,
                       const char *last, const dw_data *data, const void *object, bool shown);

/** Columns for keys, in order; column has room for them. */
void dw_output_columns(const char *command, const char *const *keys, size_t count, dw_column *column);

/** Puts the numbers that an object holds into the cells of a row of a table. index counts in a list. */
void dw_output_fill(const dw_table *table, dw_cell *cell, const dw_data *data, dw_output_place place,
                    const void *object, size_t index);

#endif

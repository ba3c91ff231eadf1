#ifndef DW_REPORT_TREE_H
#define DW_REPORT_TREE_H

/**
 * @file report_tree.h
 * One result as a tree that every writer reads: text, JSON, CSV.
 *
 * Layer: report. The tree owns all its items and texts in one arena; destroying it frees them. Errors
 * stick: once memory ran out every later call does nothing and answers NULL (NULL parents are
 * allowed everywhere), so that builders check once, at the end, with dw_report_failed().
 *
 * Two names per item. The key is what machines read: stable, with the SI unit at its end. The
 * label is what people read. An item without a key is not in JSON (a group without a key is, with
 * its children put straight into its parent); an item without a label is not in the text (a group
 * with neither is in both, through its children). The label "" is in the text without a word.
 *
 * Numbers are kept in SI with their kind; the writer alone chooses the unit to show.
 */

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

#include "dw_status.h"
#include "units.h"

typedef enum dw_item_kind {
    DW_ITEM_GROUP,   /**< named children; a JSON object, a section of the text           */
    DW_ITEM_LIST,    /**< unnamed children; a JSON array                                 */
    DW_ITEM_NUMBER,
    DW_ITEM_INTEGER,
    DW_ITEM_TEXT,
    DW_ITEM_BOOL,
    DW_ITEM_NULL,    /**< no value, with the reason in note                              */
    DW_ITEM_LINE,    /**< a sentence with holes `{0}`..`{9}` for its children; `{0#}` is the
                      *   number without its unit                                        */
    DW_ITEM_TABLE
} dw_item_kind;

/** How a group is laid out in the text. */
typedef enum dw_style {
    DW_STYLE_SECTION, /**< heading, then label and value in two columns                   */
    DW_STYLE_SCREEN,  /**< short labels at the left, sentences beside them; no heading    */
    DW_STYLE_PROSE,   /**< heading, then whole sentences behind a grade word              */
    DW_STYLE_PLAIN,   /**< heading, then whole sentences from the left margin             */
    DW_STYLE_STEPS    /**< numbered steps: the number in the margin, all else beside it   */
} dw_style;

/** A number in SI and how finely it means anything. */
typedef struct dw_number {
    double si;             /**< NaN: no value                                             */
    dw_dim dim;
    bool small;            /**< pressures: a draft or chamber pressure, not a supply;
                                volume flows: of a burner's gas, not of a room's air      */
    int digits;            /**< significant digits in the text, 1..12                     */
    double resolution_si;  /**< never show finer steps than this; 0: no such limit        */
    bool trace;            /**< what is not nothing is not shown as 0: "<0.01" below its resolution  */
    bool trim;             /**< drop noughts at the end: for numbers that a person gave   */
    bool by_size;          /**< not in tables: bores in mm or inches, low gas pressures in
                            *   inches of water for US readers                            */
    const char *unit;      /**< text after the number for kinds without a unit; NULL: none */
    const char *typed;     /**< unit that the user typed, dw_quantity_unit(): text and HTML show
                            *   the number in it; NULL: in the usual one                   */
    double low_si, high_si; /**< spread; NaN: none                                        */
} dw_number;

/** How much a value ought to catch the eye: HTML sets it apart by weight, frame and colour. */
typedef enum dw_tone { DW_TONE_PLAIN, DW_TONE_LOW, DW_TONE_RAISED, DW_TONE_BAD } dw_tone;

/** One cell: the column says which. */
typedef union dw_cell {
    double si;          /**< NaN: no value                                                */
    const char *text;   /**< NULL: no value; owned by the tree or static                  */
} dw_cell;

/** One column of a table. Borrowed texts must outlive the tree. */
typedef struct dw_column {
    const char *key;    /**< JSON and CSV; NULL: text only                                */
    const char *label;  /**< text; `\n` starts a second heading line; NULL: not in text   */
    bool is_text;       /**< cells hold texts                                             */
    bool is_right;      /**< texts that are numbers: at the right of the column           */
    bool is_truth;      /**< cells hold numbers, 0 for no                                 */
    bool is_blank;      /**< text: a cell without a value is empty rather than "-"        */
    dw_number number;   /**< kind, digits, resolution of its numbers; si is not used      */
    const struct dw_output_row *output; /**< the output that it shows (outputs.h); NULL: none of them */
    const char *page_label;       /**< HTML: in place of label; "" leaves the column out; NULL: label */
    bool page_first;              /**< HTML: right after the leading columns, so that nothing hides it */
    dw_tone (*tone)(dw_cell cell); /**< HTML: of a cell with a value; NULL: plain                  */
} dw_column;

typedef struct dw_table {
    size_t column_count;
    dw_column *column;    /**< owned                                                      */
    size_t row_count;
    dw_cell *cell;        /**< row by row; owned                                          */
    size_t row_capacity;
    int lead_count;       /**< text: columns always shown, even for a row with a reason   */
    int reason_column;    /**< index of the column that says why a row has no numbers; -1 */
    const char *reason_lead; /**< text: words before the reason; may be NULL              */
    dw_tone reason_tone;  /**< HTML: of a row with a reason                               */
    const char *caution;  /**< CSV: a last column with it in the first row; may be NULL   */
    bool is_main;         /**< what CSV writes                                            */
    struct dw_table *next_owned;
} dw_table;

typedef struct dw_item {
    dw_item_kind kind;
    dw_style style;
    const char *key;
    const char *label;
    const char *text;     /**< text; template of a line                                   */
    const char *note;     /**< remark after the value; reason of a null; may be NULL      */
    const char *label_us; /**< label in US units where it differs; NULL: the same         */
    const char *mark;     /**< one word such as "assumed"; may be NULL                    */
    bool truth;
    long long integer;
    dw_number number;     /**< of a null: the kind of what is missing                     */
    dw_table *table;
    const char *svg;      /**< HTML alone: a drawing, put in as it is; NULL: none          */
    int max_lines;        /**< text: a sentence is cut after so many lines; 0: never      */
    bool is_code;         /**< a formula: HTML sets it in letters of one width            */
    dw_tone tone;         /**< HTML: how much it ought to catch the eye                   */
    struct dw_item *first, *last, *next;
} dw_item;

/** The label in a system of units. */
static inline const char *dw_item_label(const dw_item *item, dw_unit_system system)
{
    return system == DW_UNITS_US && item->label_us != NULL ? item->label_us : item->label;
}

typedef struct dw_report dw_report;

/** A new tree with an empty root group, or NULL when out of memory. */
dw_report *dw_report_create(void);

/** Frees the tree; NULL is allowed. */
void dw_report_destroy(dw_report *report);

/** The root group; NULL after a failure to create. */
dw_item *dw_report_root(dw_report *report);
const dw_item *dw_report_root_const(const dw_report *report);

/** True once memory ran out. */
bool dw_report_failed(const dw_report *report);

/** Marks the tree as failed: a builder ran out of memory of its own. */
void dw_report_fail(dw_report *report);

/** A copy of a text that lives as long as the tree; NULL after a failure. */
const char *dw_report_keep(dw_report *report, const char *text);

/** The same from a format. */
const char *dw_report_keepf(dw_report *report, const char *format, ...) DW_PRINTF(2, 3);

/* Adding. Keys and labels are borrowed and must outlive the tree (literals, or texts kept);
 * values of texts are copied. Each returns the new item, NULL after a failure. */
dw_item *dw_report_group(dw_report *report, dw_item *parent, const char *key, const char *label,
                         dw_style style);
dw_item *dw_report_list(dw_report *report, dw_item *parent, const char *key, const char *label);
dw_item *dw_report_number(dw_report *report, dw_item *parent, const char *key, const char *label,
                          dw_number number);
dw_item *dw_report_integer(dw_report *report, dw_item *parent, const char *key, const char *label,
                           long long value);
dw_item *dw_report_text(dw_report *report, dw_item *parent, const char *key, const char *label,
                        const char *text);
dw_item *dw_report_bool(dw_report *report, dw_item *parent, const char *key, const char *label,
                        bool value);
dw_item *dw_report_null(dw_report *report, dw_item *parent, const char *key, const char *label,
                        const char *reason);

/** Adds a value without key or label: an entry of a list, the next hole of a sentence. */
void dw_add_text(dw_report *report, dw_item *parent, const char *text);
void dw_add_number(dw_report *report, dw_item *parent, dw_number number);

/** Adds a sentence to a group of the text alone; "" is a blank line. */
void dw_tell(dw_report *report, dw_item *group, const char *text);

/** A sentence; its holes are filled by the children added to it afterwards, in order. */
dw_item *dw_report_line(dw_report *report, dw_item *parent, const char *key, const char *label,
                        const char *pattern);

/** A drawing for HTML, not in any other writing; svg is borrowed from the tree (kept), NULL for none. */
void dw_report_svg(dw_report *report, dw_item *parent, const char *svg);

/** An empty table; the columns are copied. */
dw_item *dw_report_table(dw_report *report, dw_item *parent, const char *key, const char *label,
                         const dw_column *columns, size_t count);

/** Room for one more row, all cells without a value; valid until the next row. NULL on failure. */
dw_cell *dw_report_row(dw_report *report, dw_item *table);

/** A point of the tree to go back to with dw_report_rows_done(). */
typedef struct dw_report_point {
    const void *chunk;
    size_t used;
} dw_report_point;

dw_report_point dw_report_here(const dw_report *report);

/**
 * Takes all rows out of a table, and out of the tree what was kept since the point: for tables that
 * are written as they grow. Only cells of this table may refer to what was kept since.
 */
void dw_report_rows_done(dw_report *report, dw_table *table, dw_report_point point);

/** Sets the remark, copied. NULL items are allowed. */
void dw_report_note(dw_report *report, dw_item *item, const char *note);

/** Sets the label for US units of a value, borrowed. NULL items are allowed. */
void dw_report_label_us(dw_item *item, const char *label);

/** Sets the one-word mark, borrowed. NULL items are allowed. */
void dw_report_mark(dw_item *item, const char *mark);

/* ---- values by path ---------------------------------------------------------------------- */

/** What is at a path. Texts are borrowed from the tree. */
typedef struct dw_found {
    bool is_number;       /**< number is set                                              */
    dw_number number;     /**< of a null: its kind, without a value                       */
    const char *text;     /**< a text; why a number has no value, where that is said      */
    bool is_null;
    const char *label;    /**< what people call it; NULL when it is not in the text        */
} dw_found;

/**
 * Looks up a path such as "gas_dry.CO", "setting.dampers.0.open_frac" or "flows.3.mass_kg_s".
 *
 * Lists and tables are counted from 0. Groups without a key are looked through, as in the JSON. The ends of a
 * number's spread have its key with _low and _high.
 *
 * @return false, with found all zero, when nothing with a value is there.
 * @par Checked by tests/unit/report/test_report_find.c
 */
bool dw_report_find(const dw_report *report, const char *path, dw_found *found);

/* ---- numbers ----------------------------------------------------------------------------- */

/** A number of a kind, with significant digits. */
static inline dw_number dw_number_of(double si, dw_dim dim, int digits)
{
    return (dw_number){.si = si, .dim = dim, .digits = digits, .low_si = NAN, .high_si = NAN};
}

/** A number that a person gave, shown as short as it can be. Four digits: more come of changing the
 *  unit, but for temperatures, which are given to a degree or half of one. */
static inline dw_number dw_number_input(double si, dw_dim dim)
{
    const bool temperature = dim == DW_DIM_TEMPERATURE;
    return (dw_number){.si = si, .dim = dim, .digits = temperature ? 5 : 4,
                       .resolution_si = temperature ? 0.1 : 0.0, .trim = true, .by_size = true,
                       .low_si = NAN, .high_si = NAN};
}

/** A number of the program's own, or worked out from what was given, in the place of one that a
 *  person gives: 1100 K is 827 degC and not 826.85. */
static inline dw_number dw_number_assumed(double si, dw_dim dim)
{
    dw_number number = dw_number_input(si, dim);
    if (dim == DW_DIM_TEMPERATURE) number.resolution_si = 1.0;
    return number;
}

/** A plain number without unit. */
static inline dw_number dw_number_plain(double value, int digits)
{
    return dw_number_of(value, DW_DIM_NUMBER, digits);
}

#endif

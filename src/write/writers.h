#ifndef DW_WRITERS_H
#define DW_WRITERS_H

/**
 * @file writers.h
 * The report tree as text, JSON, CSV or HTML.
 *
 * Layer: write. Writers read the tree and nothing else: no physics, no input, no wording of their
 * own. None of them changes the tree; none opens a file.
 */

#include "report_tree.h"
#include "strbuf.h"

/** Width that sentences are wrapped to, in columns. Tables may be wider. */
enum { DW_TEXT_WIDTH = 80 };

/**
 * Adds a sentence of the tree (item of kind DW_ITEM_LINE) with its holes filled.
 *
 * Spaces inside a number are DW_GLUE (show_number.h). A hole without a child stays as it stands.
 */
void dw_write_line(const dw_item *line, dw_unit_system system, dw_strbuf *out);

/** The same with plain spaces, for JSON, CSV and messages. */
void dw_write_plain(const dw_item *line, dw_unit_system system, dw_strbuf *out);

/**
 * Plain text for a terminal or a printout, UTF-8, lines ended by `\n`. Control characters in names
 * come out as escapes such as `\x1b`, line breaks and tabs as spaces.
 *
 * @retval DW_OK, DW_ERR_NOMEM (the tree failed or memory ran out while writing)
 */
DW_MUST_CHECK
dw_status dw_write_text(const dw_report *report, dw_unit_system system, dw_strbuf *out);

/**
 * JSON, SI throughout, 12 significant digits, keys in the order of the tree, one table row a line.
 * What has no value (NaN, infinite) is null.
 *
 * @retval DW_OK, DW_ERR_NOMEM
 */
DW_MUST_CHECK
dw_status dw_write_json(const dw_report *report, dw_strbuf *out);

/**
 * CSV after RFC 4180 (CRLF, quotes doubled), with a header line.
 *
 * A tree with a main table gives that table, with its caution in a last column of the first row.
 * Any other tree gives rows of key, value, unit, label, a key being the path in the JSON with
 * dots. Names end in the unit shown where JSON has the SI unit; it depends on the system of units
 * alone, so that the names are the same for every setting of a kiln. Shares are 0 to 1.
 *
 * A text that a spreadsheet would take for a formula (it begins with = + - @, a tab or a carriage
 * return, and is not a number) has a single quote before it.
 *
 * @retval DW_OK, DW_ERR_NOMEM
 */
DW_MUST_CHECK
dw_status dw_write_csv(const dw_report *report, dw_unit_system system, dw_strbuf *out);

/**
 * A tree whose main table is too long to be held, in pieces: the head once, rows as often as there
 * are some, the rest once. Together the pieces are what dw_write_json() or dw_write_csv() gives of
 * the whole tree. The main table must be a child of the root.
 */
typedef struct dw_long_table {
    const dw_report *report;
    const dw_item *table;      /**< the main table of the report          */
    dw_unit_system system;     /**< CSV                                   */
    size_t written;            /**< rows so far; 0 before the first       */
} dw_long_table;

void dw_write_json_head(const dw_long_table *t, dw_strbuf *out);
void dw_write_json_rows(dw_long_table *t, dw_strbuf *out);
void dw_write_json_rest(const dw_long_table *t, dw_strbuf *out);
void dw_write_csv_head(const dw_long_table *t, dw_strbuf *out);
void dw_write_csv_rows(dw_long_table *t, dw_strbuf *out);

/**
 * One HTML page that needs nothing else: what the text holds, in the same order but that columns which must
 * be seen come first in their table. It fits a screen 320 px wide and paper (rows of wide tables become
 * blocks) and prints without colours.
 *
 * Names and other texts cannot become markup: every byte of theirs that means something in HTML is
 * escaped, control characters are spaces.
 *
 * @retval DW_OK, DW_ERR_NOMEM
 * @par Checked by  tests/unit/write/test_write_html.c
 */
DW_MUST_CHECK
dw_status dw_write_html(const dw_report *report, dw_unit_system system, dw_strbuf *out);

#endif

#ifndef DW_ROWS_H
#define DW_ROWS_H

/**
 * @file rows.h
 * Answers on their way out: the rows of a long table, and reports as a whole.
 *
 * Layer: ask. JSON and CSV are written as the rows come, and what is written is forgotten: ten million rows need
 * no more memory than ten. Text and HTML are laid out by the widest cell and say at their head how it ended, so they
 * need all rows at once; since nobody reads that many, they take no more than DW_ROWS_SHOWN_MAX.
 */

#include <stdbool.h>

#include "damperwise.h"
#include "writers.h"

/** Most rows of a text or an HTML page. */
enum { DW_ROWS_SHOWN_MAX = 100000 };

typedef struct dw_rows {
    dw_long_table table;
    dw_report *report;
    dw_output output;
    dw_sink sink;
    dw_strbuf text;          /* not yet handed on */
    dw_report_point point;
    bool flows;              /* JSON or CSV */
} dw_rows;

/** True when a table of so many rows can be written in this format; else that has been said. */
bool dw_rows_fit(dw_output output, size_t count, dw_diag_list *diag);

/**
 * Begins when the tree is built up to its main table.
 *
 * @param[in] table  the main table, a child of the root; NULL when the tree failed.
 * @retval DW_OK, DW_ERR_NOMEM, DW_ERR_IO (the sink stopped)
 */
DW_MUST_CHECK
dw_status dw_rows_begin(dw_rows *rows, dw_report *report, const dw_item *table, dw_output output,
                        dw_sink sink);

/** After each row. What the tree kept for cells of earlier rows is gone then. @retval as before */
DW_MUST_CHECK
dw_status dw_rows_added(dw_rows *rows);

/** When the tree is complete. @retval as before */
DW_MUST_CHECK
dw_status dw_rows_end(dw_rows *rows);

/** Frees what a failure left; the last call in any case. All bytes 0 are rows that never began. */
void dw_rows_free(dw_rows *rows);

/** A report that has no long table, at once. @retval as before */
DW_MUST_CHECK
dw_status dw_rows_none(const dw_report *report, dw_output output, dw_sink sink);

/** A sink that holds the text: for questions that answer with it as a whole. */
typedef struct dw_rows_text {
    dw_strbuf text;
} dw_rows_text;

dw_sink dw_rows_into(dw_rows_text *held);

/** Hands the text over, or frees it when the status says that there is none. @return the status, or
 *  DW_ERR_NOMEM. */
DW_MUST_CHECK
dw_status dw_rows_take(dw_rows_text *held, dw_status status, char **text, size_t *text_length);

#endif

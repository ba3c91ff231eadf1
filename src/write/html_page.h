#ifndef DW_HTML_PAGE_H
#define DW_HTML_PAGE_H

/**
 * @file html_page.h
 * What the files that write a page share: its look, its text, its tables.
 *
 * Layer: write. For write_html.c and html_table.c alone; see writers.h.
 */

#include <stdbool.h>

#include "report_tree.h"
#include "show_number.h"
#include "strbuf.h"

typedef struct dw_html_writer {
    dw_strbuf *out;
    dw_unit_system system;
} dw_html_writer;

/** The style sheet of every page, in pieces; NULL ends it. */
extern const char *const dw_page_style[];

/** Bytes as text of a page: nothing in them is markup. */
void dw_html_bytes(const dw_html_writer *w, const char *text, size_t length);

/** The same, and what is between two backticks is a word of the command line. */
void dw_html_text(const dw_html_writer *w, const char *text);

/**
 * A table that hides nothing at the side: columns that must be seen come first, every cell carries the
 * name of its column, and a class says from which width of the screen on the rows become blocks.
 */
void dw_html_table(const dw_html_writer *w, const dw_table *table);

#endif

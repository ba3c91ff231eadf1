/* One table of a working in a report. */
#include "report_working_parts.h"

#include <string.h>

/* The text has 80 columns and the margin of the steps; no part of a table has more columns than this. */
enum { PAGE_WIDTH = 75, COLUMNS_AT_ONCE = 8 };

/* A day has 1440 minutes: of more rows than a page, those at both ends show how they are made. */
enum { LONG_ROWS = 60, FIRST_ROWS = 20, LAST_ROWS = 10 };

typedef dw_work_maker maker;

/* How wide a column of the table is, with the gap before it. */
static size_t width_of(const maker *m, size_t quantity)
{
    const dw_work_quantity *q = dw_working_quantity(m->w, quantity);
    size_t width = strlen(q->symbol);
    if (strlen(q->unit) > width) width = strlen(q->unit);
    for (size_t r = 0; r < q->rows; ++r) {
        char shown[DW_WORK_SHOWN_SIZE];
        dw_work_show_entry(m->digits, quantity, r, shown);
        if (strlen(shown) > width) width = strlen(shown);
    }
    return width + 2;
}

/* The column after the last one that fits beside the names of the rows, from a column on. */
static size_t fit(const maker *m, const dw_work_table *t, size_t from)
{
    size_t used = strlen(t->row_title), to = from;
    for (size_t r = 0; r < t->rows; ++r) {
        if (strlen(t->row[r]) > used) used = strlen(t->row[r]);
    }
    for (; to < t->column_count && to - from < COLUMNS_AT_ONCE; ++to) {
        used += width_of(m, t->column[to]);
        if (used > PAGE_WIDTH && to > from) break;
    }
    return to;
}

bool dw_work_row_left_out(const dw_work_maker *m, dw_item *table, size_t rows, size_t row)
{
    if (rows <= LONG_ROWS || row < FIRST_ROWS || row >= rows - LAST_ROWS) return false;
    dw_cell *cell = row == FIRST_ROWS ? dw_report_row(m->r, table) : NULL;
    if (cell == NULL) return true;
    cell[0].text = dw_report_keepf(m->r, "(%d more)", (int)(rows - FIRST_ROWS - LAST_ROWS));
    for (size_t c = 1; c < table->table->column_count; ++c) cell[c].text = "...";
    return true;
}

/* Columns from..to as a table of its own, so that a page is wide enough. */
static void put_columns(const maker *m, dw_item *group, const dw_work_table *t, size_t from,
                        size_t to)
{
    dw_column columns[COLUMNS_AT_ONCE + 1] = {{.label = dw_report_keep(m->r, t->row_title),
                                               .is_text = true}};
    for (size_t c = from; c < to; ++c) {
        const dw_work_quantity *q = dw_working_quantity(m->w, t->column[c]);
        columns[c - from + 1] = (dw_column){
            .label = dw_report_keepf(m->r, "%s\n%s", q->symbol, q->unit),
            .is_text = true, .is_right = true};
    }
    dw_item *table = dw_report_table(m->r, group, NULL, "", columns, to - from + 1);
    for (size_t r = 0; r < t->rows; ++r) {
        if (dw_work_row_left_out(m, table, t->rows, r)) continue;
        dw_cell *cell = dw_report_row(m->r, table);
        if (cell == NULL) return;
        cell[0].text = dw_report_keep(m->r, t->row[r]);
        for (size_t c = from; c < to; ++c) {
            char shown[DW_WORK_SHOWN_SIZE];
            dw_work_show_entry(m->digits, t->column[c], r, shown);
            cell[c - from + 1].text = dw_report_keep(m->r, shown);
        }
    }
    (void)dw_report_text(m->r, group, NULL, "", "");
}

static void put_table_entry(const maker *m, const dw_work_table *t, size_t index)
{
    dw_item *entry = dw_report_group(m->r, m->tables, NULL, NULL, DW_STYLE_SECTION);
    (void)dw_report_integer(m->r, entry, "number", NULL, (long long)index + 1);
    (void)dw_report_text(m->r, entry, "title", NULL, t->title);
    dw_item *rows = dw_report_list(m->r, entry, "rows", NULL);
    for (size_t r = 0; r < t->rows; ++r) (void)dw_report_text(m->r, rows, NULL, NULL, t->row[r]);
    if (t->has_row_keys) {
        rows = dw_report_list(m->r, entry, "row_keys", NULL);
        for (size_t r = 0; r < t->rows; ++r) {
            (void)dw_report_text(m->r, rows, NULL, NULL, t->row_key[r]);
        }
    }
    dw_item *list = dw_report_list(m->r, entry, "columns", NULL);
    for (size_t c = 0; c < t->column_count; ++c) {
        const dw_work_quantity *q = dw_working_quantity(m->w, t->column[c]);
        dw_item *column = dw_report_group(m->r, list, NULL, NULL, DW_STYLE_SECTION);
        (void)dw_report_text(m->r, column, "symbol", NULL, q->symbol);
        (void)dw_report_text(m->r, column, "meaning", NULL, q->meaning);
        (void)dw_report_text(m->r, column, "unit", NULL, q->unit);
        dw_item *values = dw_report_list(m->r, column, "values", NULL);
        dw_item *printed = dw_report_list(m->r, column, "printed", NULL);
        for (size_t r = 0; r < q->rows; ++r) {
            char shown[DW_WORK_SHOWN_SIZE];
            dw_work_show_entry(m->digits, t->column[c], r, shown);
            (void)dw_report_number(m->r, values, NULL, NULL, dw_number_plain(q->value[r], 12));
            (void)dw_report_text(m->r, printed, NULL, NULL, shown);
        }
    }
}

void dw_build_work_table(const dw_work_maker *m, dw_item *section, size_t index)
{
    const dw_work_table *t = dw_working_table(m->w, index);
    put_table_entry(m, t, index);
    dw_item *group = dw_report_group(m->r, section, NULL, NULL, DW_STYLE_STEPS);
    (void)dw_report_text(m->r, group, NULL, "",
                         dw_report_keepf(m->r, "Table %zu: %s", index + 1, t->title));
    if (t->rows > LONG_ROWS) {
        (void)dw_report_text(m->r, group, NULL, "",
                             dw_report_keepf(m->r,
                                             "Only both ends of %zu rows are shown; --format json "
                                             "and csv have all of them.",
                                             t->rows));
    }
    for (size_t c = 0; c < t->column_count; ++c) {
        const dw_work_quantity *q = dw_working_quantity(m->w, t->column[c]);
        const char *step = q->step > 0 ? dw_report_keepf(m->r, ", by step %d", q->step) : "";
        if (step == NULL) return;
        (void)dw_report_text(m->r, group, NULL, "",
                             dw_report_keepf(m->r, "%s: %s%s", q->symbol, q->meaning, step));
    }
    for (size_t from = 0, to; from < t->column_count; from = to) {
        /* Shares out evenly over as few parts as it takes. */
        size_t parts = 0;
        for (size_t at = from; at < t->column_count; at = fit(m, t, at)) ++parts;
        const size_t even = from + (t->column_count - from + parts - 1) / parts;
        to = fit(m, t, from);
        if (even < to) to = even;
        put_columns(m, group, t, from, to);
    }
}

/* One step, and one table, of a working in a report. */
#include "report_working.h"

#include <stdio.h>
#include <string.h>

#include "report_tree.h"
#include "show_number.h"

/* ---- tables --------------------------------------------------------------------------------------- */

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
    dw_tell(m->r, group, "");
}

static void put_table_entry(const maker *m, const dw_work_table *t, size_t index)
{
    dw_item *entry = dw_report_group(m->r, m->tables, NULL, NULL, DW_STYLE_SECTION);
    (void)dw_report_integer(m->r, entry, "number", NULL, (long long)index + 1);
    (void)dw_report_text(m->r, entry, "title", NULL, t->title);
    dw_item *rows = dw_report_list(m->r, entry, "rows", NULL);
    for (size_t r = 0; r < t->rows; ++r) dw_add_text(m->r, rows, t->row[r]);
    if (t->has_row_keys) {
        rows = dw_report_list(m->r, entry, "row_keys", NULL);
        for (size_t r = 0; r < t->rows; ++r) {
            dw_add_text(m->r, rows, t->row_key[r]);
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
            dw_add_number(m->r, values, dw_number_plain(q->value[r], 12));
            dw_add_text(m->r, printed, shown);
        }
    }
}

void dw_build_work_table(const dw_work_maker *m, dw_item *section, size_t index)
{
    const dw_work_table *t = dw_working_table(m->w, index);
    put_table_entry(m, t, index);
    dw_item *group = dw_report_group(m->r, section, NULL, NULL, DW_STYLE_STEPS);
    dw_tell(m->r, group, dw_report_keepf(m->r, "Table %zu: %s", index + 1, t->title));
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
        dw_tell(m->r, group, dw_report_keepf(m->r, "%s: %s%s", q->symbol, q->meaning, step));
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

/* ---- steps ---------------------------------------------------------------------------------------- */

enum { PATH_SIZE = 80 };

typedef dw_work_maker maker;

static const char *from_of(const maker *m, const dw_work_quantity *q)
{
    if (q->table > 0) return dw_report_keepf(m->r, "table %d", q->table);
    switch (q->origin) {
    case DW_WORK_INPUT: return "input";
    case DW_WORK_CONSTANT: return "constant";
    case DW_WORK_DATA: return "data";
    case DW_WORK_SOLVED:
        return q->step > 0 ? dw_report_keepf(m->r, "balance %d", q->step) : "solved";
    case DW_WORK_STEP: break;
    }
    return q->step > 0 ? dw_report_keepf(m->r, "step %d", q->step) : "above";
}

static const char *with_unit(const maker *m, const char *number, const char *unit)
{
    const char *text = unit[0] == '\0'
                           ? dw_report_keep(m->r, number)
                           : dw_report_keepf(m->r, "%s%c%s", number, DW_GLUE, unit);
    return text != NULL ? text : "";
}

/* The same with every space kept together, for cells of a table. */
static const char *kept_together(const maker *m, const char *text)
{
    char glued[DW_SHOWN_SIZE];
    (void)snprintf(glued, sizeof glued, "%s", text != NULL ? text : "");
    for (char *p = glued; *p != '\0'; ++p) {
        if (*p == ' ') *p = DW_GLUE;
    }
    return dw_report_keep(m->r, glued);
}

static void put_inputs(const maker *m, dw_item *group, dw_item *entry, size_t step)
{
    const dw_work_step *s = dw_working_step(m->w, step);
    dw_item *list = dw_report_list(m->r, entry, "inputs", NULL);
    if (s->input_count == 0) return;
    const dw_column columns[] = {{.label = "", .is_text = true}, {.label = "", .is_text = true},
                                 {.label = "", .is_text = true}, {.label = "", .is_text = true}};
    dw_item *table = dw_report_table(m->r, group, NULL, "", columns, 4);
    for (size_t i = 0; i < s->input_count; ++i) {
        const dw_work_quantity *q = dw_working_quantity(m->w, s->input[i]);
        char shown[DW_WORK_SHOWN_SIZE] = "";
        if (q->rows == 0) dw_work_show_input(m->digits, step, s->input[i], shown);
        dw_item *input = dw_report_group(m->r, list, NULL, NULL, DW_STYLE_SECTION);
        (void)dw_report_text(m->r, input, "symbol", NULL, q->symbol);
        (void)dw_report_text(m->r, input, "meaning", NULL, q->meaning);
        (void)dw_report_text(m->r, input, "unit", NULL, q->unit);
        (void)dw_report_text(m->r, input, "from", NULL, from_of(m, q));
        if (q->rows == 0) {
            (void)dw_report_number(m->r, input, "value", NULL, dw_number_plain(q->value[0], 12));
            (void)dw_report_text(m->r, input, "printed", NULL, shown);
        } else {
            (void)dw_report_integer(m->r, input, "table", NULL, q->table);
        }
        dw_cell *cell = dw_report_row(m->r, table);
        if (cell == NULL) return;
        cell[0].text = dw_report_keep(m->r, q->symbol);
        cell[1].text = q->rows == 0 ? kept_together(m, with_unit(m, shown, q->unit)) : "(column)";
        cell[2].text = kept_together(m, from_of(m, q));
        cell[3].text = dw_report_keep(m->r, q->meaning);
    }
}

/* The number as the report shows it, when that is not the same already. */
static const char *in_report(const maker *m, const char *keys)
{
    dw_found found;
    char path[PATH_SIZE];
    const size_t length = strcspn(keys, " ");
    if (m->of == NULL || length == 0 || length >= sizeof path) return NULL;
    (void)snprintf(path, sizeof path, "%.*s", (int)length, keys);
    if (!dw_report_find(m->of, path, &found) || !found.is_number || found.label == NULL) {
        return NULL;
    }
    char shown[DW_SHOWN_SIZE];
    dw_show_number(&found.number, m->system, shown);
    return dw_report_keep(m->r, shown);
}

static void put_keys(const maker *m, dw_item *entry, const char *keys)
{
    dw_item *list = dw_report_list(m->r, entry, "explains", NULL);
    while (*keys != '\0') {
        const size_t length = strcspn(keys, " ");
        dw_add_text(m->r, list, dw_report_keepf(m->r, "%.*s", (int)length, keys));
        keys += length;
        while (*keys == ' ') ++keys;
    }
}

static void put_value(const maker *m, dw_item *group, dw_item *entry, size_t step)
{
    const dw_work_step *s = dw_working_step(m->w, step);
    const dw_work_quantity *q = dw_working_quantity(m->w, s->result);
    if (q->rows > 0) {
        (void)dw_report_integer(m->r, entry, "table", NULL, q->table);
        dw_tell(m->r, group,
                dw_report_keepf(m->r, "for each row: column %s of table %d", q->symbol, q->table));
        return;
    }
    char shown[DW_WORK_SHOWN_SIZE];
    dw_work_show_result(q->value[0], shown);
    (void)dw_report_number(m->r, entry, "value", NULL, dw_number_plain(q->value[0], 12));
    (void)dw_report_text(m->r, entry, "printed", NULL, shown);
    const char *also = in_report(m, s->keys);
    const char *result = with_unit(m, shown, q->unit);
    const bool same = also == NULL || strcmp(also, result) == 0;
    dw_item *line = dw_report_text(m->r, group, NULL, "",
                                   dw_report_keepf(m->r, "%s = %s%s%s", q->symbol, result,
                                                   same ? "" : "   in the report: ",
                                                   same ? "" : also));
    if (line != NULL) line->is_code = true;
}

/* Both sides for each row of the column that the balance finds. */
static void put_row_sides(const maker *m, dw_item *group, dw_item *entry, size_t step)
{
    const dw_work_quantity *q =
        dw_working_quantity(m->w, dw_working_step(m->w, step)->result);
    const dw_work_table *t = dw_working_table(m->w, (size_t)q->table - 1);
    (void)dw_report_text(m->r, entry, "solved_for", NULL, q->symbol);
    (void)dw_report_integer(m->r, entry, "table", NULL, q->table);
    static const char *const keys[2] = {"left", "right"};
    static const char *const printed_keys[2] = {"left_printed", "right_printed"};
    dw_item *numbers[2], *printed[2];
    for (int k = 0; k < 2; ++k) numbers[k] = dw_report_list(m->r, entry, keys[k], NULL);
    for (int k = 0; k < 2; ++k) printed[k] = dw_report_list(m->r, entry, printed_keys[k], NULL);
    dw_tell(m->r, group, dw_report_keepf(m->r, "for each row, with %s from table %d:", q->symbol, q->table));
    const dw_column columns[] = {
        {.label = dw_report_keep(m->r, t->row_title), .is_text = true},
        {.label = "left", .is_text = true, .is_right = true},
        {.label = "right", .is_text = true, .is_right = true}};
    dw_item *table = dw_report_table(m->r, group, NULL, "", columns, 3);
    for (size_t r = 0; r < q->rows; ++r) {
        double side[2];
        if (dw_working_evaluate(m->w, step, NULL, r, &side[0], &side[1]) != DW_OK) return;
        char shown[2][DW_WORK_SHOWN_SIZE];
        for (int k = 0; k < 2; ++k) {
            dw_work_show_result(side[k], shown[k]);
            dw_add_number(m->r, numbers[k], dw_number_plain(side[k], 12));
            dw_add_text(m->r, printed[k], shown[k]);
        }
        if (dw_work_row_left_out(m, table, q->rows, r)) continue;
        dw_cell *cell = dw_report_row(m->r, table);
        if (cell == NULL) return;
        cell[0].text = dw_report_keep(m->r, t->row[r]);
        for (int k = 0; k < 2; ++k) cell[k + 1].text = dw_report_keep(m->r, shown[k]);
    }
}

static void put_sides(const maker *m, dw_item *group, dw_item *entry, size_t step)
{
    const dw_work_step *s = dw_working_step(m->w, step);
    double left, right;
    if (dw_working_evaluate(m->w, step, NULL, 0, &left, &right) != DW_OK) return;
    char shown[2][DW_WORK_SHOWN_SIZE], solved[DW_WORK_SHOWN_SIZE];
    dw_work_show_result(left, shown[0]);
    dw_work_show_result(right, shown[1]);
    (void)dw_report_number(m->r, entry, "left", NULL, dw_number_plain(left, 12));
    (void)dw_report_number(m->r, entry, "right", NULL, dw_number_plain(right, 12));
    (void)dw_report_text(m->r, entry, "left_printed", NULL, shown[0]);
    (void)dw_report_text(m->r, entry, "right_printed", NULL, shown[1]);
    const char *found = "";
    if (s->result != DW_WORK_NONE) {
        const dw_work_quantity *q = dw_working_quantity(m->w, s->result);
        dw_work_show_result(q->value[0], solved);
        (void)dw_report_text(m->r, entry, "solved_for", NULL, q->symbol);
        (void)dw_report_number(m->r, entry, "value", NULL, dw_number_plain(q->value[0], 12));
        (void)dw_report_text(m->r, entry, "printed", NULL, solved);
        const char *also = in_report(m, s->keys), *own = with_unit(m, solved, q->unit);
        const bool same = also == NULL || strcmp(also, own) == 0;
        found = dw_report_keepf(m->r, "   with %s = %s%s%s", q->symbol, own,
                                same ? "" : "   in the report: ", same ? "" : also);
        if (found == NULL) return;
    }
    dw_item *line = dw_report_text(m->r, group, NULL, "",
                                   dw_report_keepf(m->r, "left %s, right %s%s", shown[0], shown[1],
                                                   found));
    if (line != NULL) line->is_code = true;
}

void dw_build_work_step(const dw_work_maker *m, dw_item *section, const char *title, size_t step)
{
    const dw_work_step *s = dw_working_step(m->w, step);
    const dw_work_quantity *q =
        s->result != DW_WORK_NONE ? dw_working_quantity(m->w, s->result) : NULL;
    const char *meaning = s->is_balance || q == NULL ? s->meaning : q->meaning;
    dw_item *group = dw_report_group(m->r, section, NULL, NULL, DW_STYLE_STEPS);
    dw_item *entry = dw_report_group(m->r, m->steps, NULL, NULL, DW_STYLE_SECTION);
    (void)dw_report_integer(m->r, entry, "number", NULL, (long long)step + 1);
    (void)dw_report_text(m->r, entry, "part", NULL, title);
    (void)dw_report_text(m->r, entry, "kind", NULL, s->is_balance ? "balance" : "value");
    if (!s->is_balance && q != NULL) {
        (void)dw_report_text(m->r, entry, "symbol", NULL, q->symbol);
    }
    (void)dw_report_text(m->r, entry, "meaning", NULL, meaning);
    if (q != NULL) (void)dw_report_text(m->r, entry, "unit", NULL, q->unit);
    (void)dw_report_text(m->r, entry, "formula", NULL, s->formula);
    (void)dw_report_text(m->r, entry, "source", NULL, s->source);
    put_keys(m, entry, s->keys);

    (void)dw_report_text(m->r, group, NULL, dw_report_keepf(m->r, "%zu", step + 1),
                         dw_report_keepf(m->r, "%s%s [%s]", s->is_balance ? "balance: " : "",
                                         meaning, s->source));
    dw_item *formula = dw_report_text(
        m->r, group, NULL, "",
        s->is_balance || q == NULL ? s->formula
                                   : dw_report_keepf(m->r, "%s = %s", q->symbol, s->formula));
    if (formula != NULL) formula->is_code = true;
    put_inputs(m, group, entry, step);
    if (s->is_balance && q != NULL && q->rows > 0) {
        put_row_sides(m, group, entry, step);
    } else if (s->is_balance) {
        put_sides(m, group, entry, step);
    } else {
        put_value(m, group, entry, step);
    }
    dw_tell(m->r, group, "");
}

#include "report_working.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "not_worked.h"
#include "report_find.h"
#include "show_number.h"
#include "working_digits.h"

enum { COLUMNS_AT_ONCE = 5, PATH_SIZE = 80 };

/** A working on its way into a report. All borrowed. */
typedef struct maker {
    dw_report *r;
    const dw_report_source *source;
    const dw_working *w;
    const dw_work_digits *digits;
    const dw_report *estimate;
    dw_unit_system system;
    dw_item *root, *steps, *tables;   /* the last two for programs */
} maker;

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

/* ---- one step ----------------------------------------------------------------------------- */

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
    if (m->estimate == NULL || length == 0 || length >= sizeof path) return NULL;
    (void)snprintf(path, sizeof path, "%.*s", (int)length, keys);
    if (!dw_report_find(m->estimate, path, &found) || !found.is_number || found.label == NULL) {
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
        (void)dw_report_text(m->r, list, NULL, NULL,
                             dw_report_keepf(m->r, "%.*s", (int)length, keys));
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
        (void)dw_report_text(m->r, group, NULL, "",
                             dw_report_keepf(m->r, "for each row: column %s of table %d", q->symbol,
                                             q->table));
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

static void put_step(const maker *m, dw_item *section, const char *title, size_t step)
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
    if (s->is_balance) {
        put_sides(m, group, entry, step);
    } else {
        put_value(m, group, entry, step);
    }
    (void)dw_report_text(m->r, group, NULL, "", "");
}

/* ---- tables ------------------------------------------------------------------------------- */

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

static void put_table(const maker *m, dw_item *section, size_t index)
{
    const dw_work_table *t = dw_working_table(m->w, index);
    put_table_entry(m, t, index);
    dw_item *group = dw_report_group(m->r, section, NULL, NULL, DW_STYLE_STEPS);
    (void)dw_report_text(m->r, group, NULL, "",
                         dw_report_keepf(m->r, "Table %zu: %s", index + 1, t->title));
    for (size_t c = 0; c < t->column_count; ++c) {
        const dw_work_quantity *q = dw_working_quantity(m->w, t->column[c]);
        const char *step = q->step > 0 ? dw_report_keepf(m->r, ", by step %d", q->step) : "";
        if (step == NULL) return;
        (void)dw_report_text(m->r, group, NULL, "",
                             dw_report_keepf(m->r, "%s: %s%s", q->symbol, q->meaning, step));
    }
    /* Shares out evenly over as few tables as it takes. */
    const size_t parts = (t->column_count + COLUMNS_AT_ONCE - 1) / COLUMNS_AT_ONCE;
    for (size_t k = 0; k < parts; ++k) {
        put_columns(m, group, t, k * t->column_count / parts, (k + 1) * t->column_count / parts);
    }
}

/* ---- the whole ---------------------------------------------------------------------------- */

static void put_not_worked(const maker *m)
{
    dw_item *list = dw_report_list(m->r, m->root, "not_worked", NULL);
    dw_item *group = dw_report_group(m->r, m->root, NULL, "Keys of the JSON without a working",
                                     DW_STYLE_STEPS);
    const dw_column columns[] = {{.label = "", .is_text = true}, {.label = "", .is_text = true}};
    dw_item *table = dw_report_table(m->r, group, NULL, "", columns, 2);
    for (const dw_unworked *k = dw_not_worked; k->path != NULL; ++k) {
        dw_item *entry = dw_report_group(m->r, list, NULL, NULL, DW_STYLE_SECTION);
        (void)dw_report_text(m->r, entry, "key", NULL, k->path);
        (void)dw_report_text(m->r, entry, "reason", NULL, k->reason);
        dw_cell *cell = dw_report_row(m->r, table);
        if (cell == NULL) return;
        cell[0].text = k->path;
        cell[1].text = k->reason;
    }
}

static void put_sources(const maker *m)
{
    dw_item *group = dw_report_group(m->r, m->root, NULL, "Sources", DW_STYLE_PLAIN);
    const dw_data *data = m->source->data;
    for (size_t i = 0; i < data->source_count; ++i) {
        const dw_source *s = &data->source[i];
        bool used = false;
        for (size_t k = 0; k < dw_working_step_count(m->w) && !used; ++k) {
            used = strcmp(dw_working_step(m->w, k)->source, s->key) == 0;
        }
        if (!used) continue;
        (void)dw_report_text(m->r, group, NULL, "",
                             dw_report_keepf(m->r, "[%s] %s (%s)", s->key, s->title,
                                             s->provenance));
    }
}

static void put_how_to_read(const maker *m)
{
    dw_item *group =
        dw_report_group(m->r, m->root, NULL, "How the numbers come about", DW_STYLE_PLAIN);
    dw_build_title(m->r, m->source, group);
    (void)dw_report_text(m->r, group, NULL, "", "");
    static const char *const lines[] = {
        "Every step has its formula, what is put in and where that comes from, and the result. All "
        "numbers are in SI units: metres, kilograms, seconds, kelvin, pascals, watts, moles. "
        "Pressures are against the room at the same height.",
        "* is times, ^ to the power of, ln the natural and log10 the decimal logarithm; sum(...) adds "
        "up the rows of a table. Results have six digits; what is put in has as many as it takes "
        "to get them.",
        "Some numbers cannot be worked out forwards: a pressure decides the flows, and the flows "
        "decide the pressure. They are found by trying until a balance holds; the balance is then "
        "shown with both its sides.",
        "The 0.01 in flows through openings keeps the root smooth at no pressure.",
        "[word] names the source; all sources stand at the end.",
        ""};
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; ++i) {
        (void)dw_report_text(m->r, group, NULL, "", lines[i]);
    }
    dw_build_caution(m->r, group, "");
}

void dw_build_working(dw_report *report, const dw_report_source *source, const dw_working *w,
                      const dw_report *estimate, dw_unit_system system)
{
    maker m = {.r = report, .source = source, .w = w, .estimate = estimate, .system = system};
    m.root = dw_report_root(report);
    dw_work_digits *digits = dw_work_digits_find(w);
    if (digits == NULL) {
        dw_report_fail(report);
        return;
    }
    m.digits = digits;
    dw_build_head(report, source);
    put_how_to_read(&m);
    m.steps = dw_report_list(report, m.root, "steps", NULL);
    m.tables = dw_report_list(report, m.root, "tables", NULL);
    dw_item *section = NULL;
    const char *title = "";
    for (size_t i = 0; i < dw_working_item_count(w); ++i) {
        const dw_work_item *item = dw_working_item(w, i);
        switch (item->kind) {
        case DW_WORK_SECTION:
            title = dw_report_keep(report, item->text);
            section = dw_report_group(report, m.root, NULL, title, DW_STYLE_PLAIN);
            break;
        case DW_WORK_TEXT:
            (void)dw_report_text(report, section, NULL, "", item->text);
            (void)dw_report_text(report, section, NULL, "", "");
            break;
        case DW_WORK_TABLE: put_table(&m, section, item->index); break;
        case DW_WORK_LINE: put_step(&m, section, title, item->index); break;
        }
    }
    if (estimate != NULL) put_not_worked(&m);
    put_sources(&m);
    dw_work_digits_free(digits);
}

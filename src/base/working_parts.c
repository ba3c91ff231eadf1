#include "working_parts.h"

#include <math.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "format.h"
#include "formula.h"
#include "working_store.h"

enum { INPUT_MAX = 64 };

/* ---- texts -------------------------------------------------------------------------------- */

static const char *vkeep(dw_working *w, const char *format, va_list args)
{
    va_list again;
    va_copy(again, args);
    const int length = dw_vprint(NULL, 0, format, again);
    va_end(again);
    char *text = length >= 0 ? dw_work_take(w, (size_t)length + 1) : NULL;
    if (text == NULL) return "";
    (void)dw_vprint(text, (size_t)length + 1, format, args);
    return text;
}

const char *dw_work_keepf(dw_working *w, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    const char *text = vkeep(w, format, args);
    va_end(args);
    return text;
}

/* ---- keys --------------------------------------------------------------------------------- */

void dw_work_rename_keys(dw_working *w, const dw_work_rename *list, size_t count)
{
    if (w == NULL) return;
    w->renames = list != NULL;
    w->rename = list;
    w->rename_count = count;
}

void dw_work_drop_keys(dw_working *w)
{
    static const dw_work_rename none[1] = {{"", ""}};
    dw_work_rename_keys(w, none, 0);
}

/* Keys as they are called in the report at hand. */
static const char *own_keys(dw_working *w, const char *keys)
{
    if (!w->renames) return dw_work_keep(w, keys);
    const char *all = "";
    while (*keys != '\0') {
        const size_t length = strcspn(keys, " ");
        for (size_t i = 0; i < w->rename_count; i++) {
            const dw_work_rename *r = &w->rename[i];
            if (strlen(r->from) != length || memcmp(r->from, keys, length) != 0) continue;
            all = dw_work_keepf(w, "%s%s%s", all, all[0] == '\0' ? "" : " ", r->to);
        }
        keys += length;
        while (*keys == ' ') keys++;
    }
    return all;
}

/* ---- steps -------------------------------------------------------------------------------- */

static void add_item(dw_working *w, dw_work_kind kind, const char *text, size_t index)
{
    if (w == NULL ||
        !dw_work_grow(w, (void **)&w->item, w->item_count, &w->item_room, sizeof *w->item)) {
        return;
    }
    w->item[w->item_count++] = (dw_work_item){kind, text, index};
}

void dw_work_section(dw_working *w, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    add_item(w, DW_WORK_SECTION, vkeep(w, format, args), 0);
    va_end(args);
}

void dw_work_text(dw_working *w, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    add_item(w, DW_WORK_TEXT, vkeep(w, format, args), 0);
    va_end(args);
}

/* A new quantity with its numbers copied (NaN where value is NULL). NULL after a failure. */
static dw_work_quantity *add_quantity(dw_working *w, dw_work_origin origin, const char *symbol,
                                      const char *meaning, const char *unit, size_t rows,
                                      const double *value, double **own)
{
    if (w == NULL || !dw_work_grow(w, (void **)&w->quantity, w->quantity_count, &w->quantity_room,
                                   sizeof *w->quantity)) {
        return NULL;
    }
    const size_t count = rows > 0 ? rows : 1;
    double *copy = dw_work_take(w, count * sizeof *copy);
    if (copy == NULL) return NULL;
    for (size_t i = 0; i < count; i++) copy[i] = value != NULL ? value[i] : NAN;
    dw_work_quantity *q = &w->quantity[w->quantity_count++];
    *q = (dw_work_quantity){.symbol = dw_work_keep(w, symbol),
                            .meaning = dw_work_keep(w, meaning),
                            .unit = dw_work_keep(w, unit),
                            .origin = origin,
                            .rows = rows,
                            .value = copy};
    if (own != NULL) *own = copy;
    return q;
}

void dw_work_put(dw_working *w, dw_work_origin origin, const char *symbol, const char *meaning,
                 const char *unit, double value)
{
    (void)add_quantity(w, origin, symbol, meaning, unit, 0, &value, NULL);
}

typedef struct collected {
    const dw_working *w;
    size_t input[INPUT_MAX];
    size_t count;
    bool missing;
} collected;

static void collect(void *user, const char *name, size_t length)
{
    collected *c = user;
    const size_t index = dw_work_index_of(c->w, name, length);
    if (index == DW_WORK_NONE || c->count == INPUT_MAX) {
        c->missing = true;
        return;
    }
    for (size_t i = 0; i < c->count; i++) {
        if (c->input[i] == index) return;
    }
    c->input[c->count++] = index;
}

static dw_work_step *add_step(dw_working *w, const char *formula, const char *meaning,
                              const char *keys, const char *source)
{
    if (w == NULL ||
        !dw_work_grow(w, (void **)&w->step, w->step_count, &w->step_room, sizeof *w->step)) {
        return NULL;
    }
    collected c = {.w = w};
    dw_formula_names(formula, collect, &c);
    if (c.missing) {
        w->status = DW_ERR_BUG;
        return NULL;
    }
    size_t *input = dw_work_take(w, (c.count + 1) * sizeof *input);
    if (input == NULL) return NULL;
    for (size_t i = 0; i < c.count; i++) input[i] = c.input[i];
    dw_work_step *step = &w->step[w->step_count++];
    *step = (dw_work_step){.formula = dw_work_keep(w, formula),
                           .result = DW_WORK_NONE,
                           .input_count = c.count,
                           .input = input,
                           .meaning = dw_work_keep(w, meaning),
                           .source = dw_work_keep(w, source),
                           .keys = own_keys(w, keys)};
    add_item(w, DW_WORK_LINE, "", w->step_count - 1);
    return step;
}

/* Ties a result to its step and works out what the model did not keep. */
static void finish_step(dw_working *w, dw_work_step *step, dw_work_quantity *q, double *own)
{
    if (step == NULL || q == NULL || w->status != DW_OK) return;
    step->result = w->quantity_count - 1;
    q->step = (int)w->step_count;
    const size_t count = q->rows > 0 ? q->rows : 1;
    for (size_t i = 0; i < count; i++) {
        double left, right;
        if (dw_working_evaluate(w, w->step_count - 1, NULL, i, &left, &right) != DW_OK) {
            w->status = DW_ERR_BUG;
        }
        if (isnan(own[i])) own[i] = left;
    }
}

void dw_work_step_is(dw_working *w, const char *keys, const char *symbol, const char *meaning,
                     const char *unit, const char *formula, double value, const char *source)
{
    dw_work_step *step = add_step(w, formula, meaning, keys, source);
    double *own = NULL;
    dw_work_quantity *q =
        add_quantity(w, DW_WORK_STEP, symbol, meaning, unit, 0, &value, &own);
    finish_step(w, step, q, own);
}

void dw_work_balance(dw_working *w, const char *keys, const char *solved_for, const char *meaning,
                     const char *formula, const char *source)
{
    dw_work_step *step = add_step(w, formula, meaning, keys, source);
    if (step == NULL) return;
    step->is_balance = true;
    if (dw_formula_right(formula) == NULL) w->status = DW_ERR_BUG;
    if (solved_for == NULL) return;
    const size_t index = dw_work_index_of(w, solved_for, strlen(solved_for));
    if (index == DW_WORK_NONE || w->quantity[index].origin != DW_WORK_SOLVED) {
        w->status = DW_ERR_BUG;
        return;
    }
    step->result = index;
    w->quantity[index].step = (int)w->step_count;
}

void dw_work_table_begin(dw_working *w, const char *title, const char *row_title, size_t rows)
{
    if (w == NULL ||
        !dw_work_grow(w, (void **)&w->table, w->table_count, &w->table_room, sizeof *w->table)) {
        return;
    }
    const char **row = dw_work_take(w, (rows + 1) * sizeof *row);
    const char **key = dw_work_take(w, (rows + 1) * sizeof *key);
    if (row == NULL || key == NULL) return;
    if (rows == 0) w->status = DW_ERR_BUG;
    for (size_t i = 0; i < rows; i++) row[i] = key[i] = "";
    w->table[w->table_count++] = (dw_work_table){.title = dw_work_keep(w, title),
                                                 .row_title = dw_work_keep(w, row_title),
                                                 .rows = rows, .row = row, .row_key = key};
    add_item(w, DW_WORK_TABLE, "", w->table_count - 1);
}

/* The table begun last, when it has this row. */
static dw_work_table *table_with(dw_working *w, size_t row)
{
    if (w == NULL || w->status != DW_OK || w->table_count == 0) return NULL;
    dw_work_table *t = &w->table[w->table_count - 1];
    return row < t->rows ? t : NULL;
}

/* The array is ours; only readers see it as constant. */
static void set_text(const char *const *texts, size_t index, const char *text)
{
    /* NOLINTNEXTLINE(performance-no-int-to-ptr) */
    ((const char **)(uintptr_t)texts)[index] = text;
}

void dw_work_row(dw_working *w, size_t row, const char *format, ...)
{
    const dw_work_table *t = table_with(w, row);
    if (t == NULL) return;
    va_list args;
    va_start(args, format);
    const char *name = vkeep(w, format, args);
    va_end(args);
    set_text(t->row, row, name);
    if (!t->has_row_keys) set_text(t->row_key, row, name);
}

void dw_work_row_key(dw_working *w, size_t row, const char *format, ...)
{
    dw_work_table *t = table_with(w, row);
    if (t == NULL) return;
    va_list args;
    va_start(args, format);
    const char *key = vkeep(w, format, args);
    va_end(args);
    t->has_row_keys = true;
    set_text(t->row_key, row, key);
}

static void add_to_table(dw_working *w, dw_work_quantity *q)
{
    if (q == NULL || w->status != DW_OK) return;
    dw_work_table *t = &w->table[w->table_count - 1];
    size_t *column = dw_work_take(w, (t->column_count + 1) * sizeof *column);
    if (column == NULL) return;
    for (size_t i = 0; i < t->column_count; i++) column[i] = t->column[i];
    column[t->column_count++] = w->quantity_count - 1;
    t->column = column;
    q->table = (int)w->table_count;
}

void dw_work_column(dw_working *w, dw_work_origin origin, const char *symbol, const char *meaning,
                    const char *unit, const double *value)
{
    if (w == NULL || w->table_count == 0) return;
    const size_t rows = w->table[w->table_count - 1].rows;
    add_to_table(w, add_quantity(w, origin, symbol, meaning, unit, rows, value, NULL));
}

void dw_work_column_is(dw_working *w, const char *keys, const char *symbol, const char *meaning,
                       const char *unit, const char *formula, const double *value,
                       const char *source)
{
    if (w == NULL || w->table_count == 0) return;
    const size_t rows = w->table[w->table_count - 1].rows;
    dw_work_step *step = add_step(w, formula, meaning, keys, source);
    double *own = NULL;
    dw_work_quantity *q =
        add_quantity(w, DW_WORK_STEP, symbol, meaning, unit, rows, value, &own);
    add_to_table(w, q);
    finish_step(w, step, q, own);
}

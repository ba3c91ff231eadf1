#include "working.h"

#include <math.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "formula.h"
#include "working_parts.h"

enum { INPUT_MAX = 40, CHUNK_BYTES = 16384 };

typedef struct chunk {
    struct chunk *next;
    size_t used, size;
    max_align_t bytes[];
} chunk;

struct dw_working {
    chunk *chunks;
    dw_status status;
    size_t item_count, item_room, step_count, step_room, table_count, table_room;
    size_t quantity_count, quantity_room;
    dw_work_item *item;
    dw_work_step *step;
    dw_work_table *table;
    dw_work_quantity *quantity;
};

/* ---- memory ------------------------------------------------------------------------------- */

static void *take(dw_working *w, size_t size)
{
    if (w == NULL || w->status != DW_OK) return NULL;
    const size_t align = sizeof(max_align_t), need = (size + align - 1) / align * align;
    chunk *c = w->chunks;
    if (c == NULL || c->size - c->used < need) {
        const size_t bytes = need > CHUNK_BYTES ? need : CHUNK_BYTES;
        c = malloc(sizeof *c + bytes);
        if (c == NULL) {
            w->status = DW_ERR_NOMEM;
            return NULL;
        }
        *c = (chunk){.next = w->chunks, .used = 0, .size = bytes};
        w->chunks = c;
    }
    void *place = (char *)c->bytes + c->used;
    c->used += need;
    memset(place, 0, need);
    return place;
}

/* Room for one more entry of an array; false when out of memory. */
static bool grow(dw_working *w, void **array, size_t count, size_t *room, size_t size)
{
    if (w == NULL || w->status != DW_OK) return false;
    if (count < *room) return true;
    const size_t wanted = *room == 0 ? 64 : 2 * *room;
    void *more = wanted > SIZE_MAX / size ? NULL : realloc(*array, wanted * size);
    if (more == NULL) {
        w->status = DW_ERR_NOMEM;
        return false;
    }
    *array = more;
    *room = wanted;
    return true;
}

static const char *keep(dw_working *w, const char *text)
{
    const size_t size = strlen(text) + 1;
    char *copy = take(w, size);
    if (copy == NULL) return "";
    memcpy(copy, text, size);
    return copy;
}

static const char *vkeep(dw_working *w, const char *format, va_list args)
{
    char text[600];
    (void)vsnprintf(text, sizeof text, format, args);
    return keep(w, text);
}

const char *dw_work_keepf(dw_working *w, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    const char *text = vkeep(w, format, args);
    va_end(args);
    return text;
}

dw_working *dw_working_create(void)
{
    return calloc(1, sizeof(dw_working));
}

void dw_working_destroy(dw_working *w)
{
    if (w == NULL) return;
    for (chunk *c = w->chunks; c != NULL;) {
        chunk *next = c->next;
        free(c);
        c = next;
    }
    free(w->item);
    free(w->step);
    free(w->table);
    free(w->quantity);
    free(w);
}

/* ---- reading ------------------------------------------------------------------------------ */

dw_status dw_working_status(const dw_working *w) { return w == NULL ? DW_ERR_NOMEM : w->status; }
size_t dw_working_item_count(const dw_working *w) { return w->item_count; }
size_t dw_working_step_count(const dw_working *w) { return w->step_count; }
size_t dw_working_table_count(const dw_working *w) { return w->table_count; }
size_t dw_working_quantity_count(const dw_working *w) { return w->quantity_count; }

const dw_work_item *dw_working_item(const dw_working *w, size_t index)
{
    return index < w->item_count ? &w->item[index] : NULL;
}

const dw_work_step *dw_working_step(const dw_working *w, size_t index)
{
    return index < w->step_count ? &w->step[index] : NULL;
}

const dw_work_table *dw_working_table(const dw_working *w, size_t index)
{
    return index < w->table_count ? &w->table[index] : NULL;
}

const dw_work_quantity *dw_working_quantity(const dw_working *w, size_t index)
{
    return index < w->quantity_count ? &w->quantity[index] : NULL;
}

static size_t find(const dw_working *w, const char *symbol, size_t length)
{
    for (size_t i = w->quantity_count; i-- > 0;) {
        const char *own = w->quantity[i].symbol;
        if (strncmp(own, symbol, length) == 0 && own[length] == '\0') return i;
    }
    return DW_WORK_NONE;
}

const dw_work_quantity *dw_working_find(const dw_working *w, const char *symbol)
{
    for (size_t i = w->quantity_count; i-- > 0;) {
        if (w->quantity[i].rows == 0 && strcmp(w->quantity[i].symbol, symbol) == 0) {
            return &w->quantity[i];
        }
    }
    return NULL;
}

/* ---- working out -------------------------------------------------------------------------- */

typedef struct put_in {
    const dw_working *w;
    const dw_work_step *step;
    const double *const *numbers;
} put_in;

static bool look_up(void *user, const char *name, size_t length, dw_formula_value *value)
{
    const put_in *p = user;
    for (size_t i = 0; i < p->step->input_count; i++) {
        const size_t index = p->step->input[i];
        const dw_work_quantity *q = &p->w->quantity[index];
        if (strncmp(q->symbol, name, length) != 0 || q->symbol[length] != '\0') continue;
        const bool other = p->numbers != NULL && p->numbers[index] != NULL;
        *value = (dw_formula_value){other ? p->numbers[index] : q->value, q->rows};
        return true;
    }
    return false;
}

dw_status dw_working_evaluate(const dw_working *w, size_t step, const double *const *numbers,
                              size_t row, double *left, double *right)
{
    if (left == NULL || right == NULL) return DW_ERR_ARG;
    *left = *right = NAN;
    if (w == NULL || step >= w->step_count) return DW_ERR_ARG;
    const dw_work_step *s = &w->step[step];
    put_in p = {w, s, numbers};
    const bool column = s->result != DW_WORK_NONE && w->quantity[s->result].rows > 0;
    const size_t at = column ? row : DW_FORMULA_NO_ROW;
    dw_status status = dw_formula_evaluate(s->formula, look_up, &p, at, left);
    if (status != DW_OK || !s->is_balance) {
        *right = *left;
        return status;
    }
    return dw_formula_evaluate(dw_formula_right(s->formula), look_up, &p, at, right);
}

/* ---- writing ------------------------------------------------------------------------------ */

static void add_item(dw_working *w, dw_work_kind kind, const char *text, size_t index)
{
    if (!grow(w, (void **)&w->item, w->item_count, &w->item_room, sizeof *w->item)) return;
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
    if (!grow(w, (void **)&w->quantity, w->quantity_count, &w->quantity_room,
              sizeof *w->quantity)) {
        return NULL;
    }
    const size_t count = rows > 0 ? rows : 1;
    double *copy = take(w, count * sizeof *copy);
    if (copy == NULL) return NULL;
    for (size_t i = 0; i < count; i++) copy[i] = value != NULL ? value[i] : NAN;
    dw_work_quantity *q = &w->quantity[w->quantity_count++];
    *q = (dw_work_quantity){.symbol = keep(w, symbol), .meaning = keep(w, meaning),
                            .unit = keep(w, unit), .origin = origin, .rows = rows, .value = copy};
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
    const size_t index = find(c->w, name, length);
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
    if (!grow(w, (void **)&w->step, w->step_count, &w->step_room, sizeof *w->step)) return NULL;
    collected c = {.w = w};
    dw_formula_names(formula, collect, &c);
    if (c.missing) {
        w->status = DW_ERR_BUG;
        return NULL;
    }
    size_t *input = take(w, (c.count + 1) * sizeof *input);
    if (input == NULL) return NULL;
    for (size_t i = 0; i < c.count; i++) input[i] = c.input[i];
    dw_work_step *step = &w->step[w->step_count++];
    *step = (dw_work_step){.formula = keep(w, formula), .result = DW_WORK_NONE,
                           .input_count = c.count, .input = input, .meaning = keep(w, meaning),
                           .source = keep(w, source), .keys = keep(w, keys)};
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
    const size_t index = find(w, solved_for, strlen(solved_for));
    if (index == DW_WORK_NONE || w->quantity[index].origin != DW_WORK_SOLVED) {
        w->status = DW_ERR_BUG;
        return;
    }
    step->result = index;
    w->quantity[index].step = (int)w->step_count;
}

void dw_work_table_begin(dw_working *w, const char *title, const char *row_title, size_t rows)
{
    if (!grow(w, (void **)&w->table, w->table_count, &w->table_room, sizeof *w->table)) return;
    const char **row = take(w, (rows + 1) * sizeof *row);
    if (row == NULL) return;
    for (size_t i = 0; i < rows; i++) row[i] = "";
    w->table[w->table_count++] = (dw_work_table){
        .title = keep(w, title), .row_title = keep(w, row_title), .rows = rows, .row = row};
    add_item(w, DW_WORK_TABLE, "", w->table_count - 1);
}

void dw_work_row(dw_working *w, size_t row, const char *format, ...)
{
    if (w == NULL || w->status != DW_OK || w->table_count == 0) return;
    const dw_work_table *t = &w->table[w->table_count - 1];
    if (row >= t->rows) return;
    va_list args;
    va_start(args, format);
    /* The array is ours; only readers see it as constant. */
    /* NOLINTNEXTLINE(performance-no-int-to-ptr) */
    ((const char **)(uintptr_t)t->row)[row] = vkeep(w, format, args);
    va_end(args);
}

static void add_to_table(dw_working *w, dw_work_quantity *q)
{
    if (q == NULL || w->status != DW_OK) return;
    dw_work_table *t = &w->table[w->table_count - 1];
    size_t *column = take(w, (t->column_count + 1) * sizeof *column);
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

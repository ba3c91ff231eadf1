#include "working.h"

#include <math.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "formula.h"
#include "working_store.h"

enum { CHUNK_BYTES = 16384 };

struct dw_work_chunk {
    dw_work_chunk *next;
    size_t used, size;
    max_align_t bytes[];
};

/* ---- memory ------------------------------------------------------------------------------- */

void *dw_work_take(dw_working *w, size_t size)
{
    if (w == NULL || w->status != DW_OK) return NULL;
    const size_t align = sizeof(max_align_t), need = (size + align - 1) / align * align;
    dw_work_chunk *c = w->chunks;
    if (c == NULL || c->size - c->used < need) {
        const size_t bytes = need > CHUNK_BYTES ? need : CHUNK_BYTES;
        c = malloc(sizeof *c + bytes);
        if (c == NULL) {
            w->status = DW_ERR_NOMEM;
            return NULL;
        }
        *c = (dw_work_chunk){.next = w->chunks, .used = 0, .size = bytes};
        w->chunks = c;
    }
    void *place = (char *)c->bytes + c->used;
    c->used += need;
    memset(place, 0, need);
    return place;
}

bool dw_work_grow(dw_working *w, void **array, size_t count, size_t *room, size_t size)
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

const char *dw_work_keep(dw_working *w, const char *text)
{
    const size_t size = strlen(text) + 1;
    char *copy = dw_work_take(w, size);
    if (copy == NULL) return "";
    memcpy(copy, text, size);
    return copy;
}

dw_working *dw_working_create(void)
{
    return calloc(1, sizeof(dw_working));
}

void dw_working_destroy(dw_working *w)
{
    if (w == NULL) return;
    for (dw_work_chunk *c = w->chunks; c != NULL;) {
        dw_work_chunk *next = c->next;
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

size_t dw_work_index_of(const dw_working *w, const char *symbol, size_t length)
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

/* One number of an answer by its key. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "ask.h"
#include "diag.h"
#include "nearest.h"

enum { PATH_SIZE = 256 };

/** A walk over all of a report that has a key, with the path that it has in the JSON. */
typedef struct search {
    const char *key;
    char path[PATH_SIZE];     /* of what the walk is at                                        */
    char near[PATH_SIZE];     /* a number's key that may have been meant; "": none             */
    bool near_in_spelling;    /* by a letter or two                                            */
    bool found, is_text;
    dw_number number;
    const char *reason;       /* why it has no value; NULL: nothing is said of it              */
    double *value;
    const char **unit;
} search;

/* "draft" may be draft_stack_base_pa, "CO" gas_dry.CO. */
static bool is_part_of(const char *key, const char *path)
{
    const size_t own = strlen(key), length = strlen(path);
    if (own == 0 || own >= length) return false;
    return strncmp(path, key, own) == 0 ||
           (path[length - own - 1] == '.' && strcmp(path + length - own, key) == 0);
}

static void see_number(search *s, const dw_number *number, const char *reason)
{
    if (!s->found && strcmp(s->path, s->key) == 0) {
        s->found = true;
        s->number = *number;
        s->reason = reason;
    }
    const char *const words[] = {s->near_in_spelling ? s->near : NULL, s->path};
    const bool in_spelling = dw_nearest_word(s->key, words, 2) == s->path;
    if (in_spelling || (s->near[0] == '\0' && is_part_of(s->key, s->path))) {
        memcpy(s->near, s->path, sizeof s->near);
        s->near_in_spelling = in_spelling;
    }
}

static void see_text(search *s)
{
    s->is_text = s->is_text || strcmp(s->path, s->key) == 0;
}

/* Appends a step to the path; the caller cuts it off again. What is too long is no key of ours. */
static size_t enter(search *s, const char *step)
{
    const size_t before = strlen(s->path);
    (void)snprintf(s->path + before, sizeof s->path - before, "%s%s", before > 0 ? "." : "", step);
    return before;
}

static size_t enter_row(search *s, size_t index)
{
    char step[24];
    (void)snprintf(step, sizeof step, "%zu", index);
    return enter(s, step);
}

static void see_table(search *s, const dw_table *t)
{
    for (size_t r = 0; r < t->row_count; ++r) {
        const size_t outside = enter_row(s, r);
        for (size_t c = 0; c < t->column_count; ++c) {
            const dw_column *column = &t->column[c];
            if (column->key == NULL) continue;
            const size_t row = enter(s, column->key);
            if (column->is_text || column->is_truth) {
                see_text(s);
            } else {
                dw_number number = column->number;
                number.si = t->cell[r * t->column_count + c].si;
                see_number(s, &number, NULL);
            }
            s->path[row] = '\0';
        }
        s->path[outside] = '\0';
    }
}

/* The ends of a number's spread have keys of their own. */
static void see_end(search *s, const dw_number *of, double si, const char *ending)
{
    const size_t before = strlen(s->path);
    dw_number number = *of;
    number.si = si;
    (void)snprintf(s->path + before, sizeof s->path - before, "%s", ending);
    see_number(s, &number, NULL);
    s->path[before] = '\0';
}

static void see(search *s, const dw_item *item);

/* Groups without a key hand their entries to the one around them. */
static void see_entries(search *s, const dw_item *of)
{
    size_t index = 0;
    for (const dw_item *item = of->first; item != NULL; item = item->next, ++index) {
        if (of->kind == DW_ITEM_GROUP && item->key == NULL) {
            if (item->kind == DW_ITEM_GROUP) see_entries(s, item);
            continue;
        }
        const size_t outside =
            of->kind == DW_ITEM_GROUP ? enter(s, item->key) : enter_row(s, index);
        see(s, item);
        s->path[outside] = '\0';
    }
}

static void see(search *s, const dw_item *item)
{
    switch (item->kind) {
    case DW_ITEM_NUMBER:
        see_number(s, &item->number, item->note);
        if (isfinite(item->number.low_si)) {
            see_end(s, &item->number, item->number.low_si, "_low");
            see_end(s, &item->number, item->number.high_si, "_high");
        }
        break;
    case DW_ITEM_INTEGER: {
        const dw_number number = dw_number_plain((double)item->integer, 12);
        see_number(s, &number, NULL);
        break;
    }
    case DW_ITEM_NULL: {
        dw_number number = item->number;
        number.si = NAN;
        see_number(s, &number, item->note);
        break;
    }
    case DW_ITEM_GROUP:
    case DW_ITEM_LIST: see_entries(s, item); break;
    case DW_ITEM_TABLE: see_table(s, item->table); break;
    case DW_ITEM_TEXT:
    case DW_ITEM_BOOL:
    case DW_ITEM_LINE: see_text(s); break;
    }
}

static dw_status refuse(const search *s, dw_diag_list *diag)
{
    const dw_place nowhere = {NULL, 0, 0};
    if (s->is_text) {
        dw_diag_add(diag, DW_ERROR, "no-number", nowhere, "'%.100s' is a text, not a number", s->key);
    } else if (s->near[0] != '\0') {
        dw_diag_add(diag, DW_ERROR, "unknown-key", nowhere,
                    "no number has the key '%.100s', did you mean '%s'?", s->key, s->near);
    } else {
        dw_diag_add(diag, DW_ERROR, "unknown-key", nowhere,
                    "no number has the key '%.100s'; the answer in JSON shows all keys", s->key);
    }
    return DW_ERR_INPUT;
}

static dw_status look(void *user, const dw_asking *a, dw_status answered)
{
    search *s = user;
    if (answered != DW_OK) return answered;
    see_entries(s, dw_report_root_const(a->report));
    if (!s->found) return refuse(s, a->diag);
    *s->unit = s->number.unit != NULL ? s->number.unit : dw_dim_si_unit(s->number.dim);
    if (isfinite(s->number.si)) {
        *s->value = s->number.si;
    } else {
        dw_diag_add(a->diag, DW_NOTE, "no-value", (dw_place){NULL, 0, 0},
                    "'%.100s' has no value at this setting%s%s", s->key,
                    s->reason != NULL ? ": " : "", s->reason != NULL ? s->reason : "");
    }
    return DW_OK;
}

dw_status dw_ask_number(const dw_engine *engine, const dw_case *kiln, const dw_question *question,
                        const char *key, dw_diag_list *diag, double *value, const char **unit)
{
    const char *ignored;
    if (unit == NULL) unit = &ignored;
    *unit = "";
    if (value != NULL) *value = NAN;
    if (question == NULL || question->working != 0 || key == NULL || value == NULL) return DW_ERR_ARG;
    search s = {.key = key, .value = value, .unit = unit};
    return dw_ask_to_look(engine, kiln, question, diag, look, &s);
}

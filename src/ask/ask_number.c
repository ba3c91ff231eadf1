/* One number of an answer by its key. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "ask.h"
#include "diag.h"
#include "nearest.h"

enum { PATH_SIZE = 256 };

/** A search for a key that may have been meant: a walk over the report, with the path of what it is at. */
typedef struct search {
    const char *key;
    char path[PATH_SIZE];
    char near[PATH_SIZE];     /* "": none               */
    bool near_in_spelling;    /* by a letter or two     */
} search;

/* "draft" may be draft_stack_base_pa, "CO" gas_dry.CO. */
static bool is_part_of(const char *key, const char *path)
{
    const size_t own = strlen(key), length = strlen(path);
    if (own == 0 || own >= length) return false;
    return strncmp(path, key, own) == 0 ||
           (path[length - own - 1] == '.' && strcmp(path + length - own, key) == 0);
}

static void see_number(search *s)
{
    const char *const words[] = {s->near_in_spelling ? s->near : NULL, s->path};
    const bool in_spelling = dw_nearest_word(s->key, words, 2) == s->path;
    if (in_spelling || (s->near[0] == '\0' && is_part_of(s->key, s->path))) {
        memcpy(s->near, s->path, sizeof s->near);
        s->near_in_spelling = in_spelling;
    }
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
            if (column->key == NULL || column->is_text || column->is_truth) continue;
            const size_t row = enter(s, column->key);
            see_number(s);
            s->path[row] = '\0';
        }
        s->path[outside] = '\0';
    }
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
    case DW_ITEM_INTEGER:
    case DW_ITEM_NULL: see_number(s); break;
    case DW_ITEM_GROUP:
    case DW_ITEM_LIST: see_entries(s, item); break;
    case DW_ITEM_TABLE: see_table(s, item->table); break;
    default: break;
    }
}

static dw_status refuse(const char *key, bool is_text, const dw_report *report, dw_diag_list *diag)
{
    const dw_place nowhere = {NULL, 0, 0};
    search s = {.key = key};
    if (!is_text) see_entries(&s, dw_report_root_const(report));
    if (is_text) {
        dw_diag_add(diag, DW_ERROR, "no-number", nowhere, "'%.100s' is a text, not a number", key);
    } else if (s.near[0] != '\0') {
        dw_diag_add(diag, DW_ERROR, "unknown-key", nowhere,
                    "no number has the key '%.100s', did you mean '%s'?", key, s.near);
    } else {
        dw_diag_add(diag, DW_ERROR, "unknown-key", nowhere,
                    "no number has the key '%.100s'; the answer in JSON shows all keys", key);
    }
    return DW_ERR_INPUT;
}

/** What is asked for, and where it goes. */
typedef struct wanted {
    const char *key;
    double *value;
    const char **unit;
} wanted;

static dw_status look(void *user, const dw_asking *a, dw_status answered)
{
    const wanted *want = user;
    if (answered != DW_OK) return answered;
    dw_found found;
    const bool there = dw_report_find(a->report, want->key, &found);
    if (!there || !(found.is_number || found.is_null)) return refuse(want->key, there, a->report, a->diag);
    const dw_number *number = &found.number;
    *want->unit = number->unit != NULL ? number->unit : dw_dim_si_unit(number->dim);
    if (isfinite(number->si)) {
        *want->value = number->si;
    } else {
        dw_diag_add(a->diag, DW_NOTE, "no-value", (dw_place){NULL, 0, 0},
                    "'%.100s' has no value at this setting%s%s", want->key,
                    found.text != NULL ? ": " : "", found.text != NULL ? found.text : "");
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
    wanted want = {.key = key, .value = value, .unit = unit};
    return dw_ask_to_look(engine, kiln, question, diag, look, &want);
}

#include "questions.h"

#include <stdio.h>
#include <string.h>

#include "diag.h"
#include "nearest.h"

static const dw_question_kind *const kinds[] = {
    &dw_question_estimate, &dw_question_check, &dw_question_room,   &dw_question_exposure,
    &dw_question_why,      &dw_question_oxides, &dw_question_ladder, &dw_question_keys};

enum { KIND_COUNT = sizeof kinds / sizeof kinds[0], LIST_SIZE = 400 };

static const dw_place nowhere = {NULL, 0, 0};

static dw_status refuse(dw_diag_list *diag, const char *code, const char *before, const char *name,
                        const char *const *words, size_t count)
{
    const char *nearest = dw_nearest_word(name, words, count);
    char allowed[LIST_SIZE] = "";
    if (nearest == NULL) dw_words_join(words, count, allowed, sizeof allowed);
    dw_diag_add(diag, DW_ERROR, code, nowhere, "%s '%.60s'%s%s%s", before, name,
                nearest != NULL ? ", did you mean '" : "; allowed: ",
                nearest != NULL ? nearest : allowed, nearest != NULL ? "'?" : "");
    return DW_ERR_INPUT;
}

static dw_status find_kind(const char *name, dw_diag_list *diag, const dw_question_kind **kind)
{
    const char *names[KIND_COUNT];
    for (size_t i = 0; i < KIND_COUNT; ++i) {
        names[i] = kinds[i]->name;
        if (strcmp(name, names[i]) != 0) continue;
        *kind = kinds[i];
        return DW_OK;
    }
    return refuse(diag, "unknown-question", "there is no question", name, names, KIND_COUNT);
}

static dw_status check_options(const dw_question *q, const dw_question_kind *kind, dw_diag_list *diag)
{
    for (size_t i = 0; i < q->option_count; ++i) {
        const char *name = q->option[i].name;
        if (name == NULL) return DW_ERR_ARG;
        size_t count = 0;
        while (kind->options[count] != NULL && strcmp(kind->options[count], name) != 0) ++count;
        if (kind->options[count] != NULL) continue;
        char before[80];
        (void)snprintf(before, sizeof before, "the question '%s' has no option", kind->name);
        if (count > 0) return refuse(diag, "unknown-option", before, name, kind->options, count);
        dw_diag_add(diag, DW_ERROR, "unknown-option", nowhere, "%s '%.60s', nor any other", before,
                    name);
        return DW_ERR_INPUT;
    }
    return DW_OK;
}

static dw_status cannot(dw_diag_list *diag, const char *code, const char *name, const char *what)
{
    dw_diag_add(diag, DW_ERROR, code, nowhere, "the question '%s' %s", name, what);
    return DW_ERR_INPUT;
}

dw_status dw_question_find(const dw_question *q, const dw_case *kiln, dw_diag_list *diag,
                           const dw_question_kind **kind)
{
    *kind = NULL;
    if (q == NULL || q->name == NULL || (q->option == NULL && q->option_count > 0) ||
        (q->vary == NULL && q->vary_count > 0) || q->vary_count > DW_SWEEP_AXIS_MAX) {
        return DW_ERR_ARG;
    }
    const dw_question_kind *k;
    dw_status status = find_kind(q->name, diag, &k);
    if (status == DW_OK) status = check_options(q, k, diag);
    if (status != DW_OK) return status;
    if (kiln == NULL && (k->kiln == DW_KILN_NEEDED || q->vary_count > 0)) return DW_ERR_ARG;
    if (q->vary_count > 0 && k->add_row == NULL) {
        return cannot(diag, "no-rows", k->name, "has no rows: nothing can be varied in it");
    }
    if (q->working != 0 && !k->has_working) {
        return cannot(diag, "no-working", k->name, "has no working");
    }
    if (q->at_point > 0 && q->vary_count == 0 && (kiln != NULL || k->add_row == NULL)) {
        return cannot(diag, "no-rows", k->name, "has no rows to take one of: vary makes them");
    }
    *kind = k;
    return DW_OK;
}

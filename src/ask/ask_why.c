/* The question about a term. */
#include <stdlib.h>

#include "diag.h"
#include "questions.h"
#include "reports.h"
#include "working_point.h"

/** What the answer borrows its numbers from. */
typedef struct state {
    dw_working *w;
    dw_report *estimate;
    dw_result result;
    dw_ware ware;
} state;

/* The estimate of the kiln as a report, and its working; both stay empty when it is not solved. */
static dw_status solve(const dw_asking *a, state *s)
{
    const dw_model *model = &a->engine->model;
    const dw_kiln *kiln = &a->kiln->file.kiln;
    s->w = dw_working_create();
    s->estimate = dw_report_create();
    if (s->w == NULL || s->estimate == NULL) return DW_ERR_NOMEM;
    dw_status status = dw_working_point(model, kiln, s->w, &s->result);
    if (status == DW_ERR_DOMAIN || status == DW_ERR_NO_CONVERGE) {
        return dw_asked_not_solved(a, s->result.reason);
    }
    if (status == DW_OK) {
        status = dw_asked_sure(dw_ware_of_point(model, kiln, &s->result, &s->ware));
    }
    if (status != DW_OK) return status;
    dw_report_source source = a->source;
    source.command = "estimate";
    source.ware = &s->ware;
    dw_build_estimate(s->estimate, &source, &s->result);
    return dw_report_failed(s->estimate) ? DW_ERR_NOMEM : DW_OK;
}

static dw_status say_unknown(const dw_asking *a, const char *term, const char *near)
{
    const dw_place nowhere = {NULL, 0, 0};
    if (near != NULL) {
        dw_diag_add(a->diag, DW_ERROR, "unknown-term", nowhere,
                    "unknown term '%.60s', did you mean '%s'?", term, near);
    } else {
        dw_diag_add(a->diag, DW_ERROR, "unknown-term", nowhere,
                    "unknown term '%.60s'; 'damperwise why' lists all of them", term);
    }
    return DW_ERR_INPUT;
}

static dw_status build(dw_asking *a)
{
    state *s = a->state;
    const char *term = dw_asked(a, "term"), *near = NULL;
    if (term == NULL) {
        dw_build_terms(a->report, &a->source);
        return DW_OK;
    }
    const dw_term *found = dw_term_find(&a->engine->data->terms, term, &near);
    if (found == NULL) return say_unknown(a, term, near);
    const dw_status status = a->kiln != NULL ? solve(a, s) : DW_OK;
    if (status != DW_OK && status != DW_ERR_NO_CONVERGE) return status;
    const bool numbers = a->kiln != NULL && status == DW_OK;
    dw_build_why(a->report, &a->source, found, numbers ? s->estimate : NULL,
                 numbers ? s->w : NULL, dw_asked_units(a->output));
    return status;
}

static void release(void *of)
{
    state *s = of;
    dw_working_destroy(s->w);
    dw_report_destroy(s->estimate);
}

static const char *const options[] = {"term", NULL};

const dw_question_kind dw_question_why = {.name = "why",
                                          .kiln = DW_KILN_MAYBE,
                                          .options = options,
                                          .state_size = sizeof(state),
                                          .build = build,
                                          .release = release};

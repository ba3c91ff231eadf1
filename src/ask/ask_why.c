/* The facade of the terms. */
#include <stdlib.h>

#include "diag.h"
#include "facade.h"
#include "report_why.h"
#include "working_point.h"

/* The estimate of a case as a report and its working; both stay empty when it is not solved. */
static dw_status solve(const dw_engine *engine, const dw_case *kiln, dw_working *w,
                       dw_report *estimate, dw_diag_list *diag)
{
    dw_result *result = calloc(1, sizeof *result);
    if (result == NULL) return DW_ERR_NOMEM;
    dw_status status = dw_working_point(&engine->model, &kiln->file.kiln, w, result);
    if (status == DW_ERR_DOMAIN) status = DW_ERR_NO_CONVERGE;
    if (status == DW_OK) {
        dw_report_source source = dw_facade_source(engine, kiln, "estimate");
        dw_ware ware;
        status = dw_ware_of_point(&engine->model, &kiln->file.kiln, result, &ware);
        source.ware = &ware;
        if (status == DW_OK) dw_build_estimate(estimate, &source, result);
        if (status == DW_OK && dw_report_failed(estimate)) status = DW_ERR_NOMEM;
    } else if (status == DW_ERR_NO_CONVERGE) {
        dw_diag_add(diag, DW_ERROR, "not-solved", (dw_place){NULL, 0, 0}, "%s", result->reason);
    }
    free(result);
    return status;
}

static void say_unknown(const char *term, const char *near, dw_diag_list *diag)
{
    const dw_place nowhere = {NULL, 0, 0};
    if (near != NULL) {
        dw_diag_add(diag, DW_ERROR, "unknown-term", nowhere,
                    "unknown term '%.60s', did you mean '%s'?", term, near);
    } else {
        dw_diag_add(diag, DW_ERROR, "unknown-term", nowhere,
                    "unknown term '%.60s'; 'damperwise why' lists all of them", term);
    }
}

dw_status dw_why_write(const dw_engine *engine, const dw_case *kiln, const char *term,
                       dw_output output, dw_diag_list *diag, char **text, size_t *text_length)
{
    if (text != NULL) *text = NULL;
    if (text_length != NULL) *text_length = 0;
    if (engine == NULL || text == NULL || text_length == NULL) return DW_ERR_ARG;
    const dw_report_source source = dw_facade_source(engine, kiln, "why");
    const char *near = NULL;
    const dw_term *found = term != NULL ? dw_term_find(&engine->data.terms, term, &near) : NULL;
    if (term != NULL && found == NULL) {
        say_unknown(term, near, diag);
        return DW_ERR_INPUT;
    }
    dw_report *report = dw_report_create(), *estimate = dw_report_create();
    dw_working *w = dw_working_create();
    dw_status status = report != NULL && estimate != NULL && w != NULL ? DW_OK : DW_ERR_NOMEM;
    dw_status solved = DW_OK;
    if (status == DW_OK && found == NULL) {
        dw_build_terms(report, &source);
    } else if (status == DW_OK) {
        if (kiln != NULL) solved = solve(engine, kiln, w, estimate, diag);
        const bool numbers = kiln != NULL && solved == DW_OK;
        if (solved != DW_OK && solved != DW_ERR_NO_CONVERGE) status = solved;
        if (status == DW_OK) {
            dw_build_why(report, &source, found, numbers ? estimate : NULL, numbers ? w : NULL,
                         dw_facade_units(output));
        }
    }
    if (status == DW_OK) status = dw_facade_write(report, output, text, text_length);
    dw_working_destroy(w);
    dw_report_destroy(estimate);
    dw_report_destroy(report);
    return status != DW_OK ? status : solved;
}

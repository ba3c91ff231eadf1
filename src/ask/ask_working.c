/* The working of an operating point and of the rules of thumb. */
#include <math.h>
#include <stdlib.h>

#include "diag.h"
#include "facade.h"
#include "report_working.h"
#include "rules.h"
#include "working_doubt.h"
#include "working_point.h"

/* The working of a solved case as a report, with the report of the case beside it. */
static dw_status build(const dw_engine *engine, const dw_case *kiln, dw_output output,
                       dw_working *w, const dw_result *result, dw_report *report)
{
    dw_report_source source = dw_facade_source(engine, kiln, "estimate");
    bool given[DW_DOUBT_COUNT];
    dw_doubt doubt;
    dw_doubt_given(&source, given);
    dw_status status = dw_doubt_find(&engine->model, &kiln->file.kiln, result->equivalence_ratio,
                                     given, &doubt);
    if (status != DW_OK) return status;
    dw_working_doubt(&doubt, w);
    status = dw_working_status(w);
    if (status != DW_OK) return status;
    source.doubt = &doubt;
    dw_report *estimate = dw_report_create();
    dw_build_estimate(estimate, &source, result);
    if (dw_report_failed(estimate)) {
        status = DW_ERR_NOMEM;
    } else {
        dw_build_working(report, &source, w, NULL, estimate, dw_facade_units(output));
    }
    dw_report_destroy(estimate);
    return status;
}

dw_status dw_case_working(const dw_engine *engine, const dw_case *kiln, dw_output output,
                          dw_diag_list *diag, char **text, size_t *text_length)
{
    if (!dw_facade_begin(engine, kiln, text, text_length)) return DW_ERR_ARG;
    dw_result *result = calloc(1, sizeof *result);
    dw_report *report = dw_report_create();
    dw_working *w = dw_working_create();
    dw_status status = DW_ERR_NOMEM, solved = DW_OK;
    if (result != NULL && report != NULL && w != NULL) {
        status = dw_working_point(&engine->model, &kiln->file.kiln, w, result);
        if (status == DW_ERR_NO_CONVERGE || status == DW_ERR_DOMAIN) {
            solved = DW_ERR_NO_CONVERGE;
            status = DW_OK;
        }
    }
    if (status == DW_OK && solved == DW_OK) {
        status = build(engine, kiln, output, w, result, report);
    } else if (status == DW_OK) {
        /* The report says why, and that there are no numbers. */
        const dw_report_source source = dw_facade_source(engine, kiln, "estimate");
        dw_build_estimate(report, &source, result);
        dw_diag_add(diag, DW_ERROR, "not-solved", (dw_place){NULL, 0, 0}, "%s", result->reason);
    }
    if (status == DW_OK) status = dw_facade_write(report, output, text, text_length);
    if (status == DW_OK && solved == DW_OK) status = dw_facade_findings(kiln, result, diag);
    if (status != DW_OK) {
        dw_text_free(*text);
        *text = NULL;
        *text_length = 0;
    }
    dw_working_destroy(w);
    dw_report_destroy(report);
    free(result);
    return status != DW_OK ? status : solved;
}

dw_status dw_case_check_working(const dw_engine *engine, const dw_case *kiln, dw_output output,
                                char **text, size_t *text_length)
{
    if (!dw_facade_begin(engine, kiln, text, text_length)) return DW_ERR_ARG;
    dw_result *result = calloc(1, sizeof *result);
    dw_report *report = dw_report_create();
    dw_working *w = dw_working_create();
    dw_status status = DW_ERR_NOMEM;
    if (result != NULL && report != NULL && w != NULL) {
        status = dw_facade_solve(engine, kiln, result);
        if (status == DW_ERR_NO_CONVERGE) status = DW_OK;
    }
    if (status == DW_OK) {
        dw_rule_finding findings[DW_RULE_FINDING_MAX];
        (void)dw_rules_look(&engine->data, &kiln->resolved,
                            result->solved ? result->heat_input_net_w : NAN, w, findings);
        status = dw_working_status(w);
    }
    if (status == DW_OK) {
        const dw_report_source source = dw_facade_source(engine, kiln, "check");
        dw_build_working(report, &source, w, NULL, NULL, dw_facade_units(output));
        status = dw_facade_write(report, output, text, text_length);
    }
    dw_working_destroy(w);
    dw_report_destroy(report);
    free(result);
    return status;
}

/* The working of the questions about the ware. */
#include <stdlib.h>

#include "diag.h"
#include "report_working.h"
#include "ware_state.h"
#include "working_point.h"

/** What a working of one state needs; too much for a thread's stack. */
typedef struct job {
    dw_ware_state state;
    dw_solved solved;
} job;

/* Ware and steps of a kiln. */
static dw_status work_out(const dw_engine *engine, const dw_case *kiln, job *j, dw_working *w)
{
    const dw_model *model = &engine->model;
    dw_ware_state *s = &j->state;
    dw_status status = dw_operating_point(model, &kiln->file.kiln, &s->result);
    if (status != DW_OK) return status;
    status = dw_ware_of_point(model, &kiln->file.kiln, &s->result, &s->ware);
    if (status == DW_OK) {
        dw_work_rename_to_oxides(w, s->ware.given);
        status = dw_working_point_solved(model, &kiln->file.kiln, DW_WORK_TO_OXYGEN, w, &j->solved,
                                         &s->result);
        dw_work_rename_keys(w, NULL, 0);
    }
    if (status == DW_OK) status = dw_ware_state_look(engine, s);
    if (status == DW_OK) {
        dw_working_ware(model, &s->ware, s->boundary, s->boundary_count, w);
        status = dw_working_ware_parcels(model, &j->solved, &s->ware, w);
    }
    if (status == DW_ERR_DOMAIN || status == DW_ERR_NO_CONVERGE) return DW_ERR_BUG;
    if (status != DW_OK) return status;
    dw_working_glazes(&s->ware, s->glaze, s->glazes.count, w);
    return dw_working_status(w);
}

/* The working beside the report that it is of. */
static dw_status write_down(const dw_report_source *source, const dw_oxides_view *view,
                            const dw_working *w, const char *first_line, dw_output output,
                            dw_report *report, char **text, size_t *text_length)
{
    dw_report *of = dw_report_create();
    dw_build_oxides(of, source, view);
    dw_status status = DW_ERR_NOMEM;
    if (!dw_report_failed(of)) {
        dw_build_working(report, source, w, first_line, of, dw_facade_units(output));
        status = dw_facade_write(report, output, text, text_length);
    }
    dw_report_destroy(of);
    return status;
}

static dw_status case_working(const dw_engine *engine, const dw_case *kiln, job *j, dw_working *w,
                              dw_output output, dw_report *report, dw_diag_list *diag, char **text,
                              size_t *text_length)
{
    const dw_report_source source = dw_facade_source(engine, kiln, "oxides");
    const dw_result *result = &j->state.result;
    dw_status status = work_out(engine, kiln, j, w);
    if (status == DW_ERR_NO_CONVERGE || status == DW_ERR_DOMAIN) {
        const dw_oxides_view view = {.result = result};
        dw_build_oxides(report, &source, &view);
        status = dw_facade_write(report, output, text, text_length);
        dw_diag_add(diag, DW_ERROR, "not-solved", (dw_place){NULL, 0, 0}, "%s", result->reason);
        return status != DW_OK ? status : DW_ERR_NO_CONVERGE;
    }
    if (status != DW_OK) return status;
    dw_oxides_view view = dw_ware_state_view(&j->state);
    view.result = result;
    status = write_down(&source, &view, w, NULL, output, report, text, text_length);
    return status == DW_OK ? dw_facade_findings(kiln, result, diag) : status;
}

dw_status dw_case_oxides_working(const dw_engine *engine, const dw_case *kiln, const char *glaze,
                                 dw_output output, dw_diag_list *diag, char **text,
                                 size_t *text_length)
{
    if (!dw_facade_begin(engine, kiln, text, text_length)) return DW_ERR_ARG;
    job *j = calloc(1, sizeof *j);
    dw_report *report = dw_report_create();
    dw_working *w = dw_working_create();
    dw_status status = j != NULL && report != NULL && w != NULL ? DW_OK : DW_ERR_NOMEM;
    if (status == DW_OK) status = dw_glazes_read(engine, glaze, diag, &j->state.glazes);
    if (status == DW_OK) {
        status = case_working(engine, kiln, j, w, output, report, diag, text, text_length);
    }
    dw_working_destroy(w);
    dw_report_destroy(report);
    free(j);
    return status;
}

/* ---- without a kiln ----------------------------------------------------------------------- */

static dw_status query_working(const dw_engine *engine, const dw_ware_query *q, dw_ware_state *s,
                               dw_working *w, dw_output output, dw_report *report, char **text,
                               size_t *text_length)
{
    dw_status status = dw_ware_query_at(engine, q, q->temperature_k[0], s);
    if (status == DW_OK) status = dw_ware_state_look(engine, s);
    if (status != DW_OK) return status;
    status = dw_working_ware_given(&engine->model, &s->ware, &q->given, &s->gas, w);
    if (status != DW_OK) return status == DW_ERR_NOMEM ? status : DW_ERR_BUG;
    dw_working_ware(&engine->model, &s->ware, s->boundary, s->boundary_count, w);
    dw_working_glazes(&s->ware, s->glaze, s->glazes.count, w);
    status = dw_working_status(w);
    if (status != DW_OK) return status;
    const dw_report_source source = dw_facade_source(engine, NULL, "oxides");
    dw_oxides_view view = dw_ware_state_view(s);
    view.asked = q->asked;
    view.given = &q->given;
    view.gas = &s->gas;
    const char *first_line =
        dw_report_keepf(report, "%s at %.6g K", q->asked, s->ware.temperature_k);
    return write_down(&source, &view, w, first_line != NULL ? first_line : "", output, report, text,
                      text_length);
}

dw_status dw_oxides_working(const dw_engine *engine, const dw_oxides_request *request,
                            dw_output output, dw_diag_list *diag, char **text,
                            size_t *text_length)
{
    if (text != NULL) *text = NULL;
    if (text_length != NULL) *text_length = 0;
    if (engine == NULL || request == NULL || text == NULL || text_length == NULL) {
        return DW_ERR_ARG;
    }
    dw_ware_query q = {.temperature_k = NULL};
    dw_ware_state *s = calloc(1, sizeof *s);
    dw_report *report = dw_report_create();
    dw_working *w = dw_working_create();
    dw_status status = s != NULL && report != NULL && w != NULL ? DW_OK : DW_ERR_NOMEM;
    if (status == DW_OK) status = dw_ware_query_read(engine, request, diag, &q);
    if (status == DW_OK && q.count > 1) {
        dw_diag_add(diag, DW_ERROR, "one-point", (dw_place){"--at", 0, 0},
                    "a range has %zu rows, and --working shows one of them: say which with --at-point N",
                    q.count);
        status = DW_ERR_INPUT;
    }
    if (status == DW_OK) status = dw_glazes_read(engine, request->glaze, diag, &s->glazes);
    if (status == DW_OK) {
        status = query_working(engine, &q, s, w, output, report, text, text_length);
    }
    dw_ware_query_free(&q);
    dw_working_destroy(w);
    dw_report_destroy(report);
    free(s);
    return status;
}

/* The questions about the ware: oxide states and iron in glazes. */
#include <stdlib.h>

#include "axes.h"
#include "diag.h"
#include "rows.h"
#include "ware_state.h"

/* ---- one state ---------------------------------------------------------------------------- */

static dw_status case_oxides(const dw_engine *engine, const dw_case *kiln, dw_ware_state *s,
                             dw_output output, dw_report *report, dw_diag_list *diag, char **text,
                             size_t *text_length)
{
    const dw_report_source source = dw_facade_source(engine, kiln, "oxides");
    const dw_status solved = dw_facade_solve(engine, kiln, &s->result);
    if (solved != DW_OK && solved != DW_ERR_NO_CONVERGE) return solved;
    dw_oxides_view view = {.result = &s->result};
    if (solved == DW_OK) {
        dw_status status =
            dw_ware_of_point(&engine->model, &kiln->file.kiln, &s->result, &s->ware);
        if (status == DW_OK) status = dw_ware_state_look(engine, s);
        if (status != DW_OK) return status == DW_ERR_DOMAIN ? DW_ERR_BUG : status;
        view = dw_ware_state_view(s);
        view.result = &s->result;
    }
    dw_build_oxides(report, &source, &view);
    const dw_status status = dw_facade_write(report, output, text, text_length);
    if (status != DW_OK) return status;
    if (solved != DW_OK) {
        dw_diag_add(diag, DW_ERROR, "not-solved", (dw_place){NULL, 0, 0}, "%s", s->result.reason);
        return solved;
    }
    return dw_facade_findings(kiln, &s->result, diag);
}

dw_status dw_case_oxides(const dw_engine *engine, const dw_case *kiln, const char *glaze,
                         dw_output output, dw_diag_list *diag, char **text, size_t *text_length)
{
    if (!dw_facade_begin(engine, kiln, text, text_length)) return DW_ERR_ARG;
    dw_ware_state *s = calloc(1, sizeof *s);
    dw_report *report = dw_report_create();
    dw_status status = s != NULL && report != NULL ? DW_OK : DW_ERR_NOMEM;
    if (status == DW_OK) status = dw_glazes_read(engine, glaze, diag, &s->glazes);
    if (status == DW_OK) {
        status = case_oxides(engine, kiln, s, output, report, diag, text, text_length);
    }
    dw_report_destroy(report);
    free(s);
    return status;
}

/* ---- along a sweep ------------------------------------------------------------------------ */

typedef struct walk {
    dw_axes axes;
    dw_case at;
    dw_ware_state state;
    dw_oxides_table table;
    dw_rows rows;
} walk;

static dw_status walk_points(walk *w, const dw_engine *engine, const dw_case *kiln,
                             bool one_glaze, dw_progress progress, void *user,
                             dw_diag_list *diag)
{
    for (size_t n = 0; n < w->axes.total; ++n) {
        double value[DW_AXES_MAX];
        dw_ware_state *s = &w->state;
        w->at = *kiln;
        dw_axes_put(&w->axes, n, &w->at.file.kiln, value);
        dw_status status = dw_facade_solve(engine, &w->at, &s->result);
        if (status == DW_ERR_NO_CONVERGE) {
            dw_build_oxides_row(&w->table, value, NULL, NULL, NULL, NULL, s->result.reason);
        } else if (status == DW_OK) {
            status = dw_ware_of_point(&engine->model, &w->at.file.kiln, &s->result, &s->ware);
            if (status != DW_OK) return status == DW_ERR_DOMAIN ? DW_ERR_BUG : status;
            if (one_glaze) dw_ware_glaze_at(&s->glazes.one, &s->ware, &s->glaze[0]);
            dw_build_oxides_row(&w->table, value, &s->result, NULL, &s->ware, &s->glaze[0],
                                NULL);
        } else {
            return status;
        }
        status = dw_rows_added(&w->rows);
        if (status != DW_OK) return status;
        if (progress != NULL && progress(user, n + 1, w->axes.total) != 0 &&
            n + 1 < w->axes.total) {
            dw_diag_add(diag, DW_WARNING, "stopped", (dw_place){NULL, 0, 0},
                        "stopped after %zu of %zu points", n + 1, w->axes.total);
            break;
        }
    }
    return DW_OK;
}

dw_status dw_case_oxides_sweep_to(const dw_engine *engine, const dw_case *kiln,
                                  const dw_vary *vary, size_t vary_count, const char *glaze,
                                  dw_output output, dw_progress progress, void *user,
                                  dw_diag_list *diag, dw_sink sink)
{
    if (engine == NULL || kiln == NULL || sink.take == NULL) return DW_ERR_ARG;
    walk *w = calloc(1, sizeof *w);
    dw_report *report = dw_report_create();
    dw_status status = w != NULL && report != NULL ? DW_OK : DW_ERR_NOMEM;
    if (status == DW_OK) status = dw_glazes_read(engine, glaze, diag, &w->state.glazes);
    if (status == DW_OK) status = dw_axes_read(kiln, vary, vary_count, diag, &w->axes);
    if (status == DW_OK && !dw_rows_fit(output, w->axes.total, diag)) status = DW_ERR_INPUT;
    /* The table borrows it for all its rows. */
    const dw_report_source source = dw_facade_source(engine, kiln, "oxides");
    if (status == DW_OK) {
        dw_build_oxides_table(&w->table, report, &source, w->axes.shown, w->axes.count,
                              glaze != NULL ? &w->state.glazes.one : NULL, NULL, NULL);
        status = dw_rows_begin(&w->rows, report, w->table.table, output, sink);
    }
    if (status == DW_OK) {
        status = walk_points(w, engine, kiln, glaze != NULL, progress, user, diag);
    }
    if (status == DW_OK) {
        dw_build_oxides_table_end(&w->table);
        status = dw_rows_end(&w->rows);
    }
    if (status == DW_OK && w->table.solved_count == 0) status = DW_ERR_NO_CONVERGE;
    if (status == DW_OK && w->table.solved_count < w->table.row_count) {
        dw_diag_add(diag, DW_WARNING, "unsolved-in-sweep", (dw_place){NULL, 0, 0},
                    "%zu of %zu points have no solution; their rows say why",
                    w->table.row_count - w->table.solved_count, w->table.row_count);
    }
    if (w != NULL) dw_rows_free(&w->rows);
    dw_report_destroy(report);
    if (w != NULL) dw_axes_free(&w->axes);
    free(w);
    return status;
}

dw_status dw_case_oxides_sweep(const dw_engine *engine, const dw_case *kiln, const dw_vary *vary,
                               size_t vary_count, const char *glaze, dw_output output,
                               dw_progress progress, void *user, dw_diag_list *diag, char **text,
                               size_t *text_length)
{
    if (!dw_facade_begin(engine, kiln, text, text_length)) return DW_ERR_ARG;
    dw_rows_text held;
    const dw_status status =
        dw_case_oxides_sweep_to(engine, kiln, vary, vary_count, glaze, output, progress, user,
                                diag, dw_rows_into(&held));
    return dw_rows_take(&held, status, text, text_length);
}

/* ---- without a kiln ----------------------------------------------------------------------- */

static dw_status answer_one(const dw_engine *engine, const dw_ware_query *q, dw_output output,
                            dw_ware_state *s, dw_report *report, dw_sink sink)
{
    const dw_report_source source = dw_facade_source(engine, NULL, "oxides");
    dw_status status = dw_ware_query_at(engine, q, q->temperature_k[0], s);
    if (status == DW_OK) status = dw_ware_state_look(engine, s);
    if (status != DW_OK) return status;
    dw_oxides_view view = dw_ware_state_view(s);
    view.asked = q->asked;
    view.given = &q->given;
    view.gas = &s->gas;
    dw_build_oxides(report, &source, &view);
    char *text = NULL;
    size_t length = 0;
    status = dw_facade_write(report, output, &text, &length);
    if (status == DW_OK && sink.take(sink.user, text, length) != 0) status = DW_ERR_IO;
    dw_text_free(text);
    return status;
}

static dw_status answer_range(const dw_engine *engine, const dw_ware_query *q, bool one_glaze,
                              dw_oxides_table *table, dw_rows *rows, dw_ware_state *s)
{
    for (size_t i = 0; i < q->count; ++i) {
        dw_status status = dw_ware_query_at(engine, q, q->temperature_k[i], s);
        if (status != DW_OK) return status;
        if (one_glaze) dw_ware_glaze_at(&s->glazes.one, &s->ware, &s->glaze[0]);
        dw_build_oxides_row(table, &q->temperature_k[i], NULL, &s->gas, &s->ware, &s->glaze[0],
                            NULL);
        status = dw_rows_added(rows);
        if (status != DW_OK) return status;
    }
    dw_build_oxides_table_end(table);
    return dw_rows_end(rows);
}

static dw_status answer_query(const dw_engine *engine, const dw_ware_query *q, bool one_glaze,
                              dw_output output, dw_diag_list *diag, dw_ware_state *s,
                              dw_report *report, dw_sink sink)
{
    if (q->count == 1) return answer_one(engine, q, output, s, report, sink);
    if (!dw_rows_fit(output, q->count, diag)) return DW_ERR_INPUT;
    const dw_report_source source = dw_facade_source(engine, NULL, "oxides");
    dw_oxides_table table;
    dw_rows rows;
    dw_build_oxides_table(&table, report, &source, NULL, 0, one_glaze ? &s->glazes.one : NULL,
                          q->asked, &q->given);
    dw_status status = dw_rows_begin(&rows, report, table.table, output, sink);
    if (status == DW_OK) status = answer_range(engine, q, one_glaze, &table, &rows, s);
    dw_rows_free(&rows);
    return status;
}

dw_status dw_oxides_write_to(const dw_engine *engine, const dw_oxides_request *request,
                             dw_output output, dw_diag_list *diag, dw_sink sink)
{
    if (engine == NULL || request == NULL || sink.take == NULL) return DW_ERR_ARG;
    dw_ware_query q = {.temperature_k = NULL};
    dw_ware_state *s = calloc(1, sizeof *s);
    dw_report *report = dw_report_create();
    dw_status status = s != NULL && report != NULL ? DW_OK : DW_ERR_NOMEM;
    if (status == DW_OK) status = dw_ware_query_read(engine, request, diag, &q);
    if (status == DW_OK) status = dw_glazes_read(engine, request->glaze, diag, &s->glazes);
    if (status == DW_OK) {
        status = answer_query(engine, &q, request->glaze != NULL, output, diag, s, report, sink);
    }
    dw_ware_query_free(&q);
    dw_report_destroy(report);
    free(s);
    return status;
}

dw_status dw_oxides_write(const dw_engine *engine, const dw_oxides_request *request,
                          dw_output output, dw_diag_list *diag, char **text, size_t *text_length)
{
    if (text != NULL) *text = NULL;
    if (text_length != NULL) *text_length = 0;
    if (text == NULL || text_length == NULL) return DW_ERR_ARG;
    dw_rows_text held;
    const dw_status status =
        dw_oxides_write_to(engine, request, output, diag, dw_rows_into(&held));
    return dw_rows_take(&held, status, text, text_length);
}

#include "ask.h"

#include <stdlib.h>

#include "diag.h"
#include "questions.h"
#include "report_working.h"
#include "rows.h"

/** A question on its way, with what it owns. */
typedef struct run {
    dw_asking a;
    const dw_question_kind *kind;
    dw_case *at;         /* the one row that is asked, as a case of its own */
    dw_rows rows;
} run;

static bool is_answer(dw_status status)
{
    return status == DW_OK || status == DW_ERR_NO_CONVERGE;
}

/* ---- beginning and end -------------------------------------------------------------------- */

static dw_status allocate(run *r)
{
    dw_asking *a = &r->a;
    const bool working = a->question->working != 0;
    a->report = dw_report_create();
    if (r->kind->state_size > 0) a->state = calloc(1, r->kind->state_size);
    if (working) {
        a->w = dw_working_create();
        a->steps = dw_report_create();
    }
    const bool good = a->report != NULL && (a->state != NULL || r->kind->state_size == 0) &&
                      (!working || (a->w != NULL && a->steps != NULL));
    return good ? DW_OK : DW_ERR_NOMEM;
}

/* What is varied: rows, or the one of them that is asked. A single value without a kiln is no table. */
static dw_status read_rows(run *r)
{
    dw_asking *a = &r->a;
    const dw_question *q = a->question;
    dw_status status = DW_OK;
    if (q->vary_count > 0) {
        status = dw_axes_read(a->kiln, q->vary, q->vary_count, a->diag, &a->axes);
    }
    const bool alone = a->kiln == NULL && a->axes.total == 1;
    const size_t point = q->at_point == 0 && alone ? 1 : q->at_point;
    if (status != DW_OK || a->axes.count == 0 || point == 0) return status;
    if (point > a->axes.total) {
        dw_diag_add(a->diag, DW_ERROR, "no-such-point", (dw_place){"--at-point", 0, 0},
                    "this %s has no row %zu; allowed: 1 to %zu", a->kiln != NULL ? "sweep" : "range",
                    point, a->axes.total);
        return DW_ERR_INPUT;
    }
    const dw_sweep sweep = dw_axes_sweep(&a->axes);
    dw_sweep_values(&sweep, point - 1, a->at);
    if (a->kiln != NULL) {
        status = dw_axes_case(&a->axes, a->at, a->kiln, &r->at);
        a->kiln = r->at;
    }
    dw_axes_free(&a->axes);
    a->axes.count = 0;
    return status;
}

static dw_status begin(run *r)
{
    dw_asking *a = &r->a;
    if (a->engine == NULL || a->question == NULL) return DW_ERR_ARG;
    dw_status status = dw_question_find(a->question, a->kiln, a->diag, &r->kind);
    if (status != DW_OK) return status;
    if (r->kind->kiln == DW_KILN_NONE) a->kiln = NULL;
    status = allocate(r);
    if (status == DW_OK && r->kind->read != NULL) status = r->kind->read(a);
    if (status == DW_OK) status = read_rows(r);
    if (status != DW_OK) return status;
    a->source = (dw_report_source){.version = DW_VERSION,
                                   .command = r->kind->name,
                                   .data = a->engine->data,
                                   .file = a->kiln != NULL ? &a->kiln->file : NULL,
                                   .kiln = a->kiln != NULL ? &a->kiln->resolved : NULL};
    return DW_OK;
}

static void end(run *r)
{
    dw_asking *a = &r->a;
    dw_rows_free(&r->rows);
    dw_report_destroy(a->steps);
    dw_working_destroy(a->w);
    dw_report_destroy(a->report);
    if (a->state != NULL && r->kind->release != NULL) r->kind->release(a->state);
    free(a->state);
    dw_axes_free(&a->axes);
    dw_case_destroy(r->at);
}

static dw_status need_one_point(const dw_asking *a, const char *why)
{
    if (a->axes.count == 0) return DW_OK;
    dw_diag_add(a->diag, DW_ERROR, "one-point", (dw_place){a->kiln == NULL ? "--at" : "--vary", 0, 0},
                "a range has %zu rows, and %s one of them: say which with --at-point N",
                a->axes.total, why);
    return DW_ERR_INPUT;
}

/* ---- one point ---------------------------------------------------------------------------- */

static dw_status build(run *r)
{
    const dw_status answered = r->kind->build(&r->a);
    return is_answer(answered) && dw_report_failed(r->a.report) ? DW_ERR_NOMEM : answered;
}

static dw_status write_one(run *r, dw_sink sink)
{
    dw_asking *a = &r->a;
    const dw_status answered = build(r);
    if (!is_answer(answered)) return answered;
    const dw_report *written = a->report;
    if (a->w != NULL && answered == DW_OK) {
        /* Beside the steps go the numbers as the answer shows them, where there is one. */
        const bool beside = dw_report_root_const(a->report)->first != NULL;
        dw_build_working(a->steps, &a->source, a->w, a->first_line, beside ? a->report : NULL,
                         dw_asked_units(a->output));
        written = a->steps;
    }
    const dw_status status = dw_rows_none(written, a->output, sink);
    return status != DW_OK ? status : answered;
}

/* ---- rows --------------------------------------------------------------------------------- */

static void put_point(void *user, const double *values, dw_kiln *kiln)
{
    const run *r = user;
    dw_axes_put(&r->a.axes, values, kiln);
}

static dw_status take_point(void *user, const double *values, const dw_kiln *kiln)
{
    run *r = user;
    const dw_status status = r->kind->add_row(&r->a, values, kiln);
    return is_answer(status) ? dw_rows_added(&r->rows) : status;
}

static dw_status write_rows(run *r, dw_sink sink)
{
    dw_asking *a = &r->a;
    const size_t total = a->axes.total;
    size_t done = 0;
    if (!dw_rows_fit(a->output, total, a->diag)) return DW_ERR_INPUT;
    dw_sweep sweep = dw_axes_sweep(&a->axes);
    sweep.point = take_point;
    sweep.user = r;
    sweep.progress = a->question->progress;
    sweep.progress_user = a->question->user;
    if (a->kiln != NULL) {
        sweep.kiln = &a->kiln->file.kiln;
        sweep.put = put_point;
    }
    r->kind->begin_rows(a);
    dw_status status = dw_rows_begin(&r->rows, a->report, a->table, a->output, sink);
    if (status == DW_OK) status = dw_sweep_run(&sweep, &done);
    if (status != DW_OK) return status;
    if (done < total) {
        dw_diag_add(a->diag, DW_WARNING, "stopped", (dw_place){NULL, 0, 0},
                    "stopped after %zu of %zu points", done, total);
    }
    const dw_status answered = r->kind->end_rows(a);
    status = dw_rows_end(&r->rows);
    return status != DW_OK ? status : answered;
}

/* ---- asking ------------------------------------------------------------------------------- */

static dw_status answer(run *r, dw_sink sink)
{
    dw_status status = begin(r);
    if (status == DW_OK && r->a.w != NULL) status = need_one_point(&r->a, "--working shows");
    if (status != DW_OK) return status;
    return r->a.axes.count > 0 ? write_rows(r, sink) : write_one(r, sink);
}

dw_status dw_ask(const dw_engine *engine, const dw_case *kiln, const dw_question *question,
                 dw_output output, dw_diag_list *diag, char **text, size_t *text_length)
{
    if (text != NULL) *text = NULL;
    if (text_length != NULL) *text_length = 0;
    if (question == NULL || (unsigned)output.format > DW_FORMAT_HTML) return DW_ERR_ARG;
    const bool to_sink = question->sink.take != NULL;
    if (!to_sink && (text == NULL || text_length == NULL)) return DW_ERR_ARG;
    run r = {.a = {.engine = engine, .kiln = kiln, .question = question, .output = output,
                   .diag = diag}};
    dw_rows_text held;
    const dw_status status = answer(&r, to_sink ? question->sink : dw_rows_into(&held));
    end(&r);
    return to_sink ? status : dw_rows_take(&held, status, text, text_length);
}

dw_status dw_ask_to_look(const dw_engine *engine, const dw_case *kiln, const dw_question *question,
                         dw_diag_list *diag,
                         dw_status (*look)(void *user, const dw_asking *a, dw_status answered),
                         void *user)
{
    run r = {.a = {.engine = engine, .kiln = kiln, .question = question,
                   .output = {DW_FORMAT_JSON, DW_SHOW_METRIC}, .diag = diag}};
    dw_status status = begin(&r);
    if (status == DW_OK) status = need_one_point(&r.a, "a number is of");
    if (status == DW_OK) status = build(&r);
    if (is_answer(status)) status = look(user, &r.a, status);
    end(&r);
    return status;
}

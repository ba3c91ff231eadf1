/* The question about many settings, and one of them as a case of its own. */
#include <stdlib.h>

#include "axes.h"
#include "diag.h"
#include "kiln_typed.h"
#include "rows.h"
#include "sweep.h"

typedef struct sweep_run {
    dw_axes axes;
    dw_sweep_table table;
    dw_report *report;
    dw_rows rows;
    dw_progress progress;
    void *user;
    dw_status status;        /* of the rows on their way out */
    bool stopped;
} sweep_run;

static void put_point(void *user, const double *values, dw_kiln *kiln)
{
    const sweep_run *run = user;
    for (size_t i = 0; i < run->axes.count; ++i) {
        dw_kiln_field_put(&run->axes.field[i], kiln, values[i]);
    }
}

static int take_point(void *user, size_t index, const double *values, const dw_result *result)
{
    sweep_run *run = user;
    dw_build_sweep_row(&run->table, values, result);
    run->status = dw_rows_added(&run->rows);
    if (run->status != DW_OK) return 1;
    run->stopped = run->progress != NULL && run->progress(run->user, index + 1,
                                                          run->axes.total) != 0;
    return run->stopped;
}

static dw_status run_points(sweep_run *run, const dw_engine *engine, const dw_case *kiln,
                            dw_output output, dw_diag_list *diag, dw_sink sink)
{
    const dw_report_source source = dw_facade_source(engine, kiln, "sweep");
    dw_sweep sweep = {.axis_count = run->axes.count, .put = put_point, .take = take_point,
                      .user = run};
    for (size_t i = 0; i < run->axes.count; ++i) {
        sweep.axis[i] = run->axes.value[i];
        sweep.length[i] = run->axes.length[i];
    }
    dw_build_sweep(&run->table, run->report, &source, run->axes.shown, run->axes.count);
    dw_status status = dw_rows_begin(&run->rows, run->report, run->table.table, output, sink);
    if (status == DW_OK) status = dw_sweep_run(&engine->model, &kiln->file.kiln, &sweep);
    if (status == DW_OK) status = run->status;
    if (status != DW_OK) return status;
    dw_build_sweep_end(&run->table);
    status = dw_rows_end(&run->rows);
    if (status != DW_OK) return status;
    if (run->stopped) {
        dw_diag_add(diag, DW_WARNING, "stopped", (dw_place){NULL, 0, 0},
                    "stopped after %zu of %zu points", run->table.row_count, run->axes.total);
    }
    if (run->table.hazard_count > 0) {
        dw_diag_add(diag, DW_HAZARD, "hazards-in-sweep", (dw_place){NULL, 0, 0},
                    "%zu of %zu points have a hazard; estimate at that setting says which, and "
                    "what to do", run->table.hazard_count, run->table.row_count);
    }
    if (run->table.warning_count > 0) {
        dw_diag_add(diag, DW_WARNING, "warnings-in-sweep", (dw_place){NULL, 0, 0},
                    "%zu of %zu points have a warning; estimate at that setting says which",
                    run->table.warning_count, run->table.row_count);
    }
    if (run->table.solved_count == 0) return DW_ERR_NO_CONVERGE;
    if (run->table.solved_count < run->table.row_count) {
        dw_diag_add(diag, DW_WARNING, "unsolved-in-sweep", (dw_place){NULL, 0, 0},
                    "%zu of %zu points have no solution; their rows say why",
                    run->table.row_count - run->table.solved_count, run->table.row_count);
    }
    return DW_OK;
}

dw_status dw_case_sweep_to(const dw_engine *engine, const dw_case *kiln, const dw_vary *vary,
                           size_t vary_count, dw_output output, dw_progress progress, void *user,
                           dw_diag_list *diag, dw_sink sink)
{
    if (engine == NULL || kiln == NULL || sink.take == NULL) return DW_ERR_ARG;
    sweep_run *run = calloc(1, sizeof *run);
    if (run == NULL) return DW_ERR_NOMEM;
    run->progress = progress;
    run->user = user;
    run->report = dw_report_create();
    dw_status status = run->report != NULL ? DW_OK : DW_ERR_NOMEM;
    if (status == DW_OK) status = dw_axes_read(kiln, vary, vary_count, diag, &run->axes);
    if (status == DW_OK && !dw_rows_fit(output, run->axes.total, diag)) status = DW_ERR_INPUT;
    if (status == DW_OK) status = run_points(run, engine, kiln, output, diag, sink);
    dw_rows_free(&run->rows);
    dw_report_destroy(run->report);
    dw_axes_free(&run->axes);
    free(run);
    return status;
}

dw_status dw_case_sweep(const dw_engine *engine, const dw_case *kiln, const dw_vary *vary,
                        size_t vary_count, dw_output output, dw_progress progress, void *user,
                        dw_diag_list *diag, char **text, size_t *text_length)
{
    if (!dw_facade_begin(engine, kiln, text, text_length)) return DW_ERR_ARG;
    dw_rows_text held;
    const dw_status status = dw_case_sweep_to(engine, kiln, vary, vary_count, output, progress,
                                              user, diag, dw_rows_into(&held));
    return dw_rows_take(&held, status, text, text_length);
}

dw_status dw_case_at_point(const dw_engine *engine, const dw_case *kiln, const dw_vary *vary,
                           size_t vary_count, size_t point, dw_diag_list *diag, dw_case **at)
{
    if (at == NULL) return DW_ERR_ARG;
    *at = NULL;
    if (engine == NULL || kiln == NULL) return DW_ERR_ARG;
    dw_axes axes;
    dw_status status = dw_axes_read(kiln, vary, vary_count, diag, &axes);
    if (status == DW_OK && (point < 1 || point > axes.total)) {
        dw_diag_add(diag, DW_ERROR, "no-such-point", (dw_place){"--at-point", 0, 0},
                    "this sweep has no row %zu; allowed: 1 to %zu", point, axes.total);
        status = DW_ERR_INPUT;
    }
    dw_case *copy = status == DW_OK ? malloc(sizeof *copy) : NULL;
    if (status == DW_OK && copy == NULL) status = DW_ERR_NOMEM;
    if (status == DW_OK) {
        double value[DW_AXES_MAX];
        *copy = *kiln;
        dw_axes_put(&axes, point - 1, &copy->file.kiln, value);
        for (size_t i = 0; i < axes.count; ++i)
            dw_typed_put(&copy->file, &axes.field[i]);
        copy->resolved = copy->file.kiln;
        dw_kiln_resolve(&copy->resolved);
        *at = copy;
    }
    dw_axes_free(&axes);
    return status;
}

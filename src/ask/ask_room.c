/* The question about the room. */
#include <math.h>
#include <stdlib.h>

#include "axes.h"
#include "diag.h"
#include "report_room.h"
#include "room_question.h"
#include "rows.h"
#include "show_number.h"

/* ---- one room ----------------------------------------------------------------------------- */

/* Not solved is an answer; what is no answer at all stays an error. */
static bool is_answer(dw_status status)
{
    return status == DW_OK || status == DW_ERR_NO_CONVERGE || status == DW_ERR_DOMAIN;
}

static dw_status find_course(const dw_engine *engine, const dw_case *kiln, dw_spread spread,
                             const dw_report_source *source, dw_room_course *course)
{
    bool given[DW_DOUBT_COUNT];
    dw_doubt_given(source, given);
    return dw_room_course_find(&engine->model, &kiln->file.kiln, given, spread, course);
}

dw_status dw_room_missing(dw_diag_list *diag)
{
    dw_diag_add(diag, DW_ERROR, "no-room", (dw_place){NULL, 0, 0},
                "the description has no 'room'; give at least room.volume and "
                "room.air_changes_per_hour or room.ventilation_flow");
    return DW_ERR_INPUT;
}

dw_status dw_room_answer_find(const dw_engine *engine, const dw_case *kiln,
                              const dw_report_source *source, dw_room_answer *answer)
{
    dw_room_course *course = &answer->course;
    const dw_status solved = find_course(engine, kiln, DW_SPREAD_FULL, source, course);
    if (!is_answer(solved)) return solved;
    dw_kiln *at_pressure = malloc(sizeof *at_pressure);
    if (at_pressure == NULL) return DW_ERR_NOMEM;
    *at_pressure = kiln->file.kiln;
    const double idle_pa = dw_room_idle_pressure_pa(&kiln->file.kiln);
    if (!isnan(idle_pa)) at_pressure->site.room_pressure_pa = idle_pa;
    const dw_status status =
        dw_lighting_look(&engine->model, at_pressure, &course->kiln, &answer->lighting);
    free(at_pressure);
    if (status != DW_OK) return status;
    return solved == DW_OK ? DW_OK : DW_ERR_NO_CONVERGE;
}

/* The verdict in a line. */
static void add_verdict(const dw_room_course *course, dw_diag_list *diag)
{
    if (course->verdict == DW_VERDICT_LOW) return;
    const bool danger = course->verdict == DW_VERDICT_DANGEROUS;
    const char *code = danger ? "co-dangerous" : "co-raised";
    /* Cold flames alone: the figure is low, and not all of it. */
    const dw_grade grade =
        !danger && course->lift == DW_LIFT_COLD ? DW_WARNING : DW_HAZARD;
    if (course->room.unknown != DW_CO_KNOWN) {
        dw_diag_add(diag, grade, code, (dw_place){NULL, 0, 0},
                    "how much carbon monoxide comes into the room is not known; treat it as dangerous: "
                    "people out, gas off, room doors open");
        return;
    }
    char end[DW_SHOWN_SIZE], high[DW_SHOWN_SIZE];
    const dw_number end_ppm = dw_number_plain(course->end_ppm, 3);
    const dw_number high_ppm = dw_number_plain(course->high_ppm, 3);
    dw_show_bare(&end_ppm, DW_UNITS_METRIC, end);
    dw_show_bare(&high_ppm, DW_UNITS_METRIC, high);
    const bool spread = isfinite(course->high_ppm);
    dw_diag_add(diag, grade, code, (dw_place){NULL, 0, 0},
                "%s estimate of carbon monoxide in the room: %s ppm%s%s; an estimate is not a "
                "measurement, keep a CO alarm and the ventilation on",
                dw_verdict_text(course->verdict), end, spread ? ", up to " : " or more",
                spread ? high : "");
}

dw_status dw_room_answer_findings(const dw_case *kiln, const dw_room_answer *answer,
                                  dw_status solved, dw_diag_list *diag)
{
    const dw_room_course *course = &answer->course;
    if (solved != DW_OK) {
        dw_diag_add(diag, DW_ERROR, "not-solved", (dw_place){NULL, 0, 0}, "%s",
                    course->room.reason);
        return solved;
    }
    add_verdict(course, diag);
    return dw_facade_findings(kiln, &course->kiln, diag);
}

static dw_status room_report(const dw_engine *engine, const dw_case *kiln, dw_output output,
                             dw_room_answer *answer, dw_report *report, dw_diag_list *diag,
                             char **text, size_t *text_length)
{
    const dw_report_source source = dw_facade_source(engine, kiln, "room");
    const dw_status solved = dw_room_answer_find(engine, kiln, &source, answer);
    if (!is_answer(solved)) return solved;
    dw_build_room(report, &source, &answer->course, &answer->lighting);
    const dw_status status = dw_facade_write(report, output, text, text_length);
    return status == DW_OK ? dw_room_answer_findings(kiln, answer, solved, diag) : status;
}

dw_status dw_case_room(const dw_engine *engine, const dw_case *kiln, dw_output output,
                       dw_diag_list *diag, char **text, size_t *text_length)
{
    if (!dw_facade_begin(engine, kiln, text, text_length)) return DW_ERR_ARG;
    if (!kiln->file.kiln.room.present) return dw_room_missing(diag);
    dw_room_answer *answer = calloc(1, sizeof *answer);
    dw_report *report = dw_report_create();
    dw_status status = DW_ERR_NOMEM;
    if (answer != NULL && report != NULL) {
        status = room_report(engine, kiln, output, answer, report, diag, text, text_length);
    }
    dw_report_destroy(report);
    free(answer);
    return status;
}

/* ---- rooms along a sweep ------------------------------------------------------------------- */

typedef struct room_sweep {
    dw_axes axes;
    dw_case at;              /* the point at hand */
    dw_room_course course;
    dw_room_table table;
    dw_rows rows;
} room_sweep;

static dw_status run_points(room_sweep *run, const dw_engine *engine, const dw_case *kiln,
                            const dw_report_source *source, dw_progress progress, void *user,
                            dw_diag_list *diag)
{
    const size_t total = run->axes.total;
    for (size_t n = 0; n < total; ++n) {
        double value[DW_AXES_MAX];
        run->at = *kiln;
        dw_axes_put(&run->axes, n, &run->at.file.kiln, value);
        dw_status status =
            find_course(engine, &run->at, DW_SPREAD_FOR_VERDICT, source, &run->course);
        if (!is_answer(status)) return status;
        dw_build_room_sweep_row(&run->table, value, &run->course);
        status = dw_rows_added(&run->rows);
        if (status != DW_OK) return status;
        if (progress != NULL && progress(user, n + 1, total) != 0 && n + 1 < total) {
            dw_diag_add(diag, DW_WARNING, "stopped", (dw_place){NULL, 0, 0},
                        "stopped after %zu of %zu points", n + 1, total);
            break;
        }
    }
    return DW_OK;
}

static dw_status sweep_report(room_sweep *run, const dw_engine *engine, const dw_case *kiln,
                              dw_report *report, dw_progress progress, void *user,
                              dw_diag_list *diag, dw_output output, dw_sink sink)
{
    const dw_report_source source = dw_facade_source(engine, kiln, "room");
    dw_build_room_sweep(&run->table, report, &source, run->axes.shown, run->axes.count);
    dw_status status = dw_rows_begin(&run->rows, report, run->table.table, output, sink);
    if (status == DW_OK) {
        status = run_points(run, engine, kiln, &source, progress, user, diag);
    }
    if (status != DW_OK) return status;
    dw_build_room_sweep_end(&run->table);
    status = dw_rows_end(&run->rows);
    if (status != DW_OK) return status;
    const size_t bad = run->table.verdict_count[DW_VERDICT_DANGEROUS];
    if (bad > 0) {
        dw_diag_add(diag, DW_HAZARD, "co-dangerous", (dw_place){NULL, 0, 0},
                    "%zu of %zu settings have a dangerous estimate of carbon monoxide in the "
                    "room; an estimate is not a measurement, keep a CO alarm and the ventilation on",
                    bad, run->table.row_count);
    }
    return run->table.solved_count > 0 ? DW_OK : DW_ERR_NO_CONVERGE;
}

dw_status dw_case_room_sweep_to(const dw_engine *engine, const dw_case *kiln, const dw_vary *vary,
                                size_t vary_count, dw_output output, dw_progress progress,
                                void *user, dw_diag_list *diag, dw_sink sink)
{
    if (engine == NULL || kiln == NULL || sink.take == NULL) return DW_ERR_ARG;
    if (!kiln->file.kiln.room.present) return dw_room_missing(diag);
    room_sweep *run = calloc(1, sizeof *run);
    dw_report *report = dw_report_create();
    dw_status status = run != NULL && report != NULL ? DW_OK : DW_ERR_NOMEM;
    if (status == DW_OK) status = dw_axes_read(kiln, vary, vary_count, diag, &run->axes);
    if (status == DW_OK && !dw_rows_fit(output, run->axes.total, diag)) status = DW_ERR_INPUT;
    if (status == DW_OK) {
        status = sweep_report(run, engine, kiln, report, progress, user, diag, output, sink);
    }
    if (run != NULL) dw_rows_free(&run->rows);
    dw_report_destroy(report);
    if (run != NULL) dw_axes_free(&run->axes);
    free(run);
    return status;
}

dw_status dw_case_room_sweep(const dw_engine *engine, const dw_case *kiln, const dw_vary *vary,
                             size_t vary_count, dw_output output, dw_progress progress,
                             void *user, dw_diag_list *diag, char **text, size_t *text_length)
{
    if (!dw_facade_begin(engine, kiln, text, text_length)) return DW_ERR_ARG;
    dw_rows_text held;
    const dw_status status = dw_case_room_sweep_to(engine, kiln, vary, vary_count, output,
                                                   progress, user, diag, dw_rows_into(&held));
    return dw_rows_take(&held, status, text, text_length);
}

/* The questions about the room and the people in it. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "axes.h"
#include "diag.h"
#include "facade.h"
#include "lighting.h"
#include "nearest.h"
#include "read_series.h"
#include "report_exposure.h"
#include "report_room.h"
#include "room_course.h"

static void set_nothing(char **text, size_t *text_length)
{
    if (text != NULL) *text = NULL;
    if (text_length != NULL) *text_length = 0;
}

/* ---- room --------------------------------------------------------------------------------- */

static dw_status no_room(dw_diag_list *diag)
{
    dw_diag_add(diag, DW_ERROR, "no-room", (dw_place){NULL, 0, 0},
                "the description has no 'room'; give at least room.volume and "
                "room.air_changes_per_hour or room.ventilation_flow");
    return DW_ERR_INPUT;
}

/* Not solved is an answer; what is no answer at all stays an error. */
static bool is_answer(dw_status status)
{
    return status == DW_OK || status == DW_ERR_NO_CONVERGE || status == DW_ERR_DOMAIN;
}

static void add_verdict(const dw_room_course *course, dw_diag_list *diag)
{
    if (course->verdict == DW_VERDICT_LOW) return;
    const bool danger = course->verdict == DW_VERDICT_DANGEROUS;
    dw_diag_add(diag, DW_HAZARD, danger ? "co-dangerous" : "co-raised", (dw_place){NULL, 0, 0},
                "%s estimate of carbon monoxide in the room: %.3g ppm, up to %.3g; an estimate is "
                "no measurement, CO alarm and ventilation on",
                dw_verdict_text(course->verdict), course->end_ppm, course->high_ppm);
}

static dw_status find_course(const dw_engine *engine, const dw_case *kiln, dw_spread spread,
                             const dw_report_source *source, dw_room_course *course)
{
    bool given[DW_DOUBT_COUNT];
    dw_doubt_given(source, given);
    return dw_room_course_find(&engine->model, &kiln->file.kiln, given, spread, course);
}

static dw_status room_report(const dw_engine *engine, const dw_case *kiln, dw_output output,
                             dw_room_course *course, dw_lighting *lighting, dw_report *report,
                             dw_diag_list *diag, char **text, size_t *text_length)
{
    const dw_report_source source = dw_facade_source(engine, kiln, "room");
    const dw_status solved = find_course(engine, kiln, DW_SPREAD_FULL, &source, course);
    if (!is_answer(solved)) return solved;
    dw_kiln *at_pressure = malloc(sizeof *at_pressure);
    if (at_pressure == NULL) return DW_ERR_NOMEM;
    *at_pressure = kiln->file.kiln;
    const double idle_pa = dw_room_idle_pressure_pa(&kiln->file.kiln);
    if (!isnan(idle_pa)) at_pressure->site.room_pressure_pa = idle_pa;
    dw_status status =
        dw_lighting_look(&engine->model, at_pressure, &course->kiln, lighting);
    free(at_pressure);
    if (status != DW_OK) return status;
    dw_build_room(report, &source, course, lighting);
    status = dw_facade_write(report, output, text, text_length);
    if (status != DW_OK) return status;
    if (solved != DW_OK) {
        dw_diag_add(diag, DW_ERROR, "not-solved", (dw_place){NULL, 0, 0}, "%s",
                    course->room.reason);
        return DW_ERR_NO_CONVERGE;
    }
    add_verdict(course, diag);
    return dw_facade_findings(kiln, &course->kiln, diag);
}

dw_status dw_case_room(const dw_engine *engine, const dw_case *kiln, dw_output output,
                       dw_diag_list *diag, char **text, size_t *text_length)
{
    if (!dw_facade_begin(engine, kiln, text, text_length)) return DW_ERR_ARG;
    if (!kiln->file.kiln.room.present) return no_room(diag);
    struct work {
        dw_room_course course;
        dw_lighting lighting;
    } *w = calloc(1, sizeof *w);
    dw_report *report = dw_report_create();
    dw_status status = w != NULL && report != NULL ? DW_OK : DW_ERR_NOMEM;
    if (status == DW_OK) {
        status = room_report(engine, kiln, output, &w->course, &w->lighting, report, diag, text,
                             text_length);
    }
    dw_report_destroy(report);
    free(w);
    return status;
}

/* ---- rooms along a sweep ------------------------------------------------------------------- */

typedef struct room_sweep {
    dw_axes axes;
    dw_case at;              /* the point at hand */
    dw_room_course course;
    dw_room_table table;
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
        const dw_status status =
            find_course(engine, &run->at, DW_SPREAD_FOR_VERDICT, source, &run->course);
        if (!is_answer(status)) return status;
        dw_build_room_sweep_row(&run->table, value, &run->course);
        if (dw_report_failed(run->table.report)) return DW_ERR_NOMEM;
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
                              dw_diag_list *diag, dw_output output, char **text,
                              size_t *text_length)
{
    const dw_report_source source = dw_facade_source(engine, kiln, "room");
    dw_build_room_sweep(&run->table, report, &source, run->axes.shown, run->axes.count);
    dw_status status = run_points(run, engine, kiln, &source, progress, user, diag);
    if (status != DW_OK) return status;
    dw_build_room_sweep_end(&run->table);
    status = dw_facade_write(report, output, text, text_length);
    if (status != DW_OK) return status;
    const size_t bad = run->table.verdict_count[DW_VERDICT_DANGEROUS];
    if (bad > 0) {
        dw_diag_add(diag, DW_HAZARD, "co-dangerous", (dw_place){NULL, 0, 0},
                    "%zu of %zu settings have a dangerous estimate of carbon monoxide in the "
                    "room; an estimate is no measurement, CO alarm and ventilation on",
                    bad, run->table.row_count);
    }
    return run->table.solved_count > 0 ? DW_OK : DW_ERR_NO_CONVERGE;
}

dw_status dw_case_room_sweep(const dw_engine *engine, const dw_case *kiln, const dw_vary *vary,
                             size_t vary_count, dw_output output, dw_progress progress,
                             void *user, dw_diag_list *diag, char **text, size_t *text_length)
{
    if (!dw_facade_begin(engine, kiln, text, text_length)) return DW_ERR_ARG;
    if (!kiln->file.kiln.room.present) return no_room(diag);
    room_sweep *run = calloc(1, sizeof *run);
    dw_report *report = dw_report_create();
    dw_status status = run != NULL && report != NULL ? DW_OK : DW_ERR_NOMEM;
    if (status == DW_OK) status = dw_axes_read(kiln, vary, vary_count, diag, &run->axes);
    if (status == DW_OK) {
        status = sweep_report(run, engine, kiln, report, progress, user, diag, output, text,
                              text_length);
    }
    dw_report_destroy(report);
    if (run != NULL) dw_axes_free(&run->axes);
    free(run);
    return status;
}

/* ---- exposure ------------------------------------------------------------------------------ */

enum { STEADY_STEPS = 24 };

/* A quantity of the request; false when it is wrong and that has been said. A bare number is taken in
 * the unit, when there is one. */
static bool quantity(const char *text, const char *unit, const char *name, dw_dim dim, double low,
                     double high, const char *expected, dw_diag_list *diag, double *si)
{
    char message[DW_QUANTITY_MESSAGE_SIZE];
    *si = NAN;
    if (text == NULL) return true;
    dw_status status = dw_quantity_from_text(text, strlen(text), dim, si, message);
    if (status != DW_OK && unit != NULL) {
        char with_unit[96];
        const int length = snprintf(with_unit, sizeof with_unit, "%s %s", text, unit);
        if (length > 0 && (size_t)length < sizeof with_unit) {
            char again[DW_QUANTITY_MESSAGE_SIZE];
            status = dw_quantity_from_text(with_unit, (size_t)length, dim, si, again);
        }
    }
    if (status == DW_OK && *si >= low && *si <= high) return true;
    dw_diag_add(diag, DW_ERROR, "bad-value", (dw_place){name, 0, 0}, "'%.60s' is not %s", text,
                expected);
    return false;
}

static bool word(const char *text, const char *const *words, size_t count, const char *name,
                 dw_diag_list *diag, int *index)
{
    if (text == NULL) return true;
    for (size_t i = 0; i < count; ++i) {
        if (strcmp(text, words[i]) == 0) {
            *index = (int)i;
            return true;
        }
    }
    const char *nearest = dw_nearest_word(text, words, count);
    dw_diag_add(diag, DW_ERROR, "bad-value", (dw_place){name, 0, 0}, "'%.40s' is no such word, %s%s",
                text, nearest != NULL ? "did you mean " : "expected one of those in the help",
                nearest != NULL ? nearest : "");
    return false;
}

static bool read_person(const dw_exposure_request *q, dw_diag_list *diag,
                        dw_exposure_person *person)
{
    static const char *const activities[] = {"rest", "light", "heavy", "unknown"};
    static const char *const sexes[] = {"male", "female"};
    int activity = DW_ROOM_ANY_ACTIVITY, sex = 1;
    double pressure = NAN;
    bool good = word(q->activity, activities, 4, "--activity", diag, &activity);
    good = word(q->sex, sexes, 2, "--sex", diag, &sex) && good;
    good = quantity(q->height, NULL, "--height", DW_DIM_LENGTH, 1.0, 2.2, "a height of 1 m to 2.2 m",
                    diag, &person->height_m) && good;
    good = quantity(q->mass, NULL, "--mass", DW_DIM_MASS, 30.0, 200.0, "a mass of 30 kg to 200 kg",
                    diag, &person->mass_kg) && good;
    good = quantity(q->pressure, NULL, "--pressure", DW_DIM_PRESSURE_ABS, 4.5e4, 1.15e5,
                    "an air pressure of 45 kPa to 115 kPa", diag, &pressure) && good;
    if (good && isnan(person->height_m) != isnan(person->mass_kg)) {
        dw_diag_add(diag, DW_ERROR, "bad-value", (dw_place){NULL, 0, 0},
                    "height and mass of a person belong together: give both or none");
        good = false;
    }
    person->activity = (dw_room_activity)activity;
    person->female = sex == 1;
    person->smoker = q->smoker != 0;
    person->barometric_pa_abs = pressure;
    return good;
}

/* What was breathed, into the series' steps. */
static dw_status read_air(const dw_exposure_request *q, dw_diag_list *diag, dw_series *series)
{
    if (q->series != NULL) {
        if (q->ppm != NULL || q->hours != NULL) {
            dw_diag_add(diag, DW_ERROR, "both-given", (dw_place){NULL, 0, 0},
                        "a series has its own levels and times; leave --ppm and --hours out");
            return DW_ERR_INPUT;
        }
        return dw_read_series(q->series_name != NULL ? q->series_name : "series", q->series,
                              q->series_length, diag, series);
    }
    double ppm, seconds;
    bool good = quantity(q->ppm, NULL, "--ppm", DW_DIM_NUMBER, 0.0, 1e6, "a number from 0 to 1000000",
                         diag, &ppm);
    good = quantity(q->hours, "h", "--hours", DW_DIM_TIME, 1.0, 30.0 * 86400.0,
                    "a time of 1 s to 30 days, a bare number being hours", diag, &seconds) && good;
    if (!good) return DW_ERR_INPUT;
    if (q->ppm == NULL || q->hours == NULL) {
        dw_diag_add(diag, DW_ERROR, "missing", (dw_place){NULL, 0, 0},
                    "needs --ppm and --hours, or --series FILE.csv");
        return DW_ERR_INPUT;
    }
    series->step = malloc(STEADY_STEPS * sizeof *series->step);
    if (series->step == NULL) return DW_ERR_NOMEM;
    series->step_count = STEADY_STEPS;
    for (int i = 0; i < STEADY_STEPS; ++i) {
        series->step[i] = (dw_exposure_step){seconds * (i + 1) / STEADY_STEPS, ppm, ppm};
    }
    return DW_OK;
}

static dw_status exposure_report(const dw_engine *engine, const dw_exposure_request *q,
                                 const dw_exposure_person *person, const dw_series *series,
                                 dw_exposure *x, double *cohb, dw_output output, dw_diag_list *diag,
                                 char **text, size_t *text_length)
{
    const dw_co_data *co = &engine->data.co;
    dw_status status = dw_exposure_look(co, person, series->step, series->step_count, x);
    if (status == DW_OK) {
        status = dw_exposure_course(co, person, x->activity, series->step, series->step_count,
                                    cohb);
    }
    if (status == DW_ERR_DOMAIN) {
        dw_diag_add(diag, DW_ERROR, "bad-value", (dw_place){NULL, 0, 0},
                    "the person or the air pressure is outside the equation's range");
        return DW_ERR_INPUT;
    }
    if (status != DW_OK) return status;
    /* Somebody who feels ill counts for more than a meter and an equation. */
    if (q->symptoms != 0 && x->verdict == DW_VERDICT_LOW) x->verdict = DW_VERDICT_RAISED;
    dw_report *report = dw_report_create();
    if (report == NULL) return DW_ERR_NOMEM;
    const dw_report_source source = dw_facade_source(engine, NULL, "exposure");
    const dw_exposure_source from = {.exposure = x,
                                     .person = person,
                                     .step = series->step,
                                     .step_count = series->step_count,
                                     .cohb_frac = cohb,
                                     .series = q->series != NULL ? series : NULL,
                                     .series_name = q->series_name,
                                     .symptoms = q->symptoms != 0};
    dw_build_exposure(report, &source, &from);
    status = dw_facade_write(report, output, text, text_length);
    dw_report_destroy(report);
    if (status == DW_OK && x->verdict != DW_VERDICT_LOW) {
        dw_diag_add(diag, DW_HAZARD,
                    x->verdict == DW_VERDICT_DANGEROUS ? "co-dangerous" : "co-raised",
                    (dw_place){NULL, 0, 0},
                    "%s exposure to carbon monoxide by this estimate; it is no diagnosis: fresh "
                    "air and medical help first", dw_verdict_text(x->verdict));
    }
    return status;
}

dw_status dw_exposure_write(const dw_engine *engine, const dw_exposure_request *request,
                            dw_output output, dw_diag_list *diag, char **text,
                            size_t *text_length)
{
    set_nothing(text, text_length);
    if (engine == NULL || request == NULL || text == NULL || text_length == NULL) {
        return DW_ERR_ARG;
    }
    dw_exposure_person person = {.activity = DW_ROOM_ANY_ACTIVITY};
    dw_series series = {.step = NULL};
    dw_status status =
        read_person(request, diag, &person) ? DW_OK : DW_ERR_INPUT;
    if (status == DW_OK) status = read_air(request, diag, &series);
    if (status == DW_OK) {
        dw_exposure *x = malloc(sizeof *x);
        double *cohb = malloc(series.step_count * sizeof *cohb);
        status = x != NULL && cohb != NULL
                     ? exposure_report(engine, request, &person, &series, x, cohb, output, diag,
                                       text, text_length)
                     : DW_ERR_NOMEM;
        free(cohb);
        free(x);
    }
    dw_series_free(&series);
    return status;
}

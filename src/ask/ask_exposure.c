/* The question about people without a kiln, and its working. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "diag.h"
#include "facade.h"
#include "nearest.h"
#include "read_series.h"
#include "report_exposure.h"
#include "report_working.h"
#include "working_exposure.h"

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
    dw_diag_add(diag, DW_ERROR, "bad-value", (dw_place){name, 0, 0}, "'%.40s' is not known; %s%s",
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
                    "give --ppm and --hours, or --series FILE.csv");
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

/** What is found of an exposure. */
typedef struct found {
    dw_exposure exposure;
    double *cohb;        /* owned; after each step                          */
    long *course_row;    /* owned; row of the report's course, -1: none      */
} found;

static dw_status look(const dw_engine *engine, const dw_exposure_request *q,
                      const dw_exposure_person *person, const dw_series *series, found *f,
                      dw_diag_list *diag)
{
    const dw_co_data *co = &engine->data.co;
    dw_exposure *x = &f->exposure;
    dw_status status = dw_exposure_look(co, person, series->step, series->step_count, x);
    if (status == DW_OK) {
        status = dw_exposure_course(co, person, x->activity, series->step, series->step_count,
                                    f->cohb);
    }
    if (status == DW_ERR_DOMAIN) {
        dw_diag_add(diag, DW_ERROR, "bad-value", (dw_place){NULL, 0, 0},
                    "the person or the air pressure is outside the equation's range");
        return DW_ERR_INPUT;
    }
    /* Somebody who feels ill counts for more than a meter and an equation. */
    if (q->symptoms != 0 && x->verdict == DW_VERDICT_LOW) x->verdict = DW_VERDICT_RAISED;
    return status;
}

/* What is breathed, for a first line. */
static const char *air_text(dw_report *report, const dw_exposure_request *q, const dw_exposure *x)
{
    const char *text =
        q->series != NULL
            ? dw_report_keepf(report, "%s: mean %.6g ppm over %.6g s",
                              q->series_name != NULL ? q->series_name : "series", x->mean_ppm,
                              x->duration_s)
            : dw_report_keepf(report, "%.6g ppm of carbon monoxide for %.6g s", x->mean_ppm,
                              x->duration_s);
    return text != NULL ? text : "";
}

/* The steps into the report, with the report that they are of beside them. */
static dw_status build_working(const dw_engine *engine, const dw_exposure_request *q,
                               const dw_report_source *source, const dw_exposure_source *from,
                               found *f, dw_output output, dw_report *report, dw_diag_list *diag)
{
    if (from->step_count > DW_WORKING_STRETCH_MAX) {
        dw_diag_add(diag, DW_ERROR, "too-long", (dw_place){NULL, 0, 0},
                    "a working shows every step of a series, and %zu are too many; allowed: at "
                    "most %d", from->step_count, DW_WORKING_STRETCH_MAX);
        return DW_ERR_INPUT;
    }
    int row = 1;
    long rows = 0;
    for (size_t i = 0; i < from->step_count; ++i) {
        f->course_row[i] =
            dw_exposure_ends_row(from->step, from->step_count, i, &row) ? rows++ : -1;
    }
    const dw_work_air air = {.step = from->step,
                             .count = from->step_count,
                             .steady = from->series == NULL,
                             .longest_gap_s =
                                 from->series != NULL ? from->series->longest_gap_s : NAN,
                             .course_row = f->course_row};
    dw_working *w = dw_working_create();
    dw_report *of = dw_report_create();
    dw_status status = w != NULL && of != NULL ? DW_OK : DW_ERR_NOMEM;
    if (status == DW_OK) {
        status = dw_working_exposure(&engine->data.co, from->person, from->exposure, &air, w);
    }
    if (status == DW_OK) {
        dw_build_exposure(of, source, from);
        if (dw_report_failed(of)) status = DW_ERR_NOMEM;
    }
    if (status == DW_OK) {
        if (from->symptoms) dw_build_first_aid(report);
        dw_build_working(report, source, w, air_text(report, q, from->exposure), of,
                         dw_facade_units(output));
    }
    dw_report_destroy(of);
    dw_working_destroy(w);
    return status;
}

static void add_verdict(dw_verdict verdict, dw_diag_list *diag)
{
    if (verdict == DW_VERDICT_LOW) return;
    dw_diag_add(diag, DW_HAZARD, verdict == DW_VERDICT_DANGEROUS ? "co-dangerous" : "co-raised",
                (dw_place){NULL, 0, 0},
                "the exposure to carbon monoxide is %s by this estimate; it is not a diagnosis: "
                "fresh air and medical help first", dw_verdict_text(verdict));
}

static dw_status exposure_report(const dw_engine *engine, const dw_exposure_request *q,
                                 const dw_exposure_person *person, const dw_series *series,
                                 bool working, found *f, dw_output output, dw_diag_list *diag,
                                 char **text, size_t *text_length)
{
    dw_status status = look(engine, q, person, series, f, diag);
    if (status != DW_OK) return status;
    dw_report *report = dw_report_create();
    if (report == NULL) return DW_ERR_NOMEM;
    const dw_report_source source = dw_facade_source(engine, NULL, "exposure");
    const dw_exposure_source from = {.exposure = &f->exposure,
                                     .person = person,
                                     .step = series->step,
                                     .step_count = series->step_count,
                                     .cohb_frac = f->cohb,
                                     .series = q->series != NULL ? series : NULL,
                                     .series_name = q->series_name,
                                     .symptoms = q->symptoms != 0};
    if (working) {
        status = build_working(engine, q, &source, &from, f, output, report, diag);
    } else {
        dw_build_exposure(report, &source, &from);
    }
    if (status == DW_OK) status = dw_facade_write(report, output, text, text_length);
    dw_report_destroy(report);
    if (status == DW_OK) add_verdict(f->exposure.verdict, diag);
    return status;
}

static dw_status answer(const dw_engine *engine, const dw_exposure_request *request, bool working,
                        dw_output output, dw_diag_list *diag, char **text, size_t *text_length)
{
    if (text != NULL) *text = NULL;
    if (text_length != NULL) *text_length = 0;
    if (engine == NULL || request == NULL || text == NULL || text_length == NULL) {
        return DW_ERR_ARG;
    }
    dw_exposure_person person = {.activity = DW_ROOM_ANY_ACTIVITY};
    dw_series series = {.step = NULL};
    dw_status status = read_person(request, diag, &person) ? DW_OK : DW_ERR_INPUT;
    if (status == DW_OK) status = read_air(request, diag, &series);
    if (status == DW_OK) {
        found *f = calloc(1, sizeof *f);
        double *cohb = malloc(series.step_count * sizeof *cohb);
        long *course_row = malloc(series.step_count * sizeof *course_row);
        status = DW_ERR_NOMEM;
        if (f != NULL && cohb != NULL && course_row != NULL) {
            f->cohb = cohb;
            f->course_row = course_row;
            status = exposure_report(engine, request, &person, &series, working, f, output, diag,
                                     text, text_length);
        }
        free(course_row);
        free(cohb);
        free(f);
    }
    dw_series_free(&series);
    return status;
}

dw_status dw_exposure_write(const dw_engine *engine, const dw_exposure_request *request,
                            dw_output output, dw_diag_list *diag, char **text,
                            size_t *text_length)
{
    return answer(engine, request, false, output, diag, text, text_length);
}

dw_status dw_exposure_working(const dw_engine *engine, const dw_exposure_request *request,
                              dw_output output, dw_diag_list *diag, char **text,
                              size_t *text_length)
{
    return answer(engine, request, true, output, diag, text, text_length);
}

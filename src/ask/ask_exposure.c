/* The question about people without a kiln. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "diag.h"
#include "nearest.h"
#include "questions.h"
#include "read_series.h"
#include "report_exposure.h"

enum { STEADY_STEPS = 24 };

typedef struct state {
    dw_exposure_person person;
    dw_series series;
    bool recorded, symptoms;
    const char *series_name;
    dw_exposure exposure;
    double *cohb;        /* owned; at the start and after each step          */
    long *course_row;    /* owned; row of the report's course, -1: none      */
} state;

/* ---- the person --------------------------------------------------------------------------- */

/* A quantity that was asked; false when it is wrong and that has been said. A bare number is taken in
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

/* A word of yes and no; no when it is not given. */
static bool yes(const dw_asking *a, const char *option, const char *place, bool *value)
{
    static const char *const words[] = {"no", "yes"};
    int index = 0;
    const bool good = word(dw_asked(a, option), words, 2, place, a->diag, &index);
    *value = index == 1;
    return good;
}

static bool read_person(const dw_asking *a, state *s)
{
    static const char *const activities[] = {"rest", "light", "heavy", "unknown"};
    static const char *const sexes[] = {"male", "female"};
    dw_diag_list *diag = a->diag;
    dw_exposure_person *person = &s->person;
    int activity = DW_ROOM_ANY_ACTIVITY, sex = 1;
    double pressure = NAN;
    bool good = word(dw_asked(a, "activity"), activities, 4, "--activity", diag, &activity);
    good = word(dw_asked(a, "sex"), sexes, 2, "--sex", diag, &sex) && good;
    good = yes(a, "smoker", "--smoker", &person->smoker) && good;
    good = yes(a, "symptoms", "--symptoms", &s->symptoms) && good;
    good = quantity(dw_asked(a, "height"), NULL, "--height", DW_DIM_LENGTH, 1.0, 2.2,
                    "a height of 1 m to 2.2 m", diag, &person->height_m) && good;
    good = quantity(dw_asked(a, "mass"), NULL, "--mass", DW_DIM_MASS, 30.0, 200.0,
                    "a mass of 30 kg to 200 kg", diag, &person->mass_kg) && good;
    good = quantity(dw_asked(a, "pressure"), NULL, "--pressure", DW_DIM_PRESSURE_ABS, 4.5e4, 1.15e5,
                    "an air pressure of 45 kPa to 115 kPa", diag, &pressure) && good;
    if (good && isnan(person->height_m) != isnan(person->mass_kg)) {
        dw_diag_add(diag, DW_ERROR, "bad-value", (dw_place){NULL, 0, 0},
                    "height and mass of a person belong together: give both or none");
        good = false;
    }
    person->activity = (dw_room_activity)activity;
    person->female = sex == 1;
    person->barometric_pa_abs = pressure;
    return good;
}

/* ---- the air ------------------------------------------------------------------------------ */

/* A level that stays, in steps of its time. */
static dw_status read_steady(const dw_asking *a, dw_series *series)
{
    const char *ppm_text = dw_asked(a, "ppm"), *hours_text = dw_asked(a, "hours");
    double ppm, seconds;
    bool good = quantity(ppm_text, NULL, "--ppm", DW_DIM_NUMBER, 0.0, 1e6, "a number from 0 to 1000000",
                         a->diag, &ppm);
    good = quantity(hours_text, "h", "--hours", DW_DIM_TIME, 1.0, 30.0 * 86400.0,
                    "a time of 1 s to 30 days, a bare number being hours", a->diag, &seconds) && good;
    if (!good) return DW_ERR_INPUT;
    if (ppm_text == NULL || hours_text == NULL) {
        dw_diag_add(a->diag, DW_ERROR, "missing", (dw_place){NULL, 0, 0},
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

/* What was breathed, into the series' steps. */
static dw_status read_air(const dw_asking *a, state *s)
{
    size_t length;
    const char *bytes = dw_asked_bytes(a, "series", &length);
    s->recorded = bytes != NULL;
    if (!s->recorded) return read_steady(a, &s->series);
    if (dw_asked(a, "ppm") != NULL || dw_asked(a, "hours") != NULL) {
        dw_diag_add(a->diag, DW_ERROR, "both-given", (dw_place){NULL, 0, 0},
                    "a series has its own levels and times; leave --ppm and --hours out");
        return DW_ERR_INPUT;
    }
    s->series_name = dw_asked(a, "series_name");
    return dw_read_series(s->series_name != NULL ? s->series_name : "series", bytes, length,
                          a->diag, &s->series);
}

static dw_status read(dw_asking *a)
{
    state *s = a->state;
    if (!read_person(a, s)) return DW_ERR_INPUT;
    const dw_status status = read_air(a, s);
    if (status != DW_OK) return status;
    s->cohb = malloc((s->series.step_count + 1) * sizeof *s->cohb);
    s->course_row = malloc(s->series.step_count * sizeof *s->course_row);
    return s->cohb != NULL && s->course_row != NULL ? DW_OK : DW_ERR_NOMEM;
}

static void release(void *of)
{
    state *s = of;
    free(s->course_row);
    free(s->cohb);
    dw_series_free(&s->series);
}

/* ---- the answer --------------------------------------------------------------------------- */

/* What is breathed, and by whom. */
static dw_breath breath_of(const dw_asking *a, const state *s)
{
    return (dw_breath){.co = &a->engine->data->co, .person = &s->person, .step = s->series.step,
                       .count = s->series.step_count};
}

static dw_status look(const dw_asking *a, state *s)
{
    dw_exposure *x = &s->exposure;
    const dw_breath breath = breath_of(a, s);
    const dw_status status = dw_exposure_look(&breath, s->cohb, x);
    if (status == DW_ERR_DOMAIN) {
        dw_diag_add(a->diag, DW_ERROR, "bad-value", (dw_place){NULL, 0, 0},
                    "the person or the air pressure is outside the equation's range");
        return DW_ERR_INPUT;
    }
    /* Somebody who feels ill counts for more than a meter and an equation. */
    if (s->symptoms && x->verdict == DW_VERDICT_LOW) x->verdict = DW_VERDICT_RAISED;
    return status;
}

/* What is breathed, for a first line. */
static const char *air_text(const dw_asking *a, const state *s)
{
    const dw_exposure *x = &s->exposure;
    const char *text =
        s->recorded
            ? dw_report_keepf(a->steps, "%s: mean %.6g ppm over %.6g s",
                              s->series_name != NULL ? s->series_name : "series", x->mean_ppm,
                              x->duration_s)
            : dw_report_keepf(a->steps, "%.6g ppm of carbon monoxide for %.6g s", x->mean_ppm,
                              x->duration_s);
    return text != NULL ? text : "";
}

static dw_status work_out(dw_asking *a, state *s)
{
    const dw_series *series = &s->series;
    if (series->step_count > DW_WORKING_STRETCH_MAX) {
        dw_diag_add(a->diag, DW_ERROR, "too-long", (dw_place){NULL, 0, 0},
                    "a working shows every step of a series, and %zu are too many; allowed: at "
                    "most %d", series->step_count, DW_WORKING_STRETCH_MAX);
        return DW_ERR_INPUT;
    }
    int row = 1;
    long rows = 0;
    for (size_t i = 0; i < series->step_count; ++i) {
        s->course_row[i] =
            dw_exposure_ends_row(series->step, series->step_count, i, &row) ? rows++ : DW_BREATH_NO_ROW;
    }
    if (s->symptoms) dw_build_first_aid(a->steps);
    a->first_line = air_text(a, s);
    dw_breath breath = breath_of(a, s);
    breath.w = a->w;
    breath.course_row = s->course_row;
    return dw_working_exposure(&breath, !s->recorded, s->series.longest_gap_s, &s->exposure);
}

static dw_status build(dw_asking *a)
{
    state *s = a->state;
    dw_status status = look(a, s);
    if (status == DW_OK && a->w != NULL) status = work_out(a, s);
    if (status != DW_OK) return status;
    const dw_exposure_source from = {.exposure = &s->exposure,
                                     .person = &s->person,
                                     .step = s->series.step,
                                     .step_count = s->series.step_count,
                                     .cohb_frac = s->cohb + 1,
                                     .series = s->recorded ? &s->series : NULL,
                                     .series_name = s->series_name,
                                     .symptoms = s->symptoms};
    dw_build_exposure(a->report, &a->source, &from);
    const dw_verdict verdict = s->exposure.verdict;
    if (verdict != DW_VERDICT_LOW) {
        dw_diag_add(a->diag, DW_HAZARD,
                    verdict == DW_VERDICT_DANGEROUS ? "co-dangerous" : "co-raised",
                    (dw_place){NULL, 0, 0},
                    "the exposure to carbon monoxide is %s by this estimate; it is not a diagnosis: "
                    "fresh air and medical help first", dw_verdict_text(verdict));
    }
    return DW_OK;
}

static const char *const options[] = {"ppm", "hours",    "activity", "smoker", "height",      "mass",
                                      "sex", "pressure", "symptoms", "series", "series_name", NULL};

const dw_question_kind dw_question_exposure = {.name = "exposure",
                                               .kiln = DW_KILN_NONE,
                                               .has_working = true,
                                               .options = options,
                                               .state_size = sizeof(state),
                                               .read = read,
                                               .build = build,
                                               .release = release};

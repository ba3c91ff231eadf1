#include "room_course.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "format.h"

/* Ends of the inputs that doubt.h does not know: model.md 15; natural ventilation is rarely measured
 * (assumption). */
static const struct {
    double low, high;
    const char *text;
} more[] = {
    [DW_ROOM_DOUBT_UNMIXEDNESS - DW_DOUBT_COUNT] = {0.02, 0.2, "mixing of gas and air"},
    [DW_ROOM_DOUBT_QUENCH - DW_DOUBT_COUNT] = {NAN, NAN, "temperature where the reactions stop"}, /* kiln.h */
    [DW_ROOM_DOUBT_VENTILATION - DW_DOUBT_COUNT] = {0.5, 1.5, "natural ventilation"},
};

/* A balance of CO that closes worse than this is no answer. */
static const double closure_promised = 1e-9;

const char *dw_room_doubt_text(int input)
{
    if (input < 0 || input >= DW_ROOM_DOUBT_COUNT) return "";
    return input < DW_DOUBT_COUNT ? dw_doubt_input_text((dw_doubt_input)input)
                                  : more[input - DW_DOUBT_COUNT].text;
}

typedef struct work {
    dw_kiln kiln;
    dw_result result;
    dw_room_result room;
    dw_exposure_step step[DW_COURSE_STEP_MAX];
    double cohb[DW_COURSE_STEP_MAX];
} work;

/* ---- time ---------------------------------------------------------------------------------- */

size_t dw_room_course_steps(const dw_room_air *air, double start_ppm, double duration_s,
                            dw_exposure_step *step)
{
    size_t count = (size_t)ceil(duration_s / 60.0);
    if (count < 24) count = 24;
    if (count > DW_COURSE_STEP_MAX) count = DW_COURSE_STEP_MAX;
    double from = start_ppm, from_s = 0.0;
    for (size_t i = 0; i < count; i++) {
        const double until_s = i + 1 == count ? duration_s
                                              : duration_s * (double)(i + 1) / (double)count;
        const double to = dw_room_air_ppm(air, start_ppm, until_s);
        step[i] = (dw_exposure_step){.until_s = until_s,
                                     .mean_ppm = dw_room_air_mean_ppm(air, from, until_s - from_s),
                                     .peak_ppm = fmax(from, to)};
        from = to;
        from_s = until_s;
    }
    return count;
}

size_t dw_room_course_step_of(size_t count, int row)
{
    return count * (size_t)row / (DW_COURSE_ROW_MAX - 1) - 1;
}

/* What is left of the CO that came in and that was there, when what went out by the steps' means and what is
 * there at the end are taken away: the steps are those that limits and blood are looked at with. */
static double closure_of(const dw_room_air *air, double start_ppm, const dw_exposure_step *step,
                         size_t count)
{
    double out_ppm_s = 0.0, from_s = 0.0;
    for (size_t i = 0; i < count; i++) {
        out_ppm_s += (step[i].until_s - from_s) * step[i].mean_ppm;
        from_s = step[i].until_s;
    }
    const double per_ppm = 1e-6;
    const double in = (air->source_m3_s + air->flow_m3_s * air->outside_ppm * per_ppm) * from_s;
    const double before = air->volume_m3 * per_ppm * start_ppm;
    const double after = air->volume_m3 * per_ppm * dw_room_air_ppm(air, start_ppm, from_s);
    const double all = in + before;
    return all > 0.0 ? fabs(all - air->flow_m3_s * per_ppm * out_ppm_s - after) / all : 0.0;
}

dw_exposure_person dw_room_course_person(const dw_kiln *resolved)
{
    const dw_room *r = &resolved->room;
    return (dw_exposure_person){.activity = r->activity,
                                .smoker = r->smoker,
                                .height_m = r->person_height_m,
                                .mass_kg = r->person_mass_kg,
                                .female = r->female,
                                .barometric_pa_abs = resolved->site.pressure_pa_abs};
}

static dw_status run_course(const dw_model *model, const dw_kiln *resolved, work *w,
                            dw_room_course *course)
{
    const dw_co_data *co = &model->data->co;
    const dw_room_air *air = &course->room.air;
    const double start_ppm = air->outside_ppm, duration_s = resolved->room.duration_s;
    const dw_exposure_person person = dw_room_course_person(resolved);
    const size_t count = dw_room_course_steps(air, start_ppm, duration_s, w->step);
    dw_status status = dw_exposure_look(co, &person, w->step, count, &course->exposure);
    if (status != DW_OK) return status;
    status = dw_exposure_course(co, &person, course->exposure.activity, w->step, count, w->cohb);
    if (status != DW_OK) return status;

    course->row[0] = (dw_course_row){0.0, start_ppm, course->exposure.start_frac};
    course->row_count = DW_COURSE_ROW_MAX;
    for (int i = 1; i < DW_COURSE_ROW_MAX; i++) {
        const size_t at = dw_room_course_step_of(count, i);
        course->row[i] = (dw_course_row){w->step[at].until_s,
                                         dw_room_air_ppm(air, start_ppm, w->step[at].until_s),
                                         w->cohb[at]};
    }
    course->end_ppm = dw_room_air_ppm(air, start_ppm, duration_s);
    for (size_t i = 0; i < co->limit_count; i++) {
        course->limit_level_s[i] = dw_room_air_time_to_ppm(air, start_ppm, co->limit[i].ppm);
        course->limit_flow_m3_s[i] = dw_room_air_flow_for_ppm(air, co->limit[i].ppm);
    }
    course->closure_co = closure_of(air, start_ppm, w->step, count);
    return course->closure_co <= closure_promised ? DW_OK : DW_ERR_NO_CONVERGE;
}

/* The same air and person with what likely burns at the openings burnt; no verdict is taken from it. */
static dw_status run_likely(const dw_model *model, const dw_kiln *resolved, work *w, dw_room_course *course)
{
    dw_status status =
        dw_room_likely_find(model, resolved, &course->kiln, &course->room, &course->likely);
    if (status != DW_OK) return status;
    dw_room_air air = course->room.air;
    air.source_m3_s = course->likely.co_m3_s;
    const double duration_s = resolved->room.duration_s;
    const dw_exposure_person person = dw_room_course_person(resolved);
    const size_t count = dw_room_course_steps(&air, air.outside_ppm, duration_s, w->step);
    dw_exposure likely;
    status = dw_exposure_look(&model->data->co, &person, w->step, count, &likely);
    if (status != DW_OK) return status;
    course->likely_end_ppm = dw_room_air_ppm(&air, air.outside_ppm, duration_s);
    course->likely_steady_ppm = dw_room_air_steady_ppm(&air);
    course->likely_cohb_frac = likely.peak_frac[course->exposure.activity];
    return DW_OK;
}

/* Nothing of an answer that does not add up is left, but why. */
static void refuse(dw_room_course *course)
{
    const double closes_to = course->closure_co;
    memset(course, 0, sizeof *course);
    course->verdict = DW_VERDICT_DANGEROUS;
    (void)dw_print(course->room.reason, sizeof course->room.reason,
                   "the balance of carbon monoxide in the room does not close: %.1e", closes_to);
}

/* ---- spread -------------------------------------------------------------------------------- */

/* Puts an input to an end; false when this kiln has no use for it. */
static bool put(dw_kiln *kiln, int input, bool high)
{
    if (input < DW_DOUBT_COUNT) return dw_doubt_put(kiln, (dw_doubt_input)input, high);
    const double end = high ? more[input - DW_DOUBT_COUNT].high : more[input - DW_DOUBT_COUNT].low;
    switch (input) {
    case DW_ROOM_DOUBT_UNMIXEDNESS: kiln->settings.unmixedness = end; return true;
    case DW_ROOM_DOUBT_QUENCH:
        kiln->settings.quench_temperature_k = high ? dw_quench_usual_lean.high : dw_quench_usual_lean.low;
        kiln->settings.quench_temperature_rich_k = high ? dw_quench_usual_rich.high : dw_quench_usual_rich.low;
        return true;
    case DW_ROOM_DOUBT_VENTILATION:
        kiln->room.ventilation_m3_s *= end;
        kiln->room.leak_area_m2 *= end;
        return kiln->room.ventilation_m3_s > 0.0;
    default: return false;
    }
}

static double reach(const dw_room_doubt_item *item, double ppm)
{
    const double low = isnan(item->low_ppm) ? 0.0 : fabs(item->low_ppm - ppm);
    const double high = isnan(item->high_ppm) ? 0.0 : fabs(item->high_ppm - ppm);
    return fmax(low, high);
}

static void insert(dw_room_course *c, const dw_room_doubt_item *item)
{
    int at = c->doubt_count++;
    while (at > 0 && reach(&c->doubt[at - 1], c->end_ppm) < reach(item, c->end_ppm)) {
        c->doubt[at] = c->doubt[at - 1];
        at--;
    }
    c->doubt[at] = *item;
}

/* CO of the room at the end with an input at one of its ends; NaN: not solved. */
static dw_status try_end(const dw_model *model, const dw_kiln *kiln, int input, bool high,
                         work *w, const dw_room_course *course, bool *used, double *ppm)
{
    *ppm = NAN;
    w->kiln = *kiln;
    dw_kiln_resolve(&w->kiln);
    *used = put(&w->kiln, input, high);
    if (!*used) return DW_OK;
    const dw_status status =
        dw_room_solve(model, &w->kiln, course->room.pressure_pa, &w->result, &w->room);
    if (status == DW_ERR_NOMEM || status == DW_ERR_BUG) return status;
    if (status == DW_OK && w->room.unknown == DW_CO_KNOWN) {
        *ppm = dw_room_air_ppm(&w->room.air, w->room.air.outside_ppm, w->kiln.room.duration_s);
    }
    return DW_OK;
}

static dw_status find_spread(const dw_model *model, const dw_kiln *kiln,
                             const bool given[DW_DOUBT_COUNT], work *w, dw_room_course *course)
{
    double up = 0.0, down = 0.0;
    for (int input = 0; input < DW_ROOM_DOUBT_COUNT; input++) {
        if (input < DW_DOUBT_COUNT && given[input]) continue;
        dw_room_doubt_item item = {.input = input};
        bool used = true;
        for (int side = 0; side < 2 && used; side++) {
            const dw_status status =
                try_end(model, kiln, input, side == 1, w, course, &used,
                        side == 1 ? &item.high_ppm : &item.low_ppm);
            if (status != DW_OK) return status;
        }
        if (!used) continue;
        double most = course->end_ppm, least = course->end_ppm;
        const double ends[] = {item.low_ppm, item.high_ppm};
        for (int k = 0; k < 2; k++) {
            if (isnan(ends[k])) {
                course->spread_incomplete = true;
                continue;
            }
            most = fmax(most, ends[k]);
            least = fmin(least, ends[k]);
        }
        up += (most - course->end_ppm) * (most - course->end_ppm);
        down += (course->end_ppm - least) * (course->end_ppm - least);
        insert(course, &item);
    }
    course->high_ppm = fmin(course->end_ppm + sqrt(up), course->room.richest_ppm);
    course->low_ppm = fmax(course->end_ppm - sqrt(down), course->room.air.outside_ppm);
    if (course->spread_incomplete) course->high_ppm = course->low_ppm = NAN;
    return DW_OK;
}

/* The exposure at the upper end: the source that brings the room there. */
static dw_status look_at_worst(const dw_model *model, const dw_kiln *resolved, work *w,
                               dw_room_course *course)
{
    const dw_room_air *air = &course->room.air;
    if (course->spread_incomplete) {
        course->worst = course->exposure;
        return DW_OK;
    }
    dw_room_air worst = *air;
    const double per_m3_s =
        dw_room_air_ppm(&(dw_room_air){air->volume_m3, air->flow_m3_s, 1.0, 0.0}, 0.0,
                        resolved->room.duration_s);
    worst.source_m3_s = (course->high_ppm - air->outside_ppm) / per_m3_s;
    const dw_exposure_person person = dw_room_course_person(resolved);
    const size_t count =
        dw_room_course_steps(&worst, air->outside_ppm, resolved->room.duration_s, w->step);
    return dw_exposure_look(&model->data->co, &person, w->step, count, &course->worst);
}

static void lift(dw_room_course *course, dw_verdict at_least, dw_verdict_lift why)
{
    if (course->verdict >= at_least) return;
    course->verdict = at_least;
    course->lift = why;
}

/* The CO figure holds for flames that burn and gas that goes where it should. */
static void lift_verdict(dw_room_course *course)
{
    static const struct {
        dw_finding_code code;
        dw_verdict at_least;
        dw_verdict_lift why;
    } lifts[] = {
        {DW_FIND_BURNER_PUSHED_BACK, DW_VERDICT_DANGEROUS, DW_LIFT_PUSHED_OUT},
        {DW_FIND_STACK_REVERSED, DW_VERDICT_DANGEROUS, DW_LIFT_PUSHED_OUT},
        {DW_FIND_RELIEF_SPILLS, DW_VERDICT_DANGEROUS, DW_LIFT_PUSHED_OUT},
        {DW_FIND_COLD_CHAMBER, DW_VERDICT_RAISED, DW_LIFT_COLD},
        {DW_FIND_CANDLING, DW_VERDICT_RAISED, DW_LIFT_COLD},
        {DW_FIND_UNBURNT_GAS, DW_VERDICT_RAISED, DW_LIFT_RICH},
        {DW_FIND_SOOTING, DW_VERDICT_RAISED, DW_LIFT_RICH},
        {DW_FIND_FLUE_REVERSED, DW_VERDICT_RAISED, DW_LIFT_RICH},
    };
    if (course->room.turning) lift(course, DW_VERDICT_DANGEROUS, DW_LIFT_TURNING);
    for (size_t k = 0; k < sizeof lifts / sizeof lifts[0]; k++) {
        for (int i = 0; i < course->kiln.finding_count; i++) {
            if (course->kiln.finding[i].code != lifts[k].code) continue;
            lift(course, lifts[k].at_least, lifts[k].why);
        }
    }
    if (course->spread_incomplete) lift(course, DW_VERDICT_DANGEROUS, DW_LIFT_SPREAD);
}

/* What nobody knows is no number. */
static void forget(dw_room_course *course, dw_co_unknown why)
{
    dw_room_result *room = &course->room;
    room->unknown = why;
    course->row_count = course->doubt_count = 0;
    course->has_spread = false;
    memset(&course->exposure, 0, sizeof course->exposure);
    memset(&course->worst, 0, sizeof course->worst);
    double *const gone[] = {&course->end_ppm,      &course->low_ppm,     &course->high_ppm,
                            &course->closure_co,   &room->co_m3_s,       &room->h2_m3_s,
                            &room->unburnt_m3_s,   &room->co_leaves_m3_s, &room->x_co_wet,
                            &room->steady_ppm,     &room->air.source_m3_s, &course->likely_end_ppm,
                            &course->likely_steady_ppm, &course->likely_cohb_frac,
                            &course->likely.co_m3_s, &course->likely.burnt_frac};
    for (size_t i = 0; i < sizeof gone / sizeof gone[0]; i++) *gone[i] = NAN;
    for (int i = 0; i < room->place_count; i++) {
        dw_room_place *place = &room->place[i];
        place->co_m3_s = place->h2_m3_s = place->unburnt_m3_s = course->likely.place[i].burnt_frac = NAN;
    }
    for (int i = 0; i < DW_CO_LIMIT_MAX; i++) {
        course->limit_level_s[i] = course->limit_flow_m3_s[i] = NAN;
    }
}

dw_status dw_room_course_find(const dw_model *model, const dw_kiln *kiln,
                              const bool given[DW_DOUBT_COUNT], dw_spread spread,
                              dw_room_course *course)
{
    if (course == NULL) return DW_ERR_ARG;
    memset(course, 0, sizeof *course);
    course->verdict = DW_VERDICT_DANGEROUS;
    if (model == NULL || kiln == NULL || given == NULL) return DW_ERR_ARG;
    dw_status status = dw_room_solve(model, kiln, NAN, &course->kiln, &course->room);
    if (status != DW_OK) return status;
    if (course->room.unknown != DW_CO_KNOWN) {
        forget(course, course->room.unknown);
        course->verdict = DW_VERDICT_LOW;
        lift_verdict(course);
        return DW_OK;
    }
    work *w = malloc(sizeof *w);
    dw_kiln *resolved = malloc(sizeof *resolved);
    status = w != NULL && resolved != NULL ? DW_OK : DW_ERR_NOMEM;
    if (status == DW_OK) {
        *resolved = *kiln;
        dw_kiln_resolve(resolved);
        status = run_course(model, resolved, w, course);
        if (status == DW_ERR_NO_CONVERGE) refuse(course);
        if (status == DW_OK) status = run_likely(model, resolved, w, course);
        course->low_ppm = course->high_ppm = course->end_ppm;
    }
    if (status == DW_OK && (spread == DW_SPREAD_FULL ||
                            course->exposure.verdict != DW_VERDICT_DANGEROUS)) {
        status = find_spread(model, kiln, given, w, course);
        course->has_spread = !course->spread_incomplete;
    }
    if (status == DW_OK) status = look_at_worst(model, resolved, w, course);
    if (status == DW_OK) {
        course->verdict = course->worst.verdict;
        lift_verdict(course);
        /* A figure that is dangerous by itself stays; one that is not says nothing beside such an end. */
        if (course->spread_incomplete && course->exposure.verdict != DW_VERDICT_DANGEROUS) {
            forget(course, DW_CO_END_UNKNOWN);
        }
    }
    free(resolved);
    free(w);
    return status;
}

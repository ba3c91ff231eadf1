/* A kiln in its room over time, and the verdict; with a working the same as steps. */
#include "room_course.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "format.h"
#include "room_spread.h"

/* A balance of CO that closes worse than this is no answer. */
static const double closure_promised = 1e-9;

/* ---- time ---------------------------------------------------------------------------------- */

/* The step that a row of the course ends with; row 0 is the beginning and has none. */
static size_t step_of(size_t count, int row)
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

static dw_exposure_person person_of(const dw_kiln *resolved)
{
    const dw_room *r = &resolved->room;
    return (dw_exposure_person){.activity = r->activity,
                                .smoker = r->smoker,
                                .height_m = r->person_height_m,
                                .mass_kg = r->person_mass_kg,
                                .female = r->female,
                                .barometric_pa_abs = resolved->site.pressure_pa_abs};
}

/* The level at the beginning, at the end, and what it settles at. */
static void find_levels(const dw_course_work *k)
{
    dw_working *w = k->w;
    dw_room_course *c = k->course;
    const dw_room_air *air = &c->room.air;
    dw_work_section(w, "Carbon monoxide in the air of the room");
    dw_work_text(w, "The room is taken as well mixed. What comes in with the kiln's gas and the "
                    "outside air, less what goes out, builds up: V*dC/dt = 1000000*G + Q*(C_out - "
                    "C), with C in ppm. The room starts with outside air.");
    const double start_ppm = dw_law_given(w, DW_WORK_INPUT, "C_out", "carbon monoxide in the outside air",
                                          "ppm", air->outside_ppm);
    const double duration_s = dw_law_given(w, DW_WORK_INPUT, "T_all", "how long the kiln runs like this", "s",
                                           k->resolved->room.duration_s);
    c->row[0] = (dw_course_row){0.0, start_ppm, NAN};
    dw_work_step_is(w, "course.0.co_ppm", "C_begin", "at the beginning", "ppm", "C_out", start_ppm,
                    "assumption");
    dw_law_write(w, "room.co_steady_ppm", NULL, NULL, dw_room_air_law(DW_ROOM_AIR_STEADY, air, duration_s),
                 c->room.steady_ppm);
    c->end_ppm = dw_law_step(w, "room.co_end_ppm", "C>C_end t>T_all", "at the end",
                             dw_room_air_law(DW_ROOM_AIR_LEVEL, air, duration_s),
                             dw_room_air_ppm(air, start_ppm, duration_s));
}

/* The table of stretches: levels at both ends, mean, dose. */
static void put_stretches(const dw_course_work *k)
{
    dw_working *w = k->w;
    const dw_breath *b = &k->breath;
    const dw_room_air *air = &k->course->room.air;
    const dw_law *level = dw_room_air_law(DW_ROOM_AIR_LEVEL, air, 0.0);
    dw_breath_stretches(b, "The air, stretch by stretch");
    dw_breath_times(b, true);
    dw_law_column(w, "", "C>C_0 t>t_0", "carbon monoxide at the beginning of the stretch", level, NULL);
    for (size_t i = 0; i < b->count; i++) {
        b->scratch[i] = dw_room_air_ppm(air, air->outside_ppm, b->step[i].until_s);
    }
    dw_law_column(w, "course.*.co_ppm", "C>C_1 t>t_1", "at the end", level, b->scratch);
    for (size_t i = 0; i < b->count; i++) b->scratch[i] = b->step[i].mean_ppm;
    dw_law_column(w, "", NULL, NULL,
                  dw_room_air_law(DW_ROOM_AIR_MEAN, air, k->resolved->room.duration_s / (double)b->count),
                  b->scratch);
    dw_work_column_is(w, "", "P", "the highest of it", "ppm", "max(C_0, C_1)", NULL, "definition");
    dw_breath_doses(b);
    dw_breath_peak(b, "", k->course->exposure.peak_ppm);
    dw_work_balance(w, "room.closure_co", NULL,
                    "what came in and was there has gone out or is still in the room, in m3",
                    "(G + Q*C_out/1000000)*T_all + V*C_out/1000000 = "
                    "Q*sum(C_m*(t_1 - t_0))/1000000 + V*C_end/1000000",
                    "room-balance");
}

/* A number of every limit: those that are 0 in one step, the others that are finite in a table, by a law. */
static void put_of_limits(const dw_course_work *k, const double *value, const char *field, const char *title,
                          const dw_law *law, const char *symbol_of_none, const char *meaning_of_none)
{
    dw_working *w = k->w;
    bool none[DW_CO_LIMIT_MAX] = {false};
    double ppm[DW_CO_LIMIT_MAX], shown[DW_CO_LIMIT_MAX];
    size_t index[DW_CO_LIMIT_MAX], rows = 0;
    for (size_t i = 0; i < k->breath.co->limit_count; i++) {
        none[i] = value[i] == 0.0;
        if (none[i] || !isfinite(value[i])) continue;
        index[rows] = i;
        ppm[rows] = k->breath.co->limit[i].ppm;
        shown[rows++] = value[i];
    }
    const char *keys = dw_breath_keys(w, "limits", field, none, k->breath.co->limit_count);
    if (keys[0] != '\0') {
        dw_work_step_is(w, keys, symbol_of_none, meaning_of_none, law->unit, "0", 0.0, "definition");
    }
    if (rows == 0) return;
    dw_breath_limit_table(&k->breath, title, index, rows);
    dw_work_column(w, DW_WORK_DATA, "L", "level of the limit", "ppm", ppm);
    dw_law_column(w, dw_work_keepf(w, "limits.*.%s", field), NULL, NULL, law, shown);
}

/* When the air reaches the level of each limit, and the ventilation that keeps it below. */
static void find_limits(const dw_course_work *k)
{
    dw_room_course *c = k->course;
    const dw_room_air *air = &c->room.air;
    for (size_t i = 0; i < k->breath.co->limit_count; i++) {
        c->limit_level_s[i] = dw_room_air_time_to_ppm(air, air->outside_ppm, k->breath.co->limit[i].ppm);
        c->limit_flow_m3_s[i] = dw_room_air_flow_for_ppm(air, k->breath.co->limit[i].ppm);
    }
    if (k->w == NULL) return;
    put_of_limits(k, c->limit_level_s, "air_reaches_it_s", "When the air reaches the level of a limit",
                  dw_room_air_law(DW_ROOM_AIR_TIME, air, k->resolved->room.duration_s), "t_now",
                  "limits at or below C_out are reached at once");
    put_of_limits(k, c->limit_flow_m3_s, "ventilation_needed_m3_s", "Ventilation that keeps within a limit",
                  dw_room_air_law(DW_ROOM_AIR_FLOW, air, 0.0), "Q_0",
                  "no carbon monoxide comes into the room, so no ventilation is needed");
}

/* The air, limits and the blood over the time. */
static dw_status run_course(dw_course_work *k)
{
    dw_room_course *c = k->course;
    const dw_room_air *air = &c->room.air;
    const double start_ppm = air->outside_ppm;
    find_levels(k);
    k->breath.count = dw_room_course_steps(air, start_ppm, k->resolved->room.duration_s, k->step);
    const size_t count = k->breath.count;
    for (size_t i = 0; i < count; i++) k->course_row[i] = DW_BREATH_NO_ROW;
    for (int i = 1; i < DW_COURSE_ROW_MAX; i++) k->course_row[step_of(count, i)] = i;
    if (k->w != NULL) {
        const dw_status status = dw_breath_begin(&k->breath);
        if (status != DW_OK) return status;
        put_stretches(k);
    }
    find_limits(k);
    const dw_status status = dw_exposure_look(&k->breath, k->cohb, &c->exposure);
    dw_breath_end(&k->breath);
    if (status != DW_OK) return status;
    c->row_count = DW_COURSE_ROW_MAX;
    c->row[0].cohb_frac = c->exposure.start_frac;
    for (int i = 1; i < DW_COURSE_ROW_MAX; i++) {
        const size_t at = step_of(count, i);
        c->row[i] = (dw_course_row){k->step[at].until_s, dw_room_air_ppm(air, start_ppm, k->step[at].until_s),
                                    k->cohb[at + 1]};
    }
    c->closure_co = closure_of(air, start_ppm, k->step, count);
    return c->closure_co <= closure_promised ? DW_OK : DW_ERR_NO_CONVERGE;
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

/* ---- verdict ------------------------------------------------------------------------------- */

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
                            &room->steady_ppm,     &room->air.source_m3_s};
    for (size_t i = 0; i < sizeof gone / sizeof gone[0]; i++) *gone[i] = NAN;
    for (int i = 0; i < room->place_count; i++) {
        dw_room_place *place = &room->place[i];
        place->co_m3_s = place->h2_m3_s = place->unburnt_m3_s = NAN;
    }
    for (int i = 0; i < DW_CO_LIMIT_MAX; i++) {
        course->limit_level_s[i] = course->limit_flow_m3_s[i] = NAN;
    }
}

/* Work space; NULL without memory. */
static dw_course_work *begin(const dw_co_data *co, const dw_kiln *resolved, dw_room_course *course, dw_working *w)
{
    dw_course_work *k = malloc(sizeof *k);
    if (k == NULL) return NULL;
    k->w = w;
    k->resolved = resolved;
    k->course = course;
    k->person = person_of(resolved);
    k->breath = (dw_breath){.co = co, .person = &k->person, .step = k->step, .w = w,
                            .course_row = k->course_row, .from_start = true};
    return k;
}

static dw_status find_known(const dw_model *model, const dw_kiln *kiln, const dw_kiln *resolved,
                            const bool given[DW_DOUBT_COUNT], dw_spread spread, dw_room_course *course)
{
    dw_course_work *k = begin(&model->data->co, resolved, course, NULL);
    if (k == NULL) return DW_ERR_NOMEM;
    dw_status status = run_course(k);
    if (status == DW_ERR_NO_CONVERGE) refuse(course);
    course->low_ppm = course->high_ppm = course->end_ppm;
    if (status == DW_OK && (spread == DW_SPREAD_FULL ||
                            course->exposure.verdict != DW_VERDICT_DANGEROUS)) {
        status = dw_room_spread_find(k, model, kiln, given);
        dw_room_spread_sum(k);
        course->has_spread = !course->spread_incomplete;
    }
    if (status == DW_OK) status = dw_room_spread_worst(k);
    free(k);
    if (status != DW_OK) return status;
    course->verdict = course->worst.verdict;
    lift_verdict(course);
    /* A figure that is dangerous by itself stays; one that is not says nothing beside such an end. */
    if (course->spread_incomplete && course->exposure.verdict != DW_VERDICT_DANGEROUS) {
        forget(course, DW_CO_END_UNKNOWN);
    }
    return DW_OK;
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
    dw_kiln *resolved = malloc(sizeof *resolved);
    if (resolved == NULL) return DW_ERR_NOMEM;
    *resolved = *kiln;
    dw_kiln_resolve(resolved);
    status = find_known(model, kiln, resolved, given, spread, course);
    free(resolved);
    return status;
}

dw_status dw_working_room_course(const dw_co_data *co, const dw_kiln *resolved,
                                 const dw_room_course *course, dw_working *w)
{
    dw_room_course *again = malloc(sizeof *again);
    dw_course_work *k = again != NULL ? begin(co, resolved, again, w) : NULL;
    dw_status status = k != NULL ? DW_OK : DW_ERR_NOMEM;
    if (status == DW_OK) {
        *again = *course;
        status = run_course(k);
    }
    if (status == DW_OK) {
        dw_room_spread_sum(k);
        status = dw_room_spread_worst(k);
    }
    free(k);
    free(again);
    return status == DW_OK ? dw_working_status(w) : status;
}

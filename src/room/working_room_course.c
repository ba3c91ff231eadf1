#include "working_room_course.h"

#include <math.h>
#include <stdlib.h>

#include "working_breath.h"

/* Below so many changes of air in a step its mean is that of its ends and a term for the bend: what is left
 * out is a 720th of the cube, and the exact formula would lose its digits. */
static const double still_changes = 2.5e-3;

/* Below so many in all a room is nearly closed. */
static const double closed_changes = 1e-4;

/** A room on its way into a working. All borrowed. */
typedef struct maker {
    dw_working *w;
    const dw_co_data *co;
    const dw_room_course *c;
    double duration_s;
    dw_work_breath breath;
} maker;

/* The level after a time, as a formula; closed rooms only gather. */
static const char *level(const maker *m, const char *source, const char *time)
{
    return m->c->room.air.flow_m3_s > 0.0
               ? dw_work_keepf(m->w, "C_out + 1000000*%s/Q*(1 - exp(-Q*%s/V))", source, time)
               : dw_work_keepf(m->w, "C_out + 1000000*%s*%s/V", source, time);
}

static void put_levels(const maker *m)
{
    dw_working *w = m->w;
    const dw_room_air *air = &m->c->room.air;
    dw_work_section(w, "Carbon monoxide in the air of the room");
    dw_work_text(w, "The room is taken as well mixed. What comes in with the kiln's gas and the "
                    "outside air, less what goes out, builds up: V*dC/dt = 1000000*G + Q*(C_out - "
                    "C), with C in ppm. The room starts with outside air.");
    dw_work_put(w, DW_WORK_INPUT, "C_out", "carbon monoxide in the outside air", "ppm",
                air->outside_ppm);
    dw_work_put(w, DW_WORK_INPUT, "T_all", "how long the kiln runs like this", "s", m->duration_s);
    dw_work_step_is(w, "course.0.co_ppm", "C_begin", "at the beginning", "ppm", "C_out",
                    m->c->row[0].ppm, "assumption");
    dw_work_step_is(w, "room.co_steady_ppm", "C_s", "what it settles at", "ppm",
                    air->source_m3_s > 0.0 ? "C_out + 1000000*G/Q" : "C_out",
                    m->c->room.steady_ppm, "room-balance");
    dw_work_step_is(w, "room.co_end_ppm", "C_end", "at the end", "ppm", level(m, "G", "T_all"),
                    m->c->end_ppm, "room-balance");
    dw_work_step_is(w, "room.likely_co_steady_ppm", "C_ls", "what it likely settles at", "ppm",
                    m->c->likely.co_m3_s > 0.0 ? "C_out + 1000000*G_likely/Q" : "C_out",
                    m->c->likely_steady_ppm, "room-balance");
    dw_work_step_is(w, "room.likely_co_end_ppm", "C_likely", "likely at the end", "ppm",
                    level(m, "G_likely", "T_all"), m->c->likely_end_ppm, "room-balance");
}

/* The table of stretches: levels at both ends, mean, dose. */
static void put_stretches(const maker *m)
{
    dw_working *w = m->w;
    const dw_work_breath *b = &m->breath;
    const dw_room_air *air = &m->c->room.air;
    dw_work_stretches(b, "The air, stretch by stretch");
    dw_work_times(b, true);
    dw_work_column_is(w, "", "C_0", "carbon monoxide at the beginning of the stretch", "ppm",
                      level(m, "G", "t_0"),
                      NULL, "room-balance");
    for (size_t i = 0; i < b->count; i++) {
        b->scratch[i] = dw_room_air_ppm(air, air->outside_ppm, b->step[i].until_s);
    }
    dw_work_column_is(w, "course.*.co_ppm", "C_1", "at the end", "ppm", level(m, "G", "t_1"),
                      b->scratch, "room-balance");
    const bool still =
        !(air->flow_m3_s * m->duration_s / (double)b->count > still_changes * air->volume_m3);
    const char *mean = still ? "(C_0 + C_1)/2 + Q*(t_1 - t_0)/V*(C_1 - C_0)/12"
                       : air->source_m3_s > 0.0
                           ? "C_out + 1000000*G/Q - (C_1 - C_0)*V/(Q*(t_1 - t_0))"
                           : "C_out";
    for (size_t i = 0; i < b->count; i++) b->scratch[i] = b->step[i].mean_ppm;
    dw_work_column_is(w, "", "C_m",
                      still ? "mean of the stretch: the mean of its ends, and what the curve adds"
                            : "mean of the stretch: (what came in less what is stored) / what goes out",
                      "ppm", mean, b->scratch, "room-balance");
    dw_work_column_is(w, "", "P", "the highest of it", "ppm", "max(C_0, C_1)", NULL, "definition");
    dw_work_doses(b);
    bool ceiling[DW_CO_LIMIT_MAX] = {false};
    for (size_t i = 0; i < m->co->limit_count; i++) ceiling[i] = m->co->limit[i].over_s <= 0.0;
    dw_work_step_is(w, dw_work_keys_of(w, "limits", "mean_ppm", ceiling, m->co->limit_count),
                    "C_peak", "highest level in the whole time", "ppm", "largest(P)",
                    m->c->exposure.peak_ppm, "definition");
    dw_work_balance(w, "room.closure_co", NULL,
                    "what came in and was there has gone out or is still in the room, in m3",
                    "(G + Q*C_out/1000000)*T_all + V*C_out/1000000 = "
                    "Q*sum(C_m*(t_1 - t_0))/1000000 + V*C_end/1000000",
                    "room-balance");
}

/* ---- limits of the room ------------------------------------------------------------------- */

static void put_level_times(const maker *m)
{
    dw_working *w = m->w;
    const dw_room_course *c = m->c;
    bool at_once[DW_CO_LIMIT_MAX] = {false};
    double ppm[DW_CO_LIMIT_MAX], time[DW_CO_LIMIT_MAX];
    size_t index[DW_CO_LIMIT_MAX], rows = 0;
    for (size_t i = 0; i < m->co->limit_count; i++) {
        at_once[i] = c->limit_level_s[i] == 0.0;
        if (at_once[i] || !isfinite(c->limit_level_s[i])) continue;
        index[rows] = i;
        ppm[rows] = m->co->limit[i].ppm;
        time[rows++] = c->limit_level_s[i];
    }
    const char *now =
        dw_work_keys_of(w, "limits", "air_reaches_it_s", at_once, m->co->limit_count);
    if (now[0] != '\0') {
        dw_work_step_is(w, now, "t_now", "limits at or below C_out are reached at once", "s", "0",
                        0.0, "definition");
    }
    if (rows == 0) return;
    dw_work_table_begin(w, "When the air reaches the level of a limit", "limit", rows);
    for (size_t i = 0; i < rows; i++) {
        const dw_co_limit *l = &m->co->limit[index[i]];
        dw_work_row(w, i, "%zu %.10s %.14s", index[i] + 1, l->body, l->name);
        dw_work_row_key(w, i, "%zu", index[i]);
    }
    dw_work_column(w, DW_WORK_DATA, "L", "level of the limit", "ppm", ppm);
    /* Nearly closed the logarithm of hardly more than 1 would lose its digits: there the air goes out at
     * the mean of both levels. */
    const dw_room_air *air = &c->room.air;
    const bool still = !(air->flow_m3_s * m->duration_s > closed_changes * air->volume_m3);
    const char *formula = !(air->flow_m3_s > 0.0) ? "(L - C_out)*V/(1000000*G)"
                          : still ? "V*(L - C_out)/(1000000*G - Q*(L - C_out)/2)"
                                  : "V/Q*ln(1 + (L - C_out)/(C_s - L))";
    dw_work_column_is(w, "limits.*.air_reaches_it_s", "t_L", "when the air reaches it", "s",
                      formula,
                      time, "room-balance");
}

static void put_flows_needed(const maker *m)
{
    dw_working *w = m->w;
    const dw_room_course *c = m->c;
    bool none[DW_CO_LIMIT_MAX] = {false};
    double ppm[DW_CO_LIMIT_MAX], flow[DW_CO_LIMIT_MAX];
    size_t index[DW_CO_LIMIT_MAX], rows = 0;
    for (size_t i = 0; i < m->co->limit_count; i++) {
        none[i] = c->limit_flow_m3_s[i] == 0.0;
        if (none[i] || !isfinite(c->limit_flow_m3_s[i])) continue;
        index[rows] = i;
        ppm[rows] = m->co->limit[i].ppm;
        flow[rows++] = c->limit_flow_m3_s[i];
    }
    const char *keys =
        dw_work_keys_of(w, "limits", "ventilation_needed_m3_s", none, m->co->limit_count);
    if (keys[0] != '\0') {
        dw_work_step_is(w, keys, "Q_0", "no carbon monoxide comes into the room, so no "
                                        "ventilation is needed",
                        "m3/s", "0", 0.0, "definition");
    }
    if (rows == 0) return;
    dw_work_table_begin(w, "Ventilation that keeps within a limit", "limit", rows);
    for (size_t i = 0; i < rows; i++) {
        const dw_co_limit *l = &m->co->limit[index[i]];
        dw_work_row(w, i, "%zu %.10s %.14s", index[i] + 1, l->body, l->name);
        dw_work_row_key(w, i, "%zu", index[i]);
    }
    dw_work_column(w, DW_WORK_DATA, "L", "level of the limit", "ppm", ppm);
    dw_work_column_is(w, "limits.*.ventilation_needed_m3_s", "Q_L",
                      "ventilation at which the air settles at the limit", "m3/s",
                      "1000000*G/(L - C_out)", flow, "room-balance");
}

/* ---- spread ------------------------------------------------------------------------------- */

static void put_spread(const maker *m)
{
    dw_working *w = m->w;
    const dw_room_course *c = m->c;
    dw_work_section(w, "How sure the carbon monoxide is");
    if (c->spread_incomplete) {
        dw_work_text(w, "Each input that was not given is set to both ends of its usual range, one input at "
                        "a time, and kiln and room are worked out again. At one of these ends there is no "
                        "solution, or nobody knows the carbon monoxide: how far up the figure may go is "
                        "not known.");
        return;
    }
    if (c->doubt_count > 0) {
        double low[DW_ROOM_DOUBT_COUNT], high[DW_ROOM_DOUBT_COUNT];
        dw_work_text(w, "Each input that was not given is set to both ends of its usual range, one input at "
                        "a time, and kiln and room are worked out again.");
        dw_work_table_begin(w, "Carbon monoxide at the ends", "input", (size_t)c->doubt_count);
        for (int i = 0; i < c->doubt_count; i++) {
            const dw_room_doubt_item *item = &c->doubt[i];
            dw_work_row(w, (size_t)i, "%s", dw_room_doubt_text(item->input));
            low[i] = item->low_ppm;
            high[i] = item->high_ppm;
        }
        dw_work_column(w, DW_WORK_SOLVED, "C_l", "ppm at the end, with the input at its lower end",
                       "ppm", low);
        dw_work_column(w, DW_WORK_SOLVED, "C_h", "ppm at the end, with the input at its upper end",
                       "ppm", high);
    }
    const bool richest = c->high_ppm == c->room.richest_ppm;
    if (richest) {
        dw_work_put(w, DW_WORK_SOLVED, "C_rich",
                    "outside air and gas of this fuel, all its carbon burnt to CO: no room holds more",
                    "ppm", c->room.richest_ppm);
    }
    dw_work_step_is(w, "room.co_end_high_ppm", "C_hi", "all together, up to", "ppm",
                    c->doubt_count == 0 ? "C_end"
                    : richest ? "min(C_end + sqrt(sum((max(C_end, max(C_l, C_h)) - C_end)^2)), C_rich)"
                              : "C_end + sqrt(sum((max(C_end, max(C_l, C_h)) - C_end)^2))",
                    c->high_ppm, "assumption");
    dw_work_step_is(w, "room.co_end_low_ppm", "C_lo", "all inputs together: lower end, at least "
                                                      "that of the outside air", "ppm",
                    c->doubt_count > 0
                        ? "max(C_end - sqrt(sum((C_end - min(C_end, min(C_l, C_h)))^2)), C_out)"
                        : "max(C_end, C_out)",
                    c->low_ppm, "assumption");
}

/* Mean over a part of the time at the upper end, as a formula of the levels at its ends. */
static const char *part_mean(const maker *m, const char *from, const char *to, double part_s)
{
    const dw_room_air *air = &m->c->room.air;
    return air->flow_m3_s * part_s > still_changes * air->volume_m3
               ? dw_work_keepf(m->w, "C_out + 1000000*G_w/Q - (C_%s - C_%s)*V/(Q*(t_%s - t_%s))",
                               to,
                               from, to, from)
               : dw_work_keepf(m->w, "(C_%s + C_%s)/2 + Q*(t_%s - t_%s)/V*(C_%s - C_%s)/12", from,
                               to,
                               to, from, to, from);
}

/* The limit of the first screen: its highest mean with the source that gives the upper end. */
static void put_upper_end(const maker *m)
{
    dw_working *w = m->w;
    const dw_room_course *c = m->c;
    const dw_room_air *air = &c->room.air;
    const int index = c->worst.decided_by >= 0 ? c->worst.decided_by : c->worst.nearest;
    /* Without an upper end the screen has the mean of the estimate, which has its steps. */
    if (index < 0 || c->spread_incomplete) return;
    const dw_co_limit *limit = &m->co->limit[index];
    dw_work_section(w, "The limit on the first screen, at the upper end");
    dw_work_step_is(w, "", "G_w", "flow of carbon monoxide that brings the room to C_hi", "m3/s",
                    air->flow_m3_s > 0.0 ? "(C_hi - C_out)/(1000000/Q*(1 - exp(-Q*T_all/V)))"
                                         : "(C_hi - C_out)*V/(1000000*T_all)",
                    NAN, "room-balance");
    const double mean = c->worst.limit[index].mean_ppm;
    const char *name = dw_work_keepf(w, "%s %s: highest mean", limit->body, limit->name);
    if (limit->over_s <= 0.0) {
        dw_work_step_is(w, "", "C_here", name, "ppm", level(m, "G_w", "T_all"), mean,
                        "room-balance");
        return;
    }
    /* It rises,
    so that the last stretch of time is the worst; the step that holds the beginning counts
     * with its mean, as in the table. */
    const double window_s = fmin(limit->over_s, m->duration_s);
    const double from_s = m->duration_s - window_s;
    size_t k = 0;
    while (k + 1 < m->breath.count && m->breath.step[k].until_s <= from_s) k++;
    const double step_s = dw_work_from_s(&m->breath, k), until_s = m->breath.step[k].until_s;
    dw_work_put(w, DW_WORK_DATA, "over", "averaging time of the limit", "s", limit->over_s);
    dw_work_step_is(w, "", "W", "length of the window, which is the last part of the time, the "
                                "worst", "s",
                    "min(over, T_all)", NAN, "definition");
    dw_work_step_is(w, "", "t_w", "its beginning", "s", "T_all - W", NAN, "definition");
    dw_work_put(w, DW_WORK_STEP, "t_i", "beginning of the stretch in which the window begins", "s",
                step_s);
    dw_work_put(w, DW_WORK_STEP, "t_j", "end of that stretch", "s", until_s);
    dw_work_put(w, DW_WORK_INPUT, "t_e", "the end", "s", m->duration_s);
    static const char *const ends[] = {"i", "j", "e"};
    for (int i = 0; i < 3; i++) {
        dw_work_step_is(w, "", dw_work_keepf(w, "C_%s", ends[i]),
                        dw_work_keepf(w, "level at t_%s", ends[i]), "ppm",
                        level(m, "G_w", dw_work_keepf(w, "t_%s", ends[i])), NAN, "room-balance");
    }
    dw_work_step_is(w, "", "M_1", "mean of that stretch", "ppm",
                    part_mean(m, "i", "j", until_s - step_s), NAN, "room-balance");
    const bool more = until_s < m->duration_s;
    if (more) {
        dw_work_step_is(w, "", "M_2", "mean of the time after that stretch", "ppm",
                        part_mean(m, "j", "e", m->duration_s - until_s), NAN, "room-balance");
    }
    dw_work_step_is(w, "", "C_here", name, "ppm",
                    more ? "((t_j - t_w)*M_1 + (t_e - t_j)*M_2)/W" : "M_1", mean, "definition");
}

/* ---- all ---------------------------------------------------------------------------------- */

static dw_status put_all(maker *m)
{
    put_levels(m);
    put_stretches(m);
    put_level_times(m);
    put_flows_needed(m);
    dw_status status = dw_work_limits(&m->breath);
    if (status == DW_OK) status = dw_work_blood(&m->breath);
    if (status != DW_OK) return status;
    put_spread(m);
    put_upper_end(m);
    return dw_working_status(m->w);
}

dw_status dw_working_room_course(const dw_co_data *co, const dw_kiln *resolved,
                                 const dw_room_course *course, dw_working *w)
{
    dw_exposure_step *step = calloc(DW_COURSE_STEP_MAX, sizeof *step);
    long *row = calloc(DW_COURSE_STEP_MAX, sizeof *row);
    dw_status status = step != NULL && row != NULL ? DW_OK : DW_ERR_NOMEM;
    if (status == DW_OK) {
        const dw_exposure_person person = dw_room_course_person(resolved);
        maker m = {.w = w, .co = co, .c = course, .duration_s = resolved->room.duration_s};
        const size_t count = dw_room_course_steps(&course->room.air, course->room.air.outside_ppm,
                                                  m.duration_s, step);
        for (size_t i = 0; i < count; i++) row[i] = DW_WORK_NO_ROW;
        for (int i = 1; i < course->row_count; i++) row[dw_room_course_step_of(count, i)] = i;
        m.breath = (dw_work_breath){.w = w, .co = co, .person = &person, .x = &course->exposure,
                                    .step = step, .count = count, .course_row = row,
                                    .from_start = true};
        status = dw_work_breath_begin(&m.breath);
        if (status == DW_OK) {
            status = put_all(&m);
            dw_work_breath_end(&m.breath);
        }
    }
    free(row);
    free(step);
    return status;
}

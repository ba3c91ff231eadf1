/* The working of limits and alarms: means over windows, doses used up, levels held. */
#include <math.h>
#include <stdlib.h>

#include "working_breath.h"

/* Just at a limit counts as over it (exposure.c draws the same line). */
static const double reached = 1.0 - 1e-12;

enum { ROW_MAX = DW_CO_LIMIT_MAX };

/** A point in time in the table of stretches. */
typedef struct lookup {
    double from_s, dose, level; /* of the stretch that holds it: beginning, dose before,
    mean level */
} lookup;

/* The stretch that holds a time: begins before it and ends at it or later. */
static lookup look_up(const dw_work_breath *b, double time_s)
{
    size_t low = 0, high = b->count - 1;
    while (low < high) {
        const size_t middle = (low + high) / 2;
        if (b->step[middle].until_s < time_s) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    return (lookup){dw_work_from_s(b, low), b->dose[low], b->step[low].mean_ppm};
}

static double dose_at(const dw_work_breath *b, double time_s)
{
    const lookup at = look_up(b, time_s);
    return at.dose + (time_s - at.from_s) * at.level;
}

/* End of the window of this length with the highest mean: an end of it is an end of a stretch. */
static double best_end(const dw_work_breath *b, double window_s)
{
    const double end_s = b->step[b->count - 1].until_s;
    double best = -1.0, best_s = fmin(window_s, end_s);
    for (size_t i = 0; i < b->count; i++) {
        const double ends[2] = {b->step[i].until_s, dw_work_from_s(b, i) + window_s};
        for (int k = 0; k < 2; k++) {
            /* The last window may end a rounding past the end. */
            const double to_s = ends[k];
            if (to_s < window_s || to_s > end_s) continue;
            const double dose = dose_at(b, to_s) - dose_at(b, to_s - window_s);
            if (dose > best) {
                best = dose;
                best_s = to_s;
            }
        }
    }
    return best_s;
}

/* Three columns of a point in time,
and a fourth with the dose up to it. Symbols end in the letter. */
static void put_lookup(const dw_work_breath *b, const double *time_s, size_t rows, char letter)
{
    dw_working *w = b->w;
    double column[3][ROW_MAX];
    for (size_t i = 0; i < rows; i++) {
        const lookup at = look_up(b, time_s[i]);
        column[0][i] = at.from_s;
        column[1][i] = at.dose;
        column[2][i] = at.level;
    }
    dw_work_column(w, DW_WORK_STEP, dw_work_keepf(w, "s_%c", letter),
                   dw_work_keepf(w, "t_0 of the stretch that holds t_%c", letter), "s", column[0]);
    dw_work_column(w, DW_WORK_STEP, dw_work_keepf(w, "E_%c", letter), "its D_0", "ppm s",
                   column[1]);
    dw_work_column(w, DW_WORK_STEP, dw_work_keepf(w, "L_%c", letter), "its C_m", "ppm", column[2]);
    dw_work_column_is(w, "", dw_work_keepf(w, "D_%c", letter),
                      dw_work_keepf(w, "dose breathed up to t_%c", letter), "ppm s",
                      dw_work_keepf(w, "E_%c + (t_%c - s_%c)*L_%c", letter, letter, letter, letter),
                      NULL, "definition");
}

static void name_row(const dw_work_breath *b, size_t row, size_t limit)
{
    const dw_co_limit *l = &b->co->limit[limit];
    dw_work_row(b->w, row, "%zu %.10s %.14s", limit + 1, l->body, l->name);
    dw_work_row_key(b->w, row, "%zu", limit);
}

static void put_means(const dw_work_breath *b)
{
    dw_working *w = b->w;
    double over[ROW_MAX], to[ROW_MAX] = {0.0}, from[ROW_MAX] = {0.0}, mean[ROW_MAX];
    size_t rows = 0;
    for (size_t i = 0; i < b->co->limit_count; i++) rows += b->co->limit[i].over_s > 0.0;
    if (rows == 0) return;
    const double all_s = b->step[b->count - 1].until_s;
    dw_work_section(w, "Highest means");
    dw_work_text(w, "For each limit: the window of the limit's own averaging time that has the "
                    "highest mean, or the whole time when that is shorter. Such a window begins "
                    "or ends where a stretch does. The rows are numbered as in the report's table "
                    "of limits; limits that may never be exceeded are compared with C_peak.");
    dw_work_table_begin(w, "Highest means", "limit", rows);
    rows = 0;
    for (size_t i = 0; i < b->co->limit_count; i++) {
        if (!(b->co->limit[i].over_s > 0.0)) continue;
        name_row(b, rows, i);
        over[rows] = b->co->limit[i].over_s;
        const double window_s = fmin(over[rows], all_s);
        to[rows] = best_end(b, window_s);
        from[rows] = to[rows] - window_s;
        mean[rows++] = b->x->limit[i].mean_ppm;
    }
    dw_work_column(w, DW_WORK_DATA, "over", "averaging time of the limit", "s", over);
    dw_work_column_is(w, "", "W", "length of the window", "s", "min(over, T_all)", NULL,
                      "definition");
    dw_work_column(w, DW_WORK_SOLVED, "t_b", "end of the window with the highest mean", "s", to);
    dw_work_column_is(w, "", "t_a", "its beginning", "s", "t_b - W", from, "definition");
    put_lookup(b, from, rows, 'a');
    put_lookup(b, to, rows, 'b');
    dw_work_column_is(w, "limits.*.mean_ppm", "C_w", "highest mean", "ppm", "(D_b - D_a)/W", mean,
                      "definition");
}

/* When the dose that a limit allows was used up. */
static void put_crossings(const dw_work_breath *b)
{
    dw_working *w = b->w;
    double over[ROW_MAX], ppm[ROW_MAX], at[ROW_MAX] = {0.0}, tail[ROW_MAX] = {0.0};
    size_t rows = 0;
    for (size_t i = 0; i < b->co->limit_count; i++) {
        const dw_co_limit *l = &b->co->limit[i];
        if (!(l->over_s > 0.0) || !isfinite(b->x->limit[i].crossed_s)) continue;
        over[rows] = l->over_s;
        ppm[rows] = l->ppm;
        at[rows] = b->x->limit[i].crossed_s;
        tail[rows] = fmax(at[rows] - over[rows], 0.0);
        rows++;
    }
    if (rows == 0) return;
    dw_work_section(w, "When the dose of a limit is used up");
    dw_work_text(w, "The first time at which the dose over the limit's own averaging time, with "
                    "clean air before the start, is what the limit allows in that time.");
    dw_work_table_begin(w, "Limits used up", "limit", rows);
    rows = 0;
    for (size_t i = 0; i < b->co->limit_count; i++) {
        if (!(b->co->limit[i].over_s > 0.0) || !isfinite(b->x->limit[i].crossed_s)) continue;
        name_row(b, rows++, i);
    }
    dw_work_column(w, DW_WORK_DATA, "over", "averaging time of the limit", "s", over);
    dw_work_column(w, DW_WORK_DATA, "L", "its level", "ppm", ppm);
    dw_work_column(w, DW_WORK_SOLVED, "t_x", "when it is used up", "s", at);
    dw_work_column_is(w, "", "t_y", "one averaging time earlier, or the start", "s",
                      "max(t_x - over, 0)",
                      tail, "definition");
    put_lookup(b, at, rows, 'x');
    put_lookup(b, tail, rows, 'y');
    dw_work_balance(w, "limits.*.crossed_s", "t_x", "the dose in between is what the limit allows",
                    "D_x - D_y = L*over", "definition");
}

/* Limits that may never be exceeded: when the level first stands at them. */
static void put_ceilings(const dw_work_breath *b)
{
    dw_working *w = b->w;
    for (size_t i = 0; i < b->co->limit_count; i++) {
        const dw_co_limit *l = &b->co->limit[i];
        if (l->over_s > 0.0 || !isfinite(b->x->limit[i].crossed_s)) continue;
        size_t k = 0;
        while (k + 1 < b->count && !(b->step[k].peak_ppm >= l->ppm * reached)) k++;
        dw_work_put(w, DW_WORK_STEP, "t_p",
                    dw_work_keepf(w, "t_0 of stretch %zu, the first with P at %g ppm or above",
                                  k + 1, l->ppm),
                    "s", dw_work_from_s(b, k));
        dw_work_step_is(w, dw_work_keepf(w, "limits.%zu.crossed_s", i), "t_c",
                        dw_work_keepf(w, "limit %zu, %s %s, is reached", i + 1, l->body, l->name),
                        "s", "t_p", b->x->limit[i].crossed_s, "definition");
    }
}

/* ---- alarms ------------------------------------------------------------------------------- */

/* Since when the level has been held, when it is held long enough; NaN. */
static double since_s(const dw_work_breath *b, double ppm, double hold_s)
{
    double since = NAN;
    for (size_t i = 0; i < b->count; i++) {
        if (!(b->step[i].mean_ppm >= ppm * reached)) {
            since = NAN;
            continue;
        }
        if (isnan(since)) since = dw_work_from_s(b, i);
        if (b->step[i].until_s - since >= hold_s * reached) return since;
    }
    return NAN;
}

static void put_alarms(const dw_work_breath *b)
{
    dw_working *w = b->w;
    const dw_co_data *co = b->co;
    double since[2 * DW_CO_ALARM_MAX], hold[2 * DW_CO_ALARM_MAX], at[2 * DW_CO_ALARM_MAX];
    size_t rows = 0;
    for (size_t i = 0; i < co->alarm_count; i++) {
        rows += isfinite(b->x->alarm_may_s[i]) ? 1 : 0;
        rows += isfinite(b->x->alarm_must_s[i]) ? 1 : 0;
    }
    if (rows == 0) return;
    dw_work_section(w, "Household alarms");
    dw_work_text(w, "An alarm may or must sound once a level has been held without a break for "
                    "the time in its standard. Alarms that may stay silent in this air have no "
                    "row.");
    dw_work_table_begin(w, "Alarms", "alarm", rows);
    rows = 0;
    for (size_t i = 0; i < co->alarm_count; i++) {
        const double time[2] = {b->x->alarm_may_s[i], b->x->alarm_must_s[i]};
        const double window[2] = {co->alarm[i].from_s, co->alarm[i].by_s};
        for (int k = 0; k < 2; k++) {
            if (!isfinite(time[k])) continue;
            dw_work_row(w, rows, "%s, %g ppm, %s", co->alarm[i].standard, co->alarm[i].ppm,
                        k == 0 ? "may" : "must");
            dw_work_row_key(w, rows, "%zu.%s_sound_s", i, k == 0 ? "may" : "must");
            since[rows] = since_s(b, co->alarm[i].ppm, window[k]);
            hold[rows] = window[k];
            at[rows++] = time[k];
        }
    }
    dw_work_column(w, DW_WORK_STEP, "t_s", "t_0 of the stretch from which C_m stays at or above "
                                           "the level", "s",
                   since);
    dw_work_column(w, DW_WORK_DATA, "hold", "how long the level must be held", "s", hold);
    dw_work_column_is(w, "alarms.*", "t_al", "it sounds", "s", "t_s + hold", at, "co-alarms");
}

dw_status dw_work_limits(const dw_work_breath *b)
{
    put_means(b);
    put_crossings(b);
    put_ceilings(b);
    put_alarms(b);
    return dw_working_status(b->w);
}

/* An exposure against limits and alarms, and its verdict; with a working the same as steps. */
#include "exposure.h"

#include <math.h>
#include <string.h>

#include "breath.h"

/* Just at a limit counts as over it; the slack is rounding. */
static const double reached = 1.0 - 1e-12;

/* A rise of carboxyhaemoglobin less than this is none. */
static const double no_rise_frac = 1e-6;

const char *dw_verdict_text(dw_verdict verdict)
{
    static const char *const texts[] = {"low", "raised", "dangerous"};
    return texts[verdict];
}

bool dw_exposure_ends_row(const dw_exposure_step *steps, size_t count, size_t index, int *row)
{
    enum { ROWS = 24 };
    const double end_s = steps[count - 1].until_s, until_s = steps[index].until_s;
    if (index + 1 < count && until_s < end_s * *row / ROWS * (1.0 - 1e-9)) return false;
    while (*row < ROWS && end_s * *row / ROWS <= until_s) ++*row;
    return true;
}

static bool good_steps(const dw_exposure_step *steps, size_t count)
{
    double from_s = 0.0;
    for (size_t i = 0; i < count; i++) {
        const dw_exposure_step *s = &steps[i];
        if (!(s->until_s > from_s) || !isfinite(s->until_s)) return false;
        if (!(s->mean_ppm >= 0.0 && s->mean_ppm <= 1e6)) return false;
        if (!(s->peak_ppm >= 0.0 && s->peak_ppm <= 1e6)) return false;
        from_s = s->until_s;
    }
    return count > 0;
}

/* ---- means over a window ------------------------------------------------------------------- */

DW_LAW(dose_to, "D", "dose breathed up to a time", "ppm s", "definition",
       (double E, double t, double s, double L), E + (t - s) * L)
DW_LAW(window_length, "W", "length of the window", "s", "definition", (double over, double T_all),
       fmin(over, T_all))
DW_LAW(window_begin, "t_a", "its beginning", "s", "definition", (double t_b, double W), t_b - W)
DW_LAW(window_mean, "C_w", "highest mean", "ppm", "definition", (double D_b, double D_a, double W),
       (D_b - D_a) / W)
DW_LAW(one_time_before, "t_y", "one averaging time earlier, or the start", "s", "definition",
       (double t_x, double over), fmax(t_x - over, 0.0))
DW_LAW(alarm_sounds, "t_al", "it sounds", "s", "co-alarms", (double t_s, double hold), t_s + hold)

/* Dose [ppm s] from the start to a time, walked forward: times may not fall. */
typedef struct dose_walk {
    const dw_exposure_step *at;  /* that holds the time: begins before it and ends at it or later */
    double from_s, before;       /* where it begins, dose up to there */
} dose_walk;

static double dose_at(dose_walk *walk, double time_s)
{
    for (; walk->at->until_s < time_s; walk->at++) {
        walk->before = dw_breath_dose(walk->before, walk->at->mean_ppm, walk->at->until_s, walk->from_s);
        walk->from_s = walk->at->until_s;
    }
    return dose_to(walk->before, time_s, walk->from_s, walk->at->mean_ppm);
}

/* Largest mean over a window of this length, and where that ends. The dose in it is linear between the times at
 * which an end of the window passes an end of a step, so it is largest at one of those. */
static double largest_mean(const dw_breath *b, double window_s, double *to_s)
{
    const double end_s = b->step[b->count - 1].until_s;
    double most = -1.0, mean = 0.0;
    const dose_walk start = {b->step, 0.0, 0.0};
    dose_walk head[2] = {start, start}, tail[2] = {start, start};
    for (size_t i = 0; i < b->count; i++) {
        /* It ends with a step, or begins with one; the last may end a rounding past the end. */
        const double ends[2] = {b->step[i].until_s, dw_breath_from_s(b, i) + window_s};
        for (int k = 0; k < 2; k++) {
            if (ends[k] < window_s || ends[k] > end_s) continue;
            const double to = dose_at(&head[k], ends[k]);
            const double from = dose_at(&tail[k], window_begin(ends[k], window_s));
            if (!(to - from > most)) continue;
            most = to - from;
            mean = window_mean(to, from, window_s);
            *to_s = ends[k];
        }
    }
    return mean;
}

/* First time at which the dose of the last window_s seconds, with clean air before, is the limit's. */
static double crossing_s(const dw_breath *b, double window_s, double ppm)
{
    const double allowed = ppm * window_s * reached;
    dose_walk head = {b->step, 0.0, 0.0}, tail = head;
    double time_s = 0.0, dose = 0.0;
    /* Next step to end, and next beginning of a step to leave the window. */
    size_t ends = 0, leaves = 0;
    while (ends < b->count) {
        const double end_s = b->step[ends].until_s;
        const double leave_s = window_s + dw_breath_from_s(b, leaves);
        const double next_s = fmin(end_s, leave_s);
        const double next = dose_at(&head, next_s) - dose_at(&tail, one_time_before(next_s, window_s));
        if (next >= allowed) {
            /* Linear between the two. */
            return next > dose ? time_s + (next_s - time_s) * fmax(allowed - dose, 0.0) /
                                              (next - dose)
                               : next_s;
        }
        if (end_s <= next_s) ends++;
        if (leave_s <= next_s) leaves++;
        time_s = next_s;
        dose = next;
    }
    return INFINITY;
}

/* Columns of the stretch that holds each time, and of the dose up to it. Symbols end in the letter. */
static void put_lookup(const dw_breath *b, const double *time_s, size_t rows, char letter)
{
    dw_working *w = b->w;
    double column[4][DW_CO_LIMIT_MAX];
    for (size_t i = 0; i < rows; i++) {
        dose_walk walk = {b->step, 0.0, 0.0};
        column[3][i] = dose_at(&walk, time_s[i]);
        column[0][i] = walk.from_s;
        column[1][i] = walk.before;
        column[2][i] = walk.at->mean_ppm;
    }
    dw_work_column(w, DW_WORK_STEP, dw_work_keepf(w, "s_%c", letter),
                   dw_work_keepf(w, "t_0 of the stretch that holds t_%c", letter), "s", column[0]);
    dw_work_column(w, DW_WORK_STEP, dw_work_keepf(w, "E_%c", letter), "its D_0", "ppm s", column[1]);
    dw_work_column(w, DW_WORK_STEP, dw_work_keepf(w, "L_%c", letter), "its C_m", "ppm", column[2]);
    dw_law_column(w, "", dw_work_keepf(w, "D>D_%c E>E_%c t>t_%c s>s_%c L>L_%c", letter, letter, letter,
                                       letter, letter),
                  dw_work_keepf(w, "dose breathed up to t_%c", letter), &dose_to_law, column[3]);
}

/* Limits of a table, in rows. */
typedef struct limit_rows {
    size_t count, limit[DW_CO_LIMIT_MAX];
    double over[DW_CO_LIMIT_MAX], ppm[DW_CO_LIMIT_MAX], to[DW_CO_LIMIT_MAX], from[DW_CO_LIMIT_MAX],
        value[DW_CO_LIMIT_MAX];
} limit_rows;

static void put_means(const dw_breath *b, const limit_rows *r)
{
    dw_working *w = b->w;
    if (r->count == 0) return;
    dw_work_section(w, "Highest means");
    dw_work_text(w, "For each limit: the window of the limit's own averaging time that has the "
                    "highest mean, or the whole time when that is shorter. Such a window begins "
                    "or ends where a stretch does. The rows are numbered as in the report's table "
                    "of limits; limits that may never be exceeded are compared with C_peak.");
    dw_breath_limit_table(b, "Highest means", r->limit, r->count);
    dw_work_column(w, DW_WORK_DATA, "over", "averaging time of the limit", "s", r->over);
    dw_law_column(w, "", NULL, NULL, &window_length_law, NULL);
    dw_work_column(w, DW_WORK_SOLVED, "t_b", "end of the window with the highest mean", "s", r->to);
    dw_law_column(w, "", NULL, NULL, &window_begin_law, r->from);
    put_lookup(b, r->from, r->count, 'a');
    put_lookup(b, r->to, r->count, 'b');
    dw_law_column(w, "limits.*.mean_ppm", NULL, NULL, &window_mean_law, r->value);
}

/* When the dose that a limit allows was used up. */
static void put_crossings(const dw_breath *b, const limit_rows *r)
{
    dw_working *w = b->w;
    if (r->count == 0) return;
    dw_work_section(w, "When the dose of a limit is used up");
    dw_work_text(w, "The first time at which the dose over the limit's own averaging time, with "
                    "clean air before the start, is what the limit allows in that time.");
    dw_breath_limit_table(b, "Limits used up", r->limit, r->count);
    dw_work_column(w, DW_WORK_DATA, "over", "averaging time of the limit", "s", r->over);
    dw_work_column(w, DW_WORK_DATA, "L", "its level", "ppm", r->ppm);
    dw_work_column(w, DW_WORK_SOLVED, "t_x", "when it is used up", "s", r->to);
    dw_law_column(w, "", NULL, NULL, &one_time_before_law, r->from);
    put_lookup(b, r->to, r->count, 'x');
    put_lookup(b, r->from, r->count, 'y');
    dw_work_balance(w, "limits.*.crossed_s", "t_x", "the dose in between is what the limit allows",
                    "D_x - D_y = L*over", "definition");
}

static void add_row(limit_rows *r, size_t i, const dw_co_limit *limit, double to_s, double from_s, double value)
{
    r->limit[r->count] = i;
    r->over[r->count] = limit->over_s;
    r->ppm[r->count] = limit->ppm;
    r->to[r->count] = to_s;
    r->from[r->count] = from_s;
    r->value[r->count++] = value;
}

/* A limit that may never be exceeded: when the level is first there. */
static double ceiling_s(const dw_breath *b, size_t limit)
{
    dw_working *w = b->w;
    const dw_co_limit *l = &b->co->limit[limit];
    size_t k = 0;
    while (k < b->count && !(b->step[k].peak_ppm >= l->ppm * reached)) k++;
    if (k == b->count) return INFINITY;
    const double from_s = dw_breath_from_s(b, k);
    if (w == NULL) return from_s;
    dw_work_put(w, DW_WORK_STEP, "t_p",
                dw_work_keepf(w, "t_0 of stretch %zu, the first with P at %g ppm or above", k + 1, l->ppm),
                "s", from_s);
    dw_work_step_is(w, dw_work_keepf(w, "limits.%zu.crossed_s", limit), "t_c",
                    dw_work_keepf(w, "limit %zu, %s %s, is reached", limit + 1, l->body, l->name), "s",
                    "t_p", from_s, "definition");
    return from_s;
}

static void look_at_limits(const dw_breath *b, dw_exposure *out)
{
    const double all_s = out->duration_s;
    limit_rows means = {.count = 0}, crossings = {.count = 0};
    for (size_t i = 0; i < b->co->limit_count; i++) {
        const dw_co_limit *limit = &b->co->limit[i];
        dw_limit_finding *found = &out->limit[i];
        found->mean_ppm = out->peak_ppm;
        if (limit->over_s > 0.0) {
            double to_s = 0.0;
            const double window_s = window_length(limit->over_s, all_s);
            found->mean_ppm = largest_mean(b, window_s, &to_s);
            found->crossed_s = crossing_s(b, limit->over_s, limit->ppm);
            add_row(&means, i, limit, to_s, window_begin(to_s, window_s), found->mean_ppm);
            if (isfinite(found->crossed_s)) {
                add_row(&crossings, i, limit, found->crossed_s,
                        one_time_before(found->crossed_s, limit->over_s), NAN);
            }
        }
        found->exceeded = found->mean_ppm >= limit->ppm * reached;
    }
    if (b->w != NULL) {
        put_means(b, &means);
        put_crossings(b, &crossings);
    }
    for (size_t i = 0; i < b->co->limit_count; i++) {
        if (!(b->co->limit[i].over_s > 0.0)) out->limit[i].crossed_s = ceiling_s(b, i);
    }
}

/* ---- alarms -------------------------------------------------------------------------------- */

/* Since when the level has been held, when for the first time it is for hold_s without a break; NaN: never. */
static double held_since_s(const dw_breath *b, double ppm, double hold_s)
{
    double since_s = NAN;
    for (size_t i = 0; i < b->count && isfinite(hold_s); i++) {
        if (!(b->step[i].mean_ppm >= ppm * reached)) {
            since_s = NAN;
            continue;
        }
        if (isnan(since_s)) since_s = dw_breath_from_s(b, i);
        if (b->step[i].until_s - since_s >= hold_s * reached) return since_s;
    }
    return NAN;
}

static void look_at_alarms(const dw_breath *b, dw_exposure *out)
{
    dw_working *w = b->w;
    const dw_co_data *co = b->co;
    enum { ROW_MAX = 2 * DW_CO_ALARM_MAX };
    double since[ROW_MAX], hold[ROW_MAX], at[ROW_MAX];
    size_t rows = 0, index[ROW_MAX];
    for (size_t i = 0; i < 2 * co->alarm_count; i++) {
        const dw_co_alarm *alarm = &co->alarm[i / 2];
        const double hold_s = i % 2 == 0 ? alarm->from_s : alarm->by_s;
        const double since_s = held_since_s(b, alarm->ppm, hold_s);
        const double sounds_s = isnan(since_s) ? INFINITY : alarm_sounds(since_s, hold_s);
        *(i % 2 == 0 ? &out->alarm_may_s[i / 2] : &out->alarm_must_s[i / 2]) = sounds_s;
        if (isinf(sounds_s)) continue;
        index[rows] = i;
        since[rows] = since_s;
        hold[rows] = hold_s;
        at[rows++] = sounds_s;
    }
    if (w == NULL || rows == 0) return;
    dw_work_section(w, "Household alarms");
    dw_work_text(w, "An alarm may or must sound once a level has been held without a break for "
                    "the time in its standard. Alarms that may stay silent in this air have no "
                    "row.");
    dw_work_table_begin(w, "Alarms", "alarm", rows);
    for (size_t k = 0; k < rows; k++) {
        const dw_co_alarm *alarm = &co->alarm[index[k] / 2];
        const char *word = index[k] % 2 == 0 ? "may" : "must";
        dw_work_row(w, k, "%s, %g ppm, %s", alarm->standard, alarm->ppm, word);
        dw_work_row_key(w, k, "%zu.%s_sound_s", index[k] / 2, word);
    }
    dw_work_column(w, DW_WORK_STEP, "t_s", "t_0 of the stretch from which C_m stays at or above the level",
                   "s", since);
    dw_work_column(w, DW_WORK_DATA, "hold", "how long the level must be held", "s", hold);
    dw_law_column(w, "alarms.*", NULL, NULL, &alarm_sounds_law, at);
}

/* ---- verdict ------------------------------------------------------------------------------- */

static void decide(const dw_co_data *co, dw_exposure *out)
{
    double nearest = -1.0, worst = -1.0;
    out->verdict = DW_VERDICT_LOW;
    out->decided_by = out->nearest = -1;
    for (size_t i = 0; i < co->limit_count; i++) {
        const dw_co_limit *limit = &co->limit[i];
        const double share = out->limit[i].mean_ppm / limit->ppm;
        if (share > nearest) {
            nearest = share;
            out->nearest = (int)i;
        }
        if (!out->limit[i].exceeded) continue;
        const dw_verdict asks =
            limit->kind == DW_LIMIT_DANGER ? DW_VERDICT_DANGEROUS : DW_VERDICT_RAISED;
        if (asks > out->verdict || (asks == out->verdict && share > worst)) {
            out->verdict = asks;
            out->decided_by = (int)i;
            worst = share;
        }
    }
    const double blood = out->peak_frac[out->activity];
    if (!(blood > out->start_frac + no_rise_frac)) return;
    const dw_verdict asks = blood >= co->cohb_dangerous_frac ? DW_VERDICT_DANGEROUS
                            : blood >= co->cohb_raised_frac  ? DW_VERDICT_RAISED
                                                             : DW_VERDICT_LOW;
    if (asks > out->verdict) {
        out->verdict = asks;
        out->decided_by = -1;
    }
}

dw_status dw_exposure_look(const dw_breath *b, double *cohb_frac, dw_exposure *out)
{
    if (out == NULL) return DW_ERR_ARG;
    memset(out, 0, sizeof *out);
    if (b == NULL || b->co == NULL || b->person == NULL || b->step == NULL) return DW_ERR_ARG;
    if (!good_steps(b->step, b->count)) return DW_ERR_DOMAIN;
    double dose = 0.0;
    for (size_t i = 0; i < b->count; i++) {
        const dw_exposure_step *s = &b->step[i];
        dose = dw_breath_dose(dose, s->mean_ppm, s->until_s, dw_breath_from_s(b, i));
        out->peak_ppm = fmax(out->peak_ppm, fmax(s->peak_ppm, s->mean_ppm));
    }
    out->duration_s = b->step[b->count - 1].until_s;
    out->mean_ppm = dose / out->duration_s;
    look_at_limits(b, out);
    look_at_alarms(b, out);
    const dw_status status = dw_breath_blood(b, cohb_frac, out);
    if (status == DW_OK) decide(b->co, out);
    return status;
}

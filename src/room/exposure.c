#include "exposure.h"

#include <math.h>
#include <string.h>

/* Just at a limit counts as over it; the slack is rounding. */
static const double reached = 1.0 - 1e-12;

/* A rise of carboxyhaemoglobin less than this is none. */
static const double no_rise_frac = 1e-6;

const char *dw_verdict_text(dw_verdict verdict)
{
    static const char *const texts[] = {"low", "raised", "dangerous"};
    return texts[verdict];
}

/* Of an average adult, or of the person as described. */
static double blood_of(const dw_co_person *p, const dw_exposure_person *person, dw_working *w)
{
    if (isnan(person->height_m) || isnan(person->mass_kg)) {
        return dw_law_given(w, DW_WORK_DATA, "V_b", "blood of an average adult", "m3", p->blood_m3);
    }
    const double height_m = dw_law_given(w, DW_WORK_INPUT, "h_p", "height of the person", "m",
                                         person->height_m);
    const double mass_kg = dw_law_given(w, DW_WORK_INPUT, "m_p", "mass of the person", "kg",
                                        person->mass_kg);
    return dw_blood_volume_m3(height_m, mass_kg, person->female, w);
}

dw_status dw_exposure_cohb(const dw_co_data *co, const dw_exposure_person *person,
                           dw_activity activity, dw_working *w, dw_cohb *out)
{
    const dw_co_person *p = &co->person;
    const double x_o2 = 0.209476; /* of dry air, model.md 2 */
    const bool at_sea_level = isnan(person->barometric_pa_abs);
    const double water_pa =
        dw_law_given(w, DW_WORK_DATA, "P_W", "pressure of water vapour at 37 degC", "Pa", p->water_pa);
    const double barometric_pa =
        dw_law_given(w, at_sea_level ? DW_WORK_DATA : DW_WORK_INPUT, "P_B",
                     "pressure of the air, absolute", "Pa",
                     at_sea_level ? p->barometric_pa_abs : person->barometric_pa_abs);
    const double reference_pa = dw_law_given(
        w, DW_WORK_DATA, "P_r", "pressure of the air at sea level, absolute", "Pa", p->barometric_pa_abs);
    const double capillary_pa =
        dw_law_given(w, DW_WORK_DATA, "P_cr", "oxygen in the capillaries of the lung at sea level", "Pa",
                     p->capillary_o2_pa);
    const double capillary_o2_pa =
        dw_capillary_o2_pa(capillary_pa, x_o2, barometric_pa, reference_pa, w);
    const double haldane_ratio = dw_law_given(
        w, DW_WORK_DATA, "M", "how much more strongly haemoglobin binds carbon monoxide than oxygen", "",
        p->haldane_ratio);
    const double capacity = dw_law_given(w, DW_WORK_DATA, "H_b",
                                         "carbon monoxide that a volume of blood can hold", "m3/m3",
                                         p->capacity_m3_m3);
    const double endogenous_m3_s =
        dw_law_given(w, DW_WORK_DATA, "V_CO", "carbon monoxide that the body itself makes", "m3/s",
                     p->endogenous_m3_s);
    *out = (dw_cohb){
        .haldane_ratio = haldane_ratio,
        .endogenous_m3_s = endogenous_m3_s,
        .capillary_o2_pa = capillary_o2_pa,
        .capacity_m3_m3 = capacity,
        .blood_m3 = blood_of(p, person, w),
        .ventilation_m3_s = p->ventilation_m3_s[activity],
        .diffusing_m3_s_pa = p->diffusing_m3_s_pa[activity],
        .barometric_pa_abs = barometric_pa,
        .water_pa = water_pa,
    };
    return dw_cohb_check(out) == DW_OK ? DW_OK : DW_ERR_DOMAIN;
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

/* Dose [ppm s] from the start to a time, walked forward: times may not fall. */
typedef struct dose_walk {
    const dw_exposure_step *steps;
    size_t count, at;      /* step that holds the time */
    double from_s, before; /* where it begins, dose up to there */
} dose_walk;

static dose_walk walk_of(const dw_exposure_step *steps, size_t count)
{
    return (dose_walk){steps, count, 0, 0.0, 0.0};
}

static double dose_at(dose_walk *w, double time_s)
{
    while (w->at < w->count && w->steps[w->at].until_s < time_s) {
        w->before += (w->steps[w->at].until_s - w->from_s) * w->steps[w->at].mean_ppm;
        w->from_s = w->steps[w->at].until_s;
        w->at++;
    }
    if (w->at == w->count) return w->before;
    return w->before + (time_s - w->from_s) * w->steps[w->at].mean_ppm;
}

/* Largest mean over a window of this length. The dose in it is linear between the times at which an end
 * of the window passes an end of a step, so it is largest at one of those. */
static double largest_mean(const dw_exposure_step *steps, size_t count, double window_s)
{
    const double end_s = steps[count - 1].until_s;
    double most = 0.0;
    dose_walk head = walk_of(steps, count), tail = walk_of(steps, count);
    for (size_t i = 0; i < count; i++) { /* the window ends with a step */
        const double to_s = steps[i].until_s;
        if (to_s < window_s) continue;
        most = fmax(most, dose_at(&head, to_s) - dose_at(&tail, to_s - window_s));
    }
    head = walk_of(steps, count);
    tail = walk_of(steps, count);
    double from_s = 0.0;
    for (size_t i = 0; i < count; i++) { /* it begins with one */
        if (from_s + window_s > end_s) break;
        const double before = dose_at(&tail, from_s);
        most = fmax(most, dose_at(&head, from_s + window_s) - before);
        from_s = steps[i].until_s;
    }
    return most / window_s;
}

/* First time at which the dose of the last window_s seconds, with clean air before, is the limit's. */
static double crossing_s(const dw_exposure_step *steps, size_t count, double window_s, double ppm)
{
    const double allowed = ppm * window_s * reached;
    dose_walk head = walk_of(steps, count), tail = walk_of(steps, count);
    double time_s = 0.0, dose = 0.0;
    /* Next step to end, and next beginning of a step to leave the window. */
    size_t ends = 0, leaves = 0;
    while (ends < count) {
        const double end_s = steps[ends].until_s;
        const double leave_s = window_s + (leaves > 0 ? steps[leaves - 1].until_s : 0.0);
        const double next_s = fmin(end_s, leave_s);
        const double next = dose_at(&head, next_s) - dose_at(&tail, fmax(next_s - window_s, 0.0));
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

static void look_at_limit(const dw_co_limit *limit, const dw_exposure_step *steps, size_t count,
                          double peak_ppm, dw_limit_finding *found)
{
    found->crossed_s = INFINITY;
    if (limit->over_s <= 0.0) {
        found->mean_ppm = peak_ppm;
        double from_s = 0.0;
        for (size_t i = 0; i < count && isinf(found->crossed_s); i++) {
            if (steps[i].peak_ppm >= limit->ppm * reached) found->crossed_s = from_s;
            from_s = steps[i].until_s;
        }
    } else {
        const double all_s = steps[count - 1].until_s;
        found->mean_ppm = largest_mean(steps, count, fmin(limit->over_s, all_s));
        found->crossed_s = crossing_s(steps, count, limit->over_s, limit->ppm);
    }
    found->exceeded = found->mean_ppm >= limit->ppm * reached;
}

/* ---- alarms -------------------------------------------------------------------------------- */

/* First time at which the level has held for hold_s without a break. */
static double held_s(const dw_exposure_step *steps, size_t count, double ppm, double hold_s)
{
    double from_s = 0.0, since_s = NAN;
    if (isinf(hold_s)) return INFINITY;
    for (size_t i = 0; i < count; i++) {
        if (steps[i].mean_ppm >= ppm * reached) {
            if (isnan(since_s)) since_s = from_s;
            if (steps[i].until_s - since_s >= hold_s * reached) return since_s + hold_s;
        } else {
            since_s = NAN;
        }
        from_s = steps[i].until_s;
    }
    return INFINITY;
}

/* ---- blood --------------------------------------------------------------------------------- */

static dw_status follow_blood(const dw_co_data *co, const dw_exposure_person *person,
                              dw_activity activity, const dw_exposure_step *steps, size_t count,
                              dw_exposure *out)
{
    dw_cohb law;
    const dw_status status = dw_exposure_cohb(co, person, activity, NULL, &law);
    if (status != DW_OK) return status;
    double level = out->start_frac, most = level, from_s = 0.0;
    double reached_s[DW_CO_EFFECT_MAX];
    for (size_t k = 0; k < co->effect_count; k++) {
        reached_s[k] = level >= co->effect[k].level ? 0.0 : INFINITY;
    }
    for (size_t i = 0; i < count; i++) {
        const double time_s = steps[i].until_s - from_s;
        for (size_t k = 0; k < co->effect_count; k++) {
            if (!isinf(reached_s[k])) continue;
            const double after_s =
                dw_cohb_time_to(&law, level, steps[i].mean_ppm, co->effect[k].level);
            if (after_s <= time_s) reached_s[k] = from_s + after_s;
        }
        level = dw_cohb_after(&law, level, steps[i].mean_ppm, time_s);
        if (isnan(level)) return DW_ERR_DOMAIN;
        most = fmax(most, level);
        from_s = steps[i].until_s;
    }
    out->end_frac[activity] = level;
    out->peak_frac[activity] = most;
    const bool counts = person->activity == DW_ROOM_ANY_ACTIVITY
                            ? activity == DW_ACTIVITY_REST || most > out->peak_frac[out->activity]
                            : (int)activity == (int)person->activity;
    if (counts) {
        out->activity = activity;
        memcpy(out->effect_s, reached_s, sizeof reached_s);
    }
    return DW_OK;
}

dw_status dw_exposure_course(const dw_co_data *co, const dw_exposure_person *person,
                             dw_activity activity, const dw_exposure_step *steps, size_t count,
                             double *cohb_frac)
{
    if (co == NULL || person == NULL || steps == NULL || cohb_frac == NULL) return DW_ERR_ARG;
    if (!good_steps(steps, count)) return DW_ERR_DOMAIN;
    dw_cohb law;
    const dw_status status = dw_exposure_cohb(co, person, activity, NULL, &law);
    if (status != DW_OK) return status;
    double level = person->smoker ? co->person.start_smoker_frac : co->person.start_frac;
    double from_s = 0.0;
    for (size_t i = 0; i < count; i++) {
        level = dw_cohb_after(&law, level, steps[i].mean_ppm, steps[i].until_s - from_s);
        cohb_frac[i] = level;
        from_s = steps[i].until_s;
    }
    return DW_OK;
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

dw_status dw_exposure_look(const dw_co_data *co, const dw_exposure_person *person,
                           const dw_exposure_step *steps, size_t count, dw_exposure *out)
{
    if (out == NULL) return DW_ERR_ARG;
    memset(out, 0, sizeof *out);
    if (co == NULL || person == NULL || steps == NULL) return DW_ERR_ARG;
    if (!good_steps(steps, count)) return DW_ERR_DOMAIN;
    double dose = 0.0, from_s = 0.0;
    for (size_t i = 0; i < count; i++) {
        dose += (steps[i].until_s - from_s) * steps[i].mean_ppm;
        out->peak_ppm = fmax(out->peak_ppm, fmax(steps[i].peak_ppm, steps[i].mean_ppm));
        from_s = steps[i].until_s;
    }
    out->duration_s = from_s;
    out->mean_ppm = dose / from_s;
    for (size_t i = 0; i < co->limit_count; i++) {
        look_at_limit(&co->limit[i], steps, count, out->peak_ppm, &out->limit[i]);
    }
    for (size_t i = 0; i < co->alarm_count; i++) {
        out->alarm_may_s[i] = held_s(steps, count, co->alarm[i].ppm, co->alarm[i].from_s);
        out->alarm_must_s[i] = held_s(steps, count, co->alarm[i].ppm, co->alarm[i].by_s);
    }
    out->start_frac = person->smoker ? co->person.start_smoker_frac : co->person.start_frac;
    out->outside_promise = person->mass_kg < co->person.smallest_mass_kg ||
                           person->height_m < co->person.smallest_height_m;
    for (int a = 0; a < DW_ACTIVITY_COUNT; a++) {
        const dw_status status = follow_blood(co, person, (dw_activity)a, steps, count, out);
        if (status != DW_OK) return status;
    }
    decide(co, out);
    return DW_OK;
}

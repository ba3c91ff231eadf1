/* The working of the blood: Coburn, Forster and Kane from stretch to stretch, at each activity. */
#include <math.h>
#include <stdlib.h>

#include "working_breath.h"

static const char *const words[DW_ACTIVITY_COUNT] = {"rest", "light work", "heavy work"};
static const char *const keys[DW_ACTIVITY_COUNT] = {"rest", "light", "heavy"};

/** One activity. */
typedef struct blood {
    const dw_work_breath *b;
    dw_activity activity;
    dw_cohb law;
    double *level;      /* count + 1: before each stretch and after the last */
    double *left;       /* count: y after each                               */
} blood;

static void put_start(const dw_work_breath *b)
{
    dw_working *w = b->w;
    dw_work_put(w, DW_WORK_DATA, "c_in",
                b->person->smoker ? "COHb usual in people who smoke" : "COHb usual in people who do "
                                                                  "not smoke",
                "", b->x->start_frac);
    dw_work_step_is(w, b->from_start ? "people.cohb_start course.0.cohb" : "people.cohb_start",
                    "c_s",
                    "carboxyhaemoglobin (COHb) at the start", "", "c_in", b->x->start_frac,
                    "cfk-parameters");
}

static void put_activity(const blood *k)
{
    dw_working *w = k->b->w;
    dw_work_put(w, DW_WORK_DATA, "V_A", "air that reaches the air sacs of the lung", "m3/s",
                k->law.ventilation_m3_s);
    dw_work_put(w, DW_WORK_DATA, "D_L", "carbon monoxide that passes from the air sacs into the "
                                        "blood", "m3/(s Pa)",
                k->law.diffusing_m3_s_pa);
    (void)dw_cohb_resistance(&k->law, w);
    (void)dw_cohb_affinity_pa(&k->law, w);
}

static void solve_chain(blood *k)
{
    const dw_work_breath *b = k->b;
    k->level[0] = b->x->start_frac;
    for (size_t i = 0; i < b->count; i++) {
        const double time_s = b->step[i].until_s - dw_work_from_s(b, i), ppm = b->step[i].mean_ppm;
        k->level[i + 1] = dw_cohb_after(&k->law, k->level[i], ppm, time_s);
        k->left[i] = dw_cohb_left_after(&k->law, k->level[i], ppm, time_s);
    }
}

static void put_chain(const blood *k)
{
    const dw_work_breath *b = k->b;
    dw_working *w = b->w;
    const bool counts = k->activity == b->x->activity;
    dw_work_stretches(b, dw_work_keepf(w, "Blood, %s", words[k->activity]));
    dw_work_column(w, DW_WORK_STEP, "c_0", "COHb before: c of the row before, or c_s", "",
                   k->level);
    static const dw_cohb_term way[] = {DW_COHB_OFFERED, DW_COHB_FINAL, DW_COHB_UNBOUND,
                                       DW_COHB_DISTANCE, DW_COHB_OWN_TIME};
    for (size_t i = 0; i < sizeof way / sizeof way[0]; i++) {
        dw_law_column(w, "", NULL, NULL, dw_cohb_law(way[i]), NULL);
    }
    dw_work_column(w, DW_WORK_SOLVED, "y", "distance from that end afterwards / f", "",
                   k->left);
    dw_work_balance(w, "", "y", "the equation, separated for constant C_m and integrated",
                    "y*exp(y - y_0) = y_0*exp(-tau)", "cfk1965");
    dw_law_column(w, counts ? "course.*.cohb" : "", NULL, NULL, dw_cohb_law(DW_COHB_AFTER),
                  k->level + 1);
    dw_work_put(w, DW_WORK_STEP, "c_n", "c of the last row", "", k->level[b->count]);
    dw_work_step_is(w, dw_work_keepf(w, "people.cohb_end_%s", keys[k->activity]), "c_end",
                    dw_work_keepf(w, "at the end, %s", words[k->activity]), "", "c_n",
                    b->x->end_frac[k->activity], "definition");
    if (!counts) return;
    dw_work_step_is(w, "people.cohb_peak", "c_max", "at the most", "", "max(c_s, largest(c))",
                    b->x->peak_frac[k->activity], "definition");
}

/* The stretch in which a level is reached; count when none. */
static size_t stretch_of(const blood *k, double level)
{
    const dw_work_breath *b = k->b;
    for (size_t i = 0; i < b->count; i++) {
        const double after_s =
            dw_cohb_time_to(&k->law, k->level[i], b->step[i].mean_ppm, level);
        if (after_s <= b->step[i].until_s - dw_work_from_s(b, i)) return i;
    }
    return b->count;
}

/* When each level with an effect is reached, at the activity that counts. */
static void put_effects(const blood *k)
{
    const dw_work_breath *b = k->b;
    const dw_co_data *co = b->co;
    dw_working *w = b->w;
    bool at_once[DW_CO_EFFECT_MAX] = {false};
    double level[DW_CO_EFFECT_MAX], from[DW_CO_EFFECT_MAX], before[DW_CO_EFFECT_MAX],
        ppm[DW_CO_EFFECT_MAX], time[DW_CO_EFFECT_MAX];
    size_t index[DW_CO_EFFECT_MAX], rows = 0;
    for (size_t i = 0; i < co->effect_count; i++) {
        const double reached_s = b->x->effect_s[i];
        at_once[i] = reached_s == 0.0;
        if (at_once[i] || !isfinite(reached_s)) continue;
        const size_t at = stretch_of(k, co->effect[i].level);
        if (at == b->count) continue;
        index[rows] = i;
        level[rows] = co->effect[i].level;
        from[rows] = dw_work_from_s(b, at);
        before[rows] = k->level[at];
        ppm[rows] = b->step[at].mean_ppm;
        time[rows++] = reached_s;
    }
    const char *now = dw_work_keys_of(w, "people.effects", "reached_s", at_once, co->effect_count);
    if (now[0] != '\0') {
        dw_work_step_is(w, now, "t_now", "levels at or below c_s are reached at once", "s", "0",
                        0.0,
                        "definition");
    }
    if (rows == 0) return;
    dw_work_table_begin(w, "COHb levels that have an effect", "level", rows);
    for (size_t i = 0; i < rows; i++) {
        dw_work_row(w, i, "%g %%", 100.0 * level[i]);
        dw_work_row_key(w, i, "%zu", index[i]);
    }
    dw_work_column(w, DW_WORK_DATA, "c_l", "level, as a share", "", level);
    dw_work_column(w, DW_WORK_STEP, "s_l", "t_0 of the stretch in which the level is reached", "s",
                   from);
    dw_work_column(w, DW_WORK_STEP, "c_b", "its c_0", "", before);
    dw_work_column(w, DW_WORK_STEP, "C_l", "its C_m", "ppm", ppm);
    dw_law_column(w, "", "a>a_l C_m>C_l", "its a", dw_cohb_law(DW_COHB_OFFERED), NULL);
    dw_law_column(w, "", "f>f_l a>a_l", "its f", dw_cohb_law(DW_COHB_UNBOUND), NULL);
    dw_work_column_is(w, "", "y_b", "its y_0", "", "(1 - f_l - c_b)/f_l", NULL, "cfk1965");
    dw_work_column_is(w, "", "y_l", "y at the level", "", "(1 - f_l - c_l)/f_l", NULL, "cfk1965");
    dw_law_column(w, "people.effects.*.reached_s", NULL, NULL, dw_cohb_law(DW_COHB_REACHED), time);
}

static dw_status put_one(const dw_work_breath *b, dw_activity activity)
{
    blood k = {.b = b, .activity = activity};
    /* The person is written down once, with the first activity. */
    dw_working *w = activity == DW_ACTIVITY_REST ? b->w : NULL;
    dw_status status = dw_exposure_cohb(b->co, b->person, activity, w, &k.law);
    if (status != DW_OK) return status;
    k.level = calloc(b->count + 1, sizeof *k.level);
    k.left = calloc(b->count, sizeof *k.left);
    status = k.level != NULL && k.left != NULL ? DW_OK : DW_ERR_NOMEM;
    if (status == DW_OK) {
        if (activity == DW_ACTIVITY_REST) put_start(b);
        dw_work_section(b->w, "Blood: %s%s", words[activity],
                        activity == b->x->activity ? ", which counts" : "");
        put_activity(&k);
        solve_chain(&k);
        put_chain(&k);
        if (activity == b->x->activity) put_effects(&k);
    }
    free(k.left);
    free(k.level);
    return status;
}

dw_status dw_work_blood(const dw_work_breath *b)
{
    dw_work_section(b->w, "The person");
    dw_work_text(b->w, "Carbon monoxide and oxygen compete for haemoglobin. Over a stretch of "
                       "constant level the equation of Coburn, Forster and Kane, d(H_b*c)/dt = "
                       "V_CO/V_b + (C_m*1e-6*(P_B - P_W) - c*P_c/(M*(1 - c)))/(V_b*B), can be "
                       "separated; its integral is in the table as a balance. The figures are for "
                       "an average adult and are not a diagnosis.");
    for (int a = 0; a < DW_ACTIVITY_COUNT; a++) {
        const dw_status status = put_one(b, (dw_activity)a);
        if (status != DW_OK) return status;
    }
    return dw_working_status(b->w);
}

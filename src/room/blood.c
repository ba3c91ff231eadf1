/* Carbon monoxide in the blood: Coburn, Forster and Kane from stretch to stretch, at each activity; with a
 * working the same as steps. */
#include <math.h>
#include <string.h>

#include "breath.h"

static const char *const words[DW_ACTIVITY_COUNT] = {"rest", "light work", "heavy work"};
static const char *const keys[DW_ACTIVITY_COUNT] = {"rest", "light", "heavy"};

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

/** One activity, solved. */
typedef struct blood {
    const dw_breath *b;
    dw_activity activity;
    dw_cohb law;
    double end, most;                       /* at the end, and at any time                          */
    double reached_s[DW_CO_EFFECT_MAX];     /* infinite: not                                        */
    size_t at[DW_CO_EFFECT_MAX];            /* stretch in which each effect is reached              */
    double before[DW_CO_EFFECT_MAX];        /* level at its beginning                               */
} blood;

/* From stretch to stretch; level: NULL, or gets count + 1 of them, before the first and after each. */
static dw_status follow(blood *k, double start_frac, double *level)
{
    const dw_breath *b = k->b;
    double now = start_frac;
    k->most = now;
    if (level != NULL) level[0] = now;
    for (size_t e = 0; e < b->co->effect_count; e++) {
        k->reached_s[e] = now >= b->co->effect[e].level ? 0.0 : INFINITY;
    }
    for (size_t i = 0; i < b->count; i++) {
        const double from_s = dw_breath_from_s(b, i), time_s = b->step[i].until_s - from_s;
        const double ppm = b->step[i].mean_ppm;
        for (size_t e = 0; e < b->co->effect_count; e++) {
            if (!isinf(k->reached_s[e])) continue;
            const double after_s = dw_cohb_time_to(&k->law, now, ppm, b->co->effect[e].level);
            if (!(after_s <= time_s)) continue;
            k->reached_s[e] = from_s + after_s;
            k->at[e] = i;
            k->before[e] = now;
        }
        now = dw_cohb_after(&k->law, now, ppm, time_s);
        if (isnan(now)) return DW_ERR_DOMAIN;
        k->most = fmax(k->most, now);
        if (level != NULL) level[i + 1] = now;
    }
    k->end = now;
    return DW_OK;
}

static void put_start(const dw_breath *b, double start_frac)
{
    dw_work_put(b->w, DW_WORK_DATA, "c_in",
                b->person->smoker ? "COHb usual in people who smoke"
                                  : "COHb usual in people who do not smoke",
                "", start_frac);
    dw_work_step_is(b->w, b->from_start ? "people.cohb_start course.0.cohb" : "people.cohb_start", "c_s",
                    "carboxyhaemoglobin (COHb) at the start", "", "c_in", start_frac, "cfk-parameters");
}

static void put_chain(const blood *k, bool counts)
{
    const dw_breath *b = k->b;
    const double *level = b->level;
    dw_working *w = b->w;
    dw_breath_stretches(b, dw_work_keepf(w, "Blood, %s", words[k->activity]));
    dw_work_column(w, DW_WORK_STEP, "c_0", "COHb before: c of the row before, or c_s", "",
                   level);
    static const dw_cohb_term way[] = {DW_COHB_OFFERED, DW_COHB_FINAL, DW_COHB_UNBOUND,
                                       DW_COHB_DISTANCE, DW_COHB_OWN_TIME};
    for (size_t i = 0; i < sizeof way / sizeof way[0]; i++) {
        dw_law_column(w, "", NULL, NULL, dw_cohb_law(way[i]), NULL);
    }
    for (size_t i = 0; i < b->count; i++) {
        b->scratch[i] = dw_cohb_left_after(&k->law, level[i], b->step[i].mean_ppm,
                                           b->step[i].until_s - dw_breath_from_s(b, i));
    }
    dw_work_column(w, DW_WORK_SOLVED, "y", "distance from that end afterwards / f", "", b->scratch);
    dw_work_balance(w, "", "y", "the equation, separated for constant C_m and integrated",
                    "y*exp(y - y_0) = y_0*exp(-tau)", "cfk1965");
    dw_law_column(w, counts ? "course.*.cohb" : "", NULL, NULL, dw_cohb_law(DW_COHB_AFTER),
                  level + 1);
    dw_work_put(w, DW_WORK_STEP, "c_n", "c of the last row", "", level[b->count]);
    dw_work_step_is(w, dw_work_keepf(w, "people.cohb_end_%s", keys[k->activity]), "c_end",
                    dw_work_keepf(w, "at the end, %s", words[k->activity]), "", "c_n",
                    k->end, "definition");
    if (!counts) return;
    dw_work_step_is(w, "people.cohb_peak", "c_max", "at the most", "", "max(c_s, largest(c))",
                    k->most, "definition");
}

/* When each level with an effect is reached, at the activity that counts. */
static void put_effects(const blood *k)
{
    const dw_breath *b = k->b;
    const dw_co_data *co = b->co;
    dw_working *w = b->w;
    bool at_once[DW_CO_EFFECT_MAX] = {false};
    double level[DW_CO_EFFECT_MAX], from[DW_CO_EFFECT_MAX], before[DW_CO_EFFECT_MAX],
        ppm[DW_CO_EFFECT_MAX], time[DW_CO_EFFECT_MAX];
    size_t index[DW_CO_EFFECT_MAX], rows = 0;
    for (size_t i = 0; i < co->effect_count; i++) {
        at_once[i] = k->reached_s[i] == 0.0;
        if (at_once[i] || !isfinite(k->reached_s[i])) continue;
        index[rows] = i;
        level[rows] = co->effect[i].level;
        from[rows] = dw_breath_from_s(b, k->at[i]);
        before[rows] = k->before[i];
        ppm[rows] = b->step[k->at[i]].mean_ppm;
        time[rows++] = k->reached_s[i];
    }
    const char *now = dw_breath_keys(w, "people.effects", "reached_s", at_once, co->effect_count);
    if (now[0] != '\0') {
        dw_work_step_is(w, now, "t_now", "levels at or below c_s are reached at once", "s", "0", 0.0,
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

/* The steps of an activity that was followed into b->level. */
static void put_blood(const blood *k, bool counts, double start_frac)
{
    dw_working *w = k->b->w;
    if (k->activity == DW_ACTIVITY_REST) put_start(k->b, start_frac);
    dw_work_section(w, "Blood: %s%s", words[k->activity], counts ? ", which counts" : "");
    dw_work_put(w, DW_WORK_DATA, "V_A", "air that reaches the air sacs of the lung", "m3/s",
                k->law.ventilation_m3_s);
    dw_work_put(w, DW_WORK_DATA, "D_L",
                "carbon monoxide that passes from the air sacs into the blood", "m3/(s Pa)",
                k->law.diffusing_m3_s_pa);
    (void)dw_cohb_resistance(&k->law, w);
    (void)dw_cohb_affinity_pa(&k->law, w);
    put_chain(k, counts);
    if (counts) put_effects(k);
}

static dw_status follow_activity(const dw_breath *b, dw_activity activity, dw_working *w, double *level,
                                 double start_frac, blood *k)
{
    *k = (blood){.b = b, .activity = activity};
    /* The person is written down once, with the first activity. */
    const dw_status status = dw_exposure_cohb(b->co, b->person, activity,
                                              activity == DW_ACTIVITY_REST ? w : NULL, &k->law);
    return status == DW_OK ? follow(k, start_frac, level) : status;
}

/* The same once more for who counts, or for all in steps. */
static dw_status keep(const dw_breath *b, double *cohb_frac, const dw_exposure *x)
{
    dw_work_section(b->w, "The person");
    dw_work_text(b->w, "Carbon monoxide and oxygen compete for haemoglobin. Over a stretch of "
                       "constant level the equation of Coburn, Forster and Kane, d(H_b*c)/dt = "
                       "V_CO/V_b + (C_m*1e-6*(P_B - P_W) - c*P_c/(M*(1 - c)))/(V_b*B), can be "
                       "separated; its integral is in the table as a balance. The figures are for "
                       "an average adult and are not a diagnosis.");
    for (int a = 0; a < DW_ACTIVITY_COUNT; a++) {
        const bool counts = (dw_activity)a == x->activity;
        if (!counts && b->w == NULL) continue;
        blood k;
        const dw_status status = follow_activity(b, (dw_activity)a, b->w, b->w != NULL ? b->level : cohb_frac,
                                                 x->start_frac, &k);
        if (status != DW_OK) return status;
        if (b->w != NULL) put_blood(&k, counts, x->start_frac);
    }
    return DW_OK;
}

dw_status dw_breath_blood(const dw_breath *b, double *cohb_frac, dw_exposure *x)
{
    const dw_exposure_person *person = b->person;
    const dw_co_person *p = &b->co->person;
    x->start_frac = person->smoker ? p->start_smoker_frac : p->start_frac;
    x->outside_promise = person->mass_kg < p->smallest_mass_kg || person->height_m < p->smallest_height_m;
    for (int a = 0; a < DW_ACTIVITY_COUNT; a++) {
        blood k;
        const dw_status status = follow_activity(b, (dw_activity)a, NULL, NULL, x->start_frac, &k);
        if (status != DW_OK) return status;
        x->end_frac[a] = k.end;
        x->peak_frac[a] = k.most;
        const bool counts = person->activity == DW_ROOM_ANY_ACTIVITY
                                ? a == DW_ACTIVITY_REST || k.most > x->peak_frac[x->activity]
                                : a == (int)person->activity;
        if (!counts) continue;
        x->activity = (dw_activity)a;
        memcpy(x->effect_s, k.reached_s, b->co->effect_count * sizeof *x->effect_s);
    }
    return b->w != NULL || cohb_frac != NULL ? keep(b, cohb_frac, x) : DW_OK;
}

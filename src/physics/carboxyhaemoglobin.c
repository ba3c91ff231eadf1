#include "carboxyhaemoglobin.h"

#include <math.h>
#include <stddef.h>

dw_status dw_cohb_check(const dw_cohb *person)
{
    if (person == NULL) return DW_ERR_ARG;
    const double above_zero[] = {person->haldane_ratio,     person->capillary_o2_pa,
                                 person->capacity_m3_m3,    person->blood_m3,
                                 person->ventilation_m3_s,  person->diffusing_m3_s_pa,
                                 person->barometric_pa_abs, person->water_pa};
    if (!isfinite(person->endogenous_m3_s)) return DW_ERR_ARG;
    if (person->endogenous_m3_s < 0.0) return DW_ERR_DOMAIN;
    for (size_t i = 0; i < sizeof above_zero / sizeof above_zero[0]; i++) {
        if (!isfinite(above_zero[i])) return DW_ERR_ARG;
        if (!(above_zero[i] > 0.0)) return DW_ERR_DOMAIN;
    }
    return person->barometric_pa_abs > person->water_pa ? DW_OK : DW_ERR_DOMAIN;
}

/* What the header's equation is made of. */
DW_LAW(resistance, "B", "resistance on the way from the air to the blood", "Pa s/m3", "cfk1965",
       (double D_L, double P_B, double P_W, double V_A), 1.0 / D_L + (P_B - P_W) / V_A)
DW_LAW(affinity, "b", "oxygen over affinity, in the same measure", "Pa", "cfk1965",
       (double P_c, double M), P_c / M)
DW_LAW(offered, "a", "carbon monoxide on offer: breathed in and made by the body", "Pa", "cfk1965",
       (double V_CO, double B, double C_m, double P_B, double P_W),
       V_CO * B + C_m * 1e-6 * (P_B - P_W))
DW_LAW(final, "c_e", "COHb that it would end at if held for ever", "", "cfk1965",
       (double a, double b), a / (a + b))
DW_LAW(unbound, "f", "share of haemoglobin that would then stay free", "", "cfk1965",
       (double a, double b), b / (a + b))
DW_LAW(distance, "y_0", "distance from that end / f", "", "cfk1965",
       (double c_e, double c_0, double f), (c_e - c_0) / f)
DW_LAW(own_time, "tau", "time in the equation's own measure", "", "cfk1965",
       (double a, double b, double t_0, double t_1, double V_b, double B, double H_b, double f),
       (a + b) * (t_1 - t_0) / (V_b * B * H_b * f))
DW_LAW(after, "c", "COHb at the end of the stretch", "", "cfk1965", (double c_e, double f, double y),
       c_e - f * y)
DW_LAW(reached, "t_l", "when it is reached", "s", "cfk1965",
       (double s_l, double V_b, double B, double H_b, double f_l, double a_l, double b, double y_b,
        double y_l),
       s_l + V_b * B * H_b * f_l / (a_l + b) * (y_b - y_l + log(y_b / y_l)))

const dw_law *dw_cohb_law(dw_cohb_term term)
{
    static const dw_law *const laws[] = {
        [DW_COHB_OFFERED] = &offered_law,   [DW_COHB_FINAL] = &final_law,
        [DW_COHB_UNBOUND] = &unbound_law,   [DW_COHB_DISTANCE] = &distance_law,
        [DW_COHB_OWN_TIME] = &own_time_law, [DW_COHB_AFTER] = &after_law,
        [DW_COHB_REACHED] = &reached_law};
    return laws[term];
}

double dw_cohb_resistance(const dw_cohb *p, dw_working *w)
{
    return DW_STEP(w, resistance,
                   (p->diffusing_m3_s_pa, p->barometric_pa_abs, p->water_pa, p->ventilation_m3_s));
}

double dw_cohb_affinity_pa(const dw_cohb *p, dw_working *w)
{
    return DW_STEP(w, affinity, (p->capillary_o2_pa, p->haldane_ratio));
}

/* The same, for one concentration. */
typedef struct terms {
    double a, b;                /* Pa                                             */
    double resistance;          /* B                                              */
    double end, rest;           /* shares of [Hb]max, as everything that uses them */
} terms;

static terms terms_of(const dw_cohb *p, double co_ppm)
{
    terms t = {.resistance = dw_cohb_resistance(p, NULL), .b = dw_cohb_affinity_pa(p, NULL)};
    t.a = offered(p->endogenous_m3_s, t.resistance, co_ppm, p->barometric_pa_abs, p->water_pa);
    t.end = final(t.a, t.b);
    t.rest = unbound(t.a, t.b);
    return t;
}

static double passed(const dw_cohb *p, const terms *t, double time_s)
{
    return own_time(t->a, t->b, 0.0, time_s, p->blood_m3, t->resistance, p->capacity_m3_m3, t->rest);
}

/* y > 0 with y + ln y = x: increasing and concave, so Newton's steps from the left never overshoot. */
static double rising(double x)
{
    double y = x > 1.0 ? x - log(x) : exp(x - 1.0);
    if (x < -30.0) return exp(x);
    for (int i = 0; i < 60; i++) {
        const double step = (y + log(y) - x) / (1.0 + 1.0 / y);
        double next = y - step;
        if (!(next > 0.0)) next = 0.5 * y;
        if (fabs(next - y) <= 1.0e-16 * y) return next;
        y = next;
    }
    return y;
}

/* y in (0, 1) with ln y - y = x, x < -1: increasing and concave there. */
static double falling(double x)
{
    double y = exp(x);
    if (!(y > 0.0)) return y; /* smaller than any number */
    for (int i = 0; i < 80; i++) {
        const double step = (log(y) - y - x) / (1.0 / y - 1.0);
        const double next = y - step;
        if (!(next > 0.0 && next < 1.0)) break;
        if (fabs(next - y) <= 1.0e-16 * y) return next;
        y = next;
    }
    return y;
}

double dw_cohb_left(double left_at_start, double passed)
{
    if (left_at_start == 0.0) return 0.0;
    if (left_at_start > 0.0) return rising(left_at_start + log(left_at_start) - passed);
    /* Below 1: the start lies below 1. */
    return -falling(log(-left_at_start) + left_at_start - passed);
}

static bool bad_input(double start_frac, double co_ppm, double time_s)
{
    return !(start_frac >= 0.0 && start_frac < 1.0) || !(co_ppm >= 0.0 && co_ppm <= 1.0e6) ||
           !(time_s >= 0.0);
}

double dw_cohb_left_after(const dw_cohb *person, double start_frac, double co_ppm, double time_s)
{
    const terms t = terms_of(person, co_ppm);
    return dw_cohb_left(distance(t.end, start_frac, t.rest), passed(person, &t, time_s));
}

double dw_cohb_after(const dw_cohb *person, double start_frac, double co_ppm, double time_s)
{
    if (bad_input(start_frac, co_ppm, time_s)) return NAN;
    const terms t = terms_of(person, co_ppm);
    if (isinf(time_s) || start_frac == t.end) return t.end;
    return after(t.end, t.rest, dw_cohb_left_after(person, start_frac, co_ppm, time_s));
}

double dw_cohb_time_to(const dw_cohb *person, double start_frac, double co_ppm, double level_frac)
{
    if (bad_input(start_frac, co_ppm, 0.0) || isnan(level_frac)) return NAN;
    if (start_frac >= level_frac) return 0.0;
    const terms t = terms_of(person, co_ppm);
    if (!(t.end > level_frac)) return INFINITY;
    return reached(0.0, person->blood_m3, t.resistance, person->capacity_m3_m3, t.rest, t.a, t.b,
                   distance(t.end, start_frac, t.rest), distance(t.end, level_frac, t.rest));
}

DW_LAW(blood_of_a_woman, "V_b", "blood of a woman", "m3", "cfk-parameters", (double h_p, double m_p),
       1e-6 * (356.1 * pow(h_p, 3.0) + 33.08 * m_p + 183.3))
DW_LAW(blood_of_a_man, "V_b", "blood of a man", "m3", "cfk-parameters", (double h_p, double m_p),
       1e-6 * (366.9 * pow(h_p, 3.0) + 32.19 * m_p + 604.1))

double dw_blood_volume_m3(double height_m, double mass_kg, bool female, dw_working *w)
{
    if (!(height_m >= 1.0 && height_m <= 2.2) || !(mass_kg >= 30.0 && mass_kg <= 200.0)) return NAN;
    return female ? DW_STEP(w, blood_of_a_woman, (height_m, mass_kg))
                  : DW_STEP(w, blood_of_a_man, (height_m, mass_kg));
}

DW_LAW(capillary_o2, "P_c", "oxygen in the capillaries of the lung", "Pa", "cfk-parameters",
       (double P_cr, double x_o2, double P_r, double P_B), P_cr - x_o2 * fmax(P_r - P_B, 0.0))

double dw_capillary_o2_pa(double reference_pa, double x_o2, double barometric_pa_abs,
                          double barometric_reference_pa_abs, dw_working *w)
{
    const double pa =
        DW_STEP_AS(w, "", DW_LAW_TEXT(w, "x_o2>%.6f", x_o2), NULL, capillary_o2,
                   (reference_pa, x_o2, barometric_reference_pa_abs, barometric_pa_abs));
    return pa >= 0.1 * reference_pa ? pa : NAN;
}

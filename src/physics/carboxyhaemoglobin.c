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

/* What the header's equation is made of, for one concentration. */
typedef struct terms {
    double a, b;        /* Pa */
    double blood_times_b; /* Vb B, s Pa ... of a volume fraction */
} terms;

static terms terms_of(const dw_cohb *p, double co_ppm)
{
    const double dry_pa = p->barometric_pa_abs - p->water_pa;
    const double resistance = 1.0 / p->diffusing_m3_s_pa + dry_pa / p->ventilation_m3_s;
    return (terms){.a = p->endogenous_m3_s * resistance + co_ppm * 1.0e-6 * dry_pa,
                   .b = p->capillary_o2_pa / p->haldane_ratio,
                   .blood_times_b = p->blood_m3 * resistance};
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

double dw_cohb_equilibrium(const dw_cohb *person, double co_ppm)
{
    if (!(co_ppm >= 0.0 && co_ppm <= 1.0e6)) return NAN;
    const terms t = terms_of(person, co_ppm);
    return t.a / (t.a + t.b);
}

double dw_cohb_after(const dw_cohb *person, double start_frac, double co_ppm, double time_s)
{
    if (bad_input(start_frac, co_ppm, time_s)) return NAN;
    const terms t = terms_of(person, co_ppm);
    const double end = t.a / (t.a + t.b); /* shares of [Hb]max, as everything below */
    const double rest = t.b / (t.a + t.b);
    if (isinf(time_s) || start_frac == end) return end;
    const double passed =
        (t.a + t.b) * time_s / (t.blood_times_b * person->capacity_m3_m3 * rest);
    return end - rest * dw_cohb_left((end - start_frac) / rest, passed);
}

double dw_cohb_after_linear(const dw_cohb *person, double start_frac, double co_ppm, double time_s)
{
    if (bad_input(start_frac, co_ppm, time_s)) return NAN;
    const terms t = terms_of(person, co_ppm);
    const double end = t.a / t.b;
    const double passed = t.b * time_s / (t.blood_times_b * person->capacity_m3_m3);
    return end + (start_frac - end) * exp(-passed);
}

double dw_cohb_time_to(const dw_cohb *person, double start_frac, double co_ppm, double level_frac)
{
    if (bad_input(start_frac, co_ppm, 0.0) || isnan(level_frac)) return NAN;
    if (start_frac >= level_frac) return 0.0;
    const terms t = terms_of(person, co_ppm);
    const double end = t.a / (t.a + t.b), rest = t.b / (t.a + t.b);
    if (!(end > level_frac)) return INFINITY;
    const double u0 = (end - start_frac) / rest, u = (end - level_frac) / rest;
    const double passed = u0 - u + log(u0 / u);
    return passed * t.blood_times_b * person->capacity_m3_m3 * rest / (t.a + t.b);
}

double dw_blood_volume_m3(double height_m, double mass_kg, bool female)
{
    if (!(height_m >= 1.0 && height_m <= 2.2) || !(mass_kg >= 30.0 && mass_kg <= 200.0)) return NAN;
    const double cube = height_m * height_m * height_m;
    const double ml = female ? 356.1 * cube + 33.08 * mass_kg + 183.3
                             : 366.9 * cube + 32.19 * mass_kg + 604.1;
    return 1.0e-6 * ml;
}

double dw_capillary_o2_pa(double reference_pa, double x_o2, double barometric_pa_abs,
                          double barometric_reference_pa_abs)
{
    const double below = barometric_reference_pa_abs - barometric_pa_abs;
    const double pa = below > 0.0 ? reference_pa - x_o2 * below : reference_pa;
    return pa >= 0.1 * reference_pa ? pa : NAN;
}

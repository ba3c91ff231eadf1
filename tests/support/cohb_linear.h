#ifndef COHB_LINEAR_H
#define COHB_LINEAR_H

/**
 * @file cohb_linear.h
 * The linear form of the equation of Coburn, Forster and Kane, which older tables were worked out with:
 * haemoglobin that is still free counts as all of it. It can exceed 1.
 */

#include <math.h>

#include "carboxyhaemoglobin.h"

/** Saturation after a time in air of constant CO; see dw_cohb_after(). */
static inline double cohb_after_linear(const dw_cohb *p, double start_frac, double co_ppm, double time_s)
{
    const double resistance = dw_cohb_resistance(p, NULL), b = dw_cohb_affinity_pa(p, NULL);
    const double offered =
        p->endogenous_m3_s * resistance + 1e-6 * co_ppm * (p->barometric_pa_abs - p->water_pa);
    const double end = offered / b;
    return end + (start_frac - end) * exp(-b * time_s / (p->blood_m3 * resistance * p->capacity_m3_m3));
}

#endif

#include "flammability.h"

#include <math.h>

double dw_flammable_ratio(const double *x, const double *lean_limit_x, size_t count)
{
    double sum = 0.0;
    for (size_t i = 0; i < count; i++) {
        if (!isnan(lean_limit_x[i])) sum += x[i] / lean_limit_x[i];
    }
    return sum;
}

DW_LAW(part_limit, "x_lim", "lean limit of the part of the chamber gas that burns", "", "le-chatelier",
       (double a, double r), a / r)
const dw_law *const dw_flammable_limit_law = &part_limit_law;

/* What of a gas has a limit. */
static double burning_part(const double *x, const double *limit_x, size_t count)
{
    double burns = 0.0;
    for (size_t i = 0; i < count; i++) {
        if (!isnan(limit_x[i])) burns += x[i];
    }
    return burns;
}

double dw_flammable_limit(const double *x, const double *limit_x, size_t count)
{
    const double burns = burning_part(x, limit_x, count);
    return burns > 0.0 ? part_limit(burns, dw_flammable_ratio(x, limit_x, count)) : NAN;
}

/* As they are shown: worked out from the limit of the part that burns. */
static const dw_law lean_limit_law = {"x_lean", "least gas in air that burns", "", "le-chatelier",
                                      "(1.0 - slope*(T_room - 298.15))/n"};
static const dw_law rich_limit_law = {"x_rich", "to", "", "le-chatelier", "fmin(1.0/n, 1.0)"};
DW_LAW(hot_ratio, "r_hot", "chamber gas / its lean limit at its own temperature", "", "burgess-wheeler",
       (double r_lim, double slope, double T_gas), r_lim / (1.0 - slope * (T_gas - 298.15)))
DW_LAW(fill_time, "t", "time until a space is at the lean limit", "s", "definition",
       (double x_lean, double V, double q), x_lean * V / q)

static bool rule_holds(double temperature_k)
{
    return temperature_k >= DW_FLAMMABLE_LOW_K && temperature_k <= DW_FLAMMABLE_HIGH_K;
}

double dw_lean_limit_factor(double slope_per_k, double temperature_k)
{
    return rule_holds(temperature_k) ? 1.0 - slope_per_k * (temperature_k - 298.15) : NAN;
}

double dw_lean_limit(const double *x, const double *limit_x, size_t count, double slope_per_k,
                     double temperature_k, const char *keys, dw_working *w)
{
    const double whole = dw_flammable_limit(x, limit_x, count) *
                         dw_lean_limit_factor(slope_per_k, temperature_k) / burning_part(x, limit_x, count);
    if (isnan(whole)) return NAN;
    return dw_law_step(w, keys, "n>sum(a_f/l_f)", NULL, &lean_limit_law, whole);
}

double dw_rich_limit(const double *x, const double *limit_x, size_t count, const char *keys, dw_working *w)
{
    const double burns = burning_part(x, limit_x, count);
    if (!(burns > 0.0)) return NAN;
    return dw_law_step(w, keys, "n>sum(a_f/r_f)", NULL, &rich_limit_law,
                       fmin(dw_flammable_limit(x, limit_x, count) / burns, 1.0));
}

double dw_flammable_ratio_hot(double ratio, double slope_per_k, double temperature_k, const char *keys,
                              dw_working *w)
{
    if (!rule_holds(temperature_k)) return NAN;
    return DW_STEP_FOR(w, keys, hot_ratio, (ratio, slope_per_k, temperature_k));
}

double dw_fill_time_s(double limit_x, double volume_m3, double gas_m3_s, const char *keys, const char *names,
                      const char *meaning, dw_working *w)
{
    if (!(gas_m3_s > 0.0)) return INFINITY;
    return DW_STEP_AS(w, keys, names, meaning, fill_time, (limit_x, volume_m3, gas_m3_s));
}

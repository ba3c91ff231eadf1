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

double dw_flammable_limit(const double *x, const double *limit_x, size_t count)
{
    double burns = 0.0;
    for (size_t i = 0; i < count; i++) {
        if (!isnan(limit_x[i])) burns += x[i];
    }
    return burns > 0.0 ? burns / dw_flammable_ratio(x, limit_x, count) : NAN;
}

double dw_lean_limit_factor(double slope_per_k, double temperature_k)
{
    if (!(temperature_k >= DW_FLAMMABLE_LOW_K && temperature_k <= DW_FLAMMABLE_HIGH_K)) return NAN;
    return 1.0 - slope_per_k * (temperature_k - 298.15);
}

double dw_fill_time_s(double limit_x, double volume_m3, double gas_m3_s)
{
    return gas_m3_s > 0.0 ? limit_x * volume_m3 / gas_m3_s : INFINITY;
}

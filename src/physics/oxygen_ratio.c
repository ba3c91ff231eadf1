#include "oxygen_ratio.h"

#include <math.h>

dw_status dw_oxygen_ratio_at(const dw_gas_set *set, double temperature_k, dw_oxygen_ratio *ratio)
{
    if (ratio == NULL) return DW_ERR_ARG;
    *ratio = (dw_oxygen_ratio){temperature_k, NAN, NAN};
    dw_gas_potentials at;
    const dw_status status = dw_gas_potentials_at(set, temperature_k, &at);
    if (status != DW_OK) return status;
    const double *g = at.g_rt;
    const double half_o2 = 0.5 * g[set->role[DW_ROLE_O2]];
    ratio->log10_k_co =
        (g[set->role[DW_ROLE_CO]] + half_o2 - g[set->role[DW_ROLE_CO2]]) / log(10.0);
    ratio->log10_k_h2 =
        (g[set->role[DW_ROLE_H2]] + half_o2 - g[set->role[DW_ROLE_H2O]]) / log(10.0);
    return DW_OK;
}

static double oxygen(double log10_k, double ratio)
{
    return ratio > 0.0 ? -2.0 * (log10_k + log10(ratio)) : NAN;
}

double dw_oxygen_from_co_co2(const dw_oxygen_ratio *constants, double co_co2_ratio)
{
    return oxygen(constants->log10_k_co, co_co2_ratio);
}

double dw_oxygen_from_h2_h2o(const dw_oxygen_ratio *constants, double h2_h2o_ratio)
{
    return oxygen(constants->log10_k_h2, h2_h2o_ratio);
}

double dw_co_co2_from_oxygen(const dw_oxygen_ratio *constants, double log10_po2_bar)
{
    return pow(10.0, -0.5 * log10_po2_bar - constants->log10_k_co);
}

double dw_h2_h2o_from_oxygen(const dw_oxygen_ratio *constants, double log10_po2_bar)
{
    return pow(10.0, -0.5 * log10_po2_bar - constants->log10_k_h2);
}

#include "oxygen.h"

#include <math.h>

#include "constants.h"

DW_LAW(splits_co2, "K_1", "constant of CO2 = CO + O2/2", "bar^(1/2)", "nasa9",
       (double gT_CO2, double gT_CO, double gT_O2), exp(gT_CO2 - gT_CO - gT_O2 / 2.0))
DW_LAW(splits_h2o, "K_2", "constant of H2O = H2 + O2/2", "bar^(1/2)", "nasa9",
       (double gT_H2O, double gT_H2, double gT_O2), exp(gT_H2O - gT_H2 - gT_O2 / 2.0))
DW_LAW(ratio_of, "CO_CO2", "CO / CO2 at equilibrium", "", "nasa9", (double K_1, double lg_pO2),
       K_1 / pow(10.0, lg_pO2 / 2.0))
DW_LAW(oxygen_of, "lg_pO2", "logarithm of the oxygen pressure in bar", "", "nasa9",
       (double K_1, double CO_CO2_in), 2.0 * log10(K_1 / CO_CO2_in))

const dw_law *const dw_splits_co2_law = &splits_co2_law, *const dw_splits_h2o_law = &splits_h2o_law,
             *const dw_gas_ratio_law = &ratio_of_law, *const dw_ratio_oxygen_law = &oxygen_of_law;

dw_status dw_oxygen_ratio_at(const dw_gas_set *set, double temperature_k, dw_oxygen_ratio *ratio)
{
    if (ratio == NULL) return DW_ERR_ARG;
    *ratio = (dw_oxygen_ratio){temperature_k, NAN, NAN};
    dw_gas_potentials at;
    const dw_status status = dw_gas_potentials_at(set, temperature_k, &at);
    if (status != DW_OK) return status;
    const double *g = at.g_rt;
    const int *role = set->role;
    ratio->k_co2 = splits_co2(g[role[DW_ROLE_CO2]], g[role[DW_ROLE_CO]], g[role[DW_ROLE_O2]]);
    ratio->k_h2o = splits_h2o(g[role[DW_ROLE_H2O]], g[role[DW_ROLE_H2]], g[role[DW_ROLE_O2]]);
    return DW_OK;
}

static double oxygen(double k, double ratio)
{
    return ratio > 0.0 ? oxygen_of(k, ratio) : NAN;
}

double dw_oxygen_from_co_co2(const dw_oxygen_ratio *constants, double co_co2_ratio)
{
    return oxygen(constants->k_co2, co_co2_ratio);
}

double dw_oxygen_from_h2_h2o(const dw_oxygen_ratio *constants, double h2_h2o_ratio)
{
    return oxygen(constants->k_h2o, h2_h2o_ratio);
}

double dw_co_co2_from_oxygen(const dw_oxygen_ratio *constants, double log10_po2_bar)
{
    return ratio_of(constants->k_co2, log10_po2_bar);
}

double dw_h2_h2o_from_oxygen(const dw_oxygen_ratio *constants, double log10_po2_bar)
{
    return ratio_of(constants->k_h2o, log10_po2_bar);
}

/* ---- probe ----------------------------------------------------------------------------------- */

DW_LAW(emf, "E_p", "voltage of a zirconia probe against dry air", "V", "nernst",
       (double T_gas, double lg_pO2, double p_air, double R, double F),
       R * T_gas / (4.0 * F) * log(0.2095 * p_air / 100000.0 / pow(10.0, lg_pO2)))
DW_LAW(probe_oxygen, "lg_pO2", "logarithm of the oxygen pressure in bar", "", "nernst",
       (double T_gas, double E_in, double p_air, double R, double F),
       log10(0.2095 * p_air / 100000.0) - E_in * 4.0 * F / (R * T_gas * log(10.0)))

const dw_law *const dw_probe_emf_law = &emf_law, *const dw_probe_oxygen_law = &probe_oxygen_law;

double dw_probe_emf_v(double log10_po2_bar, double temperature_k, double pressure_pa_abs)
{
    if (!(temperature_k > 0.0 && pressure_pa_abs > 0.0)) return NAN;
    return emf(temperature_k, log10_po2_bar, pressure_pa_abs, DW_R_J_MOL_K, DW_FARADAY_C_MOL);
}

double dw_probe_log10_po2_bar(double emf_v, double temperature_k, double pressure_pa_abs)
{
    if (!(temperature_k > 0.0 && pressure_pa_abs > 0.0)) return NAN;
    return probe_oxygen(temperature_k, emf_v, pressure_pa_abs, DW_R_J_MOL_K, DW_FARADAY_C_MOL);
}

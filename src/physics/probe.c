#include "probe.h"

#include <math.h>

#include "constants.h"

DW_LAW(emf, "E_p", "voltage of a zirconia probe against dry air", "V", "nernst",
       (double T_gas, double lg_pO2, double p_air, double R, double F),
       R * T_gas / (4.0 * F) * log(0.2095 * p_air / 100000.0 / pow(10.0, lg_pO2)))
DW_LAW(oxygen, "lg_pO2", "logarithm of the oxygen pressure in bar", "", "nernst",
       (double T_gas, double E_in, double p_air, double R, double F),
       log10(0.2095 * p_air / 100000.0) - E_in * 4.0 * F / (R * T_gas * log(10.0)))

const dw_law *const dw_probe_emf_law = &emf_law, *const dw_probe_oxygen_law = &oxygen_law;

double dw_probe_emf_v(double log10_po2_bar, double temperature_k, double pressure_pa_abs)
{
    if (!(temperature_k > 0.0 && pressure_pa_abs > 0.0)) return NAN;
    return emf(temperature_k, log10_po2_bar, pressure_pa_abs, DW_R_J_MOL_K, DW_FARADAY_C_MOL);
}

double dw_probe_log10_po2_bar(double emf_v, double temperature_k, double pressure_pa_abs)
{
    if (!(temperature_k > 0.0 && pressure_pa_abs > 0.0)) return NAN;
    return oxygen(temperature_k, emf_v, pressure_pa_abs, DW_R_J_MOL_K, DW_FARADAY_C_MOL);
}

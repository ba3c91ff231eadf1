#include "probe.h"

#include <math.h>

#include "constants.h"

/* ln(10) R/(4 F) [V/K]: volts per kelvin and per decade of oxygen pressure. */
#define DECADE_V_K (2.302585092994045684 * DW_R_J_MOL_K / (4.0 * DW_FARADAY_C_MOL))

static double log10_reference_bar(double pressure_pa_abs)
{
    return log10(DW_PROBE_REFERENCE_X_O2 * pressure_pa_abs / DW_BAR_PA);
}

double dw_probe_emf_v(double log10_po2_bar, double temperature_k, double pressure_pa_abs)
{
    if (!(temperature_k > 0.0 && pressure_pa_abs > 0.0)) return NAN;
    return DECADE_V_K * temperature_k * (log10_reference_bar(pressure_pa_abs) - log10_po2_bar);
}

double dw_probe_log10_po2_bar(double emf_v, double temperature_k, double pressure_pa_abs)
{
    if (!(temperature_k > 0.0 && pressure_pa_abs > 0.0)) return NAN;
    return log10_reference_bar(pressure_pa_abs) - emf_v / (DECADE_V_K * temperature_k);
}

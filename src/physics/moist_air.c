#include "moist_air.h"

#include <math.h>
#include <stddef.h>

#include "constants.h"

/* Molar masses [kg/mol] as in the species table, so that masses close. */
#define M_N2 28.0134e-3
#define M_O2 31.9988e-3
#define M_AR 39.948e-3
#define M_CO2 44.0095e-3
#define M_H2O 18.01528e-3

/* -40 and 100 degC, with a hair of slack: -40 degC read from a description is 273.15 - 40, which is less than
 * 233.15 by rounding. */
#define LOWEST_K (233.15 - 1e-9)
#define HIGHEST_K (373.15 + 1e-9)

double dw_water_saturation_pressure_pa(double temperature_k)
{
    if (!(temperature_k >= LOWEST_K && temperature_k <= HIGHEST_K)) return NAN;
    const double t = temperature_k;
    return exp((1.2378847e-5 * t - 1.9121316e-2) * t + 33.93711047 - 6343.1645 / t);
}

double dw_water_enhancement_factor(double temperature_k, double pressure_pa_abs)
{
    const double t_c = temperature_k - DW_ICE_POINT_K;
    return 1.00062 + 3.14e-8 * pressure_pa_abs + 5.6e-7 * t_c * t_c;
}

static void set_nan(dw_moist_air *air)
{
    air->x_h2o = air->x_n2 = air->x_o2 = air->x_ar = air->x_co2 = NAN;
    air->molar_mass_kg_mol = NAN;
    air->in_published_range = false;
}

dw_status dw_moist_air_from_humidity(double temperature_k, double pressure_pa_abs,
                                     double relative_humidity, dw_moist_air *air)
{
    if (air == NULL) return DW_ERR_ARG;
    set_nan(air);
    if (!isfinite(temperature_k) || !isfinite(pressure_pa_abs) || !isfinite(relative_humidity)) {
        return DW_ERR_ARG;
    }
    if (!(temperature_k >= LOWEST_K && temperature_k <= HIGHEST_K) || !(pressure_pa_abs > 0.0) ||
        !(relative_humidity >= 0.0 && relative_humidity <= 1.0)) {
        return DW_ERR_DOMAIN;
    }
    const double x = relative_humidity *
                     dw_water_enhancement_factor(temperature_k, pressure_pa_abs) *
                     dw_water_saturation_pressure_pa(temperature_k) / pressure_pa_abs;
    if (!(x < 1.0)) return DW_ERR_DOMAIN;

    const double dry = 1.0 - x;
    air->x_h2o = x;
    air->x_n2 = dry * DW_DRY_AIR_X_N2;
    air->x_o2 = dry * DW_DRY_AIR_X_O2;
    air->x_ar = dry * DW_DRY_AIR_X_AR;
    air->x_co2 = dry * DW_DRY_AIR_X_CO2;
    air->molar_mass_kg_mol =
        air->x_n2 * M_N2 + air->x_o2 * M_O2 + air->x_ar * M_AR + air->x_co2 * M_CO2 + x * M_H2O;
    air->in_published_range = temperature_k >= DW_ICE_POINT_K + 15.0 &&
                              temperature_k <= DW_ICE_POINT_K + 27.0 &&
                              pressure_pa_abs >= 60000.0 && pressure_pa_abs <= 110000.0;
    return DW_OK;
}

double dw_ideal_gas_density_kg_m3(double molar_mass_kg_mol, double temperature_k,
                                  double pressure_pa_abs)
{
    return pressure_pa_abs * molar_mass_kg_mol / (DW_R_J_MOL_K * temperature_k);
}

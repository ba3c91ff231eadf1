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

/* As degC are turned into kelvins: -40 degC is a little below 233.15 in binary. */
#define LOWEST_K (DW_ICE_POINT_K - 40.0)
#define HIGHEST_K (DW_ICE_POINT_K + 100.0)

/* As they are shown; worked out with fewer powers. */
static const dw_law saturation_law = {
    "p_sat", "pressure of water vapour in saturated air", "Pa", "cipm2007",
    "exp(1.2378847e-5*pow(T_air, 2.0) - 1.9121316e-2*T_air + 33.93711047 - 6343.1645/T_air)"};
static const dw_law enhancement_law = {
    "f_sat", "factor by which air holds more vapour than empty space would", "", "cipm2007",
    "1.00062 + 3.14e-8*p_air + 5.6e-7*pow(T_air - 273.15, 2.0)"};
DW_LAW(vapour_share, "x_w", "share of vapour in the air, by moles", "", "cipm2007",
       (double h_rel, double f_sat, double p_sat, double p_air), h_rel * f_sat * p_sat / p_air)
DW_LAW(ideal_density, "rho", "density", "kg/m3", "definition",
       (double p_air, double M, double R, double T), p_air * M / (R * T))

const dw_law *const dw_ideal_gas_density_law = &ideal_density_law;

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
                                     double relative_humidity, dw_working *w, dw_moist_air *air)
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
    (void)dw_law_given(w, DW_WORK_INPUT, "T_air", "temperature at which the humidity was measured", "K",
                       temperature_k);
    const double h_rel =
        dw_law_given(w, DW_WORK_INPUT, "h_rel", "relative humidity", "", relative_humidity);
    const double p_sat = dw_law_step(w, "", NULL, NULL, &saturation_law,
                                     dw_water_saturation_pressure_pa(temperature_k));
    const double f_sat = dw_law_step(w, "", NULL, NULL, &enhancement_law,
                                     dw_water_enhancement_factor(temperature_k, pressure_pa_abs));
    const double x = DW_STEP(w, vapour_share, (h_rel, f_sat, p_sat, pressure_pa_abs));
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
    return ideal_density(pressure_pa_abs, molar_mass_kg_mol, DW_R_J_MOL_K, temperature_k);
}

/* ---- by height ------------------------------------------------------------------------------- */

/* ISO 2533, layer from -2 to 11 km of geopotential height. */
#define TEMPERATURE_SEA_K 288.15
#define LAPSE_K_M 0.0065
#define LOWEST_M (-2000.0)
#define HIGHEST_M 11000.0

double dw_atmosphere_temperature_k(double elevation_m)
{
    if (!(elevation_m >= LOWEST_M && elevation_m <= HIGHEST_M)) return NAN;
    return TEMPERATURE_SEA_K - LAPSE_K_M * elevation_m;
}

/* As it is shown: the temperature ratio is 1 - 0.0065 H/288.15. */
static const dw_law pressure_law = {"p_air", "pressure of the air here, absolute", "Pa", "iso2533",
                                    "101325.0*pow(1.0 - 0.0065*H/288.15, 5.25588)"};

double dw_atmosphere_pressure_pa(double elevation_m, const char *keys, dw_working *w)
{
    const double ratio = dw_atmosphere_temperature_k(elevation_m) / TEMPERATURE_SEA_K;
    (void)dw_law_given(w, DW_WORK_INPUT, "H", "height above the sea", "m", elevation_m);
    return dw_law_step(w, keys, NULL, NULL, &pressure_law, 101325.0 * pow(ratio, 5.25588));
}

#ifndef DW_MOIST_AIR_H
#define DW_MOIST_AIR_H

/**
 * @file moist_air.h
 * Air: composition, molar mass and density with its water vapour, pressure by height above the sea.
 *
 * Layer: physics. Pure functions, no state, no allocation.
 */

#include <stdbool.h>

#include "dw_status.h"
#include "law.h"

/** Dry air, mole fractions [rp1311]: the one dry air of the whole program. They sum to 1. */
#define DW_DRY_AIR_X_N2 0.78084
#define DW_DRY_AIR_X_O2 0.209476
#define DW_DRY_AIR_X_AR 0.009365
#define DW_DRY_AIR_X_CO2 0.000319

/** Moist air: shares of the whole, vapour included. */
typedef struct dw_moist_air {
    double x_h2o;             /**< mole fraction of water vapour, 0..1                          */
    double x_n2;              /**< mole fraction in the moist air                               */
    double x_o2;              /**< mole fraction in the moist air                               */
    double x_ar;              /**< mole fraction in the moist air                               */
    double x_co2;             /**< mole fraction in the moist air; the five sum to 1            */
    double molar_mass_kg_mol; /**< of the mixture, by the molar masses of the species table     */
    bool in_published_range;  /**< 15..27 degC and 600..1100 hPa; outside it the number stands  */
} dw_moist_air;

/**
 * Saturation pressure [Pa] of water vapour over liquid water.
 *
 *     p_sv = exp(A T^2 + B T + C + D / T)
 *
 * @param[in] temperature_k  233.15..373.15 K.
 * @return pressure without the enhancement factor; NaN outside the range.
 *
 * @par Holds when  published for 15..27 degC. Stretched to 0 degC it gives 611.2 Pa and to 100 degC
 *                  101384 Pa, within 0.1 % of the values known for ice and boiling point.
 * @par Source      [cipm2007] equation A1.1.
 * @par Checked by  tests/unit/physics/test_moist_air.c, tests/reference/air.csv
 */
double dw_water_saturation_pressure_pa(double temperature_k);

/**
 * Enhancement factor of water vapour in air: how much more vapour saturated air holds than the
 * saturation pressure says, 1.003..1.005.
 *
 *     f = 1.00062 + 3.14e-8 p + 5.6e-7 t^2,   t in degC
 *
 * Source [cipm2007] equation A1.2. No checks of its arguments.
 */
double dw_water_enhancement_factor(double temperature_k, double pressure_pa_abs);

/**
 * Composition of moist air from temperature, pressure and relative humidity.
 *
 *     x_h2o = h f(p, T) p_sv(T) / p
 *
 * @param[in]  temperature_k      the temperature the humidity refers to, 233.15..373.15 K.
 * @param[in]  pressure_pa_abs    total pressure, > 0.
 * @param[in]  relative_humidity  h, 0..1, over liquid water.
 * @param[in]  w                  NULL, or a working: gets the steps up to x_w, and must have p_air.
 * @param[out] air                not NULL; doubles are NaN on failure.
 *
 * @retval DW_OK          air is set; in_published_range says whether the formula was stretched.
 * @retval DW_ERR_ARG     a pointer is NULL or a number not finite.
 * @retval DW_ERR_DOMAIN  an input is out of range, or the vapour pressure reaches the total.
 *
 * @par Holds when  ideal mixture: density within 0.05 % of the real-gas formula at room conditions.
 * @par Source      [cipm2007].
 * @par Checked by  tests/unit/physics/test_moist_air.c, tests/reference/air.csv
 */
DW_MUST_CHECK
dw_status dw_moist_air_from_humidity(double temperature_k, double pressure_pa_abs,
                                     double relative_humidity, dw_working *w, dw_moist_air *air);

/**
 * Density [kg/m3] of an ideal gas, `p M / (R T)`.
 *
 * No checks: three positive numbers give a positive density, NaN gives NaN.
 */
double dw_ideal_gas_density_kg_m3(double molar_mass_kg_mol, double temperature_k,
                                  double pressure_pa_abs);

/** The law as it is shown: `rho = p_air*M/(R*T)`. */
extern const dw_law *const dw_ideal_gas_density_law;

/**
 * Absolute pressure [Pa] of the standard atmosphere at an elevation.
 *
 *     p = 101325 (1 - 0.0065 H / 288.15)^5.25588
 *
 * H is the geopotential height. A map elevation taken for it is wrong by H/6357 km: at 2000 m
 * the pressure comes out 6 Pa (0.01 %) low, far less than the weather moves it.
 *
 * @param[in] elevation_m  -2000..11000 m above sea level.
 * @param[in] keys, w      JSON keys of the step, and the working that gets it; NULL: none.
 * @return pressure; NaN outside the range.
 *
 * @par Holds when  within the lowest layer of the standard atmosphere; weather: about +/-3 %.
 * @par Source      [iso2533] ISO 2533:1975, the same as ICAO and US 1976 in this layer.
 * @par Checked by  tests/unit/physics/test_moist_air.c, tests/reference/air.csv
 */
double dw_atmosphere_pressure_pa(double elevation_m, const char *keys, dw_working *w);

/** Temperature [K] of the standard atmosphere, `288.15 - 0.0065 H`; range, source and checks as
 *  for dw_atmosphere_pressure_pa(). */
double dw_atmosphere_temperature_k(double elevation_m);

#endif

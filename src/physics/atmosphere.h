#ifndef DW_ATMOSPHERE_H
#define DW_ATMOSPHERE_H

/**
 * @file atmosphere.h
 * Pressure and temperature of the standard atmosphere against elevation.
 *
 * Layer: physics. Pure functions, no state, no allocation.
 */

#include "law.h"

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
 * @par Checked by  tests/unit/physics/test_atmosphere.c, tests/reference/air.csv
 */
double dw_atmosphere_pressure_pa(double elevation_m, const char *keys, dw_working *w);

/** Temperature [K] of the standard atmosphere, `288.15 - 0.0065 H`; range, source and checks as
 *  for dw_atmosphere_pressure_pa(). */
double dw_atmosphere_temperature_k(double elevation_m);

#endif

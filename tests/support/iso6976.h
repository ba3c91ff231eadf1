#ifndef DW_TEST_ISO6976_H
#define DW_TEST_ISO6976_H

/**
 * @file iso6976.h
 * Heating value, density and Wobbe index of a fuel gas as the gas trade states them: a second
 * opinion on fuel.h from an independent set of constants, and real-gas volumes.
 *
 * The program reads none of it. Pure functions, no state, no allocation.
 */

#include "species.h"

/** Conditions that go with every heating value per volume: the two differ in most countries. */
typedef struct dw_iso6976_conditions {
    double combustion_temperature_k;   /**< 273.15..298.15 K                              */
    double metering_temperature_k;     /**< 273.15..293.15 K                              */
    double metering_pressure_pa_abs;   /**< 90..110 kPa                                   */
    bool real_gas;                     /**< false: compression factors of gas and air are 1 */
} dw_iso6976_conditions;

typedef struct dw_iso6976_result {
    double molar_mass_kg_mol;
    double compression_factor;         /**< Z of the gas as metered                       */
    double hhv_j_mol, lhv_j_mol;       /**< gross and net at the combustion temperature   */
    double hhv_j_m3, lhv_j_m3;
    double relative_density;
    double wobbe_gross_j_m3, wobbe_net_j_m3;
} dw_iso6976_result;

/**
 * Heating values [J/mol, J/m3], compression factor, relative density and Wobbe indices [J/m3].
 *
 *     Z   = 1 - (p2/p0) (sum x_j s_j)^2
 *     Hs  = sum x_j Hs_j(t1),   Hi = Hs - (sum x_j H_j / 2) L(t1)
 *     H_v = H p2 / (Z R T2)
 *     d   = (M / M_air) Z_air / Z,   W = H_v / sqrt(d)
 *
 * Constants stand at 0, 15, 20 and (heating values) 25 degC; between them they are linear in
 * temperature, which at 60 degF gives the printed 60 degF constants to their last digit.
 *
 * @param[in]  table       not NULL.
 * @param[in]  x           table->count mole fractions, each >= 0, sum 1 +/- 1e-6; dry gas.
 * @param[in]  conditions  not NULL.
 * @param[out] out         all NaN on failure; not NULL.
 *
 * @retval DW_OK          out is set.
 * @retval DW_ERR_ARG     a pointer is NULL or a number is not finite.
 * @retval DW_ERR_DOMAIN  a condition is outside its range, fractions are below 0 or do not sum
 *                        to 1, a component has no ISO 6976 constants, or Z <= 0.9.
 *
 * @par Holds when   dry gas, Z > 0.9 (stated range, recalled). Butane at 0 degC is barely a gas:
 *                   its real-gas value there is nominal.
 * @par Source       [iso6976] constants; [iso6976-recalled] form of the equations.
 * @par Checked by   tests/reference/fuel.csv, tests/unit/physics/test_iso6976.c
 */
DW_MUST_CHECK
dw_status dw_iso6976_from_moles(const dw_species_table *table, const double *x,
                                const dw_iso6976_conditions *conditions, dw_iso6976_result *out);

#endif

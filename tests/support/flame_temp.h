#ifndef DW_TEST_FLAME_TEMP_H
#define DW_TEST_FLAME_TEMP_H

/**
 * @file flame_temp.h
 * Flame temperatures by the equilibrium of the program: published ones are what it is checked against.
 * The program itself asks for no flame.
 */

#include "equilibrium.h"

/** Enthalpy [J] of the solved state (gas_mol and graphite together) at its temperature. */
double dw_equilibrium_enthalpy_j(const dw_gas_set *set, double temperature_k,
                                 const dw_equilibrium *state);

/**
 * Adiabatic flame temperature: equilibrium at given enthalpy and pressure.
 *
 * @param[in]  enthalpy_j   of the reactants, for the same amount as elements.
 * @param[out] temperature_k found within 1e-6 K in 300..5000 K; NaN on failure.
 * @param[out] state        composition there.
 * @retval DW_OK, DW_ERR_ARG, DW_ERR_DOMAIN, DW_ERR_NO_CONVERGE (no temperature in the range fits)
 */
DW_MUST_CHECK
dw_status dw_flame_temperature(const dw_gas_set *set, const dw_elements *elements,
                               double pressure_pa_abs, double enthalpy_j, bool graphite,
                               double *temperature_k, dw_equilibrium *state);

#endif

#ifndef DW_CHAMBER_GAS_H
#define DW_CHAMBER_GAS_H

/**
 * @file chamber_gas.h
 * What fuel and air become in the chamber, and what that means for ware and heat.
 *
 * Layer: point. No allocation, no state but what the caller holds.
 */

#include "network.h"

/** Fuel and air of a kiln, and the temperature their products are frozen at. */
typedef struct dw_reactants {
    dw_elements fuel_kg, air_kg;     /**< elements per kilogram                               */
    double stoichiometric_kg_kg;     /**< kg of air that burns a kg of fuel                   */
    double pressure_pa_abs;
    double composition_temperature_k;
    dw_gas_potentials potentials;    /**< at that temperature                                 */
    bool graphite;
} dw_reactants;

/** Richest mean gas that the equations are asked for; what is refused is decided after solving. */
#define DW_PHI_LIMIT 8.0

/** @retval DW_OK, DW_ERR_DOMAIN the fuel does not burn or a temperature is out of range. */
DW_MUST_CHECK
dw_status dw_reactants_init(dw_reactants *reactants, const dw_network *net);

/** Equilibrium of the mean elements for a given air flow per fuel flow; state is also the guess.
 *  @param[out] molar_mass_kg_mol of the gas phase. */
DW_MUST_CHECK
dw_status dw_reactants_mean(const dw_reactants *reactants, const dw_gas_set *gases,
                            double air_kg_per_fuel_kg, dw_equilibrium *state,
                            double *molar_mass_kg_mol);

/** Spreads the solution of the equilibrium set over the species table. */
void dw_gas_from_set(const dw_gas_set *gases, const double *x_set, dw_gas *gas);

/**
 * Fills everything of the result that belongs to the gas: compositions, oxygen, words, heat,
 * closures of elements and energy. Flows and ratios must be there already.
 *
 * @retval DW_OK, DW_ERR_NO_CONVERGE (reason is set)
 */
DW_MUST_CHECK
dw_status dw_chamber_gas_report(const dw_network *net, const dw_reactants *reactants,
                                const dw_equilibrium *mean, dw_result *result);

/** The word of an equivalence ratio: index of the first band whose upper limit lies above it. */
int dw_band_of(const dw_data *data, double phi);

#endif

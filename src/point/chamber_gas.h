#ifndef DW_CHAMBER_GAS_H
#define DW_CHAMBER_GAS_H

/**
 * @file chamber_gas.h
 * What fuel and air become in the chamber, and what that means for ware and heat.
 *
 * Layer: point. No allocation, no state but what the caller holds.
 */

#include "network.h"
#include "quench.h"

/** Fuel and air of a kiln, and the temperatures their products are frozen at. */
typedef struct dw_reactants {
    dw_elements fuel_kg, air_kg;     /**< elements per kilogram                               */
    double stoichiometric_kg_kg;     /**< kg of air that burns a kg of fuel                   */
    double pressure_pa_abs;
    dw_frozen frozen;
    bool graphite;
} dw_reactants;

/** Richest mean gas that the equations are asked for; what is refused is decided after solving. */
#define DW_PHI_LIMIT 8.0

/** Richer than this the gas alone has no sensible equilibrium: only with solid carbon. */
#define DW_PHI_WITHOUT_CARBON 3.0

/** Below 500 degC no probe conducts and no reaction gets anywhere: oxygen figures are not given. */
#define DW_OXYGEN_FROM_K 773.15

/** What the gas of a point is made of on the way to its result. */
typedef struct dw_gas_inside {
    dw_elements mix;           /**< of a kilogram of what burns                              */
    bool uneven;               /**< averaged over parcels                                    */
    double solid_mol_kg;       /**< solid carbon in a kilogram                               */
    bool frozen;               /**< colder than its composition: brought to equilibrium anew */
    dw_equilibrium here;       /**< at the temperature of the gas; nothing below 500 degC    */
    dw_gas_potentials at;      /**< there, when frozen; else those of the composition        */
} dw_gas_inside;

/** Quench temperatures of a resolved kiln. */
dw_quench dw_quench_of(const dw_settings *settings);

/** Share of fuel, by mass, in what burns: from the flows of a result. */
double dw_result_fuel_share(const dw_result *result);

/** The laws for a working: z from m_gas and m_air; red, CO_CO2 and H2_H2O from x_CO
 *  and so on; x_dry from x, wet (1 for water) and x_H2O. */
extern const dw_law *const dw_mixture_share_law, *const dw_reducing_law,
    *const dw_co_ratio_law, *const dw_h2_ratio_law, *const dw_dry_share_law;

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
 * @param[out] inside  set unless DW_ERR_NO_CONVERGE.
 * @retval DW_OK, DW_ERR_NO_CONVERGE (reason is set)
 */
DW_MUST_CHECK
dw_status dw_chamber_gas_report(const dw_network *net, const dw_reactants *reactants,
                                const dw_equilibrium *mean, dw_gas_inside *inside, dw_result *result);

/** The word of an equivalence ratio: index of the first band whose upper limit lies above it. */
int dw_band_of(const dw_data *data, double phi);

#endif

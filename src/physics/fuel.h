#ifndef DW_FUEL_H
#define DW_FUEL_H

/**
 * @file fuel.h
 * What a fuel gas is worth: heating values, air need and density from its composition.
 *
 * Layer: physics. Pure functions, no state, no allocation. Compositions are mole fractions over
 * a species table, in its order. The same enthalpies serve here and in the heat balance, so
 * that what burns and what leaves add up; ISO 6976 (tests/support/iso6976.h) is the outside check.
 */

#include "elements.h"

/** Enthalpy of vaporization of water at 298.15 K [J/mol]: formation enthalpies of H2O and
 *  H2O(L) in the same tables as the polynomials [nasa9]. */
#define DW_WATER_VAPORIZATION_298_J_MOL 44004.0

/** Properties that follow from composition alone. Heating values: reactants and products at
 *  298.15 K, products CO2, N2 and water. */
typedef struct dw_fuel_properties {
    double molar_mass_kg_mol;
    double hhv_j_mol, lhv_j_mol;    /**< gross: water liquid; net: water as gas             */
    double hhv_j_kg, lhv_j_kg;
    double oxygen_mol_mol;          /**< O2 needed per mole of gas; <= 0: it does not burn   */
} dw_fuel_properties;

/**
 * Molar mass, heating values [J/mol, J/kg at 25 degC] and oxygen need of a fuel gas.
 *
 *     net   = sum x_j h_j + n_O2 h_O2 - n_CO2 h_CO2 - n_H2O h_H2O - n_N2 h_N2   at 298.15 K
 *     gross = net + n_H2O L,   L = 44004 J/mol
 *     O2 needed = C + H/4 - O/2
 *
 * Counts of product moles follow from the elements: n_CO2 = C, n_H2O = H/2, n_N2 = N/2. Argon
 * passes through. A gas that holds more oxygen than it needs has a need below zero.
 *
 * @param[in]  table  must hold CO2, H2O, O2 and N2; not NULL.
 * @param[in]  x      table->count mole fractions, each >= 0, sum 1 +/- 1e-6.
 * @param[out] out    all NaN on failure; not NULL.
 *
 * @retval DW_OK          out is set.
 * @retval DW_ERR_ARG     a pointer is NULL or a fraction is not finite.
 * @retval DW_ERR_DOMAIN  a fraction is below 0 or they do not sum to 1, a condensed species is
 *                        in the mixture, or the table lacks a product.
 *
 * @par Accuracy     within 0.05 kJ/mol of ISO 6976:2016 for methane to butane.
 * @par Source       [nasa9] formation enthalpies; sums are definitions.
 * @par Checked by   tests/reference/fuel.csv, tests/unit/physics/test_fuel.c
 */
DW_MUST_CHECK
dw_status dw_fuel_properties_from_moles(const dw_species_table *table, const double *x,
                                        dw_fuel_properties *out);

/** Writes down what follows from lhv: L_w, hhv, lhv_kg and hhv_kg. Needs lhv H_f M_f. */
void dw_fuel_write(dw_working *w, const dw_fuel_properties *fuel);

/**
 * Ratio of heat capacities cp/(cp - R) of an ideal gas mixture, for the jet.
 *
 * @param[in] table, x       a mixture that dw_fuel_properties_from_moles() takes.
 * @param[in] temperature_k  200..6000 K. Most fuel gases have polynomials from 300 K on; below,
 *                           the first range is drawn on (error not assessed).
 * @return NaN outside the range.
 *
 * @par Source       [nasa9]
 * @par Checked by   tests/unit/physics/test_fuel.c
 */
double dw_heat_capacity_ratio(const dw_species_table *table, const double *x,
                              double temperature_k);

/** The same for a working: k_f from cp_f and R_9. */
extern const dw_law *const dw_heat_ratio_law;

#endif

#ifndef DW_ELEMENTS_H
#define DW_ELEMENTS_H

/**
 * @file elements.h
 * How much of each element a gas holds, per kilogram or per second.
 *
 * Layer: physics. Plain values, pure functions.
 *
 * The oxygen excess `E = O - 2 C - H/2` is carried beside the elements instead of being worked
 * out from them: near the stoichiometric point it is a small difference of large numbers, and
 * it decides everything. Every stream brings its own E; streams add.
 */

#include "law.h"
#include "species.h"

typedef struct dw_elements {
    double n[DW_ELEMENT_COUNT]; /**< atoms [mol], order of dw_element         */
    double excess_o;            /**< O - 2 C - H/2 [mol], > 0 when oxygen is left */
} dw_elements;

/** Elements of a mixture of mole fractions x over the table, per mole of mixture. */
dw_elements dw_elements_from_moles(const dw_species_table *table, const double *x);

/** a*x + b*y, element by element. */
dw_elements dw_elements_combine(double a, dw_elements x, double b, dw_elements y);

/** Mass [kg] of the atoms, by the table of atomic masses that goes with NASA-9 [nasa9]. */
double dw_elements_mass_kg(const dw_elements *elements);

/** Elements of a kilogram of a mixture of mole fractions x over the table. */
dw_elements dw_elements_per_kg(const dw_species_table *table, const double *x);

/** Air [kg] that just burns a kilogram of fuel, -E_fuel/E_air; not above 0: it does not burn. */
double dw_air_need_kg_kg(const dw_elements *fuel_kg, const dw_elements *air_kg);

/** Share of fuel by mass in a mixture of an equivalence ratio, phi/(phi + need), and back. */
double dw_fuel_share(double equivalence_ratio, double air_need_kg_kg);
double dw_equivalence_ratio(double share, double air_need_kg_kg);

/** The laws for a working: need from Ef and Ea; z from phi and need; phi from need and z. */
extern const dw_law *const dw_air_need_law, *const dw_fuel_share_law, *const dw_equivalence_ratio_law;

/** Mole-fraction weighted molar mass [kg/mol] of a mixture over the table. */
double dw_mixture_molar_mass(const dw_species_table *table, const double *x);

/**
 * Enthalpy [J] and heat capacity [J/K] of amounts n [mol] over the table, formation included; per mole
 * where they are mole fractions. Both NaN outside 200..6000 K.
 */
void dw_mixture_heat(const dw_species_table *table, const double *n, double temperature_k,
                     double *h_j, double *cp_j_k);

/** Molar enthalpy [J/mol] of an ideal mixture at a temperature; NaN outside 200..6000 K. */
double dw_mixture_enthalpy_j_mol(const dw_species_table *table, const double *x,
                                 double temperature_k);

/** Molar heat capacity [J/(mol K)] likewise. */
double dw_mixture_heat_capacity_j_mol_k(const dw_species_table *table, const double *x,
                                        double temperature_k);

#endif

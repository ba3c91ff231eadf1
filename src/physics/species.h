#ifndef DW_SPECIES_H
#define DW_SPECIES_H

/**
 * @file species.h
 * The species table: formulas, NASA-9 polynomials, and what ISO 6976 says of fuel gases.
 *
 * Layer: physics. Read-only after loading (data/read_data.c fills it from config/species.yaml);
 * no state, no allocation.
 */

#include <stdbool.h>
#include <stddef.h>

#include "dw_status.h"

/** Order of elements in every element array. */
typedef enum dw_element {
    DW_C, DW_H, DW_O, DW_N, DW_AR,
    DW_ELEMENT_COUNT
} dw_element;

enum {
    DW_SPECIES_MAX = 40,    /**< most species in a table                     */
    DW_NASA9_RANGE_MAX = 3, /**< most temperature ranges of one species      */
    DW_NASA9_COEFF_COUNT = 9
};

/** One temperature range of a NASA nine-coefficient polynomial. */
typedef struct dw_nasa9_range {
    double t_low_k;                       /**< range begins [K]                        */
    double t_high_k;                      /**< range ends [K]                          */
    double coeff[DW_NASA9_COEFF_COUNT];   /**< a1..a7, b1, b2                          */
} dw_nasa9_range;

/** ISO 6976:2016 constants of a fuel-gas component; all zero for N2 and CO2 except s. */
typedef struct dw_iso6976 {
    bool present;                /**< false: the species is not a component of ISO 6976   */
    double hhv_j_mol[4];         /**< molar gross calorific value at 0, 15, 20, 25 degC   */
    double summation_factor[3];  /**< s at 0, 15, 20 degC                                 */
} dw_iso6976;

typedef struct dw_species {
    char name[16];                       /**< formula as in config, e.g. "CO2", "n-C4H10", "C(gr)" */
    bool condensed;                      /**< true for C(gr)                                       */
    bool in_equilibrium;                 /**< a product gas of the equilibrium set                 */
    double molar_mass_kg_mol;            /**< kg/mol, > 0                                          */
    double atoms[DW_ELEMENT_COUNT];      /**< atoms per molecule                                   */
    double h_formation_j_mol;            /**< enthalpy of formation at 298.15 K, for checking      */
    int range_count;                     /**< 1..DW_NASA9_RANGE_MAX                                */
    dw_nasa9_range range[DW_NASA9_RANGE_MAX];
    dw_iso6976 iso;
} dw_species;

typedef struct dw_species_table {
    size_t count;
    dw_species species[DW_SPECIES_MAX];
} dw_species_table;

/** Atomic mass [kg/mol] that goes with the NASA-9 molar masses [nasa9]. */
double dw_atomic_mass_kg_mol(dw_element element);

/** Index of a species by exact name; -1 when the table lacks it. */
int dw_species_find(const dw_species_table *table, const char *name);

/**
 * Standard-state heat capacity, enthalpy and entropy of one species at 1 bar.
 *
 *     cp/R = a1 T^-2 + a2 T^-1 + a3 + a4 T + a5 T^2 + a6 T^3 + a7 T^4
 *     h/RT = -a1 T^-2 + a2 ln(T)/T + a3 + a4 T/2 + a5 T^2/3 + a6 T^3/4 + a7 T^4/5 + b1/T
 *     s/R  = -a1 T^-2/2 - a2 T^-1 + a3 ln T + a4 T + a5 T^2/2 + a6 T^3/3 + a7 T^4/4 + b2
 *
 * The enthalpy includes formation: h(298.15 K) is the enthalpy of formation. Outside its
 * ranges a polynomial is used as it is from the nearest one, down to 200 K and up to 6000 K.
 *
 * @param[in]  species         not NULL.
 * @param[in]  temperature_k   200..6000 K.
 * @param[out] cp_j_mol_k      heat capacity; may be NULL.
 * @param[out] h_j_mol         enthalpy; may be NULL.
 * @param[out] s_j_mol_k       entropy at 1 bar; may be NULL.
 *
 * @retval DW_OK          outputs are set.
 * @retval DW_ERR_DOMAIN  temperature outside 200..6000 K or not finite; outputs are NaN.
 *
 * @par Source      [nasa9] NASA/TP-2002-211556; R = 8.314510 J/(mol K) goes with it.
 * @par Checked by  tests/reference/species.csv, tests/consistency/test_thermo.c
 */
DW_MUST_CHECK
dw_status dw_species_standard_state(const dw_species *species, double temperature_k,
                                    double *cp_j_mol_k, double *h_j_mol, double *s_j_mol_k);

/** True from 200 to 6000 K, where the polynomials may be used. */
bool dw_species_in_range(double temperature_k);

/** cp/R and h/(RT) alone, for sums over many species at one temperature; 200..6000 K, ln_t its logarithm. */
void dw_species_heat(const dw_species *species, double temperature_k, double ln_t, double *cp_r,
                     double *h_rt);

/** The functions of temperature in g/(RT) = h/(RT) - s/R, in the order of the coefficients; 200..6000 K. */
void dw_species_gibbs_terms(double temperature_k, double terms[DW_NASA9_COEFF_COUNT]);

/** Standard Gibbs energy g/(RT) at 1 bar, from the terms of its temperature: what an equilibrium needs of
 *  each gas, without working out enthalpy and entropy apart [nasa9]. */
double dw_species_gibbs_rt(const dw_species *species, double temperature_k,
                           const double terms[DW_NASA9_COEFF_COUNT]);

/**
 * Checks that a table makes sense: atoms against molar mass, ranges in order, cp > 0, cp, h
 * and s continuous at joins, h(298.15 K) equal to the stated formation enthalpy.
 *
 * @param[in]  table    not NULL.
 * @param[out] message  one line naming the first fault; "" when there is none.
 * @param[in]  size     of message.
 * @retval DW_OK         the table is sound.
 * @retval DW_ERR_INPUT  it is not.
 */
DW_MUST_CHECK
dw_status dw_species_table_check(const dw_species_table *table, char *message, size_t size);

#endif

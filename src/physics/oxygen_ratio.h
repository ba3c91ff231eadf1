#ifndef DW_OXYGEN_RATIO_H
#define DW_OXYGEN_RATIO_H

/**
 * @file oxygen_ratio.h
 * Oxygen pressure of a hot gas from its CO/CO2 or its H2/H2O, and back.
 *
 * Layer: physics. Pure functions, no state, no allocation.
 */

#include "equilibrium.h"

/** Equilibrium constants [log10, 1 bar] at one temperature. */
typedef struct dw_oxygen_ratio {
    double temperature_k;
    double log10_k_co;   /**< CO + 1/2 O2 = CO2  */
    double log10_k_h2;   /**< H2 + 1/2 O2 = H2O  */
} dw_oxygen_ratio;

/**
 * Constants of both reactions by the NASA-9 potentials of the gas set.
 *
 * @param[out] ratio  NaN on failure.
 * @retval DW_OK, DW_ERR_ARG, DW_ERR_DOMAIN (outside 200..6000 K)
 * @par Source      [nasa9]
 * @par Checked by  tests/reference/equilibrium_constants.csv, oxides.csv
 */
DW_MUST_CHECK
dw_status dw_oxygen_ratio_at(const dw_gas_set *set, double temperature_k, dw_oxygen_ratio *ratio);

/** Oxygen, log10 of bar: -2 (log10 K + log10 ratio). NaN unless the ratio is above 0. */
double dw_oxygen_from_co_co2(const dw_oxygen_ratio *constants, double co_co2_ratio);
double dw_oxygen_from_h2_h2o(const dw_oxygen_ratio *constants, double h2_h2o_ratio);

/** The ratio that stands in equilibrium with an oxygen pressure: 10^(-log10 pO2/2 - log10 K). */
double dw_co_co2_from_oxygen(const dw_oxygen_ratio *constants, double log10_po2_bar);
double dw_h2_h2o_from_oxygen(const dw_oxygen_ratio *constants, double log10_po2_bar);

#endif

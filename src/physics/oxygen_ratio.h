#ifndef DW_OXYGEN_RATIO_H
#define DW_OXYGEN_RATIO_H

/**
 * @file oxygen_ratio.h
 * Oxygen pressure of a hot gas from its CO/CO2 or its H2/H2O, and back.
 *
 * Layer: physics. Pure functions, no state, no allocation.
 */

#include "equilibrium.h"
#include "law.h"

/** Equilibrium constants [bar^(1/2)] at one temperature. */
typedef struct dw_oxygen_ratio {
    double temperature_k;
    double k_co2;        /**< CO2 = CO + 1/2 O2  */
    double k_h2o;        /**< H2O = H2 + 1/2 O2  */
} dw_oxygen_ratio;

/** The laws for a working: K_1 from gT_CO2, gT_CO and gT_O2; K_2 from gT_H2O, gT_H2 and gT_O2. */
extern const dw_law *const dw_splits_co2_law, *const dw_splits_h2o_law;

/** CO_CO2 from K_1 and lg_pO2; lg_pO2 from K_1 and CO_CO2_in. With K_2 those of hydrogen. */
extern const dw_law *const dw_gas_ratio_law, *const dw_ratio_oxygen_law;

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

/** Oxygen, log10 of bar: 2 log10(K/ratio). NaN unless the ratio is above 0. */
double dw_oxygen_from_co_co2(const dw_oxygen_ratio *constants, double co_co2_ratio);
double dw_oxygen_from_h2_h2o(const dw_oxygen_ratio *constants, double h2_h2o_ratio);

/** The ratio that is in equilibrium with an oxygen pressure: K/10^(log10 pO2/2). */
double dw_co_co2_from_oxygen(const dw_oxygen_ratio *constants, double log10_po2_bar);
double dw_h2_h2o_from_oxygen(const dw_oxygen_ratio *constants, double log10_po2_bar);

#endif

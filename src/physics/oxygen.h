#ifndef DW_OXYGEN_H
#define DW_OXYGEN_H

/**
 * @file oxygen.h
 * Oxygen pressure of a hot gas from its CO/CO2, its H2/H2O or the volts of a zirconia probe, and back.
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

/** Both laws of a probe for a working: E_p from T_gas, lg_pO2, p_air, R and F; lg_pO2 from E_in and the same. */
extern const dw_law *const dw_probe_emf_law, *const dw_probe_oxygen_law;

/**
 * Probe voltage [V] against dry air at the same total pressure.
 *
 *     E = (R T/(4 F)) ln(0.2095 p/pO2)
 *
 * 0.2095 is the oxygen share of the dry reference air that probe makers use. Positive when the gas holds
 * less oxygen than air. Oxygen as a logarithm because kiln values reach 1e-20 bar and below.
 *
 * @param[in] log10_po2_bar    decimal logarithm of the oxygen partial pressure in bar.
 * @param[in] temperature_k    of the probe tip, > 0.
 * @param[in] pressure_pa_abs  total pressure at the reference side, > 0.
 *
 * @par Holds when  the tip is hot enough to conduct (about 650 degC and up, recalled) and brings
 *                  the gas on it to equilibrium.
 * @par Source      [nernst] with the exact R and F of 2019; form and 0.2095 [probe-makers].
 * @par Checked by  tests/unit/physics/test_oxygen.c, tests/reference/probe.csv
 */
double dw_probe_emf_v(double log10_po2_bar, double temperature_k, double pressure_pa_abs);

/** Decimal logarithm of the oxygen partial pressure in bar from the voltage: the inverse. */
double dw_probe_log10_po2_bar(double emf_v, double temperature_k, double pressure_pa_abs);

#endif

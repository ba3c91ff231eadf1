#ifndef DW_PROBE_H
#define DW_PROBE_H

/**
 * @file probe.h
 * Zirconia oxygen probe: volts from oxygen partial pressure and back.
 *
 * Layer: physics. Pure functions; NaN when a temperature or pressure is not positive.
 */

#include "law.h"

/** Both laws for a working: E_p from T_gas, lg_pO2, p_air, R and F; lg_pO2 from E_in and the same. */
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
 * @par Checked by  tests/unit/physics/test_probe.c, tests/reference/probe.csv
 */
double dw_probe_emf_v(double log10_po2_bar, double temperature_k, double pressure_pa_abs);

/** Decimal logarithm of the oxygen partial pressure in bar from the voltage: the inverse. */
double dw_probe_log10_po2_bar(double emf_v, double temperature_k, double pressure_pa_abs);

#endif

#ifndef DW_QUENCH_H
#define DW_QUENCH_H

/**
 * @file quench.h
 * Where reactions freeze: gas that is colder keeps the composition that it had there.
 *
 *     T_c = max(T_gas, T_q), for lean gas and for rich gas with a T_q of its own
 *
 * What is lean burns its CO out at 1100 K still; in what is rich the water-gas shift CO + H2O = CO2 + H2 stops at
 * a higher temperature. A parcel is one or the other, on its side of the stoichiometric point. Evenly mixed gas
 * goes from one to the other over equivalence ratios of 0.98 to 1.02, smoothly, so that nothing jumps there.
 *
 * Layer: physics. No allocation, no state but what the caller holds.
 *
 * @par Source      lean [assumption]; rich [quench-rich], derived: T_q 1310 K (1230 to 1380 K), with GRI-Mech 3.0
 *                  for gas cooled from 1600 to 2000 K in 0.1 to 3 s and then kept 2 to 10 s at 700 to 800 degC.
 * @par Checked by  tests/unit/physics/test_quench.c, tests/reference/live/compare_quench.py
 */

#include "equilibrium.h"

/** Two temperatures [K], one of lean gas and one of rich gas: below which reactions are taken to stop, or at which
 *  a composition is worked out. */
typedef struct dw_quench {
    double lean_k, rich_k;
} dw_quench;

/** Composition temperatures, and the potentials there. */
typedef struct dw_frozen {
    dw_quench at;
    dw_gas_potentials lean, rich;
} dw_frozen;

/** Both for gas of a temperature.
 *  @retval DW_OK, DW_ERR_ARG, DW_ERR_DOMAIN a temperature is out of range (dw_gas_potentials_at()) */
DW_MUST_CHECK
dw_status dw_frozen_init(dw_frozen *frozen, const dw_gas_set *set, double gas_temperature_k,
                         dw_quench quench);

/** Composition temperatures alone: no colder than where reactions freeze. A working gets the steps from T_gas: with
 *  one quench temperature to T_c, which has both keys then; with two to T_lean and T_rich. */
dw_quench dw_frozen_both(double gas_temperature_k, dw_quench quench, const char *lean_key, const char *rich_key,
                         dw_working *w);

/** Composition temperature [K] of evenly mixed gas. A working gets the steps from T_gas and phi to T_c; keys are
 *  those of T_c. */
double dw_frozen_mean_k(double gas_temperature_k, dw_quench quench, double equivalence_ratio, const char *keys,
                        dw_working *w);

/** The second part of it: from both composition temperatures. */
double dw_frozen_between_k(dw_quench at, double equivalence_ratio, const char *keys, dw_working *w);

/**
 * Potentials at the composition temperature of evenly mixed gas.
 *
 * @param[in]  scratch  filled where the gas is between lean and rich.
 * @param[out] at       into frozen, or scratch.
 */
DW_MUST_CHECK
dw_status dw_frozen_at(const dw_frozen *frozen, const dw_gas_set *set, double equivalence_ratio,
                       dw_gas_potentials *scratch, const dw_gas_potentials **at);

#endif

#ifndef DW_DUCT_H
#define DW_DUCT_H

/**
 * @file duct.h
 * Friction in ducts and the viscosity it needs.
 *
 * Layer: physics. Pure functions, no state, no allocation.
 */

#include "law.h"

/** Least Reynolds number in flues and stacks: the flow enters disturbed. */
#define DW_STACK_RE_FLOOR 4000.0

/**
 * Viscosity [Pa s] of air, also used for flue gas.
 *
 *     mu = 1.458e-6 T^1.5/(T + 110.4)
 *
 * @param[in] temperature_k  > 0; NaN otherwise.
 * @param[in] w              NULL, or a working: it must have the temperature as T_m.
 *
 * @par Holds when  100..1900 K for air. Flue gas: within 10 % from 500 to 1473 K, which moves the
 *                  friction factor by 2 % at most.
 * @par Source      [us1976] Sutherland's formula.
 * @par Checked by  tests/unit/physics/test_duct.c, tests/reference/stack.csv
 */
double dw_air_viscosity_pa_s(double temperature_k, dw_working *w);

/**
 * Darcy friction factor, all regimes.
 *
 *     f = 8 [(8/Re)^12 + (A + B)^-1.5]^(1/12)
 *     A = [2.457 ln(1/((7/Re)^0.9 + 0.27 e/D))]^16,   B = (37530/Re)^16
 *
 * @param[in] reynolds            > 0.
 * @param[in] relative_roughness  e/D, 0..0.2.
 * @param[in] reynolds_floor      Re is taken as at least this; 0 for none.
 * @param[in] w                   NULL, or a working: it must have Re, rough and D_h, and the floor must be
 *                                DW_STACK_RE_FLOOR.
 * @return f; NaN when an input is out of range.
 *
 * @par Accuracy    within 3.2 % of Colebrook's equation for Re >= 4000.
 * @par Source      [churchill1977].
 * @par Checked by  tests/unit/physics/test_duct.c, tests/reference/stack.csv
 */
double dw_friction_factor(double reynolds, double relative_roughness, double reynolds_floor,
                          dw_working *w);

#endif

#ifndef DW_FRICTION_H
#define DW_FRICTION_H

/**
 * @file friction.h
 * Friction: viscosity, ducts, and joints, narrow gaps that are laminar when slow.
 *
 * Layer: physics. Pure functions, no state, no allocation.
 */

#include "law.h"
#include "opening.h"

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
 * @par Checked by  tests/unit/physics/test_friction.c, tests/reference/stack.csv
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
 * @par Checked by  tests/unit/physics/test_friction.c, tests/reference/stack.csv
 */
double dw_friction_factor(double reynolds, double relative_roughness, double reynolds_floor,
                          dw_working *w);

/* ---- joints -------------------------------------------------------------------------- */

/** What a joint is like: all lengths together, > 0 but for length_m, which may be 0 (no flow). */
typedef struct dw_joint_size {
    double width_m;          /**< of the gap                                             */
    double depth_m;          /**< along the flow, through the wall                       */
    double length_m;         /**< along the wall, of all pieces together                 */
    double from_m, to_m;     /**< lower and upper end; NaN for a level joint             */
} dw_joint_size;

/** Gas on one side: density [kg/m3] and temperature [K], > 0. */
typedef struct dw_joint_side {
    double rho_kg_m3, temperature_k;
} dw_joint_side;

/** A joint made ready. */
typedef struct dw_joint {
    double area_m2;                      /**< width times length                                */
    double friction_pa_s_m;              /**< B: pressure over speed where the flow is slow     */
    double in_rho_kg_m3, out_rho_kg_m3;  /**< of what flows in and out, inside the joint        */
    double from_m, height_m;             /**< lower end, extent upwards; NaN for a level joint  */
    double rise_pa;                      /**< pressure at the upper end minus at the lower end  */
} dw_joint;

/**
 * Prepares a joint.
 *
 * @param[in]  size, outside, inside  not NULL.
 * @param[in]  w      NULL, or a working: it must have the width w_j, the depth L_j, T_room, T_gas, rho_room and
 *                    rho_gas; the steps are T_m, mu, B, rho_ji and rho_jo.
 * @param[out] joint  NaN on failure.
 * @retval DW_OK, DW_ERR_ARG (NULL, not finite), DW_ERR_DOMAIN (out of range)
 */
DW_MUST_CHECK
dw_status dw_joint_init(const dw_joint_size *size, const dw_joint_side *outside,
                        const dw_joint_side *inside, dw_working *w, dw_joint *joint);

/** Keys and symbols of the steps of a level joint; see DW_STEP_AS. */
typedef struct dw_joint_names {
    const char *mass;       /**< symbol of the flow        */
    const char *mass_key;   /**< JSON key of the flow, or "" */
} dw_joint_names;

/**
 * Flow through a level joint.
 *
 *     dp = B v + 1.5 rho v^2/2,   B = 12 mu L/w^2,   m = rho w b v
 *     v = 2 dp/(s + B),   s = sqrt(B^2 + 3 rho dp),   dv/d(dp) = 1/s
 *
 * b is the length, L the depth, w the width. The flow is proportional to the pressure where it is small and to
 * its root where it is large. It has a slope at zero, so it needs no blend there as a hole does; that slope
 * differs only as the molar masses of room air and chamber gas do.
 *
 * @param[in] names, w  NULL, or a working: it must have dp, the pressure without its sign, and A_j, the area.
 *
 * @par Holds when  the flow in the gap is laminar or beginning to be turbulent (a gap of 0.5 to 10 mm); the
 *                  1.5 counts entry and exit of a straight gap.
 * @par Source      [baker1987].
 * @par Checked by  tests/unit/physics/test_friction.c, tests/reference/opening.csv
 */
void dw_joint_flow(const dw_joint *joint, double pressure_pa, const dw_joint_names *names, dw_working *w,
                   dw_opening_flow *flow);

/**
 * Both flows through an upright joint: the law above integrated over the height, exactly.
 *
 * Over a stretch of one sign, of whose ends u and v are the speeds and s_u, s_v the roots:
 *
 *     mean speed  = (B (u + v) + rho (u^2 + u v + v^2))/(2 B + 1.5 rho (u + v))
 *     slope of it = 2/(s_u + s_v)
 *
 * which is the integral of v over dp, 2/3 dp^2 (2 s + B)/(s + B)^2, between the ends, written without a
 * difference of near numbers. At the neutral plane the speed is 0.
 *
 * @param[in]  joint             upright.
 * @param[in]  pressure_from_pa  pressure at the lower end.
 * @param[in]  names, w          as for dw_tall_opening_flow(); A_j takes the place of Cd and A.
 * @param[out] flow              not NULL.
 *
 * @par Source      [baker1987]; the integral is derived.
 * @par Checked by  tests/unit/physics/test_friction.c, tests/reference/opening.csv
 */
void dw_joint_upright_flow(const dw_joint *joint, double pressure_from_pa, const dw_tall_names *names,
                           dw_working *w, dw_tall_flow *flow);

#endif

#ifndef DW_JOINT_H
#define DW_JOINT_H

/**
 * @file joint.h
 * Flow through a joint: a long narrow gap between bricks or beside a door, in which friction counts.
 *
 * Layer: physics. Pure functions, no state, no allocation. Sign rule as in opening.h. The gas that flows is
 * that of the side it comes from, at the mean of both temperatures, because it takes up or gives off
 * heat on its way; its viscosity is that of air there.
 */

#include "opening.h"

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
 * @par Checked by  tests/unit/physics/test_joint.c, tests/reference/opening.csv
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
 * @par Checked by  tests/unit/physics/test_joint.c, tests/reference/opening.csv
 */
void dw_joint_upright_flow(const dw_joint *joint, double pressure_from_pa, const dw_tall_names *names,
                           dw_working *w, dw_tall_flow *flow);

#endif

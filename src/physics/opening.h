#ifndef DW_OPENING_H
#define DW_OPENING_H

/**
 * @file opening.h
 * Flow through holes, cracks, tall openings and one-way restrictions.
 *
 * Layer: physics. Pure functions, no state, no allocation. Each law has an init that checks and
 * hoists, and an evaluation for a pressure that cannot fail: NaN in, NaN out.
 *
 * Sign rule: "inside" holds the hot gas (chamber or stack base), "outside" is the room; pressures
 * are inside minus outside at the height named; mass flows are positive into the inside. So a
 * flow falls as the pressure rises. The gas that flows is that of the side it comes from.
 */

#include <stdbool.h>

#include "dw_status.h"
#include "law.h"

/** Width of the blend at zero pressure [Pa]: relative error -(1/4)(0.01/dp)^2. */
#define DW_OPENING_SMOOTH_PA 0.01

/** A flow and its derivative by the inside pressure. */
typedef struct dw_opening_flow {
    double mass_kg_s;     /**< positive inwards                                            */
    double slope_kg_s_pa; /**< d mass / d inside pressure, < 0; the larger side at 0 is that
                                 of the outside density                                      */
} dw_opening_flow;

/** A hole made ready. */
typedef struct dw_hole {
    double in_coeff;  /**< Cd A sqrt(2 rho_outside) */
    double out_coeff; /**< Cd A sqrt(2 rho_inside)  */
} dw_hole;

/**
 * Prepares a hole.
 *
 * @param[in]  area_m2          >= 0; 0 gives no flow.
 * @param[in]  discharge_coeff  > 0. Above 1 is allowed: a duct of loss zeta is a hole of Cd
 *                              1/sqrt(zeta).
 * @param[in]  rho_outside_kg_m3, rho_inside_kg_m3  > 0.
 * @param[out] hole             NaN on failure.
 * @retval DW_OK, DW_ERR_ARG (NULL, not finite), DW_ERR_DOMAIN (out of range)
 */
DW_MUST_CHECK
dw_status dw_hole_init(double area_m2, double discharge_coeff, double rho_outside_kg_m3,
                       double rho_inside_kg_m3, dw_hole *hole);

/**
 * Flow through a hole.
 *
 *     m = -Cd A sqrt(2 rho) p / (p^2 + eps^2)^(1/4),  eps = DW_OPENING_SMOOTH_PA
 *
 * rho is that of the side the gas comes from. Value continuous, slope finite everywhere; at p = 0
 * the slope jumps by sqrt(rho_outside/rho_inside).
 *
 * @par Holds when  incompressible, sharp-edged, no wind. Cd 0.6-0.7.
 * @par Source      [orifice-equation]; Cd values [karlsson2000]. The blend is the usual
 *                  regularised root.
 * @par Checked by  tests/unit/physics/test_opening.c, tests/reference/opening.csv
 */
void dw_hole_flow(const dw_hole *hole, double pressure_pa, dw_opening_flow *flow);

/** The flow as it is shown, `m = A*sqrt(2*rho)*drive/(dp^2 + 0.01^2)^(1/4)`: A holds Cd, and drive is dp
 *  without its sign. */
extern const dw_law dw_hole_law;

/** A crack made ready. */
typedef struct dw_crack {
    double in_coeff;  /**< Cd A sqrt(2 rho_outside dp_ref) / dp_ref^n */
    double out_coeff; /**< the same with rho_inside                   */
    double exponent;  /**< n                                          */
} dw_crack;

/**
 * Prepares a crack.
 *
 * @param[in]  area_m2, discharge_coeff, rho_outside_kg_m3, rho_inside_kg_m3  as dw_hole_init().
 * @param[in]  exponent                n, 0.5 (turbulent) .. 1 (laminar).
 * @param[in]  reference_pressure_pa   dp_ref > 0: where the area and Cd hold.
 * @retval DW_OK, DW_ERR_ARG, DW_ERR_DOMAIN
 */
DW_MUST_CHECK
dw_status dw_crack_init(double area_m2, double discharge_coeff, double exponent,
                        double reference_pressure_pa, double rho_outside_kg_m3,
                        double rho_inside_kg_m3, dw_crack *crack);

/**
 * Flow through a crack.
 *
 *     m = -Cd A sqrt(2 rho dp_ref) (p/dp_ref) ((p^2 + eps^2)/dp_ref^2)^((n-1)/2)
 *
 * The power law |p/dp_ref|^n with the same blend as the hole: n = 0.5 is the hole. Relative error
 * of the blend -((1-n)/2)(eps/p)^2.
 *
 * @par Source      [contamw] power law; n 0.65 when unknown.
 * @par Checked by  tests/unit/physics/test_opening.c
 */
void dw_crack_flow(const dw_crack *crack, double pressure_pa, dw_opening_flow *flow);

/** The flow as it is shown, of Cd, A, rho, p_ref, n and dp without its sign. */
extern const dw_law dw_crack_law;

/** A tall opening made ready. */
typedef struct dw_tall {
    double in_coeff;         /**< Cd A sqrt(2 rho_outside)                          */
    double out_coeff;        /**< Cd A sqrt(2 rho_inside)                           */
    double from_m, height_m; /**< lower end; extent upwards                         */
    double rise_pa;          /**< pressure at the upper end minus at the lower end  */
} dw_tall;

/** Both streams of a tall opening. A stream that is absent has zero flow and NaN height. */
typedef struct dw_tall_flow {
    double in_kg_s;           /**< drawn in, >= 0                                    */
    double out_kg_s;          /**< pushed out, >= 0                                  */
    double in_slope_kg_s_pa;  /**< d in / d pressure, <= 0                           */
    double out_slope_kg_s_pa; /**< d out / d pressure, >= 0                          */
    double net_kg_s;          /**< in - out                                          */
    double net_slope_kg_s_pa; /**< its slope, < 0                                    */
    double in_height_m;       /**< middle of the stretch that draws in               */
    double out_height_m;      /**< middle of the stretch that pushes out             */
    double neutral_m;         /**< where the pressure is zero; NaN if not inside     */
} dw_tall_flow;

/**
 * Prepares a tall opening of uniform width.
 *
 * The pressure along it is p(z) = p(from) + (rho_outside - rho_inside) g (z - from).
 *
 * @param[in]  area_m2          >= 0, all of it.
 * @param[in]  discharge_coeff  > 0.
 * @param[in]  from_m, to_m     lower and upper end, from < to.
 * @param[in]  rho_outside_kg_m3, rho_inside_kg_m3  > 0; either may be the larger, or equal.
 * @retval DW_OK, DW_ERR_ARG, DW_ERR_DOMAIN
 */
DW_MUST_CHECK
dw_status dw_tall_init(double area_m2, double discharge_coeff, double from_m, double to_m,
                       double rho_outside_kg_m3, double rho_inside_kg_m3, dw_tall *tall);

/** What the steps of a tall opening are called: symbols and JSON keys of its two streams. */
typedef struct dw_tall_names {
    const char *in, *out;                              /**< symbols                       */
    const char *in_mass, *in_height, *in_pressure;     /**< keys                          */
    const char *out_mass, *out_height, *out_pressure;
} dw_tall_names;

/**
 * Both flows through a tall opening.
 *
 * The hole's law integrated over the height, exactly, blend included. Over a stretch of one sign
 * with end pressures P, Q (absolute values), a = (P^2+eps^2)^(1/4), b = (Q^2+eps^2)^(1/4):
 *
 *     mean root  = (2/3) (a^2 + a b + b^2)/(a + b) * (P + Q)/(a^2 + b^2)
 *     slope of it = (a^2 b^2 + eps^2)(P + Q) / (a b (P b + Q a)(a^2 + b^2))
 *
 * which is (2/3)(a^2+ab+b^2)/(a+b) for eps = 0 and the hole's law for P = Q. There is no
 * difference of near numbers in it, so equal densities and a neutral plane at an end need no
 * special case.
 *
 * @param[in]  tall              from dw_tall_init().
 * @param[in]  pressure_from_pa  pressure at the lower end.
 * @param[in]  names, w          NULL, or a working: it must have p_lo and p_hi, the pressures at the ends,
 *                               z_1, z_2, grad, Cd, A, rho_room and rho_gas.
 * @param[out] flow              not NULL.
 *
 * @par Source      [neutral-plane] derived; agrees with the two-way doorway formulas there.
 * @par Checked by  tests/unit/physics/test_opening.c, tests/reference/opening.csv
 */
void dw_tall_opening_flow(const dw_tall *tall, double pressure_from_pa, const dw_tall_names *names,
                          dw_working *w, dw_tall_flow *flow);

/** A stretch of a tall opening: all of it, or what is on one side of the neutral plane. */
typedef enum dw_tall_part { DW_TALL_WHOLE, DW_TALL_LOWER, DW_TALL_UPPER } dw_tall_part;

/** Writes down the shares of the height below and above the neutral plane, s_lo and s_hi of p_lo and p_hi. */
void dw_tall_write_shares(dw_working *w);

/** Writes down where the middle of a stretch is and the pressure there; the working must have what is named
 *  at dw_tall_opening_flow(), and s_lo or s_hi. */
void dw_tall_write_place(dw_tall_part part, bool in, double height_m, double pressure_pa,
                         const dw_tall_names *names, dw_working *w);

/** Air through a restriction, one way only. */
typedef struct dw_restriction_state {
    double mass_kg_s;     /**< >= 0                                                          */
    double slope_kg_s_pa; /**< d mass / d dp, >= 0                                           */
    bool reversed;        /**< dp <= 0: no air comes, a hazard                               */
} dw_restriction_state;

/**
 * Flow of blown air through the known restriction in its line.
 *
 *     m = Cd A sqrt(2 rho) dp/(dp^2 + eps^2)^(1/4) for dp > 0, else 0
 *
 * @param[in]  area_m2, discharge_coeff, rho_kg_m3  > 0.
 * @param[in]  dp_pa   air pressure before the restriction minus chamber pressure.
 * @param[out] state   doubles NaN on failure.
 * @retval DW_OK, DW_ERR_ARG, DW_ERR_DOMAIN
 *
 * @par Holds when  dp is small against 101 kPa. rho is that of the room: at 5 kPa the denser supply
 *                  and the neglected expansion nearly cancel and leave about 1 %.
 * @par Source      [orifice-equation].
 * @par Checked by  tests/unit/physics/test_opening.c, tests/reference/opening.csv
 */
DW_MUST_CHECK
dw_status dw_restriction_flow(double area_m2, double discharge_coeff, double rho_kg_m3,
                              double dp_pa, dw_restriction_state *state);

#endif

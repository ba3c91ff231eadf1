#ifndef DW_INJECTOR_H
#define DW_INJECTOR_H

/**
 * @file injector.h
 * Inspirating (venturi) burner: air drawn in by a gas jet, and by a compressed-air jet if any.
 *
 * Layer: physics. Pure functions, no state, no allocation. A working, where there is one, gets the steps and
 * must have what their formulas name.
 */

#include <stdbool.h>

#include "dw_status.h"
#include "law.h"

/**
 * Mixture coefficient of the momentum balance.
 *
 *     kappa_m = 1 + zeta_f/2 - C_pd/2 + tau (zeta_p/2) (A_t/A_p)^2
 *
 * @param[in] throat_friction         zeta_f = f L/D of the mixing tube, >= 0.
 * @param[in] diffuser_recovery       C_pd, 0..1: static recovery as a share of throat speed head.
 * @param[in] port_loss               zeta_p on port speed, lost exit head included; 0 when a plain
 *                                    tube ends in the chamber.
 * @param[in] throat_to_port_ratio    A_t/A_p.
 * @param[in] port_temperature_ratio  tau: mixture at the port / room, both absolute; 1 when cold.
 *
 * @par Source [momentum-balance] derived.
 */
double dw_injector_kappa_m(double throat_friction, double diffuser_recovery, double port_loss,
                           double throat_to_port_ratio, double port_temperature_ratio, dw_working *w);

/** Induced-air coefficient `kappa_a = (1 - zeta_in)/2`; minus infinity for a closed shutter. */
double dw_injector_kappa_a(double inlet_loss, dw_working *w);

/** Inlet loss of a shutter on throat speed, `(A_t/(Cd A_shutter))^2 - 1`; infinite when the area is
 *  0. Negative for a shutter wider than the throat: the inlet then loses less than a speed head. */
double dw_injector_shutter_loss(double throat_area_m2, double shutter_area_m2, double discharge_coeff,
                                dw_working *w);

/** A lit burner: geometry and what its jets bring. */
typedef struct dw_injector_input {
    double throat_area_m2;    /**< A_t > 0 */
    double kappa_m;           /**< > kappa_a */
    double kappa_a;           /**< minus infinity: shutter closed, no induced air */
    double jet_mass_kg_s;     /**< M0 > 0: gas and compressed air */
    double jet_volume_m3_s;   /**< V0 > 0: m_g/rho_g + m_jet/rho_a at throat pressure */
    double thrust_n;          /**< J >= 0: of all jets */
    double air_density_kg_m3; /**< rho_a > 0: of the induced air */
} dw_injector_input;

/** A burner made ready: coefficients of the quadratic in the induced air. */
typedef struct dw_injector {
    double a, b, c0;    /**< c = c0 + area_sq * chamber pressure; a infinite: shutter closed */
    double area_sq;     /**< A_t^2 */
    double reversal_pa; /**< chamber pressure at which the induced air has fallen to zero */
    bool shutter_closed;
} dw_injector;

typedef struct dw_injector_flow {
    double air_kg_s;      /**< induced air, >= 0 */
    double slope_kg_s_pa; /**< its derivative by chamber pressure, < 0; 0 when there is none */
    bool reversed;        /**< the chamber pushes the mixture back: a hazard */
} dw_injector_flow;

/**
 * Prepares a lit burner.
 *
 * @retval DW_OK
 * @retval DW_ERR_ARG     a pointer is NULL or a number not finite (kappa_a may be -infinity).
 * @retval DW_ERR_DOMAIN  a field is out of range, or kappa_m <= kappa_a.
 */
DW_MUST_CHECK
dw_status dw_injector_init(const dw_injector_input *input, dw_injector *injector);

/**
 * Induced air against the chamber pressure at the burner.
 *
 *     J/A_t = dp + kappa_m (M0 + m)(V0 + m/rho_a)/A_t^2 - kappa_a m^2/(rho_a A_t^2)
 *     a m^2 + b m + c = 0,   a = (kappa_m - kappa_a)/rho_a,   b = kappa_m (M0/rho_a + V0),
 *     c = kappa_m M0 V0 - A_t J + A_t^2 dp,   m = -2 c/(b + sqrt(b^2 - 4 a c)),
 *     dm/d(dp) = -A_t^2/sqrt(b^2 - 4 a c)
 *
 * Only induced air carries the kappa_a term: jets bring their own momentum in J. With c >= 0 the
 * jets cannot push their own flow through the burner any more: no air and reversed = true. A closed
 * shutter gives no air and is no reversal unless the jets too are pushed back (c >= 0).
 *
 * @param[in]  injector     from dw_injector_init().
 * @param[in]  chamber_pa   chamber pressure minus room pressure at the burner's height; NaN gives
 *                          NaN and reversed = false.
 * @param[out] flow         not NULL.
 *
 * @par Holds when  throat Reynolds number 2000..12000 and a mixing tube near its best length:
 *                  within 10 % of experiment, by an abstract [lawn2003]. Loss values are
 *                  assumptions.
 * @par Source      [momentum-balance] derived; the control volume of [vonelbe1948].
 * @par Checked by  tests/unit/physics/test_injector.c, tests/reference/injector.csv
 */
void dw_injector_air(const dw_injector *injector, double chamber_pa, dw_working *w,
                     dw_injector_flow *flow);

/**
 * Area [m2] of the plain opening (Cd = 1) that an unlit, unplugged burner is.
 *
 *     A_t/sqrt(2 (kappa_m - kappa_a))
 *
 * 0 with a closed shutter, NaN when kappa_m <= kappa_a.
 *
 * It is the same balance with no jet; used for flow in both directions.
 */
double dw_injector_unlit_area_m2(double throat_area_m2, double kappa_m, double kappa_a);

/** The law as it is shown, of n burners. */
extern const dw_law dw_injector_unlit_law;

#endif

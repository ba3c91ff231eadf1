#ifndef DW_STEEPNESS_H
#define DW_STEEPNESS_H

/**
 * @file steepness.h
 * How fast the equivalence ratio moves with the damper and with the gas pressure.
 *
 * Layer: point. No allocation, no state.
 */

#include "chamber_gas.h"

/** The linear system behind the two derivatives, for those who want to see it. Rows: the chamber's
 *  balance [kg/s], the stack's [Pa], the richness that flows less the one the gas was made with. */
typedef struct dw_slopes {
    double by_unknown[3][3]; /**< columns: p [Pa], p_s [Pa], phi                              */
    double by_input[2][3];   /**< the same rows by the open share of the dampers, then by the
                              *   gas pressure [Pa]                                           */
} dw_slopes;

/**
 * Total derivatives of phi at a solved point, by the implicit function theorem.
 *
 * The balances F(y; theta) = 0 hold for y = (p, p_s, phi), the third being the richness that flows less
 * the one the gas was made with; so dy = -F_y^-1 F_theta and dphi is its third component. The
 * partial derivatives are central differences of one evaluation each, which costs a hundredth of
 * solving again.
 *
 * @param[in]  net, reactants, at, state, mean  the solved point.
 * @param[out] result  dphi_ddamper (all dampers moved by the same open fraction; at a
 *                     stop with the damper's law averaged over one per cent inwards) and
 *                     dphi_dgas_pressure_per_pa (all lit burners); NaN where the system is singular.
 * @param[out] slopes  what was solved; may be NULL.
 *
 * @par Checked by  tests/unit/point/test_operating_point.c against solving twice
 */
void dw_steepness(const dw_network *net, const dw_reactants *reactants, const dw_network_at *at,
                  const dw_network_state *state, const dw_equilibrium *mean, bool damper_alone,
                  dw_result *result,
                  dw_slopes *slopes);

#endif

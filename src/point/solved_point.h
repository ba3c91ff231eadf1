#ifndef DW_SOLVED_POINT_H
#define DW_SOLVED_POINT_H

/**
 * @file solved_point.h
 * The insides of a solved operating point, for those who show how its numbers come about.
 *
 * Layer: point. No allocation, no state but what the caller holds.
 */

#include "chamber_gas.h"
#include "steepness.h"

/** All that was worked out. Pointers in it point into it: never copy it. */
typedef struct dw_solved {
    dw_kiln kiln;              /**< resolved                                                 */
    dw_network net;
    dw_reactants reactants;
    dw_network_at at;          /**< laws at the density found                                */
    dw_network_state state;    /**< pressures and sums                                       */
    dw_equilibrium mean;       /**< of the mean elements, at the composition temperature     */
    dw_gas gas;                /**< the same over the species table                          */
    dw_gas_inside inside;
    dw_slopes slopes;
} dw_solved;

/**
 * A kiln made ready to be solved: resolved, checked, its network set up.
 *
 * @param[out] solved  its kiln, net and reactants.
 * @param[out] reason  DW_REASON_SIZE bytes; why it cannot be.
 * @retval DW_OK, DW_ERR_DOMAIN
 */
DW_MUST_CHECK
dw_status dw_point_set_up(const dw_model *model, const dw_kiln *kiln, dw_solved *solved,
                          char *reason);

/** Moves the dampers of a kiln that is ready: open_frac holds one for each flue. @retval as before */
DW_MUST_CHECK
dw_status dw_point_move_dampers(dw_solved *solved, const double *open_frac, char *reason);

/**
 * The balances alone of a kiln that is ready, without the gas of the parcels, the slopes and the heat, which
 * take most of the time.
 *
 * @param[out] brief  NaN when not solved.
 * @retval as dw_operating_point(), which can still refuse what this solves when its closures fail.
 */
DW_MUST_CHECK
dw_status dw_point_brief(const dw_solved *solved, dw_brief *brief);

/** As dw_operating_point(), and hands out the insides; solved means nothing unless DW_OK. */
DW_MUST_CHECK
dw_status dw_operating_point_solved(const dw_model *model, const dw_kiln *kiln, dw_solved *solved,
                                    dw_result *result);

/** Writes down ratios and heat input of a result. Needs m_air m_gas m_prim need lhv_kg hhv_kg. */
void dw_ratios_write(dw_working *w, const dw_result *result);

#endif

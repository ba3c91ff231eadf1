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

/** As dw_operating_point(), and hands out the insides; solved means nothing unless DW_OK. */
DW_MUST_CHECK
dw_status dw_operating_point_solved(const dw_model *model, const dw_kiln *kiln, dw_solved *solved,
                                    dw_result *result);

#endif

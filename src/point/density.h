#ifndef DW_DENSITY_H
#define DW_DENSITY_H

/**
 * @file density.h
 * The loop around the density: flows need it, and it is that of the gas that then burns out.
 *
 * Layer: point. No allocation, no state but what the caller holds.
 */

#include "chamber_gas.h"
#include "network.h"

/** The search and what it found. Pointers in it may point into it: copy with care. */
typedef struct dw_density {
    const dw_network *net;           /**< in                                                  */
    const dw_reactants *reactants;   /**< in                                                  */
    dw_network_at at;                /**< laws at the density found                           */
    dw_network_state state;          /**< pressures and sums                                  */
    dw_equilibrium mean;             /**< of the mean elements, at the composition temperature */
    dw_gas gas;                      /**< the same over the species table: what the stack base mixes with */
    int rounds, steps;               /**< solutions of the network; evaluations in them       */
} dw_density;

/**
 * Finds the density at which the gas that burns out is the one that the flows were worked out with.
 *
 * A secant on the molar mass settles nearly every kiln. Where it does not - it may begin at a density at
 * which the stack stalls, or be thrown about by what the stack base mixes with - the search is made once
 * more from the richest gas to the leanest, with a function of the richness that remembers nothing. What is
 * refused after that has no steady state.
 *
 * @param[in,out] d       net and reactants given.
 * @param[out]    reason  DW_REASON_SIZE bytes.
 * @retval DW_OK, DW_ERR_NO_CONVERGE
 * @par Checked by  tests/unit/point/test_density.c
 */
DW_MUST_CHECK
dw_status dw_density_solve(dw_density *d, char *reason);

#endif

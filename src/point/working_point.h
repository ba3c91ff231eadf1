#ifndef DW_WORKING_POINT_H
#define DW_WORKING_POINT_H

/**
 * @file working_point.h
 * The working of an operating point: from the description to every number of the report.
 *
 * Layer: point. Allocates in the working only; the insides of the point are too large for a stack
 * that is not the main thread's and are allocated for the call.
 */

#include "operating_point.h"
#include "solved_point.h"
#include "working.h"

/**
 * Solves a point and writes down how its numbers come about.
 *
 * @param[in]  model, kiln  as for dw_operating_point().
 * @param[in]  w            new and empty; stays without steps when the point is not solved.
 * @param[out] result       as from dw_operating_point().
 * @retval DW_OK
 * @retval DW_ERR_NO_CONVERGE, DW_ERR_DOMAIN, DW_ERR_ARG  as dw_operating_point().
 * @retval DW_ERR_NOMEM, DW_ERR_BUG                       see dw_working_status().
 *
 * @par Checked by  tests/unit/point/test_working.c, tests/golden/test_working.py
 */
DW_MUST_CHECK
dw_status dw_working_point(const dw_model *model, const dw_kiln *kiln, dw_working *w,
                           dw_result *result);

/** How far the working of a point goes. */
typedef enum dw_work_extent {
    DW_WORK_TO_GAS,       /**< flows and the gas in the chamber                              */
    DW_WORK_TO_OXYGEN,    /**< and the oxygen that ware and probe meet                       */
    DW_WORK_TO_THE_END
} dw_work_extent;

/** The same as far as another report needs it, with the insides left to the caller: solved means
 *  nothing unless DW_OK. */
DW_MUST_CHECK
dw_status dw_working_point_solved(const dw_model *model, const dw_kiln *kiln, dw_work_extent extent,
                                  dw_working *w, dw_solved *solved, dw_result *result);

/**
 * Adds what holds before any flow is known: air, fuel, the temperature of the gas (keys "temperature_k"
 * and "composition_temperature_k", of rich gas "composition_temperature_rich_k").
 *
 * Leaves p_air, need, R and what dw_working_point() begins with; T_gas; T_c, or T_lean and T_rich.
 *
 * @param[in]  solved  scratch: kiln, network and fuel are set.
 * @retval DW_OK, DW_ERR_DOMAIN (the kiln makes no sense), DW_ERR_NOMEM, DW_ERR_BUG
 */
DW_MUST_CHECK
dw_status dw_working_before_flows(const dw_model *model, const dw_kiln *kiln, dw_working *w,
                                  dw_solved *solved);

#endif

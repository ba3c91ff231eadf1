#ifndef DW_WORKING_POINT_H
#define DW_WORKING_POINT_H

/**
 * @file working_point.h
 * The working of an operating point: from the description to every number of the report.
 *
 * Layer: model. Allocates in the working only; the insides of the point are too large for a stack
 * that is not the main thread's and are allocated for the call.
 */

#include "operating_point.h"
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
 * @par Checked by  tests/unit/model/test_working.c, tests/golden/test_working.py
 */
DW_MUST_CHECK
dw_status dw_working_point(const dw_model *model, const dw_kiln *kiln, dw_working *w,
                           dw_result *result);

/** Adds the ratios that rules of thumb speak of (rules.h); heat_input_net_w NaN: without it. */
void dw_working_rules(const dw_data *data, const dw_kiln *resolved, double heat_input_net_w,
                      dw_working *w);

#endif

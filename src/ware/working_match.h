#ifndef DW_WORKING_MATCH_H
#define DW_WORKING_MATCH_H

/**
 * @file working_match.h
 * The working of the mixture of fuel and air that has the oxygen given without a kiln.
 *
 * Layer: ware. Adds to a working; for working_ware.c alone, which gives the order. Needs p_air, R and F.
 */

#include "working_ware.h"

/** The oxygen at a heated sensor, lg_s, and the mixture that has it. @retval as dw_equilibrium_solve() */
DW_MUST_CHECK
dw_status dw_work_match_sensor(const dw_model *model, const dw_ware_given *given,
                               const dw_matched_gas *gas, dw_working *w);

/** The mixture in equilibrium at the ware: shares e_CO, e_O2 and so on. @retval as above */
DW_MUST_CHECK
dw_status dw_work_match_ware(const dw_ware_given *given, const dw_matched_gas *gas,
                             double temperature_k, dw_working *w);

/** What was found for the ware, and the shares of the gas. After both above and lg_pO2. @retval as above */
DW_MUST_CHECK
dw_status dw_work_match_shares(const dw_ware_given *given, const dw_matched_gas *gas,
                               double temperature_k, dw_working *w);

#endif

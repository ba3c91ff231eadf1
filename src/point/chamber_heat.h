#ifndef DW_CHAMBER_HEAT_H
#define DW_CHAMBER_HEAT_H

/**
 * @file chamber_heat.h
 * Where the heat of an operating point goes.
 *
 * Layer: point. No allocation, no state.
 */

#include "law.h"
#include "network.h"

/**
 * Heat that is released, leaves unburnt, leaves with the hot gas and stays in the kiln, and how the total
 * enthalpies close.
 *
 * @param[in]     solid_mol_kg  solid carbon in a kilogram of what burns; it leaves with the gas and counts
 *                              with the enthalpy of graphite.
 * @param[in]     w             NULL, or takes the steps. Needs Q_net m_gas m_air M_f M_air, the fuel's and the
 *                              air's enthalpies, and the table of gases with x M h_T h_0 C H.
 * @param[in,out] result        flows, net heat input and gas are there; the heat is set.
 *
 * @par Source      [nasa9]; heating values by the same enthalpies as fuel.h.
 * @par Checked by  tests/unit/point/test_chamber_gas.c
 */
void dw_chamber_heat(const dw_network *net, double solid_mol_kg, dw_working *w, dw_result *result);

#endif

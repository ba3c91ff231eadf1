#ifndef DW_DRAFT_H
#define DW_DRAFT_H

/**
 * @file draft.h
 * Weight of columns of air and gas: theoretical draft, pressure against height, neutral plane.
 *
 * Layer: physics. Pure functions of finite numbers; no checks, NaN in gives NaN out.
 */

/**
 * Theoretical draft [Pa] of a column, `(rho_out - rho_gas) g H`; positive when it pulls.
 *
 * @par Source      [ashrae-chimney] the same law; here with real densities instead of its 0.03413.
 * @par Checked by  tests/unit/physics/test_draft.c, tests/reference/stack.csv
 */
double dw_draft_theoretical_pa(double rho_out_kg_m3, double rho_gas_kg_m3, double height_m);

/**
 * Gauge pressure [Pa] at a height, from the one at the datum.
 *
 *     p(z) = p + (rho_room - rho_gas) g (z - z_datum)
 *
 * Against room air at the same height.
 */
double dw_draft_pressure_at_pa(double pressure_datum_pa, double rho_room_kg_m3,
                               double rho_gas_kg_m3, double height_above_datum_m);

/** Height [m] above the datum where that pressure is zero; NaN when the densities are equal. */
double dw_draft_neutral_plane_m(double pressure_datum_pa, double rho_room_kg_m3,
                                double rho_gas_kg_m3);

#endif

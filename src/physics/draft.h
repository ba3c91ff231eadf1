#ifndef DW_DRAFT_H
#define DW_DRAFT_H

/**
 * @file draft.h
 * Weight of columns of air and gas: theoretical draft, pressure against height, neutral plane.
 *
 * Layer: physics. Pure functions of finite numbers; no checks, NaN in gives NaN out.
 */

#include "law.h"

/**
 * Theoretical draft [Pa] of a column, `(rho_out - rho_gas) g H`; positive when it pulls.
 *
 * @par Source      [ashrae-chimney] the same law; here with real densities instead of its 0.03413.
 * @par Checked by  tests/unit/physics/test_draft.c, tests/reference/stack.csv
 */
double dw_draft_theoretical_pa(double rho_out_kg_m3, double rho_gas_kg_m3, double height_m);

/**
 * How much more the wind presses on the room than on the top of the stack [Pa]: what it adds to the draft.
 *
 *     p_wind = (Cp_r - Cp_s) rho_out v^2/2
 *
 * The coefficients say which share of the speed head v^2/2 each of them feels: positive where wind is stopped,
 * negative where it sucks. Wind is taken as steady.
 *
 * @param[in] rho_out_kg_m3            of the air outside, > 0.
 * @param[in] speed_m_s                of the wind over the roof, >= 0.
 * @param[in] room_coeff, stack_coeff  Cp_r, Cp_s; -0.5..+0.5 for what is built.
 * @param[in] w                        gets p_wind, with the key wind_pressure_pa; must have rho_out, v_w, Cp_r
 *                                     and Cp_s.
 *
 * @par Source      [wind-head]
 * @par Checked by  tests/unit/physics/test_draft.c, tests/reference/stack.csv
 */
double dw_draft_wind_pa(double rho_out_kg_m3, double speed_m_s, double room_coeff, double stack_coeff,
                        dw_working *w);

/** Rise of the gauge pressure with height [Pa/m], `(rho_room - rho_gas) g`. */
double dw_draft_gradient_pa_m(double rho_room_kg_m3, double rho_gas_kg_m3, dw_working *w);

/**
 * Gauge pressure [Pa] at a height, from the one at the datum.
 *
 *     p(z) = p + (rho_room - rho_gas) g (z - z_datum)
 *
 * Against room air at the same height.
 */
double dw_draft_pressure_at_pa(double pressure_datum_pa, double rho_room_kg_m3,
                               double rho_gas_kg_m3, double height_m, double datum_m);

/** The same beside any two columns, and its step: names and meaning as for DW_STEP_AS, of
 *  `p_z = p + (rho_1 - rho_2)*g*(z - z_0)`. */
double dw_draft_pressure_beside_pa(double pressure_datum_pa, double rho_1_kg_m3, double rho_2_kg_m3,
                                   double height_m, double datum_m, const char *names,
                                   const char *meaning, dw_working *w);

/** Height [m] where that pressure is zero; NaN when the densities are equal. */
double dw_draft_neutral_plane_m(double pressure_datum_pa, double rho_room_kg_m3,
                                double rho_gas_kg_m3, double datum_m);

/** The laws above as they are shown: `D_th = (rho_top - rho_st)*g*H_st`, `p_z = p + grad*(z - z_0)`,
 *  `z_n = z_0 - p/grad`. */
extern const dw_law *const dw_draft_theoretical_law;
extern const dw_law *const dw_draft_pressure_law;
extern const dw_law *const dw_draft_neutral_law;

#endif

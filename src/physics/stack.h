#ifndef DW_STACK_H
#define DW_STACK_H

/**
 * @file stack.h
 * Weight of columns of air and gas: draft, pressure against height, neutral plane; and the stack, with its losses.
 *
 * Layer: physics. Pure functions, no state, no allocation.
 */

#include "dw_status.h"
#include "law.h"

/**
 * Theoretical draft [Pa] of a column, `(rho_out - rho_gas) g H`; positive when it pulls.
 *
 * @par Source      [ashrae-chimney] the same law; here with real densities instead of its 0.03413.
 * @par Checked by  tests/unit/physics/test_stack.c, tests/reference/stack.csv
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
 * @par Checked by  tests/unit/physics/test_stack.c, tests/reference/stack.csv
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

/* ---- the stack ----------------------------------------------------------------------- */

/** A stack and the air outside. */
typedef struct dw_stack_law {
    double height_m; /**< H > 0: top (or hood gap) above base; also the friction length */
    double area_m2;  /**< inside, > 0 */
    double hydraulic_diameter_m;  /**< 4 area/perimeter, > 0 */
    double roughness_m;           /**< >= 0, at most 0.2 of the diameter */
    double loss_sum;              /**< bends + cap + exit on stack area, >= 0 */
    double ntu;                   /**< heat loss UA/(m cp), >= 0; NaN: use ua_w_k */
    double ua_w_k;                /**< heat loss, >= 0; NaN: use ntu; exactly one is given */
    double outside_temperature_k; /**< > 0 */
    double outside_density_kg_m3; /**< > 0 */
    double pressure_pa_abs;       /**< of the site, > 0 */
} dw_stack_law;

/** What a wall lets through at a gas temperature. */
typedef struct dw_stack_wall_point {
    double temperature_k;        /**< of the gas beside it                              */
    double conductance_w_m2_k;   /**< heat for each m2 of inside surface and kelvin     */
} dw_stack_wall_point;

/** One state of a stack. */
typedef struct dw_stack_state {
    double mean_temperature_k;
    double top_temperature_k;
    double density_kg_m3; /**< at the mean temperature */
    double velocity_m_s;  /**< > 0 in the direction of flow */
    double reynolds;      /**< before the floor of 4000 */
    double friction_factor;
    double loss_pa;     /**< friction and local losses, > 0 */
    double buoyancy_pa; /**< (rho_out - rho_mean) g H: the theoretical draft */
    double base_pa;     /**< pressure needed at the base against outside air */
} dw_stack_state;

/** Checks a stack once, so that the two functions below need not.
 *  @retval DW_OK, DW_ERR_ARG (NULL, not finite, neither or both of ntu and ua), DW_ERR_DOMAIN */
DW_MUST_CHECK
dw_status dw_stack_law_check(const dw_stack_law *law);

/**
 * Upward flow: state of the stack and the base pressure needed.
 *
 *     NTU = ntu, or UA/(m cp)
 *     T_mean = T_out + (T_base - T_out)(1 - e^-NTU)/NTU
 *     rho = p M/(R T_mean),  v = m/(rho A),  Re = v D rho/mu(T_mean)
 *     loss = (f H/D + loss_sum) rho v^2/2
 *     base = loss - (rho_out - rho) g H
 *
 * For given NTU and base temperature the base pressure rises strictly with the flow. With UA given
 * it need not: a small flow cools and loses its draft, so two flows may fit one pressure.
 *
 * @param[in]  law                 checked; not NULL.
 * @param[in]  mass_kg_s           upwards, > 0.
 * @param[in]  base_temperature_k  of the gas at the base, > 0.
 * @param[in]  molar_mass_kg_mol   of the gas, > 0.
 * @param[in]  cp_j_kg_k           of the gas, > 0; used only with UA.
 * @param[out] state               NaN on failure.
 * @retval DW_OK, DW_ERR_ARG (NULL or not finite), DW_ERR_DOMAIN (not positive)
 *
 * @par Holds when  one mean temperature stands for the stack; the exit loss is taken at it too.
 * @par Source      [stack-balance] derived; friction [churchill1977].
 * @par Checked by  tests/unit/physics/test_stack.c, tests/reference/stack.csv
 */
DW_MUST_CHECK
dw_status dw_stack_up(const dw_stack_law *law, double mass_kg_s, double base_temperature_k,
                      double molar_mass_kg_mol, double cp_j_kg_k, dw_stack_state *state);

/**
 * Downward flow of outside air, as in a stalled stack: base = -loss, buoyancy 0.
 *
 * The stack is full of outside air. The loss sum is that of upward flow: the top is then an entry
 * and the base an exit, which costs about the same.
 *
 * @param[in]  mass_kg_s  downwards, > 0.
 * @param[out] state      NaN on failure; base_pa falls strictly as the flow grows, from 0.
 * @retval DW_OK, DW_ERR_ARG, DW_ERR_DOMAIN
 */
DW_MUST_CHECK
dw_status dw_stack_down(const dw_stack_law *law, double mass_kg_s, dw_stack_state *state);

/**
 * Heat that a wall lets through for each m2 of its inside surface and kelvin between gas and outside
 * [W/(m2 K)], at a gas temperature.
 *
 * Linear between the points, and held beyond the first and the last. Of one point it is that of the point,
 * whatever the temperature: only what radiates much, as bare steel, goes by it.
 *
 * @param[in] point              count of them, temperatures rising; not NULL. No checks.
 * @param[in] gas_temperature_k  T_w, of the gas beside the wall.
 * @param[in] w                  gets U and, of several points, U_1, t_1, U_2, t_2; must have T_w then.
 *
 * @par Source      [stack-walls] worked out; between the points a straight line (assumption).
 * @par Checked by  tests/unit/physics/test_stack.c, tests/reference/stack.csv
 */
double dw_stack_wall_conductance_w_m2_k(const dw_stack_wall_point *point, int count,
                                        double gas_temperature_k, dw_working *w);

/**
 * Heat that a stack loses through its wall for each kelvin [W/K]: UA = U P H, with the inside perimeter
 * P = 4 area/hydraulic diameter.
 *
 * @param[in] conductance_w_m2_k  U, >= 0.
 * @param[in] law                 area, hydraulic diameter and height count; not NULL.
 * @param[in] w                   gets UA; must have U, A_st, D_h and H_st.
 *
 * @par Source      [exchanger-law]
 * @par Checked by  tests/unit/physics/test_stack.c, tests/reference/stack.csv
 */
double dw_stack_wall_ua_w_k(double conductance_w_m2_k, const dw_stack_law *law, dw_working *w);

/** What dw_stack_up() is made of, for its working: the gas in the stack, then its flow and what that loses.
 *  Both write down their steps, the mean temperature and the loss with these keys; the working must have
 *  m_st, T_b, T_top and M_b, where the loss is by UA that too, and for the flow A_st, D_h, H_st, rough and the parts of loss_sum. No checks. */
void dw_stack_gas(const dw_stack_law *law, double mass_kg_s, double base_temperature_k,
                  double molar_mass_kg_mol, double cp_j_kg_k, const char *keys, dw_working *w,
                  dw_stack_state *state);
void dw_stack_flow(const dw_stack_law *law, double mass_kg_s, const char *keys, dw_working *w,
                   dw_stack_state *state);

#endif

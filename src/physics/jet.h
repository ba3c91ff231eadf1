#ifndef DW_JET_H
#define DW_JET_H

/**
 * @file jet.h
 * Gas leaving an orifice: mass flow, velocity and thrust, up to and past the choked limit.
 *
 * Layer: physics. Pure functions, no state, no allocation. Pressures are absolute.
 */

#include <stdbool.h>

#include "dw_status.h"
#include "law.h"

/** An orifice. */
typedef struct dw_jet {
    double area_m2;         /**< > 0                                                      */
    double discharge_coeff; /**< Cd: real mass flow / ideal, in (0, 1]                    */
    double velocity_coeff;  /**< Cv: thrust / (mass flow x isentropic velocity), in (0, 1] */
} dw_jet;

/** The gas behind an orifice. */
typedef struct dw_jet_gas {
    double molar_mass_kg_mol;   /**< > 0                                           */
    double heat_capacity_ratio; /**< k = cp/cv at the supply temperature, 1 < k <= 5/3 */
    double temperature_k;       /**< of the supply, > 0                            */
    double supply_pa_abs;       /**< stagnation pressure, > 0                      */
} dw_jet_gas;

/** An orifice with its supply: what does not depend on the back pressure. Fill with
 *  dw_jet_supply_init(); fields are for dw_jet_discharge() only. */
typedef struct dw_jet_supply {
    double supply_pa_abs;
    double exponent;            /**< 1/k                                                     */
    double critical_ratio;      /**< p_back/p_supply at which the throat is choked           */
    double velocity_max_m_s;    /**< sqrt(2 k/(k-1) R T/M): into a vacuum                    */
    double mass_per_speed_kg_s; /**< Cd A rho_supply velocity_max                            */
    double mass_choked_kg_s;
    double velocity_coeff;
} dw_jet_supply;

/** What comes out. */
typedef struct dw_jet_flow {
    double mass_kg_s;    /**< >= 0                                                        */
    double velocity_m_s; /**< isentropic velocity fully expanded to the back pressure     */
    double thrust_n;     /**< Cv m u                                                      */
    bool choked;         /**< the throat runs at the speed of sound                       */
} dw_jet_flow;

/**
 * Prepares an orifice with its supply.
 *
 * @param[in]  jet, gas  not NULL.
 * @param[out] supply    doubles NaN on failure.
 * @retval DW_OK
 * @retval DW_ERR_ARG     a pointer is NULL or a number not finite.
 * @retval DW_ERR_DOMAIN  a field is outside its range.
 */
DW_MUST_CHECK
dw_status dw_jet_supply_init(const dw_jet *jet, const dw_jet_gas *gas, dw_jet_supply *supply);

/**
 * Mass flow, velocity and thrust of a jet against a back pressure.
 *
 *     m = Cd A p1 sqrt( 2k/((k-1) Rs T1) (r^(2/k) - r^((k+1)/k)) ),  r = max(p2/p1, r_c)
 *     r_c = (2/(k+1))^(k/(k-1)),   Rs = R/M
 *     u = sqrt( 2k/(k-1) Rs T1 (1 - (p2/p1)^((k-1)/k)) ),   J = Cv m u
 *
 * Isentropic nozzle times a discharge coefficient; past the critical ratio the mass flow no longer
 * sees the back pressure. The velocity is that of the fully expanded gas even then: outside the
 * orifice the jet goes on expanding, and momentum plus remaining pressure give nearly that thrust.
 * A supply at or below the back pressure gives zero everywhere: a jet never runs backwards here.
 *
 * @param[in]  supply       from dw_jet_supply_init().
 * @param[in]  back_pa_abs  pressure the jet runs into, > 0. NaN gives NaN.
 * @param[out] flow         not NULL.
 *
 * @par Holds when  ideal gas, adiabatic; Cd constant. Cd is the weak part: +/-8 % unless measured.
 * @par Source      [isentropic-nozzle] textbook expression, also read in [fulford1996]; the thrust
 *                  rule is derived.
 * @par Checked by  tests/unit/physics/test_jet.c, tests/reference/jet.csv
 */
void dw_jet_discharge(const dw_jet_supply *supply, double back_pa_abs, dw_jet_flow *flow);

/**
 * Discharge coefficient of a thin jet, a sharp-edged hole, which rises with the pressure.
 *
 *     Cd = 0.8414 - 0.1002 r + 0.8415 r^2 - 3.9 r^3 + 4.6001 r^4 - 1.6827 r^5
 *
 * @param[in] ratio  r: pressure after the hole / before it, both absolute; 0..1, else NaN.
 * @param[in] names  names of Cd and r in a working, see DW_STEP_AS.
 * @param[in] w      gets the step; may be NULL.
 *
 * @par Holds when  the hole is shorter than half its bore; goes with the nozzle's flow above, also past
 *                  the critical ratio.
 * @par Source      [perry-orifice] read
 * @par Checked by  tests/unit/physics/test_jet.c, tests/reference/jet.csv
 */
double dw_jet_thin_discharge(double ratio, const char *names, dw_working *w);

/** Writes down how textbooks have it: r, rc, rm and the mass flow m, then the speed u and the thrust J, as
 *  worked out by these formulas. Names are those of p_1, p_2, Cd, A, Cv, k, Rs = R T/M and of the results. */
void dw_jet_write_mass(dw_working *w, const char *names, const char *meaning);
void dw_jet_write_thrust(dw_working *w, const char *names);

#endif

#ifndef DW_FLAME_H
#define DW_FLAME_H

/**
 * @file flame.h
 * What burns in air: limits of flammability, and the gas that meets room air at an opening.
 *
 * Layer: physics. No state, no allocation.
 */

#include <stdbool.h>
#include <stddef.h>

#include "elements.h"
#include "law.h"

/** Widest range of the temperature rule [K]: -50 to 750 degC. Above, anything that leaks burns. */
#define DW_FLAMMABLE_LOW_K 223.15
#define DW_FLAMMABLE_HIGH_K 1023.15

/**
 * Lean or rich limit of a mixture of combustible gases by Le Chatelier's rule.
 *
 *     1/L = sum(y_i/L_i),   y_i shares of the combustible part, sum 1
 *
 * @param[in] x        amounts of each gas, any scale, >= 0; gases that do not burn have a limit of NaN and
 *                     are left out of the shares.
 * @param[in] limit_x  limit of each gas in air, NaN for one that does not burn.
 * @param[in] count    gases.
 * @return limit of the combustible part in air; NaN when nothing burns.
 *
 * @par Holds when  the gases are alike enough (CO, H2, paraffins); within some per cent, CO-H2
 *                  included. Moist, at 1 bar.
 * @par Source      [le-chatelier]; limits of single gases [bumines627] (recalled).
 * @par Checked by  tests/reference/flammability.csv
 */
double dw_flammable_limit(const double *x, const double *limit_x, size_t count);
/** The law, of the sum a of the gases that burn and the ratio r below. */
extern const dw_law *const dw_flammable_limit_law;

/**
 * How near a gas is to its lean limit: sum(x_i/L_i), 1 or more means that it can burn in air.
 *
 * Mixing with air only lowers it. Inert gases count as air: at the lean limit they hardly differ.
 *
 * @param[in] x  mole fractions of the whole gas.
 */
double dw_flammable_ratio(const double *x, const double *lean_limit_x, size_t count);

/**
 * Factor on the lean limit at a temperature: 1 - 0.000721/K (t - 25 degC).
 *
 * @param[in] slope_per_k  0.000721.
 * @return NaN outside DW_FLAMMABLE_LOW_K..DW_FLAMMABLE_HIGH_K.
 * @par Source [burgess-wheeler] (recalled).
 * @par Checked by tests/reference/flammability.csv
 */
double dw_lean_limit_factor(double slope_per_k, double temperature_k);

/** Lean limit at a temperature, and rich limit (at most 1), of a whole gas with what does not burn in it; NaN out
 *  of the factor's range, or when nothing burns. A working needs columns a_f, l_f and r_f, slope and T_room. */
double dw_lean_limit(const double *x, const double *limit_x, size_t count, double slope_per_k,
                     double temperature_k, const char *keys, dw_working *w);
double dw_rich_limit(const double *x, const double *limit_x, size_t count, const char *keys, dw_working *w);

/** The ratio at a temperature instead of 25 degC, by the same rule; NaN outside its range. A working needs r_lim,
 *  slope and T_gas. */
double dw_flammable_ratio_hot(double ratio, double slope_per_k, double temperature_k, const char *keys,
                              dw_working *w);

/**
 * Time [s] until gas let into a closed space reaches a mole fraction.
 *
 *     t = x V/q
 *
 * Well stirred, nothing escapes: the shortest mean time. In layers and pockets it is reached
 * earlier, near the burner within seconds.
 *
 * @param[in] volume_m3, gas_m3_s  > 0; no gas gives infinity, and no step.
 * @param[in] keys, names, meaning, w  see DW_STEP_AS: t of x_lean, V and q.
 */
double dw_fill_time_s(double limit_x, double volume_m3, double gas_m3_s, const char *keys, const char *names,
                      const char *meaning, dw_working *w);

/* ---- gas at an opening --------------------------------------------------------------- */

/** Time [s] in which CO would burn as fast as it begins to; infinite without oxygen or water. */
double dw_co_burns_in_s(double temperature_k, double pressure_pa_abs, double x_h2o, double x_o2, dw_working *w);

/** The mixture that burns fastest. */
typedef struct dw_port_flame {
    double temperature_k;   /**< of the mixture before it burns; NaN: none is hot enough       */
    double air_mol_mol;     /**< moles of room air in it to a mole of kiln gas                 */
    double x_h2o, x_o2;     /**< in it                                                         */
    double tau_s;           /**< infinite: nothing burns                                       */
} dw_port_flame;

/** Gas and air that meet at a hole. All borrowed. */
typedef struct dw_port_meeting {
    const dw_species_table *table;
    const double *x_gas, *x_air;         /**< mole fractions over the table                    */
    double gas_temperature_k, air_temperature_k;
    double pressure_pa_abs;
} dw_port_meeting;

/**
 * Looks for it. A working gets the steps from x_CO, T_gas, T_room and p_air to tau.
 *
 * @param[out] flame  not NULL; set on success.
 * @retval DW_OK, DW_ERR_ARG, DW_ERR_DOMAIN (a temperature is outside 200..6000 K, a gas of the law is not in the table)
 */
DW_MUST_CHECK
dw_status dw_port_flame_find(const dw_port_meeting *meeting, dw_working *w, dw_port_flame *flame);

/** How far a mixture of a temperature is hot enough to burn, 0..1. */
double dw_port_hot(double temperature_k, dw_working *w);

/** Share of CO that burns at a hole: 0..0.9. */
double dw_port_burnt_frac(const dw_port_flame *flame, double width_m, double speed_m_s);

/** The laws for columns: Da from d, v and tau; fast from Da; burnt from hot and fast. */
extern const dw_law *const dw_port_da_law, *const dw_port_fast_law, *const dw_port_burnt_law;

#endif

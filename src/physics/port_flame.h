#ifndef DW_PORT_FLAME_H
#define DW_PORT_FLAME_H

/**
 * @file port_flame.h
 * How much of the carbon monoxide burns where hot kiln gas comes out of a hole into room air.
 *
 *     share = 0.9 * ramp(T_x from 610 to 760 degC) * ramp(Da from 1 to 10),   Da = (10 d/v)/tau
 *
 * T_x and tau are those of the mixture of kiln gas and room air that burns its CO fastest, of all between the gas
 * alone and just enough air, and no colder than 610 degC. (Just enough air alone is too cold in rich gas, where
 * flames are seen.) tau is [CO] over the rate at which it begins to burn,
 *
 *     d[CO]/dt = -10^14.6 exp(-40 kcal/(R T)) [CO] [H2O]^0.5 [O2]^0.25      in mol/cm3 s
 *
 * and 10 d/v is the time that gas of a speed v takes for ten widths d of its hole, the length of such a flame.
 * What comes out of cracks and joints does not burn there: its heat is gone.
 *
 * A likely figure, never one that a verdict may rest on.
 *
 * Layer: physics. No allocation, no state.
 *
 * @par Source      rate [dryer1973]; 610 degC [bumines627]; 760 degC [nfpa86]; 0.9, the ramps, ten widths [judgement].
 * @par Checked by  tests/unit/physics/test_port_flame.c, tests/reference/port_flame.csv
 */

#include "elements.h"

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

#ifndef DW_WORKING_MIXTURES_H
#define DW_WORKING_MIXTURES_H

/**
 * @file working_mixtures.h
 * The working of equilibria side by side: mixtures of one fuel and one air of different richness, one
 * a row.
 *
 * Layer: point. Not for others but the files that write a working of such mixtures.
 */

#include "equilibrium.h"
#include "law.h"
#include "working_parts.h"

/** What an equilibrium at T_gas says, in the terms of two reactions: lg_pO2 from K_1, e_CO2 and e_CO; a_C from
 *  gT_CO, gT_CO2, gT_C, e_CO, e_CO2 and p_air. The solver has them from its potentials. */
extern const dw_law *const dw_equilibrium_oxygen_law, *const dw_equilibrium_carbon_law;

typedef struct dw_work_mixtures {
    const dw_gas_set *gases;
    const dw_gas_potentials *potentials;
    const dw_elements *fuel_kg, *air_kg;
    double pressure_pa_abs;         /**< that of p_air                                       */
    size_t rows;                    /**< of the table begun last                             */
    const double *z;                /**< kg fuel per kg mixture                              */
    const char *z_symbol;           /**< its column there                                    */
    const bool *graphite;           /**< for each row: solid carbon is let form; NULL: none   */
    const char *x, *g;              /**< symbols of shares and free enthalpies begin so: "x" for x_CO */
    const char *temperature;        /**< symbol                                              */
} dw_work_mixtures;

/**
 * Adds to the table begun last what every mixture is in equilibrium: atoms, potentials, shares of all
 * gases, each by its formula, and the balances that the potentials close.
 *
 * Needs the symbol p_air; leaves a column of shares for each gas and a number for its free enthalpy,
 * and, when the set has graphite, its free enthalpy too.
 *
 * @retval DW_OK, or as dw_equilibrium_solve().
 * @par Source      [rp1311], [nasa9]
 * @par Checked by  tests/unit/ware/test_working_ware.c
 */
DW_MUST_CHECK
dw_status dw_work_mixtures_put(dw_working *w, const dw_work_mixtures *m);

#endif

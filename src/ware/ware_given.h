#ifndef DW_WARE_GIVEN_H
#define DW_WARE_GIVEN_H

/**
 * @file ware_given.h
 * What is known of the gas at the ware without a kiln.
 *
 * Layer: ware. No allocation, no state.
 */

#include "gas_match.h"
#include "law.h"

/** How the oxygen is said without a kiln. */
typedef enum dw_oxygen_given {
    DW_OXYGEN_LOG10,      /**< log10 of its pressure in bar                                 */
    DW_OXYGEN_CO_CO2,
    DW_OXYGEN_VOLTS,
    DW_OXYGEN_H2_H2O
} dw_oxygen_given;

/** How a cell whose volts were read comes by its temperature. */
typedef enum dw_sensor {
    DW_SENSOR_NONE,       /**< no volts were read                                           */
    DW_SENSOR_ZIRCONIA,   /**< in the kiln, as hot as its gas                               */
    DW_SENSOR_HEATED      /**< heats itself                                                 */
} dw_sensor;

/** What is known without a kiln, beside the temperature of the ware. */
typedef struct dw_ware_given {
    dw_oxygen_given given;
    double value;                    /**< in the unit of the way: none, or volts             */
    dw_sensor sensor;
    double sensor_temperature_k;     /**< of a heated one; else NaN                          */
    dw_match_mixtures mixtures;
    bool fuel_given;
} dw_ware_given;

/**
 * The oxygen where it was read, log10 of bar: at the ware, or at a heated sensor.
 *
 * @param[in] w  NULL, or takes what was given (T_s, E_in ...) and the step: lg_pO2 with the key
 *               "log10_po2_bar", of a heated sensor lg_s. Needs p_air R F K_1 K_2.
 * @retval DW_OK, DW_ERR_DOMAIN (a temperature outside 200..6000 K)
 * @par Source      [nasa9], [nernst]
 * @par Checked by  tests/unit/ware/test_working_ware.c
 */
DW_MUST_CHECK
dw_status dw_given_oxygen_read(const dw_model *model, const dw_ware_given *given, double temperature_k,
                               dw_working *w, double *log10_po2_bar);

/**
 * The oxygen at the ware, and the mixture of fuel and air that has it. A heated sensor reads it at another
 * temperature: what stays is the mixture.
 *
 * @retval DW_OK, or as dw_match_oxygen()
 */
DW_MUST_CHECK
dw_status dw_given_oxygen_at(const dw_model *model, const dw_ware_given *given, double temperature_k,
                             dw_matched_gas *gas, double *log10_po2_bar);

#endif

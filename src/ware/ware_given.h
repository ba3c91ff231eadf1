#ifndef DW_WARE_GIVEN_H
#define DW_WARE_GIVEN_H

/**
 * @file ware_given.h
 * What is known of the gas at the ware without a kiln.
 *
 * Layer: ware. Plain values.
 */

#include "gas_match.h"

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

#endif

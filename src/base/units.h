#ifndef DW_UNITS_H
#define DW_UNITS_H

/**
 * @file units.h
 * The only place that knows units other than SI: text with a unit to an SI number, and an
 * SI number to the unit a person reads.
 *
 * Layer: base. Pure functions, no state, no allocation, no locale.
 */

#include <stddef.h>

#include "dw_status.h"

/** What kind of quantity a number is. Temperature and temperature difference are two kinds;
 *  so are gauge and absolute pressure, and rates and totals. */
typedef enum dw_dim {
    DW_DIM_RATIO,             /**< 1; text: `0.4`, `40 %`                       */
    DW_DIM_LENGTH,            /**< m                                            */
    DW_DIM_AREA,              /**< m2                                           */
    DW_DIM_VOLUME,            /**< m3                                           */
    DW_DIM_PRESSURE_GAUGE,    /**< Pa, relative to the room                     */
    DW_DIM_PRESSURE_ABS,      /**< Pa                                           */
    DW_DIM_TEMPERATURE,       /**< K (offset scales allowed: degC, degF)        */
    DW_DIM_TEMPERATURE_DIFF,  /**< K (scale only; `20 degC` is refused)       */
    DW_DIM_MASS,              /**< kg                                           */
    DW_DIM_MASS_FLOW,         /**< kg/s                                         */
    DW_DIM_VOLUME_FLOW,       /**< m3/s at the conditions the key names         */
    DW_DIM_ENERGY,            /**< J  (a total)                                 */
    DW_DIM_POWER,             /**< W  (a rate)                                  */
    DW_DIM_ANGLE,             /**< rad                                          */
    DW_DIM_TIME,              /**< s                                            */
    DW_DIM_CONDUCTANCE,       /**< W/K                                          */
    DW_DIM_ENERGY_PER_MASS,   /**< J/kg                                      */
    DW_DIM_ENERGY_PER_VOLUME, /**< J/m3                                      */
    DW_DIM_DENSITY,           /**< kg/m3                                        */
    DW_DIM_MOLAR_MASS,        /**< kg/mol                                       */
    DW_DIM_VOLTAGE,           /**< V                                            */
    DW_DIM_POWER_PER_VOLUME,  /**< W/m3                                       */
    DW_DIM_SPEED,             /**< m/s                                          */
    DW_DIM_AREA_PER_POWER,    /**< m2/W                                         */
    DW_DIM_PRESSURE_PER_LENGTH, /**< Pa/m                                      */
    DW_DIM_NUMBER,            /**< 1, plain: counts, coefficients, exponents; % is refused */
    DW_DIM_SHARE,             /**< 1; text: `40 %`; a bare number is refused    */
    DW_DIM_COUNT_
} dw_dim;

/** Reading system of the person: SI-metric trade units or US customary ones. */
typedef enum dw_unit_system { DW_UNITS_METRIC, DW_UNITS_US } dw_unit_system;

/** Plain name of a kind: "length", "gauge pressure", "temperature difference"... */
const char *dw_dim_name(dw_dim dim);

/** SI unit as text, as in JSON and working: "m", "Pa", "K", "kg/s", "1" ... */
const char *dw_dim_si_unit(dw_dim dim);

/** Suffix for a key that holds the SI number: "_m", "_pa", "_k", "_kg_s", "" ... */
const char *dw_dim_suffix(dw_dim dim);

/** A few allowed spellings of units for error messages, e.g. "Pa, kPa, mbar, inH2O, psi". */
const char *dw_dim_examples(dw_dim dim);

/** Longest message dw_quantity_from_text() writes, with its NUL. */
enum { DW_QUANTITY_MESSAGE_SIZE = 200 };

/**
 * SI value of a quantity written with its unit.
 *
 * Number first (C decimal floating form; `1/2` and `1 1/2` for lengths only), optional white
 * space, then the unit. Spellings are exact, but white space may stand beside a sign and may be
 * missing between words; `m2`, `m^2` and `m²` are one unit, as are `degC` and `°C`. A bare number
 * is read for RATIO and NUMBER alone; SHARE takes %, RATIO does too, and NUMBER takes no unit.
 * The decimal mark is a point whatever the locale; NaN, infinities and hexadecimal are refused.
 *
 * @param[in]  text, length  the text; need not end in NUL; surrounding white space allowed.
 * @param[in]  dim           the kind that the key expects.
 * @param[out] si            value in SI; NaN on failure.
 * @param[out] message       what is wrong, lower case, without the key's name: what was read
 *                           and what is allowed; "" on success.
 *
 * @retval DW_OK         si is set and finite; that it makes sense (a temperature above absolute
 *                       zero, a share up to 1) is for the caller to check.
 * @retval DW_ERR_ARG    a null pointer or no such kind.
 * @retval DW_ERR_INPUT  the text is no such quantity; message says why (wrong dimension and
 *                       wrong basis are named: "is an energy (a total), expected a power (a
 *                       rate)"); a bare number is answered with what may have been meant.
 *
 * @par Source      [definition] of the inch, foot, pound, Btu and the conventional columns of
 *                  water and mercury; unit_rows.c writes each factor out.
 * @par Checked by  tests/unit/base/test_units.c, test_units_udunits.c
 */
DW_MUST_CHECK
dw_status dw_quantity_from_text(const char *text, size_t length, dw_dim dim, double *si,
                                char message[DW_QUANTITY_MESSAGE_SIZE]);

/**
 * The unit that a quantity was typed in, as the table spells it: "in w.c.", "mm"; "" for a bare
 * number of a kind that allows one; NULL when the text is no quantity of this kind. Static storage.
 */
const char *dw_quantity_unit(const char *text, size_t length, dw_dim dim);

/** Value of an SI number in the unit that the table spells so; the number itself for "". */
double dw_quantity_in(double si, dw_dim dim, const char *unit);

/** True for a unit of the US customary system: inches, degF, psi, Btu ... */
int dw_unit_is_us(const char *unit);

/**
 * How a person reads a quantity: value in the unit of the system, and the unit's text.
 *
 * Units chosen by kind (metric / US): length m/ft, area cm2/in2, volume m3/ft3, pressure by
 * dw_quantity_display's caller through the variant below, temperature degC/degF, mass flow
 * kg/h / lb/h, power kW / Btu/h ...
 */
double dw_quantity_display(double si, dw_dim dim, dw_unit_system system, const char **unit);

/** Like dw_quantity_display() for supply pressures (kPa / psi) and drafts (Pa / in w.c.):
 *  small is true for drafts and chamber pressures. */
double dw_pressure_display(double si, int small, dw_unit_system system, const char **unit);

/** Conversion row by index, for tests and documentation: unit text, kind, factor to SI and
 *  offset in the unit (SI = (value + offset) * factor). Returns 0 past the end. */
int dw_unit_row(size_t index, const char **unit, dw_dim *dim, double *factor, double *offset);

#endif

#ifndef DW_KNOWN_GAS_H
#define DW_KNOWN_GAS_H

/**
 * @file known_gas.h
 * A temperature, or many, and an oxygen that are given without a kiln: options of the question about the
 * ware.
 *
 * Layer: ask. Not for others, not installed. What is wrong goes to the question's diag.
 */

#include "asking.h"
#include "gas_match.h"
#include "ware_given.h"

enum { DW_KNOWN_GAS_SIZE = 80 };

/** Reads option at into the one axis of rows.
 *  @param[out] axes  freed with dw_axes_free() whatever the answer.
 *  @retval DW_OK, DW_ERR_INPUT, DW_ERR_NOMEM */
DW_MUST_CHECK
dw_status dw_known_temperatures(const dw_asking *a, dw_axes *axes);

/** Reads the options that say how much oxygen there is, which sensor says so, and the fuel.
 *  @param[out] asked  "CO/CO2 0.12".
 *  @retval DW_OK, DW_ERR_INPUT, DW_ERR_NOMEM, DW_ERR_BUG */
DW_MUST_CHECK
dw_status dw_known_gas_read(const dw_asking *a, dw_ware_given *given, char asked[DW_KNOWN_GAS_SIZE]);

/** Ware and gas at one temperature. */
DW_MUST_CHECK
dw_status dw_known_gas_at(const dw_engine *engine, const dw_ware_given *given, double temperature_k,
                          dw_matched_gas *gas, dw_ware *ware);

#endif

#ifndef DW_KILN_SUPPLY_H
#define DW_KILN_SUPPLY_H

/**
 * @file kiln_supply.h
 * What makes the gauge and the supply of the gas meaningless together.
 *
 * Layer: kiln. Pure.
 *
 * @par Checked by tests/unit/kiln/test_kiln_limits.c, tests/bad_input
 */

#include <stdbool.h>

#include "kiln.h"

/** False with a message as dw_kiln_check() gives it: a gauge at the manifold without a supply, half a supply, a running
 *  pressure that is not below the static one. */
bool dw_supply_check(const dw_operating *operating, char *message, size_t size);

#endif

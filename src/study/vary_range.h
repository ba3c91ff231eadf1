#ifndef DW_VARY_RANGE_H
#define DW_VARY_RANGE_H

/**
 * @file vary_range.h
 * The values of a quantity to vary, from text: ranges with a step, and lists.
 *
 * Layer: study. Allocates the values; no state.
 */

#include <stddef.h>

#include "dw_status.h"
#include "units.h"

enum {
    DW_VARY_POINT_MAX = 10000000,  /**< most points of one range, and of a whole sweep */
    DW_VARY_MESSAGE_SIZE = 320
};

/**
 * Values [SI] of a range text.
 *
 *     range  = part {"," part}
 *     part   = number | number ".." number ":" step
 *
 * Each number may carry its unit; a number without one takes that of the next number that has
 * one, so that the unit may stand once at the end (`0..100:5 %`, `20, 40, 80 %`). A last number
 * without a unit is refused for kinds that need one. A step is a difference: `900 degC..1300
 * degC:20 degC` steps by 20 K. It must be above zero; a range may fall (`100 %..0 %:5 %`). The end
 * is included when the steps meet it within rounding (1e-9 of a step), and then it is exact.
 *
 * @param[in]  text     not NULL.
 * @param[in]  dim      kind of the quantity.
 * @param[in]  low, high  allowed values, SI; values must lie within.
 * @param[out] values   owned by the caller, freed with free(); NULL on failure.
 * @param[out] count    1..DW_VARY_POINT_MAX; 0 on failure.
 * @param[out] message  what was read and what is allowed, lower case; "" on success. A bare share
 *                      (`0.2..0.6:0.1`), a dash for the two dots, a decimal comma and a plus sign
 *                      before what cannot be negative are answered with what to write.
 * @retval DW_OK, DW_ERR_INPUT, DW_ERR_NOMEM, DW_ERR_ARG
 * @par Checked by  tests/unit/study/test_vary_range.c
 */
DW_MUST_CHECK
dw_status dw_vary_range_parse(const char *text, dw_dim dim, double low, double high,
                              double **values, size_t *count, char message[DW_VARY_MESSAGE_SIZE]);

/** The unit that the first value of a range text was typed in, as dw_quantity_unit() gives it; NULL
 *  when there is none or memory ran out. */
const char *dw_vary_range_unit(const char *text, dw_dim dim);

#endif

#ifndef DW_DOUBT_H
#define DW_DOUBT_H

/**
 * @file doubt.h
 * How far the answer moves when inputs that nobody measured go to the ends of their usual range.
 *
 * Layer: study. One input at a time; no sampling, no state. Inputs that were given are left alone.
 */

#include "operating_point.h"
#include "settle.h"
#include "working.h"

/** Inputs that are usually assumed (model.md 15). The order is that of the table in doubt.c. */
typedef enum dw_doubt_input {
    DW_DOUBT_LEAK_AREA,
    DW_DOUBT_DAMPER_SCALE,
    DW_DOUBT_JET_DISCHARGE,
    DW_DOUBT_PORT_TEMPERATURE,
    DW_DOUBT_MIXING_LOSS,
    DW_DOUBT_OPENING_DISCHARGE,
    DW_DOUBT_STACK_HEAT_LOSS,
    DW_DOUBT_DAMPER_LEAK,
    DW_DOUBT_COUNT
} dw_doubt_input;

/** One input's share of the doubt. */
typedef struct dw_doubt_item {
    dw_doubt_input input;
    double low, high;           /**< ends of the range tried; a factor when is_factor          */
    bool is_factor;             /**< low and high multiply the value there is                  */
    double phi_low, phi_high;   /**< equivalence ratio there; NaN where not solved             */
} dw_doubt_item;

/** The doubt in the equivalence ratio of one point. */
typedef struct dw_doubt {
    int count;
    dw_doubt_item item[DW_DOUBT_COUNT]; /**< the largest first; only inputs that were not given */
    double phi_from, phi_to;            /**< all together: root of the sum of squares of the
                                             logarithms, each side; NaN when nothing was in doubt                      */
    dw_settled settled;                 /**< the reading that would narrow it most              */
    bool one_sided;                     /**< an end could not be solved and is not in the sum   */
} dw_doubt;

/** What an input is called in a sentence: "leak area", "loss of the damper" ...; never NULL. */
const char *dw_doubt_input_text(dw_doubt_input input);

/** How much an input moves an answer from its middle, for the order; NaN: not solved. */
double dw_doubt_reach(double low, double high, double middle);

/** All items together: phi_from and phi_to, and the steps; a working must hold one with the symbol phi. Nothing when
 *  nothing was in doubt. @par Checked by tests/golden/test_working.py */
void dw_doubt_sum(dw_doubt *doubt, double phi, dw_working *w);

/** Puts an input of a resolved kiln to the low or high end of its range. False when the kiln has no use
 *  for it; it is then to be thrown away. */
bool dw_doubt_put(dw_kiln *resolved, dw_doubt_input input, bool high);

/**
 * Works out the doubt of a solved point.
 *
 * @param[in]  model, kiln   as for dw_operating_point().
 * @param[in]  phi           equivalence ratio of the point as given.
 * @param[in]  given         for each input: true when the user gave it, so that it is no doubt.
 * @param[out] doubt         not NULL.
 * @retval DW_OK
 * @retval DW_ERR_ARG    a pointer is NULL.
 * @retval DW_ERR_NOMEM
 *
 * @par Holds when  inputs are independent and each end is about one in ten unlikely; a first estimate
 *                  of the spread, not a distribution.
 * @par Source      ranges: published where the table in doubt.c says so, else assumptions.
 * @par Checked by  tests/unit/study/test_doubt.c
 */
DW_MUST_CHECK
dw_status dw_doubt_find(const dw_model *model, const dw_kiln *kiln, double phi,
                        const bool given[DW_DOUBT_COUNT], dw_doubt *doubt);

#endif

#ifndef DW_ROOT1D_H
#define DW_ROOT1D_H

/**
 * @file root1d.h
 * Zero of a function of one variable inside a bracket.
 *
 * Layer: numerics. GSL's Brent solver, run on the stack and kept away from GSL's process-wide error
 * handler, with both tolerances and a report of how it went. No allocation, no state.
 */

#include "dw_status.h"

/** f(x); a value that is not finite ends the search with DW_ERR_NO_CONVERGE. */
typedef double (*dw_function1)(double x, void *context);

typedef struct dw_root {
    double x;            /**< the root                                     */
    double f;            /**< what is left there                           */
    int evaluations;     /**< of f                                         */
} dw_root;

/** An end of a bracket, and f there as whoever found the bracket has seen it. */
typedef struct dw_root_end {
    double x, f;
} dw_root_end;

/**
 * Root by Brent's method [gsl] between two ends whose values are known.
 *
 * f is not asked at the ends again. So a function that comes out a rounding error apart the second time,
 * as one does that begins each search of its own where the last one ended, cannot take a bracket back that
 * it has shown.
 *
 * Arguments and errors as dw_root_find(); low.x < high.x, low.f and high.f finite.
 */
DW_MUST_CHECK
dw_status dw_root_between(dw_function1 f, void *context, dw_root_end low, dw_root_end high,
                          double x_tol, double f_tol, dw_root *root);

/**
 * Root by Brent's method [gsl].
 *
 * @param[in]  low, high  ends of the bracket, f of opposite signs or zero; low < high.
 * @param[in]  x_tol      stops when the bracket is this narrow (absolute); >= 0. A few units of
 *                        rounding of x are always allowed.
 * @param[in]  f_tol      stops when |f| is at most this; >= 0.
 * @param[out] root       the best point; x and f NaN on failure.
 * @retval DW_OK
 * @retval DW_ERR_ARG          an input is not finite or low >= high.
 * @retval DW_ERR_DOMAIN       no change of sign between low and high.
 * @retval DW_ERR_NO_CONVERGE  f gave no finite number, or 200 iterations were not enough.
 */
DW_MUST_CHECK
dw_status dw_root_find(dw_function1 f, void *context, double low, double high, double x_tol,
                       double f_tol, dw_root *root);

#endif

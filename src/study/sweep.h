#ifndef DW_SWEEP_H
#define DW_SWEEP_H

/**
 * @file sweep.h
 * Many operating points along one or two inputs.
 *
 * Layer: study. The caller changes the kiln for each point through a callback, so that this layer
 * needs to know no input by name.
 */

#include <stddef.h>

#include "operating_point.h"

/** Puts the SI values of this point (one or two) into the kiln. */
typedef void (*dw_sweep_put)(void *user, const double *values, dw_kiln *kiln);

/** Takes a finished point. Return non-zero to stop. */
typedef int (*dw_sweep_take)(void *user, size_t index, const double *values,
                             const dw_result *result);

typedef struct dw_sweep {
    size_t axis_count;          /**< 1 or 2                                                 */
    const double *axis[2];      /**< values in SI, in the order wanted; borrowed            */
    size_t length[2];           /**< points per axis                                        */
    dw_sweep_put put;
    dw_sweep_take take;
    void *user;                 /**< handed to both                                         */
} dw_sweep;

/**
 * Runs every combination; the last axis moves fastest.
 *
 * Each point starts from the kiln as read and from a copy of nothing else: the order of points has
 * no influence on any number. A point that cannot be solved, or whose inputs contradict each
 * other, is handed to take() with solved = false and the reason.
 *
 * @retval DW_OK             all points were tried, or take() stopped the run.
 * @retval DW_ERR_ARG, DW_ERR_NOMEM
 */
DW_MUST_CHECK
dw_status dw_sweep_run(const dw_model *model, const dw_kiln *kiln, const dw_sweep *sweep);

#endif

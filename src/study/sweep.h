#ifndef DW_SWEEP_H
#define DW_SWEEP_H

/**
 * @file sweep.h
 * Many points along one or two inputs, whatever is asked at each.
 *
 * Layer: study. The caller changes the kiln for each point and answers for it through callbacks, so that
 * this layer needs to know no input by name and no question.
 */

#include <stddef.h>

#include "damperwise.h"
#include "kiln.h"

enum { DW_SWEEP_AXIS_MAX = 2 };

/** Puts the SI values of this point (one or two) into the kiln. */
typedef void (*dw_sweep_put)(void *user, const double *values, dw_kiln *kiln);

/** Answers for a point; kiln is NULL in a sweep without one. What is no answer ends the sweep. */
typedef dw_status (*dw_sweep_point)(void *user, const double *values, const dw_kiln *kiln);

typedef struct dw_sweep {
    size_t axis_count;                      /**< 1 or 2                                     */
    const double *axis[DW_SWEEP_AXIS_MAX];  /**< values in SI, in the order wanted; borrowed */
    size_t length[DW_SWEEP_AXIS_MAX];       /**< points per axis                            */
    const dw_kiln *kiln;                    /**< as read; NULL: only the values change      */
    dw_sweep_put put;                       /**< NULL without a kiln                        */
    dw_sweep_point point;
    void *user;                             /**< handed to both                             */
    dw_progress progress;                   /**< after each point; NULL: none               */
    void *progress_user;
} dw_sweep;

/** Number of all combinations. */
size_t dw_sweep_count(const dw_sweep *sweep);

/** The values of combination number index, from 0; the last axis moves fastest. */
void dw_sweep_values(const dw_sweep *sweep, size_t index, double values[DW_SWEEP_AXIS_MAX]);

/**
 * Runs every combination.
 *
 * Each point starts from the kiln as read and from a copy of nothing else: the order of points has
 * no influence on any number.
 *
 * @param[out] done  points that were answered; fewer than dw_sweep_count() when progress stopped it.
 * @retval DW_OK     all points were answered, or progress stopped the run.
 * @retval DW_ERR_ARG, DW_ERR_NOMEM, or what point answered
 * @par Checked by  tests/unit/study/test_sweep.c
 */
DW_MUST_CHECK
dw_status dw_sweep_run(const dw_sweep *sweep, size_t *done);

#endif

#ifndef DW_AXES_H
#define DW_AXES_H

/**
 * @file axes.h
 * What a question varies: one or two inputs of a kiln and their values.
 *
 * Layer: ask. Not for others, not installed. Allocates the values.
 */

#include "engine.h"
#include "reports.h"
#include "sweep.h"

typedef struct dw_axes {
    size_t count;                            /**< 1 or 2                                   */
    dw_kiln_field field[DW_SWEEP_AXIS_MAX];  /**< inputs of the kiln, when there is one    */
    double *value[DW_SWEEP_AXIS_MAX];        /**< owned                                    */
    size_t length[DW_SWEEP_AXIS_MAX];
    size_t total;                            /**< all combinations                         */
    dw_sweep_axis shown[DW_SWEEP_AXIS_MAX];  /**< the same for the builders of reports     */
} dw_axes;

/** Finds the inputs and reads their ranges; what is wrong goes to diag.
 *  @param[out] axes  freed with dw_axes_free() whatever the answer.
 *  @retval DW_OK, DW_ERR_INPUT, DW_ERR_ARG, DW_ERR_NOMEM */
DW_MUST_CHECK
dw_status dw_axes_read(const dw_case *kiln, const dw_vary *vary, size_t count,
                       dw_diag_list *diag, dw_axes *axes);
void dw_axes_free(dw_axes *axes);

/** Puts the values of one combination into a kiln. */
void dw_axes_put(const dw_axes *axes, const double *values, dw_kiln *kiln);

/** The axes of a sweep; all else of it is left to the caller. */
dw_sweep dw_axes_sweep(const dw_axes *axes);

/** One combination as a case of its own: owned by the caller, NULL on failure.
 *  @retval DW_OK, DW_ERR_NOMEM */
DW_MUST_CHECK
dw_status dw_axes_case(const dw_axes *axes, const double *values, const dw_case *kiln, dw_case **at);

#endif

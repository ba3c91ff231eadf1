#ifndef DW_AXES_H
#define DW_AXES_H

/**
 * @file axes.h
 * What a question varies: one or two inputs of a kiln and their values.
 *
 * Layer: ask. Not for others, not installed. Allocates the values.
 */

#include "facade.h"

enum { DW_AXES_MAX = 2 };

typedef struct dw_axes {
    size_t count;                      /**< 1 or 2                                     */
    dw_kiln_field field[DW_AXES_MAX];
    double *value[DW_AXES_MAX];        /**< owned                                      */
    size_t length[DW_AXES_MAX];
    size_t total;                      /**< all combinations                           */
    dw_sweep_axis shown[DW_AXES_MAX];  /**< the same for the builders of reports       */
} dw_axes;

/** Finds the inputs and reads their ranges; what is wrong goes to diag.
 *  @param[out] axes  freed with dw_axes_free() whatever the answer.
 *  @retval DW_OK, DW_ERR_INPUT, DW_ERR_ARG, DW_ERR_NOMEM */
DW_MUST_CHECK
dw_status dw_axes_read(const dw_case *kiln, const dw_vary *vary, size_t count,
                       dw_diag_list *diag, dw_axes *axes);
void dw_axes_free(dw_axes *axes);

/** Puts combination number index (the last axis moves fastest) into a kiln; value holds count. */
void dw_axes_put(const dw_axes *axes, size_t index, dw_kiln *kiln, double *value);

#endif

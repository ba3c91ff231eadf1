#ifndef DW_OPERATING_POINT_H
#define DW_OPERATING_POINT_H

/**
 * @file operating_point.h
 * The answer for one kiln at one setting: flows, pressures, gas, drafts, heat, findings.
 *
 * Layer: point. No allocation, no state.
 */

#include "data.h"
#include "equilibrium.h"
#include "kiln.h"
#include "result.h"

/** The data and what is worked out from it once. */
typedef struct dw_model {
    const dw_data *data;   /**< borrowed */
    dw_gas_set gases;
} dw_model;

/** Prepares a model. @retval DW_ERR_INPUT the data lacks a species the model needs. */
DW_MUST_CHECK
dw_status dw_model_init(dw_model *model, const dw_data *data);

/**
 * Solves an operating point.
 *
 * @param[in]  model   prepared.
 * @param[in]  kiln    as read; a resolved copy is made inside.
 * @param[out] result  always set: solved, or the reason why not.
 * @retval DW_OK               solved; every balance closes.
 * @retval DW_ERR_NO_CONVERGE  not solved; result->reason says why in words for the user.
 * @retval DW_ERR_DOMAIN       the kiln fails dw_kiln_check(); result->reason holds its message.
 * @retval DW_ERR_ARG          a pointer is NULL.
 */
DW_MUST_CHECK
dw_status dw_operating_point(const dw_model *model, const dw_kiln *kiln, dw_result *result);

/** How far an operating point is worked out; each holds what comes before it. */
typedef enum dw_extent {
    DW_EXTENT_FLOWS,   /**< pressures, flows, drafts, ratios: no gas, no heat; closes by mass alone  */
    DW_EXTENT_GAS,     /**< gas and heat, and what is found                                        */
    DW_EXTENT_DAMPER,  /**< what a small move of the dampers does, which rows of sweeps show       */
    DW_EXTENT_SLOPES   /**< all: a small move of the gas pressure too                              */
} dw_extent;

/** As dw_operating_point(), no further than asked; what was not worked out is 0, slopes NaN. */
DW_MUST_CHECK
dw_status dw_operating_point_to(const dw_model *model, const dw_kiln *kiln, dw_extent extent,
                                dw_result *result);

/** The few figures that a search over settings asks for. */
typedef struct dw_brief {
    double equivalence_ratio;
    double gas_flow_kg_s;     /**< fuel gas of all burners                                     */
    double neutral_plane_m;   /**< where chamber and room balance; may lie outside the chamber */
    double x_o2_dry;          /**< oxygen of the evenly mixed gas, dry                         */
    bool backwards;           /**< the stack or a flue brings gas back                         */
} dw_brief;

#endif

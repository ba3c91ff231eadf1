#ifndef DW_WARE_DETAIL_H
#define DW_WARE_DETAIL_H

/**
 * @file ware_detail.h
 * The numbers behind an oxide state, and the iron of a glaze in the same gas.
 *
 * Layer: ware. No allocation, no state.
 */

#include "ware.h"

/** One calibration at the temperature of the ware. */
typedef struct dw_ware_boundary {
    int buffer;                         /**< index in the table                              */
    dw_buffer_reach reach;
    double log10_po2_bar;               /**< NaN when it does not reach so far               */
    double gas_minus_log10;             /**< oxygen of the gas less that                     */
    double co_co2_ratio, h2_h2o_ratio;  /**< of a gas that stands at the boundary            */
    double probe_emf_v;
} dw_ware_boundary;

/** The law of gas_minus_log10 for a working: less_b from lg_pO2 and lg_b. */
extern const dw_law *const dw_ware_less_law;

/**
 * Every calibration of every metal, and those for comparison, in the order of the table.
 *
 * @param[out] boundary  DW_BUFFER_MAX entries.
 * @param[out] count     filled.
 * @retval DW_OK, DW_ERR_ARG, DW_ERR_DOMAIN
 */
DW_MUST_CHECK
dw_status dw_ware_boundaries(const dw_model *model, const dw_ware *ware,
                             dw_ware_boundary *boundary, int *count);

/** Why the iron of a glaze is not given. */
typedef enum dw_glaze_refusal {
    DW_GLAZE_GIVEN,
    DW_GLAZE_NO_OXYGEN,    /**< the gas is too cold for oxygen figures                       */
    DW_GLAZE_TOO_COLD,     /**< below the range of the formulas: the glaze is not molten     */
    DW_GLAZE_TOO_HOT,
    DW_GLAZE_NO_IRON,
    DW_GLAZE_OUTSIDE       /**< holds an oxide that the formulas do not know                 */
} dw_glaze_refusal;

typedef struct dw_ware_glaze {
    const dw_glaze *glaze;     /**< borrowed                                                 */
    dw_glaze_refusal refusal;
    dw_glaze_iron iron;        /**< NaN unless given: in the mean gas                        */
    dw_glaze_iron lean, rich;  /**< in the parcels; NaN when there are none                  */
} dw_ware_glaze;

/** Ferrous share of the iron of a glaze at the temperature and in the gas of the ware. */
void dw_ware_glaze_at(const dw_glaze *glaze, const dw_ware *ware, dw_ware_glaze *out);

#endif

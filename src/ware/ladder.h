#ifndef DW_LADDER_H
#define DW_LADDER_H

/**
 * @file ladder.h
 * The reduction ladder: equivalence ratio, CO, oxygen, probe volts and oxide forms side by side, for
 * one fuel and air at one temperature, perfectly mixed and unmixed.
 *
 * Layer: ware. No allocation, no state but what the caller holds.
 */

#include "ware_gas.h"

/** Gas shares of a rung, dry. */
typedef struct dw_rung_gas {
    double co, co2, h2, o2;
} dw_rung_gas;

typedef struct dw_rung {
    double equivalence_ratio;
    dw_rung_gas mixed;        /**< every parcel the mean: unmixedness off                       */
    dw_rung_gas unmixed;      /**< averaged over the parcels                                    */
    dw_ware ware;             /**< richest and primary are not looked at                        */
} dw_rung;

typedef struct dw_ladder {
    const dw_model *model;                /**< borrowed                                         */
    dw_ware_mixer mixer;                  /**< at the temperature of the ware                   */
    dw_frozen frozen;                     /**< at the temperatures that reactions freeze at     */
} dw_ladder;

/** The ladder of a kiln at the temperature of its gas. Its dampers and flows do not enter.
 *  @param[out] reason  DW_REASON_SIZE bytes, in words for the user; "" on success.
 *  @retval DW_OK, DW_ERR_ARG, DW_ERR_DOMAIN (the kiln fails its check, or is below 500 degC) */
DW_MUST_CHECK
dw_status dw_ladder_init(dw_ladder *ladder, const dw_model *model, const dw_kiln *kiln,
                         char *reason);

/** The law of the dry shares for a working: d from x and x_H2O. */
extern const dw_law *const dw_rung_dry_law;

/**
 * One rung.
 *
 * @param[in] equivalence_ratio  0.05..3.
 * @retval DW_OK, DW_ERR_ARG, DW_ERR_DOMAIN, DW_ERR_NO_CONVERGE
 * @par Checked by  tests/reference/ladder.csv
 */
DW_MUST_CHECK
dw_status dw_ladder_rung(const dw_ladder *ladder, double equivalence_ratio, dw_rung *rung);

/** Equivalence ratios of the table: the steps that matter, closer around 1. */
enum { DW_LADDER_RUNG_COUNT = 18 };
extern const double dw_ladder_ratio[DW_LADDER_RUNG_COUNT];

#endif

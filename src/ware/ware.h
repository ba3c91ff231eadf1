#ifndef DW_WARE_H
#define DW_WARE_H

/**
 * @file ware.h
 * What the gas means for the ware: oxide states, carbon, and the stages that potters look for.
 *
 * Layer: ware. No allocation, no state.
 */

#include "operating_point.h"
#include "oxide.h"

/** Between these equivalence ratios the leaner and the richer parcels are looked at too. */
#define DW_WARE_PARCELS_FROM 0.95
#define DW_WARE_PARCELS_TO 1.05

/** Share of the gas that is leaner, or richer, than the parcels that are looked at. */
#define DW_WARE_PARCEL_SHARE 0.10

/** Share of the gas whose mean is "the richest". */
#define DW_WARE_RICHEST_SHARE 0.05

/** Gas of one richness, in equilibrium at the temperature of the ware; NaN where there is none. */
typedef struct dw_ware_gas {
    double z;                 /**< kg of fuel per kg of mixture                                */
    double equivalence_ratio;
    double log10_po2_bar;
    double carbon_activity;   /**< graphite = 1; never above 1 where soot is let form          */
} dw_ware_gas;

/** The form of one metal. */
typedef struct dw_ware_metal {
    bool known;               /**< false: no buffer speaks of this temperature                 */
    dw_oxide_state mean;      /**< in the mean gas                                             */
    dw_oxide_state lean, rich; /**< in the parcels; the same as mean when there are none       */
    bool mixed;               /**< the parcels call for different forms                        */
} dw_ware_metal;

/** Where the temperature stands to a window. */
typedef enum dw_ware_heat { DW_HEAT_BELOW, DW_HEAT_WITHIN, DW_HEAT_ABOVE } dw_ware_heat;

/** Whether the gas is what a window wants. */
typedef enum dw_ware_fit {
    DW_FIT_NOT_ASKED,
    DW_FIT_YES,
    DW_FIT_NEAR,              /**< near a boundary, or in part of the gas only                 */
    DW_FIT_NO,
    DW_FIT_UNKNOWN            /**< not said by what is known                                   */
} dw_ware_fit;

typedef struct dw_ware_window {
    dw_ware_heat heat;
    dw_ware_fit fit;
} dw_ware_window;

typedef struct dw_ware {
    double temperature_k;     /**< of the gas at the ware                                      */
    double pressure_pa_abs;
    bool given;               /**< false: too cold for oxygen figures, nothing below means anything */
    dw_ware_gas mean;
    bool has_parcels;
    dw_ware_gas lean, rich;   /**< leaner than the rest of the gas but a tenth; richer likewise */
    dw_ware_gas richest;      /**< mean of the richest twentieth                               */
    double z_richest_from;    /**< where that twentieth begins                                 */
    dw_ware_gas primary;      /**< fuel and burner air alone; NaN without burner air           */
    double probe_emf_v;
    double co_co2_ratio, h2_h2o_ratio;   /**< in equilibrium with the mean oxygen              */
    dw_ware_metal metal[DW_METAL_MAX];
    dw_ware_window window[DW_WINDOW_MAX];
} dw_ware;

/** The law of the z of primary for a working: z_b from aer and need. */
extern const dw_law *const dw_burner_share_law;

/**
 * Oxide states and windows for a temperature and an oxygen pressure, without a kiln.
 *
 * @param[out] ware  richness, carbon and soot are not known: NaN and DW_FIT_UNKNOWN.
 * @retval DW_OK, DW_ERR_ARG, DW_ERR_DOMAIN (a temperature outside 200..6000 K)
 */
DW_MUST_CHECK
dw_status dw_ware_at(const dw_model *model, double temperature_k, double pressure_pa_abs,
                     double log10_po2_bar, dw_ware *ware);

/**
 * The same for a solved operating point.
 *
 * Oxygen is that of the mean elements at the temperature of the gas, never averaged partial
 * pressures. Between equivalence ratios 0.95 and 1.05 one parcel leaner than all but a tenth of the gas
 * and one richer likewise are looked at too; a metal is mixed when they call for different forms.
 *
 * @param[in]  kiln    as read, the one that result belongs to.
 * @param[in]  result  solved.
 * @retval DW_OK, DW_ERR_ARG, DW_ERR_DOMAIN (kiln and result do not belong together),
 *         DW_ERR_NO_CONVERGE
 * @par Checked by  tests/unit/ware/test_ware.c, tests/consistency/test_ware_scenarios.c
 */
DW_MUST_CHECK
dw_status dw_ware_of_point(const dw_model *model, const dw_kiln *kiln, const dw_result *result,
                           dw_ware *ware);

/** Forms and windows of a gas whose mean (and parcels, when has_parcels) stand in ware already. */
void dw_ware_states(const dw_data *data, int soot, dw_ware *ware);

#endif

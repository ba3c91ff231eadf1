#ifndef DW_RULES_H
#define DW_RULES_H

/**
 * @file rules.h
 * The ratios that rules of thumb speak of, worked out for a kiln.
 *
 * Layer: point. No state; pure functions but for what they add to a working. The rules themselves (usual interval,
 * sentence, source) are data: config/bands.yaml. They are common practice, not law: a kiln outside
 * one is worth a second look and may be perfectly good.
 */

#include <stdbool.h>

#include "data.h"
#include "kiln.h"
#include "law.h"
#include "result.h"

/** How a kiln stands to a rule. */
typedef enum dw_rule_state {
    DW_RULE_USUAL,         /**< within the interval, ends included                       */
    DW_RULE_LOW,
    DW_RULE_HIGH,
    DW_RULE_UNKNOWN        /**< the ratio has no value here (no stack, not solved)       */
} dw_rule_state;

typedef struct dw_rule_finding {
    const dw_rule *rule;   /**< borrowed from the data                                   */
    int burner;            /**< entry it is about; -1: the whole kiln                    */
    double value;          /**< SI; NaN when unknown, or low or high beyond all numbers  */
    dw_rule_state state;
} dw_rule_finding;

/** Most findings: burner rules are looked at for every burner entry. */
enum { DW_RULE_FINDING_MAX = DW_RULE_MAX * DW_BURNER_MAX };

/**
 * Looks at every rule.
 *
 *     heat_per_volume_w_m3            net heat input / empty chamber volume
 *     flue_to_port_area               all flues / (ports of all burners + holes as far as open)
 *     throat_to_jet_diameter          of each inspirating burner
 *     port_to_throat_area             of each inspirating burner
 *     stack_height_to_chamber_height
 *     stack_width_to_chamber_width    inside diameter or side / inside width
 *     stack_to_flue_area              stack / all flues
 *     gas_pressure_pa                 at each lit burner's jet, gauge
 *     leak_per_surface                leak area / inside surface
 *     flue_area_per_net_power_m2_w    all flues / net heat input
 *     primary_air_low_pressure        air of the burners / what the gas needs, where all lit burners are inspirating
 *                                     and at a gas pressure of at most 5 kPa
 *     primary_air_high_pressure       the same, all above it
 *     primary_air_blown               the same, all lit burners blown
 *     neutral_plane_to_chamber_height height of the neutral plane above the floor / chamber height; low without a
 *                                     value when every opening pushes out, high when every one draws in
 *     draft_per_stack_height_pa_m     draft at the base of the stack / height of a stack without a gap
 *
 * A rule with another key is left out. Plugged burners are left out.
 *
 * @param[in]  data              not NULL.
 * @param[in]  kiln              resolved; not NULL.
 * @param[in]  point             the operating point; NULL when there is none.
 * @param[in]  w                 NULL, or takes the ratios that have a law: "Rules of thumb".
 * @param[out] findings          room for DW_RULE_FINDING_MAX.
 * @return how many findings there are.
 * @par Checked by  tests/unit/point/test_rules.c
 */
size_t dw_rules_look(const dw_data *data, const dw_kiln *kiln, const dw_result *point, dw_working *w,
                     dw_rule_finding *findings);

#endif

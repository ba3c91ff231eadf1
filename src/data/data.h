#ifndef DW_DATA_H
#define DW_DATA_H

/**
 * @file data.h
 * What config/ holds, once read: species, named fuels, coefficients, words, sources.
 *
 * Layer: data. Plain values, read-only after loading (data/read_data.c).
 */

#include "co_data.h"
#include "fuel_data.h"
#include "species.h"
#include "spread.h"
#include "term.h"
#include "units.h"
#include "ware_data.h"

enum {
    DW_FUEL_MAX = 24,
    DW_BAND_MAX = 12,
    DW_BUTTERFLY_ROW_MAX = 16,
    DW_THICK_PLATE_ROW_MAX = 8,
    DW_DRILL_MAX = 120,
    DW_LINING_MAX = 12,
    DW_CAP_MAX = 12,
    DW_SOURCE_MAX = 160,
    DW_RULE_MAX = 20,
    DW_TEXT_SIZE = 240
};

/** One step of reduction strength, for the first band whose upper limit holds phi. */
typedef struct dw_band {
    char word[24];                /**< "oxidizing", "neutral", "light", "medium", "heavy"      */
    double phi_below;             /**< equivalence ratio of the upper end; infinite in the last */
    char meaning[DW_TEXT_SIZE];   /**< one plain sentence for the first screen                  */
} dw_band;

/** When a rich gas is called sooting: all of these, a judgement and said to be one. */
typedef struct dw_sooting {
    double phi_at_least;                 /**< overall equivalence ratio                        */
    double primary_aeration_below;       /**< primary air / stoichiometric air                 */
    double primary_aeration_of[DW_SPECIES_MAX]; /**< the same by gas of the species table; NaN: the general one */
    double phi_always;                   /**< at or above this phi whatever the primary air    */
    double chamber_temperature_above_k;  /**< no flame soot is judged below this               */
    char meaning[DW_TEXT_SIZE];
} dw_sooting;

/** A drill size by number or letter. */
typedef struct dw_drill {
    char size[4];        /**< "1".."80", "A".."Z" */
    double diameter_m;
} dw_drill;

/** A named coefficient: lining -> roughness [m], cap -> loss. */
typedef struct dw_named_value {
    char name[32];
    double value;
} dw_named_value;

/** A published source: key, and what it is. */
typedef struct dw_source {
    char key[32];
    char title[DW_TEXT_SIZE];
    char provenance[16];   /**< read, recalled, computed, derived, practice */
} dw_source;

/** A rule of thumb that `check` compares a kiln with: allowed interval of one ratio. */
typedef struct dw_rule {
    char key[40];                 /**< heat_per_volume_w_m3, flue_to_port_area, ...             */
    double low, high;             /**< usual interval in SI                                     */
    dw_dim dim;
    char text[DW_TEXT_SIZE];      /**< what it says, one sentence                               */
    char when_low[DW_TEXT_SIZE];  /**< what it usually means to be below it; "" when not said   */
    char when_high[DW_TEXT_SIZE]; /**< the same above it                                        */
    char source[32];
} dw_rule;

typedef struct dw_data {
    dw_species_table species;
    size_t fuel_count;
    dw_fuel fuel[DW_FUEL_MAX];
    char fuel_note[DW_FUEL_MAX][DW_TEXT_SIZE];
    size_t band_count;
    dw_band band[DW_BAND_MAX];
    dw_sooting sooting;
    size_t butterfly_count;
    double butterfly_angle_rad[DW_BUTTERFLY_ROW_MAX];
    double butterfly_loss[DW_BUTTERFLY_ROW_MAX];
    size_t thick_plate_count;
    double thick_plate_ratio[DW_THICK_PLATE_ROW_MAX];   /**< thickness / slot                       */
    double thick_plate_factor[DW_THICK_PLATE_ROW_MAX];
    size_t drill_count;
    dw_drill drill[DW_DRILL_MAX];
    size_t lining_count;
    dw_named_value lining[DW_LINING_MAX];
    size_t cap_count;
    dw_named_value cap[DW_CAP_MAX];
    size_t rule_count;
    dw_rule rule[DW_RULE_MAX];
    dw_co_data co;
    dw_oxide_table oxides;
    size_t window_count;
    dw_window window[DW_WINDOW_MAX];
    size_t glaze_count;
    dw_glaze glaze[DW_GLAZE_MAX];
    dw_terms terms;
    dw_spreads spreads;
    size_t source_count;
    dw_source source[DW_SOURCE_MAX];
} dw_data;

#endif

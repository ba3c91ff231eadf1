#ifndef DW_CO_DATA_H
#define DW_CO_DATA_H

/**
 * @file co_data.h
 * What config/co.yaml holds: limits, alarm windows, people, and when gas can burn.
 *
 * Layer: data. Plain values, read-only after loading (data/data_co.c).
 */

#include "species.h"

enum {
    DW_CO_LIMIT_MAX = 64,
    DW_CO_ALARM_MAX = 16,
    DW_CO_EFFECT_MAX = 16,
    DW_CO_TEXT_SIZE = 120
};

/** What a limit is for; the last decides the verdict "dangerous". */
typedef enum dw_limit_kind {
    DW_LIMIT_GUIDELINE,   /**< for the public                              */
    DW_LIMIT_WORK,        /**< for healthy grown people at work            */
    DW_LIMIT_DANGER       /**< harm within its averaging time              */
} dw_limit_kind;

typedef struct dw_co_limit {
    char body[32];
    char document[DW_CO_TEXT_SIZE];
    char name[32];
    double over_s;              /**< averaging time; 0: may never be exceeded    */
    double ppm;
    double mg_m3;               /**< as printed; NaN: not given                  */
    char year[16];              /**< of the document, or "not known"             */
    dw_limit_kind kind;
    char provenance[16];        /**< read or recalled                            */
    char where[DW_CO_TEXT_SIZE];
} dw_co_limit;

/** When an alarm at a constant level may and must sound. */
typedef struct dw_co_alarm {
    char standard[24];
    double ppm;
    double from_s;              /**< not before                                  */
    double by_s;                /**< at the latest; infinite: never must         */
} dw_co_alarm;

/** What happens from a level on. */
typedef struct dw_co_effect {
    double level;               /**< share of haemoglobin, or ppm                */
    char text[DW_CO_TEXT_SIZE];
} dw_co_effect;

typedef enum dw_activity {
    DW_ACTIVITY_REST,
    DW_ACTIVITY_LIGHT,
    DW_ACTIVITY_HEAVY,
    DW_ACTIVITY_COUNT
} dw_activity;

/** A grown person (physics/carboxyhaemoglobin.h), the parts that activity and site do not change. */
typedef struct dw_co_person {
    double haldane_ratio;
    double endogenous_m3_s;
    double capillary_o2_pa;         /**< at barometric_pa_abs                        */
    double barometric_pa_abs;
    double water_pa;
    double capacity_m3_m3;
    double blood_m3;
    double start_frac, start_smoker_frac;
    double smallest_mass_kg, smallest_height_m;
    double ventilation_m3_s[DW_ACTIVITY_COUNT];
    double diffusing_m3_s_pa[DW_ACTIVITY_COUNT];
} dw_co_person;

typedef struct dw_co_data {
    size_t limit_count;
    dw_co_limit limit[DW_CO_LIMIT_MAX];
    size_t alarm_count;
    dw_co_alarm alarm[DW_CO_ALARM_MAX];
    size_t effect_count, ppm_effect_count;
    dw_co_effect effect[DW_CO_EFFECT_MAX];      /**< rising share of haemoglobin          */
    dw_co_effect ppm_effect[DW_CO_EFFECT_MAX];  /**< rising ppm                           */
    dw_co_person person;
    double cohb_raised_frac, cohb_dangerous_frac;
    double lean_x[DW_SPECIES_MAX];      /**< limits in air at 25 degC; NaN: does not burn or unknown */
    double rich_x[DW_SPECIES_MAX];
    double ignites_k[DW_SPECIES_MAX];   /**< lowest autoignition temperature; NaN        */
    double lean_falls_per_k;
    double purge_volumes;
    double glow_k;                      /**< a chamber above lights gas by itself         */
    double spillage_pa;                 /**< room pressure below which appliances spill   */
} dw_co_data;

#endif

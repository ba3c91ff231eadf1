#ifndef DW_OXIDE_H
#define DW_OXIDE_H

/**
 * @file oxide.h
 * Oxygen buffers: which oxide of a metal is stable at a temperature and an oxygen pressure.
 *
 * Layer: physics. The table is read-only after loading (data/data_oxides.c fills it from
 * config/oxides.yaml); no state; pure functions but for what is added to a working. Oxygen as the
 * decimal logarithm of its partial pressure in bar, at 1 bar of total pressure or near it.
 */

#include <stdbool.h>
#include <stddef.h>

#include "law.h"

enum {
    DW_METAL_MAX = 6,         /**< most metals                                         */
    DW_OXIDE_FORM_MAX = 5,    /**< most forms of one metal                             */
    DW_BUFFER_MAX = 40,       /**< most calibrations in all                            */
    DW_BUFFER_TERM_COUNT = 6,
    DW_OXIDE_NAME_SIZE = 40,
    DW_OXIDE_KEY_SIZE = 32
};

/** How the coefficients of a calibration are meant. */
typedef enum dw_buffer_form {
    DW_BUFFER_LOG10,     /**< log10 pO2 = c0/T + c1 + c2 ln T; the other coefficients are 0 */
    DW_BUFFER_POTENTIAL  /**< R T ln pO2 = c0 + c1 T + c2 T ln T + c3 T^2 + c4/T + c5 sqrt T */
} dw_buffer_form;

/** One published calibration of one boundary between two forms. */
typedef struct dw_buffer {
    char key[DW_OXIDE_KEY_SIZE];
    char name[DW_OXIDE_NAME_SIZE];   /**< "hematite-magnetite"                            */
    int metal;                       /**< index in the table; -1: for comparison only     */
    int boundary;                    /**< below this form of the metal begins the next    */
    dw_buffer_form form;
    double coeff[DW_BUFFER_TERM_COUNT];
    double from_k, to_k;             /**< range that the source states                    */
    double used_from_k, used_to_k;   /**< range it is drawn on to, and said to be; holds the other */
    double error_log10;              /**< stated by the source; NaN: none stated          */
    char source[DW_OXIDE_KEY_SIZE];
} dw_buffer;

typedef struct dw_oxide_form {
    char name[DW_OXIDE_NAME_SIZE];   /**< "magnetite"                                     */
    char formula[16];                /**< "Fe3O4"                                         */
} dw_oxide_form;

/** A metal and its forms, the richest in oxygen first. */
typedef struct dw_metal {
    char name[16];
    int form_count;                  /**< 2..DW_OXIDE_FORM_MAX                            */
    dw_oxide_form form[DW_OXIDE_FORM_MAX];
} dw_metal;

typedef struct dw_oxide_table {
    int metal_count;
    dw_metal metal[DW_METAL_MAX];
    int buffer_count;
    dw_buffer buffer[DW_BUFFER_MAX]; /**< of one boundary: the one that decides first     */
    double band_log10;               /**< nearer than this to a calibration nothing is sure */
} dw_oxide_table;

/** Whether a calibration speaks of a temperature. */
typedef enum dw_buffer_reach {
    DW_BUFFER_OUT,       /**< too far outside: not used                                  */
    DW_BUFFER_DRAWN_ON,  /**< outside the stated range, drawn on                         */
    DW_BUFFER_IN
} dw_buffer_reach;

/**
 * Oxygen pressure at which both forms of a boundary are stable, log10 of bar.
 *
 *     log10 pO2 = (c0 + c1 T + c2 T ln T + c3 T^2 + c4/T + c5 sqrt T)/(q T)
 *
 * With more oxygen the form richer in oxygen is stable. The range is not looked at: see
 * dw_buffer_reach_at().
 *
 * @param[in] temperature_k  > 0.
 * @return NaN when buffer is NULL or the temperature is not above 0.
 *
 * @par Holds when  pure oxides, 1 bar. Calibrations of one boundary differ by 0.2 to 0.45.
 * @par Source      the key in each buffer; R = 8.314462618 J/(mol K).
 * @par Checked by  tests/reference/oxides.csv, tests/unit/physics/test_oxide.c
 */
double dw_buffer_log10_po2_bar(const dw_buffer *buffer, double temperature_k);

/** q of that law: 1, or R ln 10 where the coefficients give R T ln pO2 in J/mol. */
double dw_buffer_divisor(const dw_buffer *buffer);

/** The law for a working: lg_b from T_gas, c_0 to c_5 and q. */
extern const dw_law *const dw_buffer_law;

/** Writes down a calibration as its source prints it: its coefficients and the step of lg_b, whose value is
 *  that of dw_buffer_log10_po2_bar(). Needs T_gas and R. */
void dw_buffer_write(dw_working *w, const dw_buffer *buffer, const char *meaning, double log10_po2_bar);

dw_buffer_reach dw_buffer_reach_at(const dw_buffer *buffer, double temperature_k);

/** A calibration by key; NULL when the table lacks it. */
const dw_buffer *dw_buffer_find(const dw_oxide_table *table, const char *key);

/** Index of a metal by name; -1 when the table lacks it. */
int dw_metal_find(const dw_oxide_table *table, const char *name);

/** The law of margin_log10 for a working: d_m from lg_pO2 and lg_n, the nearest calibration. */
extern const dw_law *const dw_oxide_distance_law;

/** Which form of a metal is stable. */
typedef struct dw_oxide_state {
    int form;              /**< by the first calibration of each boundary that reaches so far      */
    int other;             /**< the form across the boundary when that is near; -1: none is       */
    double margin_log10;   /**< distance to the nearest calibration                              */
    int nearest;           /**< index of that calibration                                        */
    bool drawn_on;         /**< no calibration of the nearest boundary states this temperature   */
} dw_oxide_state;

/**
 * Stable form of a metal.
 *
 * Near a boundary, within band_log10 of any of its calibrations or between two of them, the other
 * form may be the stable one as well, and is named.
 *
 * @param[in]  metal           index in the table.
 * @param[in]  temperature_k   of ware and gas.
 * @param[in]  log10_po2_bar   finite.
 * @param[out] state           form and other -1, numbers NaN on failure.
 * @retval DW_OK, DW_ERR_ARG
 * @retval DW_ERR_DOMAIN       a boundary of the metal has no calibration at this temperature.
 *
 * @par Holds when  pure oxides side by side with the gas: in a glaze or a body an oxide is dissolved
 *                  and the boundary smeared out (glaze_iron.h).
 * @par Checked by  tests/reference/ladder.csv, tests/unit/physics/test_oxide.c
 */
DW_MUST_CHECK
dw_status dw_oxide_state_at(const dw_oxide_table *table, int metal, double temperature_k,
                            double log10_po2_bar, dw_oxide_state *state);

#endif

#ifndef DW_UNIT_ROWS_H
#define DW_UNIT_ROWS_H

/**
 * @file unit_rows.h
 * The tables of units: every spelling, its kind and its way to SI, and what each kind is called.
 *
 * Layer: base. Constants only; read through units.h.
 */

#include "units.h"

/** One spelling of one unit: SI = (value + offset) * numerator / denominator. Two numbers keep
 *  a decimal factor exact (1 mm is 1/1000 m, and 0.001 is no double). */
typedef struct dw_unit {
    const char *spelling;  /**< ASCII; a space in it may be left out when reading   */
    dw_dim dim;
    double numerator;
    double denominator;
    double offset;         /**< in the unit; 0 but for temperatures                 */
} dw_unit;

/** A spelling that is refused with a reason of its own. */
typedef struct dw_unit_hint {
    const char *spelling;
    const char *reason;
} dw_unit_hint;

/** What messages and writers say of a kind. */
typedef struct dw_dim_text {
    const char *name;
    const char *phrase;     /**< with its article, and the basis where people mix them up */
    const char *si_unit;
    const char *suffix;     /**< of a key that holds the SI number                        */
    const char *examples;
    const char *display[2]; /**< spelling of the unit people read, by dw_unit_system      */
} dw_dim_text;

extern const dw_dim_text dw_dim_texts[DW_DIM_COUNT_];

extern const dw_unit dw_unit_rows[];
extern const size_t dw_unit_row_count;

extern const dw_unit_hint dw_unit_hints[];
extern const size_t dw_unit_hint_count;

#endif

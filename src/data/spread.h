#ifndef DW_SPREAD_H
#define DW_SPREAD_H

/**
 * @file spread.h
 * Middle and spread of an input by the kind of thing it belongs to: config/spreads.yaml, once read.
 *
 * Layer: data. Plain values and a look-up; no state, no allocation.
 */

#include <stddef.h>

enum { DW_SPREAD_MAX = 160, DW_SPREAD_INPUT_SIZE = 48, DW_SPREAD_KIND_SIZE = 32 };

/** The kind that holds where none is given. */
#define DW_KIND_UNKNOWN "unknown"

/** How a row is known. */
typedef enum dw_mark { DW_MARK_READ, DW_MARK_RECALLED, DW_MARK_DERIVED, DW_MARK_JUDGEMENT } dw_mark;

/** One input of one kind, in SI. */
typedef struct dw_spread_row {
    char input[DW_SPREAD_INPUT_SIZE]; /**< "burners.*.jet.discharge_coefficient": the path of a key without
                                           `kiln.`, or a quantity that a key is worked out from        */
    char kind[DW_SPREAD_KIND_SIZE];   /**< "plug" ...                                                   */
    double middle;                    /**< what is taken where the input is not given                   */
    double low, high;                 /**< 10 and 90 % points: low <= middle <= high                    */
    dw_mark mark;
    char source[32];                  /**< a key of config/sources.yaml                                 */
} dw_spread_row;

typedef struct dw_spreads {
    size_t count;
    dw_spread_row row[DW_SPREAD_MAX];
} dw_spreads;

/** The row of an input and a kind; NULL when there is none. Every kind that a reader of config/ insists on is
 *  there (data_spreads.c). */
const dw_spread_row *dw_spread_find(const dw_spreads *spreads, const char *input, const char *kind);

/** "read", "recalled", "derived" or "judgement". */
const char *dw_mark_text(dw_mark mark);

#endif

#ifndef DW_DAMPER_WORDS_H
#define DW_DAMPER_WORDS_H

/**
 * @file damper_words.h
 * Which word of reduction strength every position of the dampers gives, from shut to fully open.
 *
 * Layer: study. No allocation, no state. The kiln is solved at some thirty to eighty positions, and the
 * places where the word changes are found by root finding, not drawn from a slope.
 *
 * Positions are open shares of the widest damper. Several dampers move together in proportion until the
 * widest is fully open; where all are shut they open alike.
 */

#include "operating_point.h"

enum { DW_DAMPER_SPAN_MAX = 64 };

/** A stretch of positions with one word. */
typedef struct dw_damper_span {
    int band;                 /**< index into dw_data.band; -1: the kiln is not solved there   */
    double from_frac, to_frac;
} dw_damper_span;

/** What keeps the kiln from getting leaner or richer by its dampers. */
typedef enum dw_damper_limit {
    DW_LIMIT_NONE,            /**< no position is solved, or every word is reached             */
    DW_LIMIT_INLETS,          /**< leanest: most of the draft is used up at the air's ways in  */
    DW_LIMIT_FLUES,           /**< leanest: at the flues                                       */
    DW_LIMIT_STACK,           /**< leanest: in the stack                                       */
    DW_LIMIT_BURNER_AIR,      /**< richest: most of the air left comes by the burners          */
    DW_LIMIT_OPENINGS,        /**< richest: by openings and burners that are off               */
    DW_LIMIT_LEAKS,           /**< richest: by leaks                                           */
    DW_LIMIT_BACK_FLOW,       /**< richest: back down a flue                                   */
    DW_LIMIT_UNSOLVED         /**< beyond this position the kiln has no solution               */
} dw_damper_limit;

/** The end of what the dampers reach. */
typedef struct dw_damper_end {
    double equivalence_ratio; /**< NaN when no position is solved                              */
    double open_frac;         /**< where                                                       */
    dw_damper_limit limit;
} dw_damper_end;

typedef struct dw_damper_words {
    int flue_count;
    int widest;               /**< flue whose open share is meant                              */
    double widest_frac;       /**< its open share now                                          */
    bool together;            /**< several dampers that are not open alike                     */
    double share[DW_FLUE_MAX];/**< of each damper, per open share of the widest                */
    int count;
    dw_damper_span span[DW_DAMPER_SPAN_MAX]; /**< in order, without gaps, 0 to 1               */
    bool complete;            /**< false: there were more stretches than fit                   */
    dw_damper_end leanest, richest;
    int points;               /**< how often the kiln was solved                               */
} dw_damper_words;

/** Open share of a flue's damper when the widest is open by widest_frac. */
double dw_damper_mark(const dw_damper_words *words, int flue, double widest_frac);

/**
 * Searches all positions.
 *
 * @param[in]  model, kiln  as for dw_operating_point().
 * @param[out] words        not NULL.
 * @retval DW_OK
 * @retval DW_ERR_ARG       a pointer is NULL, or the kiln has no flue.
 *
 * @par Error        places to 0.0001 of full travel. A word that appears between two positions 0.005 apart
 *                   and is gone again is missed; so is one that a smooth curve holds between two of the
 *                   first positions 0.05 apart without its neighbours showing a turn.
 * @par Checked by   tests/unit/study/test_damper_words.c, tests/consistency/test_damper_sweep.c
 */
DW_MUST_CHECK
dw_status dw_damper_words_find(const dw_model *model, const dw_kiln *kiln, dw_damper_words *words);

#endif

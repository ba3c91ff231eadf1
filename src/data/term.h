#ifndef DW_TERM_H
#define DW_TERM_H

/**
 * @file term.h
 * Words of the trade and what they mean: config/terms.yaml, once read.
 *
 * Layer: data. Plain values.
 */

#include <stddef.h>

enum {
    DW_TERM_MAX = 48,
    DW_TERM_ALIAS_MAX = 6,
    DW_TERM_SENTENCE_MAX = 8,
    DW_TERM_SOURCE_MAX = 3,
    DW_TERM_NAME_SIZE = 40,
    DW_TERM_TEXT_SIZE = 900,
    DW_TERM_SENTENCE_SIZE = 300,
    DW_TERM_CONDITION_SIZE = 100
};

/** A sentence with the numbers of a kiln in it. */
typedef struct dw_term_sentence {
    char condition[DW_TERM_CONDITION_SIZE]; /**< formula.h; said when above 0; "": always       */
    char text[DW_TERM_SENTENCE_SIZE];       /**< holes {key}; left out when one has no value    */
} dw_term_sentence;

typedef struct dw_term {
    char name[DW_TERM_NAME_SIZE];
    size_t alias_count;
    char alias[DW_TERM_ALIAS_MAX][DW_TERM_NAME_SIZE];
    char text[DW_TERM_TEXT_SIZE];           /**< what it means, without numbers of a kiln       */
    size_t here_count;
    dw_term_sentence here[DW_TERM_SENTENCE_MAX];
    size_t see_count;
    char see[DW_TERM_ALIAS_MAX][DW_TERM_NAME_SIZE]; /**< other terms                             */
    size_t source_count;
    char source[DW_TERM_SOURCE_MAX][32];
} dw_term;

typedef struct dw_terms {
    size_t count;
    dw_term term[DW_TERM_MAX];
} dw_terms;

#endif

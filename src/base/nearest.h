#ifndef DW_NEAREST_H
#define DW_NEAREST_H

/**
 * @file nearest.h
 * The word a person probably meant, and the words to choose from.
 *
 * Layer: base. Pure functions, no state, no allocation.
 */

#include <stddef.h>

/** Longest word that is compared, in bytes; longer ones are never near anything. */
enum { DW_NEAREST_WORD_MAX = 63 };

/**
 * The one of count words that is nearest to a misspelt word, or NULL when none is near.
 *
 * Near means: at most 2 insertions, deletions, replacements or swaps of neighbouring bytes
 * (restricted Damerau-Levenshtein distance), and fewer of them than half the bytes of word. The
 * first of equally near words is taken. NULL entries of words are passed over.
 *
 * @param[in] word   what was read; NULL gives NULL.
 * @param[in] words  borrowed; the answer is one of these pointers.
 *
 * @par Checked by tests/unit/base/test_nearest.c
 */
const char *dw_nearest_word(const char *word, const char *const *words, size_t count);

/** Joins words as "a, b or c"; cut off with "..." when size is too small. */
void dw_words_join(const char *const *word, size_t count, char *out, size_t size);

#endif

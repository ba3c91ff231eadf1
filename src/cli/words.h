#ifndef DW_WORDS_H
#define DW_WORDS_H

/**
 * @file words.h
 * A word out of a list, and what to say of one that is not in it.
 *
 * Layer: cli. Lists are closed by NULL. Says what is wrong to standard error.
 */

#include <stdbool.h>
#include <stddef.h>

/** Index of a word in a list, or -1. */
int dw_word_index(const char *word, const char *const *words);

/** Like dw_word_index(); false when the word is not in the list, and then that has been said. */
bool dw_word_choose(const char *what, const char *word, const char *const *words, int *index);

enum { DW_WORD_LIST_SIZE = 700 };

/** Writes "a, b and c": dashes before each word, last (" and ") before the last one, NULL for a comma. */
void dw_word_list(const char *const *words, size_t count, const char *dashes, const char *last,
                  char list[DW_WORD_LIST_SIZE]);

/**
 * Says "unknown WHAT 'word', did you mean 'Y'?", or the list of what there is.
 *
 * @param[in] dashes  "--" for options, else "".
 */
void dw_word_unknown(const char *what, const char *word, const char *const *words,
                     const char *dashes);

#endif

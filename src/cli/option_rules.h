#ifndef DW_OPTION_RULES_H
#define DW_OPTION_RULES_H

/**
 * @file option_rules.h
 * Which options and words go together.
 *
 * Layer: cli. Says what is wrong to standard error.
 */

#include <stdbool.h>

#include "options.h"

/**
 * Takes the words that are no options, a command and a file or a term, and checks the options read
 * before against the command.
 *
 * @param[in,out] options  as read so far; command, kiln and term are set.
 * @param[in]     count    number of words, 0 and up.
 * @param[in]     words    borrowed; options keeps pointers to them.
 * @retval false  something is wrong, and that has been said.
 */
bool dw_options_words(dw_options *options, int count, char **words);

#endif

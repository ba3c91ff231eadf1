#ifndef DW_TEST_QUESTION_H
#define DW_TEST_QUESTION_H

/**
 * @file question.h
 * Questions to the library as tests write them.
 */

#include "damperwise.h"

enum { KIT_OPTION_MAX = 8 };

/** Options of a question; those without a name are none. */
typedef dw_option kit_options[KIT_OPTION_MAX];

/** A question with options, which must live as long as it; NULL: none. */
static inline dw_question kit_question(const char *name, const dw_option *options)
{
    dw_question question = {.name = name, .option = options};
    while (options != NULL && question.option_count < KIT_OPTION_MAX &&
           options[question.option_count].name != NULL) {
        ++question.option_count;
    }
    return question;
}

#endif

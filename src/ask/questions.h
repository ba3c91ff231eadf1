#ifndef DW_QUESTIONS_H
#define DW_QUESTIONS_H

/**
 * @file questions.h
 * The table of all kinds of questions.
 *
 * Layer: ask. Not for others, not installed.
 */

#include "asking.h"

extern const dw_question_kind dw_question_estimate, dw_question_check, dw_question_room,
    dw_question_exposure, dw_question_why, dw_question_oxides, dw_question_ladder, dw_question_keys;

/**
 * The kind of a question, when all that is said in it belongs to it: a kiln where one is needed, options, rows,
 * working. What is wrong goes to diag, with the nearest word of a misspelt one.
 *
 * @param[out] kind  NULL on failure.
 * @retval DW_OK, DW_ERR_INPUT, DW_ERR_ARG
 */
DW_MUST_CHECK
dw_status dw_question_find(const dw_question *question, const dw_case *kiln, dw_diag_list *diag,
                           const dw_question_kind **kind);

#endif

#ifndef DW_ASK_H
#define DW_ASK_H

/**
 * @file ask.h
 * A question about one point up to its report, without writing it.
 *
 * Layer: ask. Not for others, not installed.
 */

#include "asking.h"

/**
 * Answers, and shows the report while it is there.
 *
 * @param[in]  look  called with the question and how it was answered: DW_OK or DW_ERR_NO_CONVERGE; its
 *                   answer is the answer of the call.
 * @retval as dw_ask(); DW_ERR_INPUT for rows, which diag says
 */
DW_MUST_CHECK
dw_status dw_ask_to_look(const dw_engine *engine, const dw_case *kiln, const dw_question *question,
                         dw_diag_list *diag,
                         dw_status (*look)(void *user, const dw_asking *a, dw_status answered),
                         void *user);

#endif

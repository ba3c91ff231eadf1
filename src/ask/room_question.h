#ifndef DW_ROOM_QUESTION_H
#define DW_ROOM_QUESTION_H

/**
 * @file room_question.h
 * What the question about the room and its working share: the answer, and what is said of it.
 *
 * Layer: ask. Not for others, not installed.
 */

#include "facade.h"
#include "lighting.h"
#include "room_course.h"

/** All that is found. */
typedef struct dw_room_answer {
    dw_room_course course;
    dw_lighting lighting;
} dw_room_answer;

/** Says in diag that the description has no room. @return DW_ERR_INPUT */
dw_status dw_room_missing(dw_diag_list *diag);

/** Works it out. @retval DW_OK, DW_ERR_NO_CONVERGE (an answer too: course.room.reason says why, the
 *  lighting is there), or what is no answer at all */
DW_MUST_CHECK
dw_status dw_room_answer_find(const dw_engine *engine, const dw_case *kiln,
                              const dw_report_source *source, dw_room_answer *answer);

/** Adds verdict and findings, or why it is not solved, to the diagnostics. @return solved, or
 *  DW_ERR_NOMEM */
DW_MUST_CHECK
dw_status dw_room_answer_findings(const dw_case *kiln, const dw_room_answer *answer,
                                  dw_status solved, dw_diag_list *diag);

#endif

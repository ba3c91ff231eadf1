#ifndef DW_ROOM_SPREAD_H
#define DW_ROOM_SPREAD_H

/**
 * @file room_spread.h
 * Part of room_course.h: the air in steps, how far its CO may be off, and the exposure at the upper end.
 *
 * Layer: room. Not for others.
 */

#include "breath.h"
#include "room_course.h"

/** A room on its way over time. What is borrowed outlives it. */
typedef struct dw_course_work {
    dw_working *w;                /**< NULL while solving                               */
    const dw_kiln *resolved;
    dw_room_course *course;
    dw_exposure_person person;
    dw_breath breath;             /**< of these:                                        */
    dw_exposure_step step[DW_COURSE_STEP_MAX];
    long course_row[DW_COURSE_STEP_MAX];
    double cohb[DW_COURSE_STEP_MAX + 1];
    dw_kiln kiln;                 /**< with an input at an end                          */
    dw_result result;
    dw_room_result room;
} dw_course_work;

/** The air of a room as steps of a minute, longer ones for long durations; the mean of each is exact.
 *  @param[out] step  DW_COURSE_STEP_MAX. @return how many, at least DW_COURSE_ROW_MAX - 1 */
size_t dw_room_course_steps(const dw_room_air *air, double start_ppm, double duration_s,
                            dw_exposure_step *step);

/** The CO at both ends of each input that was not given: course->doubt. @retval DW_OK, DW_ERR_NOMEM, DW_ERR_BUG */
DW_MUST_CHECK
dw_status dw_room_spread_find(dw_course_work *k, const dw_model *model, const dw_kiln *kiln,
                              const bool given[DW_DOUBT_COUNT]);

/** All of them together: low_ppm and high_ppm. */
void dw_room_spread_sum(dw_course_work *k);

/** The exposure at the upper end: the source that brings the room there. @retval as dw_exposure_look() */
DW_MUST_CHECK
dw_status dw_room_spread_worst(dw_course_work *k);

#endif

#ifndef DW_WORKING_ROOM_COURSE_H
#define DW_WORKING_ROOM_COURSE_H

/**
 * @file working_room_course.h
 * The working of a room over time: its air, limits, people in it, the spread of the estimate.
 *
 * Layer: room. Adds to a working that holds what working_room.h leaves; the keys of the steps are those
 * of `room`.
 */

#include "room_course.h"
#include "working.h"

/**
 * @param[in] co        limits, alarms, people.
 * @param[in] resolved  kiln with its room.
 * @param[in] course    of it, with its full spread.
 * @retval DW_OK, DW_ERR_DOMAIN (the person), DW_ERR_NOMEM, DW_ERR_BUG
 * @par Source      [room-balance], [cfk1965]
 * @par Checked by  tests/unit/room/test_working_room_course.c, tests/golden/test_working_commands.py
 */
DW_MUST_CHECK
dw_status dw_working_room_course(const dw_co_data *co, const dw_kiln *resolved,
                                 const dw_room_course *course, dw_working *w);

#endif

#ifndef DW_WORKING_ROOM_H
#define DW_WORKING_ROOM_H

/**
 * @file working_room.h
 * The working of what a kiln lets into its room and of the room's pressure.
 *
 * Layer: room. Adds to a working; see working.h. The keys of the steps are those of `room`.
 */

#include "room.h"
#include "solved_point.h"
#include "working_parts.h"

enum { DW_WORK_ROOM_KEY_MAX = DW_ROOM_PLACE_MAX + 1 };

/** What keys of an operating point are called in `room`: for dw_work_rename_keys(). The texts belong to
 *  the working. @return how many. */
size_t dw_working_room_keys(const dw_room_result *room, const dw_result *result, dw_working *w,
                            dw_work_rename list[DW_WORK_ROOM_KEY_MAX]);

/**
 * Adds the places where gas comes into the room, their sums, and the balance of air of the room.
 *
 * Leaves V Q G for the air of the room, G only where CO is known; p_room.
 *
 * @param[in] kiln             as read, with the room's pressure that it was solved at.
 * @param[in] solved, result   of dw_working_point_solved() into the same working.
 * @retval DW_OK, DW_ERR_NOMEM, DW_ERR_BUG
 * @par Checked by  tests/unit/room/test_working_room.c, tests/golden/test_working_commands.py
 */
DW_MUST_CHECK
dw_status dw_working_room(const dw_model *model, const dw_kiln *kiln, const dw_solved *solved,
                          const dw_result *result, const dw_room_result *room, dw_working *w);

#endif

#ifndef DW_WORKING_ROOM_PARTS_H
#define DW_WORKING_ROOM_PARTS_H

/**
 * @file working_room_parts.h
 * The parts of working_room.h that have a file of their own.
 *
 * Layer: room. Not for others.
 */

#include "room.h"
#include "working_steps.h"

/** The balance of air of the room, ventilation, and what the room costs the kiln. */
DW_MUST_CHECK
dw_status dw_work_room_pressure(const dw_work_point *p, const dw_room_result *room);

#endif

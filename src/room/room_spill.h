#ifndef DW_ROOM_SPILL_H
#define DW_ROOM_SPILL_H

/**
 * @file room_spill.h
 * Part of room.h: the places where gas comes into the room, and their sums.
 *
 * Layer: room. Not for others: see room.h.
 */

#include "room.h"

/** Fills the places and sums of a room whose kiln is solved. kiln is resolved, with the room's
 *  pressure in its site. @retval DW_OK, DW_ERR_NOMEM */
DW_MUST_CHECK
dw_status dw_room_add_up(const dw_model *model, const dw_kiln *kiln, const dw_result *result,
                         dw_room_result *room);

/** The largest share of CO that gas of a fuel and air can hold: all its carbon burnt to CO, with the nitrogen
 *  of no more air than that takes; what the fuel holds of it by itself, if that is more. */
double dw_room_richest_co_frac(const dw_data *data, const dw_fuel *fuel);

#endif

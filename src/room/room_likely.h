#ifndef DW_ROOM_LIKELY_H
#define DW_ROOM_LIKELY_H

/**
 * @file room_likely.h
 * What likely burns of the carbon monoxide where kiln gas comes into the room, place by place.
 *
 * Beside the upper figure of room.h, never in its place: verdict, limits, alarms and spread are of nothing burnt. A
 * share is
 *  - 0 for cracks, leaks, what is narrower than 10 mm, burners and the relief opening: their gas has lost its heat on
 *    the way;
 *  - what openings.*.burnt_share says, of a hole or a tall opening; else room.burnt_share, of those and of flues that
 *    end in the room; else that of physics/port_flame.h. Under a hood gap, behind a stack that took the gas's heat,
 *    that is 0.
 * Nothing is counted of what burns further up in the plume.
 *
 * Layer: room. No allocation, no state.
 *
 * @par Checked by  tests/unit/room/test_room_likely.c, tests/consistency/test_room_laws.c
 */

#include "flame.h"
#include "room.h"

/** Where a share comes from. */
typedef enum dw_burnt_by {
    DW_BURNT_NEVER,     /**< nothing burns on such a way                         */
    DW_BURNT_GIVEN,     /**< the description says so                             */
    DW_BURNT_BY_LAW     /**< port_flame.h                                        */
} dw_burnt_by;

/** A place of dw_room_result, in its order. */
typedef struct dw_likely_place {
    dw_burnt_by by;
    double width_m, area_m2;     /**< hydraulic diameter of a mouth, and area of all of them; only by law, else 0 and 1 */
    double burnt_frac;
} dw_likely_place;

typedef struct dw_room_likely {
    dw_port_flame flame;         /**< of this gas and the room's air                */
    dw_likely_place place[DW_ROOM_PLACE_MAX];
    double co_m3_s;              /**< into the room after hood and flames; at most that of the room  */
    double burnt_frac;           /**< of all CO that leaves the kiln                */
} dw_room_likely;

/** Speed in a mouth: v from m_p, rho_w and A_o. For a working. */
extern const dw_law *const dw_mouth_speed_law;

/** The gas and the room's air of a kiln, as they meet at its openings: x_air is filled.
 *  @retval DW_OK, or as dw_moist_air_from_humidity() */
DW_MUST_CHECK
dw_status dw_room_meeting(const dw_model *model, const dw_kiln *resolved, const dw_result *result,
                          double x_air[DW_SPECIES_MAX], dw_port_meeting *meeting);

/** @param[in] room  solved, its CO known. @retval DW_OK, or as dw_port_flame_find() */
DW_MUST_CHECK
dw_status dw_room_likely_find(const dw_model *model, const dw_kiln *resolved, const dw_result *result,
                              const dw_room_result *room, dw_room_likely *likely);

#endif

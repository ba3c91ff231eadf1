#ifndef DW_ROOM_AIR_H
#define DW_ROOM_AIR_H

/**
 * @file room_air.h
 * Carbon monoxide in the air of one well-mixed room against time.
 *
 * Layer: physics. Pure functions, no state, no allocation. Concentrations are parts per million by
 * volume. A well-mixed room is a mean: near the kiln, under the ceiling and in corners there is more.
 */

#include "dw_status.h"
#include "law.h"

/** A room with a steady source. */
typedef struct dw_room_air {
    double volume_m3;     /**< V > 0                                                        */
    double flow_m3_s;     /**< Q >= 0: air that leaves, replaced from outside               */
    double source_m3_s;   /**< G >= 0: pure CO let in, at room conditions                   */
    double outside_ppm;   /**< C_out >= 0: of the air that comes in                         */
} dw_room_air;

/** @retval DW_OK, DW_ERR_ARG (NULL or not finite), DW_ERR_DOMAIN (out of range) */
DW_MUST_CHECK
dw_status dw_room_air_check(const dw_room_air *room);

/**
 * CO [ppm] after a time, from a start value.
 *
 *     V dC/dt = G + Q (C_out - C)
 *     C(t) = C_out + (1e6 G/Q)(1 - e^(-Qt/V)) + (C_0 - C_out) e^(-Qt/V)
 *
 * With Q = 0 the limit C_0 + 1e6 G t/V. The law does not know how large a share of CO the gas has that is let
 * in: who leaves its volume out of Q can be given more than the gas itself holds (see room.h).
 *
 * @param[in] room      checked; not NULL.
 * @param[in] start_ppm, time_s  >= 0; infinite time gives the steady value.
 *
 * @par Holds when  the room is well mixed and the source steady; CO is neither taken up nor burnt
 *                  in the room.
 * @par Source      [room-balance]
 * @par Checked by  tests/reference/room_air.csv, tests/unit/physics/test_room_air.c
 */
double dw_room_air_ppm(const dw_room_air *room, double start_ppm, double time_s);

/** Mean CO [ppm] from the start to a time > 0: the integral of dw_room_air_ppm() over it. */
double dw_room_air_mean_ppm(const dw_room_air *room, double start_ppm, double time_s);

/** CO [ppm] that the room settles at; infinite with a source and no ventilation, and the outside's
 *  with neither. */
double dw_room_air_steady_ppm(const dw_room_air *room);

/** Time [s] until the air holds level_ppm or more: 0 when it does at the start, infinite when it
 *  never will. */
double dw_room_air_time_to_ppm(const dw_room_air *room, double start_ppm, double level_ppm);

/** Ventilation [m3/s] that keeps the steady value at level_ppm: G 1e6/(level - C_out). Infinite
 *  when level is not above the outside air and there is a source; 0 without a source. */
double dw_room_air_flow_for_ppm(const dw_room_air *room, double level_ppm);

/** Laws that a working shows beside the values of these functions; symbols C_out V Q G. */
typedef enum dw_room_air_term {
    DW_ROOM_AIR_STEADY,   /**< C_s                                              */
    DW_ROOM_AIR_LEVEL,    /**< C, after t from outside air                      */
    DW_ROOM_AIR_MEAN,     /**< C_m of a stretch of time_s, of C_0 C_1 t_0 t_1   */
    DW_ROOM_AIR_TIME,     /**< t_L until the level L, of L C_s; within time_s   */
    DW_ROOM_AIR_FLOW,     /**< Q_L that keeps L                                 */
    DW_ROOM_AIR_SOURCE    /**< G that gives C after t                           */
} dw_room_air_term;
const dw_law *dw_room_air_law(dw_room_air_term term, const dw_room_air *room, double time_s);

#endif

#ifndef DW_ROOM_H
#define DW_ROOM_H

/**
 * @file room.h
 * What a kiln lets into its room, place by place, and the balance of air that sets the room's pressure.
 *
 * Layer: room. No state; the only allocation is work space that is freed again.
 *
 * An upper estimate: every hole above the neutral plane lets out well-stirred kiln gas, nothing of it burns, a hood
 * catches what the description says, and a burner that is pushed back lets all its gas out. What likely burns is in
 * room_likely.h. Wind, doors that open, and faults are not in it.
 */

#include "operating_point.h"
#include "room_air.h"

enum { DW_ROOM_PLACE_MAX = 2 * DW_BURNER_MAX + DW_OPENING_MAX + DW_FLUE_MAX + 2 };

/** One place where gas comes into the room. Volumes at room temperature and pressure, before a
 *  share is caught. */
typedef struct dw_room_place {
    dw_flow_kind kind;      /**< DW_FLOW_GAS_JET: fuel of a burner that is pushed back            */
    int index;              /**< of the burner, opening or flue; -1: leak, relief                 */
    double height_m;
    double mass_kg_s;       /**< hot gas or fuel                                                  */
    double co_m3_s, h2_m3_s;
    double unburnt_m3_s;    /**< other gas that burns                                             */
    int near_burner;        /**< index of a burner within 0.1 m of height; -1: none               */
} dw_room_place;

/** Why nobody can say how much carbon monoxide comes into a room. The balance has numbers there, but gas goes
 *  where it burns badly or not at all, or the state does not last. */
typedef enum dw_co_unknown {
    DW_CO_KNOWN,
    DW_CO_STACK_REVERSED,  /**< outside air comes down the stack                                  */
    DW_CO_PUSHED_BACK,     /**< a lit burner is pushed back                                       */
    DW_CO_STACK_TURNS,     /**< the stack turns round at this pressure of the room                */
    DW_CO_END_UNKNOWN      /**< only in a course: so it is, or not solved, at an end of its spread */
} dw_co_unknown;

typedef struct dw_room_result {
    bool solved;
    char reason[DW_REASON_SIZE];  /**< why not; "" when solved                                    */

    /* pressure */
    double pressure_pa;           /**< room minus outside at the lowest burner                    */
    bool pressure_given;          /**< site.room_pressure was given: no balance is made           */
    bool kiln_feels_it;           /**< there is a stack that ends outside                         */
    bool turning;                 /**< the stack turns round at this pressure: no steady state    */
    double residual_pa;           /**< what is left of the balance                                */
    int rounds;                   /**< times the kiln was solved                                  */
    double pressure_without_fan_pa; /**< the same with the fan off; NaN: no fan, or not solved     */
    double draft_loss_pa;         /**< draft at the floor of the chamber that the room costs; NaN: left out */
    double make_up_m3_s;          /**< air that comes in from outside                             */
    double fan_m3_s;              /**< what the fan moves at this pressure                        */
    double kiln_draws_m3_s;       /**< room air that goes up the stack, net                       */

    /* what comes out */
    int place_count;
    dw_room_place place[DW_ROOM_PLACE_MAX];
    double spill_kg_s;            /**< all places                                                 */
    double by_flues_kg_s;         /**< of that by flues that end in the room; the rest by openings and
                                       burners that are pushed back                               */
    double co_m3_s, h2_m3_s, unburnt_m3_s;  /**< all places, into the room: after the hood        */
    double co_leaves_m3_s;        /**< before the hood                                            */
    bool raw_gas;                 /**< gas that has not burnt comes in, more than a trace         */
    dw_co_unknown unknown;        /**< what the volumes of CO, H2 and gas that burns are worth    */
    double gas_m3_s;              /**< all gas, whatever it holds, after the hood                 */
    double x_co_wet;              /**< of the kiln gas                                            */

    dw_room_air air;              /**< for physics/room_air.h                                     */
    double steady_ppm;
    double richest_ppm;           /**< more than this the air of the room cannot hold, whatever is in
                                       doubt: outside air and the fuel burnt to CO alone          */
} dw_room_result;

/**
 * Solves a kiln in its room: the operating point, at the room pressure that fan, make-up openings
 * and the kiln's own draw settle at, and what it spills.
 *
 *     Cd A sqrt(2 rho dp) = rho (Q_fan(dp) + what the kiln draws at dp),   Q_fan = Q (1 - dp/dp_max)
 *     Q_ventilation = max(natural, fan, gas that comes in)
 *
 * The last: a volume of gas that comes into the room takes the place of as much air, which goes out, or back
 * through the kiln. So the air never holds more CO than the gas that comes in, however tight the room.
 *
 * A is make_up_area and leak_area. The kiln is solved again at each pressure until the balance
 * settles (1e-4 Pa). When the stack turns round at that pressure there is no steady state: the
 * side with more carbon monoxide is taken and turning is true. A given site.room_pressure (not 0) is
 * used as it is.
 *
 * What the kiln draws up its stack is not counted as ventilation: it comes and goes with the draft.
 *
 * @param[in]  model       prepared.
 * @param[in]  kiln        as read, with a room.
 * @param[in]  guess_pa    room pressure to begin at; NaN: none. With a guess the comparison with the
 *                         fan off is left out.
 * @param[out] result      the operating point at the settled pressure.
 * @param[out] room        always set: solved, or the reason why not.
 * @retval DW_OK
 * @retval DW_ERR_NO_CONVERGE  the kiln or the room has no solution; reasons are set.
 * @retval DW_ERR_DOMAIN       the description makes no sense; reason is set.
 * @retval DW_ERR_ARG          a pointer is NULL, or the kiln has no room.
 * @retval DW_ERR_NOMEM
 *
 * @par Source      [room-balance]; leak [leakage-4pa]; Cd [karlsson2000].
 * @par Checked by  tests/unit/room/test_room.c, tests/consistency/test_room_laws.c
 */
DW_MUST_CHECK
dw_status dw_room_solve(const dw_model *model, const dw_kiln *kiln, double guess_pa,
                        dw_result *result, dw_room_result *room);

/** Pressure [Pa] of the room with the kiln off: what the fan does alone, or the given one. NaN when the
 *  balance lies beyond -200 Pa. */
double dw_room_idle_pressure_pa(const dw_kiln *kiln);

/** Air [m3/s] that comes into the room from outside at a room pressure; negative: goes out. */
double dw_room_make_up_m3_s(const dw_kiln *resolved, double rho_room_kg_m3, double rho_out_kg_m3,
                            double pressure_pa);

/** The law that this is at a pressure, of A_m, A_l, rho_out, rho_room and p. */
const dw_law *dw_room_make_up_law(double pressure_pa);

/** Whether a flow takes air from the room (1), brings gas into it (-1), or neither (0); its own sign is
 *  that of result.h. */
int dw_room_draw_sign(const dw_kiln *kiln, dw_flow_kind kind);

/** Room air that goes up the stack, net of what comes out of the kiln [kg/s]: the sum of all flows with
 *  these signs. */
double dw_room_kiln_draws_kg_s(const dw_kiln *kiln, const dw_result *result);

/** What an exhaust fan moves [m3/s] against a room pressure. */
double dw_room_fan_m3_s(const dw_room *room, double pressure_pa);
/** The law, of Q_f, p and p_f. */
extern const dw_law *const dw_room_fan_law;

/** Ventilation [m3/s] that counts: the natural one, the fan's, or the gas that comes in, whichever is most. */
double dw_room_flow_m3_s(const dw_room *room, double fan_m3_s, double gas_m3_s, const char *keys,
                         dw_working *w);

#endif

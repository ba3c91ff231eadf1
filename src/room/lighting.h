#ifndef DW_LIGHTING_H
#define DW_LIGHTING_H

/**
 * @file lighting.h
 * Lighting and relighting: how fast an open burner without a flame fills the kiln, and how long a
 * purge takes.
 *
 * Layer: room. No state; work space is freed again.
 *
 * Well stirred, nothing escapes: the mean of the whole space. A layer or pocket burns earlier.
 */

#include "law.h"
#include "operating_point.h"

/** One burner entry with its valve open and no flame. */
typedef struct dw_lighting_burner {
    double gas_kg_s;             /**< of one burner of the entry; 0 without gas pressure     */
    double gas_m3_s;             /**< the same at room conditions                            */
    double chamber_s;            /**< until the chamber is at the lean limit; infinite       */
    double corner_s;             /**< until the corner volume of the room is                 */
} dw_lighting_burner;

typedef struct dw_lighting {
    bool solved;
    char reason[DW_REASON_SIZE]; /**< why not; "" when solved. Then nothing else means anything */
    int burner_count;
    dw_lighting_burner burner[DW_BURNER_MAX];
    dw_lighting_burner all;      /**< every valve open                                       */
    double lean_x, rich_x;       /**< of the fuel gas in air, at room temperature            */
    bool limit_guessed;          /**< a gas of the fuel has no known limit: the lowest of all is taken */
    double relative_density;     /**< fuel gas / air: above 1 it sinks, below 1 it rises     */
    double free_volume_m3;       /**< chamber less ware and shelves                          */
    bool glows;                  /**< the chamber lights gas by itself                       */

    /* purge, burners off and open, dampers open */
    double purge_volumes;        /**< wanted                                                 */
    double purge_volume_m3;      /**< of air                                                 */
    double cold_draft_pa;        /**< of a stack full of room air: 0 without one; negative: it falls */
    double natural_m3_s;         /**< air through the cold kiln; 0: none, or backwards       */
    bool backwards;              /**< outside air comes down the cold stack into the room    */
    double natural_s;            /**< purge by it; infinite                                  */
    double fan_s;                /**< purge by room.purge_fan_flow; NaN: no such fan         */

    /* the gas in the chamber now */
    double gas_ratio;            /**< sum(x/L): 1 or more can burn in air at 25 degC; NaN    */
    double gas_ratio_hot;        /**< the same at its temperature; NaN where it is too hot   */
    double gas_limit_x;          /**< lean limit of its combustible part in air, 25 degC     */
} dw_lighting;

/**
 * Works out all of it.
 *
 * @param[in]  model    prepared.
 * @param[in]  kiln     as read. Its room is at the pressure that it has with the kiln off.
 * @param[in]  result   operating point for the gas in the chamber; NULL or not solved: NaN there.
 * @param[in]  w        NULL, or gets the steps; then only where it is solved without. Needs the steps of the
 *                      point, and of the room with its openings where it has a fan.
 * @param[out] lighting not NULL.
 * @retval DW_OK        also where the cold kiln cannot be worked out: solved is false, reason says why.
 *                      A kiln that runs hot may be out of range when it is as cold as its room.
 * @retval DW_ERR_ARG, DW_ERR_NOMEM, DW_ERR_BUG
 *
 * @par Source      limits [bumines627], [le-chatelier], [burgess-wheeler]; purge [nfpa86].
 * @par Checked by  tests/unit/room/test_lighting.c, tests/unit/room/test_working_room.c
 */
DW_MUST_CHECK
dw_status dw_lighting_look(const dw_model *model, const dw_kiln *kiln, const dw_result *result,
                           dw_working *w, dw_lighting *lighting);

/** Turns a resolved kiln into the cold one of a purge: burners off and open, dampers open, everything at
 *  the temperature of the room. */
void dw_lighting_cool(dw_kiln *resolved);

#endif

#ifndef DW_SETTLE_H
#define DW_SETTLE_H

/**
 * @file settle.h
 * Which one reading at the kiln would narrow the doubt of the equivalence ratio most.
 *
 * Layer: study. No allocation, no state.
 *
 * Each input in doubt moves the logarithm of the ratio by l_i and a reading by r_i, taken over half of its
 * range. With independent inputs and a reading that is off by e, the variance V = sum l_i^2 becomes
 * V - (sum l_i r_i)^2 / (sum r_i^2 + e^2): linear least squares with a prior.
 */

#include "solved_point.h"

typedef enum dw_reading {
    DW_READING_OXYGEN,   /**< oxygen in the dry flue gas while the kiln oxidizes             */
    DW_READING_GAS,      /**< gas used, by scale or meter                                    */
    DW_READING_SMOKE,    /**< height at which the smoke of a stick turns                     */
    DW_READING_COUNT,
    DW_READING_NONE = DW_READING_COUNT
} dw_reading;

/** Sums over the inputs in doubt, for each reading. */
typedef struct dw_settle {
    bool possible[DW_READING_COUNT];
    double ratio2;                      /**< sum l_i^2                                       */
    double reading2[DW_READING_COUNT];  /**< sum r_i^2                                       */
    double product[DW_READING_COUNT];   /**< sum l_i r_i                                     */
} dw_settle;

/** The answer. */
typedef struct dw_settled {
    dw_reading reading;   /**< DW_READING_NONE: none of them can be taken here               */
    double left_share;    /**< width of the doubt after it / before, 0..1                    */
    double opened_frac;   /**< oxygen: how far all dampers are opened for it; 0: not at all  */
} dw_settled;

/**
 * A point with all its dampers opened further (they end at 1).
 *
 * @param[in,out] at     ready, see dw_point_set_up(); its dampers are left as they were put.
 * @param[in]     kiln   whose dampers are opened.
 * @retval as dw_point_brief()
 */
DW_MUST_CHECK
dw_status dw_settle_opened(dw_solved *at, const dw_kiln *kiln, double opening, dw_brief *brief);

/**
 * By how much all dampers are to be opened so that there is oxygen to read: not at all where the ratio
 * is below 0.95, else by 0.2, else fully. In reduction oxygen says next to nothing.
 *
 * @param[in,out] at    ready, its inputs in doubt at their middle; its dampers are moved.
 * @param[in]     kiln  the same kiln.
 * @return open share to add to every damper; NaN where the kiln does not get lean enough.
 */
double dw_settle_opening(dw_solved *at, const dw_kiln *kiln);

/** Begins: which readings can be taken, from the middle state now and with the dampers opened. */
void dw_settle_begin(dw_settle *settle, const dw_kiln *kiln, const dw_brief *now, const dw_brief *opened);

/** Adds an input: what its low and high end make of the ratio and the readings. An end that is not solved
 *  holds NaN and the middle takes its place. */
void dw_settle_add(dw_settle *settle, const dw_brief *now, const dw_brief *opened,
                   const dw_brief now_end[2], const dw_brief opened_end[2]);

/** The reading that leaves least. */
void dw_settle_end(const dw_settle *settle, double opening, dw_settled *settled);

#endif

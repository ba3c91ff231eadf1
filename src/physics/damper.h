#ifndef DW_DAMPER_H
#define DW_DAMPER_H

/**
 * @file damper.h
 * Pressure loss of slide and butterfly dampers, of a shelf over a mouth, and of a damper with a table of its own.
 *
 * Layer: physics. Pure functions, no state, no allocation. Losses are zeta on the speed in the full
 * flue: dp = zeta rho v^2/2, v = m/(rho A_flue). They do not depend on the pressure: work them out
 * once per setting.
 *
 * Where a function is given a working it writes down its steps; NULL: none. Before one of the three
 * losses the working must have what dw_damper_open_share() writes, and of a slide or shelf k.
 */

#include <stdbool.h>

#include "dw_status.h"
#include "law.h"

/** A damper's loss. */
typedef struct dw_damper_loss {
    double loss;            /**< zeta on full-flue speed, >= 0, scale included            */
    double open_frac;       /**< the open fraction used: the setting, but at least the leak */
    bool at_leak;           /**< the setting was at or below the leak                     */
    bool outside_published; /**< outside the range of the formula or table                */
} dw_damper_loss;

/** What every kind of damper has. */
typedef struct dw_damper_setting {
    double open_frac; /**< open share of the flue's area, 0..1                      */
    double leak_frac; /**< least open share of a real plate, in (0, 1)              */
    double scale;     /**< multiplies the loss, > 0                                 */
} dw_damper_setting;

/** The open share f that counts, the larger of open_frac and leak_frac. No checks. */
double dw_damper_open_share(const dw_damper_setting *setting, dw_working *w);

/**
 * Loss of a sliding plate.
 *
 *     zeta = (1/(Cc f) - k)^2,   Cc = 1/(1 + 0.707 (1 - f)^0.375)
 *
 * The jet through the opening contracts to Cc f of the flue and then spreads into what follows. k =
 * 1: a duct as wide as the flue, the published case; k = 0: a plenum, all the speed is lost.
 *
 * @param[in]  setting           not NULL.
 * @param[in]  downstream_ratio  k = flue area / area just downstream, 0..1.
 * @param[out] result            doubles NaN on failure.
 * @retval DW_OK, DW_ERR_ARG, DW_ERR_DOMAIN
 *
 * @par Holds when  k = 1 and Re > 1e5, 0.1 <= f <= 0.95 (outside_published otherwise); kiln flues
 *                  run at Re 1e3..1e4, hence the spread on scale. Against measured gates within
 *                  6.5 % for 0.3 < f < 0.75.
 * @par Source      [idelchik1994] diagram 4-14 for k = 1; other k by the same sudden-expansion
 *                  argument (derived).
 * @par Checked by  tests/unit/physics/test_damper.c, tests/reference/damper.csv
 */
DW_MUST_CHECK
dw_status dw_damper_slide(const dw_damper_setting *setting, double downstream_ratio, dw_working *w,
                          dw_damper_loss *result);

/** A plate whose thickness counts, and how much less it loses. */
typedef struct dw_damper_plate {
    double thickness_m;
    double mouth_width_m; /**< of the mouth, in the direction in which the plate is pushed   */
    const double *ratio;  /**< rows: thickness / width of the slot left open, rising         */
    const double *factor; /**< of the loss of a thin plate, falling                          */
    int row_count;        /**< >= 2                                                          */
} dw_damper_plate;

/**
 * Loss of a shelf or brick that is pushed from the side over the mouth of a flue with a wide space behind it.
 *
 *     zeta = F/(Cc f)^2,   F by thickness/(f mouth_width)
 *
 * A slide with k = 0, times F: over a slot as narrow as the plate is thick the jet fills the slot again before
 * it leaves, and loses less. F is linear between its rows and held beyond them.
 *
 * @param[in]  setting  not NULL.
 * @param[in]  plate    NULL, or a thickness or width that is not above 0: a thin plate, F = 1.
 * @param[in]  w        must have k too.
 * @param[out] result   doubles NaN on failure; outside_published as for a slide.
 * @retval DW_OK, DW_ERR_ARG, DW_ERR_DOMAIN (fewer than two rows)
 *
 * @par Holds when  no flow goes round the other edges of the plate.
 * @par Source      [idelchik1994] diagram 4-14; F worked out from diagram 4-15 [idelchik-thick].
 * @par Checked by  tests/unit/physics/test_damper.c, tests/reference/damper.csv
 */
DW_MUST_CHECK
dw_status dw_damper_shelf(const dw_damper_setting *setting, const dw_damper_plate *plate, dw_working *w,
                          dw_damper_loss *result);

/**
 * Loss of a butterfly plate: ln zeta linear in the angle between rows.
 *
 * Below the first row the first loss holds. Past the last row the last segment goes on to 75
 * degrees (open fraction 0.034). Past that the loss is a slide's at that open fraction with k = 1,
 * times the factor that joins the two at 75 degrees; so it is continuous and falls steadily with
 * the open fraction, whatever the leak. A real plate never shuts more than its leak.
 *
 * The tables hold for a duct of the flue's width on both sides; there is no k here.
 *
 * @param[in]  setting    not NULL.
 * @param[in]  angle_rad  rows, rising, 0..75 degrees; 0 is open.
 * @param[in]  loss       rows, > 0, rising.
 * @param[in]  row_count  >= 2.
 * @param[out] result     doubles NaN on failure; outside_published when outside the rows.
 * @retval DW_OK, DW_ERR_ARG, DW_ERR_DOMAIN
 *
 * @par Source      [weisbach-dampers], [smacna-a15]; log-linear behaviour [butterfly-loglinear];
 *                  past the last row [butterfly-extended].
 * @par Checked by  tests/unit/physics/test_damper.c, tests/reference/damper.csv
 */
DW_MUST_CHECK
dw_status dw_damper_butterfly(const dw_damper_setting *setting, const double *angle_rad,
                              const double *loss, int row_count, dw_working *w,
                              dw_damper_loss *result);

/**
 * Loss of a damper by the user's own table.
 *
 * Between rows the effective open share e = 1/(1 + sqrt(zeta)) is linear in f. That is Cc f of the
 * slide's formula at k = 1: it is nearly straight for real plates, allows zeta = 0, and stays
 * between its rows. Below the first row e falls in proportion to f; above the last the last loss
 * holds.
 *
 * @param[in]  setting    not NULL.
 * @param[in]  open_frac  rows, rising, in (0, 1].
 * @param[in]  loss       rows, >= 0, falling.
 * @param[in]  row_count  >= 1.
 * @param[out] result     doubles NaN on failure; outside_published when outside the rows.
 * @retval DW_OK, DW_ERR_ARG, DW_ERR_DOMAIN
 *
 * @par Checked by  tests/unit/physics/test_damper.c
 */
DW_MUST_CHECK
dw_status dw_damper_table(const dw_damper_setting *setting, const double *open_frac,
                          const double *loss, int row_count, dw_working *w, dw_damper_loss *result);

/** Open share of the area of a butterfly plate at an angle, `1 - sin(theta)`, theta 0..pi/2. */
double dw_butterfly_open_frac(double angle_rad);

/** The angle [rad] for an open share, `asin(1 - f)`; NaN outside 0..1. */
double dw_butterfly_angle_rad(double open_frac);

#endif

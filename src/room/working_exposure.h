#ifndef DW_WORKING_EXPOSURE_H
#define DW_WORKING_EXPOSURE_H

/**
 * @file working_exposure.h
 * The working of an exposure without a kiln.
 *
 * Layer: room. Adds to a new working; the keys of the steps are those of `exposure`.
 */

#include "exposure.h"
#include "working.h"

/** Most stretches of time that a working is made of. */
enum { DW_WORKING_STRETCH_MAX = 5000 };

/** What was breathed. All borrowed. */
typedef struct dw_work_air {
    const dw_exposure_step *step;
    size_t count;                 /**< at most DW_WORKING_STRETCH_MAX                         */
    bool steady;                  /**< one level held, in steps of equal length; else readings */
    double longest_gap_s;         /**< of readings                                            */
    const long *course_row;       /**< for each step the row of the report's course; -1: none  */
} dw_work_air;

/**
 * @param[in] x  as dw_exposure_look() has it for this air and person.
 * @retval DW_OK, DW_ERR_ARG (too many steps), DW_ERR_DOMAIN (the person), DW_ERR_NOMEM, DW_ERR_BUG
 * @par Checked by  tests/unit/room/test_working_exposure.c, tests/golden/test_working_commands.py
 */
DW_MUST_CHECK
dw_status dw_working_exposure(const dw_co_data *co, const dw_exposure_person *person,
                              const dw_exposure *x, const dw_work_air *air, dw_working *w);

#endif

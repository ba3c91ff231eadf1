#ifndef DW_WORKING_LADDER_H
#define DW_WORKING_LADDER_H

/**
 * @file working_ladder.h
 * The working of the reduction ladder: all rungs side by side.
 *
 * Layer: ware. Adds to a new working; the keys of the steps are those of `ladder`.
 */

#include "ladder.h"
#include "working_point.h"

/**
 * @param[in] kiln    as read, the one that the ladder is of.
 * @param[in] ladder  ready.
 * @param[in] rung    count of them, of this ladder.
 * @retval DW_OK, DW_ERR_DOMAIN, DW_ERR_NO_CONVERGE, DW_ERR_NOMEM, DW_ERR_BUG
 * @par Checked by  tests/unit/ware/test_working_ladder.c, tests/golden/test_working_commands.py
 */
DW_MUST_CHECK
dw_status dw_working_ladder(const dw_kiln *kiln, const dw_ladder *ladder, const dw_rung *rung,
                            size_t count, dw_working *w);

#endif

#ifndef DW_WORKING_COLD_H
#define DW_WORKING_COLD_H

/**
 * @file working_cold.h
 * The working of the air that a cold stack draws through the kiln: part of working_room.h.
 *
 * Layer: room. Not for others.
 */

#include "lighting.h"
#include "working_steps.h"

/** Adds the draft of the cold stack, the air through the cold kiln, and the purge by it. Needs V_purge.
 *  Symbols of flows and pressures mean those of the cold kiln afterwards. */
DW_MUST_CHECK
dw_status dw_work_cold(const dw_work_point *p, const dw_lighting *lighting);

#endif

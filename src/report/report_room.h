#ifndef DW_REPORT_ROOM_H
#define DW_REPORT_ROOM_H

/**
 * @file report_room.h
 * Builders: a kiln in its room, and lighting it.
 *
 * Layer: report. As reports.h.
 */

#include "lighting.h"
#include "read_kiln.h"
#include "outputs.h"
#include "reports.h"
#include "room_course.h"

/**
 * A kiln in its room: verdict, places, pressure, limits, alarms, people, lighting.
 *
 * A kiln that is not solved gets the reason, no number of the room, and the lighting part.
 */
void dw_build_room(dw_report *report, const dw_report_source *source,
                   const dw_room_course *course, const dw_lighting *lighting);

/** Why a verdict is worse than the figure, or there is none, in a sentence; NULL when it is not. */
const char *dw_room_lift_text(const dw_room_course *course);

/** Why nobody can say how much CO comes into the room: for `CO is not known: ...`; NULL when it is known. */
const char *dw_room_unknown_text(dw_co_unknown unknown);

/** The sentences about a room, and the list `diagnostics`. */
void dw_build_room_notices(dw_report *report, const dw_report_source *source,
                           const dw_room_course *course);

/** The part about lighting and purging, key `lighting`. */
void dw_build_lighting(dw_report *report, const dw_report_source *source, const dw_lighting *l);

/** A sweep of rooms that grows by a row for each finished point. */
typedef struct dw_room_table {
    dw_report *report;
    const dw_report_source *source;
    dw_item *table;
    dw_item *count_item, *worst_item;
    size_t axis_count;
    size_t row_count, solved_count;
    size_t unknown_count;       /**< solved, but nobody knows how much CO */
    size_t verdict_count[3];
} dw_room_table;

void dw_build_room_sweep(dw_room_table *sweep, dw_report *report, const dw_report_source *source,
                         const dw_sweep_axis *axes, size_t axis_count);
void dw_build_room_sweep_row(dw_room_table *sweep, const double *values, const dw_room_course *x);
void dw_build_room_sweep_end(dw_room_table *sweep);

#endif

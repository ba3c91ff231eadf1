#ifndef DW_REPORT_WORKING_H
#define DW_REPORT_WORKING_H

/**
 * @file report_working.h
 * A working as a report: for people step by step, for programs as "steps", "tables" and
 * "not_worked".
 *
 * Layer: report.
 */

#include "reports.h"
#include "working.h"

/**
 * Adds a working.
 *
 * @param[in] source  its command says which keys have a reason to have no working (outputs.h).
 * @param[in] first_line  what is worked out; NULL: kiln and setting.
 * @param[in] of      the report that the working is of, for the numbers as it shows them; NULL: none.
 * @param[in] system  units of those.
 */
void dw_build_working(dw_report *report, const dw_report_source *source, const dw_working *w,
                      const char *first_line, const dw_report *of, dw_unit_system system);

#endif

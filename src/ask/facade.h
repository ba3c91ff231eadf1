#ifndef DW_FACADE_H
#define DW_FACADE_H

/**
 * @file facade.h
 * What the files behind damperwise.h share: the engine, a case, and the ends of every question.
 *
 * Layer: ask. Not for others, not installed.
 */

#include <stdbool.h>

#include "damperwise.h"
#include "operating_point.h"
#include "read_kiln.h"
#include "reports.h"

#ifndef DW_VERSION
#error "the build defines DW_VERSION, the project's version as a string"
#endif

struct dw_engine {
    dw_data data;
    dw_model model;
};

struct dw_case {
    dw_kiln_file file;
    dw_kiln resolved;
};

/** True, with the outputs emptied, when the arguments of a question are all there. */
bool dw_facade_begin(const dw_engine *engine, const dw_case *kiln, char **text,
                     size_t *text_length);

/** What a report says of itself. kiln may be NULL for questions without one. */
dw_report_source dw_facade_source(const dw_engine *engine, const dw_case *kiln,
                                  const char *command);

/** Solves a case. Not solved is an answer, whatever the reason (DW_ERR_NO_CONVERGE): only what is
 *  no answer at all stays another error. */
DW_MUST_CHECK
dw_status dw_facade_solve(const dw_engine *engine, const dw_case *kiln, dw_result *result);

/** Adds what was found to the diagnostics, in brief sentences. */
DW_MUST_CHECK
dw_status dw_facade_findings(const dw_case *kiln, const dw_result *result, dw_diag_list *diag);

/** The units of an output, as builders know them. */
dw_unit_system dw_facade_units(dw_output output);

/** Writes a tree in the format asked for. */
DW_MUST_CHECK
dw_status dw_facade_write(const dw_report *report, dw_output output, char **text,
                          size_t *text_length);

#endif

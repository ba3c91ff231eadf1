#ifndef DW_REPORT_WHY_H
#define DW_REPORT_WHY_H

/**
 * @file report_why.h
 * What a term means, with the numbers of a kiln put in.
 *
 * Layer: report.
 */

#include "report_tree.h"
#include "reports.h"
#include "working.h"

/** The term of a name or alias, whatever its capitals; NULL, and the nearest name or NULL. */
const dw_term *dw_term_find(const dw_terms *terms, const char *name, const char **near);

/** All terms, each with the beginning of its explanation. */
void dw_build_terms(dw_report *report, const dw_report_source *source);

/**
 * One term.
 *
 * @param[in] estimate  report of the kiln, its numbers; NULL: none.
 * @param[in] w         its working; NULL: none.
 */
void dw_build_why(dw_report *report, const dw_report_source *source, const dw_term *term,
                  const dw_report *estimate, const dw_working *w, dw_unit_system system);

#endif

#ifndef DW_WORKING_DOUBT_H
#define DW_WORKING_DOUBT_H

/**
 * @file working_doubt.h
 * How the spread of the equivalence ratio comes about, as steps.
 *
 * Layer: study. Adds to a working that holds a step with the symbol phi.
 */

#include "doubt.h"
#include "working.h"

/** Adds the steps; nothing when nothing was in doubt. @par Checked by tests/golden/test_working.py */
void dw_working_doubt(const dw_doubt *doubt, dw_working *w);

#endif

#ifndef DW_TEST_SAMPLE_RESULT_H
#define DW_TEST_SAMPLE_RESULT_H

/**
 * @file sample_result.h
 * A kiln, data and an operating point filled in by hand, for tests of what is written. The numbers
 * are busy and consistent enough to read; they come from no calculation.
 */

#include "data.h"
#include "kiln.h"
#include "result.h"

/** Species CO2 H2O CO H2 O2 N2 Ar, the five bands, no rules. */
void sample_data(dw_data *data);

/** Two burners, three openings, one flue with a slide damper, a stack. Resolved by hand. */
void sample_kiln(dw_kiln *kiln);

/** Medium reduction, neutral plane inside, hazards at two openings and a spill. */
void sample_result(dw_result *result);

/** Adds a finding; ignored when there is no room. */
void sample_find(dw_result *result, dw_finding_code code, int index, double value);

#endif

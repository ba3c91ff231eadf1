#ifndef DW_TEST_SAMPLE_NUMBERS_H
#define DW_TEST_SAMPLE_NUMBERS_H

/**
 * @file sample_numbers.h
 * Numbers of two kinds, shown as the program shows them, for tests of trees and writers.
 */

#include "report_tree.h"

/** A draft or chamber pressure: three digits, nothing finer than 0.01 Pa. */
static inline dw_number dw_number_draft(double si)
{
    return (dw_number){.si = si, .dim = DW_DIM_PRESSURE_GAUGE, .small = true, .digits = 3,
                       .resolution_si = 0.01, .low_si = NAN, .high_si = NAN};
}

/** A gas content or other share, nothing finer than 0.001 %. */
static inline dw_number dw_number_share(double value, int digits)
{
    dw_number number = dw_number_of(value, DW_DIM_RATIO, digits);
    number.resolution_si = 1.0e-5;
    return number;
}

#endif

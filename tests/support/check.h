#ifndef DW_TEST_CHECK_H
#define DW_TEST_CHECK_H

/**
 * @file check.h
 * cmocka's headers in the order it needs, and comparisons of doubles that NaN cannot pass.
 */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <cmocka.h>

/** True when |actual - expected| <= atol + rtol |expected|; false for NaN. */
static inline int close_enough(double actual, double expected, double rtol, double atol)
{
    return fabs(actual - expected) <= atol + rtol * fabs(expected);
}

static inline void assert_close_at(double actual, double expected, double rtol, double atol,
                                   const char *what, const char *file, int line)
{
    if (!close_enough(actual, expected, rtol, atol)) {
        print_error("%s: got %.17g, expected %.17g, off by %.3g (rtol %.3g, atol %.3g)\n", what,
                    actual, expected, actual - expected, rtol, atol);
        _fail(file, line);
    }
}

/** Fails unless the two doubles agree within rtol (relative to expected) plus atol. */
#define assert_close(actual, expected, rtol, atol) \
    assert_close_at((actual), (expected), (rtol), (atol), #actual, __FILE__, __LINE__)

#endif

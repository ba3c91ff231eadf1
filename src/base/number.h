#ifndef DW_NUMBER_H
#define DW_NUMBER_H

/**
 * @file number.h
 * Decimal numbers in a text, read the same way in every locale.
 *
 * Layer: base. No state, no allocation. The decimal mark in a text is always a point.
 */

#include <stddef.h>

/** Longest spelling of a number that is read, in bytes. */
enum { DW_NUMBER_LENGTH_MAX = 100 };

/**
 * Reads the decimal number that a text begins with, correctly rounded.
 *
 *     [+-] digits [. digits] [e [+-] digits]     at least one digit before or behind the point
 *
 * No white space before it, no hexadecimal, no NaN or infinity. An `e` without digits behind it
 * is not part of the number. Too large a number gives an infinity, too small a one gives 0 or a
 * subnormal number: the caller decides what that means.
 *
 * @param[in]  text, length  need not end in NUL.
 * @param[out] value         the number; NaN when there is none.
 * @return bytes of the number; 0 when the text begins with none, or with one longer than
 *         DW_NUMBER_LENGTH_MAX.
 *
 * @par Checked by tests/unit/base/test_number.c
 */
size_t dw_number_read(const char *text, size_t length, double *value);

#endif

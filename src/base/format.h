#ifndef DW_FORMAT_H
#define DW_FORMAT_H

/**
 * @file format.h
 * snprintf() whose numbers look the same in every locale: the decimal mark is a point.
 *
 * Layer: base. No state, no allocation. A program that links the library may have called
 * setlocale() or uselocale(); nothing that is written here follows it. number.h reads numbers the
 * same way. Nothing else in the library may format a floating-point number: a test of the source
 * looks.
 */

#include <stdarg.h>
#include <stddef.h>

#include "dw_status.h"

/**
 * Writes at most size bytes with the final NUL.
 *
 * Takes the conversions d i u x X c s e f g and %%, the lengths ll, l and z, the flags `-` and
 * `0`, and a width and a precision, each as digits or as `*`. Digits are never grouped.
 *
 * @param[out] out   may be NULL with size 0: then only the length is worked out.
 * @return the length needed without the NUL, as snprintf() does; -1 for a conversion not in the
 *         list above, or a text longer than INT_MAX. out then ends where the fault was found.
 *
 * @par Checked by tests/unit/base/test_format.c
 */
int dw_print(char *out, size_t size, const char *format, ...) DW_PRINTF(3, 4);

/** The same with the arguments in a list, which is used up. */
int dw_vprint(char *out, size_t size, const char *format, va_list args) DW_PRINTF(3, 0);

#endif

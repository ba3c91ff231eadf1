#ifndef DW_UTF8_H
#define DW_UTF8_H

/**
 * @file utf8.h
 * Telling well-formed UTF-8 from other bytes.
 *
 * Layer: base. Pure functions, no state, no locale.
 */

#include <stddef.h>

/**
 * Number of bytes (1..4) of the character at the start of text; 0 when the bytes there are no
 * well-formed UTF-8 (stray or missing continuation, overlong form, surrogate, above U+10FFFF)
 * or when length is 0. A NUL byte is a character of one byte.
 *
 * @par Source      [unicode] table 3-7, well-formed UTF-8 byte sequences
 * @par Checked by  tests/unit/base/test_utf8.c
 */
size_t dw_utf8_char(const char *text, size_t length);

#endif

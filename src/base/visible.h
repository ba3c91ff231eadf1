#ifndef DW_VISIBLE_H
#define DW_VISIBLE_H

/**
 * @file visible.h
 * Texts from outside (names, arguments, names of files) as a terminal may be given them.
 *
 * Layer: base. Pure functions, no state, no locale.
 */

#include <stddef.h>

/** Room for one piece with its NUL. */
enum { DW_VISIBLE_SIZE = 9 };

/**
 * The first character of a text, or an escape such as `\x1b` for what is not printable: control characters (the
 * C1 ones too, which are 0xC2 0x80..0x9F in UTF-8) and bytes that are not UTF-8. A line break or a tab is a space.
 *
 * @param[in]  text, length  length > 0.
 * @param[out] out           the piece, ended by a NUL.
 * @return bytes of text that it takes up, 1 or more.
 *
 * @par Checked by tests/unit/base/test_visible.c
 */
size_t dw_visible(const char *text, size_t length, char out[DW_VISIBLE_SIZE]);

#endif

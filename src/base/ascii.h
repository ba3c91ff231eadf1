#ifndef DW_ASCII_H
#define DW_ASCII_H

/**
 * @file ascii.h
 * Letters and digits of ASCII, the same in every locale: <ctype.h> follows the locale in what is a
 * letter and what its small one is.
 *
 * Layer: base. No state.
 */

#include <stdbool.h>

static inline bool dw_ascii_is_digit(char c) { return c >= '0' && c <= '9'; }

static inline bool dw_ascii_is_word(char c)
{
    return dw_ascii_is_digit(c) || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static inline char dw_ascii_small(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

#endif

#ifndef DW_STRBUF_H
#define DW_STRBUF_H

/**
 * @file strbuf.h
 * A growing text. Errors stick: after a failed growth every later call does nothing, and
 * dw_strbuf_take() returns NULL, so that callers check once, at the end.
 *
 * Layer: base. Allocates; no global state.
 */

#include <stddef.h>

#include "dw_status.h"

typedef struct dw_strbuf {
    char *text; /**< owned; NUL-terminated once anything was added; may be NULL */
    size_t length;
    size_t capacity;
    int failed; /**< true after running out of memory */
} dw_strbuf;

/** Makes an empty text. Needs no memory. */
void dw_strbuf_init(dw_strbuf *buf);

/** Frees the text; the buffer is then as after init. */
void dw_strbuf_free(dw_strbuf *buf);

/** Adds bytes. */
void dw_strbuf_add(dw_strbuf *buf, const char *text, size_t length);

/** Adds a NUL-terminated text. */
void dw_strbuf_puts(dw_strbuf *buf, const char *text);

/** Adds formatted text, by dw_print(): numbers look the same in every locale. */
void dw_strbuf_printf(dw_strbuf *buf, const char *format, ...) DW_PRINTF(2, 3);

/** Hands the text over to the caller, who frees it with free(); NULL after a failure. */
char *dw_strbuf_take(dw_strbuf *buf);

#endif

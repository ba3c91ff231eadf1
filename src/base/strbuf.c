#include "strbuf.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "format.h"

enum { FIRST_CAPACITY = 128 };

/* Makes room for `more` bytes and the NUL. Returns 0, and remembers it, when there is none. */
static int reserve(dw_strbuf *buf, size_t more)
{
    if (buf->failed) return 0;
    if (more > SIZE_MAX / 2 - buf->length - 1) {
        buf->failed = 1;
        return 0;
    }
    const size_t need = buf->length + more + 1;
    if (need <= buf->capacity) return 1;

    size_t capacity = buf->capacity > 0 ? buf->capacity : FIRST_CAPACITY;
    while (capacity < need)
        capacity *= 2;
    char *text = realloc(buf->text, capacity);
    if (text == NULL) {
        buf->failed = 1;
        return 0;
    }
    buf->text = text;
    buf->capacity = capacity;
    return 1;
}

void dw_strbuf_init(dw_strbuf *buf) { *buf = (dw_strbuf){NULL, 0, 0, 0}; }

void dw_strbuf_free(dw_strbuf *buf)
{
    free(buf->text);
    dw_strbuf_init(buf);
}

void dw_strbuf_add(dw_strbuf *buf, const char *text, size_t length)
{
    if (!reserve(buf, length)) return;
    if (length > 0) memcpy(buf->text + buf->length, text, length);
    buf->length += length;
    buf->text[buf->length] = '\0';
}

void dw_strbuf_puts(dw_strbuf *buf, const char *text) { dw_strbuf_add(buf, text, strlen(text)); }

void dw_strbuf_printf(dw_strbuf *buf, const char *format, ...)
{
    if (buf->failed) return;
    va_list args, again;
    va_start(args, format);
    va_copy(again, args);
    const int length = dw_vprint(NULL, 0, format, args);
    if (length < 0) {
        buf->failed = 1;
    } else if (reserve(buf, (size_t)length)) {
        (void)dw_vprint(buf->text + buf->length, (size_t)length + 1, format, again);
        buf->length += (size_t)length;
    }
    va_end(again);
    va_end(args);
}

char *dw_strbuf_take(dw_strbuf *buf)
{
    /* An empty text is a text: it needs its NUL. */
    dw_strbuf_add(buf, "", 0);
    char *text = NULL;
    if (!buf->failed) {
        text = buf->text;
        buf->text = NULL;
    }
    dw_strbuf_free(buf);
    return text;
}

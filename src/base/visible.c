#include "visible.h"

#include <string.h>

#include "utf8.h"

static void put_escape(unsigned char byte, char out[DW_VISIBLE_SIZE])
{
    static const char digits[] = "0123456789abcdef";
    memcpy(out, "\\x", 2);
    out[2] = digits[byte >> 4];
    out[3] = digits[byte & 0x0FU];
    out[4] = '\0';
}

size_t dw_visible(const char *text, size_t length, char out[DW_VISIBLE_SIZE])
{
    const unsigned char first = (unsigned char)text[0];
    const size_t size = dw_utf8_char(text, length);
    const int c1 = size == 2 && first == 0xC2U && (unsigned char)text[1] < 0xA0U;
    if (first == '\n' || first == '\r' || first == '\t') {
        memcpy(out, " ", 2);
        return 1;
    }
    if (c1) {
        put_escape((unsigned char)text[1], out);
        return 2;
    }
    if (size == 0 || first < 0x20U || first == 0x7FU) {
        put_escape(first, out);
        return 1;
    }
    memcpy(out, text, size);
    out[size] = '\0';
    return size;
}

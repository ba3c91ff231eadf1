#include "utf8.h"

static int in_range(unsigned char c, unsigned low, unsigned high) { return c >= low && c <= high; }

size_t dw_utf8_char(const char *text, size_t length)
{
    if (text == NULL || length == 0) return 0;
    const unsigned char *s = (const unsigned char *)text;
    if (s[0] < 0x80u) return 1;

    /* The second byte carries the rules against overlong forms, surrogates and too large values. */
    size_t need;
    unsigned low = 0x80u, high = 0xBFu;
    if (in_range(s[0], 0xC2u, 0xDFu)) {
        need = 2;
    } else if (in_range(s[0], 0xE0u, 0xEFu)) {
        need = 3;
        if (s[0] == 0xE0u) low = 0xA0u;
        if (s[0] == 0xEDu) high = 0x9Fu;
    } else if (in_range(s[0], 0xF0u, 0xF4u)) {
        need = 4;
        if (s[0] == 0xF0u) low = 0x90u;
        if (s[0] == 0xF4u) high = 0x8Fu;
    } else {
        return 0;
    }
    if (length < need || !in_range(s[1], low, high)) return 0;
    for (size_t i = 2; i < need; i++) {
        if (!in_range(s[i], 0x80u, 0xBFu)) return 0;
    }
    return need;
}

#include "format.h"

#include <limits.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

enum {
    NUMBER_SIZE = 512,    /* the longest double has 309 digits before the point */
    PRECISION_MAX = 100   /* behind the point; more digits than any double has  */
};

/* Where the text goes; length counts what did not fit too. */
typedef struct sink {
    char *out;
    size_t size, length;
} sink;

/* One conversion, such as %-8.3g. */
typedef struct conversion {
    bool left, noughts;
    int width, precision;   /* precision: -1 when there is none */
    char length;            /* 'l', 'L' for ll, 'z', 0          */
    char kind;
} conversion;

static void put(sink *s, const char *text, size_t count)
{
    if (s->length < s->size) {
        const size_t room = s->size - s->length;
        memcpy(s->out + s->length, text, count < room ? count : room);
    }
    s->length += count;
}

static void put_repeated(sink *s, char c, size_t count)
{
    for (; count > 0; --count) put(s, &c, 1);
}

static void put_padded(sink *s, const conversion *c, const char *text, size_t count, bool is_number)
{
    const size_t width = c->width > 0 ? (size_t)c->width : 0;
    const size_t pad = width > count ? width - count : 0;
    if (!c->left && c->noughts && is_number) {
        const size_t sign = count > 0 && text[0] == '-' ? 1 : 0;
        put(s, text, sign);
        put_repeated(s, '0', pad);
        put(s, text + sign, count - sign);
        return;
    }
    if (!c->left) put_repeated(s, ' ', pad);
    put(s, text, count);
    if (c->left) put_repeated(s, ' ', pad);
}

static bool is_of_a_number(char c)
{
    return (c >= '0' && c <= '9') || c == '-' || c == '+' || c == 'e' ||
           c == 'i' || c == 'n' || c == 'f' || c == 'a';
}

/* What the C library writes between the digits is the locale's decimal mark, of one byte or
 * several: all else in a number of its making is a letter, a digit or a sign. */
static size_t set_points(char *text)
{
    size_t used = 0;
    for (size_t i = 0; text[i] != '\0';) {
        if (is_of_a_number(text[i])) {
            text[used++] = text[i++];
            continue;
        }
        text[used++] = '.';
        while (text[i] != '\0' && !is_of_a_number(text[i])) ++i;
    }
    text[used] = '\0';
    return used;
}

static void put_real(sink *s, const conversion *c, double value)
{
    char text[NUMBER_SIZE];
    const int digits = c->precision < 0               ? 6
                       : c->precision > PRECISION_MAX ? PRECISION_MAX
                                                      : c->precision;
    switch (c->kind) {
    case 'e': (void)snprintf(text, sizeof text, "%.*e", digits, value); break;
    case 'f': (void)snprintf(text, sizeof text, "%.*f", digits, value); break;
    default: (void)snprintf(text, sizeof text, "%.*g", digits, value); break;
    }
    put_padded(s, c, text, set_points(text), true);
}

static void put_whole(sink *s, const conversion *c, bool negative, unsigned long long value)
{
    const char *digits = c->kind == 'X' ? "0123456789ABCDEF" : "0123456789abcdef";
    const unsigned base = c->kind == 'x' || c->kind == 'X' ? 16 : 10;
    char text[32];
    size_t at = sizeof text;
    do {
        text[--at] = digits[value % base];
        value /= base;
    } while (value > 0);
    if (negative) text[--at] = '-';
    put_padded(s, c, text + at, sizeof text - at, true);
}

static void put_string(sink *s, const conversion *c, const char *text)
{
    if (text == NULL) text = "(null)";
    size_t count = 0;
    while ((c->precision < 0 || count < (size_t)c->precision) && text[count] != '\0') ++count;
    put_padded(s, c, text, count, false);
}

static int read_digits(const char **p)
{
    int value = 0;
    for (; **p >= '0' && **p <= '9'; ++*p) {
        if (value < INT_MAX / 10 - 1) value = 10 * value + (**p - '0');
    }
    return value;
}

/* Reads from behind the % up to the kind, and leaves *p at the kind. The flags say which of width
 * and precision is a `*`, and so an argument. */
static void read_conversion(const char **p, conversion *c, bool *star_width, bool *star_precision)
{
    *c = (conversion){.precision = -1};
    for (; **p == '-' || **p == '0'; ++*p) {
        c->left = c->left || **p == '-';
        c->noughts = c->noughts || **p == '0';
    }
    *star_width = **p == '*';
    if (*star_width) {
        ++*p;
    } else {
        c->width = read_digits(p);
    }
    *star_precision = false;
    if (**p == '.') {
        ++*p;
        *star_precision = **p == '*';
        if (*star_precision) {
            ++*p;
        } else {
            c->precision = read_digits(p);
        }
    }
    if (**p == 'l' || **p == 'z') {
        c->length = **p;
        ++*p;
        if (c->length == 'l' && **p == 'l') {
            c->length = 'L';
            ++*p;
        }
    }
    c->kind = **p;
}

int dw_vprint(char *out, size_t size, const char *format, va_list args)
{
    sink s = {.out = out, .size = out != NULL ? size : 0};
    bool known = true;
    for (const char *p = format; *p != '\0' && known;) {
        if (*p != '%') {
            const size_t plain = strcspn(p, "%");
            put(&s, p, plain);
            p += plain;
            continue;
        }
        ++p;
        conversion c;
        bool star_width, star_precision;
        read_conversion(&p, &c, &star_width, &star_precision);
        if (star_width) {
            c.width = va_arg(args, int);
            c.left = c.left || c.width < 0;
            if (c.width < 0) c.width = -c.width;
        }
        if (star_precision) c.precision = va_arg(args, int);
        switch (c.kind) {
        case '%': put(&s, "%", 1); break;
        case 's': put_string(&s, &c, va_arg(args, const char *)); break;
        case 'c': {
            const char one = (char)va_arg(args, int);
            put_padded(&s, &c, &one, 1, false);
            break;
        }
        case 'd':
        case 'i': {
            const long long value = c.length == 'L'   ? va_arg(args, long long)
                                    : c.length == 'l' ? va_arg(args, long)
                                    : c.length == 'z' ? va_arg(args, ptrdiff_t)
                                                      : va_arg(args, int);
            put_whole(&s, &c, value < 0, value < 0 ? 0ULL - (unsigned long long)value
                                                   : (unsigned long long)value);
            break;
        }
        case 'u':
        case 'x':
        case 'X':
            put_whole(&s, &c, false,
                      c.length == 'L'   ? va_arg(args, unsigned long long)
                      : c.length == 'l' ? va_arg(args, unsigned long)
                      : c.length == 'z' ? va_arg(args, size_t)
                                        : va_arg(args, unsigned));
            break;
        case 'e':
        case 'f':
        case 'g': put_real(&s, &c, va_arg(args, double)); break;
        default: known = false; break;
        }
        if (known) ++p;
    }
    if (s.size > 0) s.out[s.length < s.size ? s.length : s.size - 1] = '\0';
    return known && s.length <= INT_MAX ? (int)s.length : -1;
}

int dw_print(char *out, size_t size, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    const int length = dw_vprint(out, size, format, args);
    va_end(args);
    return length;
}

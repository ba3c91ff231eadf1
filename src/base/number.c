#include "number.h"

#include <locale.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static size_t count_digits(const char *text, size_t from, size_t length)
{
    size_t i = from;
    while (i < length && text[i] >= '0' && text[i] <= '9')
        i++;
    return i - from;
}

/* Bytes of the number at the start of text; *point is where its decimal point stands, or the
 * length when it has none. */
static size_t measure(const char *text, size_t length, size_t *point)
{
    size_t i = 0;
    if (i < length && (text[i] == '+' || text[i] == '-')) i++;
    size_t digits = count_digits(text, i, length);
    i += digits;
    *point = length;
    if (i < length && text[i] == '.') {
        const size_t behind = count_digits(text, i + 1, length);
        *point = i;
        digits += behind;
        i += 1 + behind;
    }
    if (digits == 0) return 0;
    if (i < length && (text[i] == 'e' || text[i] == 'E')) {
        size_t k = i + 1;
        if (k < length && (text[k] == '+' || text[k] == '-')) k++;
        const size_t exponent = count_digits(text, k, length);
        if (exponent > 0) i = k + exponent;
    }
    return i;
}

size_t dw_number_read(const char *text, size_t length, double *value)
{
    *value = NAN;
    if (text == NULL) return 0;
    size_t point;
    const size_t size = measure(text, length, &point);
    if (size == 0 || size > DW_NUMBER_LENGTH_MAX) return 0;

    /* strtod() wants the decimal mark of whatever locale the calling program has set. */
    const char *mark = localeconv()->decimal_point;
    if (mark == NULL || mark[0] == '\0') mark = ".";
    const size_t mark_length = strlen(mark);
    char spelling[DW_NUMBER_LENGTH_MAX + 32];
    if (mark_length > 16) return 0;
    if (point < size) {
        memcpy(spelling, text, point);
        memcpy(spelling + point, mark, mark_length);
        memcpy(spelling + point + mark_length, text + point + 1, size - point - 1);
        spelling[size - 1 + mark_length] = '\0';
    } else {
        memcpy(spelling, text, size);
        spelling[size] = '\0';
    }
    *value = strtod(spelling, NULL);
    return size;
}

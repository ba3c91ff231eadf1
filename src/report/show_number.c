#include "show_number.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "format.h"
#include "visible.h"

enum { DIGITS_MAX = 12, DECIMALS_MAX = 12, LEAST_EXPONENT = -4, MOST_EXPONENT = 15 };

/* Below these a person takes the smaller unit: bores rather than chambers, drafts rather than
 * supplies, and for US readers gas pressures that a water gauge shows. */
static const double BORE_M = 0.3, DRAFT_PA = 500.0, WATER_GAUGE_PA = 7000.0;

/* Value in a unit of the one table of units. */
static double in_unit(double si, dw_dim dim, const char *spelling, const char **unit)
{
    const char *row_unit = "";
    dw_dim row_dim = dim;
    double factor = 1.0, offset = 0.0;
    for (size_t i = 0; dw_unit_row(i, &row_unit, &row_dim, &factor, &offset); ++i) {
        if (row_dim == dim && strcmp(row_unit, spelling) == 0) {
            *unit = row_unit;
            return si / factor;
        }
    }
    return dw_quantity_display(si, dim, DW_UNITS_METRIC, unit);
}

static bool is_low_pressure(const dw_number *number, dw_unit_system system)
{
    if (number->small) return true;
    const double limit = system == DW_UNITS_US ? WATER_GAUGE_PA : DRAFT_PA;
    return number->by_size && fabs(number->si) < limit;
}

/* What a person typed is shown as typed, but for readers who ask for US units and did not type one. */
static bool keeps_typed(const dw_number *number, dw_unit_system system)
{
    if (number->typed == NULL) return false;
    return system == DW_UNITS_METRIC || number->typed[0] == '\0' || dw_unit_is_us(number->typed);
}

/* si may be another number than the one whose size chooses the unit. */
static double display(const dw_number *number, double si, dw_unit_system system, const char **unit)
{
    if (keeps_typed(number, system)) {
        *unit = number->typed[0] == '\0' && number->unit != NULL ? number->unit : number->typed;
        return dw_quantity_in(si, number->dim, number->typed);
    }
    switch (number->dim) {
    case DW_DIM_RATIO:
    case DW_DIM_SHARE: *unit = "%"; return 100.0 * si;
    case DW_DIM_NUMBER:
        *unit = number->unit != NULL ? number->unit : "";
        return si;
    case DW_DIM_PRESSURE_GAUGE:
        return dw_pressure_display(si, is_low_pressure(number, system), system, unit);
    case DW_DIM_LENGTH:
        if (number->by_size && fabs(number->si) < BORE_M) {
            return in_unit(si, DW_DIM_LENGTH, system == DW_UNITS_US ? "in" : "mm", unit);
        }
        return dw_quantity_display(si, number->dim, system, unit);
    case DW_DIM_VOLUME_FLOW:
        if (number->small && system == DW_UNITS_METRIC) {
            return in_unit(si, number->dim, "L/min", unit);
        }
        return dw_quantity_display(si, number->dim, system, unit);
    default:
        return dw_quantity_display(si, number->dim, system, unit);
    }
}

/* A difference is written "18 degF_diff" in a description, where it must not be taken for a temperature. */
const char *dw_show_unit(const char *unit)
{
    return strcmp(unit, "degF_diff") == 0 ? "degrees F" : unit;
}

double dw_show_value(const dw_number *number, dw_unit_system system, const char **unit)
{
    return display(number, number->si, system, unit);
}

/* 12.50 -> 12.5, 3.000 -> 3; exponents are left alone. */
static void trim_noughts(char *text)
{
    if (strchr(text, '.') == NULL || strchr(text, 'e') != NULL) return;
    size_t length = strlen(text);
    while (text[length - 1] == '0') --length;
    if (text[length - 1] == '.') --length;
    text[length] = '\0';
}

/* Decimal exponent of |v| after rounding to so many significant digits: 9.996 to 3 is 1. */
static int rounded_exponent(double v, int digits)
{
    char text[48];
    (void)dw_print(text, sizeof text, "%.*e", digits - 1, fabs(v));
    const char *e = strchr(text, 'e');
    return e == NULL ? 0 : (int)strtol(e + 1, NULL, 10);
}

/* Nobody reads powers of ten on a screen: what is too small to matter is said to be so, unless a person gave it. */
static void put_scaled(const dw_number *number, double v, int digits, int decimals_max,
                       char out[DW_SHOWN_SIZE])
{
    const bool given = number->trim;
    const int exponent = rounded_exponent(v, digits);
    const bool fine_limit = decimals_max <= DECIMALS_MAX;
    if (exponent < LEAST_EXPONENT && !fine_limit && !given) {
        (void)dw_print(out, DW_SHOWN_SIZE, "<%.*f", -LEAST_EXPONENT, pow(10.0, LEAST_EXPONENT));
        return;
    }
    if (exponent >= MOST_EXPONENT || (exponent < -DECIMALS_MAX && !fine_limit)) {
        (void)dw_print(out, DW_SHOWN_SIZE, "%.*e", digits - 1, v);
        return;
    }
    int decimals = digits - 1 - exponent;
    if (decimals > decimals_max) decimals = decimals_max;
    if (decimals < 0 && given) decimals = 0;
    if (decimals < 0) {
        /* 1234 to two digits is 1200. */
        const double step = pow(10.0, -decimals);
        v = round(v / step) * step;
        decimals = 0;
    }
    (void)dw_print(out, DW_SHOWN_SIZE, "%.*f", decimals, v);
    const size_t sign = out[0] == '-';
    if (strspn(out + sign, "0.") != strlen(out + sign)) return;
    if (number->trace) {
        (void)dw_print(out, DW_SHOWN_SIZE, "<%.*f", decimals, pow(10.0, -decimals));
    } else if (sign > 0) {
        /* "-0.00" says less than "0.00". */
        memmove(out, out + 1, strlen(out));
    }
}

void dw_show_bare(const dw_number *number, dw_unit_system system, char out[DW_SHOWN_SIZE])
{
    const char *unit = "";
    const double v = display(number, number->si, system, &unit);
    if (!isfinite(v)) {
        (void)snprintf(out, DW_SHOWN_SIZE, "-");
        return;
    }
    int digits = number->digits;
    if (digits < 1) digits = 1;
    if (digits > DIGITS_MAX) digits = DIGITS_MAX;

    int decimals_max = DECIMALS_MAX + 1;
    if (number->resolution_si > 0.0) {
        const char *ignored = "";
        const double step = fabs(display(number, number->resolution_si, system, &ignored) -
                                 display(number, 0.0, system, &ignored));
        const double decimals = round(-log10(step));
        decimals_max = decimals < 0.0 ? 0 : decimals > DECIMALS_MAX ? DECIMALS_MAX : (int)decimals;
    }
    if (v == 0.0) {
        /* A column of fixed decimals has them in its noughts too. */
        const bool fixed = decimals_max <= DECIMALS_MAX && digits == DIGITS_MAX;
        (void)dw_print(out, DW_SHOWN_SIZE, "%.*f", fixed ? decimals_max : 0, 0.0);
    } else {
        put_scaled(number, v, digits, decimals_max, out);
    }
    if (number->trim) trim_noughts(out);
}

void dw_show_number(const dw_number *number, dw_unit_system system, char out[DW_SHOWN_SIZE])
{
    dw_show_bare(number, system, out);
    const char *unit = "";
    const double v = display(number, number->si, system, &unit);
    if (!isfinite(v) || unit == NULL || unit[0] == '\0') return;
    const size_t length = strlen(out);
    (void)snprintf(out + length, DW_SHOWN_SIZE - length, "%c%s", DW_GLUE, dw_show_unit(unit));
    for (char *p = out; *p != '\0'; ++p) {
        if (*p == ' ') *p = DW_GLUE;
    }
}

size_t dw_show_char(const char *text, size_t *width)
{
    const unsigned char c = (unsigned char)text[0];
    *width = 1;
    /* Most texts are ASCII and need no second look. */
    if (text[0] == DW_GLUE || (c >= 0x20U && c < 0x7FU)) return 1;
    char piece[DW_VISIBLE_SIZE];
    size_t length = 1;
    while (length < 4 && text[length] != '\0') ++length;   /* no character is longer */
    const size_t used = dw_visible(text, length, piece);
    /* An escape is several characters of one byte. */
    if (piece[0] == '\\') *width = strlen(piece);
    return used;
}

size_t dw_show_width(const char *text)
{
    size_t width = 0, own = 0;
    for (const char *p = text; *p != '\0'; width += own) p += dw_show_char(p, &own);
    return width;
}

#include "vary_range.h"

#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "format.h"

enum { NUMBER_SIZE = 64, PART_MAX = 1000, QUOTED_MAX = 60 };

/* Steps by which an end may be missed and still count as met: sums of binary fractions. */
static const double MEET = 1.0e-9;

/** One number as written: its digits and its unit, both inside the range text. */
typedef struct written {
    const char *number;
    size_t number_length;
    const char *unit;       /* borrowed from a later number when it has none of its own */
    size_t unit_length;
} written;

/** A list item (only first) or a range. */
typedef struct part {
    written first, last, step;
    bool is_range;
} part;

typedef struct parser {
    dw_dim dim;
    double low, high;
    char *message;
} parser;

static dw_status fail(const parser *p, const char *format, ...) DW_PRINTF(2, 3);

static dw_status fail(const parser *p, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    (void)dw_vprint(p->message, DW_VARY_MESSAGE_SIZE, format, args);
    va_end(args);
    return DW_ERR_INPUT;
}

/* For "%.*s": no more of the user's text than reads well. */
static int quoted(size_t length)
{
    return (int)(length < QUOTED_MAX ? length : QUOTED_MAX);
}

static bool is_space(char c)
{
    return c == ' ' || c == '\t';
}

static void trim(const char **text, size_t *length)
{
    while (*length > 0 && is_space(**text)) {
        ++*text;
        --*length;
    }
    while (*length > 0 && is_space((*text)[*length - 1])) --*length;
}

/* Splits "12.5 kPa" where the number ends: at the first letter or sign that is not part of an
 * exponent. What is wrong with the pieces is left to dw_quantity_from_text(). */
static written split_number(const char *text, size_t length)
{
    trim(&text, &length);
    size_t i = 0;
    while (i < length && (strchr("+-.0123456789/ \t", text[i]) != NULL ||
                          ((text[i] == 'e' || text[i] == 'E') && i > 0 && i + 1 < length &&
                           strchr("+-0123456789", text[i + 1]) != NULL))) {
        ++i;
    }
    written w = {.number = text, .number_length = i, .unit = text + i, .unit_length = length - i};
    trim(&w.number, &w.number_length);
    return w;
}

static const char *find(const char *text, size_t length, const char *mark)
{
    const size_t own = strlen(mark);
    for (size_t i = 0; i + own <= length; ++i) {
        if (memcmp(text + i, mark, own) == 0) return text + i;
    }
    return NULL;
}

static dw_status split_part(const parser *p, const char *text, size_t length, part *out)
{
    *out = (part){.is_range = false};
    trim(&text, &length);
    if (length == 0) {
        return fail(p, "a value is empty; allowed: a number or FROM..TO:STEP");
    }
    const char *dots = find(text, length, "..");
    if (dots == NULL) {
        if (memchr(text, ':', length) != NULL) {
            return fail(p, "'%.*s' has a step but no range; allowed: FROM..TO:STEP, such as "
                           "0 %%..100 %%:5 %%", quoted(length), text);
        }
        out->first = split_number(text, length);
        return DW_OK;
    }
    if (dots + 2 < text + length && dots[2] == '.') {
        return fail(p, "'%.*s' has three dots; allowed: two between the ends, with a space or a "
                       "nought before a decimal point", quoted(length), text);
    }
    const char *rest = dots + 2;
    const size_t rest_length = length - (size_t)(rest - text);
    const char *colon = find(rest, rest_length, ":");
    if (colon == NULL) {
        return fail(p, "'%.*s' lacks a step; allowed: FROM..TO:STEP, such as 0 %%..100 %%:5 %%",
                    quoted(length), text);
    }
    out->is_range = true;
    out->first = split_number(text, (size_t)(dots - text));
    out->last = split_number(rest, (size_t)(colon - rest));
    out->step = split_number(colon + 1, length - (size_t)(colon + 1 - text));
    return DW_OK;
}

/* Units flow from right to left. */
static void lend_unit(written *to, const written *from)
{
    if (to->unit_length > 0) return;
    to->unit = from->unit;
    to->unit_length = from->unit_length;
}

static void lend_units(part *parts, size_t count)
{
    const written *next = NULL;
    for (size_t i = count; i > 0; --i) {
        part *it = &parts[i - 1];
        if (it->is_range) {
            if (next != NULL) lend_unit(&it->step, next);
            lend_unit(&it->last, &it->step);
            lend_unit(&it->first, &it->last);
        } else if (next != NULL) {
            lend_unit(&it->first, next);
        }
        next = &it->first;
    }
}

static dw_status number_to_si(const parser *p, const char *digits, size_t length,
                              const written *unit_of, double *si)
{
    char text[NUMBER_SIZE], why[DW_QUANTITY_MESSAGE_SIZE];
    const int need = snprintf(text, sizeof text, "%.*s %.*s", (int)length, digits,
                              (int)unit_of->unit_length, unit_of->unit);
    if (length == 0) {
        return fail(p, "a number is missing; allowed: FROM..TO:STEP or a list, such as "
                       "0 %%..100 %%:5 %% or 20 %%, 40 %%");
    }
    if (need < 0 || (size_t)need >= sizeof text) {
        return fail(p, "'%.*s' is too long for a number", quoted(length), digits);
    }
    const dw_status status = dw_quantity_from_text(text, strlen(text), p->dim, si, why);
    if (status == DW_ERR_INPUT) return fail(p, "%s", why);
    return status;
}

static dw_status limits(const parser *p, const written *w, double si)
{
    if (si >= p->low && si <= p->high) return DW_OK;
    const char *unit = "";
    double low, high;
    if (p->dim == DW_DIM_RATIO) {
        unit = "%";
        low = 100.0 * p->low;
        high = 100.0 * p->high;
    } else if (p->dim == DW_DIM_PRESSURE_GAUGE) {
        low = dw_pressure_display(p->low, 0, DW_UNITS_METRIC, &unit);
        high = dw_pressure_display(p->high, 0, DW_UNITS_METRIC, &unit);
    } else {
        low = dw_quantity_display(p->low, p->dim, DW_UNITS_METRIC, &unit);
        high = dw_quantity_display(p->high, p->dim, DW_UNITS_METRIC, &unit);
    }
    return fail(p, "%.*s%s%.*s is outside the allowed %.6g to %.6g%s%s", quoted(w->number_length),
                w->number, w->unit_length > 0 ? " " : "", quoted(w->unit_length), w->unit, low,
                high, unit[0] != '\0' ? " " : "", unit);
}

static dw_status value_of(const parser *p, const written *w, double *si)
{
    const dw_status status = number_to_si(p, w->number, w->number_length, w, si);
    return status != DW_OK ? status : limits(p, w, *si);
}

/* A step is the difference between two readings of its scale, so that degC and degF work. */
static dw_status step_of(const parser *p, const written *w, double *step)
{
    double zero = NAN;
    dw_status status = number_to_si(p, w->number, w->number_length, w, step);
    if (status == DW_OK) status = number_to_si(p, "0", 1, w, &zero);
    if (status != DW_OK) return status;
    *step -= zero;
    if (!(*step > 0.0)) {
        return fail(p, "the step %.*s is not above zero", quoted(w->number_length), w->number);
    }
    return DW_OK;
}

typedef struct span {
    double first, last, step;  /* step signed; 0 for a single value */
    size_t count;
} span;

static dw_status measure(const parser *p, const part *it, span *out)
{
    *out = (span){.count = 1};
    dw_status status = value_of(p, &it->first, &out->first);
    if (status != DW_OK || !it->is_range) return status;
    double step = NAN;
    status = value_of(p, &it->last, &out->last);
    if (status == DW_OK) status = step_of(p, &it->step, &step);
    if (status != DW_OK) return status;
    const double steps = fabs(out->last - out->first) / step;
    if (!(steps < DW_VARY_POINT_MAX)) {
        return fail(p, "makes more than %d points; allowed: at most so many, take a larger step",
                    DW_VARY_POINT_MAX);
    }
    out->count = (size_t)floor(steps + MEET) + 1;
    out->step = out->last < out->first ? -step : step;
    /* The steps meet the end: make it exact. Otherwise the last value is short of it. */
    if (fabs(steps - round(steps)) > MEET) {
        out->last = out->first + out->step * (double)(out->count - 1);
    }
    return DW_OK;
}

static dw_status fill(const parser *p, const part *parts, size_t count, double **values,
                      size_t *total)
{
    span *spans = calloc(count, sizeof *spans);
    if (spans == NULL) return DW_ERR_NOMEM;
    size_t sum = 0;
    dw_status status = DW_OK;
    for (size_t i = 0; i < count && status == DW_OK; ++i) {
        status = measure(p, &parts[i], &spans[i]);
        sum += spans[i].count;
    }
    if (status == DW_OK && sum > DW_VARY_POINT_MAX) {
        status = fail(p, "makes %zu points; allowed: at most %d", sum, DW_VARY_POINT_MAX);
    }
    double *v = status == DW_OK ? malloc(sum * sizeof *v) : NULL;
    if (status == DW_OK && v == NULL) status = DW_ERR_NOMEM;
    if (status == DW_OK) {
        size_t n = 0;
        for (size_t i = 0; i < count; ++i) {
            for (size_t k = 0; k + 1 < spans[i].count; ++k) {
                v[n++] = spans[i].first + spans[i].step * (double)k;
            }
            v[n++] = spans[i].count > 1 ? spans[i].last : spans[i].first;
        }
        *values = v;
        *total = n;
    }
    free(spans);
    return status;
}

dw_status dw_vary_range_parse(const char *text, dw_dim dim, double low, double high,
                              double **values, size_t *count, char message[DW_VARY_MESSAGE_SIZE])
{
    if (values != NULL) *values = NULL;
    if (count != NULL) *count = 0;
    if (message != NULL) message[0] = '\0';
    if (text == NULL || values == NULL || count == NULL || message == NULL) return DW_ERR_ARG;

    const parser p = {.dim = dim, .low = low, .high = high, .message = message};
    part *parts = calloc(PART_MAX, sizeof *parts);
    if (parts == NULL) return DW_ERR_NOMEM;
    size_t n = 0;
    dw_status status = DW_OK;
    for (const char *at = text;;) {
        const size_t length = strcspn(at, ",");
        if (n == PART_MAX) {
            status = fail(&p, "has more than %d values in its list; allowed: at most so many",
                          PART_MAX);
        } else {
            status = split_part(&p, at, length, &parts[n++]);
        }
        if (status != DW_OK || at[length] == '\0') break;
        at += length + 1;
    }
    if (status == DW_OK) {
        lend_units(parts, n);
        status = fill(&p, parts, n, values, count);
    }
    free(parts);
    return status;
}

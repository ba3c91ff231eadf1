#include "vary_range.h"

#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "format.h"
#include "number.h"

enum { NUMBER_SIZE = 64, PART_MAX = 1000, QUOTED_MAX = 60, OWN_MAX = 24 };

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

static bool is_digit(char c) { return c >= '0' && c <= '9'; }

/* Two numbers with something between them that people write for "to": `20-60 %`, `20 to 60 %`. */
typedef struct two_ends {
    const char *first, *last;
    size_t first_length, last_length; /* the second with its unit and what follows */
} two_ends;

static bool looks_like_a_range(const char *text, size_t length, two_ends *ends)
{
    static const char *const marks[] = {"-", "\xE2\x80\x93", "to", "..."};
    for (size_t k = 0; k < sizeof marks / sizeof marks[0]; ++k) {
        const char *mark = length > 1 ? find(text + 1, length - 1, marks[k]) : NULL;
        /* `1e-5` is a number. */
        if (mark == NULL || ((mark[-1] == 'e' || mark[-1] == 'E') && mark[0] == '-')) continue;
        ends->first = text;
        ends->first_length = (size_t)(mark - text);
        ends->last = mark + strlen(marks[k]);
        ends->last_length = length - (size_t)(ends->last - text);
        trim(&ends->first, &ends->first_length);
        trim(&ends->last, &ends->last_length);
        if (ends->first_length > 0 && ends->first_length <= OWN_MAX && ends->last_length > 0 &&
            ends->last_length <= OWN_MAX && is_digit(ends->first[0]) && is_digit(ends->last[0])) {
            return true;
        }
    }
    return false;
}

static dw_status refuse_list_item(const parser *p, const char *text, size_t length)
{
    two_ends ends;
    if (memchr(text, ':', length) != NULL) {
        return fail(p,
                    "'%.*s' has a step but no range, expected FROM..TO:STEP, such as "
                    "0 %%..100 %%:5 %%",
                    quoted(length), text);
    }
    if (!looks_like_a_range(text, length, &ends)) return DW_OK;
    const bool bare = strspn(ends.last, ".0123456789") >= ends.last_length;
    return fail(p, "'%.*s' is not a range; write two dots and a step: %.*s..%.*s:%s",
                quoted(length), text, (int)ends.first_length, ends.first, (int)ends.last_length,
                ends.last, p->dim == DW_DIM_SHARE ? bare ? "5 %" : "5%" : "STEP");
}

static dw_status split_part(const parser *p, const char *text, size_t length, part *out)
{
    *out = (part){.is_range = false};
    trim(&text, &length);
    if (length == 0) {
        return fail(p, "a value is empty, expected a number or FROM..TO:STEP");
    }
    const char *dots = find(text, length, "..");
    if (dots == NULL) {
        const dw_status status = refuse_list_item(p, text, length);
        if (status == DW_OK) out->first = split_number(text, length);
        return status;
    }
    if (dots + 2 < text + length && dots[2] == '.') {
        return fail(p,
                    "'%.*s' has three dots, expected two between the ends, with a space or a 0 "
                    "before a decimal point",
                    quoted(length), text);
    }
    const char *rest = dots + 2;
    const size_t rest_length = length - (size_t)(rest - text);
    const char *colon = find(rest, rest_length, ":");
    if (colon == NULL) {
        return fail(p, "'%.*s' has no step; write how far to go each time: %.*s:%s", quoted(length),
                    text, quoted(length), text, p->dim == DW_DIM_SHARE ? "5 %" : "STEP");
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
        return fail(p, "a number is missing, expected FROM..TO:STEP or a list, such as "
                       "0 %%..100 %%:5 %% or 20 %%, 40 %%");
    }
    if (need < 0 || (size_t)need >= sizeof text) {
        return fail(p, "'%.*s' is too long for a number", quoted(length), digits);
    }
    const dw_status status = dw_quantity_from_text(text, strlen(text), p->dim, si, why);
    if (status == DW_ERR_INPUT) return fail(p, "%s", why);
    return status;
}

/* Limits in the unit that was typed. */
static dw_status limits(const parser *p, const written *w, const char *unit, double si)
{
    if (si >= p->low && si <= p->high) return DW_OK;
    return fail(p, "%.*s%s%.*s is out of range, expected %.6g to %.6g%s%s",
                quoted(w->number_length), w->number, w->unit_length > 0 ? " " : "",
                quoted(w->unit_length), w->unit, dw_quantity_in(p->low, p->dim, unit),
                dw_quantity_in(p->high, p->dim, unit), unit[0] != '\0' ? " " : "", unit);
}

/* A plus sign before what cannot be negative is a change in disguise. */
static dw_status refuse_plus(const parser *p, const written *w)
{
    if (w->number_length < 2 || w->number[0] != '+' || !(p->low >= 0.0)) return DW_OK;
    return fail(p,
                "'%.*s%s%.*s' begins with a plus sign; a change cannot be given, write the "
                "value itself: %.*s%s%.*s",
                quoted(w->number_length), w->number, w->unit_length > 0 ? " " : "",
                quoted(w->unit_length), w->unit, quoted(w->number_length - 1), w->number + 1,
                w->unit_length > 0 ? " " : "", quoted(w->unit_length), w->unit);
}

/* The table's spelling of the unit of a number that was read. */
static const char *unit_of(const parser *p, const written *w)
{
    char text[NUMBER_SIZE];
    (void)snprintf(text, sizeof text, "%.*s %.*s", (int)w->number_length, w->number,
                   (int)w->unit_length, w->unit);
    const char *unit = dw_quantity_unit(text, strlen(text), p->dim);
    return unit != NULL ? unit : dw_dim_si_unit(p->dim);
}

static dw_status value_of(const parser *p, const written *w, double *si)
{
    dw_status status = refuse_plus(p, w);
    if (status == DW_OK) status = number_to_si(p, w->number, w->number_length, w, si);
    return status != DW_OK ? status : limits(p, w, unit_of(p, w), *si);
}

/* A step is the difference between two readings of its scale, so that degC and degF work. */
static dw_status step_of(const parser *p, const written *w, double *step)
{
    double zero = NAN;
    dw_status status = refuse_plus(p, w);
    if (status == DW_OK) status = number_to_si(p, w->number, w->number_length, w, step);
    if (status == DW_OK) status = number_to_si(p, "0", 1, w, &zero);
    if (status != DW_OK) return status;
    *step -= zero;
    if (!(*step > 0.0)) {
        return fail(p, "the step %.*s is not more than 0", quoted(w->number_length), w->number);
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
        return fail(p, "makes more than %d points, which is the most; take a larger step",
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
        status = fail(p, "makes %zu points, expected at most %d", sum, DW_VARY_POINT_MAX);
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

/* A number without its sign, as the user wrote it or a hundred times that. */
static void put_percent(char *out, size_t size, const written *w, bool hundredfold)
{
    double value = NAN;
    if (hundredfold && dw_number_read(w->number, w->number_length, &value) == w->number_length) {
        (void)dw_print(out, size, "%.10g", 100.0 * value);
    } else {
        (void)snprintf(out, size, "%.*s", quoted(w->number_length), w->number);
    }
}

static bool is_fraction(const written *w)
{
    double value = NAN;
    return dw_number_read(w->number, w->number_length, &value) == w->number_length &&
           value >= 0.0 && value <= 1.0;
}

/* A range of shares without any per cent sign: shows the same range with one. */
static dw_status refuse_bare_range(const parser *p, const char *text, const part *parts, size_t n)
{
    const part *it = &parts[0];
    if (p->dim != DW_DIM_SHARE || n != 1 || !it->is_range || it->step.unit_length > 0 ||
        it->first.number_length == 0 || it->last.number_length == 0 ||
        it->step.number_length == 0) {
        return DW_OK;
    }
    const bool fractions =
        is_fraction(&it->first) && is_fraction(&it->last) && is_fraction(&it->step);
    char first[NUMBER_SIZE], last[NUMBER_SIZE], step[NUMBER_SIZE];
    put_percent(first, sizeof first, &it->first, fractions);
    put_percent(last, sizeof last, &it->last, fractions);
    put_percent(step, sizeof step, &it->step, fractions);
    return fail(p, "'%.*s' has no unit: write %s..%s:%s %%", quoted(strlen(text)), text, first,
                last, step);
}

/* A comma between digits beside two dots may be a decimal mark: `0,2..0,6:0,1`. */
static bool has_decimal_comma(const char *text)
{
    if (strstr(text, "..") == NULL) return false;
    for (const char *c = strchr(text, ','); c != NULL; c = strchr(c + 1, ',')) {
        if (c > text && is_digit(c[-1]) && is_digit(c[1])) return true;
    }
    return false;
}

static dw_status split_all(const parser *p, const char *text, part *parts, size_t *count)
{
    dw_status status = DW_OK;
    *count = 0;
    for (const char *at = text;;) {
        const size_t length = strcspn(at, ",");
        if (*count == PART_MAX) {
            return fail(p, "has more than %d values in its list, which is the most", PART_MAX);
        }
        status = split_part(p, at, length, &parts[(*count)++]);
        if (status != DW_OK || at[length] == '\0') break;
        at += length + 1;
    }
    if (status == DW_ERR_INPUT && has_decimal_comma(text)) {
        return fail(p,
                    "'%.*s' has a comma, which parts the values of a list; the decimal mark is a "
                    "point",
                    quoted(strlen(text)), text);
    }
    if (status == DW_OK) lend_units(parts, *count);
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
    dw_status status = split_all(&p, text, parts, &n);
    if (status == DW_OK) status = refuse_bare_range(&p, text, parts, n);
    if (status == DW_OK) status = fill(&p, parts, n, values, count);
    free(parts);
    return status;
}

const char *dw_vary_range_unit(const char *text, dw_dim dim)
{
    char message[DW_VARY_MESSAGE_SIZE];
    const parser p = {.dim = dim, .message = message};
    part *parts = text != NULL ? calloc(PART_MAX, sizeof *parts) : NULL;
    if (parts == NULL) return NULL;
    size_t n = 0;
    const char *unit = NULL;
    if (split_all(&p, text, parts, &n) == DW_OK) unit = unit_of(&p, &parts[0].first);
    free(parts);
    return unit;
}

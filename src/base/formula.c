#include "formula.h"

#include <math.h>
#include <string.h>

#include "beta_share.h"
#include "number.h"

enum { DEPTH_MAX = 40 };

typedef struct parser {
    const char *p;
    dw_formula_lookup lookup;
    void *user;
    size_t row;
    size_t rows;     /* of the columns seen so far; 0: none */
    int depth;
    bool failed;
} parser;

static double expression(parser *s);

static bool is_name(char c)
{
    return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_';
}

static bool begins_name(char c)
{
    return is_name(c) && !(c >= '0' && c <= '9');
}

static void skip(parser *s)
{
    while (*s->p == ' ') s->p++;
}

static double fail(parser *s)
{
    s->failed = true;
    return NAN;
}

static bool take(parser *s, char c)
{
    skip(s);
    if (*s->p != c) return false;
    s->p++;
    return true;
}

static bool is_word(const char *name, size_t length, const char *word)
{
    return strlen(word) == length && memcmp(name, word, length) == 0;
}

static double add(double a, double b)
{
    return a + b;
}

/* The argument of sum() or largest() once for each row. */
static double over_rows(parser *s, double (*of)(double, double))
{
    const char *const begin = s->p;
    const size_t row = s->row, rows_before = s->rows;
    s->rows = 0;
    s->row = 0;
    double all = expression(s);
    const size_t rows = s->rows;
    if (s->failed || rows == 0) return fail(s);
    for (size_t i = 1; i < rows; i++) {
        s->p = begin;
        s->row = i;
        all = of(all, expression(s));
        if (s->failed) return NAN;
    }
    s->row = row;
    s->rows = rows_before;
    return all;
}

static double two(parser *s, double (*of)(double, double))
{
    const double a = expression(s);
    if (!take(s, ',')) return fail(s);
    return of(a, expression(s));
}

static double three(parser *s, double (*of)(double, double, double))
{
    const double a = expression(s);
    if (!take(s, ',')) return fail(s);
    const double b = expression(s);
    if (!take(s, ',')) return fail(s);
    return of(a, b, expression(s));
}

static double function(parser *s, const char *name, size_t length)
{
    static const struct {
        const char *name;
        double (*of)(double);
    } one[] = {{"sqrt", sqrt}, {"exp", exp}, {"ln", log},   {"log10", log10},
               {"sin", sin},   {"asin", asin}, {"abs", fabs}};
    if (++s->depth > DEPTH_MAX) return fail(s);
    double value = NAN;
    bool known = true;
    if (is_word(name, length, "sum")) {
        value = over_rows(s, add);
    } else if (is_word(name, length, "largest")) {
        value = over_rows(s, fmax);
    } else if (is_word(name, length, "betainc")) {
        value = three(s, dw_beta_share);
    } else if (is_word(name, length, "max")) {
        value = two(s, fmax);
    } else if (is_word(name, length, "min")) {
        value = two(s, fmin);
    } else {
        known = false;
        for (size_t i = 0; i < sizeof one / sizeof one[0] && !known; i++) {
            if (!is_word(name, length, one[i].name)) continue;
            value = one[i].of(expression(s));
            known = true;
        }
    }
    s->depth--;
    if (!known || !take(s, ')')) return fail(s);
    return value;
}

static double named(parser *s)
{
    const char *name = s->p;
    while (is_name(*s->p)) s->p++;
    const size_t length = (size_t)(s->p - name);
    if (take(s, '(')) return function(s, name, length);
    if (is_word(name, length, "pi")) return 3.14159265358979323846;
    dw_formula_value value;
    if (!s->lookup(s->user, name, length, &value)) return fail(s);
    if (value.count == 0) return value.number[0];
    if (s->rows == 0) s->rows = value.count;
    if (value.count != s->rows || s->row == DW_FORMULA_NO_ROW || s->row >= value.count) {
        return fail(s);
    }
    return value.number[s->row];
}

static double number(parser *s)
{
    double value = NAN;
    if (*s->p == '+') return fail(s);
    const size_t length = dw_number_read(s->p, strlen(s->p), &value);
    if (length == 0) return fail(s);
    s->p += length;
    return value;
}

static double primary(parser *s)
{
    skip(s);
    if (take(s, '(')) {
        if (++s->depth > DEPTH_MAX) return fail(s);
        const double value = expression(s);
        s->depth--;
        return take(s, ')') ? value : fail(s);
    }
    if (begins_name(*s->p)) return named(s);
    return number(s);
}

static double signed_power(parser *s)
{
    if (++s->depth > DEPTH_MAX) return fail(s);
    double value;
    if (take(s, '-')) {
        value = -signed_power(s);
    } else {
        value = primary(s);
        if (!s->failed && take(s, '^')) value = pow(value, signed_power(s));
    }
    s->depth--;
    return value;
}

static double product(parser *s)
{
    double value = signed_power(s);
    while (!s->failed) {
        if (take(s, '*')) {
            value *= signed_power(s);
        } else if (take(s, '/')) {
            value /= signed_power(s);
        } else {
            break;
        }
    }
    return value;
}

static double expression(parser *s)
{
    double value = product(s);
    while (!s->failed) {
        if (take(s, '+')) {
            value += product(s);
        } else if (take(s, '-')) {
            value -= product(s);
        } else {
            break;
        }
    }
    return value;
}

dw_status dw_formula_evaluate(const char *text, dw_formula_lookup lookup, void *user, size_t row,
                              double *result)
{
    if (result == NULL) return DW_ERR_ARG;
    *result = NAN;
    if (text == NULL || lookup == NULL) return DW_ERR_ARG;
    parser s = {.p = text, .lookup = lookup, .user = user, .row = row};
    const double value = expression(&s);
    skip(&s);
    if (s.failed || (*s.p != '\0' && *s.p != '=')) return DW_ERR_INPUT;
    *result = value;
    return DW_OK;
}

void dw_formula_names(const char *text, dw_formula_take take_name, void *user)
{
    const char *p = text;
    while (*p != '\0') {
        if (!is_name(*p)) {
            p++;
            continue;
        }
        const char *name = p;
        const bool is_number = !begins_name(*p);
        while (is_name(*p) || (is_number && *p == '.')) p++;
        /* The exponent of 1.2e-6 is no name, nor is its sign an end. */
        if (is_number) {
            if (p[-1] == 'e' && (*p == '-' || *p == '+')) p++;
            while (is_name(*p)) p++;
            continue;
        }
        const size_t length = (size_t)(p - name);
        if (*p == '(' || is_word(name, length, "pi")) continue;
        take_name(user, name, length);
    }
}

const char *dw_formula_right(const char *text)
{
    const char *equals = strchr(text, '=');
    return equals == NULL ? NULL : equals + 1;
}

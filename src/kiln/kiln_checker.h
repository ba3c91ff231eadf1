#ifndef DW_KILN_CHECKER_H
#define DW_KILN_CHECKER_H

/**
 * @file kiln_checker.h
 * What the parts of dw_kiln_check() share: the object being looked at, the first fault, and the plain
 * limits of a number. A check returns false after a fault.
 *
 * Layer: kiln. Not for others.
 */

#include <math.h>
#include <stdarg.h>
#include <stdio.h>

#include "format.h"
#include "kiln.h"
#include "key_path.h"
#include "units.h"

/* Where the first fault goes, and the object being looked at. */
typedef struct checker {
    char *message;
    size_t size;
    const char *list, *name;
} checker;

/* The object's path, made for a fault alone. */
typedef struct object_path {
    char text[DW_PATH_SIZE];
} object_path;

static inline object_path path_of(const checker *c)
{
    object_path path;
    (void)dw_path_join(path.text, sizeof path.text, c->list, c->name);
    return path;
}

static inline bool fault(const checker *c, const char *format, ...) DW_PRINTF(2, 3);

static inline bool fault(const checker *c, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    (void)dw_vprint(c->message, c->size, format, arguments);
    va_end(arguments);
    return false;
}

static inline void look_at(checker *c, const char *list, const char *name)
{
    c->list = list;
    c->name = name;
}

/* A quantity as a message shows it. */
typedef struct shown {
    char text[40];
} shown;

static inline shown show(double si, dw_dim dim)
{
    const char *unit;
    shown s;
    double value = dw_quantity_display(si, dim, DW_UNITS_METRIC, &unit);
    /* Bores are in millimetres, and small pressures in pascals. */
    if (dim == DW_DIM_LENGTH && fabs(si) < 0.3 && si != 0.0)
        value = dw_quantity_in(si, dim, unit = "mm");
    if (dim == DW_DIM_PRESSURE_GAUGE && fabs(si) < 500.0)
        value = dw_quantity_in(si, dim, unit = "Pa");
    const bool bare = dim == DW_DIM_NUMBER;
    (void)dw_print(s.text, sizeof s.text, "%.5g%s%s", value, bare ? "" : " ", bare ? "" : unit);
    return s;
}

static inline bool is_missing(const checker *c, const char *key)
{
    return fault(c, "'%s.%s' is missing", path_of(c).text, key);
}

/* True when value lies in low..high, ends included; NaN does not. */
static inline bool within(const checker *c, const char *key, double value, dw_dim dim, double low,
                   double high)
{
    if (value >= low && value <= high) return true;
    if (isnan(value)) return is_missing(c, key);
    return fault(c, "'%s.%s' is %s, expected %s to %s", path_of(c).text, key, show(value, dim).text,
                 show(low, dim).text, show(high, dim).text);
}

static inline bool share(const checker *c, const char *key, double value)
{
    return within(c, key, value, DW_DIM_RATIO, 0.0, 1.0);
}

/* True when value is a finite number above zero. */
static inline bool positive(const checker *c, const char *key, double value, dw_dim dim)
{
    if (value > 0.0 && isfinite(value)) return true;
    if (isnan(value)) return is_missing(c, key);
    return fault(c, "'%s.%s' is %s, expected more than 0", path_of(c).text, key, show(value, dim).text);
}

static inline bool not_negative(const checker *c, const char *key, double value, dw_dim dim)
{
    if (value >= 0.0 && isfinite(value)) return true;
    if (isnan(value)) return is_missing(c, key);
    return fault(c, "'%s.%s' is %s, expected 0 or more", path_of(c).text, key, show(value, dim).text);
}

/* A discharge or velocity coefficient. */
static inline bool coefficient(const checker *c, const char *key, double value)
{
    if (value > 0.0 && value <= 1.0) return true;
    if (isnan(value)) return is_missing(c, key);
    return fault(c, "'%s.%s' is %.5g, expected more than 0 and at most 1", path_of(c).text, key, value);
}

static inline bool in_chamber(const checker *c, const char *key, double height_m, const dw_kiln *kiln)
{
    const double top_m = kiln->chamber.height_m;
    if (height_m >= 0.0 && height_m <= top_m) return true;
    if (isnan(height_m)) return is_missing(c, key);
    return fault(c, "'%s.%s' is %s, expected 0 m (floor) to %s (roof of the chamber)", path_of(c).text, key,
                 show(height_m, DW_DIM_LENGTH).text, show(top_m, DW_DIM_LENGTH).text);
}

/** Looks at one opening, which c is set to. */
bool dw_check_opening(const checker *c, const dw_kiln *kiln, const dw_opening *opening);

#endif

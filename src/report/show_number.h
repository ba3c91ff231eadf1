#ifndef DW_SHOW_NUMBER_H
#define DW_SHOW_NUMBER_H

/**
 * @file show_number.h
 * A number of the report tree as a person reads it.
 *
 * Layer: report. Pure functions, no state, no allocation, no locale: the decimal mark is a point.
 */

#include "report_tree.h"

/** Longest text of a number with its unit and NUL. */
enum { DW_SHOWN_SIZE = 80 };

/** Stands for a space at which no line may be broken (between number and unit). */
#define DW_GLUE '\x1f'

/**
 * Value in the unit shown, and that unit ("" for none).
 *
 * Ratios are shown in percent. The unit is static storage or borrowed from the number.
 */
double dw_show_value(const dw_number *number, dw_unit_system system, const char **unit);

/** The unit of dw_show_value() as a person reads it: the same but for differences of temperature. */
const char *dw_show_unit(const char *unit);

/** The number alone, rounded to its digits and its resolution; "-" when it has no value. Below 0.0001,
 *  where neither a resolution nor a person has said what matters, "<0.0001" whatever its sign; what is a
 *  trace likewise below its resolution. */
void dw_show_bare(const dw_number *number, dw_unit_system system, char out[DW_SHOWN_SIZE]);

/** The number with its unit after a DW_GLUE. */
void dw_show_number(const dw_number *number, dw_unit_system system, char out[DW_SHOWN_SIZE]);

/** Columns a UTF-8 text takes on a terminal: one a character, more for what is shown as an escape
 *  (base/visible.h). */
size_t dw_show_width(const char *text);

/** Bytes of the first character of a text that is not empty, and the columns it takes. */
size_t dw_show_char(const char *text, size_t *width);

#endif

#ifndef DW_SVG_H
#define DW_SVG_H

/**
 * @file svg.h
 * A drawing as SVG text: lines, bands and words on a page that may be light or dark.
 *
 * Layer: report. Writes into a dw_strbuf, whose errors stick; no state beside it. Coordinates are in the
 * units of the drawing, y down. Lines and words take the colour of the page's text unless a class of
 * the style says otherwise; texts are escaped.
 */

#include <stdbool.h>
#include <stddef.h>

#include "strbuf.h"

/** Begins a drawing of a size; label is read out in its place. style: CSS of its classes. */
void dw_svg_begin(dw_strbuf *out, double width, double height, const char *label,
                  const char *style);
void dw_svg_end(dw_strbuf *out);

void dw_svg_line(dw_strbuf *out, const char *css_class, double x1, double y1, double x2,
                 double y2);

/** A filled box. */
void dw_svg_box(dw_strbuf *out, const char *css_class, double x, double y, double width,
                double height);

/** Room that a word of the drawing needs: letters of a wide system font, bold ones wider. */
double dw_svg_width(const char *text, bool bold);

/** Most places that dw_svg_spread() moves; with more of them it does nothing. */
enum { DW_SVG_SPREAD_MAX = 16 };

/**
 * Moves places in a row apart until none lies on the next, as little as may be (least squares).
 *
 * @param[in,out] place  middles, rising; they stay in order.
 * @param[in]     size   what each takes up.
 * @param[in]     gap    at least so much between two.
 * @param[in]     low, high  ends of the row; what does not fit goes over the high end.
 */
void dw_svg_spread(double *place, const double *size, size_t count, double gap, double low,
                   double high);

/** Points joined; a point that is not finite breaks the line. */
void dw_svg_curve(dw_strbuf *out, const char *css_class, const double *x, const double *y,
                  size_t count);

typedef enum dw_svg_anchor { DW_SVG_START, DW_SVG_MIDDLE, DW_SVG_END } dw_svg_anchor;

/** Size of words in a drawing, and how far they reach above and below their base line. */
#define DW_SVG_TEXT 10.0
#define DW_SVG_ASCENT 7.6
#define DW_SVG_DESCENT 2.3

/** A word with its base line at y. */
void dw_svg_text(dw_strbuf *out, const char *css_class, dw_svg_anchor anchor, double x, double y,
                 const char *text);

#endif

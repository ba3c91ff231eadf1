#include "svg.h"

#include <math.h>

/* Names may hold anything: nothing of them is markup. Control characters become spaces. */
static void put_escaped(dw_strbuf *out, const char *text)
{
    for (const char *p = text; *p != '\0'; ++p) {
        switch (*p) {
        case '&': dw_strbuf_puts(out, "&amp;"); break;
        case '<': dw_strbuf_puts(out, "&lt;"); break;
        case '>': dw_strbuf_puts(out, "&gt;"); break;
        case '"': dw_strbuf_puts(out, "&quot;"); break;
        default: dw_strbuf_add(out, (unsigned char)*p < 0x20U || *p == 0x7F ? " " : p, 1); break;
        }
    }
}

void dw_svg_begin(dw_strbuf *out, double width, double height, const char *label,
                  const char *style)
{
    dw_strbuf_printf(out,
                     "<svg class=\"chart\" viewBox=\"0 0 %.6g %.6g\" role=\"img\" "
                     "xmlns=\"http://www.w3.org/2000/svg\" aria-label=\"",
                     width, height);
    put_escaped(out, label);
    dw_strbuf_puts(out, "\">\n<style>\n");
    dw_strbuf_puts(out, style);
    dw_strbuf_puts(out, "</style>\n");
}

void dw_svg_end(dw_strbuf *out)
{
    dw_strbuf_puts(out, "</svg>\n");
}

double dw_svg_width(const char *text, bool bold)
{
    size_t letters = 0;
    for (const char *p = text; *p != '\0'; ++p) letters += ((unsigned char)*p & 0xC0U) != 0x80U;
    return DW_SVG_TEXT * (bold ? 0.75 : 0.68) * (double)letters;
}

/* Where a block of places is that touch each other, from first to before end: what moves them least, by the
 * mean of what each would like. Offsets count from the first place of all. */
static double block_shift(const double *place, const double *size, size_t first, size_t end,
                          double gap)
{
    double offset = 0.0, sum = 0.0;
    for (size_t i = 0; i < end; ++i) {
        if (i > 0) offset += 0.5 * (size[i - 1] + size[i]) + gap;
        if (i >= first) sum += place[i] - offset;
    }
    return sum / (double)(end - first);
}

void dw_svg_spread(double *place, const double *size, size_t count, double gap, double low,
                   double high)
{
    size_t first[DW_SVG_SPREAD_MAX];
    double shift[DW_SVG_SPREAD_MAX];
    size_t blocks = 0;
    if (count == 0 || count > DW_SVG_SPREAD_MAX) return;
    for (size_t i = 0; i < count; ++i) {
        first[blocks] = i;
        shift[blocks++] = block_shift(place, size, i, i + 1, gap);
        while (blocks > 1 && shift[blocks - 2] > shift[blocks - 1]) {
            --blocks;
            shift[blocks - 1] = block_shift(place, size, first[blocks - 1], i + 1, gap);
        }
    }
    double all = 0.0;
    for (size_t i = 1; i < count; ++i) all += 0.5 * (size[i - 1] + size[i]) + gap;
    const double least = low + 0.5 * size[0], most = high - 0.5 * size[count - 1] - all;
    double offset = 0.0;
    for (size_t i = 0, block = 0; i < count; ++i) {
        if (i > 0) offset += 0.5 * (size[i - 1] + size[i]) + gap;
        if (block + 1 < blocks && first[block + 1] == i) ++block;
        place[i] = offset + fmax(fmin(shift[block], most), least);
    }
}

void dw_svg_line(dw_strbuf *out, const char *css_class, double x1, double y1, double x2,
                 double y2)
{
    dw_strbuf_printf(out, "<path class=\"%s\" d=\"M%.1f %.1fL%.1f %.1f\"/>\n", css_class, x1, y1,
                     x2, y2);
}

void dw_svg_box(dw_strbuf *out, const char *css_class, double x, double y, double width,
                double height)
{
    dw_strbuf_printf(out,
                     "<rect class=\"%s\" x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"%.1f\"/>\n",
                     css_class, x, y, width, height);
}

void dw_svg_curve(dw_strbuf *out, const char *css_class, const double *x, const double *y,
                  size_t count)
{
    bool pen_down = false, any = false;
    for (size_t i = 0; i < count; ++i) {
        if (!isfinite(x[i]) || !isfinite(y[i])) {
            pen_down = false;
            continue;
        }
        if (!any) dw_strbuf_printf(out, "<path class=\"%s\" d=\"", css_class);
        dw_strbuf_printf(out, "%c%.1f %.1f", pen_down ? 'L' : 'M', x[i], y[i]);
        pen_down = any = true;
    }
    if (any) dw_strbuf_puts(out, "\"/>\n");
}

void dw_svg_text(dw_strbuf *out, const char *css_class, dw_svg_anchor anchor, double x, double y,
                 const char *text)
{
    static const char *const anchors[] = {[DW_SVG_START] = "start", [DW_SVG_MIDDLE] = "middle",
                                          [DW_SVG_END] = "end"};
    dw_strbuf_printf(out, "<text class=\"%s\" x=\"%.1f\" y=\"%.1f\" text-anchor=\"%s\">", css_class,
                     x, y, anchors[anchor]);
    put_escaped(out, text);
    dw_strbuf_puts(out, "</text>\n");
}

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

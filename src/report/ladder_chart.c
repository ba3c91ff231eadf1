#include "report_oxides.h"
#include "svg.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "format.h"
#include "oxygen.h"

/* A drawing as wide as a telephone: on a wide screen it is shown larger, not wider. At the right of the
 * boxes the volts of the probe and the names of the forms have columns of their own. */
enum { WIDTH = 400, LEFT = 38, RIGHT = 130, STRIP = 26 };
static const double gas_top = 52.0, gas_height = 150.0;
static const double oxygen_top = 272.0, oxygen_height = 270.0;
static const double height = 600.0;
static const double volts_column = 7.0, iron_column = 46.0, copper_column = 84.0;
static const double word_gap = 4.0;

static const char style[] =
    ".chart{display:block;width:100%;max-width:40rem;margin:.5rem 0}\n"
    ".chart path{fill:none;stroke:currentColor;stroke-width:1}\n"
    ".chart text{fill:currentColor;font:10px system-ui,sans-serif}\n"
    ".chart .t{font-weight:600}\n"
    ".chart .g{stroke-width:.5;opacity:.25}\n"
    ".chart .co{stroke:#c2410c;stroke-width:2}\n"
    ".chart .co0{stroke:#c2410c;stroke-width:1.2;stroke-dasharray:4 3}\n"
    ".chart .o2{stroke:#1d6fb8;stroke-width:2}\n"
    ".chart .o20{stroke:#1d6fb8;stroke-width:1.2;stroke-dasharray:4 3}\n"
    ".chart .po{stroke-width:2}\n"
    ".chart .pp{stroke-width:1;stroke-dasharray:2 2}\n"
    ".chart .fe{stroke:#8a5a00;stroke-width:1}\n"
    ".chart .cu{stroke:#0f766e;stroke-width:1}\n"
    ".chart rect{stroke:none}\n"
    ".chart .feb{fill:#d99a2b;fill-opacity:.25}\n"
    ".chart .cub{fill:#2dd4bf;fill-opacity:.2}\n"
    ".chart text.cot{fill:#c2410c}.chart text.o2t{fill:#1d6fb8}\n"
    "@media (prefers-color-scheme:dark){.chart .co,.chart .co0{stroke:#fb923c}"
    ".chart .o2,.chart .o20{stroke:#7cc0ff}.chart .fe{stroke:#f0c36a}.chart .cu{stroke:#5eead4}"
    ".chart text.cot{fill:#fb923c}.chart text.o2t{fill:#7cc0ff}}\n"
    "@media print{.chart{max-width:15cm}.chart .co,.chart .co0{stroke:#c2410c}"
    ".chart .o2,.chart .o20{stroke:#1d6fb8}.chart .fe{stroke:#8a5a00}.chart .cu{stroke:#0f766e}"
    ".chart text.cot{fill:#c2410c}.chart text.o2t{fill:#1d6fb8}}\n";

typedef struct chart {
    dw_strbuf out;
    const dw_data *data;
    const dw_ladder_view *view;
    double phi_low, phi_high;
    double share_top;                 /* of the upper panel */
    double log_low, log_high;         /* of the lower panel */
    double *x, *y;                    /* one curve, owned */
} chart;

static double at_phi(const chart *c, double phi)
{
    return LEFT + (phi - c->phi_low) / (c->phi_high - c->phi_low) * (WIDTH - LEFT - RIGHT);
}

static double at_share(const chart *c, double share)
{
    return gas_top + gas_height * (1.0 - share / c->share_top);
}

static double at_log(const chart *c, double log10_po2)
{
    return oxygen_top + oxygen_height * (c->log_high - log10_po2) / (c->log_high - c->log_low);
}

typedef double (*rung_value)(const dw_rung *rung);
static double co_unmixed(const dw_rung *r) { return r->unmixed.co; }
static double co_mixed(const dw_rung *r) { return r->mixed.co; }
static double o2_unmixed(const dw_rung *r) { return r->unmixed.o2; }
static double o2_mixed(const dw_rung *r) { return r->mixed.o2; }
static double log_mean(const dw_rung *r) { return r->ware.mean.log10_po2_bar; }
static double log_lean(const dw_rung *r)
{
    return r->ware.has_parcels ? r->ware.lean.log10_po2_bar : NAN;
}
static double log_rich(const dw_rung *r)
{
    return r->ware.has_parcels ? r->ware.rich.log10_po2_bar : NAN;
}

static void draw(chart *c, const char *css_class, rung_value value,
                 double (*place)(const chart *, double), double least, double most)
{
    for (size_t i = 0; i < c->view->curve_count; ++i) {
        const dw_rung *r = &c->view->curve[i];
        const double v = value(r);
        c->x[i] = at_phi(c, r->equivalence_ratio);
        c->y[i] = v >= least && v <= most ? place(c, v) : NAN;
    }
    dw_svg_curve(&c->out, css_class, c->x, c->y, c->view->curve_count);
}

static void put_ratio_axis(chart *c, double top, double bottom, bool words)
{
    for (int i = (int)ceil(c->phi_low * 20.0 - 1e-9); i <= (int)floor(c->phi_high * 20.0 + 1e-9);
         ++i) {
        const double phi = 0.05 * i, x = at_phi(c, phi);
        dw_svg_line(&c->out, "g", x, top, x, bottom);
        if (i % 2 != 0) continue;
        char text[16];
        (void)dw_print(text, sizeof text, "%.1f", phi);
        dw_svg_text(&c->out, "n", DW_SVG_MIDDLE, x, bottom + 14.0, text);
    }
    if (!words) return;
    dw_svg_text(&c->out, "n", DW_SVG_START, LEFT, bottom + 28.0, "leaner");
    dw_svg_text(&c->out, "n", DW_SVG_MIDDLE, 0.5 * (LEFT + WIDTH - RIGHT), bottom + 28.0,
                "equivalence ratio");
    dw_svg_text(&c->out, "n", DW_SVG_END, WIDTH - RIGHT, bottom + 28.0, "richer");
}

/* The words of bands.yaml above their bands; where a band is narrow the words move apart, and a line leads
 * from each to its band. */
static void put_strengths(chart *c)
{
    double place[DW_BAND_MAX], size[DW_BAND_MAX], middle[DW_BAND_MAX];
    const char *word[DW_BAND_MAX];
    size_t count = 0;
    double low = c->phi_low;
    for (size_t i = 0; i < c->data->band_count && low < c->phi_high; ++i) {
        const double high = fmin(c->data->band[i].phi_below, c->phi_high);
        if (high <= low) continue;
        const double to = at_phi(c, high);
        word[count] = c->data->band[i].word;
        middle[count] = place[count] = 0.5 * (at_phi(c, low) + to);
        size[count] = dw_svg_width(word[count], false);
        ++count;
        if (high < c->phi_high) dw_svg_line(&c->out, "g", to, gas_top - 4.0, to, gas_top + gas_height);
        low = high;
    }
    dw_svg_spread(place, size, count, word_gap, 0.0, WIDTH);
    for (size_t i = 0; i < count; ++i) {
        dw_svg_text(&c->out, "n", DW_SVG_MIDDLE, place[i], gas_top - STRIP + DW_SVG_ASCENT, word[i]);
        dw_svg_line(&c->out, "g", place[i], gas_top - STRIP + DW_SVG_ASCENT + DW_SVG_DESCENT, middle[i],
                    gas_top - 4.0);
    }
}

static void put_gas_panel(chart *c)
{
    const double bottom = gas_top + gas_height, right = WIDTH - RIGHT;
    dw_svg_text(&c->out, "t", DW_SVG_START, 0.0, 11.0, "CO and O2 in the dry gas, %");
    put_ratio_axis(c, gas_top, bottom, false);
    put_strengths(c);
    for (int percent = 0; percent <= (int)(100.0 * c->share_top + 0.5); percent += 2) {
        const double y = at_share(c, 0.01 * percent);
        char text[16];
        (void)snprintf(text, sizeof text, "%d", percent);
        dw_svg_line(&c->out, "g", LEFT, y, right, y);
        dw_svg_text(&c->out, "n", DW_SVG_END, LEFT - 5.0, y + 3.5, text);
    }
    const bool spread = c->view->spread > 0.0;
    draw(c, spread ? "co0" : "co", co_mixed, at_share, 0.0, c->share_top);
    draw(c, spread ? "o20" : "o2", o2_mixed, at_share, 0.0, c->share_top);
    if (spread) {
        draw(c, "co", co_unmixed, at_share, 0.0, c->share_top);
        draw(c, "o2", o2_unmixed, at_share, 0.0, c->share_top);
    }
    dw_svg_text(&c->out, "cot", DW_SVG_START, right + 4.0,
                at_share(c, c->view->curve[c->view->curve_count - 1].unmixed.co) + 3.5, "CO");
    dw_svg_text(&c->out, "o2t", DW_SVG_START, LEFT + 5.0,
                at_share(c, c->view->curve[0].unmixed.o2) - 7.0, "O2");
    if (spread) {
        char text[80];
        (void)dw_print(text, sizeof text, "dashed: even gas; full: uneven, spread %.2g",
                       c->view->spread);
        dw_svg_text(&c->out, "n", DW_SVG_START, LEFT, bottom + 28.0, text);
    }
}

static bool is_shown(const chart *c, const dw_ware_boundary *b)
{
    const int metal = c->data->oxides.buffer[b->buffer].metal;
    return metal >= 0 && metal < 2 && b->reach != DW_BUFFER_OUT &&
           b->log10_po2_bar > c->log_low + 0.3 && b->log10_po2_bar < c->log_high - 0.3;
}

/* One boundary: what all its calibrations span. */
typedef struct span {
    double low, high;
    bool any;
} span;

static span span_of(const chart *c, int metal, int boundary)
{
    span s = {INFINITY, -INFINITY, false};
    for (int i = 0; i < c->view->boundary_count; ++i) {
        const dw_ware_boundary *b = &c->view->boundary[i];
        const dw_buffer *buffer = &c->data->oxides.buffer[b->buffer];
        if (buffer->metal != metal || buffer->boundary != boundary || !is_shown(c, b)) continue;
        s.any = true;
        s.low = fmin(s.low, b->log10_po2_bar);
        s.high = fmax(s.high, b->log10_po2_bar);
    }
    return s;
}

/* Bands of iron and copper: from the lowest to the highest calibration, and the band on both sides. */
static void put_boundaries(chart *c)
{
    const dw_oxide_table *table = &c->data->oxides;
    const double right = WIDTH - RIGHT;
    for (int metal = 0; metal < 2 && metal < table->metal_count; ++metal) {
        for (int k = 0; k + 1 < table->metal[metal].form_count; ++k) {
            const span s = span_of(c, metal, k);
            if (!s.any) continue;
            const double top = at_log(c, fmin(s.high + table->band_log10, c->log_high));
            const double bottom = at_log(c, fmax(s.low - table->band_log10, c->log_low));
            dw_svg_box(&c->out, metal == 0 ? "feb" : "cub", LEFT, top, right - LEFT, bottom - top);
        }
    }
    for (int i = 0; i < c->view->boundary_count; ++i) {
        const dw_ware_boundary *b = &c->view->boundary[i];
        if (!is_shown(c, b)) continue;
        const double y = at_log(c, b->log10_po2_bar);
        dw_svg_line(&c->out, table->buffer[b->buffer].metal == 0 ? "fe" : "cu", LEFT, y, right, y);
    }
}

/* Where a boundary is by the calibration that decides, in the box or not; NaN when none reaches. */
static double decisive(const chart *c, int metal, int boundary)
{
    for (int i = 0; i < c->view->boundary_count; ++i) {
        const dw_ware_boundary *b = &c->view->boundary[i];
        const dw_buffer *buffer = &c->data->oxides.buffer[b->buffer];
        if (buffer->metal == metal && buffer->boundary == boundary && b->reach != DW_BUFFER_OUT) {
            return b->log10_po2_bar;
        }
    }
    return NAN;
}

/* Which form is stable where, in a column beside the box: a name at the middle of each stretch. Nothing when
 * one of the boundaries is not known, since then no form is. */
static void put_forms(chart *c, int metal, double x)
{
    const dw_metal *m = &c->data->oxides.metal[metal];
    double place[DW_OXIDE_FORM_MAX] = {0.0}, size[DW_OXIDE_FORM_MAX] = {0.0};
    const char *name[DW_OXIDE_FORM_MAX];
    size_t count = 0;
    const double left = WIDTH - RIGHT + x;
    for (int k = 0; k + 1 < m->form_count; ++k) {
        if (!isfinite(decisive(c, metal, k))) return;
    }
    double above = c->log_high;
    for (int k = 0; k < m->form_count && above > c->log_low; ++k) {
        const bool last = k + 1 == m->form_count;
        const double below = last ? c->log_low : fmax(decisive(c, metal, k), c->log_low);
        if (below >= above) continue;
        place[count] = 0.5 * (at_log(c, above) + at_log(c, below));
        size[count] = DW_SVG_ASCENT + DW_SVG_DESCENT;
        name[count++] = m->form[k].formula;
        above = below;
        if (above > c->log_low) {
            const double y = at_log(c, above);
            dw_svg_line(&c->out, metal == 0 ? "fe" : "cu", left - 3.0, y, left + 34.0, y);
        }
    }
    dw_svg_spread(place, size, count, 1.0, oxygen_top, oxygen_top + oxygen_height);
    for (size_t i = 0; i < count; ++i) {
        dw_svg_text(&c->out, "n", DW_SVG_START, left,
                    place[i] + 0.5 * (DW_SVG_ASCENT - DW_SVG_DESCENT), name[i]);
    }
    dw_svg_text(&c->out, "t", DW_SVG_START, left, oxygen_top - 8.0, m->name);
}

static void put_oxygen_panel(chart *c)
{
    const double bottom = oxygen_top + oxygen_height, right = WIDTH - RIGHT;
    dw_svg_text(&c->out, "t", DW_SVG_START, 0.0, oxygen_top - 8.0, "log10 of oxygen, bar");
    dw_svg_text(&c->out, "t", DW_SVG_END, right + 26.0, oxygen_top - 8.0, "probe, V");
    put_ratio_axis(c, oxygen_top, bottom, true);
    put_boundaries(c);
    put_forms(c, 0, iron_column);
    put_forms(c, 1, copper_column);
    const double t = c->view->temperature_k;
    const double pressure_pa = c->view->curve[0].ware.pressure_pa_abs;
    for (int level = (int)ceil(c->log_low); level <= (int)floor(c->log_high); ++level) {
        const double y = at_log(c, level);
        char text[16];
        (void)snprintf(text, sizeof text, "%d", level);
        dw_svg_line(&c->out, "g", LEFT, y, right, y);
        if (level % 2 != 0) continue;
        dw_svg_text(&c->out, "n", DW_SVG_END, LEFT - 5.0, y + 3.5, text);
    }
    /* Volts go with the logarithm: one curve, two scales. */
    for (int tenth = 0; tenth <= 20; ++tenth) {
        const double level = dw_probe_log10_po2_bar(0.1 * tenth, t, pressure_pa);
        if (!(level > c->log_low && level < c->log_high)) continue;
        const double y = at_log(c, level);
        char text[16];
        (void)dw_print(text, sizeof text, "%.1f", 0.1 * tenth);
        dw_svg_line(&c->out, "n", right, y, right + 4.0, y);
        dw_svg_text(&c->out, "n", DW_SVG_START, right + volts_column, y + 3.5, text);
    }
    if (c->view->spread > 0.0) {
        dw_svg_text(&c->out, "n", DW_SVG_START, LEFT, bottom + 43.0,
                    "dotted: ends of the leanest and the richest tenth");
    }
    draw(c, "pp", log_lean, at_log, c->log_low, c->log_high);
    draw(c, "pp", log_rich, at_log, c->log_low, c->log_high);
    draw(c, "po", log_mean, at_log, c->log_low, c->log_high);
}

static void find_scales(chart *c)
{
    const dw_ladder_view *v = c->view;
    c->phi_low = v->curve[0].equivalence_ratio;
    c->phi_high = v->curve[v->curve_count - 1].equivalence_ratio;
    c->share_top = 0.02;
    double least = 0.0;
    for (size_t i = 0; i < v->curve_count; ++i) {
        const dw_rung *r = &v->curve[i];
        c->share_top = fmax(c->share_top, fmax(fmax(r->unmixed.co, r->mixed.co),
                                               fmax(r->unmixed.o2, r->mixed.o2)));
        least = fmin(least, r->ware.mean.log10_po2_bar);
    }
    c->share_top = 0.02 * ceil(c->share_top / 0.02 - 1e-9);
    for (int i = 0; i < v->boundary_count; ++i) {
        const dw_ware_boundary *b = &v->boundary[i];
        if (c->data->oxides.buffer[b->buffer].metal == 0 && b->reach != DW_BUFFER_OUT) {
            least = fmin(least, b->log10_po2_bar);
        }
    }
    c->log_high = 0.0;
    c->log_low = floor(least - 0.8);
}

const char *dw_ladder_chart(dw_report *report, const dw_data *data, const dw_ladder_view *view)
{
    if (view->curve == NULL || view->curve_count < 2) return NULL;
    chart c = {.data = data, .view = view};
    dw_strbuf_init(&c.out);
    c.x = malloc(2 * view->curve_count * sizeof *c.x);
    if (c.x == NULL) {
        dw_report_fail(report);
        return NULL;
    }
    c.y = c.x + view->curve_count;
    find_scales(&c);
    dw_svg_begin(&c.out, WIDTH, height,
                 "Two charts over the equivalence ratio: carbon monoxide and oxygen in the dry gas, "
                 "and the oxygen pressure with the boundaries of iron and copper oxides. The table "
                 "below gives the numbers.",
                 style);
    put_gas_panel(&c);
    put_oxygen_panel(&c);
    dw_svg_end(&c.out);
    if (c.out.failed) dw_report_fail(report);
    const char *kept = c.out.failed ? NULL : dw_report_keep(report, c.out.text);
    dw_strbuf_free(&c.out);
    free(c.x);
    return kept;
}

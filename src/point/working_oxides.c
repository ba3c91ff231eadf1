/* The working of the boundaries between oxides of iron and copper. */
#include <math.h>

#include "working_steps.h"

static void put_buffer(const dw_work_point *p, const dw_buffer *b)
{
    dw_working *w = p->w;
    const double t = p->solved->net.gas_temperature_k, value = dw_buffer_log10_po2_bar(b, t);
    const bool drawn_on = dw_buffer_reach_at(b, t) == DW_BUFFER_DRAWN_ON;
    dw_buffer_write(w, b,
                    dw_work_keepf(w, "%s, %s%s: %s", b->name, b->key, drawn_on ? " drawn on" : "",
                                  p->result->log10_po2_bar >= value
                                      ? "the gas is above the boundary, so the first form is "
                                        "stable"
                                      : "the gas is below the boundary, so the second form is "
                                        "stable"),
                    value);
}

void dw_work_oxides(const dw_work_point *p)
{
    const dw_oxide_table *table = &p->model->data->oxides;
    if (!isfinite(p->result->log10_po2_bar)) return;
    static const char *const metal[2] = {"iron", "copper"};
    bool begun = false;
    for (int m = 0; m < 2; m++) {
        const int index = dw_metal_find(table, metal[m]);
        for (int i = 0; i < table->buffer_count && index >= 0; i++) {
            const dw_buffer *b = &table->buffer[i];
            if (b->metal != index || dw_buffer_reach_at(b, p->solved->net.gas_temperature_k) ==
                                         DW_BUFFER_OUT) {
                continue;
            }
            if (!begun) {
                dw_work_section(p->w, "Oxides of iron and copper");
                dw_work_text(p->w, "At a boundary two forms of a metal exist side by side; the "
                                   "steps give the logarithm of the oxygen pressure there, in "
                                   "bar. Where the gas has more oxygen than that, the form richer "
                                   "in oxygen is stable, which is the first of the two names. "
                                   "Where several calibrations of a boundary exist, the first is "
                                   "used.");
            }
            begun = true;
            put_buffer(p, b);
        }
    }
}

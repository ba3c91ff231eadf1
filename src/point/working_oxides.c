/* The working of the boundaries between oxides of iron and copper. */
#include <math.h>

#include "working_steps.h"

/* One calibration: only the terms that it has. */
static void put_buffer(const dw_work_point *p, const dw_buffer *b)
{
    static const char *const log10_term[DW_BUFFER_TERM_COUNT] = {"c_0/T_gas", "c_1",
                                                                 "c_2*ln(T_gas)", "", "", ""};
    static const char *const potential_term[DW_BUFFER_TERM_COUNT] = {
        "c_0", "c_1*T_gas", "c_2*T_gas*ln(T_gas)", "c_3*T_gas^2", "c_4/T_gas", "c_5*sqrt(T_gas)"};
    dw_working *w = p->w;
    const bool potential = b->form == DW_BUFFER_POTENTIAL;
    const char *sum = "";
    for (int i = 0; i < DW_BUFFER_TERM_COUNT; i++) {
        const char *term = potential ? potential_term[i] : log10_term[i];
        if (b->coeff[i] == 0.0 || term[0] == '\0') continue;
        dw_work_put(w, DW_WORK_DATA, dw_work_keepf(w, "c_%d", i),
                    dw_work_keepf(w, "coefficient of %s", b->key), "", b->coeff[i]);
        sum = dw_work_keepf(w, "%s%s%s", sum, sum[0] == '\0' ? "" : " + ", term);
    }
    if (sum[0] == '\0') return;
    const char *formula = potential ? dw_work_keepf(w, "(%s)/(R*T_gas*ln(10))", sum) : sum;
    const bool drawn_on = dw_buffer_reach_at(b, p->solved->net.gas_temperature_k) ==
                          DW_BUFFER_DRAWN_ON;
    const double value = dw_buffer_log10_po2_bar(b, p->solved->net.gas_temperature_k);
    dw_work_step_is(w, "", "lg_b",
                    dw_work_keepf(w, "%s, %s%s: %s", b->name, b->key,
                                  drawn_on ? " drawn on" : "",
                                  p->result->log10_po2_bar >= value
                                      ? "the gas is above the boundary, so the first form is "
                                        "stable"
                                      : "the gas is below the boundary, so the second form is "
                                        "stable"),
                    "", formula, value, b->source);
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

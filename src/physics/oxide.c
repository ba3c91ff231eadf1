#include "oxide.h"

#include <math.h>
#include <string.h>

#include "constants.h"

double dw_buffer_log10_po2_bar(const dw_buffer *buffer, double temperature_k)
{
    if (buffer == NULL || !(temperature_k > 0.0)) return NAN;
    const double t = temperature_k, *c = buffer->coeff;
    if (buffer->form == DW_BUFFER_LOG10) return c[0] / t + c[1] + c[2] * log(t);
    const double mu_j_mol =
        c[0] + c[1] * t + c[2] * t * log(t) + c[3] * t * t + c[4] / t + c[5] * sqrt(t);
    return mu_j_mol / (DW_R_J_MOL_K * t * log(10.0));
}

dw_buffer_reach dw_buffer_reach_at(const dw_buffer *buffer, double temperature_k)
{
    if (buffer == NULL || !(temperature_k >= buffer->used_from_k) ||
        !(temperature_k <= buffer->used_to_k)) {
        return DW_BUFFER_OUT;
    }
    return temperature_k >= buffer->from_k && temperature_k <= buffer->to_k ? DW_BUFFER_IN
                                                                            : DW_BUFFER_DRAWN_ON;
}

const dw_buffer *dw_buffer_find(const dw_oxide_table *table, const char *key)
{
    if (table == NULL || key == NULL) return NULL;
    for (int i = 0; i < table->buffer_count; i++) {
        if (strcmp(table->buffer[i].key, key) == 0) return &table->buffer[i];
    }
    return NULL;
}

int dw_metal_find(const dw_oxide_table *table, const char *name)
{
    if (table == NULL || name == NULL) return -1;
    for (int i = 0; i < table->metal_count; i++) {
        if (strcmp(table->metal[i].name, name) == 0) return i;
    }
    return -1;
}

/* What the calibrations of one boundary say at a temperature. */
typedef struct boundary {
    double value;        /* of the first that reaches */
    double low, high;    /* of all that reach */
    double distance;     /* of the oxygen to the nearest */
    int nearest, count;
    bool any_in;
} boundary;

static boundary look_at(const dw_oxide_table *table, int metal, int index, double temperature_k,
                        double log10_po2_bar)
{
    boundary b = {NAN, INFINITY, -INFINITY, INFINITY, -1, 0, false};
    for (int i = 0; i < table->buffer_count; i++) {
        const dw_buffer *buffer = &table->buffer[i];
        if (buffer->metal != metal || buffer->boundary != index) continue;
        const dw_buffer_reach reach = dw_buffer_reach_at(buffer, temperature_k);
        if (reach == DW_BUFFER_OUT) continue;
        const double value = dw_buffer_log10_po2_bar(buffer, temperature_k);
        if (b.count++ == 0) b.value = value;
        b.any_in = b.any_in || reach == DW_BUFFER_IN;
        b.low = fmin(b.low, value);
        b.high = fmax(b.high, value);
        if (fabs(log10_po2_bar - value) < b.distance) {
            b.distance = fabs(log10_po2_bar - value);
            b.nearest = i;
        }
    }
    return b;
}

dw_status dw_oxide_state_at(const dw_oxide_table *table, int metal, double temperature_k,
                            double log10_po2_bar, dw_oxide_state *state)
{
    if (state == NULL) return DW_ERR_ARG;
    const dw_oxide_state none = {-1, -1, NAN, -1, false};
    *state = none;
    if (table == NULL || metal < 0 || metal >= table->metal_count ||
        !isfinite(temperature_k) || !isfinite(log10_po2_bar)) {
        return DW_ERR_ARG;
    }
    dw_oxide_state found = {0, -1, INFINITY, -1, false};
    int near = -1;
    for (int k = 0; k + 1 < table->metal[metal].form_count; k++) {
        const boundary b = look_at(table, metal, k, temperature_k, log10_po2_bar);
        if (b.count == 0) return DW_ERR_DOMAIN;
        if (log10_po2_bar < b.value) found.form = k + 1;
        if (!(b.distance < found.margin_log10)) continue;
        found.margin_log10 = b.distance;
        found.nearest = b.nearest;
        found.drawn_on = !b.any_in;
        near = log10_po2_bar >= b.low - table->band_log10 &&
                       log10_po2_bar <= b.high + table->band_log10
                   ? k
                   : -1;
    }
    if (near >= 0) found.other = found.form > near ? near : near + 1;
    *state = found;
    return DW_OK;
}

#include "oxide.h"

#include <math.h>
#include <string.h>

#include "constants.h"

DW_LAW(between, "lg_b", "logarithm of the oxygen pressure at the boundary, in bar", "",
       "definition",
       (double T_gas, double c_0, double c_1, double c_2, double c_3, double c_4, double c_5, double q),
       (c_0 + c_1 * T_gas + c_2 * T_gas * log(T_gas) + c_3 * pow(T_gas, 2.0) + c_4 / T_gas +
        c_5 * sqrt(T_gas)) / (q * T_gas))

const dw_law *const dw_buffer_law = &between_law;

double dw_buffer_divisor(const dw_buffer *buffer)
{
    return buffer->form == DW_BUFFER_LOG10 ? 1.0 : DW_R_J_MOL_K * log(10.0);
}

double dw_buffer_log10_po2_bar(const dw_buffer *buffer, double temperature_k)
{
    if (buffer == NULL || !(temperature_k > 0.0)) return NAN;
    const double *c = buffer->coeff;
    return between(temperature_k, c[0], c[1], c[2], c[3], c[4], c[5],
                           dw_buffer_divisor(buffer));
}

/* The same law with the terms alone that a calibration has, in the form that its source prints. */
void dw_buffer_write(dw_working *w, const dw_buffer *buffer, const char *meaning, double log10_po2_bar)
{
    static const char *const term[2][DW_BUFFER_TERM_COUNT] = {
        [DW_BUFFER_LOG10] = {"c_0/T_gas", "c_1", "c_2*ln(T_gas)", "", "", ""},
        [DW_BUFFER_POTENTIAL] = {"c_0", "c_1*T_gas", "c_2*T_gas*ln(T_gas)", "c_3*T_gas^2", "c_4/T_gas",
                                 "c_5*sqrt(T_gas)"}};
    const char *sum = "";
    for (int i = 0; i < DW_BUFFER_TERM_COUNT; i++) {
        if (buffer->coeff[i] == 0.0) continue;
        dw_work_put(w, DW_WORK_DATA, dw_work_keepf(w, "c_%d", i),
                    dw_work_keepf(w, "coefficient of %s", buffer->key), "", buffer->coeff[i]);
        sum = dw_work_keepf(w, "%s%s%s", sum, sum[0] == '\0' ? "" : " + ", term[buffer->form][i]);
    }
    const bool plain = buffer->form == DW_BUFFER_LOG10;
    dw_work_step_is(w, "", "lg_b", meaning, "",
                    plain ? sum : dw_work_keepf(w, "(%s)/(R*T_gas*ln(10))", sum), log10_po2_bar,
                    buffer->source);
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

DW_LAW(distance, "d_m", "distance to the nearest of its calibrations", "", "definition",
       (double lg_pO2, double lg_n), fabs(lg_pO2 - lg_n))

const dw_law *const dw_oxide_distance_law = &distance_law;

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
        const double far = distance(log10_po2_bar, value);
        if (far < b.distance) {
            b.distance = far;
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

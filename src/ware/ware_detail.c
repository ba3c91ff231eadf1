#include "ware_detail.h"

#include <math.h>

#include "oxygen.h"

DW_LAW(less, "less_b", "gas less boundary", "", "definition", (double lg_pO2, double lg_b),
       lg_pO2 - lg_b)

const dw_law *const dw_ware_less_law = &less_law;

dw_status dw_ware_boundaries(const dw_model *model, const dw_ware *ware,
                             dw_ware_boundary *boundary, int *count)
{
    if (count != NULL) *count = 0;
    if (model == NULL || ware == NULL || boundary == NULL || count == NULL) return DW_ERR_ARG;
    dw_oxygen_ratio constants;
    const dw_status status = dw_oxygen_ratio_at(&model->gases, ware->temperature_k, &constants);
    if (status != DW_OK) return status;
    const dw_oxide_table *table = &model->data->oxides;
    for (int i = 0; i < table->buffer_count; i++) {
        const dw_buffer *buffer = &table->buffer[i];
        /* Buffers for comparison state no range: they are shown as drawn on. */
        const bool compared = buffer->metal < 0;
        const dw_buffer_reach reach =
            compared ? DW_BUFFER_DRAWN_ON : dw_buffer_reach_at(buffer, ware->temperature_k);
        dw_ware_boundary *b = &boundary[i];
        *b = (dw_ware_boundary){i, reach, NAN, NAN, NAN, NAN, NAN};
        if (reach == DW_BUFFER_OUT) continue;
        const double log10_po2 = dw_buffer_log10_po2_bar(buffer, ware->temperature_k);
        b->log10_po2_bar = log10_po2;
        b->gas_minus_log10 = less(ware->mean.log10_po2_bar, log10_po2);
        b->co_co2_ratio = dw_co_co2_from_oxygen(&constants, log10_po2);
        b->h2_h2o_ratio = dw_h2_h2o_from_oxygen(&constants, log10_po2);
        b->probe_emf_v =
            dw_probe_emf_v(log10_po2, ware->temperature_k, ware->pressure_pa_abs);
    }
    *count = table->buffer_count;
    return DW_OK;
}

static dw_glaze_refusal refusal_of(const dw_glaze *glaze, const dw_ware *ware)
{
    if (glaze->outside[0] != '\0') return DW_GLAZE_OUTSIDE;
    if (!(glaze->y[DW_MELT_FEO] > 0.0)) return DW_GLAZE_NO_IRON;
    if (!ware->given) return DW_GLAZE_NO_OXYGEN;
    if (ware->temperature_k < DW_GLAZE_IRON_FROM_K) return DW_GLAZE_TOO_COLD;
    if (ware->temperature_k > DW_GLAZE_IRON_TO_K) return DW_GLAZE_TOO_HOT;
    return DW_GLAZE_GIVEN;
}

void dw_ware_glaze_at(const dw_glaze *glaze, const dw_ware *ware, dw_ware_glaze *out)
{
    const dw_glaze_iron none = {NAN, NAN, NAN, NAN, NAN, NAN};
    *out = (dw_ware_glaze){glaze, refusal_of(glaze, ware), none, none, none};
    dw_melt melt;
    if (out->refusal != DW_GLAZE_GIVEN) return;
    const double t = ware->temperature_k, p = ware->pressure_pa_abs;
    if (dw_melt_from_mass(glaze->y, &melt) != DW_OK ||
        dw_glaze_iron_at(&melt, t, ware->mean.log10_po2_bar, p, &out->iron) != DW_OK) {
        out->refusal = DW_GLAZE_NO_IRON;
        return;
    }
    if (!ware->has_parcels) return;
    if (dw_glaze_iron_at(&melt, t, ware->lean.log10_po2_bar, p, &out->lean) != DW_OK ||
        dw_glaze_iron_at(&melt, t, ware->rich.log10_po2_bar, p, &out->rich) != DW_OK) {
        out->lean = out->rich = none;
    }
}

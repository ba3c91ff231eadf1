/* The working of the iron in glazes. */
#include <math.h>

#include "working_ware.h"

static void put_parcel(const char *symbol, const char *which, const dw_ware_gas *gas, dw_working *w)
{
    dw_work_put(w, DW_WORK_STEP, symbol,
                dw_work_keepf(w, "lg_p of the %s parcel, from the table", which), "",
                gas->log10_po2_bar);
}

static void put_glaze(const dw_ware *ware, const dw_ware_glaze *g, size_t index, dw_working *w)
{
    dw_melt melt;
    if (dw_melt_from_mass(g->glaze->y, &melt) != DW_OK) return;
    const char *own = dw_work_keepf(w, "glazes.%zu.", index);
    dw_work_section(w, "Iron in the glaze '%s'", g->glaze->name);
    dw_melt_write(w, dw_work_keepf(w, "The glaze '%s', all iron as FeO", g->glaze->name), g->glaze->y,
                  &melt);
    dw_glaze_iron_write(w, &g->iron,
                        &(dw_glaze_iron_shown){
                            .oxygen = "lg_pO2",
                            .where = "",
                            .kress_keys = dw_work_keepf(w, "%skress_ferrous", own),
                            .borisov_keys = dw_work_keepf(w, "%sborisov_ferrous", own),
                            .low_keys = dw_work_keepf(w, "%sferrous_low", own),
                            .high_keys = dw_work_keepf(w, "%sferrous_high", own)});
    if (!isfinite(g->lean.low_share)) return;
    put_parcel("lg_l", "leaner", &ware->lean, w);
    dw_glaze_iron_write(w, &g->lean,
                        &(dw_glaze_iron_shown){
                            .oxygen = "lg_l",
                            .where = ", leaner parcel",
                            .kress_keys = "",
                            .borisov_keys = "",
                            .low_keys = dw_work_keepf(w, "%slean_ferrous_low", own),
                            .low = "ferrous share in the leaner parcel: lower end"});
    put_parcel("lg_h", "richer", &ware->rich, w);
    dw_glaze_iron_write(w, &g->rich,
                        &(dw_glaze_iron_shown){
                            .oxygen = "lg_h",
                            .where = ", richer parcel",
                            .kress_keys = "",
                            .borisov_keys = "",
                            .high_keys = dw_work_keepf(w, "%srich_ferrous_high", own),
                            .high = "ferrous share in the richer parcel: upper end"});
}

void dw_working_glazes(const dw_ware *ware, const dw_ware_glaze *glaze, size_t count,
                       dw_working *w)
{
    if (!ware->given) return;
    for (size_t i = 0; i < count; i++) {
        if (glaze[i].refusal == DW_GLAZE_GIVEN) put_glaze(ware, &glaze[i], i, w);
    }
}

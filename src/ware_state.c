#include "ware_state.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "constants.h"
#include "diag.h"
#include "format.h"
#include "glaze_reader.h"
#include "oxygen_ratio.h"
#include "probe.h"
#include "vary_range.h"

dw_status dw_glazes_read(const dw_engine *engine, const char *text, dw_diag_list *diag,
                         dw_glazes *g)
{
    g->first = engine->data.glaze;
    g->count = engine->data.glaze_count;
    if (text == NULL) return DW_OK;
    const dw_status status = dw_glaze_from_text(&engine->data, text, diag, &g->one);
    if (status != DW_OK) return status;
    g->first = &g->one;
    g->count = 1;
    if (g->one.outside[0] != '\0') {
        dw_diag_add(diag, DW_WARNING, "glaze-outside", (dw_place){"--glaze", 0, 0},
                    "%s in the glaze: the formulas for its iron were made without, so it is not "
                    "given", g->one.outside);
    }
    return DW_OK;
}

dw_status dw_ware_state_look(const dw_engine *engine, dw_ware_state *s)
{
    for (size_t i = 0; i < s->glazes.count; ++i) {
        dw_ware_glaze_at(&s->glazes.first[i], &s->ware, &s->glaze[i]);
    }
    return dw_ware_boundaries(&engine->model, &s->ware, s->boundary, &s->boundary_count);
}

dw_oxides_view dw_ware_state_view(const dw_ware_state *s)
{
    return (dw_oxides_view){.ware = &s->ware,
                            .boundary = s->boundary,
                            .boundary_count = s->boundary_count,
                            .glaze = s->glaze,
                            .glaze_count = s->glazes.count};
}

/* ---- without a kiln ----------------------------------------------------------------------- */

static const struct {
    const char *option, *before, *after;
    dw_dim dim;
    double low, high;
} kinds[] = {
    [DW_OXYGEN_LOG10] = {"--log-po2", "log10 pO2 ", "", DW_DIM_NUMBER, -40.0, 1.0},
    [DW_OXYGEN_CO_CO2] = {"--co-co2", "CO/CO2 ", "", DW_DIM_NUMBER, 1.0e-9, 1.0e9},
    [DW_OXYGEN_VOLTS] = {"--volts", "probe ", " V", DW_DIM_VOLTAGE, -0.2, 1.6},
    [DW_OXYGEN_H2_H2O] = {"--h2-h2o", "H2/H2O ", "", DW_DIM_NUMBER, 1.0e-9, 1.0e9}};

static dw_status read_oxygen(const dw_oxides_request *request, dw_diag_list *diag, dw_ware_query *q)
{
    const char *const texts[4] = {[DW_OXYGEN_LOG10] = request->log_po2,
                                           [DW_OXYGEN_CO_CO2] = request->co_co2,
                                           [DW_OXYGEN_VOLTS] = request->volts,
                                           [DW_OXYGEN_H2_H2O] = request->h2_h2o};
    int given = 0;
    for (int i = 0; i < 4; ++i) {
        if (texts[i] == NULL) continue;
        q->given = (dw_oxygen_given)i;
        ++given;
    }
    if (given != 1) {
        dw_diag_add(diag, DW_ERROR, "one-oxygen", (dw_place){NULL, 0, 0},
                    "--at needs one of --log-po2, --co-co2, --volts and --h2-h2o");
        return DW_ERR_INPUT;
    }
    const char *text = texts[q->given];
    char message[DW_QUANTITY_MESSAGE_SIZE];
    dw_status status = dw_quantity_from_text(text, strlen(text), kinds[q->given].dim, &q->value,
                                             message);
    if (status != DW_OK && kinds[q->given].dim != DW_DIM_NUMBER) {
        /* Volts are what everybody means. */
        char bare[DW_QUANTITY_MESSAGE_SIZE];
        if (dw_quantity_from_text(text, strlen(text), DW_DIM_NUMBER, &q->value, bare) == DW_OK) {
            status = DW_OK;
        }
    }
    if (status == DW_OK && !(q->value >= kinds[q->given].low && q->value <= kinds[q->given].high)) {
        (void)dw_print(message, sizeof message, "is %.40s, expected %g to %g", text,
                       kinds[q->given].low, kinds[q->given].high);
        status = DW_ERR_INPUT;
    }
    if (status == DW_ERR_INPUT) {
        dw_diag_add(diag, DW_ERROR, "bad-value", (dw_place){kinds[q->given].option, 0, 0}, "%s",
                    message);
    }
    if (status == DW_OK) {
        (void)dw_print(q->asked, sizeof q->asked, "%s%g%s", kinds[q->given].before, q->value,
                       kinds[q->given].after);
    }
    return status;
}

static dw_status read_temperatures(const dw_oxides_request *request, dw_diag_list *diag, dw_ware_query *q)
{
    if (request->at == NULL) {
        dw_diag_add(diag, DW_ERROR, "no-temperature", (dw_place){NULL, 0, 0},
                    "without a kiln a temperature is needed: --at '1240 degC'");
        return DW_ERR_INPUT;
    }
    char message[DW_VARY_MESSAGE_SIZE];
    const dw_status status =
        dw_vary_range_parse(request->at, DW_DIM_TEMPERATURE, 773.15, 1973.15, &q->temperature_k,
                            &q->count, message);
    if (status == DW_ERR_INPUT) {
        dw_diag_add(diag, DW_ERROR, "bad-value", (dw_place){"--at", 0, 0}, "'%.100s': %s",
                    request->at, message);
    }
    return status;
}

dw_status dw_ware_query_at(const dw_engine *engine, const dw_ware_query *q, double temperature_k,
                           dw_ware *ware)
{
    dw_oxygen_ratio constants;
    const dw_status status =
        dw_oxygen_ratio_at(&engine->model.gases, temperature_k, &constants);
    if (status != DW_OK) return status;
    double log10_po2 = q->value;
    if (q->given == DW_OXYGEN_CO_CO2) log10_po2 = dw_oxygen_from_co_co2(&constants, q->value);
    if (q->given == DW_OXYGEN_H2_H2O) log10_po2 = dw_oxygen_from_h2_h2o(&constants, q->value);
    if (q->given == DW_OXYGEN_VOLTS) {
        log10_po2 = dw_probe_log10_po2_bar(q->value, temperature_k, DW_ATM_PA);
    }
    return dw_ware_at(&engine->model, temperature_k, DW_ATM_PA, log10_po2, ware);
}

/* Of a range one row alone, when that is asked. */
static dw_status pick_point(size_t point, dw_diag_list *diag, dw_ware_query *q)
{
    if (point == 0) return DW_OK;
    if (point > q->count) {
        dw_diag_add(diag, DW_ERROR, "no-such-point", (dw_place){"--at-point", 0, 0},
                    "%zu is no row of this range; allowed: 1 to %zu", point, q->count);
        return DW_ERR_INPUT;
    }
    q->temperature_k[0] = q->temperature_k[point - 1];
    q->count = 1;
    return DW_OK;
}

dw_status dw_ware_query_read(const dw_oxides_request *request, dw_diag_list *diag,
                             dw_ware_query *q)
{
    *q = (dw_ware_query){.given = DW_OXYGEN_LOG10};
    dw_status status = read_temperatures(request, diag, q);
    if (status == DW_OK) status = pick_point(request->at_point, diag, q);
    return status == DW_OK ? read_oxygen(request, diag, q) : status;
}

void dw_ware_query_free(dw_ware_query *q)
{
    free(q->temperature_k);
    q->temperature_k = NULL;
}

#include "ware_state.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "constants.h"
#include "diag.h"
#include "format.h"
#include "glaze_reader.h"
#include "kiln_schema.h"
#include "nearest.h"
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
                    "the glaze has %s, which the formulas for its iron do not cover, so the state of its "
                    "iron is not given", g->one.outside);
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

static const char *const sensors[] = {"zirconia", "heated"};
static const char *const sensor_asked[] = {"zirconia probe ", "heated sensor "};

/* One number of a request, with a unit or without where everybody means the same one. */
static dw_status read_oxygen_value(const char *text, dw_diag_list *diag, dw_ware_given *g)
{
    char message[DW_QUANTITY_MESSAGE_SIZE];
    dw_status status = dw_quantity_from_text(text, strlen(text), kinds[g->given].dim, &g->value,
                                             message);
    if (status != DW_OK && kinds[g->given].dim != DW_DIM_NUMBER) {
        /* Volts are what everybody means. */
        char bare[DW_QUANTITY_MESSAGE_SIZE];
        if (dw_quantity_from_text(text, strlen(text), DW_DIM_NUMBER, &g->value, bare) == DW_OK) {
            status = DW_OK;
        }
    }
    if (status == DW_OK && !(g->value >= kinds[g->given].low && g->value <= kinds[g->given].high)) {
        (void)dw_print(message, sizeof message, "is %.40s, expected %g to %g", text,
                       kinds[g->given].low, kinds[g->given].high);
        status = DW_ERR_INPUT;
    }
    if (status == DW_ERR_INPUT) {
        dw_diag_add(diag, DW_ERROR, "bad-value", (dw_place){kinds[g->given].option, 0, 0}, "%s",
                    message);
    }
    return status;
}

static dw_status read_oxygen(const dw_oxides_request *request, dw_diag_list *diag,
                             dw_ware_query *q)
{
    const char *const texts[4] = {[DW_OXYGEN_LOG10] = request->log_po2,
                                  [DW_OXYGEN_CO_CO2] = request->co_co2,
                                  [DW_OXYGEN_VOLTS] = request->volts,
                                  [DW_OXYGEN_H2_H2O] = request->h2_h2o};
    int given = 0;
    for (int i = 0; i < 4; ++i) {
        if (texts[i] == NULL) continue;
        q->given.given = (dw_oxygen_given)i;
        ++given;
    }
    if (given != 1) {
        dw_diag_add(diag, DW_ERROR, "one-oxygen", (dw_place){NULL, 0, 0},
                    "--at needs one of --log-po2, --co-co2, --volts and --h2-h2o");
        return DW_ERR_INPUT;
    }
    return read_oxygen_value(texts[q->given.given], diag, &q->given);
}

/* ---- the sensor --------------------------------------------------------------------------- */

static dw_status refuse(dw_diag_list *diag, const char *code, const char *option,
                        const char *message)
{
    dw_diag_add(diag, DW_ERROR, code, (dw_place){option, 0, 0}, "%s", message);
    return DW_ERR_INPUT;
}

static dw_status read_sensor_temperature(const char *text, dw_diag_list *diag, dw_ware_given *g)
{
    static const double lowest_k = 773.15, highest_k = 1973.15;
    char message[DW_QUANTITY_MESSAGE_SIZE];
    dw_status status = dw_quantity_from_text(text, strlen(text), DW_DIM_TEMPERATURE,
                                             &g->sensor_temperature_k, message);
    if (status == DW_OK &&
        !(g->sensor_temperature_k >= lowest_k && g->sensor_temperature_k <= highest_k)) {
        (void)dw_print(message, sizeof message, "is %.40s, expected 500 degC to 1700 degC", text);
        status = DW_ERR_INPUT;
    }
    if (status == DW_ERR_INPUT) return refuse(diag, "bad-value", "--sensor-temperature", message);
    return status;
}

/* Volts mean nothing without the temperature of the cell. */
static dw_status read_sensor(const dw_oxides_request *request, dw_diag_list *diag,
                             dw_ware_given *g)
{
    g->sensor = DW_SENSOR_NONE;
    g->sensor_temperature_k = NAN;
    if (g->given != DW_OXYGEN_VOLTS) {
        if (request->sensor == NULL && request->sensor_temperature == NULL) return DW_OK;
        return refuse(diag, "no-volts", request->sensor != NULL ? "--sensor" : "--sensor-temperature",
                      "goes with --volts alone");
    }
    if (request->sensor == NULL) {
        return refuse(diag, "which-sensor", "--volts",
                      "the volts of a sensor depend on the temperature of its cell, so say which "
                      "sensor it is: --sensor zirconia for a zirconia probe that the kiln heats, or "
                      "--sensor heated --sensor-temperature T for one that heats itself, such as a "
                      "car's");
    }
    for (size_t i = 0; i < 2; ++i) {
        if (strcmp(request->sensor, sensors[i]) == 0) g->sensor = (dw_sensor)(i + 1);
    }
    if (g->sensor == DW_SENSOR_NONE) {
        const char *nearest = dw_nearest_word(request->sensor, sensors, 2);
        dw_diag_add(diag, DW_ERROR, "which-sensor", (dw_place){"--sensor", 0, 0},
                    "'%.40s' is not a kind of sensor; allowed: zirconia, heated%s%s%s",
                    request->sensor, nearest != NULL ? "; did you mean '" : "",
                    nearest != NULL ? nearest : "", nearest != NULL ? "'?" : "");
        return DW_ERR_INPUT;
    }
    if (g->sensor == DW_SENSOR_ZIRCONIA) {
        if (request->sensor_temperature == NULL) return DW_OK;
        return refuse(diag, "sensor-temperature", "--sensor-temperature",
                      "goes with --sensor heated; a zirconia probe is as hot as the kiln, which is "
                      "what --at says");
    }
    if (request->sensor_temperature == NULL) {
        return refuse(diag, "sensor-temperature", "--sensor",
                      "a heated sensor reads at its own temperature: add --sensor-temperature, such as "
                      "'700 degC', from its data sheet");
    }
    return read_sensor_temperature(request->sensor_temperature, diag, g);
}

/* ---- the fuel ----------------------------------------------------------------------------- */

static dw_status read_fuel(const dw_engine *engine, const char *text, dw_diag_list *diag,
                           dw_ware_given *g)
{
    const dw_data *data = &engine->data;
    const dw_fuel *fuel = &data->fuel[0];
    const char *names[DW_FUEL_MAX];
    for (size_t i = 0; i < data->fuel_count; ++i) names[i] = data->fuel[i].name;
    g->fuel_given = text != NULL;
    if (text != NULL) {
        size_t i = 0;
        while (i < data->fuel_count && strcmp(names[i], text) != 0) ++i;
        if (i == data->fuel_count) {
            const char *nearest = dw_nearest_word(text, names, data->fuel_count);
            char allowed[400];
            dw_words_join(names, data->fuel_count, allowed, sizeof allowed);
            dw_diag_add(diag, DW_ERROR, "unknown-fuel", (dw_place){"--fuel", 0, 0},
                        "'%.40s' is not a fuel of this program; allowed: %s%s%s%s", text, allowed,
                        nearest != NULL ? "; did you mean '" : "", nearest != NULL ? nearest : "",
                        nearest != NULL ? "'?" : "");
            return DW_ERR_INPUT;
        }
        fuel = &data->fuel[i];
    }
    const dw_status status =
        dw_match_mixtures_init(&g->mixtures, &engine->model, fuel, DW_ATM_PA);
    return status == DW_ERR_DOMAIN ? DW_ERR_BUG : status;
}

/* What a heated sensor reads must be a gas that can be followed to the temperature of the ware. */
static dw_status check_heated(const dw_ware_given *g, dw_diag_list *diag)
{
    if (g->sensor != DW_SENSOR_HEATED) return DW_OK;
    dw_matched_gas gas;
    const double log10_po2 =
        dw_probe_log10_po2_bar(g->value, g->sensor_temperature_k, DW_ATM_PA);
    const dw_status status =
        dw_match_oxygen(&g->mixtures, g->sensor_temperature_k, log10_po2, &gas);
    if (status != DW_OK || gas.found != DW_MATCH_TOO_RICH) return status;
    dw_diag_add(diag, DW_ERROR, "too-rich", (dw_place){"--volts", 0, 0},
                "%g V at the sensor's temperature is a gas richer than equivalence ratio %g, which "
                "this program does not work out; check the volts, which must be those of the bare "
                "cell, and the temperature of the sensor", g->value, DW_MATCH_RICHEST);
    return DW_ERR_INPUT;
}

/* ---- the temperatures --------------------------------------------------------------------- */

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
                           dw_ware_state *s)
{
    double log10_po2;
    dw_status status = dw_given_oxygen_at(&engine->model, &q->given, temperature_k, &s->gas, &log10_po2);
    if (status == DW_ERR_NO_CONVERGE) return DW_ERR_BUG;
    if (status == DW_OK) {
        status = dw_ware_at(&engine->model, temperature_k, DW_ATM_PA, log10_po2, &s->ware);
    }
    if (status == DW_OK) s->ware.mean.equivalence_ratio = s->gas.equivalence_ratio;
    return status;
}

/* Of a range one row alone, when that is asked. */
static dw_status pick_point(size_t point, dw_diag_list *diag, dw_ware_query *q)
{
    if (point == 0) return DW_OK;
    if (point > q->count) {
        dw_diag_add(diag, DW_ERROR, "no-such-point", (dw_place){"--at-point", 0, 0},
                    "this range has no row %zu; allowed: 1 to %zu", point, q->count);
        return DW_ERR_INPUT;
    }
    q->temperature_k[0] = q->temperature_k[point - 1];
    q->count = 1;
    return DW_OK;
}

dw_status dw_ware_query_read(const dw_engine *engine, const dw_oxides_request *request,
                             dw_diag_list *diag, dw_ware_query *q)
{
    *q = (dw_ware_query){.given = {.given = DW_OXYGEN_LOG10}};
    dw_ware_given *g = &q->given;
    dw_status status = read_temperatures(request, diag, q);
    if (status == DW_OK) status = pick_point(request->at_point, diag, q);
    if (status == DW_OK) status = read_oxygen(request, diag, q);
    if (status == DW_OK) status = read_sensor(request, diag, g);
    if (status == DW_OK) status = read_fuel(engine, request->fuel, diag, g);
    if (status == DW_OK) status = check_heated(g, diag);
    if (status != DW_OK) return status;
    (void)dw_print(q->asked, sizeof q->asked, "%s%g%s",
                   g->sensor != DW_SENSOR_NONE ? sensor_asked[g->sensor - 1]
                                               : kinds[g->given].before,
                   g->value, kinds[g->given].after);
    return DW_OK;
}

void dw_ware_query_free(dw_ware_query *q)
{
    free(q->temperature_k);
    q->temperature_k = NULL;
}

#include "known_gas.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "constants.h"
#include "diag.h"
#include "format.h"
#include "kiln_schema.h"
#include "nearest.h"
#include "oxygen.h"
#include "vary_range.h"

/* ---- the oxygen --------------------------------------------------------------------------- */

static const struct {
    const char *name, *option, *before, *after;
    dw_dim dim;
    double low, high;
} kinds[] = {
    [DW_OXYGEN_LOG10] = {"log_po2", "--log-po2", "log10 pO2 ", "", DW_DIM_NUMBER, -40.0, 1.0},
    [DW_OXYGEN_CO_CO2] = {"co_co2", "--co-co2", "CO/CO2 ", "", DW_DIM_NUMBER, 1.0e-9, 1.0e9},
    [DW_OXYGEN_VOLTS] = {"volts", "--volts", "probe ", " V", DW_DIM_VOLTAGE, -0.2, 1.6},
    [DW_OXYGEN_H2_H2O] = {"h2_h2o", "--h2-h2o", "H2/H2O ", "", DW_DIM_NUMBER, 1.0e-9, 1.0e9}};

static const char *const sensors[] = {"zirconia", "heated"};
static const char *const sensor_asked[] = {"zirconia probe ", "heated sensor "};

/* One number as it was asked, with a unit or without where everybody means the same one. */
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

static dw_status read_oxygen(const dw_asking *a, dw_ware_given *g)
{
    const char *text = NULL;
    int given = 0;
    for (int i = 0; i < 4; ++i) {
        const char *asked = dw_asked(a, kinds[i].name);
        if (asked == NULL) continue;
        text = asked;
        g->given = (dw_oxygen_given)i;
        ++given;
    }
    if (given != 1) {
        dw_diag_add(a->diag, DW_ERROR, "one-oxygen", (dw_place){NULL, 0, 0},
                    "--at needs one of --log-po2, --co-co2, --volts and --h2-h2o");
        return DW_ERR_INPUT;
    }
    return read_oxygen_value(text, a->diag, g);
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
static dw_status read_sensor(const dw_asking *a, dw_ware_given *g)
{
    const char *sensor = dw_asked(a, "sensor"), *temperature = dw_asked(a, "sensor_temperature");
    dw_diag_list *diag = a->diag;
    g->sensor = DW_SENSOR_NONE;
    g->sensor_temperature_k = NAN;
    if (g->given != DW_OXYGEN_VOLTS) {
        if (sensor == NULL && temperature == NULL) return DW_OK;
        return refuse(diag, "no-volts", sensor != NULL ? "--sensor" : "--sensor-temperature",
                      "goes with --volts alone");
    }
    if (sensor == NULL) {
        return refuse(diag, "which-sensor", "--volts",
                      "the volts of a sensor depend on the temperature of its cell, so say which "
                      "sensor it is: --sensor zirconia for a zirconia probe that the kiln heats, or "
                      "--sensor heated --sensor-temperature T for one that heats itself, such as a "
                      "car's");
    }
    for (size_t i = 0; i < 2; ++i) {
        if (strcmp(sensor, sensors[i]) == 0) g->sensor = (dw_sensor)(i + 1);
    }
    if (g->sensor == DW_SENSOR_NONE) {
        const char *nearest = dw_nearest_word(sensor, sensors, 2);
        dw_diag_add(diag, DW_ERROR, "which-sensor", (dw_place){"--sensor", 0, 0},
                    "'%.40s' is not a kind of sensor; allowed: zirconia, heated%s%s%s",
                    sensor, nearest != NULL ? "; did you mean '" : "",
                    nearest != NULL ? nearest : "", nearest != NULL ? "'?" : "");
        return DW_ERR_INPUT;
    }
    if (g->sensor == DW_SENSOR_ZIRCONIA) {
        if (temperature == NULL) return DW_OK;
        return refuse(diag, "sensor-temperature", "--sensor-temperature",
                      "goes with --sensor heated; a zirconia probe is as hot as the kiln, which is "
                      "what --at says");
    }
    if (temperature == NULL) {
        return refuse(diag, "sensor-temperature", "--sensor",
                      "a heated sensor reads at its own temperature: add --sensor-temperature, such as "
                      "'700 degC', from its data sheet");
    }
    return read_sensor_temperature(temperature, diag, g);
}

/* ---- the fuel ----------------------------------------------------------------------------- */

static dw_status read_fuel(const dw_asking *a, dw_ware_given *g)
{
    const char *text = dw_asked(a, "fuel");
    const dw_data *data = a->engine->data;
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
            dw_diag_add(a->diag, DW_ERROR, "unknown-fuel", (dw_place){"--fuel", 0, 0},
                        "'%.40s' is not a fuel of this program; allowed: %s%s%s%s", text, allowed,
                        nearest != NULL ? "; did you mean '" : "", nearest != NULL ? nearest : "",
                        nearest != NULL ? "'?" : "");
            return DW_ERR_INPUT;
        }
        fuel = &data->fuel[i];
    }
    const dw_status status =
        dw_match_mixtures_init(&g->mixtures, &a->engine->model, fuel, DW_ATM_PA);
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

dw_status dw_known_temperatures(const dw_asking *a, dw_axes *axes)
{
    const char *text = dw_asked(a, "at");
    if (text == NULL) {
        dw_diag_add(a->diag, DW_ERROR, "no-temperature", (dw_place){NULL, 0, 0},
                    "without a kiln a temperature is needed: --at '1240 degC'");
        return DW_ERR_INPUT;
    }
    char message[DW_VARY_MESSAGE_SIZE];
    const dw_status status = dw_vary_range_parse(text, DW_DIM_TEMPERATURE, 773.15, 1973.15,
                                                 &axes->value[0], &axes->length[0], message);
    if (status == DW_ERR_INPUT) {
        dw_diag_add(a->diag, DW_ERROR, "bad-value", (dw_place){"--at", 0, 0}, "'%.100s': %s", text,
                    message);
    }
    axes->count = status == DW_OK;
    axes->total = axes->length[0];
    return status;
}

/* ---- the gas ------------------------------------------------------------------------------ */

dw_status dw_known_gas_at(const dw_engine *engine, const dw_ware_given *given, double temperature_k,
                          dw_matched_gas *gas, dw_ware *ware)
{
    double log10_po2;
    dw_status status = dw_given_oxygen_at(&engine->model, given, temperature_k, gas, &log10_po2);
    if (status == DW_ERR_NO_CONVERGE) return DW_ERR_BUG;
    if (status == DW_OK) {
        status = dw_ware_at(&engine->model, temperature_k, DW_ATM_PA, log10_po2, ware);
    }
    if (status == DW_OK) ware->mean.equivalence_ratio = gas->equivalence_ratio;
    return status;
}

dw_status dw_known_gas_read(const dw_asking *a, dw_ware_given *g, char asked[DW_KNOWN_GAS_SIZE])
{
    *g = (dw_ware_given){.given = DW_OXYGEN_LOG10};
    dw_status status = read_oxygen(a, g);
    if (status == DW_OK) status = read_sensor(a, g);
    if (status == DW_OK) status = read_fuel(a, g);
    if (status == DW_OK) status = check_heated(g, a->diag);
    if (status != DW_OK) return status;
    (void)dw_print(asked, DW_KNOWN_GAS_SIZE, "%s%g%s",
                   g->sensor != DW_SENSOR_NONE ? sensor_asked[g->sensor - 1]
                                               : kinds[g->given].before,
                   g->value, kinds[g->given].after);
    return DW_OK;
}

/* The working of ratios and boundaries: what follows from the oxygen of one gas. */
#include "working_ware.h"

#include <math.h>

#include "constants.h"
#include "oxygen.h"
#include "working_match.h"

void dw_work_rename_to_oxides(dw_working *w, bool given)
{
    static const dw_work_rename keys[] = {
        {"gas_temperature_k", "temperature_k"},
        {"equivalence_ratio", "equivalence_ratio parcels.0.equivalence_ratio"},
        {"log10_po2_bar", "log10_po2_bar parcels.0.log10_po2_bar"},
        {"probe_emf_v", "probe_emf_v"},
        {"carbon_activity", "parcels.0.carbon_activity"},
    };
    dw_work_rename_keys(w, keys, given ? sizeof keys / sizeof keys[0] : 1);
}

/* ---- without a kiln ----------------------------------------------------------------------- */

void dw_work_oxygen_constants(const dw_model *model, double temperature_k, dw_working *w)
{
    static const struct {
        dw_role role;
        const char *name;
    } gas[5] = {{DW_ROLE_CO, "CO"}, {DW_ROLE_CO2, "CO2"}, {DW_ROLE_H2, "H2"}, {DW_ROLE_H2O, "H2O"},
                {DW_ROLE_O2, "O2"}};
    dw_gas_potentials at;
    dw_oxygen_ratio constants;
    const bool known = dw_oxygen_ratio_at(&model->gases, temperature_k, &constants) == DW_OK &&
                       dw_gas_potentials_at(&model->gases, temperature_k, &at) == DW_OK;
    for (int i = 0; i < 5; i++) {
        dw_work_put(w, DW_WORK_DATA, dw_work_keepf(w, "gT_%s", gas[i].name),
                    dw_work_keepf(w, "free enthalpy of %s / (R T) at T_gas", gas[i].name), "",
                    known ? at.g_rt[model->gases.role[gas[i].role]] : NAN);
    }
    dw_law_write(w, "", NULL, NULL, dw_splits_co2_law, constants.k_co2);
    dw_law_write(w, "", NULL, NULL, dw_splits_h2o_law, constants.k_h2o);
    dw_work_put(w, DW_WORK_CONSTANT, "F", "Faraday constant", "C/mol", DW_FARADAY_C_MOL);
}

/* The oxygen at the ware, as it was given or as a heated sensor leads to it. */
static dw_status put_oxygen(const dw_model *model, const dw_ware *ware, const dw_ware_given *given,
                            const dw_matched_gas *gas, dw_working *w)
{
    if (given->sensor != DW_SENSOR_HEATED) {
        double log10_po2_bar;
        const dw_status status =
            dw_given_oxygen_read(model, given, ware->temperature_k, w, &log10_po2_bar);
        if (status != DW_OK) return status;
    } else {
        dw_work_step_is(w, "log10_po2_bar", "lg_pO2", "logarithm of the oxygen pressure in bar", "",
                        gas->found == DW_MATCH_GAS ? "log10(sum(e_O2)*p_air/100000)" : "lg_s",
                        ware->mean.log10_po2_bar, "definition");
    }
    dw_law_write(w, "probe_emf_v", NULL, NULL, dw_probe_emf_law, ware->probe_emf_v);
    return DW_OK;
}

dw_status dw_working_ware_given(const dw_model *model, const dw_ware *ware,
                                const dw_ware_given *given, const dw_matched_gas *gas,
                                dw_working *w)
{
    const double t = ware->temperature_k;
    const bool heated = given->sensor == DW_SENSOR_HEATED;
    dw_status status = DW_OK;
    dw_work_section(w, "The oxygen that was given");
    dw_work_put(w, DW_WORK_INPUT, "T_in", "temperature of ware and gas", "K", t);
    dw_work_step_is(w, "temperature_k", "T_gas", "temperature of ware and gas", "K", "T_in", t,
                    "definition");
    dw_work_put(w, DW_WORK_CONSTANT, "p_air", "pressure: one atmosphere, absolute", "Pa",
                ware->pressure_pa_abs);
    dw_work_put(w, DW_WORK_CONSTANT, "R", "gas constant", "J/(mol K)", DW_R_J_MOL_K);
    dw_work_oxygen_constants(model, t, w);
    if (heated) {
        status = dw_work_match_sensor(model, given, gas, w);
        if (status == DW_OK) status = dw_work_match_ware(given, gas, t, w);
    }
    if (status != DW_OK) return status;
    status = put_oxygen(model, ware, given, gas, w);
    if (!heated && status == DW_OK) status = dw_work_match_ware(given, gas, t, w);
    return status == DW_OK ? dw_work_match_shares(given, gas, t, w) : status;
}

/* ---- boundaries --------------------------------------------------------------------------- */

static bool listed(const dw_ware_boundary *b, const dw_buffer *buffer, bool compared)
{
    return b->reach != DW_BUFFER_OUT && (buffer->metal < 0) == compared;
}

/* Coefficients of a row, and what the sum is divided by. */
static void put_coefficients(const dw_oxide_table *table, const dw_ware_boundary *boundary,
                             int count, bool compared, dw_working *w)
{
    static const char *const meaning[DW_BUFFER_TERM_COUNT] = {
        "coefficient alone", "of T", "of T ln T", "of T^2", "of 1/T", "of sqrt(T)"};
    double column[DW_BUFFER_MAX];
    for (int k = 0; k <= DW_BUFFER_TERM_COUNT; k++) {
        size_t rows = 0;
        for (int i = 0; i < count; i++) {
            const dw_buffer *b = &table->buffer[boundary[i].buffer];
            if (!listed(&boundary[i], b, compared)) continue;
            column[rows++] = k < DW_BUFFER_TERM_COUNT ? b->coeff[k] : dw_buffer_divisor(b);
        }
        if (k < DW_BUFFER_TERM_COUNT) {
            dw_work_column(w, DW_WORK_DATA, dw_work_keepf(w, "c_%d", k), meaning[k], "", column);
        } else {
            dw_work_column(w, DW_WORK_DATA, "q",
                           "divides the sum: 1, or R ln 10 where it is R T ln pO2 in J/mol", "",
                           column);
        }
    }
}

/* The results of the model, one column. */
static const double *results(const dw_oxide_table *table, const dw_ware_boundary *boundary,
                             int count, bool compared, int which, double *column)
{
    size_t rows = 0;
    for (int i = 0; i < count; i++) {
        const dw_ware_boundary *b = &boundary[i];
        if (!listed(b, &table->buffer[b->buffer], compared)) continue;
        const double value[] = {b->log10_po2_bar, b->gas_minus_log10, b->co_co2_ratio,
                                b->h2_h2o_ratio, b->probe_emf_v};
        column[rows++] = value[which];
    }
    return column;
}

static void put_boundaries(const dw_model *model, const dw_ware_boundary *boundary, int count,
                           bool compared, dw_working *w)
{
    const struct {
        const char *key, *names, *meaning;
        const dw_law *law;
    } steps[] = {
        {"log10_po2_bar", NULL, NULL, dw_buffer_law},
        {"gas_minus_log10", NULL, NULL, dw_ware_less_law},
        {"co_co2_ratio", "CO_CO2>CO_b lg_pO2>lg_b", "CO / CO2 of a gas at the boundary",
         dw_gas_ratio_law},
        {"h2_h2o_ratio", "CO_CO2>H2_b K_1>K_2 lg_pO2>lg_b", "H2 / H2O of a gas at the boundary",
         dw_gas_ratio_law},
        {"probe_emf_v", "E_p>E_b lg_pO2>lg_b", "oxygen probe in it", dw_probe_emf_law}};
    const dw_oxide_table *table = &model->data->oxides;
    size_t rows = 0;
    for (int i = 0; i < count; i++) {
        rows += listed(&boundary[i], &table->buffer[boundary[i].buffer], compared);
    }
    if (rows == 0) return;
    const char *sources = "";
    for (int i = 0; i < count; i++) {
        const dw_buffer *b = &table->buffer[boundary[i].buffer];
        if (!listed(&boundary[i], b, compared)) continue;
        sources = dw_work_keepf(w, "%s%s %s [%s]", sources, sources[0] == '\0' ? "" : ",", b->key,
                                b->source);
    }
    dw_work_text(w, "Coefficients:%s.", sources);
    dw_work_table_begin(w, compared ? "Calibrations for comparison" : "Boundaries", "calibration",
                        rows);
    rows = 0;
    for (int i = 0; i < count; i++) {
        const dw_buffer *b = &table->buffer[boundary[i].buffer];
        if (!listed(&boundary[i], b, compared)) continue;
        dw_work_row(w, rows, "%s", b->key);
        dw_work_row_key(w, rows, "%zu", rows);
        rows++;
    }
    put_coefficients(table, boundary, count, compared, w);
    for (size_t k = 0; k < sizeof steps / sizeof steps[0]; k++) {
        double column[DW_BUFFER_MAX];
        dw_law_column(w, dw_work_keepf(w, "%s.*.%s", compared ? "comparison" : "boundaries",
                                       steps[k].key),
                      steps[k].names, steps[k].meaning, steps[k].law,
                      results(table, boundary, count, compared, (int)k, column));
    }
}

/* How far each metal is from the nearest calibration of any of its boundaries. */
static void put_metals(const dw_model *model, const dw_ware *ware,
                       const dw_ware_boundary *boundary, dw_working *w)
{
    const dw_oxide_table *table = &model->data->oxides;
    dw_work_text(w, "A metal has the form between whose boundaries the gas is; where several "
                    "calibrations of a boundary exist, the first is used. A gas that is nearer "
                    "than %g to any of them, or between two of them, is near the boundary.",
                 table->band_log10);
    for (int i = 0; i < table->metal_count; i++) {
        const dw_ware_metal *metal = &ware->metal[i];
        if (!metal->known || metal->mean.nearest < 0) continue;
        const char *key = table->buffer[metal->mean.nearest].key;
        dw_work_put(w, DW_WORK_STEP, "lg_n", dw_work_keepf(w, "lg_b of %s", key), "",
                    boundary[metal->mean.nearest].log10_po2_bar);
        dw_law_write(w, dw_work_keepf(w, "metals.%s.distance_log10", table->metal[i].name), NULL,
                     dw_work_keepf(w, "%s: distance to %s, the nearest of its calibrations",
                                   table->metal[i].name, key),
                     dw_oxide_distance_law, metal->mean.margin_log10);
    }
}

void dw_working_ware(const dw_model *model, const dw_ware *ware, const dw_ware_boundary *boundary,
                     int count, dw_working *w)
{
    if (!ware->given) return;
    dw_work_section(w, "Gases that go with this oxygen");
    dw_law_write(w, "co_co2_ratio", "CO_CO2>CO_CO2_e", NULL, dw_gas_ratio_law, ware->co_co2_ratio);
    dw_law_write(w, "h2_h2o_ratio", "CO_CO2>H2_H2O_e K_1>K_2", "H2 / H2O at equilibrium",
                 dw_gas_ratio_law, ware->h2_h2o_ratio);
    dw_work_section(w, "Boundaries between oxides");
    dw_work_text(w, "At a boundary two forms of a metal exist side by side. Where the gas has "
                    "more oxygen, the form richer in oxygen is stable, which is the first of the "
                    "two names.");
    put_boundaries(model, boundary, count, false, w);
    put_metals(model, ware, boundary, w);
    dw_work_section(w, "Other calibrations, for comparison");
    put_boundaries(model, boundary, count, true, w);
}

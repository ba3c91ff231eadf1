/* The working of ratios and boundaries: what follows from the oxygen of one gas. */
#include "working_ware.h"

#include <math.h>

#include "constants.h"
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
    const bool known = dw_gas_potentials_at(&model->gases, temperature_k, &at) == DW_OK;
    for (int i = 0; i < 5; i++) {
        dw_work_put(w, DW_WORK_DATA, dw_work_keepf(w, "gT_%s", gas[i].name),
                    dw_work_keepf(w, "free enthalpy of %s / (R T) at T_gas", gas[i].name), "",
                    known ? at.g_rt[model->gases.role[gas[i].role]] : NAN);
    }
    dw_work_step_is(w, "", "K_1", "constant of CO2 = CO + O2/2", "bar^(1/2)",
                    "exp(gT_CO2 - gT_CO - gT_O2/2)", NAN, "nasa9");
    dw_work_step_is(w, "", "K_2", "constant of H2O = H2 + O2/2", "bar^(1/2)",
                    "exp(gT_H2O - gT_H2 - gT_O2/2)", NAN, "nasa9");
    dw_work_put(w, DW_WORK_CONSTANT, "F", "Faraday constant", "C/mol", DW_FARADAY_C_MOL);
}

/* The oxygen at the ware, as it was given or as a heated sensor leads to it. */
static void put_oxygen(const dw_ware *ware, const dw_ware_given *given, const dw_matched_gas *gas,
                       dw_working *w)
{
    static const struct {
        const char *symbol, *meaning, *unit, *formula, *source;
    } ways[] = {
        [DW_OXYGEN_LOG10] = {"lg_in", "logarithm of the oxygen pressure in bar", "", "lg_in",
                             "definition"},
        [DW_OXYGEN_CO_CO2] = {"CO_CO2_in", "CO / CO2", "", "2*log10(K_1/CO_CO2_in)", "nasa9"},
        [DW_OXYGEN_VOLTS] = {"E_in", "voltage of a zirconia probe against dry air", "V",
                             "log10(0.2095*p_air/100000) - E_in*4*F/(R*T_gas*ln(10))", "nernst"},
        [DW_OXYGEN_H2_H2O] = {"H2_H2O_in", "H2 / H2O", "", "2*log10(K_2/H2_H2O_in)", "nasa9"}};
    const dw_oxygen_given way = given->given;
    const bool heated = given->sensor == DW_SENSOR_HEATED;
    if (!heated) {
        dw_work_put(w, DW_WORK_INPUT, ways[way].symbol, ways[way].meaning, ways[way].unit,
                    given->value);
    }
    dw_work_step_is(w, "log10_po2_bar", "lg_pO2", "logarithm of the oxygen pressure in bar", "",
                    !heated                        ? ways[way].formula
                    : gas->found == DW_MATCH_GAS ? "log10(sum(e_O2)*p_air/100000)"
                                                   : "lg_s",
                    ware->mean.log10_po2_bar, heated ? "definition" : ways[way].source);
    dw_work_step_is(w, "probe_emf_v", "E_p", "voltage of a zirconia probe against dry air", "V",
                    "R*T_gas/(4*F)*ln(0.2095*p_air/100000/10^lg_pO2)", ware->probe_emf_v, "nernst");
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
        status = dw_work_match_sensor(given, gas, w);
        if (status == DW_OK) status = dw_work_match_ware(given, gas, t, w);
    }
    if (status != DW_OK) return status;
    put_oxygen(ware, given, gas, w);
    if (!heated) status = dw_work_match_ware(given, gas, t, w);
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
            const bool log10_form = b->form == DW_BUFFER_LOG10;
            column[rows++] = k == DW_BUFFER_TERM_COUNT
                                 ? (log10_form ? 1.0 : DW_R_J_MOL_K * log(10.0))
                                 : (log10_form && k > 2 ? 0.0 : b->coeff[k]);
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
    static const struct {
        const char *key, *symbol, *meaning, *unit, *formula, *source;
    } steps[] = {
        {"log10_po2_bar", "lg_b", "logarithm of the oxygen pressure at the boundary, in bar", "",
         "(c_0 + c_1*T_gas + c_2*T_gas*ln(T_gas) + c_3*T_gas^2 + c_4/T_gas + "
         "c_5*sqrt(T_gas))/(q*T_gas)", "definition"},
        {"gas_minus_log10", "less_b", "gas less boundary", "", "lg_pO2 - lg_b", "definition"},
        {"co_co2_ratio", "CO_b", "CO / CO2 of a gas at the boundary", "", "K_1/10^(lg_b/2)",
         "nasa9"},
        {"h2_h2o_ratio", "H2_b", "H2 / H2O of a gas at the boundary", "", "K_2/10^(lg_b/2)",
        "nasa9"},
        {"probe_emf_v", "E_b", "oxygen probe in it", "V",
         "R*T_gas/(4*F)*ln(0.2095*p_air/100000/10^lg_b)", "nernst"}};
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
        dw_work_column_is(w, dw_work_keepf(w, "%s.*.%s", compared ? "comparison" : "boundaries",
                                           steps[k].key),
                          steps[k].symbol, steps[k].meaning, steps[k].unit, steps[k].formula,
                          results(table, boundary, count, compared, (int)k, column),
                          steps[k].source);
    }
}

/* How far each metal is from the nearest calibration of any of its boundaries. */
static void put_metals(const dw_model *model, const dw_ware *ware,
                       const dw_ware_boundary *boundary, int count, dw_working *w)
{
    const dw_oxide_table *table = &model->data->oxides;
    dw_work_text(w, "A metal has the form between whose boundaries the gas is; where several "
                    "calibrations of a boundary exist, the first is used. A gas that is nearer "
                    "than %g to any of them, or between two of them, is near the boundary.",
                 table->band_log10);
    for (int i = 0; i < table->metal_count; i++) {
        const dw_ware_metal *metal = &ware->metal[i];
        if (!metal->known || metal->mean.nearest < 0) continue;
        double value = NAN;
        for (int k = 0; k < count; k++) {
            if (boundary[k].buffer == metal->mean.nearest) value = boundary[k].log10_po2_bar;
        }
        const char *key = table->buffer[metal->mean.nearest].key;
        dw_work_put(w, DW_WORK_STEP, "lg_n", dw_work_keepf(w, "lg_b of %s", key), "", value);
        dw_work_step_is(w, dw_work_keepf(w, "metals.%s.distance_log10", table->metal[i].name),
                        "d_m",
                        dw_work_keepf(w, "%s: distance to %s, the nearest of its calibrations",
                                      table->metal[i].name, key),
                        "", "abs(lg_pO2 - lg_n)", metal->mean.margin_log10, "definition");
    }
}

void dw_working_ware(const dw_model *model, const dw_ware *ware, const dw_ware_boundary *boundary,
                     int count, dw_working *w)
{
    if (!ware->given) return;
    dw_work_section(w, "Gases that go with this oxygen");
    dw_work_step_is(w, "co_co2_ratio", "CO_CO2_e", "CO / CO2 at equilibrium", "",
                    "K_1/10^(lg_pO2/2)", ware->co_co2_ratio, "nasa9");
    dw_work_step_is(w, "h2_h2o_ratio", "H2_H2O_e", "H2 / H2O at equilibrium", "",
                    "K_2/10^(lg_pO2/2)", ware->h2_h2o_ratio, "nasa9");
    dw_work_section(w, "Boundaries between oxides");
    dw_work_text(w, "At a boundary two forms of a metal exist side by side. Where the gas has "
                    "more oxygen, the form richer in oxygen is stable, which is the first of the "
                    "two names.");
    put_boundaries(model, boundary, count, false, w);
    put_metals(model, ware, boundary, count, w);
    dw_work_section(w, "Other calibrations, for comparison");
    put_boundaries(model, boundary, count, true, w);
}

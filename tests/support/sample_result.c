#include "sample_result.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { CO2, H2O, CO, H2, O2, N2, AR, COUNT };

static const char *const names[COUNT] = {"CO2", "H2O", "CO", "H2", "O2", "N2", "Ar"};

void sample_data(dw_data *data)
{
    static const struct {
        const char *word;
        double phi_below;
        const char *meaning;
    } bands[] = {
        {"oxidizing", 0.98, "More air comes in than the gas can use; oxygen is left over."},
        {"neutral", 1.01, "Gas and air just about match, and small changes tip it."},
        {"light", 1.05, "A little gas is left unburnt, enough for copper to go to metal."},
        {"medium", 1.15, "A few per cent of the kiln gas is carbon monoxide and hydrogen."},
        {"heavy", INFINITY, "Much gas leaves unburnt, which costs heat and makes much CO."}};
    memset(data, 0, sizeof *data);
    data->species.count = COUNT;
    for (int i = 0; i < COUNT; ++i) {
        dw_species *s = &data->species.species[i];
        (void)snprintf(s->name, sizeof s->name, "%s", names[i]);
        s->in_equilibrium = true;
    }
    data->band_count = sizeof bands / sizeof bands[0];
    for (size_t i = 0; i < data->band_count; ++i) {
        dw_band *b = &data->band[i];
        (void)snprintf(b->word, sizeof b->word, "%s", bands[i].word);
        (void)snprintf(b->meaning, sizeof b->meaning, "%s", bands[i].meaning);
        b->phi_below = bands[i].phi_below;
    }
}

static void name(char out[DW_NAME_SIZE], const char *text)
{
    (void)snprintf(out, DW_NAME_SIZE, "%s", text);
}

void sample_kiln(dw_kiln *kiln)
{
    memset(kiln, 0, sizeof *kiln);
    name(kiln->name, "Yard kiln");
    name(kiln->fuel.name, "propane");
    kiln->site = (dw_site){.pressure_pa_abs = 98765.0, .air_temperature_k = 291.35,
                           .relative_humidity = 0.57, .outside_temperature_k = 284.15,
                           .room_temperature_k = 291.35, .room_pressure_pa = -1.3};
    kiln->chamber = (dw_chamber){.width_m = 0.91, .depth_m = 0.83, .height_m = 1.07,
                                 .packed_frac = 0.35, .leak_area_m2 = 52.3e-4,
                                 .leak_discharge_coeff = 0.62, .leak_per_surface = 0.001};
    kiln->burner_count = 2;
    name(kiln->burner[0].name, "left");
    name(kiln->burner[1].name, "right");
    for (int i = 0; i < 2; ++i) {
        dw_burner *b = &kiln->burner[i];
        b->count = 1;
        b->lit = true;
        b->height_m = 0.05;
        b->gas_pressure_pa = 4230.0;
        b->jet_diameter_m = 1.83e-3;
        b->throat_diameter_m = 22.1e-3;
        b->port_diameter_m = 27.7e-3;
    }
    kiln->opening_count = 3;
    name(kiln->opening[0].name, "air ports");
    name(kiln->opening[1].name, "lower spyhole");
    name(kiln->opening[2].name, "top spyhole");
    static const double areas[] = {61.3e-4, 4.9e-4, 4.9e-4}, heights[] = {0.07, 0.35, 0.92};
    for (int i = 0; i < 3; ++i) {
        kiln->opening[i].count = 1;
        kiln->opening[i].area_m2 = areas[i];
        kiln->opening[i].open_frac = 1.0;
        kiln->opening[i].height_m = heights[i];
    }
    kiln->flue_count = 1;
    name(kiln->flue[0].name, "back flue");
    kiln->flue[0].count = 1;
    kiln->flue[0].area_m2 = 0.0306;
    kiln->flue[0].height_m = 0.11;
    kiln->flue[0].damper.open_frac = 0.372;
    kiln->stack = (dw_stack){.present = true, .height_m = 4.13, .area_m2 = 0.0529};
    kiln->operating = (dw_operating){.gas_pressure_pa = 4230.0, .gas_temperature_k = 291.35,
                                     .chamber_temperature_k = 1456.15};
    kiln->settings = (dw_settings){.unmixedness = 0.05, .quench_temperature_k = 1100.0,
                                   .quench_temperature_rich_k = 1100.0};
}

void sample_find(dw_result *result, dw_finding_code code, int index, double value)
{
    if (result->finding_count == DW_FINDING_MAX) return;
    result->finding[result->finding_count++] = (dw_finding){code, index, value};
}

static void add_flow(dw_result *result, dw_flow_kind kind, int index, double mass_kg_h,
                     double height_m, double dp_pa)
{
    result->flow[result->flow_count++] =
        (dw_flow){kind, index, mass_kg_h / 3600.0, height_m, dp_pa};
}

static void fill_gas(dw_gas *gas, const double *x)
{
    for (int i = 0; i < COUNT; ++i) gas->x[i] = x[i];
    gas->molar_mass_kg_mol = 0.02793;
}

void sample_result(dw_result *result)
{
    static const double wet[] = {0.1043, 0.1561, 0.0241, 0.0137, 0.0012, 0.6927, 0.0079};
    static const double dry[] = {0.1236, 0.0, 0.0286, 0.0162, 0.0014, 0.8208, 0.0094};
    memset(result, 0, sizeof *result);
    result->solved = true;
    result->air_ratio = 0.9183;
    result->equivalence_ratio = 1.0890;
    result->primary_aeration = 0.5127;
    result->stoichiometric_air_kg_kg = 15.793;
    result->gas_flow_kg_s = 4.317 / 3600.0;
    result->air_flow_kg_s = 62.61 / 3600.0;
    result->heat_input_net_w = 55570.0;
    result->heat_input_gross_w = 60410.0;
    result->pressure_datum_pa = -5.13;
    result->datum_height_m = 0.05;
    result->pressure_floor_pa = -5.61;
    result->pressure_top_pa = 4.17;
    result->neutral = DW_NEUTRAL_INSIDE;
    result->neutral_plane_m = 0.614;
    result->has_stack = true;
    result->draft_theoretical_pa = 34.91;
    result->draft_stack_base_pa = 22.37;
    result->draft_flue_exit_pa = 21.83;
    result->draft_floor_pa = 5.61;
    result->draft_top_pa = -4.17;
    result->stack_mean_temperature_k = 1203.0;
    result->stack_base_temperature_k = 1451.0;
    result->flue_flow_kg_s = 64.37 / 3600.0;
    result->stack_flow_kg_s = 64.37 / 3600.0;
    result->spill_kg_s = 2.557 / 3600.0;
    result->room_opening_kg_s = 2.557 / 3600.0;
    add_flow(result, DW_FLOW_GAS_JET, 0, 2.1585, 0.05, 4235.1);
    add_flow(result, DW_FLOW_GAS_JET, 1, 2.1585, 0.05, 4235.1);
    add_flow(result, DW_FLOW_PRIMARY_AIR, 0, 17.47, 0.05, 5.13);
    add_flow(result, DW_FLOW_PRIMARY_AIR, 1, 17.47, 0.05, 5.13);
    add_flow(result, DW_FLOW_OPENING, 0, 24.93, 0.07, 4.95);
    add_flow(result, DW_FLOW_OPENING, 1, 1.213, 0.35, 2.41);
    add_flow(result, DW_FLOW_OPENING, 2, -0.843, 0.92, 2.79);
    add_flow(result, DW_FLOW_LEAK_IN, -1, 1.527, 0.31, 2.81);
    add_flow(result, DW_FLOW_LEAK_OUT, -1, -1.714, 0.84, 2.08);
    add_flow(result, DW_FLOW_FLUE, 0, 64.37, 0.11, 17.31);
    add_flow(result, DW_FLOW_STACK, -1, 64.37, 0.11, 22.37);
    result->gas_temperature_k = 1456.15;
    result->composition_temperature_k = 1456.15;
    fill_gas(&result->gas_wet, wet);
    fill_gas(&result->gas_dry, dry);
    fill_gas(&result->gas_mean, wet);
    result->unmixedness = 0.05;
    result->reducing_frac = 0.1268;
    result->co_co2_ratio = 0.2311;
    result->h2_h2o_ratio = 0.0878;
    result->log10_po2_bar = -9.833;
    result->probe_emf_v = 0.6610;
    result->carbon_activity = 3.17e-4;
    result->band = 3;
    result->dphi_ddamper = -2.134;
    result->dphi_dgas_pressure_per_pa = 7.93e-5;
    result->heat_released_w = 48310.0;
    result->heat_unburnt_w = 7260.0;
    result->heat_sensible_w = 32980.0;
    result->heat_to_kiln_w = 15330.0;
    result->closure_mass = 3.1e-14;
    result->closure_element[DW_C] = -2.2e-15;
    result->closure_energy = 4.4e-13;
    result->density_rounds = 7;
    result->pressure_steps = 93;
    result->worst_residual_kg_s = 5.7e-16;
    sample_find(result, DW_FIND_POSITIVE_AT_OPENING, 2, 2.79);
    sample_find(result, DW_FIND_SPILL, -1, result->spill_kg_s);
}

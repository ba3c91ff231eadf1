#include "finding_text.h"
#include "report_oxides.h"
#include "report_parts.h"

#include <math.h>
#include <string.h>

/* A number of the result, or null when nothing was solved or it has no value here. */
static dw_item *put(const dw_maker *m, dw_item *parent, const char *key, const char *label,
                    dw_number number)
{
    if (m->result->solved && isfinite(number.si)) {
        return dw_report_number(m->report, parent, key, label, number);
    }
    dw_item *item =
        dw_report_null(m->report, parent, key, m->result->solved ? label : NULL, "-");
    if (item != NULL) item->number = number;
    return item;
}

/* The same with a remark; a null keeps its own. */
static void put_noted(const dw_maker *m, dw_item *parent, const char *key, const char *label,
                      dw_number number, const char *note)
{
    dw_item *item = put(m, parent, key, label, number);
    if (item != NULL && item->kind == DW_ITEM_NUMBER) dw_report_note(m->report, item, note);
}

static dw_number ratio(double value)
{
    dw_number number = dw_number_plain(value, 4);
    number.resolution_si = 1.0e-3;
    return number;
}

static dw_number flow(double si)
{
    return dw_number_of(si, DW_DIM_MASS_FLOW, 3);
}

static dw_number power(double si)
{
    return dw_number_of(si, DW_DIM_POWER, 3);
}

/* Without a solution the keys are there with null in them, and the text has no section. */
static dw_item *section(const dw_maker *m, const char *label)
{
    return dw_report_group(m->report, dw_report_root(m->report), NULL,
                           m->result->solved ? label : NULL, DW_STYLE_SECTION);
}

/* ---- sections ----------------------------------------------------------------------------- */

static void put_air(const dw_maker *m)
{
    const dw_result *x = m->result;
    dw_item *s = section(m, "Air and fuel");
    (void)put(m, s, "air_ratio", "air ratio", ratio(x->air_ratio));
    (void)put(m, s, "equivalence_ratio", "equivalence ratio", ratio(x->equivalence_ratio));
    put_noted(m, s, "primary_aeration", "primary air / air needed",
              dw_number_share(x->primary_aeration, 3), "all burners together");
    dw_number need = dw_number_plain(x->stoichiometric_air_kg_kg, 4);
    need.unit = "to 1 of gas";
    (void)put(m, s, "stoichiometric_air_kg_kg", "air needed, by weight", need);
    (void)put(m, s, "gas_flow_kg_s", "gas flow", flow(x->gas_flow_kg_s));
    (void)put(m, s, "air_flow_kg_s", "air into the chamber, all ways", flow(x->air_flow_kg_s));
    (void)put(m, s, "heat_input_net_w", "heat input, net", power(x->heat_input_net_w));
    (void)put(m, s, "heat_input_gross_w", "heat input, gross", power(x->heat_input_gross_w));
    (void)put(m, s, "dphi_ddamper", NULL, dw_number_plain(x->dphi_ddamper, 3));
    (void)put(m, s, NULL, "equivalence ratio for 1 % damper",
              dw_number_plain(0.01 * x->dphi_ddamper, 3));
    (void)put(m, s, "dphi_dgas_pressure_per_pa", NULL,
              dw_number_plain(x->dphi_dgas_pressure_per_pa, 3));
    dw_number step = dw_number_plain(1000.0 * x->dphi_dgas_pressure_per_pa, 3);
    dw_report_label_us(put(m, s, NULL, "equivalence ratio for 1 kPa gas", step),
                       "equivalence ratio for 4.01 in w.c. gas");
}

static const char *neutral_reason(const dw_result *x)
{
    switch (x->neutral) {
    case DW_NEUTRAL_ALL_IN: return "above the top: all openings draw in";
    case DW_NEUTRAL_ALL_OUT: return "below the floor: all openings push out";
    default: return NULL;
    }
}

/* One number where one counts: by openings and by flues apart only where flues end in the room. */
static void put_into_room(const dw_maker *m, dw_item *s)
{
    const dw_result *x = m->result;
    const bool flues = x->solved && x->room_flue_kg_s > 0.0;
    (void)put(m, s, "into_room_kg_s", "kiln gas into the room",
              flow(x->room_opening_kg_s + x->room_flue_kg_s));
    (void)put(m, s, "into_room_by_openings_kg_s", flues ? "of that by openings" : NULL,
              flow(x->room_opening_kg_s));
    (void)put(m, s, "into_room_by_flues_kg_s", flues ? "by flues that end in the room" : NULL,
              flow(x->room_flue_kg_s));
    (void)put(m, s, "spill_kg_s", NULL, flow(x->spill_kg_s));
}

static void put_draft(const dw_maker *m)
{
    const dw_result *x = m->result;
    dw_report *r = m->report;
    dw_item *s = section(m, "Pressures and draft");
    (void)put(m, s, "pressure_floor_pa", "chamber pressure, floor",
              dw_number_draft(x->pressure_floor_pa));
    (void)put(m, s, "pressure_top_pa", "chamber pressure, top",
              dw_number_draft(x->pressure_top_pa));
    (void)put(m, s, "pressure_datum_pa", "chamber pressure, lowest burner",
              dw_number_draft(x->pressure_datum_pa));
    (void)put(m, s, "datum_height_m", "height of the lowest burner",
              dw_number_height(x->datum_height_m));
    const char *reason = x->solved ? neutral_reason(x) : NULL;
    dw_item *plane = put(m, s, "neutral_plane_m", "neutral plane",
                         dw_number_height(x->neutral_plane_m));
    if (reason != NULL) {
        dw_report_note(r, plane, reason);
        (void)dw_report_text(r, s, "neutral_plane_reason", NULL, reason);
    } else {
        (void)dw_report_null(r, s, "neutral_plane_reason", NULL, NULL);
    }
    (void)put(m, s, "draft_floor_pa", "draft at the floor", dw_number_draft(x->draft_floor_pa));
    (void)put(m, s, "draft_top_pa", "draft at the top", dw_number_draft(x->draft_top_pa));
    const bool stack = x->solved && x->has_stack;
    (void)put(m, s, "draft_flue_exit_pa", stack ? "draft after the (first) damper" : NULL,
              dw_number_draft(x->draft_flue_exit_pa));
    (void)put(m, s, "draft_stack_base_pa", stack ? "draft at the stack base" : NULL,
              dw_number_draft(x->draft_stack_base_pa));
    put_noted(m, s, "draft_theoretical_pa", stack ? "theoretical draft" : NULL,
              dw_number_draft(x->draft_theoretical_pa), "the stack's pull before all losses");
    (void)put(m, s, "flue_flow_kg_s", "flow through all flues", flow(x->flue_flow_kg_s));
    (void)put(m, s, "stack_flow_kg_s", stack ? "flow up the stack" : NULL, flow(x->stack_flow_kg_s));
    put_into_room(m, s);
    (void)put(m, s, "stack_base_temperature_k", stack ? "gas temperature, stack base" : NULL,
              dw_number_temperature(x->stack_base_temperature_k));
    (void)put(m, s, "stack_mean_temperature_k", stack ? "mean gas temperature, stack" : NULL,
              dw_number_temperature(x->stack_mean_temperature_k));
}

/** Words for a kind of flow, and where its name comes from. */
static const struct {
    const char *kind, *what;
    dw_subject subject;
} flow_words[] = {
    [DW_FLOW_GAS_JET] = {"gas_jet", "gas", DW_SUBJECT_BURNER},
    [DW_FLOW_AIR_JET] = {"air_jet", "compressed air", DW_SUBJECT_BURNER},
    [DW_FLOW_PRIMARY_AIR] = {"primary_air", "primary air", DW_SUBJECT_BURNER},
    [DW_FLOW_UNLIT_BURNER] = {"unlit_burner", "burner that is off", DW_SUBJECT_BURNER},
    [DW_FLOW_OPENING] = {"opening", "opening", DW_SUBJECT_OPENING},
    [DW_FLOW_TALL_IN] = {"tall_opening", "opening, lower part", DW_SUBJECT_OPENING},
    [DW_FLOW_TALL_OUT] = {"tall_opening", "opening, upper part", DW_SUBJECT_OPENING},
    [DW_FLOW_LEAK_IN] = {"leak", "leaks, lower part", DW_SUBJECT_KILN},
    [DW_FLOW_LEAK_OUT] = {"leak", "leaks, upper part", DW_SUBJECT_KILN},
    [DW_FLOW_FLUE] = {"flue", "flue", DW_SUBJECT_FLUE},
    [DW_FLOW_RELIEF] = {"relief", "into the stack base", DW_SUBJECT_KILN},
    [DW_FLOW_STACK] = {"stack", "up the stack", DW_SUBJECT_KILN},
};

static const char *flow_name(const dw_kiln *kiln, const dw_flow *f)
{
    const int i = f->index;
    switch (flow_words[f->kind].subject) {
    case DW_SUBJECT_BURNER: return i >= 0 && i < kiln->burner_count ? kiln->burner[i].name : "";
    case DW_SUBJECT_OPENING: return i >= 0 && i < kiln->opening_count ? kiln->opening[i].name : "";
    case DW_SUBJECT_FLUE: return i >= 0 && i < kiln->flue_count ? kiln->flue[i].name : "";
    default: break;
    }
    if (f->kind == DW_FLOW_STACK) return "stack";
    return f->kind == DW_FLOW_RELIEF ? "relief opening" : "leaks";
}

static bool flows_in(const dw_flow *f)
{
    const bool outward = f->kind == DW_FLOW_FLUE || f->kind == DW_FLOW_STACK;
    return outward ? f->mass_kg_s < 0.0 : f->mass_kg_s >= 0.0;
}

static void put_flows(const dw_maker *m)
{
    dw_report *r = m->report;
    if (!m->result->solved) {
        (void)dw_report_null(r, dw_report_root(r), "flows", NULL, NULL);
        return;
    }
    const dw_column columns[] = {
        {.key = "name", .label = "name", .is_text = true},
        {.key = "kind", .is_text = true},
        {.label = "what", .is_text = true},
        {.key = "direction", .label = "", .is_text = true},
        {.key = "mass_kg_s", .label = "flow", .number = flow(0.0)},
        {.key = "height_m", .label = "at height", .number = dw_number_height(0.0)},
        {.key = "dp_pa", .label = "driven by", .number = dw_number_draft(0.0)}};
    dw_item *table = dw_report_table(r, dw_report_root(r), "flows", "Flows in and out", columns, 7);
    for (int i = 0; i < m->result->flow_count; ++i) {
        const dw_flow *f = &m->result->flow[i];
        dw_cell *cell = dw_report_row(r, table);
        if (cell == NULL) return;
        cell[0].text = flow_name(m->source->kiln, f);
        cell[1].text = flow_words[f->kind].kind;
        cell[2].text = flow_words[f->kind].what;
        cell[3].text = flows_in(f) ? "in" : "out";
        cell[4].si = fabs(f->mass_kg_s);
        cell[5].si = f->height_m;
        cell[6].si = f->dp_pa;
    }
}

static bool is_product_gas(const dw_species *species)
{
    return species->in_equilibrium && !species->condensed;
}

static void put_gas_object(const dw_maker *m, const char *key, const dw_gas *gas, bool wet)
{
    dw_report *r = m->report;
    dw_item *root = dw_report_root(r);
    if (!m->result->solved) {
        (void)dw_report_null(r, root, key, NULL, NULL);
        return;
    }
    const dw_species_table *table = &m->source->data->species;
    dw_item *group = dw_report_group(r, root, key, NULL, DW_STYLE_SECTION);
    for (size_t i = 0; i < table->count; ++i) {
        const dw_species *species = &table->species[i];
        if (!is_product_gas(species) || (!wet && strcmp(species->name, "H2O") == 0)) continue;
        (void)put(m, group, species->name, NULL, dw_number_share(gas->x[i], 4));
    }
}

static void put_gas(const dw_maker *m)
{
    dw_report *r = m->report;
    put_gas_object(m, "gas_wet", &m->result->gas_wet, true);
    put_gas_object(m, "gas_dry", &m->result->gas_dry, false);
    if (!m->result->solved) return;
    const dw_species_table *species = &m->source->data->species;
    dw_number share = dw_number_share(0.0, 4);
    share.resolution_si = 1.0e-5;
    const dw_column columns[] = {{.label = "gas", .is_text = true},
                                 {.label = "wet", .number = share},
                                 {.label = "dry", .number = share}};
    dw_item *table = dw_report_table(r, dw_report_root(r), NULL, "Gas in the chamber", columns, 3);
    for (size_t i = 0; i < species->count; ++i) {
        const double wet = m->result->gas_wet.x[i];
        if (!is_product_gas(&species->species[i]) || !(wet >= 0.5e-5)) continue;
        dw_cell *cell = dw_report_row(r, table);
        if (cell == NULL) return;
        cell[0].text = species->species[i].name;
        cell[1].si = wet;
        if (strcmp(species->species[i].name, "H2O") != 0) cell[2].si = m->result->gas_dry.x[i];
    }
}

static void put_oxygen(const dw_maker *m)
{
    const dw_result *x = m->result;
    dw_report *r = m->report;
    dw_item *s = section(m, "Reduction and oxygen");
    if (x->solved && x->band >= 0 && (size_t)x->band < m->source->data->band_count) {
        (void)dw_report_text(r, s, "reduction_word", NULL, m->source->data->band[x->band].word);
        (void)dw_report_text(r, s, NULL, "atmosphere",
                             dw_reduction_phrase(r, m->source->data, x->band));
        (void)dw_report_bool(r, s, "sooting", "likely to smoke (judgement)", x->sooting);
    } else {
        (void)dw_report_null(r, s, "reduction_word", NULL, NULL);
        (void)dw_report_null(r, s, "sooting", NULL, NULL);
    }
    put_noted(m, s, "reducing_fraction", "reducing fraction",
              dw_number_share(x->reducing_frac, 3), "(CO + H2) / (CO + H2 + CO2 + H2O)");
    (void)put(m, s, "co_co2_ratio", "CO / CO2", dw_number_plain(x->co_co2_ratio, 3));
    (void)put(m, s, "h2_h2o_ratio", "H2 / H2O", dw_number_plain(x->h2_h2o_ratio, 3));
    dw_number log_o2 = dw_number_plain(x->log10_po2_bar, 12);
    log_o2.resolution_si = 0.01;
    put_noted(m, s, "log10_po2_bar", "oxygen pressure, log10 of bar", log_o2,
              "mean gas at its own temperature");
    dw_number volts = dw_number_of(x->probe_emf_v, DW_DIM_VOLTAGE, 3);
    (void)put(m, s, "probe_emf_v", "oxygen probe against dry air", volts);
    put_noted(m, s, "carbon_activity", "carbon activity", dw_number_plain(x->carbon_activity, 3),
              "graphite = 1");
    (void)put(m, s, "gas_temperature_k", "gas temperature",
              dw_number_temperature(x->gas_temperature_k));
    put_noted(m, s, "composition_temperature_k", "composition is that at",
              dw_number_temperature(x->composition_temperature_k),
              "reactions freeze below the quench temperature");
    put_noted(m, s, "unmixedness", "unmixedness", dw_number_plain(x->unmixedness, 3),
              "spread of the mixture from place to place");
    dw_build_oxide_words(r, s, m->source->data, x->solved ? m->source->ware : NULL);
}

static void put_heat(const dw_maker *m)
{
    const dw_result *x = m->result;
    dw_item *s = section(m, "Where the heat goes");
    (void)put(m, s, "heat_released_w", "released in the chamber", power(x->heat_released_w));
    (void)put(m, s, "heat_unburnt_w", "leaves unburnt", power(x->heat_unburnt_w));
    (void)put(m, s, "heat_sensible_w", "leaves with the hot gas", power(x->heat_sensible_w));
    put_noted(m, s, "heat_to_kiln_w", "stays in ware, shelves, walls", power(x->heat_to_kiln_w),
              m->result->solved && x->heat_to_kiln_w < 0.0 ? "negative: the kiln cools" : NULL);
}

static void put_closures(const dw_maker *m)
{
    static const char *const elements[DW_ELEMENT_COUNT] = {
        [DW_C] = "C", [DW_H] = "H", [DW_O] = "O", [DW_N] = "N", [DW_AR] = "Ar"};
    const dw_result *x = m->result;
    dw_report *r = m->report;
    dw_item *s = section(m, "Does it add up?");
    if (!x->solved) {
        (void)dw_report_null(r, s, "closure", NULL, NULL);
        (void)dw_report_null(r, s, "solver", NULL, NULL);
        return;
    }
    dw_item *closure = dw_report_group(r, s, "closure", "", DW_STYLE_SECTION);
    (void)put(m, closure, "mass", "mass, worst node", dw_number_plain(x->closure_mass, 2));
    dw_item *group = dw_report_group(r, closure, "elements", NULL, DW_STYLE_SECTION);
    double worst = 0.0;
    for (int i = 0; i < DW_ELEMENT_COUNT; ++i) {
        (void)put(m, group, elements[i], NULL, dw_number_plain(x->closure_element[i], 2));
        if (!(fabs(x->closure_element[i]) <= worst)) worst = fabs(x->closure_element[i]);
    }
    (void)put(m, closure, NULL, "elements, worst of C H O N Ar", dw_number_plain(worst, 2));
    (void)put(m, closure, "energy", "energy", dw_number_plain(x->closure_energy, 2));
    dw_item *solver = dw_report_group(r, s, "solver", "", DW_STYLE_SECTION);
    (void)dw_report_integer(r, solver, "density_rounds", "density rounds", x->density_rounds);
    (void)dw_report_integer(r, solver, "pressure_steps", "pressure steps", x->pressure_steps);
    (void)put(m, solver, "worst_residual_kg_s", "worst residual",
              dw_number_of(x->worst_residual_kg_s, DW_DIM_MASS_FLOW, 2));
}

void dw_build_sections(const dw_maker *m)
{
    put_air(m);
    put_draft(m);
    put_flows(m);
    put_gas(m);
    put_oxygen(m);
    put_heat(m);
    put_closures(m);
}

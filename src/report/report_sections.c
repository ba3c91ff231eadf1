#include "finding_text.h"
#include "outputs.h"
#include "report_oxides.h"

#include <math.h>
#include <string.h>

/* A number of the result, or null when nothing was solved or it has no value here; shown: in the text too. */
static dw_item *put_if(const dw_maker *m, dw_item *parent, const char *key, bool shown)
{
    const dw_output_row *row = dw_output_find("estimate", key);
    const bool solved = m->result->solved;
    const double si = solved ? dw_output_read(row, m->source->data, m->result, 0) : NAN;
    dw_item *item = dw_report_output(m->report, parent, "estimate", key, si);
    if (item == NULL) return NULL;
    if (!shown || !solved) item->label = NULL;
    if (!isfinite(si)) {
        item->kind = DW_ITEM_NULL;
        item->note = "-";
    }
    return item;
}

static dw_item *put(const dw_maker *m, dw_item *parent, const char *key)
{
    return put_if(m, parent, key, true);
}

/* From one row to another, as they are in the catalogue. */
static void put_all(const dw_maker *m, dw_item *parent, const char *first, const char *last)
{
    const dw_output_row *end = dw_output_find("estimate", last);
    for (const dw_output_row *row = dw_output_find("estimate", first); row <= end; ++row) {
        if (row->place == DW_IN_POINT) (void)put(m, parent, row->key);
    }
}

/* A number of the text alone, made from one of the result. */
static dw_item *put_made(const dw_maker *m, dw_item *parent, const char *label, const char *key, double si)
{
    if (!m->result->solved) return NULL;
    return dw_report_number(m->report, parent, NULL, label, dw_output_number("estimate", key, si));
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
    put_all(m, s, "air_ratio", "dphi_ddamper");
    (void)put_made(m, s, "equivalence ratio for 1 % damper", "dphi_ddamper", 0.01 * x->dphi_ddamper);
    (void)put(m, s, "dphi_dgas_pressure_per_pa");
    dw_report_label_us(put_made(m, s, "equivalence ratio for 1 kPa gas", "dphi_dgas_pressure_per_pa",
                                1000.0 * x->dphi_dgas_pressure_per_pa),
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

static void put_draft(const dw_maker *m)
{
    const dw_result *x = m->result;
    dw_report *r = m->report;
    dw_item *s = section(m, "Pressures and draft");
    put_all(m, s, "pressure_floor_pa", "datum_height_m");
    const char *reason = x->solved ? neutral_reason(x) : NULL;
    dw_item *plane = put(m, s, "neutral_plane_m");
    if (reason != NULL) dw_report_note(r, plane, reason);
    dw_report_output_text(r, s, "estimate", "neutral_plane_reason", reason);
    put_all(m, s, "draft_floor_pa", "draft_top_pa");
    (void)put_if(m, s, "draft_flue_exit_pa", x->has_stack);
    (void)put_if(m, s, "draft_stack_base_pa", x->has_stack);
    (void)put_if(m, s, "draft_theoretical_pa", x->has_stack);
    (void)put_if(m, s, "wind_pressure_pa", !isnan(x->wind_pressure_pa));
    (void)put(m, s, "flue_flow_kg_s");
    (void)put_if(m, s, "stack_flow_kg_s", x->has_stack);
    /* One number where one counts: by openings and by flues apart only where flues end in the room. */
    const bool flues = x->room_flue_kg_s > 0.0;
    (void)put(m, s, "into_room_kg_s");
    (void)put_if(m, s, "into_room_by_openings_kg_s", flues);
    (void)put_if(m, s, "into_room_by_flues_kg_s", flues);
    (void)put(m, s, "spill_kg_s");
    (void)put_if(m, s, "stack_base_temperature_k", x->has_stack);
    (void)put_if(m, s, "stack_mean_temperature_k", x->has_stack);
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
    dw_item *table = dw_output_table(r, dw_report_root(r), "estimate", "flows", "Flows in and out");
    for (int i = 0; i < m->result->flow_count; ++i) {
        const dw_flow *f = &m->result->flow[i];
        dw_cell *cell = dw_report_row(r, table);
        if (cell == NULL) return;
        dw_output_fill(table->table, cell, m->source->data, DW_IN_POINT, m->result, (size_t)i);
        cell[0].text = flow_name(m->source->kiln, f);
        cell[1].text = flow_words[f->kind].kind;
        cell[2].text = flow_words[f->kind].what;
        cell[3].text = flows_in(f) ? "in" : "out";
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
        (void)dw_report_number(r, group, species->name, NULL, dw_output_number("estimate", "gas_dry.*", gas->x[i]));
    }
}

static void put_gas(const dw_maker *m)
{
    dw_report *r = m->report;
    put_gas_object(m, "gas_wet", &m->result->gas_wet, true);
    put_gas_object(m, "gas_dry", &m->result->gas_dry, false);
    if (!m->result->solved) return;
    const dw_species_table *species = &m->source->data->species;
    dw_column columns[] = {{.label = "gas", .is_text = true},
                           dw_output_column("estimate", "gas_wet.*"),
                           dw_output_column("estimate", "gas_dry.*")};
    columns[1].key = columns[2].key = NULL;
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
    const dw_data *data = m->source->data;
    const bool known = x->solved && x->band >= 0 && (size_t)x->band < data->band_count;
    dw_report_output_text(r, s, "estimate", "reduction_word", known ? data->band[x->band].word : NULL);
    if (known) {
        (void)dw_report_text(r, s, NULL, "atmosphere", dw_reduction_phrase(r, data, x->band));
        (void)dw_report_output(r, s, "estimate", "sooting", x->sooting);
    } else {
        (void)dw_report_null(r, s, "sooting", NULL, NULL);
    }
    put_all(m, s, "smoke_aeration", "unmixedness");
    dw_build_oxide_words(r, s, data, x->solved ? m->source->ware : NULL);
}

static void put_heat(const dw_maker *m)
{
    dw_item *s = section(m, "Where the heat goes");
    put_all(m, s, "heat_released_w", "heat_sensible_w");
    dw_item *rest = put(m, s, "heat_to_kiln_w");
    if (m->result->solved && m->result->heat_to_kiln_w < 0.0) {
        dw_report_note(m->report, rest, "negative: the kiln cools");
    }
}

static void put_closures(const dw_maker *m)
{
    const dw_result *x = m->result;
    dw_report *r = m->report;
    dw_item *s = section(m, "Does it add up?");
    if (!x->solved) {
        (void)dw_report_null(r, s, "closure", NULL, NULL);
        (void)dw_report_null(r, s, "solver", NULL, NULL);
        return;
    }
    dw_item *closure = dw_report_group(r, s, "closure", "", DW_STYLE_SECTION);
    (void)put(m, closure, "closure.mass");
    put_all(m, dw_report_group(r, closure, "elements", NULL, DW_STYLE_SECTION), "closure.elements.C",
            "closure.elements.Ar");
    double worst = 0.0;
    for (int i = 0; i < DW_ELEMENT_COUNT; ++i) {
        if (!(fabs(x->closure_element[i]) <= worst)) worst = fabs(x->closure_element[i]);
    }
    (void)put_made(m, closure, "elements, worst of C H O N Ar", "closure.mass", worst);
    (void)put(m, closure, "closure.energy");
    dw_item *solver = dw_report_group(r, s, "solver", "", DW_STYLE_SECTION);
    put_all(m, solver, "solver.density_rounds", "solver.worst_residual_kg_s");
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

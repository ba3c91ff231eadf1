#include "report_oxides.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

typedef struct maker {
    dw_report *report;
    const dw_report_source *source;
    const dw_oxides_view *view;
    const dw_data *data;
} maker;

/* A number of the ware, or null when it has no value. */
static void put(const maker *m, dw_item *parent, const char *key, double si)
{
    dw_item *item = dw_report_output(m->report, parent, "oxides", key, si);
    if (item != NULL && !isfinite(si)) item->kind = DW_ITEM_NULL;
}

/* ---- first lines -------------------------------------------------------------------------- */

static void put_title(const maker *m, dw_item *head)
{
    const dw_ware *w = m->view->ware;
    if (m->view->asked != NULL) {
        dw_item *line = dw_report_line(m->report, head, NULL, "", "{0} at {1}");
        dw_add_text(m->report, line, m->view->asked);
        dw_add_output(m->report, line, "oxides", "temperature_k", w->temperature_k);
        return;
    }
    dw_build_title(m->report, m->source, head);
}

static void put_metal_lines(const maker *m, dw_item *screen)
{
    const dw_oxide_table *table = &m->data->oxides;
    for (int i = 0; i < table->metal_count; ++i) {
        const char *label = dw_report_keep(m->report, table->metal[i].name);
        (void)dw_report_text(m->report, screen, NULL, label != NULL ? label : "",
                             dw_sentence(m->report,
                                         dw_forms_long(m->report, &table->metal[i],
                                                       &m->view->ware->metal[i])));
    }
}

static void put_gas_lines(const maker *m, dw_item *screen)
{
    const dw_ware *w = m->view->ware;
    dw_item *line = dw_report_line(m->report, screen, NULL, "Oxygen",
                                   "10^{0} bar, probe {1}; at equilibrium CO/CO2 {2}, H2/H2O {3}");
    dw_add_output(m->report, line, "oxides", "log10_po2_bar", w->mean.log10_po2_bar);
    dw_add_output(m->report, line, "oxides", "probe_emf_v", w->probe_emf_v);
    dw_add_output(m->report, line, "oxides", "co_co2_ratio", w->co_co2_ratio);
    dw_add_output(m->report, line, "oxides", "h2_h2o_ratio", w->h2_h2o_ratio);
    const dw_result *x = m->view->result;
    if (x == NULL) return;
    const int co = dw_species_find(&m->data->species, "CO");
    line = dw_report_line(m->report, screen, NULL, "Gas",
                          "{0}: equivalence ratio {1}, CO {2} of the dry gas");
    dw_add_text(m->report, line, dw_sentence(m->report, dw_reduction_phrase(m->report, m->data, x->band)));
    dw_add_output(m->report, line, "oxides", "equivalence_ratio", x->equivalence_ratio);
    dw_add_output(m->report, line, "oxides", "rows.*.co_dry", co >= 0 ? x->gas_dry.x[co] : NAN);
    const char *ports = "No opening pushes gas out, so no gas burns at one.";
    if (x->neutral == DW_NEUTRAL_ALL_OUT) {
        ports = "Every opening pushes gas out. A flame at one shows that the pressure there is positive "
                "and that some gas is unburnt at that spot; the lines above show what the ware "
                "meets.";
    } else if (x->neutral == DW_NEUTRAL_INSIDE) {
        ports = "Openings above the height of zero pressure push gas out. A flame at one shows that the "
                "pressure there is positive and that some gas is unburnt at that spot; the lines "
                "above show what the ware meets.";
    }
    (void)dw_report_text(m->report, screen, NULL, "Ports", ports);
}

static void put_screen(const maker *m)
{
    dw_item *root = dw_report_root(m->report);
    dw_item *head = dw_report_group(m->report, root, NULL, NULL, DW_STYLE_PLAIN);
    dw_item *screen = dw_report_group(m->report, root, NULL, NULL, DW_STYLE_SCREEN);
    if (m->view->ware == NULL) {
        dw_item *line = dw_report_line(m->report, head, NULL, "", "{0}: not solved");
        dw_add_text(m->report, line, m->source->kiln->name);
        (void)dw_report_text(m->report, screen, NULL, "Reason", m->view->result->reason);
        dw_build_caution(m->report, screen, "Caution");
        return;
    }
    put_title(m, head);
    if (m->view->gas != NULL) dw_build_matched_gas(m->report, screen, m->data, m->view->gas);
    if (m->view->ware->given) {
        put_metal_lines(m, screen);
        put_gas_lines(m, screen);
        if (m->view->given != NULL) dw_build_given(m->report, screen, m->view->given);
    } else {
        (void)dw_report_text(m->report, screen, NULL, "Oxides",
                             "Not given: below 500 degC gas and ware are far from equilibrium.");
    }
    if (m->view->asked == NULL) dw_build_caution(m->report, screen, "Caution");
}

/* ---- numbers ------------------------------------------------------------------------------ */

static void put_gas(const maker *m)
{
    const dw_ware *w = m->view->ware;
    dw_item *s = dw_report_group(m->report, dw_report_root(m->report), NULL, NULL,
                                 DW_STYLE_SECTION);
    dw_report_outputs(m->report, s, "oxides", "temperature_k", "h2_h2o_ratio", m->data, w, false);
}

static void put_metals(const maker *m)
{
    dw_report *r = m->report;
    const dw_oxide_table *table = &m->data->oxides;
    dw_item *group = dw_report_group(r, dw_report_root(r), "metals", NULL, DW_STYLE_SECTION);
    for (int i = 0; i < table->metal_count; ++i) {
        const dw_metal *metal = &table->metal[i];
        const dw_ware_metal *state = &m->view->ware->metal[i];
        dw_item *entry = dw_report_group(r, group, metal->name, NULL, DW_STYLE_SECTION);
        if (!m->view->ware->given || !state->known) {
            (void)dw_report_null(r, entry, "form", NULL, NULL);
            continue;
        }
        const dw_oxide_form *form = metal->form;
        (void)dw_report_text(r, entry, "form", NULL, form[state->mean.form].name);
        (void)dw_report_text(r, entry, "formula", NULL, form[state->mean.form].formula);
        dw_report_output_text(m->report, entry, "oxides", "metals.*.near",
                         state->mean.other >= 0 ? form[state->mean.other].name : NULL);
        put(m, entry, "metals.*.distance_log10", state->mean.margin_log10);
        (void)dw_report_text(r, entry, "nearest_buffer", NULL,
                             table->buffer[state->mean.nearest].key);
        (void)dw_report_bool(r, entry, "drawn_on", NULL, state->mean.drawn_on);
        (void)dw_report_bool(r, entry, "mixed", NULL, state->mixed);
        (void)dw_report_text(r, entry, "lean", NULL, form[state->lean.form].name);
        (void)dw_report_text(r, entry, "rich", NULL, form[state->rich.form].name);
    }
}

/* Buffers that call a state, or those for comparison, which the text leaves out. */
static void put_buffers(const maker *m, const char *key, const char *label, bool compared)
{
    dw_item *table = dw_output_table(m->report, dw_report_root(m->report), "oxides", key, label);
    for (int i = 0; i < m->view->boundary_count; ++i) {
        const dw_ware_boundary *b = &m->view->boundary[i];
        const dw_buffer *buffer = &m->data->oxides.buffer[b->buffer];
        if (b->reach == DW_BUFFER_OUT || (buffer->metal < 0) != compared) continue;
        dw_cell *cell = dw_report_row(m->report, table);
        if (cell == NULL) return;
        cell[0].text = buffer->name;
        cell[1].text = buffer->key;
        dw_output_fill(table->table, cell, m->data, DW_IN_BOUNDARY, b, 0);
        cell[7].text = compared                     ? "for comparison"
                       : b->reach == DW_BUFFER_IN ? "in range"
                                                  : "extended";
        cell[8].text = buffer->source;
    }
}

static void put_boundaries(const maker *m)
{
    put_buffers(m, "boundaries", "Boundaries at this temperature", false);
    put_buffers(m, "comparison", NULL, true);
    dw_item *text =
        dw_report_group(m->report, dw_report_root(m->report), NULL, NULL, DW_STYLE_PLAIN);
    dw_item *line = dw_report_line(
        m->report, text, NULL, "",
        "Where gas minus boundary is positive, the form with more oxygen is stable. Where several "
        "calibrations exist for one boundary, the first is used; a gas within {0} of any of them, or "
        "between two of them, is called near the boundary. 'Extended' means outside the range that the "
        "source states. These are pure oxides; in a glaze the change is gradual.");
    dw_add_number(m->report, line, dw_number_plain(m->data->oxides.band_log10, 2));
}

static void put_parcels_and_carbon(const maker *m)
{
    const dw_ware *w = m->view->ware;
    if (m->view->asked != NULL) return;
    dw_report *r = m->report;
    const struct {
        const char *key, *label;
        const dw_ware_gas *gas;
    } gases[] = {{"mean", "mean gas", &w->mean},
                 {"lean_tenth", "end of the leanest tenth", &w->lean},
                 {"rich_tenth", "start of the richest tenth", &w->rich},
                 {"richest_twentieth", "mean of the richest 5 %", &w->richest},
                 {"primary", "gas and burner air alone", &w->primary}};
    dw_item *table = dw_output_table(r, dw_report_root(r), "oxides", "parcels", "Lean, rich and carbon");
    for (size_t i = 0; i < sizeof gases / sizeof gases[0]; ++i) {
        if (!isfinite(gases[i].gas->equivalence_ratio)) continue;
        dw_cell *cell = dw_report_row(r, table);
        if (cell == NULL) return;
        cell[0].text = gases[i].key;
        cell[1].text = gases[i].label;
        dw_output_fill(table->table, cell, m->data, DW_IN_PARCEL, gases[i].gas, 0);
    }
    dw_item *text = dw_report_group(r, dw_report_root(r), NULL, NULL, DW_STYLE_PLAIN);
    dw_tell(r, text,
            "Soot (graphite) can form where the carbon activity is 1; mixed gas hardly ever reaches that. "
            "Smoke comes from the flame before it has mixed, so the rule in bands.yaml judges whether the "
            "flame smokes, not these numbers.");
}

/* ---- glazes ------------------------------------------------------------------------------- */

static void put_glazes(const maker *m)
{
    dw_report *r = m->report;
    dw_item *table = dw_output_table(r, dw_report_root(r), "oxides", "glazes",
                                     "Ferrous share of the iron in a molten glaze");
    if (table == NULL) return;
    table->table->lead_count = 1;
    table->table->reason_column = 7;
    table->table->reason_lead = "not given: ";
    for (size_t i = 0; i < m->view->glaze_count; ++i) {
        const dw_ware_glaze *g = &m->view->glaze[i];
        dw_cell *cell = dw_report_row(r, table);
        if (cell == NULL) return;
        cell[0].text = dw_report_keep(r, g->glaze->name);
        dw_output_fill(table->table, cell, m->data, DW_IN_GLAZE, g, 0);
        cell[7].text = dw_glaze_reason(r, g);
    }
    dw_item *text = dw_report_group(r, dw_report_root(r), NULL, NULL, DW_STYLE_PLAIN);
    dw_tell(r, text,
            "Two published formulas for melts at equilibrium with the gas, each good to 5 percentage points "
            "[kress1991, borisov2018]. The skin of a glaze takes about half an hour to reach equilibrium, "
            "and a short change reaches only the skin.");
}

/* ---- windows ------------------------------------------------------------------------------ */

static const char *need_text(const maker *m, const dw_window *w)
{
    const dw_oxide_table *table = &m->data->oxides;
    switch (w->need) {
    case DW_WARE_REDUCED_TO:
        return w->form + 1 < table->metal[w->metal].form_count
                   ? dw_report_keepf(m->report, "%s or more reduced",
                                     table->metal[w->metal].form[w->form].name)
                   : table->metal[w->metal].form[w->form].name;
    case DW_WARE_OXIDIZED_TO:
        return w->form > 0 ? dw_report_keepf(m->report, "%s or more oxidized",
                                             table->metal[w->metal].form[w->form].name)
                           : dw_report_keepf(m->report, "%s (free oxygen)",
                                             table->metal[w->metal].form[w->form].name);
    case DW_WARE_H2_H2O:
        return dw_report_keepf(m->report, "H2/H2O above %g", w->h2_h2o_ratio);
    case DW_WARE_SOOT: return "soot";
    case DW_WARE_NOTHING: break;
    }
    return NULL;
}

static const char *basis_of(const dw_data *data, const char *key)
{
    for (size_t i = 0; i < data->source_count; ++i) {
        if (strcmp(data->source[i].key, key) != 0) continue;
        const char *p = data->source[i].provenance;
        return strcmp(p, "practice") == 0   ? "common practice"
               : strcmp(p, "recalled") == 0 ? "from memory"
               : strcmp(p, "computed") == 0 ? "worked out"
                                            : "published";
    }
    return "";
}

static void put_windows(const maker *m)
{
    dw_report *r = m->report;
    const dw_data *data = m->data;
    dw_item *table = dw_output_table(r, dw_report_root(r), "oxides", "windows",
                                     "What potters look for, and whether this gas gives it");
    if (table == NULL) return;
    table->table->column[5].is_blank = table->table->column[6].is_blank = true;
    dw_item *prose = dw_report_group(r, dw_report_root(r), NULL, NULL, DW_STYLE_PLAIN);
    for (size_t i = 0; i < data->window_count; ++i) {
        const dw_window *w = &data->window[i];
        const dw_ware_window *here = &m->view->ware->window[i];
        dw_cell *cell = dw_report_row(r, table);
        if (cell == NULL) return;
        cell[0].text = w->subject;
        cell[1].text = w->stage;
        dw_output_fill(table->table, cell, data, DW_IN_WINDOW, w, 0);
        cell[4].text = dw_heat_word(here->heat);
        cell[5].text = need_text(m, w);
        cell[6].text = dw_fit_word(here->fit);
        cell[7].text = w->text;
        cell[8].text = basis_of(data, w->source);
        cell[9].text = w->source;
        const char *sentence = dw_report_keepf(r, "%s, %s: %s (%s) [%s]", w->subject, w->stage,
                                               w->text, basis_of(data, w->source), w->source);
        if (sentence == NULL) return;
        dw_tell(r, prose, sentence);
    }
}

void dw_build_oxides(dw_report *report, const dw_report_source *source,
                     const dw_oxides_view *view)
{
    const maker m = {report, source, view, source->data};
    dw_item *root = dw_report_root(report);
    put_screen(&m);
    dw_build_head(report, source);
    if (view->result != NULL) {
        (void)dw_report_bool(report, root, "solved", NULL, view->result->solved);
        dw_report_output_text(report, root, "oxides", "reason", view->result->solved ? NULL : view->result->reason);
    }
    dw_report_output_text(report, root, "oxides", "asked", view->asked);
    if (view->given != NULL) dw_build_given_keys(report, view->given);
    if (view->ware == NULL) return;
    put_gas(&m);
    if (view->gas != NULL) dw_build_matched_gas_keys(report, source->data, view->gas);
    put_metals(&m);
    if (!view->ware->given) return;
    put_boundaries(&m);
    put_parcels_and_carbon(&m);
    put_glazes(&m);
    put_windows(&m);
}

void dw_build_oxide_words(dw_report *report, dw_item *section, const dw_data *data,
                          const dw_ware *ware)
{
    static const char *const metals[] = {"iron", "copper"};
    static const char *const labels[] = {"stable form of iron", "stable form of copper"};
    if (ware == NULL || !ware->given) {
        dw_item *empty = dw_report_group(report, section, "oxides", NULL, DW_STYLE_SECTION);
        for (size_t i = 0; i < 2; ++i) (void)dw_report_null(report, empty, metals[i], NULL, NULL);
        return;
    }
    dw_item *group = dw_report_group(report, section, "oxides", "", DW_STYLE_SECTION);
    for (size_t i = 0; i < 2; ++i) {
        const int index = dw_metal_find(&data->oxides, metals[i]);
        if (index < 0) continue;
        const dw_metal *metal = &data->oxides.metal[index];
        const dw_ware_metal *state = &ware->metal[index];
        (void)dw_report_text(report, group, metals[i], labels[i],
                             dw_forms_long(report, metal, state));
    }
}

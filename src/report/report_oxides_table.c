/* States of oxides row by row: along a sweep, over temperatures, and as a ladder of mixtures. */
#include "report_oxides.h"

#include <math.h>
#include <stdio.h>
#include <string.h>


/* Columns after the leading ones; then two for each metal, then these of a glaze and the end. */
static const char *const first[] = {"rows.*.solved", "rows.*.word", "rows.*.equivalence_ratio",
                                    "rows.*.co_dry", "rows.*.o2_dry", "rows.*.log10_po2_bar",
                                    "rows.*.probe_emf_v", "rows.*.co_co2_ratio"};
static const char *const of_glaze[] = {"rows.*.kress_ferrous", "rows.*.borisov_ferrous",
                                       "rows.*.glaze_reason"};
static const char *const last[] = {"rows.*.sooting", "rows.*.stages", "rows.*.reason"};
enum { COL_SOLVED, COL_WORD, COL_PHI, COL_CO, COL_O2, COL_LOG_O2, COL_PROBE, COL_CO_CO2, FIRST_COUNT };
enum { COL_GLAZE_REASON = 2, GLAZE_COUNT };
enum { COL_SOOTING, COL_STAGES, COL_REASON, LAST_COUNT };
enum { COLUMN_MAX = DW_AXIS_MAX + FIRST_COUNT + 2 * DW_METAL_MAX + GLAZE_COUNT + LAST_COUNT };

/* A column of the other way of asking. */
static void leave_out(dw_column *column)
{
    column->key = column->label = NULL;
}

static void put_table(dw_oxides_table *t, const dw_sweep_axis *axes, size_t axis_count, bool kiln)
{
    dw_column column[COLUMN_MAX];
    t->lead_count = dw_axis_columns(t->report, axes, axis_count, column);
    if (axis_count == 0) column[t->lead_count++] = dw_output_column("oxides", "rows.*.temperature_k");
    dw_column *c = column + t->lead_count;
    dw_output_columns("oxides", first, FIRST_COUNT, c);
    if (kiln) {
        leave_out(&c[COL_WORD]);
        leave_out(&c[COL_O2]);
        c[COL_CO_CO2].label = NULL;
    } else {
        leave_out(&c[COL_SOLVED]);
    }
    c += FIRST_COUNT;
    /* In the text iron and copper alone, unless there is room without a kiln. */
    c += dw_metal_columns(t->report, &t->source->data->oxides, kiln ? 2 : DW_METAL_MAX, c);
    if (t->glaze != NULL) {
        dw_output_columns("oxides", of_glaze, GLAZE_COUNT, c);
        c += GLAZE_COUNT;
    }
    dw_output_columns("oxides", last, LAST_COUNT, c);
    if (!kiln) leave_out(&c[COL_SOOTING]);
    const size_t reason = (size_t)(c - column) + COL_REASON, n = (size_t)(c - column) + LAST_COUNT;
    t->table = dw_report_table(t->report, dw_report_root(t->report), "rows", "", column, n);
    dw_rows_table(t->table, t->lead_count, reason, kiln ? "not solved: " : "not given: ");
}

void dw_build_oxides_table(dw_oxides_table *table, dw_report *report,
                           const dw_report_source *source, const dw_sweep_axis *axes,
                           size_t axis_count, const dw_glaze *glaze, const char *asked,
                           const dw_ware_given *given)
{
    *table = (dw_oxides_table){.report = report, .source = source, .glaze = glaze,
                               .co = dw_species_find(&source->data->species, "CO")};
    dw_item *text = dw_report_group(report, dw_report_root(report), NULL, NULL, DW_STYLE_PLAIN);
    if (asked == NULL) {
        dw_item *line = dw_report_line(report, text, NULL, "", "{0}: {1} settings, {2} solved");
        dw_add_text(report, line, source->kiln->name);
        table->count_item = dw_report_integer(report, line, NULL, NULL, 0);
        table->solved_item = dw_report_integer(report, line, NULL, NULL, 0);
    } else {
        dw_item *line = dw_report_line(report, text, NULL, "", "{0} at {1} temperatures");
        dw_add_text(report, line, asked);
        table->count_item = dw_report_integer(report, line, NULL, NULL, 0);
    }
    dw_build_head(report, source);
    if (asked != NULL) {
        (void)dw_report_text(report, dw_report_root(report), "asked", NULL, asked);
        dw_build_given_keys(report, given);
        dw_build_given(report, text, given);
    }
    if (glaze != NULL) {
        (void)dw_report_text(report, dw_report_root(report), "glaze", NULL, glaze->name);
        dw_item *line = dw_report_line(report, text, NULL, "",
                                       "Ferrous: the share of the iron in the glaze '{0}' that is "
                                       "ferrous, by the formulas of Kress and Carmichael (K&C) and of "
                                       "Borisov and others, each good to 5 percentage points.");
        dw_add_text(report, line, glaze->name);
    }
    dw_tell(report, text,
            "'A or B' means that the gas is near the boundary between the two, 'A to B' that the gas is "
            "uneven. Each row is a setting of its own, held long enough; no time passes from row to row.");
    if (asked == NULL) dw_build_caution(report, text, "");
    dw_tell(report, text, "");
    put_table(table, axes, axis_count, asked == NULL);
}

/* "body reduction yes, no black core no": each subject once, with the worst of its windows. */
static const char *stages(const dw_oxides_table *t, const dw_ware *ware)
{
    const dw_data *data = t->source->data;
    char text[400] = "";
    size_t used = 0;
    bool done[DW_WINDOW_MAX] = {false};
    for (size_t i = 0; i < data->window_count; ++i) {
        if (done[i] || ware->window[i].heat != DW_HEAT_WITHIN) continue;
        dw_ware_fit fit = DW_FIT_NOT_ASKED;
        for (size_t k = i; k < data->window_count; ++k) {
            if (ware->window[k].heat != DW_HEAT_WITHIN ||
                strcmp(data->window[k].subject, data->window[i].subject) != 0) {
                continue;
            }
            done[k] = true;
            if (ware->window[k].fit > fit) fit = ware->window[k].fit;
        }
        const char *word = dw_fit_word(fit);
        const int more = snprintf(text + used, sizeof text - used, "%s%s: %s",
                                  used > 0 ? ", " : "", data->window[i].subject,
                                  word != NULL ? word : data->window[i].stage);
        if (more > 0 && used + (size_t)more < sizeof text) used += (size_t)more;
    }
    return used > 0 ? dw_report_keep(t->report, text) : NULL;
}

void dw_build_oxides_row(dw_oxides_table *t, const double *lead, const dw_result *result,
                         const dw_matched_gas *gas, const dw_ware *ware,
                         const dw_ware_glaze *glaze, const char *why)
{
    dw_cell *row = dw_report_row(t->report, t->table);
    if (row == NULL) return;
    ++t->row_count;
    for (size_t i = 0; i < t->lead_count; ++i) row[i].si = lead[i];
    const dw_data *data = t->source->data;
    dw_cell *begin = row + t->lead_count;
    dw_cell *metal = begin + FIRST_COUNT;
    dw_cell *after = metal + 2 * (size_t)data->oxides.metal_count;
    dw_cell *end = after + (t->glaze != NULL ? GLAZE_COUNT : 0);
    begin[COL_SOLVED].si = ware != NULL ? 1.0 : 0.0;
    if (ware == NULL || !ware->given) {
        end[COL_REASON].text =
            dw_report_keep(t->report, why != NULL ? why : "too cold for oxygen figures");
        if (ware == NULL) return;
    }
    ++t->solved_count;
    if (result != NULL) {
        begin[COL_PHI].si = result->equivalence_ratio;
        if (t->co >= 0) begin[COL_CO].si = result->gas_dry.x[t->co];
        end[COL_SOOTING].si = result->sooting ? 1.0 : 0.0;
    }
    if (gas != NULL) {
        begin[COL_WORD].text = gas->band >= 0 ? data->band[gas->band].word : NULL;
        begin[COL_PHI].si = gas->equivalence_ratio;
        begin[COL_CO].si = gas->co_dry;
        begin[COL_O2].si = gas->o2_dry;
    }
    if (!ware->given) return;
    dw_output_fill(t->table->table, row, data, DW_IN_WARE, ware, 0);
    dw_metal_cells(t->report, &data->oxides, ware, metal);
    if (t->glaze != NULL && glaze != NULL) {
        dw_output_fill(t->table->table, row, data, DW_IN_GLAZE, glaze, 0);
        after[COL_GLAZE_REASON].text = dw_glaze_reason(t->report, glaze);
    }
    end[COL_STAGES].text = stages(t, ware);
}

void dw_build_oxides_table_end(dw_oxides_table *t)
{
    if (t->count_item != NULL) t->count_item->integer = (long long)t->row_count;
    if (t->solved_item != NULL) t->solved_item->integer = (long long)t->solved_count;
    if (t->solved_item != NULL) {
        (void)dw_report_integer(t->report, dw_report_root(t->report), "solved_count", NULL,
                                (long long)t->solved_count);
    }
}

/* ---- the ladder ----------------------------------------------------------------------------------- */

/* What a narrow screen should show comes first; the metals follow, then the rest. */
static const char *const rung_first[] = {
    "rungs.*.equivalence_ratio", "rungs.*.reduction_word", "rungs.*.co_dry_mixed", "rungs.*.co_dry",
    "rungs.*.o2_dry", "rungs.*.log10_po2_bar", "rungs.*.probe_emf_v"};
static const char *const rung_last[] = {
    "rungs.*.air_ratio", "rungs.*.co_co2_ratio", "rungs.*.h2_dry", "rungs.*.co2_dry",
    "rungs.*.carbon_activity", "rungs.*.lean_log10_po2_bar", "rungs.*.rich_log10_po2_bar"};
enum { RUNG_WORD = 1, RUNG_CO_MIXED = 2, RUNG_CO = 3 };
enum { RUNG_FIRST = sizeof rung_first / sizeof rung_first[0], RUNG_LAST = sizeof rung_last / sizeof rung_last[0] };

static dw_item *put_rungs(dw_report *r, const dw_oxide_table *oxides, bool unmixed)
{
    dw_column column[RUNG_FIRST + 2 * DW_METAL_MAX + RUNG_LAST];
    dw_output_columns("ladder", rung_first, RUNG_FIRST, column);
    if (unmixed) column[RUNG_CO_MIXED].label = "CO dry,\neven";
    if (!unmixed) column[RUNG_CO].label = NULL;
    size_t n = RUNG_FIRST + dw_metal_columns(r, oxides, 2, column + RUNG_FIRST);
    dw_output_columns("ladder", rung_last, RUNG_LAST, column + n);
    n += RUNG_LAST;
    dw_item *table = dw_report_table(r, dw_report_root(r), "rungs", "", column, n);
    if (table != NULL) {
        table->table->is_main = true;
        table->table->lead_count = RUNG_WORD + 1;
        table->table->caution = dw_caution_text();
    }
    return table;
}

/* The word of bands.yaml that a mixture has. */
static const char *word_of(const dw_data *data, double phi)
{
    size_t band = 0;
    while (band + 1 < data->band_count && !(phi < data->band[band].phi_below)) ++band;
    return band < data->band_count ? data->band[band].word : NULL;
}

static void put_rung(dw_report *r, dw_item *table, const dw_data *data, const dw_rung *rung)
{
    const dw_oxide_table *oxides = &data->oxides;
    dw_cell *cell = dw_report_row(r, table);
    if (cell == NULL) return;
    dw_output_fill(table->table, cell, data, DW_IN_RUNG, rung, 0);
    cell[RUNG_WORD].text = word_of(data, rung->equivalence_ratio);
    dw_metal_cells(r, oxides, &rung->ware, cell + RUNG_FIRST);
}

/* "Fe2O3 hematite, Fe3O4 magnetite, ..." */
static void put_legend(dw_report *r, dw_item *text, const dw_oxide_table *oxides)
{
    for (int i = 0; i < 2 && i < oxides->metal_count; ++i) {
        const dw_metal *metal = &oxides->metal[i];
        const char *names = "";
        for (int k = 0; k < metal->form_count && names != NULL; ++k) {
            names = dw_report_keepf(r, "%s%s%s %s", names, k > 0 ? ", " : "",
                                    metal->form[k].formula, metal->form[k].name);
        }
        if (names != NULL) dw_tell(r, text, names);
    }
}

static void put_end(dw_report *r, const dw_ladder_view *view, const dw_oxide_table *oxides)
{
    dw_item *text = dw_report_group(r, dw_report_root(r), NULL, NULL, DW_STYLE_PLAIN);
    dw_tell(r, text, "");
    put_legend(r, text, oxides);
    dw_tell(r, text,
            "'A or B' means that the gas is near the boundary between the two. 'A to B' means that the gas "
            "is uneven: its leanest tenth calls for A, its richest tenth for B.");
    if (view->spread > 0.0) {
        dw_item *line = dw_report_line(
            r, text, NULL, "",
            "Even: the mixture is the same everywhere. Uneven: it varies from place to place, with a "
            "spread of {0}, so CO and O2 occur together. Oxygen, probe and CO/CO2 are those of the "
            "mean gas at equilibrium with the ware.");
        dw_add_output(r, line, "ladder", "unmixedness", view->spread);
    }
    const double lean_k = view->composition_temperature_k, rich_k = view->composition_rich_k;
    if (!(fmax(lean_k, rich_k) > view->temperature_k)) return;
    dw_item *line = dw_report_line(r, text, NULL, "",
                                   lean_k == rich_k
                                       ? "The contents of CO and O2 are those at {0}: below that the gas no longer reacts."
                                       : "The contents of CO and O2 are those at {0} in lean gas and at {1} in rich gas: "
                                         "below that the gas no longer reacts.");
    dw_add_output(r, line, "ladder", "composition_temperature_k", lean_k);
    dw_add_output(r, line, "ladder", "composition_temperature_rich_k", rich_k);
}

void dw_build_ladder(dw_report *report, const dw_report_source *source,
                     const dw_ladder_view *view)
{
    const dw_data *data = source->data;
    dw_item *root = dw_report_root(report);
    dw_item *text = dw_report_group(report, root, NULL, NULL, DW_STYLE_PLAIN);
    dw_item *line = dw_report_line(report, text, NULL, "",
                                   "Reduction ladder of {0}: {1} burnt with the air there, at {2}");
    dw_add_text(report, line, source->kiln->name);
    /* A fuel that is given by its gases has no name of its own. */
    dw_add_text(report, line, strcmp(view->fuel, "mixture") == 0 ? "its fuel" : view->fuel);
    (void)dw_report_number(report, line, NULL, NULL,
                           dw_number_typed(source,
                                           offsetof(dw_kiln, operating.chamber_temperature_k),
                                           dw_output_number("ladder", "temperature_k", view->temperature_k)));
    dw_tell(report, text,
            "Each row shows what one mixture of gas and air would mean. `estimate` finds which one this "
            "kiln has.");
    dw_build_caution(report, text, "");
    dw_tell(report, text, "");
    dw_build_head(report, source);
    (void)dw_report_text(report, root, "fuel", NULL, view->fuel);
    (void)dw_report_output(report, root, "ladder", "temperature_k", view->temperature_k);
    (void)dw_report_output(report, root, "ladder", "composition_temperature_k",
                           view->composition_temperature_k);
    (void)dw_report_output(report, root, "ladder", "composition_temperature_rich_k", view->composition_rich_k);
    (void)dw_report_output(report, root, "ladder", "unmixedness", view->spread);
    dw_report_svg(report, root, dw_ladder_chart(report, data, view));
    dw_item *table = put_rungs(report, &data->oxides, view->spread > 0.0);
    for (size_t i = 0; i < view->rung_count; ++i) {
        put_rung(report, table, data, &view->rung[i]);
    }
    put_end(report, view, &data->oxides);
}

void dw_build_ladder_refused(dw_report *report, const dw_report_source *source,
                             const char *reason)
{
    dw_item *root = dw_report_root(report);
    dw_item *head = dw_report_group(report, root, NULL, NULL, DW_STYLE_PLAIN);
    dw_item *screen = dw_report_group(report, root, NULL, NULL, DW_STYLE_SCREEN);
    dw_item *line = dw_report_line(report, head, NULL, "", "{0}: there is no ladder");
    dw_add_text(report, line, source->kiln->name);
    (void)dw_report_text(report, screen, NULL, "Reason", reason);
    dw_build_head(report, source);
    (void)dw_report_text(report, root, "reason", NULL, reason);
    (void)dw_report_null(report, root, "rungs", NULL, NULL);
}

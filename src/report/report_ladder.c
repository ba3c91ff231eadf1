#include "report_oxides.h"
#include "report_parts.h"

#include <math.h>
#include <string.h>

/* What a narrow screen should show comes first; the metals follow, then the rest. */
static const char *const first[] = {
    "rungs.*.equivalence_ratio", "rungs.*.reduction_word", "rungs.*.co_dry_mixed", "rungs.*.co_dry",
    "rungs.*.o2_dry", "rungs.*.log10_po2_bar", "rungs.*.probe_emf_v"};
static const char *const last[] = {
    "rungs.*.air_ratio", "rungs.*.co_co2_ratio", "rungs.*.h2_dry", "rungs.*.co2_dry",
    "rungs.*.carbon_activity", "rungs.*.lean_log10_po2_bar", "rungs.*.rich_log10_po2_bar"};
enum { COL_WORD = 1, COL_CO_MIXED = 2, COL_CO = 3 };
enum { FIRST_COUNT = sizeof first / sizeof first[0], LAST_COUNT = sizeof last / sizeof last[0] };

static dw_item *put_table(dw_report *r, const dw_oxide_table *oxides, bool unmixed)
{
    dw_column column[FIRST_COUNT + 2 * DW_METAL_MAX + LAST_COUNT];
    dw_output_columns("ladder", first, FIRST_COUNT, column);
    if (unmixed) column[COL_CO_MIXED].label = "CO dry,\neven";
    if (!unmixed) column[COL_CO].label = NULL;
    size_t n = FIRST_COUNT + dw_metal_columns(r, oxides, "ladder", "rungs", 2, column + FIRST_COUNT);
    dw_output_columns("ladder", last, LAST_COUNT, column + n);
    n += LAST_COUNT;
    dw_item *table = dw_report_table(r, dw_report_root(r), "rungs", "", column, n);
    if (table != NULL) {
        table->table->is_main = true;
        table->table->lead_count = COL_WORD + 1;
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
    cell[COL_WORD].text = word_of(data, rung->equivalence_ratio);
    dw_metal_cells(r, oxides, &rung->ware, cell + FIRST_COUNT);
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
        if (names != NULL) (void)dw_report_text(r, text, NULL, "", names);
    }
}

static void put_end(dw_report *r, const dw_ladder_view *view, const dw_oxide_table *oxides)
{
    dw_item *text = dw_report_group(r, dw_report_root(r), NULL, NULL, DW_STYLE_PLAIN);
    (void)dw_report_text(r, text, NULL, "", "");
    put_legend(r, text, oxides);
    (void)dw_report_text(r, text, NULL, "",
                         "'A or B' means that the gas is near the boundary between the two. 'A to B' means "
                         "that the gas is uneven: its leanest tenth calls for A, its richest tenth "
                         "for B.");
    if (view->spread > 0.0) {
        dw_item *line = dw_report_line(
            r, text, NULL, "",
            "Even: the mixture is the same everywhere. Uneven: it varies from place to place, with a "
            "spread of {0}, so CO and O2 occur together. Oxygen, probe and CO/CO2 are those of the "
            "mean gas at equilibrium with the ware.");
        (void)dw_report_number(r, line, NULL, NULL, dw_output_number("ladder", "unmixedness", view->spread));
    }
    if (view->composition_temperature_k > view->temperature_k) {
        dw_item *line = dw_report_line(r, text, NULL, "",
                                       "The contents of CO and O2 are those at {0}: below that the gas no longer reacts.");
        (void)dw_report_number(r, line, NULL, NULL,
                               dw_output_number("ladder", "composition_temperature_k",
                                                view->composition_temperature_k));
    }
}

void dw_build_ladder(dw_report *report, const dw_report_source *source,
                     const dw_ladder_view *view)
{
    const dw_data *data = source->data;
    dw_item *root = dw_report_root(report);
    dw_item *text = dw_report_group(report, root, NULL, NULL, DW_STYLE_PLAIN);
    dw_item *line = dw_report_line(report, text, NULL, "",
                                   "Reduction ladder of {0}: {1} burnt with the air there, at {2}");
    (void)dw_report_text(report, line, NULL, NULL, source->kiln->name);
    /* A fuel that is given by its gases has no name of its own. */
    (void)dw_report_text(report, line, NULL, NULL,
                         strcmp(view->fuel, "mixture") == 0 ? "its fuel" : view->fuel);
    (void)dw_report_number(report, line, NULL, NULL,
                           dw_number_typed(source,
                                           offsetof(dw_kiln, operating.chamber_temperature_k),
                                           dw_output_number("ladder", "temperature_k", view->temperature_k)));
    (void)dw_report_text(report, text, NULL, "",
                         "Each row shows what one mixture of gas and air would mean. `estimate` finds "
                         "which one this kiln has.");
    dw_build_caution(report, text, "");
    (void)dw_report_text(report, text, NULL, "", "");
    dw_build_head(report, source);
    (void)dw_report_text(report, root, "fuel", NULL, view->fuel);
    (void)dw_report_output(report, root, "ladder", "temperature_k", view->temperature_k);
    (void)dw_report_output(report, root, "ladder", "composition_temperature_k",
                           view->composition_temperature_k);
    (void)dw_report_output(report, root, "ladder", "unmixedness", view->spread);
    dw_report_svg(report, root, dw_ladder_chart(report, data, view));
    dw_item *table = put_table(report, &data->oxides, view->spread > 0.0);
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
    (void)dw_report_text(report, line, NULL, NULL, source->kiln->name);
    (void)dw_report_text(report, screen, NULL, "Reason", reason);
    dw_build_head(report, source);
    (void)dw_report_text(report, root, "reason", NULL, reason);
    (void)dw_report_null(report, root, "rungs", NULL, NULL);
}

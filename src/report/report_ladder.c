#include "report_oxides.h"
#include "report_parts.h"

#include <math.h>
#include <string.h>

/* What a narrow screen should show comes first; the metals follow, then the rest. */
enum { COL_PHI, COL_WORD, COL_CO_OFF, COL_CO, COL_O2, COL_LOG_O2, COL_PROBE, FIRST_COUNT };
enum { COL_LAMBDA, COL_CO_CO2, COL_H2, COL_CO2, COL_CARBON, COL_LEAN, COL_RICH, LAST_COUNT };
enum { COLUMN_MAX = FIRST_COUNT + 2 * DW_METAL_MAX + LAST_COUNT };

static dw_number fixed(dw_dim dim, double resolution_si)
{
    dw_number number = dw_number_of(NAN, dim, 12);
    number.resolution_si = resolution_si;
    return number;
}

static dw_item *put_table(dw_report *r, const dw_oxide_table *oxides, bool unmixed)
{
    dw_column column[COLUMN_MAX];
    const dw_number share = fixed(DW_DIM_RATIO, 1.0e-4), ratio = fixed(DW_DIM_NUMBER, 1.0e-3);
    const dw_column first[FIRST_COUNT] = {
        [COL_PHI] = {.key = "equivalence_ratio", .label = "equiv.\nratio", .number = ratio},
        [COL_WORD] = {.key = "reduction_word", .label = "reduction", .is_text = true},
        [COL_CO_OFF] = {.key = "co_dry_mixed", .label = unmixed ? "CO dry,\neven" : "CO\ndry",
                        .number = share},
        [COL_CO] = {.key = "co_dry", .label = unmixed ? "\nuneven" : NULL, .number = share},
        [COL_O2] = {.key = "o2_dry", .label = "O2\ndry", .number = share},
        [COL_LOG_O2] = {.key = "log10_po2_bar", .label = "log10\npO2",
                        .number = dw_number_log10(NAN)},
        [COL_PROBE] = {.key = "probe_emf_v", .label = "\nprobe",
                       .number = fixed(DW_DIM_VOLTAGE, 1.0e-3)}};
    const dw_column last[LAST_COUNT] = {
        [COL_LAMBDA] = {.key = "air_ratio", .label = "air\nratio", .number = ratio},
        [COL_CO_CO2] = {.key = "co_co2_ratio", .label = "CO/\nCO2",
                        .number = dw_number_plain(NAN, 2)},
        [COL_H2] = {.key = "h2_dry", .number = share},
        [COL_CO2] = {.key = "co2_dry", .number = share},
        [COL_CARBON] = {.key = "carbon_activity", .number = dw_number_plain(NAN, 2)},
        [COL_LEAN] = {.key = "lean_log10_po2_bar", .number = dw_number_log10(NAN)},
        [COL_RICH] = {.key = "rich_log10_po2_bar", .number = dw_number_log10(NAN)}};
    memcpy(column, first, sizeof first);
    size_t n = FIRST_COUNT;
    for (int i = 0; i < oxides->metal_count; ++i) {
        const char *name = oxides->metal[i].name;
        column[n++] = (dw_column){.key = name, .is_text = true};
        column[n++] = (dw_column){.key = dw_report_keepf(r, "%s_forms", name),
                                  .label = i < 2 ? name : NULL, .is_text = true};
    }
    memcpy(column + n, last, sizeof last);
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
    const dw_ware *w = &rung->ware;
    dw_cell *metal = cell + FIRST_COUNT, *last = metal + 2 * (size_t)oxides->metal_count;
    cell[COL_PHI].si = rung->equivalence_ratio;
    cell[COL_WORD].text = word_of(data, rung->equivalence_ratio);
    cell[COL_CO_OFF].si = rung->mixed.co;
    cell[COL_CO].si = rung->unmixed.co;
    cell[COL_O2].si = rung->unmixed.o2;
    cell[COL_LOG_O2].si = w->mean.log10_po2_bar;
    cell[COL_PROBE].si = w->probe_emf_v;
    for (int i = 0; i < oxides->metal_count; ++i) {
        const dw_ware_metal *state = &w->metal[i];
        if (state->known) metal[2 * (size_t)i].text = oxides->metal[i].form[state->mean.form].name;
        metal[2 * (size_t)i + 1].text = dw_forms_short(r, &oxides->metal[i], state);
    }
    last[COL_LAMBDA].si = 1.0 / rung->equivalence_ratio;
    last[COL_CO_CO2].si = w->co_co2_ratio;
    last[COL_H2].si = rung->unmixed.h2;
    last[COL_CO2].si = rung->unmixed.co2;
    last[COL_CARBON].si = w->mean.carbon_activity;
    last[COL_LEAN].si = w->lean.log10_po2_bar;
    last[COL_RICH].si = w->rich.log10_po2_bar;
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
        (void)dw_report_number(r, line, NULL, NULL, dw_number_plain(view->spread, 2));
    }
    if (view->composition_temperature_k > view->temperature_k) {
        dw_item *line = dw_report_line(r, text, NULL, "",
                                       "The contents of CO and O2 are those at {0}: below that the gas no longer reacts.");
        (void)dw_report_number(r, line, NULL, NULL,
                               dw_number_temperature(view->composition_temperature_k));
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
                                           dw_number_temperature(view->temperature_k)));
    (void)dw_report_text(report, text, NULL, "",
                         "Each row shows what one mixture of gas and air would mean. `estimate` finds "
                         "which one this kiln has.");
    dw_build_caution(report, text, "");
    (void)dw_report_text(report, text, NULL, "", "");
    dw_build_head(report, source);
    (void)dw_report_text(report, root, "fuel", NULL, view->fuel);
    (void)dw_report_number(report, root, "temperature_k", NULL,
                           dw_number_temperature(view->temperature_k));
    (void)dw_report_number(report, root, "composition_temperature_k", NULL,
                           dw_number_temperature(view->composition_temperature_k));
    (void)dw_report_number(report, root, "unmixedness", NULL, dw_number_plain(view->spread, 3));
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

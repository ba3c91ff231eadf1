#include "report_oxides.h"
#include "report_parts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Columns after the leading ones; then two for each metal, then these of a glaze and the end. */
enum { COL_SOLVED, COL_WORD, COL_PHI, COL_CO, COL_O2, COL_LOG_O2, COL_PROBE, COL_CO_CO2, FIRST_COUNT };
enum { COL_KRESS, COL_BORISOV, COL_GLAZE_REASON, GLAZE_COUNT };
enum { COL_SOOTING, COL_STAGES, COL_REASON, LAST_COUNT };
enum { AXIS_MAX = 2, COLUMN_MAX = AXIS_MAX + FIRST_COUNT + 2 * DW_METAL_MAX + GLAZE_COUNT + LAST_COUNT };

static dw_number fixed(dw_dim dim, double resolution_si)
{
    dw_number number = dw_number_of(NAN, dim, 12);
    number.resolution_si = resolution_si;
    return number;
}

static size_t lead_columns(dw_oxides_table *t, const dw_sweep_axis *axes, size_t axis_count,
                           dw_column *column)
{
    if (axis_count == 0) {
        column[0] = (dw_column){.key = "temperature_k", .label = "temper-\nature",
                                .number = fixed(DW_DIM_TEMPERATURE, 1.0)};
        return 1;
    }
    for (size_t i = 0; i < axis_count; ++i) {
        column[i] = (dw_column){.key = dw_axis_key(t->report, axes[i].field),
                                .label = dw_axis_label(axes[i].field),
                                .number = dw_axis_number(axes[i].field)};
    }
    if (axis_count == 2 && strcmp(column[0].label, column[1].label) == 0) {
        for (size_t i = 0; i < 2; ++i) column[i].label = axes[i].field->path;
    }
    return axis_count;
}

static size_t metal_columns(const dw_oxides_table *t, bool kiln, dw_column *column)
{
    const dw_oxide_table *oxides = &t->source->data->oxides;
    size_t used = 0;
    for (int i = 0; i < oxides->metal_count; ++i) {
        /* In the text iron and copper alone, unless there is room without a kiln. */
        const bool shown = !kiln || i < 2;
        const char *name = oxides->metal[i].name;
        column[used++] = (dw_column){.key = name, .is_text = true};
        column[used++] = (dw_column){.key = dw_report_keepf(t->report, "%s_forms", name),
                                     .label = shown ? name : NULL, .is_text = true};
    }
    return used;
}

static void put_table(dw_oxides_table *t, const dw_sweep_axis *axes, size_t axis_count, bool kiln)
{
    dw_column column[COLUMN_MAX];
    const dw_column first[FIRST_COUNT] = {
        [COL_SOLVED] = {.key = kiln ? "solved" : NULL, .is_truth = true},
        [COL_WORD] = {.key = kiln ? NULL : "word", .label = kiln ? NULL : "gas", .is_text = true},
        [COL_PHI] = {.key = "equivalence_ratio", .label = "equiv.\nratio",
                     .number = fixed(DW_DIM_NUMBER, 1.0e-3)},
        [COL_CO] = {.key = "co_dry", .label = "CO\ndry", .number = fixed(DW_DIM_RATIO, 1.0e-4)},
        [COL_O2] = {.key = kiln ? NULL : "o2_dry", .label = kiln ? NULL : "O2\ndry",
                    .number = fixed(DW_DIM_RATIO, 1.0e-4)},
        [COL_LOG_O2] = {.key = "log10_po2_bar", .label = "log10\npO2",
                        .number = dw_number_log10(NAN)},
        [COL_PROBE] = {.key = "probe_emf_v", .label = "\nprobe",
                       .number = dw_number_of(NAN, DW_DIM_VOLTAGE, 3)},
        [COL_CO_CO2] = {.key = "co_co2_ratio", .label = kiln ? NULL : "CO/\nCO2",
                        .number = dw_number_plain(NAN, 2)}};
    const dw_column glaze[GLAZE_COUNT] = {
        [COL_KRESS] = {.key = "kress_ferrous", .label = "ferrous\nK&C",
                       .number = fixed(DW_DIM_RATIO, 0.01)},
        [COL_BORISOV] = {.key = "borisov_ferrous", .label = "ferrous\nBorisov",
                         .number = fixed(DW_DIM_RATIO, 0.01)},
        [COL_GLAZE_REASON] = {.key = "glaze_reason", .is_text = true}};
    const dw_column last[LAST_COUNT] = {
        [COL_SOOTING] = {.key = kiln ? "sooting" : NULL, .is_truth = true},
        [COL_STAGES] = {.key = "stages", .label = "stages at this temperature", .is_text = true},
        [COL_REASON] = {.key = "reason", .is_text = true}};
    size_t n = lead_columns(t, axes, axis_count, column);
    t->lead_count = n;
    memcpy(column + n, first, sizeof first);
    n += FIRST_COUNT;
    n += metal_columns(t, kiln, column + n);
    if (t->glaze != NULL) {
        memcpy(column + n, glaze, sizeof glaze);
        n += GLAZE_COUNT;
    }
    memcpy(column + n, last, sizeof last);
    const size_t reason = n + COL_REASON;
    n += LAST_COUNT;
    t->table = dw_report_table(t->report, dw_report_root(t->report), "rows", "", column, n);
    if (t->table == NULL) return;
    dw_table *table = t->table->table;
    table->is_main = true;
    table->reason_lead = kiln ? "not solved: " : "not given: ";
    table->caution = dw_caution_text();
    table->lead_count = (int)t->lead_count;
    table->reason_column = (int)reason;
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
        (void)dw_report_text(report, line, NULL, NULL, source->kiln->name);
        table->count_item = dw_report_integer(report, line, NULL, NULL, 0);
        table->solved_item = dw_report_integer(report, line, NULL, NULL, 0);
    } else {
        dw_item *line = dw_report_line(report, text, NULL, "", "{0} at {1} temperatures");
        (void)dw_report_text(report, line, NULL, NULL, asked);
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
        (void)dw_report_text(report, line, NULL, NULL, glaze->name);
    }
    (void)dw_report_text(report, text, NULL, "",
                         "'A or B' means that the gas is near the boundary between the two, 'A to B' that "
                         "the gas is uneven. Each row is a setting of its own, held long enough; no "
                         "time passes from row to row.");
    if (asked == NULL) dw_build_caution(report, text, "");
    (void)dw_report_text(report, text, NULL, "", "");
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
    const dw_oxide_table *oxides = &t->source->data->oxides;
    dw_cell *first = row + t->lead_count;
    dw_cell *metal = first + FIRST_COUNT;
    dw_cell *after = metal + 2 * (size_t)oxides->metal_count;
    dw_cell *last = after + (t->glaze != NULL ? GLAZE_COUNT : 0);
    first[COL_SOLVED].si = ware != NULL ? 1.0 : 0.0;
    if (ware == NULL || !ware->given) {
        last[COL_REASON].text =
            dw_report_keep(t->report, why != NULL ? why : "too cold for oxygen figures");
        if (ware == NULL) return;
    }
    ++t->solved_count;
    if (result != NULL) {
        first[COL_PHI].si = result->equivalence_ratio;
        if (t->co >= 0) first[COL_CO].si = result->gas_dry.x[t->co];
        last[COL_SOOTING].si = result->sooting ? 1.0 : 0.0;
    }
    if (gas != NULL) {
        const dw_data *data = t->source->data;
        first[COL_WORD].text = gas->band >= 0 ? data->band[gas->band].word : NULL;
        first[COL_PHI].si = gas->equivalence_ratio;
        first[COL_CO].si = gas->co_dry;
        first[COL_O2].si = gas->o2_dry;
    }
    if (!ware->given) return;
    first[COL_LOG_O2].si = ware->mean.log10_po2_bar;
    first[COL_PROBE].si = ware->probe_emf_v;
    first[COL_CO_CO2].si = ware->co_co2_ratio;
    for (int i = 0; i < oxides->metal_count; ++i) {
        if (ware->metal[i].known) {
            metal[2 * (size_t)i].text = oxides->metal[i].form[ware->metal[i].mean.form].name;
        }
        metal[2 * (size_t)i + 1].text = dw_forms_short(t->report, &oxides->metal[i], &ware->metal[i]);
    }
    if (t->glaze != NULL && glaze != NULL) {
        after[COL_KRESS].si = glaze->iron.kress_share;
        after[COL_BORISOV].si = glaze->iron.borisov_share;
        after[COL_GLAZE_REASON].text = dw_glaze_reason(t->report, glaze);
    }
    last[COL_STAGES].text = stages(t, ware);
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

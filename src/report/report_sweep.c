#include "ascii.h"
#include "finding_text.h"
#include "report_parts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Columns after those of the axes, in order. */
enum {
    COL_SOLVED,
    COL_PHI,
    COL_AIR_RATIO,
    COL_WORD,
    COL_CO,
    COL_O2,
    COL_DRAFT_FLUE,
    COL_DRAFT_BASE,
    COL_NEUTRAL,
    COL_NEUTRAL_WORD,
    COL_FLUE_FLOW,
    COL_INTO_ROOM,
    COL_BY_OPENINGS,
    COL_BY_FLUES,
    COL_SPILL,
    COL_HEAT,
    COL_LOG_O2,
    COL_PROBE,
    COL_DPHI_DAMPER,
    COL_HAZARD_COUNT,
    COL_HAZARDS,
    COL_HAZARD_WORDS,
    COL_REASON,
    COL_COUNT
};

/* A longer axis is not listed by itself: every value is in the rows. */
enum { AXIS_MAX = 2, AXIS_LISTED_MAX = 1001 };

/* So many decimals in every row, so that the decimal points stand below each other. */
static dw_number fixed(dw_dim dim, double resolution_si)
{
    dw_number number = dw_number_of(NAN, dim, 12);
    number.resolution_si = resolution_si;
    number.small = dim == DW_DIM_PRESSURE_GAUGE;
    return number;
}

/* "flues.back.damper.open" -> "flues_back_damper_open", with the SI unit at its end. */
const char *dw_axis_key(dw_report *report, const dw_kiln_field *field)
{
    char key[sizeof field->path];
    size_t used = 0;
    for (const char *p = field->path; *p != '\0' && used + 1 < sizeof key; ++p) {
        if (dw_ascii_is_word(*p)) {
            key[used++] = dw_ascii_small(*p);
        } else if (used > 0 && key[used - 1] != '_') {
            key[used++] = '_';
        }
    }
    key[used] = '\0';
    return dw_report_keepf(report, "%s%s", key, dw_dim_suffix(field->dim));
}

/* The last step of the path says enough as a heading; the line above the table has all of it. */
const char *dw_axis_label(const dw_kiln_field *field)
{
    const char *dot = strrchr(field->path, '.');
    return dot != NULL && dot[1] != '\0' ? dot + 1 : field->path;
}

dw_number dw_axis_number(const dw_kiln_field *field)
{
    dw_number number = dw_number_of(NAN, field->dim, 6);
    number.trim = true;
    number.typed = field->unit;
    if (field->dim == DW_DIM_TEMPERATURE) number.resolution_si = 0.1;
    return number;
}

/* Whatever hazard there is. */
static dw_tone any_hazard(dw_cell codes)
{
    return codes.text != NULL ? DW_TONE_BAD : DW_TONE_PLAIN;
}

static void put_columns(dw_sweep_table *sweep, const dw_sweep_axis *axes)
{
    dw_report *r = sweep->report;
    dw_column column[AXIS_MAX + COL_COUNT];
    for (size_t i = 0; i < sweep->axis_count; ++i) {
        column[i] = (dw_column){.key = dw_axis_key(r, axes[i].field),
                                .label = dw_axis_label(axes[i].field),
                                .number = dw_axis_number(axes[i].field)};
    }
    if (sweep->axis_count == 2 && column[0].key != NULL && column[1].key != NULL &&
        strcmp(column[0].label, column[1].label) == 0) {
        for (size_t i = 0; i < 2; ++i) column[i].label = axes[i].field->path;
    }
    const dw_number share = fixed(DW_DIM_RATIO, 1.0e-4), draft = fixed(DW_DIM_PRESSURE_GAUGE, 0.01);
    const dw_number ratio = fixed(DW_DIM_NUMBER, 1.0e-3);
    const dw_number mass = dw_number_of(NAN, DW_DIM_MASS_FLOW, 3);
    const dw_column fix[COL_COUNT] = {
        [COL_SOLVED] = {.key = "solved", .is_truth = true},
        [COL_PHI] = {.key = "equivalence_ratio", .label = "equiv.\nratio", .number = ratio},
        [COL_AIR_RATIO] = {.key = "air_ratio", .label = "air\nratio", .number = ratio},
        [COL_WORD] = {.key = "reduction_word", .label = "reduction", .is_text = true,
                      .page_first = true},
        [COL_CO] = {.key = "co_dry", .label = "CO\ndry", .number = share},
        [COL_O2] = {.key = "o2_dry", .label = "O2\ndry", .number = share},
        [COL_DRAFT_FLUE] = {.key = "draft_flue_exit_pa", .label = "draft\nflue", .number = draft},
        [COL_DRAFT_BASE] = {.key = "draft_stack_base_pa", .label = "draft\nstack", .number = draft},
        [COL_NEUTRAL] = {.key = "neutral_plane_m", .label = "neutral\nplane",
                         .number = fixed(DW_DIM_LENGTH, 0.01)},
        [COL_NEUTRAL_WORD] = {.key = "neutral_plane", .is_text = true},
        [COL_FLUE_FLOW] = {.key = "flue_flow_kg_s", .label = "flue\nflow", .number = mass},
        [COL_INTO_ROOM] = {.key = "into_room_kg_s", .label = "\nspill", .number = mass},
        [COL_BY_OPENINGS] = {.key = "into_room_by_openings_kg_s", .number = mass},
        [COL_BY_FLUES] = {.key = "into_room_by_flues_kg_s", .number = mass},
        [COL_SPILL] = {.key = "spill_kg_s", .number = mass},
        [COL_HEAT] = {.key = "heat_input_net_w", .label = "heat\ninput",
                      .number = dw_number_of(NAN, DW_DIM_POWER, 3)},
        [COL_LOG_O2] = {.key = "log10_po2_bar", .number = ratio},
        [COL_PROBE] = {.key = "probe_emf_v", .number = dw_number_of(NAN, DW_DIM_VOLTAGE, 3)},
        [COL_DPHI_DAMPER] = {.key = "dphi_ddamper", .number = ratio},
        [COL_HAZARD_COUNT] = {.label = "haz-\nards", .number = fixed(DW_DIM_NUMBER, 1.0),
                              .page_label = ""},
        [COL_HAZARDS] = {.key = "hazards", .is_text = true},
        [COL_HAZARD_WORDS] = {.is_text = true, .page_label = "hazards", .page_first = true,
                              .tone = any_hazard},
        [COL_REASON] = {.key = "reason", .is_text = true},
    };
    memcpy(column + sweep->axis_count, fix, sizeof fix);
    sweep->table = dw_report_table(r, dw_report_root(r), "rows", "", column,
                                   sweep->axis_count + COL_COUNT);
    if (sweep->table == NULL) return;
    sweep->table->table->is_main = true;
    sweep->table->table->reason_lead = "not solved: ";
    sweep->table->table->caution = dw_caution_text();
    sweep->table->table->lead_count = (int)sweep->axis_count;
    sweep->table->table->reason_column = (int)sweep->axis_count + COL_REASON;
}

static void put_axis(dw_report *r, dw_item *text, dw_item *list, const dw_sweep_axis *axis)
{
    dw_item *line = dw_report_line(r, text, NULL, "", "{0} from {1} to {2}, {3} values");
    dw_number number = dw_axis_number(axis->field);
    (void)dw_report_text(r, line, NULL, NULL, axis->field->path);
    number.si = axis->value[0];
    (void)dw_report_number(r, line, NULL, NULL, number);
    number.si = axis->value[axis->count - 1];
    (void)dw_report_number(r, line, NULL, NULL, number);
    (void)dw_report_integer(r, line, NULL, NULL, (long long)axis->count);

    dw_item *entry = dw_report_group(r, list, NULL, NULL, DW_STYLE_SECTION);
    (void)dw_report_text(r, entry, "path", NULL, axis->field->path);
    (void)dw_report_text(r, entry, "key", NULL, dw_axis_key(r, axis->field));
    (void)dw_report_text(r, entry, "unit", NULL, dw_dim_si_unit(axis->field->dim));
    (void)dw_report_integer(r, entry, "count", NULL, (long long)axis->count);
    if (axis->count > AXIS_LISTED_MAX) return;
    dw_item *values = dw_report_list(r, entry, "values", NULL);
    for (size_t i = 0; i < axis->count; ++i) {
        number.si = axis->value[i];
        (void)dw_report_number(r, values, NULL, NULL, number);
    }
}

void dw_build_sweep(dw_sweep_table *sweep, dw_report *report, const dw_report_source *source,
                    const dw_sweep_axis *axes, size_t axis_count)
{
    *sweep = (dw_sweep_table){.report = report, .source = source, .axis_count = axis_count,
                              .co = dw_species_find(&source->data->species, "CO"),
                              .o2 = dw_species_find(&source->data->species, "O2")};
    dw_item *root = dw_report_root(report);
    dw_item *text = dw_report_group(report, root, NULL, NULL, DW_STYLE_PLAIN);
    dw_item *line = dw_report_line(report, text, NULL, "",
                                   "{0}: {1} settings, {2} solved, {3} of them with a hazard");
    (void)dw_report_text(report, line, NULL, NULL, source->kiln->name);
    sweep->count_item = dw_report_integer(report, line, NULL, NULL, 0);
    sweep->solved_item = dw_report_integer(report, line, NULL, NULL, 0);
    sweep->hazard_item = dw_report_integer(report, line, NULL, NULL, 0);
    dw_build_head(report, source);
    dw_item *list = dw_report_list(report, root, "axes", NULL);
    for (size_t i = 0; i < axis_count; ++i) put_axis(report, text, list, &axes[i]);
    (void)dw_report_text(report, text, NULL, "",
                         "Each setting is worked out by itself, as if the kiln were held there; "
                         "no time passes.");
    dw_build_caution(report, text, "");
    (void)dw_report_text(report, text, NULL, "", "");
    put_columns(sweep, axes);
}

/* Codes of the hazards, each once; NULL when there are none. */
static const char *hazard_codes(dw_report *report, const dw_result *result, int *count)
{
    char codes[512] = "";
    size_t used = 0;
    bool seen[DW_FINDING_CODE_COUNT] = {false};
    *count = 0;
    for (int i = 0; i < result->finding_count; ++i) {
        dw_finding_words words;
        const dw_finding_code code = result->finding[i].code;
        if (!dw_finding_words_of(code, &words) || words.grade != DW_HAZARD || seen[code]) continue;
        seen[code] = true;
        const int more = snprintf(codes + used, sizeof codes - used, "%s%s", used > 0 ? " " : "",
                                  words.code);
        if (more > 0 && used + (size_t)more < sizeof codes) used += (size_t)more;
        ++*count;
    }
    return *count > 0 ? dw_report_keep(report, codes) : NULL;
}

/* "spill unburnt-gas" as words for a page: "spill, unburnt gas". */
static const char *hazard_words(dw_report *report, const char *codes)
{
    char words[600] = "";
    size_t used = 0;
    for (const char *p = codes; p != NULL && *p != '\0' && used + 3 < sizeof words; ++p) {
        if (*p == ' ') words[used++] = ',';
        words[used++] = *p == '-' ? ' ' : *p;
    }
    words[used] = '\0';
    return used > 0 ? dw_report_keep(report, words) : NULL;
}

static bool has_warning(const dw_result *result)
{
    for (int i = 0; i < result->finding_count; ++i) {
        dw_finding_words words;
        if (dw_finding_words_of(result->finding[i].code, &words) && words.grade == DW_WARNING) {
            return true;
        }
    }
    return false;
}

void dw_build_sweep_row(dw_sweep_table *sweep, const double *values, const dw_result *x)
{
    static const char *const neutral_words[] = {[DW_NEUTRAL_INSIDE] = "inside",
                                                [DW_NEUTRAL_ALL_IN] = "all in",
                                                [DW_NEUTRAL_ALL_OUT] = "all out"};
    dw_cell *row = dw_report_row(sweep->report, sweep->table);
    if (row == NULL) return;
    ++sweep->row_count;
    for (size_t i = 0; i < sweep->axis_count; ++i) row[i].si = values[i];
    dw_cell *cell = row + sweep->axis_count;
    cell[COL_SOLVED].si = x->solved ? 1.0 : 0.0;
    if (!x->solved) {
        cell[COL_REASON].text = dw_report_keep(sweep->report, x->reason);
        return;
    }
    ++sweep->solved_count;
    const dw_data *data = sweep->source->data;
    cell[COL_PHI].si = x->equivalence_ratio;
    cell[COL_AIR_RATIO].si = x->air_ratio;
    if (x->band >= 0 && (size_t)x->band < data->band_count) {
        cell[COL_WORD].text = data->band[x->band].word;
    }
    if (sweep->co >= 0) cell[COL_CO].si = x->gas_dry.x[sweep->co];
    if (sweep->o2 >= 0) cell[COL_O2].si = x->gas_dry.x[sweep->o2];
    cell[COL_DRAFT_FLUE].si = x->draft_flue_exit_pa;
    cell[COL_DRAFT_BASE].si = x->draft_stack_base_pa;
    if (x->neutral == DW_NEUTRAL_INSIDE) cell[COL_NEUTRAL].si = x->neutral_plane_m;
    cell[COL_NEUTRAL_WORD].text = neutral_words[x->neutral];
    cell[COL_FLUE_FLOW].si = x->flue_flow_kg_s;
    cell[COL_INTO_ROOM].si = x->room_opening_kg_s + x->room_flue_kg_s;
    cell[COL_BY_OPENINGS].si = x->room_opening_kg_s;
    cell[COL_BY_FLUES].si = x->room_flue_kg_s;
    cell[COL_SPILL].si = x->spill_kg_s;
    cell[COL_HEAT].si = x->heat_input_net_w;
    cell[COL_LOG_O2].si = x->log10_po2_bar;
    cell[COL_PROBE].si = x->probe_emf_v;
    cell[COL_DPHI_DAMPER].si = x->dphi_ddamper;
    int hazards = 0;
    cell[COL_HAZARDS].text = hazard_codes(sweep->report, x, &hazards);
    cell[COL_HAZARD_WORDS].text = hazard_words(sweep->report, cell[COL_HAZARDS].text);
    cell[COL_HAZARD_COUNT].si = hazards;
    if (hazards > 0) ++sweep->hazard_count;
    if (has_warning(x)) ++sweep->warning_count;
}

void dw_build_sweep_end(dw_sweep_table *sweep)
{
    dw_item *root = dw_report_root(sweep->report);
    if (sweep->count_item != NULL) sweep->count_item->integer = (long long)sweep->row_count;
    if (sweep->solved_item != NULL) sweep->solved_item->integer = (long long)sweep->solved_count;
    if (sweep->hazard_item != NULL) sweep->hazard_item->integer = (long long)sweep->hazard_count;
    (void)dw_report_integer(sweep->report, root, "solved_count", NULL,
                            (long long)sweep->solved_count);
    (void)dw_report_integer(sweep->report, root, "hazard_count", NULL,
                            (long long)sweep->hazard_count);
    dw_item *legend = dw_report_group(sweep->report, root, NULL, NULL, DW_STYLE_PLAIN);
    (void)dw_report_text(sweep->report, legend, NULL, "", "");
    (void)dw_report_text(sweep->report, legend, NULL, "",
                         "'-' under neutral plane means that it is outside the chamber. Hazards "
                         "are counted by kind; `estimate` at that setting says which they are and "
                         "what to do.");
}

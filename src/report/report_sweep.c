#include <math.h>
#include <stdio.h>
#include <string.h>

#include "ascii.h"
#include "finding_text.h"
#include "report_room.h"

/* Columns after those of the axes, in order. */
static const char *const first[] = {
    "rows.*.solved", "rows.*.equivalence_ratio", "rows.*.air_ratio", "rows.*.reduction_word",
    "rows.*.co_dry", "rows.*.o2_dry", "rows.*.draft_flue_exit_pa", "rows.*.draft_stack_base_pa",
    "rows.*.neutral_plane_m", "rows.*.neutral_plane", "rows.*.flue_flow_kg_s", "rows.*.into_room_kg_s",
    "rows.*.into_room_by_openings_kg_s", "rows.*.into_room_by_flues_kg_s", "rows.*.spill_kg_s",
    "rows.*.heat_input_net_w", "rows.*.log10_po2_bar", "rows.*.probe_emf_v", "rows.*.dphi_ddamper"};
enum {
    COL_SOLVED = 0,
    COL_WORD = 3,
    COL_NEUTRAL_WORD = 9,
    COL_HAZARD_COUNT = sizeof first / sizeof first[0],
    COL_HAZARDS,
    COL_HAZARD_WORDS,
    COL_REASON,
    COL_COUNT
};

/* A longer axis is not listed by itself: every value is in the rows. */
enum { AXIS_LISTED_MAX = 1001 };

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
static const char *axis_label(const dw_kiln_field *field)
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

size_t dw_axis_columns(dw_report *report, const dw_sweep_axis *axes, size_t count, dw_column *column)
{
    for (size_t i = 0; i < count; ++i) {
        column[i] = (dw_column){.key = dw_axis_key(report, axes[i].field),
                                .label = axis_label(axes[i].field),
                                .number = dw_axis_number(axes[i].field)};
    }
    if (count == 2 && strcmp(column[0].label, column[1].label) == 0) {
        for (size_t i = 0; i < 2; ++i) column[i].label = axes[i].field->path;
    }
    return count;
}

void dw_rows_table(dw_item *table, size_t lead_count, size_t reason_column, const char *reason_lead)
{
    if (table == NULL) return;
    table->table->is_main = true;
    table->table->reason_lead = reason_lead;
    table->table->caution = dw_caution_text();
    table->table->lead_count = (int)lead_count;
    table->table->reason_column = (int)reason_column;
}

static void put_columns(dw_sweep_table *sweep, const dw_sweep_axis *axes)
{
    dw_report *r = sweep->report;
    dw_column column[DW_AXIS_MAX + COL_COUNT];
    const size_t lead = dw_axis_columns(r, axes, sweep->axis_count, column);
    dw_column *c = column + lead;
    dw_output_columns("sweep", first, COL_HAZARD_COUNT, c);
    c[COL_WORD].page_first = true;
    c[COL_HAZARD_COUNT] = (dw_column){.label = "haz-\nards", .page_label = "",
                                      .number = dw_number_plain(NAN, 12)};
    c[COL_HAZARD_COUNT].number.resolution_si = 1.0;
    c[COL_HAZARDS] = dw_output_column("sweep", "rows.*.hazards");
    c[COL_HAZARD_WORDS] = (dw_column){.is_text = true, .page_label = "hazards", .page_first = true,
                                      .tone = any_hazard};
    c[COL_REASON] = dw_output_column("sweep", "rows.*.reason");
    sweep->table = dw_report_table(r, dw_report_root(r), "rows", "", column, lead + COL_COUNT);
    dw_rows_table(sweep->table, lead, lead + COL_REASON, "not solved: ");
}

static void put_axis(dw_report *r, dw_item *text, dw_item *list, const dw_sweep_axis *axis)
{
    dw_item *line = dw_report_line(r, text, NULL, "", "{0} from {1} to {2}, {3} values");
    dw_number number = dw_axis_number(axis->field);
    dw_add_text(r, line, axis->field->path);
    number.si = axis->value[0];
    dw_add_number(r, line, number);
    number.si = axis->value[axis->count - 1];
    dw_add_number(r, line, number);
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
        dw_add_number(r, values, number);
    }
}

void dw_build_sweep(dw_sweep_table *sweep, dw_report *report, const dw_report_source *source,
                    const dw_sweep_axis *axes, size_t axis_count)
{
    *sweep = (dw_sweep_table){.report = report, .source = source, .axis_count = axis_count};
    dw_item *root = dw_report_root(report);
    dw_item *text = dw_report_group(report, root, NULL, NULL, DW_STYLE_PLAIN);
    dw_item *line = dw_report_line(report, text, NULL, "",
                                   "{0}: {1} settings, {2} solved, {3} of them with a hazard");
    dw_add_text(report, line, source->kiln->name);
    sweep->count_item = dw_report_integer(report, line, NULL, NULL, 0);
    sweep->solved_item = dw_report_integer(report, line, NULL, NULL, 0);
    sweep->hazard_item = dw_report_integer(report, line, NULL, NULL, 0);
    dw_build_head(report, source);
    dw_item *list = dw_report_list(report, root, "axes", NULL);
    for (size_t i = 0; i < axis_count; ++i) put_axis(report, text, list, &axes[i]);
    dw_tell(report, text,
            "Each setting is worked out by itself, as if the kiln were held there; no time passes.");
    dw_build_caution(report, text, "");
    dw_tell(report, text, "");
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
    if (!x->solved) {
        cell[COL_SOLVED].si = 0.0;
        cell[COL_REASON].text = dw_report_keep(sweep->report, x->reason);
        return;
    }
    ++sweep->solved_count;
    const dw_data *data = sweep->source->data;
    dw_output_fill(sweep->table->table, row, data, DW_IN_POINT, x, 0);
    if (x->band >= 0 && (size_t)x->band < data->band_count) {
        cell[COL_WORD].text = data->band[x->band].word;
    }
    cell[COL_NEUTRAL_WORD].text = neutral_words[x->neutral];
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
    dw_tell(sweep->report, legend, "");
    dw_tell(sweep->report, legend,
            "'-' under neutral plane means that it is outside the chamber. Hazards are counted by kind; "
            "`estimate` at that setting says which they are and what to do.");
}

/* ---- rooms ---------------------------------------------------------------------------------------- */

static const char *const of_room[] = {
    "rows.*.solved", "rows.*.verdict", "rows.*.co_known", "rows.*.co_unknown_because",
    "rows.*.co_end_ppm", "rows.*.co_end_low_ppm", "rows.*.co_end_high_ppm", "rows.*.co_steady_ppm",
    "rows.*.co_m3_s", "rows.*.into_room_kg_s", "rows.*.into_room_by_openings_kg_s",
    "rows.*.into_room_by_flues_kg_s", "rows.*.spill_kg_s", "rows.*.room_pressure_pa",
    "rows.*.ventilation_m3_s", "rows.*.cohb_peak", "rows.*.limit", "rows.*.limit_ppm",
    "rows.*.equivalence_ratio", "rows.*.reason"};
enum {
    ROOM_SOLVED = 0, ROOM_VERDICT = 1, ROOM_KNOWN = 2, ROOM_BECAUSE = 3, ROOM_LIMIT = 16, ROOM_LIMIT_PPM = 17,
    ROOM_REASON = 19, ROOM_COUNT
};

static dw_tone verdict_tone(dw_cell word)
{
    static const dw_tone tones[] = {DW_TONE_LOW, DW_TONE_RAISED, DW_TONE_BAD};
    for (int i = 0; i < 3; i++) {
        if (strcmp(word.text, dw_verdict_text((dw_verdict)i)) == 0) return tones[i];
    }
    return DW_TONE_PLAIN;
}

static void put_room_columns(dw_room_table *sweep, const dw_sweep_axis *axes)
{
    dw_report *r = sweep->report;
    dw_column column[DW_AXIS_MAX + ROOM_COUNT];
    const size_t lead = dw_axis_columns(r, axes, sweep->axis_count, column);
    dw_output_columns("room", of_room, ROOM_COUNT, column + lead);
    column[lead + ROOM_VERDICT].page_first = true;
    column[lead + ROOM_VERDICT].tone = verdict_tone;
    sweep->table = dw_report_table(r, dw_report_root(r), "rows", "", column, lead + ROOM_COUNT);
    dw_rows_table(sweep->table, lead, lead + ROOM_REASON, "not solved, treat as dangerous: ");
    if (sweep->table != NULL) sweep->table->table->reason_tone = DW_TONE_BAD;
}

void dw_build_room_sweep(dw_room_table *sweep, dw_report *report, const dw_report_source *source,
                         const dw_sweep_axis *axes, size_t axis_count)
{
    *sweep = (dw_room_table){.report = report, .source = source, .axis_count = axis_count};
    dw_item *text = dw_report_group(report, dw_report_root(report), NULL, NULL, DW_STYLE_PLAIN);
    dw_item *line = dw_report_line(report, text, NULL, "",
                                   "{0} in its room: {1} settings. The worst: {2}");
    dw_add_text(report, line, source->kiln->name);
    sweep->count_item = dw_report_integer(report, line, NULL, NULL, 0);
    sweep->worst_item = dw_report_text(report, line, NULL, NULL, "");
    dw_build_head(report, source);
    dw_tell(report, text,
            "The verdict is for the upper end of the range. Where the estimate is dangerous by itself, no "
            "range is worked out. `room` at one setting shows everything.");
    dw_build_caution(report, text, "");
    dw_tell(report, text, "");
    put_room_columns(sweep, axes);
}

void dw_build_room_sweep_row(dw_room_table *sweep, const double *values, const dw_room_course *x)
{
    dw_cell *row = dw_report_row(sweep->report, sweep->table);
    if (row == NULL) return;
    sweep->row_count++;
    for (size_t i = 0; i < sweep->axis_count; i++) row[i].si = values[i];
    dw_cell *cell = row + sweep->axis_count;
    if (!x->room.solved) {
        cell[ROOM_SOLVED].si = 0.0;
        cell[ROOM_REASON].text = dw_report_keep(sweep->report, x->room.reason);
        return;
    }
    sweep->solved_count++;
    sweep->verdict_count[x->verdict]++;
    const dw_co_data *co = &sweep->source->data->co;
    cell[ROOM_VERDICT].text = dw_verdict_text(x->verdict);
    const bool known = x->room.unknown == DW_CO_KNOWN;
    sweep->unknown_count += !known;
    cell[ROOM_KNOWN].si = known ? 1.0 : 0.0;
    cell[ROOM_BECAUSE].text = dw_room_unknown_text(x->room.unknown);
    dw_output_fill(sweep->table->table, row, sweep->source->data, DW_IN_COURSE, x, 0);
    if (!known) return;
    const int limit = x->worst.decided_by >= 0 ? x->worst.decided_by : x->worst.nearest;
    if (limit >= 0) {
        cell[ROOM_LIMIT].text =
            dw_report_keepf(sweep->report, "%s %s", co->limit[limit].body, co->limit[limit].name);
        cell[ROOM_LIMIT_PPM].si = co->limit[limit].ppm;
    }
}

void dw_build_room_sweep_end(dw_room_table *sweep)
{
    static const char *const words[] = {"low estimate", "raised estimate", "dangerous estimate"};
    dw_item *root = dw_report_root(sweep->report);
    int worst = -1;
    for (int i = 0; i < 3; i++) {
        if (sweep->verdict_count[i] > 0) worst = i;
    }
    const char *word = sweep->solved_count < sweep->row_count
                           ? "some not solved, treat them as dangerous"
                       : worst >= 0 ? words[worst]
                                    : "none";
    if (worst == 2) word = words[2];
    if (sweep->count_item != NULL) sweep->count_item->integer = (long long)sweep->row_count;
    if (sweep->worst_item != NULL) sweep->worst_item->text = word;
    if (sweep->unknown_count > 0) {
        dw_item *legend = dw_report_group(sweep->report, root, NULL, NULL, DW_STYLE_PLAIN);
        dw_tell(sweep->report, legend, "");
        dw_tell(sweep->report, legend,
                "'-' for the CO at the end: how much comes into the room is not known there. Treat it as "
                "dangerous; `room` at that setting says why.");
    }
    (void)dw_report_integer(sweep->report, root, "unknown_count", NULL,
                            (long long)sweep->unknown_count);
    (void)dw_report_integer(sweep->report, root, "solved_count", NULL,
                            (long long)sweep->solved_count);
    (void)dw_report_integer(sweep->report, root, "dangerous_count", NULL,
                            (long long)sweep->verdict_count[DW_VERDICT_DANGEROUS]);
}

#include "report_room.h"

#include <math.h>
#include <string.h>

#include "report_parts.h"

static const char *const columns[] = {
    "rows.*.solved", "rows.*.verdict", "rows.*.co_known", "rows.*.co_unknown_because",
    "rows.*.co_end_ppm", "rows.*.co_end_low_ppm", "rows.*.co_end_high_ppm", "rows.*.co_steady_ppm",
    "rows.*.co_m3_s", "rows.*.into_room_kg_s", "rows.*.into_room_by_openings_kg_s",
    "rows.*.into_room_by_flues_kg_s", "rows.*.spill_kg_s", "rows.*.room_pressure_pa",
    "rows.*.ventilation_m3_s", "rows.*.cohb_peak", "rows.*.limit", "rows.*.limit_ppm",
    "rows.*.equivalence_ratio", "rows.*.reason"};
enum {
    COL_SOLVED = 0, COL_VERDICT = 1, COL_KNOWN = 2, COL_BECAUSE = 3, COL_LIMIT = 16, COL_LIMIT_PPM = 17,
    COL_REASON = 19, COL_COUNT
};

static dw_tone verdict_tone(dw_cell word)
{
    static const dw_tone tones[] = {DW_TONE_LOW, DW_TONE_RAISED, DW_TONE_BAD};
    for (int i = 0; i < 3; i++) {
        if (strcmp(word.text, dw_verdict_text((dw_verdict)i)) == 0) return tones[i];
    }
    return DW_TONE_PLAIN;
}

static void put_columns(dw_room_table *sweep, const dw_sweep_axis *axes)
{
    dw_report *r = sweep->report;
    dw_column column[DW_AXIS_MAX + COL_COUNT];
    const size_t lead = dw_axis_columns(r, axes, sweep->axis_count, column);
    dw_output_columns("room", columns, COL_COUNT, column + lead);
    column[lead + COL_VERDICT].page_first = true;
    column[lead + COL_VERDICT].tone = verdict_tone;
    sweep->table = dw_report_table(r, dw_report_root(r), "rows", "", column, lead + COL_COUNT);
    dw_rows_table(sweep->table, lead, lead + COL_REASON, "not solved, treat as dangerous: ");
    if (sweep->table != NULL) sweep->table->table->reason_tone = DW_TONE_BAD;
}

void dw_build_room_sweep(dw_room_table *sweep, dw_report *report, const dw_report_source *source,
                         const dw_sweep_axis *axes, size_t axis_count)
{
    *sweep = (dw_room_table){.report = report, .source = source, .axis_count = axis_count};
    dw_item *text = dw_report_group(report, dw_report_root(report), NULL, NULL, DW_STYLE_PLAIN);
    dw_item *line = dw_report_line(report, text, NULL, "",
                                   "{0} in its room: {1} settings. The worst: {2}");
    (void)dw_report_text(report, line, NULL, NULL, source->kiln->name);
    sweep->count_item = dw_report_integer(report, line, NULL, NULL, 0);
    sweep->worst_item = dw_report_text(report, line, NULL, NULL, "");
    dw_build_head(report, source);
    (void)dw_report_text(report, text, NULL, "",
                         "The verdict is for the upper end of the range. Where the estimate is "
                         "dangerous by itself, no range is worked out. `room` at one setting "
                         "shows everything.");
    dw_build_caution(report, text, "");
    (void)dw_report_text(report, text, NULL, "", "");
    put_columns(sweep, axes);
}

void dw_build_room_sweep_row(dw_room_table *sweep, const double *values, const dw_room_course *x)
{
    dw_cell *row = dw_report_row(sweep->report, sweep->table);
    if (row == NULL) return;
    sweep->row_count++;
    for (size_t i = 0; i < sweep->axis_count; i++) row[i].si = values[i];
    dw_cell *cell = row + sweep->axis_count;
    if (!x->room.solved) {
        cell[COL_SOLVED].si = 0.0;
        cell[COL_REASON].text = dw_report_keep(sweep->report, x->room.reason);
        return;
    }
    sweep->solved_count++;
    sweep->verdict_count[x->verdict]++;
    const dw_co_data *co = &sweep->source->data->co;
    cell[COL_VERDICT].text = dw_verdict_text(x->verdict);
    const bool known = x->room.unknown == DW_CO_KNOWN;
    sweep->unknown_count += !known;
    cell[COL_KNOWN].si = known ? 1.0 : 0.0;
    cell[COL_BECAUSE].text = dw_room_unknown_text(x->room.unknown);
    dw_output_fill(sweep->table->table, row, sweep->source->data, DW_IN_COURSE, x, 0);
    if (!known) return;
    const int limit = x->worst.decided_by >= 0 ? x->worst.decided_by : x->worst.nearest;
    if (limit >= 0) {
        cell[COL_LIMIT].text =
            dw_report_keepf(sweep->report, "%s %s", co->limit[limit].body, co->limit[limit].name);
        cell[COL_LIMIT_PPM].si = co->limit[limit].ppm;
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
        (void)dw_report_text(sweep->report, legend, NULL, "", "");
        (void)dw_report_text(sweep->report, legend, NULL, "",
                             "'-' for the CO at the end: how much comes into the room is not known there. "
                             "Treat it as dangerous; `room` at that setting says why.");
    }
    (void)dw_report_integer(sweep->report, root, "unknown_count", NULL,
                            (long long)sweep->unknown_count);
    (void)dw_report_integer(sweep->report, root, "solved_count", NULL,
                            (long long)sweep->solved_count);
    (void)dw_report_integer(sweep->report, root, "dangerous_count", NULL,
                            (long long)sweep->verdict_count[DW_VERDICT_DANGEROUS]);
}

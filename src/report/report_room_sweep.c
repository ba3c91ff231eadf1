#include "report_room.h"

#include <math.h>
#include <string.h>

#include "report_parts.h"
#include "report_people.h"

enum {
    COL_SOLVED,
    COL_VERDICT,
    COL_KNOWN,
    COL_BECAUSE,
    COL_END,
    COL_LOW,
    COL_HIGH,
    COL_STEADY,
    COL_CO,
    COL_INTO_ROOM,
    COL_BY_OPENINGS,
    COL_BY_FLUES,
    COL_SPILL,
    COL_PRESSURE,
    COL_VENTILATION,
    COL_COHB,
    COL_LIMIT,
    COL_LIMIT_PPM,
    COL_PHI,
    COL_REASON,
    COL_COUNT
};
enum { AXIS_MAX = 2 };

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
    dw_column column[AXIS_MAX + COL_COUNT];
    for (size_t i = 0; i < sweep->axis_count; i++) {
        column[i] = (dw_column){.key = dw_axis_key(r, axes[i].field),
                                .label = dw_axis_label(axes[i].field),
                                .number = dw_axis_number(axes[i].field)};
    }
    if (sweep->axis_count == 2 && strcmp(column[0].label, column[1].label) == 0) {
        for (size_t i = 0; i < 2; i++) column[i].label = axes[i].field->path;
    }
    dw_number ppm = dw_number_ppm(NAN), phi = dw_number_plain(NAN, 12);
    phi.resolution_si = 1e-3;
    dw_number pressure = dw_number_draft(NAN);
    const dw_number co = dw_number_of(NAN, DW_DIM_VOLUME_FLOW, 2);
    const dw_number mass = dw_number_of(NAN, DW_DIM_MASS_FLOW, 3);
    const dw_column fix[COL_COUNT] = {
        [COL_SOLVED] = {.key = "solved", .is_truth = true},
        [COL_VERDICT] = {.key = "verdict", .label = "verdict\n(estimate)", .is_text = true,
                         .page_first = true, .tone = verdict_tone},
        [COL_KNOWN] = {.key = "co_known", .is_truth = true},
        [COL_BECAUSE] = {.key = "co_unknown_because", .is_text = true},
        [COL_END] = {.key = "co_end_ppm", .label = "CO at\nthe end", .number = ppm},
        [COL_LOW] = {.key = "co_end_low_ppm", .number = ppm},
        [COL_HIGH] = {.key = "co_end_high_ppm", .label = "\nup to", .number = ppm},
        [COL_STEADY] = {.key = "co_steady_ppm", .number = ppm},
        [COL_CO] = {.key = "co_m3_s", .label = "\nCO in", .number = co},
        [COL_INTO_ROOM] = {.key = "into_room_kg_s", .label = "gas\nout", .number = mass},
        [COL_BY_OPENINGS] = {.key = "into_room_by_openings_kg_s", .number = mass},
        [COL_BY_FLUES] = {.key = "into_room_by_flues_kg_s", .number = mass},
        [COL_SPILL] = {.key = "spill_kg_s", .number = mass},
        [COL_PRESSURE] = {.key = "room_pressure_pa", .label = "room /\noutside",
                          .number = pressure},
        [COL_VENTILATION] = {.key = "ventilation_m3_s", .number = co},
        [COL_COHB] = {.key = "cohb_peak", .label = "COHb\nat most", .number = dw_number_cohb(NAN)},
        [COL_LIMIT] = {.key = "limit", .is_text = true},
        [COL_LIMIT_PPM] = {.key = "limit_ppm", .number = ppm},
        [COL_PHI] = {.key = "equivalence_ratio", .label = "equiv.\nratio", .number = phi},
        [COL_REASON] = {.key = "reason", .is_text = true},
    };
    memcpy(column + sweep->axis_count, fix, sizeof fix);
    sweep->table = dw_report_table(r, dw_report_root(r), "rows", "", column,
                                   sweep->axis_count + COL_COUNT);
    if (sweep->table == NULL) return;
    dw_table *table = sweep->table->table;
    table->is_main = true;
    table->reason_lead = "not solved, treat as dangerous: ";
    table->reason_tone = DW_TONE_BAD;
    table->caution = dw_caution_text();
    table->lead_count = (int)sweep->axis_count;
    table->reason_column = (int)sweep->axis_count + COL_REASON;
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
    cell[COL_SOLVED].si = x->room.solved ? 1.0 : 0.0;
    if (!x->room.solved) {
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
    cell[COL_END].si = x->end_ppm;
    cell[COL_LOW].si = x->has_spread ? x->low_ppm : NAN;
    cell[COL_HIGH].si = x->has_spread ? x->high_ppm : NAN;
    cell[COL_STEADY].si = x->room.steady_ppm;
    cell[COL_CO].si = x->room.co_m3_s;
    cell[COL_INTO_ROOM].si = cell[COL_SPILL].si = x->room.spill_kg_s;
    cell[COL_BY_OPENINGS].si = x->room.spill_kg_s - x->room.by_flues_kg_s;
    cell[COL_BY_FLUES].si = x->room.by_flues_kg_s;
    cell[COL_PRESSURE].si = x->room.pressure_pa;
    cell[COL_VENTILATION].si = x->room.air.flow_m3_s;
    cell[COL_PHI].si = x->kiln.equivalence_ratio;
    if (!known) return;
    cell[COL_COHB].si = x->exposure.peak_frac[x->exposure.activity];
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

#include "finding_text.h"
#include "reports.h"
#include "show_number.h"
#include "utf8.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* The lines: title 1, alerts and blank 2 to 5, atmosphere 3 or 4, doubt 2 to 4, draft 2, heat 1,
 * dampers 1 to 8, small moves 1, flows 2 to 5, caution 2. */
enum { ALERT_LINES = 4, FLOW_ROWS = 4, FLOW_ROWS_LEAST = 2, OPENING_NAME_BYTES = 24 };

/* Nearer to 1 than this nothing is called left over. */
static const double EVEN = 5.0e-4;

/* ---- title -------------------------------------------------------------------------------- */

static void gas_pressure_range(const dw_kiln *kiln, double *low, double *high)
{
    *low = *high = NAN;
    for (int i = 0; i < kiln->burner_count; ++i) {
        if (!kiln->burner[i].lit) continue;
        *low = fmin(*low, kiln->burner[i].gas_pressure_pa);
        *high = fmax(*high, kiln->burner[i].gas_pressure_pa);
    }
}

static void damper_range(const dw_kiln *kiln, double *low, double *high)
{
    *low = *high = NAN;
    for (int i = 0; i < kiln->flue_count; ++i) {
        *low = fmin(*low, kiln->flue[i].damper.open_frac);
        *high = fmax(*high, kiln->flue[i].damper.open_frac);
    }
}

/* A gas pressure of the range in the unit that was typed for the burner it is of. */
static dw_number gas_number(const dw_report_source *source, double si)
{
    const dw_number number = dw_output_number("estimate", "setting.gas_pressure_pa", si);
    for (int i = 0; i < source->kiln->burner_count; ++i) {
        const dw_burner *b = &source->kiln->burner[i];
        if (!b->lit || b->gas_pressure_pa != si) continue;
        const size_t offset = offsetof(dw_kiln, burner) + (size_t)i * sizeof *b +
                              offsetof(dw_burner, gas_pressure_pa);
        return dw_number_typed(source, offset, number);
    }
    return number;
}

static void add_title(const dw_maker *m, dw_item *parent)
{
    const dw_kiln *kiln = m->source->kiln;
    double gas_low, gas_high, damper_low, damper_high;
    gas_pressure_range(kiln, &gas_low, &gas_high);
    damper_range(kiln, &damper_low, &damper_high);
    const bool one_gas = gas_low == gas_high, one_damper = damper_low == damper_high;
    const char *pattern =
        one_gas ? one_damper ? "{0}: gas {1}, damper {3}, chamber {5}"
                             : "{0}: gas {1}, dampers {3} to {4}, chamber {5}"
                : one_damper ? "{0}: gas {1} to {2}, damper {3}, chamber {5}"
                             : "{0}: gas {1} to {2}, dampers {3} to {4}, chamber {5}";
    dw_item *line = dw_report_line(m->report, parent, NULL, "", pattern);
    dw_number damper = dw_output_number("estimate", "setting.dampers.*.open_frac", damper_low);
    damper.trim = true;
    dw_add_text(m->report, line, kiln->name);
    dw_add_number(m->report, line, gas_number(m->source, gas_low));
    dw_add_number(m->report, line, gas_number(m->source, gas_high));
    dw_add_number(m->report, line, damper);
    damper.si = damper_high;
    dw_add_number(m->report, line, damper);
    dw_add_number(m->report, line,
                   dw_number_setting(m->source, "setting.chamber_temperature_k"));
    if (line != NULL) line->max_lines = 2;
}

/* ---- hazards ------------------------------------------------------------------------------ */

/* Most urgent first. Every hazard and warning code stands here once. */
static const dw_finding_code urgency[] = {
    DW_FIND_STACK_REVERSED, DW_FIND_RELIEF_SPILLS,    DW_FIND_BURNER_PUSHED_BACK,
    DW_FIND_FLUE_REVERSED,  DW_FIND_UNBURNT_GAS,      DW_FIND_COLD_CHAMBER,
    DW_FIND_FLUE_SPILL,     DW_FIND_SPILL,            DW_FIND_POSITIVE_AT_OPENING, DW_FIND_SOOTING,
    DW_FIND_CLOSURE,        DW_FIND_CANDLING,         DW_FIND_COLD_STACK_START, DW_FIND_DAMPER_RANGE,
    DW_FIND_GRAPHITE,       DW_FIND_MOIST_AIR_RANGE};

static bool is_found(const dw_result *result, dw_finding_code code)
{
    for (int i = 0; i < result->finding_count; ++i) {
        if (result->finding[i].code == code) return true;
    }
    return false;
}

static int count_alerts(const dw_maker *m)
{
    int found = 0;
    for (size_t i = 0; i < sizeof urgency / sizeof urgency[0]; ++i) {
        found += is_found(m->result, urgency[i]);
    }
    return found;
}

static void add_alerts(const dw_maker *m, dw_item *parent)
{
    const int found = count_alerts(m);
    if (found == 0) return;
    /* Two lines each while they fit, so that nothing is cut; the rest is counted. */
    const int lines_each = 2 * found <= ALERT_LINES ? 2 : 1;
    const int shown_max = found <= ALERT_LINES ? found : ALERT_LINES - 1;
    dw_item *group = dw_report_group(m->report, parent, NULL, "", DW_STYLE_PROSE);
    int shown = 0;
    for (size_t i = 0; i < sizeof urgency / sizeof urgency[0] && shown < shown_max; ++i) {
        if (!is_found(m->result, urgency[i])) continue;
        dw_finding_words words;
        (void)dw_finding_words_of(urgency[i], &words);
        dw_item *line = dw_finding_brief(m->report, group,
                                         words.grade == DW_HAZARD ? "HAZARD" : "WARNING",
                                         m->source->kiln, m->result, urgency[i]);
        if (line != NULL) line->max_lines = lines_each;
        ++shown;
    }
    if (found > shown) {
        dw_item *line = dw_report_line(m->report, group, NULL, "",
                                       "{0} more below, under 'Hazards, warnings and notes'");
        (void)dw_report_integer(m->report, line, NULL, NULL, found - shown);
    }
    dw_tell(m->report, group, "");
}

/* ---- atmosphere, draft, heat -------------------------------------------------------------- */

static void add_atmosphere(const dw_maker *m, dw_item *screen)
{
    const dw_result *x = m->result;
    const dw_data *data = m->source->data;
    /* What a word means for the ware is only said of a word that is sure. */
    const bool sure = dw_doubt_word_count(m) <= 1;
    const char *phrase = dw_reduction_phrase(m->report, data, x->band);
    dw_item *line = dw_report_line(m->report, screen, NULL, "Atmosphere",
                                   sure ? x->sooting ? "{0}, smoky. {1}" : "{0}. {1}"
                                        : x->sooting ? "Best estimate: {0}, smoky." : "Best estimate: {0}.");
    dw_add_text(m->report, line, sure ? dw_sentence(m->report, phrase) : phrase);
    dw_add_text(m->report, line, x->band >= 0 && (size_t)x->band < data->band_count
                           ? data->band[x->band].meaning : "");
    if (line != NULL) line->max_lines = 2;
    line = dw_report_line(m->report, screen, NULL, "",
                          "air ratio {0}   equivalence ratio {1} ({2})");
    dw_fill(m, line, "air_ratio");
    dw_fill(m, line, "equivalence_ratio");
    dw_add_text(m->report, line,
                 fabs(x->equivalence_ratio - 1.0) < EVEN ? "1: nothing left over"
                 : x->equivalence_ratio > 1.0            ? "above 1: gas left over"
                                                         : "below 1: air left over");
    line = dw_report_line(m->report, screen, NULL, "",
                          "dry gas: CO {0}   O2 {1}   CO/CO2 {2}");
    dw_fill(m, line, "gas_dry.CO");
    dw_fill(m, line, "gas_dry.O2");
    dw_fill(m, line, "co_co2_ratio");
    dw_add_doubt(m, screen);
}

static void add_draft(const dw_maker *m, dw_item *screen)
{
    const dw_result *x = m->result;
    dw_item *line = dw_report_line(
        m->report, screen, NULL, "Draft",
        x->has_stack ? "floor {0#}, top {1#}, flue {2#}, stack base {3}"
                     : "floor {0#}, top {1}; no stack");
    dw_fill(m, line, "draft_floor_pa");
    dw_fill(m, line, "draft_top_pa");
    dw_fill(m, line, "draft_flue_exit_pa");
    dw_fill(m, line, "draft_stack_base_pa");
    if (line != NULL) line->max_lines = 2;
    /* Not by its name, the neutral plane: "neutral" on this screen is the gas. */
    if (x->neutral == DW_NEUTRAL_INSIDE) {
        line = dw_report_line(m->report, screen, NULL, "",
                              "no draft at {0}: air goes in below that height, gas out above");
        dw_fill(m, line, "neutral_plane_m");
    } else {
        (void)dw_report_text(m->report, screen, NULL, "",
                             x->neutral == DW_NEUTRAL_ALL_IN
                                 ? "the kiln pulls at every height: all openings draw air in"
                                 : "the kiln pushes at every height: all openings let gas out");
    }
}

static void add_heat(const dw_maker *m, dw_item *screen)
{
    dw_item *line = dw_report_line(m->report, screen, NULL, "Heat input",
                                   "{0} net, {1} gross, from {2} of gas");
    dw_fill(m, line, "heat_input_net_w");
    dw_fill(m, line, "heat_input_gross_w");
    dw_fill(m, line, "gas_flow_kg_s");
}

/* ---- small moves ---------------------------------------------------------------------------- */

static const char *signed_text(const dw_maker *m, double value)
{
    char bare[DW_SHOWN_SIZE];
    dw_number number = dw_output_number("estimate", "equivalence_ratio", value);
    number.digits = 3;
    dw_show_bare(&number, DW_UNITS_METRIC, bare);
    return dw_report_keepf(m->report, "%s%s", value > 0.0 ? "+" : "", bare);
}

static void add_small_moves(const dw_maker *m, dw_item *screen)
{
    const dw_result *x = m->result;
    double low, high;
    gas_pressure_range(m->source->kiln, &low, &high);
    /* Shares of the pressure, not pascals: that is how a hand turns a valve. */
    const double tenth = 0.1 * 0.5 * (low + high);
    dw_item *line =
        dw_report_line(m->report, screen, NULL, "Small move",
                       "equivalence ratio {0} per 1 % damper, {1} per 10 % gas pressure");
    dw_add_text(m->report, line, signed_text(m, 0.01 * x->dphi_ddamper));
    dw_add_text(m->report, line, signed_text(m, tenth * x->dphi_dgas_pressure_per_pa));
    if (line != NULL) line->max_lines = 2;
}

/* ---- what flows where --------------------------------------------------------------------- */

typedef struct side {
    const char *name[FLOW_ROWS];
    double mass_kg_s[FLOW_ROWS];
    int count;
} side;

static void put_side(side *s, const char *name, double mass_kg_s)
{
    if (!(mass_kg_s > 0.0) || s->count == FLOW_ROWS) return; /* four is the most there can be */
    s->name[s->count] = name;
    s->mass_kg_s[s->count++] = mass_kg_s;
}

static bool is_opening(dw_flow_kind kind)
{
    return kind == DW_FLOW_OPENING || kind == DW_FLOW_TALL_IN || kind == DW_FLOW_TALL_OUT;
}

static bool is_leak(dw_flow_kind kind)
{
    return kind == DW_FLOW_LEAK_IN || kind == DW_FLOW_LEAK_OUT;
}

/* Flow of one sign [kg/s, positive] of all flows that pass the test; flues count outwards. */
static double sum_flows(const dw_result *x, double sign, bool (*test)(dw_flow_kind))
{
    double sum = 0.0;
    for (int i = 0; i < x->flow_count; ++i) {
        const double mass = sign * x->flow[i].mass_kg_s;
        if (test(x->flow[i].kind) && mass > 0.0) sum += mass;
    }
    return sum;
}

static bool is_air_of_burner(dw_flow_kind kind)
{
    return kind == DW_FLOW_PRIMARY_AIR || kind == DW_FLOW_AIR_JET;
}

static bool is_unlit(dw_flow_kind kind)
{
    return kind == DW_FLOW_UNLIT_BURNER;
}

static bool is_flue(dw_flow_kind kind)
{
    return kind == DW_FLOW_FLUE;
}

/* No more of a name than the short table has room for, cut between characters. */
static const char *short_name(const dw_maker *m, const char *name)
{
    const size_t length = strlen(name);
    size_t used = 0;
    while (used < length) {
        const size_t step = dw_utf8_char(name + used, length - used);
        if (used + (step > 0 ? step : 1) > OPENING_NAME_BYTES) break;
        used += step > 0 ? step : 1;
    }
    return dw_report_keepf(m->report, "%.*s", (int)used, name);
}

/* The openings of one direction: the largest by name, the others in one row. */
static void put_openings(const dw_maker *m, side *s, double sign, int named)
{
    const dw_result *x = m->result;
    double rest = sum_flows(x, sign, is_opening);
    int count = 0, largest = -1;
    for (int i = 0; i < x->flow_count; ++i) {
        const double mass = sign * x->flow[i].mass_kg_s;
        if (!is_opening(x->flow[i].kind) || !(mass > 0.0)) continue;
        ++count;
        if (largest < 0 || mass > sign * x->flow[largest].mass_kg_s) largest = i;
    }
    if (count == 0) return;
    const int which = x->flow[largest].index;
    const dw_kiln *kiln = m->source->kiln;
    if (named > 0 && which >= 0 && which < kiln->opening_count) {
        const double mass = sign * x->flow[largest].mass_kg_s;
        put_side(s, short_name(m, kiln->opening[which].name), mass);
        rest -= mass;
        --count;
        if (count > 0) put_side(s, "other openings", rest);
    } else {
        put_side(s, "openings", rest);
    }
}

/* What does not fit goes into one row: nothing is left out of the sum. */
static void fold(side *s, int rows)
{
    if (s->count <= rows) return;
    for (int i = rows; i < s->count; ++i) s->mass_kg_s[rows - 1] += s->mass_kg_s[i];
    s->name[rows - 1] = "all other ways";
    s->count = rows;
}

/* Hazards need their lines more than small flows do. */
static int flow_rows(const dw_maker *m)
{
    const int alerts = count_alerts(m), rows = FLOW_ROWS + 1 - alerts;
    return alerts <= 1 ? FLOW_ROWS : rows > FLOW_ROWS_LEAST ? rows : FLOW_ROWS_LEAST;
}

static void add_flows(const dw_maker *m, dw_item *screen)
{
    const dw_result *x = m->result;
    const double back = sum_flows(x, -1.0, is_flue);
    side in = {.count = 0}, out = {.count = 0};
    put_side(&in, "air by burners", sum_flows(x, 1.0, is_air_of_burner));
    /* Gas that comes back needs its row more than an opening needs its name. */
    put_openings(m, &in, 1.0, back > 0.0 ? 0 : 1);
    put_side(&in, "leaks and open burners",
             sum_flows(x, 1.0, is_leak) + sum_flows(x, 1.0, is_unlit));
    put_side(&in, "back from the flue", back);
    put_side(&out, "flue", sum_flows(x, 1.0, is_flue));
    put_openings(m, &out, -1.0, 1);
    put_side(&out, "leaks and open burners",
             sum_flows(x, -1.0, is_leak) + sum_flows(x, -1.0, is_unlit));

    fold(&in, flow_rows(m));
    fold(&out, flow_rows(m));
    dw_number mass = dw_output_number("estimate", "flows.*.mass_kg_s", NAN);
    mass.resolution_si = 0.01 / 3600.0; /* sums of several: no digits of what is small beside them */
    const dw_column columns[] = {{.label = "in", .is_text = true},
                                 {.label = "", .is_blank = true, .number = mass},
                                 {.label = "   out", .is_text = true},
                                 {.label = "", .is_blank = true, .number = mass}};
    dw_item *table = dw_report_table(m->report, screen, NULL, "Flows", columns, 4);
    for (int i = 0; i < in.count || i < out.count; ++i) {
        dw_cell *cell = dw_report_row(m->report, table);
        if (cell == NULL) return;
        cell[0].text = i < in.count ? in.name[i] : "";
        if (i < in.count) cell[1].si = in.mass_kg_s[i];
        cell[2].text = i < out.count ? dw_report_keepf(m->report, "   %s", out.name[i]) : "";
        if (i < out.count) cell[3].si = out.mass_kg_s[i];
    }
}

void dw_build_title(dw_report *report, const dw_report_source *source, dw_item *parent)
{
    const dw_maker m = {report, source, NULL};
    add_title(&m, parent);
}

void dw_build_screen(dw_report *report, const dw_report_source *source, const dw_result *result)
{
    const dw_maker m = {report, source, result};
    dw_item *root = dw_report_root(report);
    dw_item *title = dw_report_group(report, root, NULL, NULL, DW_STYLE_PLAIN);
    add_title(&m, title);
    if (!result->solved || count_alerts(&m) == 0) dw_tell(report, title, "");
    if (!result->solved) {
        dw_item *group = dw_report_group(report, root, NULL, "", DW_STYLE_PLAIN);
        dw_item *line = dw_report_line(report, group, NULL, "", "NOT SOLVED: {0}.");
        dw_add_text(m.report, line, result->reason);
        dw_tell(report, group,
                "There are no numbers for this setting. A setting that does not balance on paper may stall, "
                "go out or spill gas in the kiln: do not try it to see.");
        dw_tell(report, group, "");
        group = dw_report_group(report, root, NULL, "", DW_STYLE_SCREEN);
        dw_build_caution(report, group, "Caution");
        return;
    }
    add_alerts(&m, root);
    dw_item *screen = dw_report_group(report, root, NULL, "", DW_STYLE_SCREEN);
    add_atmosphere(&m, screen);
    add_draft(&m, screen);
    add_heat(&m, screen);
    dw_add_damper_words(&m, screen);
    add_small_moves(&m, screen);
    add_flows(&m, screen);
    dw_build_caution(report, screen, "Caution");
}

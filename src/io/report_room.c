#include "report_room.h"

#include <math.h>

#include "report_people.h"

typedef struct maker {
    dw_report *r;
    const dw_report_source *source;
    const dw_room_course *c;
} maker;

static void fill_text(const maker *m, dw_item *line, const char *text)
{
    (void)dw_report_text(m->r, line, NULL, NULL, text);
}

static void fill_number(const maker *m, dw_item *line, dw_number number)
{
    (void)dw_report_number(m->r, line, NULL, NULL, number);
}

static dw_number co_flow(double m3_s)
{
    return dw_number_of(m3_s, DW_DIM_VOLUME_FLOW, 2);
}

static dw_number air_flow(double m3_s)
{
    return dw_number_of(m3_s, DW_DIM_VOLUME_FLOW, 3);
}

/* ---- screen ------------------------------------------------------------------------------- */

static void put_title(const maker *m, dw_item *parent)
{
    const dw_kiln *kiln = m->source->kiln;
    dw_item *line = dw_report_line(m->r, parent, NULL, "",
                                   "{0} in its room of {1}, run like this for {2}");
    fill_text(m, line, kiln->name);
    fill_number(m, line,
                dw_number_typed(m->source, offsetof(dw_kiln, room.volume_m3),
                                dw_number_assumed(kiln->room.volume_m3, DW_DIM_VOLUME)));
    fill_text(m, line, dw_people_duration(m->r, kiln->room.duration_s));
}

static void put_co_line(const maker *m, dw_item *screen)
{
    const dw_room_course *c = m->c;
    const bool settles = isfinite(c->room.steady_ppm);
    dw_item *line = dw_report_line(
        m->r, screen, NULL, "CO",
        settles ? "{0} in the air of the room after {1} (spread {2#} to {3}); steady at {4}"
                : "{0} in the air of the room after {1} (spread {2#} to {3}); it goes on rising");
    fill_number(m, line, dw_number_ppm(c->end_ppm));
    fill_text(m, line, dw_people_duration(m->r, m->source->kiln->room.duration_s));
    fill_number(m, line, dw_number_ppm(c->low_ppm));
    fill_number(m, line, dw_number_ppm(c->high_ppm));
    if (settles) fill_number(m, line, dw_number_ppm(c->room.steady_ppm));
    if (c->spread_incomplete) {
        (void)dw_report_text(m->r, screen, NULL, "",
                             "the spread is too narrow: with some inputs at an end of their range "
                             "the kiln has no balance");
    }
    if (!(c->end_ppm < 5.0e4)) {
        (void)dw_report_text(m->r, screen, NULL, "",
                             "more than the balance of one room means anything for; far beyond "
                             "every limit");
    }
}

static void put_screen(const maker *m)
{
    const dw_room_course *c = m->c;
    dw_item *root = dw_report_root(m->r);
    dw_item *title = dw_report_group(m->r, root, NULL, "", DW_STYLE_PLAIN);
    put_title(m, title);
    dw_item *screen = dw_report_group(m->r, root, NULL, "", DW_STYLE_SCREEN);
    if (!c->room.solved) {
        dw_item *line = dw_report_line(m->r, screen, NULL, "Verdict", "not solved: {0}");
        fill_text(m, line, c->room.reason);
        (void)dw_report_text(m->r, screen, NULL, "",
                             "There is no number for this setting. A kiln that does not balance on "
                             "paper may spill all its gas: treat it as dangerous, do not try it.");
        dw_build_caution(m->r, screen, "Caution");
        return;
    }
    dw_build_verdict(m->r, screen, c->verdict, dw_room_lift_text(c));
    put_co_line(m, screen);
    dw_build_deciding_limit(m->r, screen, &m->source->data->co, &c->worst, true);
    dw_item *line = dw_report_line(m->r, screen, NULL, "Kiln",
                                   "{0} of kiln gas with {1} of CO comes into the room: {2} of CO");
    fill_number(m, line, dw_number_of(c->room.spill_kg_s, DW_DIM_MASS_FLOW, 3));
    fill_number(m, line, dw_number_share(c->room.x_co_wet, 3));
    fill_number(m, line, co_flow(c->room.co_m3_s));
    line = dw_report_line(m->r, screen, NULL, "Room",
                          c->room.pressure_given ? "{0} against outside (given), ventilation {1}"
                                                 : "{0} against outside, ventilation {1}");
    fill_number(m, line, dw_number_draft(c->room.pressure_pa));
    fill_number(m, line, air_flow(c->room.air.flow_m3_s));
    dw_build_blood_line(m->r, screen, &m->source->data->co, &c->exposure);
    dw_build_alarm_line(m->r, screen, &m->source->data->co, &c->exposure);
    (void)dw_report_text(m->r, screen, NULL, "If ill",
                         "headache, dizziness, sickness, or an alarm: out into fresh air, "
                         "emergency number, medical help; then `exposure --symptoms`");
    dw_build_caution(m->r, screen, "Caution");
}

/* ---- sections ----------------------------------------------------------------------------- */

static const char *place_name(const maker *m, const dw_room_place *p)
{
    const dw_kiln *kiln = m->source->kiln;
    const char *text = NULL;
    switch (p->kind) {
    case DW_FLOW_OPENING:
    case DW_FLOW_TALL_OUT: return kiln->opening[p->index].name;
    case DW_FLOW_LEAK_OUT: return "cracks of door and brickwork";
    case DW_FLOW_RELIEF: return "draft relief opening";
    case DW_FLOW_FLUE: return kiln->flue[p->index].name;
    case DW_FLOW_UNLIT_BURNER:
        text = dw_report_keepf(m->r, "%s (off)", kiln->burner[p->index].name);
        break;
    case DW_FLOW_PRIMARY_AIR:
        text = dw_report_keepf(m->r, "%s (pushed back)", kiln->burner[p->index].name);
        break;
    case DW_FLOW_GAS_JET:
        text = dw_report_keepf(m->r, "%s (its gas)", kiln->burner[p->index].name);
        break;
    default: break;
    }
    return text != NULL ? text : "";
}

static void put_places(const maker *m)
{
    const dw_room_result *room = &m->c->room;
    dw_item *group = dw_report_group(m->r, dw_report_root(m->r), NULL,
                                     "Where gas comes out into the room", DW_STYLE_SECTION);
    const dw_column columns[] = {
        {.key = "name", .label = "\nplace", .is_text = true},
        {.key = "height_m", .label = "\nheight", .number = dw_number_of(NAN, DW_DIM_LENGTH, 3)},
        {.key = "mass_kg_s", .label = "\nhot gas", .number = dw_number_of(NAN, DW_DIM_MASS_FLOW, 3)},
        {.key = "co_m3_s", .label = "\nCO", .number = co_flow(NAN)},
        {.key = "h2_m3_s", .label = "\nH2", .number = co_flow(NAN)},
        {.key = "unburnt_m3_s", .label = "other\ngas", .number = co_flow(NAN)},
        {.key = "near_burner", .label = "near\nburner", .is_text = true, .is_blank = true}};
    dw_item *table = dw_report_table(m->r, group, "places", "", columns, 7);
    for (int i = 0; i < room->place_count; i++) {
        const dw_room_place *p = &room->place[i];
        dw_cell *cell = dw_report_row(m->r, table);
        if (cell == NULL) return;
        cell[0].text = place_name(m, p);
        cell[1].si = p->height_m;
        cell[2].si = p->mass_kg_s;
        cell[3].si = p->co_m3_s;
        cell[4].si = p->h2_m3_s;
        cell[5].si = p->unburnt_m3_s;
        cell[6].text = p->near_burner >= 0 ? m->source->kiln->burner[p->near_burner].name : NULL;
    }
}

static void put_room(const maker *m)
{
    const dw_room_course *c = m->c;
    const dw_room_result *room = &c->room;
    dw_report *r = m->r;
    dw_item *g = dw_report_group(r, dw_report_root(r), "room", "The room", DW_STYLE_SECTION);
    static const char *const lifts[] = {"none",         "spread incomplete", "cold chamber",
                                        "rich or smoky", "stack turning",    "gas pushed out"};
    (void)dw_report_text(r, g, "verdict", NULL, dw_verdict_text(c->verdict));
    (void)dw_report_text(r, g, "verdict_by_co", NULL, dw_verdict_text(c->worst.verdict));
    (void)dw_report_text(r, g, "verdict_lifted_by", NULL, lifts[c->lift]);
    (void)dw_report_number(r, g, "co_end_ppm", "CO at the end", dw_number_ppm(c->end_ppm));
    (void)dw_report_number(r, g, "co_end_low_ppm", "spread, from", dw_number_ppm(c->low_ppm));
    (void)dw_report_number(r, g, "co_end_high_ppm", "to", dw_number_ppm(c->high_ppm));
    (void)dw_report_bool(r, g, "spread_incomplete", NULL, c->spread_incomplete);
    if (isfinite(room->steady_ppm)) {
        (void)dw_report_number(r, g, "co_steady_ppm", "CO it settles at",
                               dw_number_ppm(room->steady_ppm));
    } else {
        (void)dw_report_null(r, g, "co_steady_ppm", "CO it settles at",
                             "never: there is no ventilation");
    }
    (void)dw_report_number(r, g, "pressure_pa", "room against outside",
                           dw_number_draft(room->pressure_pa));
    (void)dw_report_bool(r, g, "pressure_given", NULL, room->pressure_given);
    if (isfinite(room->pressure_without_fan_pa)) {
        (void)dw_report_number(r, g, "pressure_without_fan_pa", "the same with the fan off",
                               dw_number_draft(room->pressure_without_fan_pa));
    }
    (void)dw_report_number(r, g, "draft_loss_pa", "draft that the room's pressure costs",
                           dw_number_draft(room->draft_loss_pa));
    (void)dw_report_number(r, g, "fan_m3_s", "fan moves", air_flow(room->fan_m3_s));
    (void)dw_report_number(r, g, "kiln_draws_m3_s", "kiln draws from the room, net",
                           air_flow(room->kiln_draws_m3_s));
    (void)dw_report_number(r, g, "make_up_m3_s", "comes in from outside",
                           air_flow(room->make_up_m3_s));
    (void)dw_report_number(r, g, "ventilation_m3_s", "ventilation counted",
                           air_flow(room->air.flow_m3_s));
    (void)dw_report_number(r, g, "spill_kg_s", "hot gas into the room",
                           dw_number_of(room->spill_kg_s, DW_DIM_MASS_FLOW, 3));
    (void)dw_report_number(r, g, "co_leaves_kiln_m3_s", "CO that leaves the kiln",
                           co_flow(room->co_leaves_m3_s));
    (void)dw_report_number(r, g, "co_m3_s", "CO into the room", co_flow(room->co_m3_s));
    (void)dw_report_number(r, g, "h2_m3_s", "hydrogen into the room", co_flow(room->h2_m3_s));
    (void)dw_report_number(r, g, "unburnt_m3_s", "other gas that burns",
                           co_flow(room->unburnt_m3_s));
    (void)dw_report_number(r, g, "co_content_wet", "CO of the kiln gas, wet",
                           dw_number_share(room->x_co_wet, 3));
    (void)dw_report_number(r, g, "residual_pa", NULL, dw_number_plain(room->residual_pa, 2));
    (void)dw_report_number(r, g, "closure_co", "CO in, out and stored close to",
                           dw_number_plain(c->closure_co, 2));
    (void)dw_report_integer(r, g, "solutions", NULL, room->rounds);
}

static void put_course(const maker *m)
{
    dw_item *group =
        dw_report_group(m->r, dw_report_root(m->r), NULL, "Over time", DW_STYLE_SECTION);
    const dw_column columns[] = {
        {.key = "time_s", .number = dw_number_of(NAN, DW_DIM_TIME, 4)},
        {.label = "\nafter", .is_text = true},
        {.key = "co_ppm", .label = "\nCO", .number = dw_number_ppm(NAN)},
        {.key = "cohb", .label = "haemoglobin\ntaken", .number = dw_number_cohb(NAN)}};
    dw_item *table = dw_report_table(m->r, group, "course", "", columns, 4);
    for (int i = 0; i < m->c->row_count; i++) {
        dw_cell *cell = dw_report_row(m->r, table);
        if (cell == NULL) return;
        cell[0].si = m->c->row[i].time_s;
        cell[1].text = dw_people_duration(m->r, m->c->row[i].time_s);
        cell[2].si = m->c->row[i].ppm;
        cell[3].si = m->c->row[i].cohb_frac;
    }
}

static void put_doubt(const maker *m)
{
    dw_item *group = dw_report_group(m->r, dw_report_root(m->r), NULL,
                                     "What moves the CO of the room most", DW_STYLE_SECTION);
    const dw_column columns[] = {
        {.key = "input", .label = "\nnot given or never sure", .is_text = true},
        {.key = "co_low_end_ppm", .label = "CO at its\nlow end", .number = dw_number_ppm(NAN)},
        {.key = "co_high_end_ppm", .label = "and at its\nhigh end", .number = dw_number_ppm(NAN)}};
    dw_item *table = dw_report_table(m->r, group, "doubt", "", columns, 3);
    for (int i = 0; i < m->c->doubt_count; i++) {
        dw_cell *cell = dw_report_row(m->r, table);
        if (cell == NULL) return;
        cell[0].text = dw_room_doubt_text(m->c->doubt[i].input);
        cell[1].si = m->c->doubt[i].low_ppm;
        cell[2].si = m->c->doubt[i].high_ppm;
    }
}

static void put_assumptions(const maker *m)
{
    const dw_room *in = &m->source->kiln->room;
    dw_item *prose =
        dw_report_group(m->r, dw_report_root(m->r), NULL, "What this rests on", DW_STYLE_PLAIN);
    static const char *const texts[] = {
        "An upper estimate: every opening above the neutral plane lets out gas as it is on "
        "average in the chamber, and a burner that is pushed back lets all its gas out.",
        "One well-mixed room. Beside the kiln, under the ceiling and in corners there is more. "
        "Air that the kiln draws up its stack is not counted as ventilation. The room starts with "
        "outside air.",
        "No wind, no opened doors, no cracks but those described, no blocked stack, no failing "
        "part.",
    };
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        (void)dw_report_text(m->r, prose, NULL, "", texts[i]);
    }
    (void)dw_report_text(m->r, prose, NULL, "",
                         dw_report_keepf(m->r,
                                         "Hood: %.3g %% of what leaves the kiln is taken outside%s. "
                                         "Flames at the openings burn %.3g %%%s.",
                                         100.0 * in->hood_capture_frac,
                                         in->hood_capture_frac > 0.0
                                             ? " (your number: hot gas from every place rises into "
                                               "it and its fan runs)"
                                             : ", none being said to",
                                         100.0 * in->burnt_frac,
                                         in->burnt_frac > 0.0
                                             ? " (your number: the gas meets air while it is still "
                                               "above some 600 degC and the flame is seen)"
                                             : ", none being said to"));
    dw_exposure_person person = {.activity = in->activity, .smoker = in->smoker};
    dw_build_people_notes(m->r, prose, &m->source->data->co, &m->c->exposure, &person);
}

void dw_build_room(dw_report *report, const dw_report_source *source,
                   const dw_room_course *course, const dw_lighting *lighting)
{
    const maker m = {report, source, course};
    const dw_room *in = &source->kiln->room;
    put_screen(&m);
    dw_build_head(report, source);
    (void)dw_report_bool(report, dw_report_root(report), "solved", NULL, course->room.solved);
    dw_build_room_notices(report, source, course);
    if (course->room.solved) {
        const dw_exposure_person person = {.activity = in->activity,
                                           .smoker = in->smoker,
                                           .height_m = in->person_height_m,
                                           .mass_kg = in->person_mass_kg};
        put_room(&m);
        put_places(&m);
        put_course(&m);
        dw_build_limits(report, &source->data->co, &course->exposure, course);
        dw_build_alarms(report, &source->data->co, &course->exposure);
        dw_build_people(report, &source->data->co, &course->exposure, &person);
        put_doubt(&m);
        put_assumptions(&m);
    }
    dw_build_lighting(report, source, lighting);
}

#include "report_room.h"

#include <math.h>
#include <string.h>

#include "kiln_listing.h"
#include "report_exposure.h"

typedef struct maker {
    dw_report *r;
    const dw_report_source *source;
    const dw_room_course *c;
} maker;

/* What the person asking said about the time. */
typedef struct said {
    bool duration, dwelling;
} said;

static int take_row(void *user, const dw_listing_row *row)
{
    said *s = user;
    if (row->origin != DW_ORIGIN_GIVEN) return 0;
    if (strcmp(row->path, "room.duration") == 0) s->duration = true;
    if (strcmp(row->path, "room.dwelling") == 0) s->dwelling = true;
    return 0;
}

static said what_was_said(const dw_report_source *source)
{
    said s = {false, false};
    dw_kiln_listing(source->kiln, &source->file->given, &source->data->species, take_row, &s);
    return s;
}

/* A number of the room, by its key. */
static void fill(const maker *m, dw_item *line, const char *key)
{
    const dw_output_row *row = dw_output_find("room", key);
    dw_add_output(m->r, line, "room", key, dw_output_read(row, m->source->data, m->c, 0));
}

/* ---- screen ------------------------------------------------------------------------------- */

static void put_title(const maker *m, dw_item *parent)
{
    const dw_kiln *kiln = m->source->kiln;
    dw_item *line = dw_report_line(m->r, parent, NULL, "",
                                   "{0} in its room of {1}, fired like this for {2}");
    dw_add_text(m->r, line, kiln->name);
    dw_add_number(m->r, line,
                dw_number_typed(m->source, offsetof(dw_kiln, room.volume_m3),
                                dw_number_assumed(kiln->room.volume_m3, DW_DIM_VOLUME)));
    dw_add_text(m->r, line, dw_people_duration(m->r, kiln->room.duration_s));
}

static bool co_is_known(const maker *m)
{
    return m->c->room.unknown == DW_CO_KNOWN;
}

static void put_co_line(const maker *m, dw_item *screen)
{
    const dw_room_course *c = m->c;
    if (!co_is_known(m)) {
        dw_item *line = dw_report_line(m->r, screen, NULL, "CO",
                                       "not known: {0}. So there is no figure for the air, for "
                                       "people or for an alarm");
        dw_add_text(m->r, line, dw_room_unknown_text(c->room.unknown));
        return;
    }
    /* Flames that burn badly give more than the figure knows of. */
    const bool least = c->lift == DW_LIFT_COLD || c->lift == DW_LIFT_RICH || c->spread_incomplete;
    dw_item *line = dw_report_line(
        m->r, screen, NULL, "CO",
        c->spread_incomplete
            ? "{0} or more in the air of the room after {1}; it settles at {4}"
        : least ? "at least {0} in the air of the room after {1} (range {2#} to {3}); it settles "
                  "at {4}"
                : "{0} in the air of the room after {1} (range {2#} to {3}); it settles at {4}");
    fill(m, line, "room.co_end_ppm");
    dw_add_text(m->r, line, dw_people_duration(m->r, m->source->kiln->room.duration_s));
    fill(m, line, "room.co_end_low_ppm");
    fill(m, line, "room.co_end_high_ppm");
    fill(m, line, "room.co_steady_ppm");
    if (c->spread_incomplete) {
        dw_tell(m->r, screen,
                "How much more is not known: with an uncertain input at an end of its range the kiln does "
                "not balance, or its gas goes the wrong way.");
    }
    if (!(c->end_ppm < 5.0e4)) {
        dw_tell(m->r, screen, "This is beyond what the model can represent, and far beyond every limit.");
    }
}

/* What comes out of the kiln, and what of it stays in the room: before the hood, and behind it. */
static void put_kiln_line(const maker *m, dw_item *screen)
{
    const dw_room_result *room = &m->c->room;
    const dw_room *in = &m->source->kiln->room;
    const bool flues = room->by_flues_kg_s > 0.0, known = co_is_known(m);
    const char *pattern =
        flues ? known ? "{0} of gas comes out, {1#} by openings and {2#} by flues that end in "
                        "the room, with {3} of CO in it"
                      : "{0} of gas comes out, {1#} by openings and {2#} by flues that end in the room"
        : known ? "{0} of gas comes out by openings, with {3} of CO in it"
                : "{0} of gas comes out by openings and burners";
    dw_item *line = dw_report_line(m->r, screen, NULL, "Kiln", pattern);
    fill(m, line, "room.into_room_kg_s");
    fill(m, line, "room.into_room_by_openings_kg_s");
    fill(m, line, "room.into_room_by_flues_kg_s");
    fill(m, line, "room.co_leaves_kiln_m3_s");
    if (!(room->spill_kg_s > 0.0) || !known || !(in->hood_capture_frac > 0.0)) return;
    line = dw_report_line(m->r, screen, NULL, "", "the hood leaves {0} of CO in the room");
    fill(m, line, "room.co_m3_s");
}

/* What it likely is, where gas burns as it comes out. Beside a verdict that is worse than the figure it would only
 * comfort. */
static void put_likely(const maker *m, dw_item *screen)
{
    const dw_room_course *c = m->c;
    if (!co_is_known(m) || c->lift != DW_LIFT_NONE || !(c->likely.burnt_frac > 0.0)) return;
    dw_item *line = dw_report_line(m->r, screen, NULL, "Likely",
                                   "{0}, COHb {1}, if flames burn {2} of it; do not rely on that");
    fill(m, line, "room.likely_co_end_ppm");
    fill(m, line, "room.likely_cohb_peak");
    fill(m, line, "room.likely_burnt_share");
}

/* What the figure takes for granted, and what would be better than it. */
static void put_assumed(const maker *m, dw_item *screen)
{
    const dw_room *in = &m->source->kiln->room;
    const said s = what_was_said(m->source);
    const char *pattern = in->hood_capture_frac > 0.0
                              ? "an upper estimate for {1}: hood {0}, nothing burnt off"
                              : "an upper estimate for {1}: no hood, nothing burnt off";
    const char *hours = dw_people_duration(m->r, in->duration_s);
    dw_item *line = dw_report_line(m->r, screen, NULL, "Assumed", pattern);
    dw_add_number(m->r, line, dw_number_input(in->hood_capture_frac, DW_DIM_RATIO));
    dw_add_text(m->r, line, s.duration ? hours : dw_report_keepf(m->r, in->dwelling ? "a day and night (%s)"
                                                                         : "a %s firing day", hours));
    if (!s.dwelling) {
        (void)dw_report_text(m->r, screen, NULL, "Dwelling",
                             "not said, so taken as no. If somebody lives or sleeps above or beside the "
                             "kiln, write `dwelling: yes` under `room`: 24 h then count");
    } else if (in->dwelling && s.duration) {
        (void)dw_report_text(m->r, screen, NULL, "Dwelling",
                             "yes, but the `duration` you gave is used; without it 24 h count");
    }
    (void)dw_report_text(m->r, screen, NULL, "Measure",
                         "carbon monoxide with a meter, beside the kiln and where people stay, in "
                         "reduction: what it shows counts, not this estimate");
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
        if (line != NULL) line->tone = DW_TONE_BAD;
        dw_add_text(m->r, line, c->room.reason);
        dw_tell(m->r, screen,
                "There is no figure for this setting. A kiln that does not balance on paper may let all its "
                "gas into the room: treat it as dangerous and do not try it.");
        dw_build_caution(m->r, screen, "Caution");
        return;
    }
    dw_build_verdict(m->r, screen, c->verdict, dw_room_lift_text(c));
    put_co_line(m, screen);
    if (co_is_known(m)) {
        dw_build_deciding_limit(m->r, screen, &m->source->data->co, &c->worst,
                                !c->spread_incomplete);
    }
    put_kiln_line(m, screen);
    put_likely(m, screen);
    dw_item *line = dw_report_line(m->r, screen, NULL, "Room",
                                   c->room.pressure_given ? "{0} against the pressure outside (given); ventilation {1}"
                                                 : "{0} against the pressure outside; "
                                                   "ventilation {1}");
    fill(m, line, "room.pressure_pa");
    fill(m, line, "room.ventilation_m3_s");
    /* Beside a verdict that is worse than the figure they would only comfort. */
    if (co_is_known(m) && c->lift == DW_LIFT_NONE) {
        dw_build_blood_line(m->r, screen, &m->source->data->co, &c->exposure);
        dw_build_alarm_line(m->r, screen, &m->source->data->co, &c->exposure);
    }
    if (co_is_known(m)) put_assumed(m, screen);
    (void)dw_report_text(m->r, screen, NULL, "If ill",
                         "headache, dizziness, sickness or an alarm: everybody out, call the "
                         "emergency number, get medical help; then `exposure --symptoms`");
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
    case DW_FLOW_LEAK_OUT: return "cracks in door and brickwork";
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

/* Columns of that table. */
enum { NEAR_BURNER = 7 };

static void put_places(const maker *m)
{
    const dw_room_result *room = &m->c->room;
    const bool known = co_is_known(m);
    dw_item *group = dw_report_group(m->r, dw_report_root(m->r), NULL,
                                     "Where gas comes out into the room", DW_STYLE_SECTION);
    dw_item *table = dw_output_table(m->r, group, "room", "places", "");
    if (table == NULL) return;
    for (size_t i = 3; i < 6 && !known; ++i) table->table->column[i].label = NULL;
    table->table->column[NEAR_BURNER].is_blank = true;
    for (int i = 0; i < room->place_count; i++) {
        const dw_room_place *p = &room->place[i];
        dw_cell *cell = dw_report_row(m->r, table);
        if (cell == NULL) return;
        dw_output_fill(table->table, cell, m->source->data, DW_IN_COURSE, m->c, (size_t)i);
        cell[0].text = place_name(m, p);
        cell[NEAR_BURNER].text = p->near_burner >= 0 ? m->source->kiln->burner[p->near_burner].name : NULL;
    }
}

/* Numbers of the room from one row to another; shown: in the text too. */
static void put(const maker *m, dw_item *g, bool shown, const char *first, const char *last)
{
    dw_report_outputs(m->r, g, "room", first, last, m->source->data, m->c, shown);
}

static void put_verdict(const maker *m, dw_item *g)
{
    const dw_room_course *c = m->c;
    static const char *const lifts[] = {"none",         "spread incomplete", "cold chamber",
                                        "rich or smoky", "stack turning",    "gas pushed out"};
    (void)dw_report_text(m->r, g, "verdict", NULL, dw_verdict_text(c->verdict));
    (void)dw_report_bool(m->r, g, "co_known", NULL, co_is_known(m));
    const bool known = co_is_known(m);
    dw_report_output_text(m->r, g, "room", "room.co_unknown_because", dw_room_unknown_text(c->room.unknown));
    dw_report_output_text(m->r, g, "room", "room.verdict_by_co",
                          known ? dw_verdict_text(c->worst.verdict) : NULL);
    (void)dw_report_text(m->r, g, "verdict_lifted_by", NULL, lifts[c->lift]);
    put(m, g, known, "room.co_end_ppm", "room.co_end_ppm");
    put(m, g, known && !c->spread_incomplete, "room.co_end_low_ppm", "room.co_end_high_ppm");
    (void)dw_report_bool(m->r, g, "spread_incomplete", NULL, c->spread_incomplete);
    put(m, g, known, "room.co_steady_ppm", "room.co_steady_ppm");
    put(m, g, known && m->c->likely.burnt_frac > 0.0 && m->c->lift == DW_LIFT_NONE, "room.likely_co_end_ppm",
        "room.likely_burnt_share");
}

static void put_time(const maker *m, dw_item *g)
{
    const dw_room *in = &m->source->kiln->room;
    const said s = what_was_said(m->source);
    (void)dw_report_output(m->r, g, "room", "room.duration_s", in->duration_s);
    (void)dw_report_bool(m->r, g, "duration_given", NULL, s.duration);
    (void)dw_report_bool(m->r, g, "dwelling", NULL, in->dwelling);
    (void)dw_report_bool(m->r, g, "dwelling_given", NULL, s.dwelling);
}

static void put_room(const maker *m)
{
    const dw_room_result *room = &m->c->room;
    const bool known = co_is_known(m), flues = room->by_flues_kg_s > 0.0;
    dw_item *g = dw_report_group(m->r, dw_report_root(m->r), "room", "The room", DW_STYLE_SECTION);
    put_verdict(m, g);
    put_time(m, g);
    put(m, g, true, "room.pressure_pa", "room.pressure_pa");
    (void)dw_report_bool(m->r, g, "pressure_given", NULL, room->pressure_given);
    const bool fan = isfinite(room->pressure_without_fan_pa);
    put(m, g, true, fan ? "room.pressure_without_fan_pa" : "room.draft_loss_pa", "room.into_room_kg_s");
    put(m, g, flues, "room.into_room_by_openings_kg_s", "room.into_room_by_flues_kg_s");
    put(m, g, false, "room.spill_kg_s", "room.spill_kg_s");
    put(m, g, known, "room.co_leaves_kiln_m3_s", "room.co_content_wet");
    put(m, g, false, "room.residual_pa", "room.residual_pa");
    put(m, g, known, "room.closure_co", "room.solutions");
}

static void put_course(const maker *m)
{
    dw_item *group =
        dw_report_group(m->r, dw_report_root(m->r), NULL, "Over time", DW_STYLE_SECTION);
    dw_item *table = dw_output_table(m->r, group, "room", "course", "");
    for (int i = 0; i < m->c->row_count; i++) {
        dw_cell *cell = dw_report_row(m->r, table);
        if (cell == NULL) return;
        dw_output_fill(table->table, cell, m->source->data, DW_IN_COURSE, m->c, (size_t)i);
        cell[1].text = dw_people_duration(m->r, m->c->row[i].time_s);
    }
}

static void put_doubt(const maker *m)
{
    dw_item *group = dw_report_group(m->r, dw_report_root(m->r), NULL,
                                     "Which uncertain input changes the CO most", DW_STYLE_SECTION);
    dw_item *table = dw_output_table(m->r, group, "room", "doubt", "");
    for (int i = 0; i < m->c->doubt_count; i++) {
        dw_cell *cell = dw_report_row(m->r, table);
        if (cell == NULL) return;
        cell[0].text = dw_room_doubt_text(m->c->doubt[i].input);
        dw_output_fill(table->table, cell, m->source->data, DW_IN_COURSE, m->c, (size_t)i);
    }
}

static void put_assumptions(const maker *m)
{
    const dw_room *in = &m->source->kiln->room;
    dw_item *prose =
        dw_report_group(m->r, dw_report_root(m->r), NULL, "What is assumed", DW_STYLE_PLAIN);
    static const char *const texts[] = {
        "This is an upper estimate. Every opening above the neutral plane lets out gas of the "
        "mean composition in the chamber. A burner that is pushed back lets all its gas out.",
        "The room is one well-mixed space. Beside the kiln, under the ceiling and in corners "
        "there is more carbon monoxide. Air that the kiln draws up its stack is not counted as "
        "ventilation. The room starts with outside air.",
        "Wind, opened doors, cracks that you did not describe, a blocked stack and failing parts "
        "are not included.",
    };
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        dw_tell(m->r, prose, texts[i]);
    }
    (void)dw_report_text(m->r, prose, NULL, "",
                         dw_report_keepf(m->r,
                                         "A hood takes %.3g %% of what leaves the kiln "
                                         "outside%s. Nothing is counted as burnt where gas comes out, whatever "
                                         "flames there are: cracks burn nothing, and a flame may go out.",
                                         100.0 * in->hood_capture_frac,
                                         in->hood_capture_frac > 0.0
                                             ? " (your figure: hot gas from every place rises "
                                               "into the hood, and its fan runs)"
                                             : " (none was given)"));
    if (!co_is_known(m)) return;
    dw_exposure_person person = {.activity = in->activity, .smoker = in->smoker};
    dw_build_people_notes(m->r, prose, &m->source->data->co, &m->c->exposure, &person);
}

void dw_build_room(dw_report *report, const dw_report_source *source,
                   const dw_room_course *course, const dw_lighting *lighting)
{
    const maker m = {report, source, course};
    const bool known = co_is_known(&m);
    const dw_exposure *exposure = known ? &course->exposure : NULL;
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
        if (known) {
            put_course(&m);
        } else {
            (void)dw_report_null(report, dw_report_root(report), "course", NULL, NULL);
        }
        dw_build_limits(report, source->data, exposure, course);
        dw_build_alarms(report, source->data, exposure);
        dw_build_people(report, source->data, exposure, &person);
        if (known) {
            put_doubt(&m);
        } else {
            (void)dw_report_null(report, dw_report_root(report), "doubt", NULL, NULL);
        }
        put_assumptions(&m);
    }
    dw_build_lighting(report, source, lighting);
}

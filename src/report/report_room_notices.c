/* What a room was found to be, in sentences, for the text and the list `diagnostics`; and lighting the kiln. */
#include "report_room.h"

#include <math.h>

#include "finding_text.h"
#include "report_exposure.h"

/* From here on the room's pressure is said to cost draft [Pa]. */
static const double worth_saying_pa = 0.5;

typedef struct maker {
    dw_report *r;
    const dw_report_source *source;
    const dw_room_course *c;
    dw_item *prose, *list;
    dw_grade now; /* what is said in this pass */
} maker;

const char *dw_room_lift_text(const dw_room_course *c)
{
    static const char *const texts[] = {
        [DW_LIFT_NONE] = NULL,
        [DW_LIFT_SPREAD] = "With an uncertain input at an end of its range the kiln does not balance, or "
                           "its gas goes the wrong way. Do not fire like this before you have measured "
                           "what is uncertain.",
        [DW_LIFT_COLD] = "The chamber is cold. Flames burn badly there or go out, and the carbon monoxide "
                         "and gas that they then give are not in the figure.",
        [DW_LIFT_RICH] = "The flame is smoky or far too rich, or a flue flows backwards: there is more "
                         "carbon monoxide than the figure says.",
        [DW_LIFT_TURNING] = "The stack turns round at this room pressure. Everybody out of the room; shut "
                            "the gas off; open the doors of the room.",
        [DW_LIFT_PUSHED_OUT] = "Gas is pushed out at a burner or the draft relief opening, or the stack "
                               "flows backwards. Everybody out of the room; shut the gas off; open the "
                               "doors of the room."};
    return texts[c->lift];
}

const char *dw_room_unknown_text(dw_co_unknown unknown)
{
    static const char *const texts[] = {
        [DW_CO_KNOWN] = NULL,
        [DW_CO_STACK_REVERSED] = "the stack flows backwards",
        [DW_CO_PUSHED_BACK] = "the kiln pushes back into a lit burner",
        [DW_CO_STACK_TURNS] = "the stack turns round at this room pressure",
        [DW_CO_END_UNKNOWN] = ("with an uncertain input at an end of its range the kiln does not "
                               "balance, or its gas goes the wrong way")};
    return texts[unknown];
}

static void notice(const maker *m, dw_grade grade, const char *code, const char *text)
{
    if (grade == m->now && text != NULL) {
        dw_build_notice(m->r, m->prose, m->list, grade, code, text);
    }
}

static void notice_verdict(const maker *m)
{
    static const char *const codes[] = {"co-low", "co-raised", "co-dangerous"};
    static const dw_grade grades[] = {DW_NOTE, DW_WARNING, DW_HAZARD};
    static const char *const texts[] = {
        "The estimate of carbon monoxide for this room is low. It is an estimate for the kiln "
        "you described, in good order, on a still day. Keep the alarm, the hood and the "
        "ventilation on.",
        "Carbon monoxide in this room is estimated above a limit for work or a guideline for the "
        "public. Keep people out. Ventilate more, with make-up air; fit a hood with a fan; or "
        "reduce less. Measure.",
        "Carbon monoxide in this room is estimated at a level that harms people. Do not fire "
        "like this. If the kiln is running: everybody out, shut the gas off, open the doors of "
        "the room. Find out why so much comes out, and have a licensed gas fitter look at the "
        "flue, the hood and the ventilation."};
    const char *lift = dw_room_lift_text(m->c);
    notice(m, grades[m->c->verdict], codes[m->c->verdict],
           lift != NULL ? lift : texts[m->c->verdict]);
}

/* These texts are the same in all units, so they show both: "82 Pa (0.33 in w.c.)". */
static const char *pressure_text(const maker *m, double pa)
{
    const char *unit = "";
    const double us = dw_pressure_display(pa, 1, DW_UNITS_US, &unit);
    const char *text = dw_report_keepf(m->r, "%.3g Pa (%.2g %s)", pa, us, unit);
    return text != NULL ? text : "";
}

static void notice_pressure(const maker *m)
{
    const dw_room_result *room = &m->c->room;
    const double limit_pa = m->source->data->co.spillage_pa;
    if (room->pressure_pa < limit_pa) {
        const bool other = m->source->kiln->room.other_flued_appliance;
        notice(m, other ? DW_HAZARD : DW_WARNING, "room-pressure-low",
               dw_report_keepf(m->r,
                               "The pressure in the room is %s below the pressure outside. %s "
                               "below about %s, a figure recalled from a national spillage "
                               "standard (CAN/CGSB-51.71; look it up), other flued appliances "
                               "such as a water heater, boiler or stove may let their gas into "
                               "the room. Let air in or turn the fan down, and have somebody "
                               "competent test them.",
                               pressure_text(m, -room->pressure_pa),
                               other ? "There is another flued appliance, or you did not say "
                                       "that there is none:"
                                     : "You said that there is none here, but",
                               pressure_text(m, -limit_pa)));
    }
    if (room->draft_loss_pa > worth_saying_pa) {
        notice(m, DW_WARNING, "room-costs-draft",
               dw_report_keepf(m->r,
                               "The room's own pressure takes %s of draft from the kiln. Air "
                               "that is taken out must be let in: give the room a make-up "
                               "opening.",
                               pressure_text(m, room->draft_loss_pa)));
    }
    if (!room->pressure_given && room->kiln_feels_it && room->pressure_pa < -worth_saying_pa) {
        notice(m, DW_NOTE, "room-pressure-elsewhere",
               dw_report_keepf(m->r,
                               "`estimate` and `sweep` do not work out the room's pressure. To "
                               "ask them about this state, set site.room_pressure = '%.3g Pa'.",
                               room->pressure_pa));
    }
    if (room->turning) {
        notice(m, DW_HAZARD, "stack-about-to-turn",
               "At this room pressure the stack turns round: there is no steady state. With "
               "everybody out and the gas off, turn the fan down and let air in.");
    }
}

static void notice_places(const maker *m)
{
    const dw_room_result *room = &m->c->room;
    const dw_kiln *kiln = m->source->kiln;
    bool near[DW_BURNER_MAX] = {false};
    for (int i = 0; i < room->place_count; i++) {
        if (room->place[i].near_burner >= 0) near[room->place[i].near_burner] = true;
    }
    for (int i = 0; i < kiln->burner_count; i++) {
        if (!near[i]) continue;
        notice(m, DW_NOTE, "spill-near-burner",
               dw_report_keepf(m->r,
                               "Gas comes out within 0.1 m (4 in) of the height of '%.60s'. "
                               "There it may be raw flame gas, with more carbon monoxide and "
                               "unburnt gas than the mixed gas that is counted.",
                               kiln->burner[i].name));
    }
    if (room->raw_gas) {
        notice(m, DW_HAZARD, "unburnt-gas-in-room",
               "Gas that has not burnt comes into the room, and it can burn or explode there. "
               "Everybody out. Light no flame and touch no switch. Shut the gas off if you pass "
               "the valve, and open the doors of the room.");
    }
    if (!dw_kiln_ends_outside(kiln)) {
        notice(m, DW_WARNING, "flues-end-in-room",
               dw_report_keepf(m->r,
                               "The flues end in the room. All kiln gas is counted as coming "
                               "into the room, except the share that you say a hood takes (%.3g "
                               "%%). Do not count on a hood that nobody has measured.",
                               100.0 * kiln->room.hood_capture_frac));
    }
}

/* What the kiln alone was found to be: its hazards. */
static void notice_kiln(const maker *m)
{
    const dw_result *kiln = &m->c->kiln;
    if (m->now != DW_HAZARD) return;
    for (int i = 0; i < kiln->finding_count; i++) {
        const dw_finding *found = &kiln->finding[i];
        dw_finding_words words;
        if (!dw_finding_words_of(found->code, &words) || words.grade != DW_HAZARD) continue;
        dw_build_finding(m->r, m->prose, m->list, m->source->kiln, found, false);
    }
}

void dw_build_room_notices(dw_report *report, const dw_report_source *source,
                           const dw_room_course *course)
{
    maker m = {.r = report, .source = source, .c = course};
    dw_item *root = dw_report_root(report);
    m.list = dw_report_list(report, root, "diagnostics", NULL);
    if (!course->room.solved) {
        dw_build_notice(report, NULL, m.list, DW_ERROR, "not-solved", course->room.reason);
        return;
    }
    m.prose = dw_report_group(report, root, NULL, "Hazards, warnings and notes", DW_STYLE_PROSE);
    /* The worst first. */
    static const dw_grade grades[] = {DW_HAZARD, DW_WARNING, DW_NOTE};
    for (size_t i = 0; i < sizeof grades / sizeof grades[0]; i++) {
        m.now = grades[i];
        notice_verdict(&m);
        notice_pressure(&m);
        notice_places(&m);
        notice_kiln(&m);
    }
}

/* ---- lighting ------------------------------------------------------------------------------------- */

/* A purge longer than this nobody waits for [s]. */
static const double too_long_s = 3600.0;

/* Numbers from one row to another. */
static void put(dw_report *r, dw_item *group, const dw_lighting *l, const char *first, const char *last)
{
    dw_report_outputs(r, group, "room", first, last, NULL, l, true);
}

static void put_burners(dw_report *r, dw_item *group, const dw_kiln *kiln, const dw_lighting *l)
{
    dw_item *table = dw_output_table(r, group, "room", "lighting.burners", "");
    for (int i = 0; i <= l->burner_count; i++) {
        const dw_lighting_burner *b = i < l->burner_count ? &l->burner[i] : &l->all;
        dw_cell *cell = dw_report_row(r, table);
        if (cell == NULL) return;
        cell[0].text = i < l->burner_count ? dw_report_keepf(r, "one of '%s'", kiln->burner[i].name)
                                           : "all burners";
        dw_output_fill(table->table, cell, NULL, DW_IN_BURNER, b, 0);
        cell[4].text = dw_people_duration(r, b->chamber_s);
        cell[6].text = dw_people_duration(r, b->corner_s);
    }
}

static void put_purge(dw_report *r, dw_item *g, const dw_lighting *l)
{
    put(r, g, l, "lighting.purge_volumes", "lighting.natural_purge_s");
    (void)dw_report_text(r, g, NULL, "time to purge by draft alone",
                         isfinite(l->natural_s) ? dw_people_duration(r, l->natural_s)
                                                : "never: the cold stack does not draw");
    put(r, g, l, "lighting.fan_purge_s", "lighting.fan_purge_s");
    if (isfinite(l->fan_s)) {
        (void)dw_report_text(r, g, NULL, "time to purge by the fan", dw_people_duration(r, l->fan_s));
    }
}

/* What holds of every kiln, whether its numbers are known or not. */
static dw_item *put_rule(dw_report *r)
{
    dw_item *prose = dw_report_group(r, dw_report_root(r), NULL, NULL, DW_STYLE_PLAIN);
    dw_tell(r, prose,
            "Never relight without a purge. If a flame goes out, or does not light within seconds: shut all "
            "gas off, find out why, and purge for the full time. Then check that every other valve is shut, "
            "and light one burner, flame first and gas second. Flame-failure protection is a job for a "
            "licensed fitter.");
    return prose;
}

static void put_words(dw_report *r, const dw_kiln *kiln, const dw_lighting *l)
{
    dw_item *prose = put_rule(r);
    if (l->backwards) {
        dw_tell(r, prose,
                "The cold stack flows DOWN here: outside air comes in through it, and gas that is let in "
                "goes into the room. Stop the fan, let air in, and warm the stack without a flame, for "
                "example with an electric hot-air gun at its foot.");
    } else if (!(l->natural_s < too_long_s)) {
        dw_tell(r, prose,
                "Opening the damper and waiting is not a purge here: a cold stack draws next to nothing. "
                "Use a fan of known flow, and warm the stack before the main gas comes on.");
    } else {
        dw_tell(r, prose,
                "The time for a purge by draft assumes still air, open dampers and burners, and a stack as "
                "cold as the room. Wind and a warmer day change it: test with smoke, or use a fan of known "
                "flow.");
    }
    (void)dw_report_text(r, prose, NULL, "",
                         l->relative_density > 1.0
                             ? "This gas is heavier than air: it sinks and lies in pits, drains and "
                               "under the kiln. Vents must be low."
                             : "This gas is lighter than air: it rises and gathers under roofs and "
                               "in hoods. Vents must be high.");
    dw_tell(r, prose,
            "The times assume that the gas mixes evenly and that none escapes. Near the burner and in "
            "layers there is a mixture that burns within seconds.");
    if (kiln->chamber.packed_frac == 0.0) {
        dw_tell(r, prose,
                "The chamber is counted as empty. Ware and shelves leave less room, and the chamber fills "
                "sooner (see `packed`).");
    }
    if (l->limit_guessed) {
        dw_tell(r, prose,
                "A gas in this fuel has no known limit; the lowest limit of all gases is used for it.");
    }
}

void dw_build_lighting(dw_report *report, const dw_report_source *source, const dw_lighting *l)
{
    dw_report *r = report;
    dw_item *g = dw_report_group(r, dw_report_root(r), "lighting", "Lighting and relighting",
                                 DW_STYLE_SECTION);
    (void)dw_report_bool(r, g, "solved", NULL, l->solved);
    if (!l->solved) {
        dw_report_output_text(r, g, "room", "lighting.reason", l->reason);
        (void)put_rule(r);
        return;
    }
    put(r, g, l, "lighting.lean_limit", "lighting.free_volume_m3");
    const double corner_m3 = source->kiln->room.corner_volume_m3;
    dw_item *item = dw_report_output(r, g, "room", "lighting.corner_volume_m3", corner_m3);
    if (item != NULL) {
        item->number = dw_number_typed(source, offsetof(dw_kiln, room.corner_volume_m3), item->number);
    }
    put(r, g, l, "lighting.chamber_glows", "lighting.chamber_glows");
    put_burners(r, g, source->kiln, l);
    put_purge(r, g, l);
    if (isfinite(l->gas_ratio)) {
        put(r, g, l, "lighting.chamber_gas_over_limit", "lighting.chamber_gas_over_limit");
        dw_report_note(r, g != NULL ? g->last : NULL,
                       l->gas_ratio >= 1.0
                           ? "1 or more: the gas burns or explodes when it meets air, even cold"
                           : "below 1 the gas carries no flame when cold; above some 750 degC "
                             "any leak burns");
        dw_report_outputs(r, g, "room", "lighting.chamber_gas_limit", "lighting.chamber_gas_over_limit_hot",
                          NULL, l, isfinite(l->gas_ratio_hot));
    }
    put_words(r, source->kiln, l);
}

/* Outputs of a kiln in its room, of lighting it, and of people in air with carbon monoxide. */
#include "outputs_rows.h"

#include "lighting.h"
#include "room_course.h"

#define COURSE(field) AT(DW_IN_COURSE, dw_room_course, field)
#define OF_PLACE(field) EACH(DW_IN_COURSE, dw_room_course, room.place, field, room.place_count)
#define OF_PLACE_LIKELY(field)                                                                      \
    EACH(DW_IN_COURSE, dw_room_course, likely.place, field, room.place_count)
#define OF_ROW(field) EACH(DW_IN_COURSE, dw_room_course, row, field, row_count)
#define OF_ROOM_DOUBT(field) EACH(DW_IN_COURSE, dw_room_course, doubt, field, doubt_count)
#define OF_LIMIT(list) EACH_OF(DW_IN_COURSE, dw_room_course, list, , co.limit_count)
#define EXPOSURE(field) AT(DW_IN_EXPOSURE, dw_exposure, field)
#define FOUND(field) EACH_OF(DW_IN_EXPOSURE, dw_exposure, limit, .field, co.limit_count)
#define OF_ALARM(list) EACH_OF(DW_IN_EXPOSURE, dw_exposure, list, , co.alarm_count)
#define OF_EFFECT(list) EACH_OF(DW_IN_EXPOSURE, dw_exposure, list, , co.effect_count)
#define OF_DATA(list, field) EACH_OF(DW_IN_LIMITS, dw_co_data, list, .field, co.list##_count)
#define LIGHTING(field) AT(DW_IN_LIGHTING, dw_lighting, field)
#define OF_BURNER(field) AT(DW_IN_BURNER, dw_lighting_burner, field)
#define ROOM_INPUT(field) AT(DW_IN_KILN, dw_kiln, room.field)
#define AGAIN NO_WORKING("the whole kiln and the room are worked out again with that input")
#define A_RULE NO_WORKING("a rule of config/co.yaml")
#define A_LEVEL NO_WORKING("a level of config/co.yaml")

static double by_openings(const void *course)
{
    const dw_room_result *room = &((const dw_room_course *)course)->room;
    return room->spill_kg_s - room->by_flues_kg_s;
}

static double peak(const void *exposure)
{
    const dw_exposure *x = exposure;
    return x->peak_frac[x->activity];
}

static double peak_of_course(const void *course)
{
    const dw_room_course *c = course;
    return c->room.unknown == DW_CO_KNOWN ? peak(&c->exposure) : NAN;
}

static double spread_low(const void *course)
{
    const dw_room_course *c = course;
    return c->has_spread ? c->low_ppm : NAN;
}

static double spread_high(const void *course)
{
    const dw_room_course *c = course;
    return c->has_spread ? c->high_ppm : NAN;
}

static const dw_output_row room[] = {
    {"kiln", A_NAME},
    {"solved", ASKED},
    {"diagnostics.*.*", WORD, NO_WORKING("words about numbers that are elsewhere in the report")},
    {"room.verdict", WORD, NO_WORKING("a word, from the worst limit that the upper end exceeds")},
    {"room.co_end_ppm", PPM, COURSE(end_ppm), LABEL("CO at the end")},
    {"room.co_end_low_ppm", PPM, COURSE(low_ppm), LABEL("range, from")},
    {"room.co_end_high_ppm", PPM, COURSE(high_ppm), LABEL("to")},
    {"room.co_steady_ppm", PPM, COURSE(room.steady_ppm), LABEL("CO it settles at")},
    {"room.likely_co_end_ppm", PPM, COURSE(likely_end_ppm), LABEL("likely CO at the end"),
     NOTE("not for the verdict")},
    {"room.likely_co_steady_ppm", PPM, COURSE(likely_steady_ppm), LABEL("likely CO it settles at")},
    {"room.likely_cohb_peak", COHB, COURSE(likely_cohb_frac), LABEL("likely COHb at most"),
     NO_WORKING("worked out like that of the upper estimate, with the likely level")},
    {"room.likely_co_m3_s", CO_FLOW, COURSE(likely.co_m3_s), LABEL("likely CO into the room")},
    {"room.likely_burnt_share", NUMBER(RATIO, 2), STEP(1.0e-3), COURSE(likely.burnt_frac),
     LABEL("CO likely burnt at openings")},
    {"room.duration_s", NUMBER(TIME, 4), ROOM_INPUT(duration_s),
     NO_WORKING("what was put in, or a firing day, or a day and a night")},
    {"room.duration_given", ASKED},
    {"room.dwelling", ASKED},
    {"room.dwelling_given", ASKED},
    {"room.co_known", ASKED},
    {"room.co_unknown_because", WORDS},
    {"room.verdict_by_co", A_WORD},
    {"room.verdict_lifted_by", WORDS},
    {"room.spread_incomplete", ASKED},
    {"room.pressure_given", ASKED},
    {"room.pressure_pa", DRAFT, COURSE(room.pressure_pa), LABEL("room pressure against outside"),
     NO_WORKING("what was put in; where nothing was, the root of the balance, or where the stack reverses "
                "the side of the jump with more carbon monoxide")},
    {"room.pressure_without_fan_pa", DRAFT, COURSE(room.pressure_without_fan_pa),
     LABEL("room pressure with the fan off"),
     NO_WORKING("the root of its balance; none where the stack reverses without the fan or the room lets "
                "nothing in")},
    {"room.draft_loss_pa", DRAFT, COURSE(room.draft_loss_pa), LABEL("draft lost to the room's pressure")},
    {"room.fan_m3_s", AIR_FLOW, COURSE(room.fan_m3_s), LABEL("air the fan moves")},
    {"room.kiln_draws_m3_s", AIR_FLOW, COURSE(room.kiln_draws_m3_s), LABEL("air the kiln draws, net")},
    {"room.make_up_m3_s", AIR_FLOW, COURSE(room.make_up_m3_s), LABEL("air in from outside")},
    {"room.gas_m3_s", AIR_FLOW, COURSE(room.gas_m3_s), LABEL("air pushed out by kiln gas")},
    {"room.ventilation_m3_s", AIR_FLOW, COURSE(room.air.flow_m3_s), LABEL("ventilation counted")},
    {"room.into_room_kg_s", FLOW, COURSE(room.spill_kg_s), LABEL("gas out of the kiln")},
    {"room.into_room_by_openings_kg_s", FLOW, READ(DW_IN_COURSE, by_openings), LABEL("of that, by openings")},
    {"room.into_room_by_flues_kg_s", FLOW, COURSE(room.by_flues_kg_s), LABEL("by flues that end in the room")},
    {"room.spill_kg_s", FLOW, COURSE(room.spill_kg_s)},
    {"room.co_leaves_kiln_m3_s", CO_FLOW, COURSE(room.co_leaves_m3_s), LABEL("CO that leaves the kiln")},
    {"room.co_m3_s", CO_FLOW, COURSE(room.co_m3_s), LABEL("CO that stays in the room")},
    {"room.h2_m3_s", CO_FLOW, COURSE(room.h2_m3_s), LABEL("hydrogen that stays in the room")},
    {"room.unburnt_m3_s", CO_FLOW, COURSE(room.unburnt_m3_s), LABEL("other unburnt gas")},
    {"room.co_content_wet", GAS, COURSE(room.x_co_wet), LABEL("CO in the kiln gas, wet")},
    {"room.residual_pa", NUMBER(PRESSURE_GAUGE, 2), SMALL, COURSE(room.residual_pa),
     NO_WORKING("where the stack reverses, no pressure balances")},
    {"room.closure_co", CLOSURE, COURSE(closure_co), LABEL("CO balance error")},
    {"room.solutions", A_COUNT, COURSE(room.rounds)},
    {"places.*.name", HEADING("\nplace"), A_NAME},
    {"places.*.height_m", NUMBER(LENGTH, 3), OF_PLACE(height_m), HEADING("\nheight"),
     NO_WORKING("what was put in, or the middle of the part where gas leaves")},
    {"places.*.mass_kg_s", FLOW, OF_PLACE(mass_kg_s), HEADING("\nhot gas")},
    {"places.*.co_m3_s", CO_FLOW, OF_PLACE(co_m3_s), HEADING("\nCO")},
    {"places.*.h2_m3_s", CO_FLOW, OF_PLACE(h2_m3_s), HEADING("\nH2")},
    {"places.*.unburnt_m3_s", CO_FLOW, OF_PLACE(unburnt_m3_s), HEADING("other\ngas")},
    {"places.*.likely_burnt_share", NUMBER(RATIO, 2), STEP(1.0e-3), OF_PLACE_LIKELY(burnt_frac)},
    {"places.*.near_burner", HEADING("near\nburner"), A_NAME},
    {"course.0.time_s", NUMBER(TIME, 4), OF_ROW(time_s), NO_WORKING("the beginning")},
    {"course.*.time_s", NUMBER(TIME, 4), OF_ROW(time_s)},
    {"course.*.after", SHOWN, HEADING("\nafter")},
    {"course.*.co_ppm", PPM, OF_ROW(ppm), HEADING("\nCO")},
    {"course.*.cohb", COHB, OF_ROW(cohb_frac), HEADING("\nCOHb")},
};

/* Limits, alarms and people, in a room or without one. */
static const dw_output_row people[] = {
    {"limits.*.body", A_NAME},
    {"limits.*.name", A_NAME},
    {"limits.*.limit", SHOWN, HEADING("\nlimit")},
    {"limits.*.averaging_time_s", TIME, OF_DATA(limit, over_s), NO_WORKING("a limit of config/co.yaml")},
    {"limits.*.ppm", BARE_PPM, TRIM, OF_DATA(limit, ppm), HEADING("ppm\nallowed"),
     NO_WORKING("a limit of config/co.yaml")},
    {"limits.*.mg_m3", BARE_PPM, OF_DATA(limit, mg_m3),
     NO_WORKING("a limit of config/co.yaml, as its document has it")},
    {"limits.*.mean_ppm", BARE_PPM, FOUND(mean_ppm), HEADING("ppm\nhere")},
    {"limits.*.exceeded", YES_NO, FOUND(exceeded), NO_WORKING("yes or no: whether mean_ppm is at ppm or "
    "above")},
    {"limits.*.over", SHOWN, HEADING("\n")},
    {"limits.*.crossed_s", TIME, FOUND(crossed_s)},
    {"limits.*.crossed", SHOWN, HEADING("used up\nafter")},
    {"limits.*.air_reaches_it_s", TIME, OF_LIMIT(limit_level_s)},
    {"limits.*.reached", SHOWN, HEADING("air at this\nlevel after")},
    {"limits.*.ventilation_needed_m3_s", AIR_FLOW, OF_LIMIT(limit_flow_m3_s), HEADING("ventilation\nneeded")},
    {"limits.*.kind", HEADING("\nkind"), A_WORD},
    {"limits.*.year", A_WORD},
    {"limits.*.provenance", HEADING("\nvalue"), A_WORD},
    {"limits.*.document", A_NAME},
    {"limits.*.where", WORDS},
    {"alarms.*.standard", HEADING("\nstandard"), A_NAME},
    {"alarms.*.ppm", PPM_LEVEL, OF_DATA(alarm, ppm), HEADING("level\nheld"), A_RULE},
    {"alarms.*.window_from_s", TIME, OF_DATA(alarm, from_s), A_RULE},
    {"alarms.*.window_by_s", TIME, OF_DATA(alarm, by_s), A_RULE},
    {"alarms.*.not_before", SHOWN, HEADING("not\nbefore")},
    {"alarms.*.by", SHOWN, HEADING("at the\nlatest")},
    {"alarms.*.may_sound_s", TIME, OF_ALARM(alarm_may_s)},
    {"alarms.*.must_sound_s", TIME, OF_ALARM(alarm_must_s)},
    {"alarms.*.may_after", SHOWN, HEADING("here it\nmay after")},
    {"alarms.*.must_after", SHOWN, HEADING("here it\nmust after")},
    {"people.activity", WORD, LABEL("activity"),
     NO_WORKING("what was put in; where nothing was, the worst of all")},
    {"people.activity_given", ASKED},
    {"people.smoker", ASKED},
    {"people.outside_promise", EXPOSURE(outside_promise), ASKED},
    {"people.cohb_start", COHB, EXPOSURE(start_frac), LABEL("carboxyhaemoglobin (COHb) at the start")},
    {"people.cohb_end_rest", COHB, EXPOSURE(end_frac[0]), LABEL("COHb at the end, at rest")},
    {"people.cohb_end_light", COHB, EXPOSURE(end_frac[1]), LABEL("COHb at the end, light work")},
    {"people.cohb_end_heavy", COHB, EXPOSURE(end_frac[2]), LABEL("COHb at the end, heavy work")},
    {"people.cohb_peak", COHB, READ(DW_IN_EXPOSURE, peak), LABEL("highest COHb")},
    {"people.effects.*.cohb", COHB, OF_DATA(effect, level), HEADING("\nCOHb"), A_LEVEL},
    {"people.effects.*.reached_s", TIME, OF_EFFECT(effect_s)},
    {"people.effects.*.after", SHOWN, HEADING("reached\nafter")},
    {"people.effects.*.effect", HEADING("\ntypical effect; people vary"), WORDS},
    {"people.effects_by_ppm.*.ppm", PPM_LEVEL, OF_DATA(ppm_effect, level), HEADING("\nCO in the air"), A_LEVEL},
    {"people.effects_by_ppm.*.effect", HEADING("effect as commonly printed, for\nadults at rest"), WORDS},
};

static const dw_output_row room_kiln[] = {
    {"doubt.*.input", HEADING("\nuncertain input"), A_NAME},
    {"doubt.*.co_low_end_ppm", PPM, OF_ROOM_DOUBT(low_ppm), HEADING("CO at its\nlow end"), AGAIN},
    {"doubt.*.co_high_end_ppm", PPM, OF_ROOM_DOUBT(high_ppm), HEADING("CO at its\nhigh end"), AGAIN},
    {"lighting.solved", ASKED},
    {"lighting.reason", WORD, LABEL("not available because"), NO_WORKING("words")},
    {"lighting.lean_limit", SHARE(3), LIGHTING(lean_x), LABEL("the gas burns in air from"),
     NOTE("recalled, US Bureau of Mines Bulletin 627; mixtures by Le Chatelier")},
    {"lighting.rich_limit", SHARE(3), LIGHTING(rich_x), LABEL("to")},
    {"lighting.limit_guessed", LIGHTING(limit_guessed), ASKED},
    {"lighting.relative_density", NUMBER(NUMBER, 3), LIGHTING(relative_density),
     LABEL("density of the gas / of air")},
    {"lighting.free_volume_m3", VOLUME, LIGHTING(free_volume_m3), LABEL("free volume of the chamber")},
    {"lighting.corner_volume_m3", GIVEN(VOLUME), ROOM_INPUT(corner_volume_m3), PUT_IN,
     LABEL("corner or pit of the room")},
    {"lighting.chamber_glows", LIGHTING(glows), ASKED},
    {"lighting.burners.*.name", HEADING("\nvalve open, no flame"), A_NAME},
    {"lighting.burners.*.gas_kg_s", FLOW, OF_BURNER(gas_kg_s)},
    {"lighting.burners.*.gas_m3_s", NUMBER(VOLUME_FLOW, 3), SMALL, OF_BURNER(gas_m3_s), HEADING("gas let\nin")},
    {"lighting.burners.*.chamber_at_limit_s", TIME, OF_BURNER(chamber_s)},
    {"lighting.burners.*.chamber_after", SHOWN, HEADING("chamber can\nburn after")},
    {"lighting.burners.*.corner_at_limit_s", TIME, OF_BURNER(corner_s)},
    {"lighting.burners.*.corner_after", SHOWN, HEADING("corner can\nburn after")},
    {"lighting.purge_volumes", NUMBER(NUMBER, 2), LIGHTING(purge_volumes), LABEL("chamber volumes to purge"),
     A_RULE},
    {"lighting.purge_volume_m3", VOLUME, LIGHTING(purge_volume_m3), LABEL("air to purge with")},
    {"lighting.cold_draft_pa", DRAFT, LIGHTING(cold_draft_pa), LABEL("draft of the cold stack")},
    {"lighting.cold_stack_backwards", LIGHTING(backwards), ASKED},
    {"lighting.natural_purge_m3_s", NUMBER(VOLUME_FLOW, 2), LIGHTING(natural_m3_s),
     LABEL("air that this draft moves")},
    {"lighting.natural_purge_s", TIME, LIGHTING(natural_s)},
    {"lighting.fan_purge_s", TIME, LIGHTING(fan_s)},
    {"lighting.chamber_gas_over_limit", NUMBER(NUMBER, 3), STEP(1.0e-3), LIGHTING(gas_ratio),
     LABEL("chamber gas / its lean limit")},
    {"lighting.chamber_gas_limit", SHARE(3), LIGHTING(gas_limit_x)},
    {"lighting.chamber_gas_over_limit_hot", NUMBER(NUMBER, 3), STEP(1.0e-3), LIGHTING(gas_ratio_hot),
     LABEL("the same at its temperature")},
};

static const dw_output_row room_sweep[] = {
    {"rows.*.solved", YES_NO, COURSE(room.solved)},
    {"rows.*.verdict", WORD, HEADING("verdict\n(estimate)")},
    {"rows.*.co_known", YES_NO},
    {"rows.*.co_unknown_because", WORD},
    {"rows.*.co_end_ppm", PPM, COURSE(end_ppm), HEADING("CO at\nthe end")},
    {"rows.*.co_end_low_ppm", PPM, READ(DW_IN_COURSE, spread_low)},
    {"rows.*.co_end_high_ppm", PPM, READ(DW_IN_COURSE, spread_high), HEADING("\nup to")},
    {"rows.*.co_steady_ppm", PPM, COURSE(room.steady_ppm)},
    {"rows.*.co_m3_s", CO_FLOW, COURSE(room.co_m3_s), HEADING("\nCO in")},
    {"rows.*.into_room_kg_s", FLOW, COURSE(room.spill_kg_s), HEADING("gas\nout")},
    {"rows.*.into_room_by_openings_kg_s", FLOW, READ(DW_IN_COURSE, by_openings)},
    {"rows.*.into_room_by_flues_kg_s", FLOW, COURSE(room.by_flues_kg_s)},
    {"rows.*.spill_kg_s", FLOW, COURSE(room.spill_kg_s)},
    {"rows.*.room_pressure_pa", DRAFT, COURSE(room.pressure_pa), HEADING("room /\noutside")},
    {"rows.*.ventilation_m3_s", AIR_FLOW, COURSE(room.air.flow_m3_s)},
    {"rows.*.cohb_peak", COHB, READ(DW_IN_COURSE, peak_of_course), HEADING("COHb\nat most")},
    {"rows.*.limit", WORD},
    {"rows.*.limit_ppm", PPM},
    {"rows.*.equivalence_ratio", RATIO_COLUMN, COURSE(kiln.equivalence_ratio), HEADING("equiv.\nratio")},
    {"rows.*.reason", WORD},
    {"unknown_count", COUNT},
    {"solved_count", COUNT},
    {"dangerous_count", COUNT},
};

static const dw_output_row exposure[] = {
    {"do_first.*", WORDS},
    {"exposure.verdict", WORD, NO_WORKING("a word, from the worst limit that is exceeded, or from the blood")},
    {"exposure.symptoms_reported", ASKED},
    {"exposure.duration_s", NUMBER(TIME, 4), EXPOSURE(duration_s), NO_WORKING("what was put in, without a "
    "series")},
    {"exposure.mean_ppm", PPM, EXPOSURE(mean_ppm)},
    {"exposure.peak_ppm", PPM, EXPOSURE(peak_ppm)},
    {"exposure.series", A_NAME},
    {"exposure.reading_count", A_COUNT},
    {"exposure.longest_gap_s", NUMBER(TIME, 4)},
    {"course.*.time_s", NUMBER(TIME, 4), NO_WORKING("what was put in, in a series")},
    {"course.*.after", SHOWN, HEADING("\nafter")},
    {"course.*.highest_ppm", PPM, HEADING("highest CO\nsince")},
    {"course.*.cohb", COHB, HEADING("\nCOHb")},
};

LIST(dw_output_room, room);
LIST(dw_output_people, people);
LIST(dw_output_room_kiln, room_kiln);
LIST(dw_output_room_sweep, room_sweep);
LIST(dw_output_exposure, exposure);

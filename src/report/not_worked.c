#include "not_worked.h"

#include <stddef.h>
#include <string.h>

/* Of every report. */
static const dw_unworked head[] = {
    {"program.name", "a name"},
    {"program.version", "a name"},
    {"command", "a word"},
    {"units", "words"},
    {"caution", "words"},
    {NULL, NULL},
};

/* Limits, alarms and people, in a room or without one. */
static const dw_unworked people[] = {
    {"limits.*.body", "a name"},
    {"limits.*.name", "a name"},
    {"limits.*.averaging_time_s", "a limit of config/co.yaml"},
    {"limits.*.ppm", "a limit of config/co.yaml"},
    {"limits.*.mg_m3", "a limit of config/co.yaml, as its document has it"},
    {"limits.*.exceeded", "yes or no: whether mean_ppm is at ppm or above"},
    {"limits.*.kind", "a word"},
    {"limits.*.year", "a word"},
    {"limits.*.provenance", "a word"},
    {"limits.*.document", "a name"},
    {"limits.*.where", "words"},
    {"alarms.*.standard", "a name"},
    {"alarms.*.ppm", "a rule of config/co.yaml"},
    {"alarms.*.window_from_s", "a rule of config/co.yaml"},
    {"alarms.*.window_by_s", "a rule of config/co.yaml"},
    {"people.activity", "what was put in; where nothing was, the worst of all"},
    {"people.activity_given", "yes or no"},
    {"people.smoker", "yes or no"},
    {"people.outside_promise", "yes or no"},
    {"people.effects.*.cohb", "a level of config/co.yaml"},
    {"people.effects.*.effect", "words"},
    {"people.effects_by_ppm.*.ppm", "a level of config/co.yaml"},
    {"people.effects_by_ppm.*.effect", "words"},
    {NULL, NULL},
};

static const dw_unworked estimate[] = {
    {"kiln", "a name"},
    {"solved", "yes or no"},
    {"reason", "words"},
    {"diagnostics.*.*", "words about numbers that are elsewhere in the report"},
    {"setting.fuel", "what was put in"},
    {"setting.gas_pressure_pa", "what was put in"},
    {"setting.air_pressure_pa", "what was put in"},
    {"setting.chamber_temperature_k", "what was put in"},
    {"setting.site_pressure_pa_abs", "what was put in, unless the height above the sea is used"},
    {"setting.air_temperature_k", "what was put in"},
    {"setting.room_temperature_k", "what was put in, or the temperature of the air"},
    {"setting.outside_temperature_k", "what was put in, or the temperature of the air"},
    {"setting.relative_humidity", "what was put in"},
    {"setting.room_pressure_pa", "what was put in"},
    {"setting.dampers.*.name", "a name"},
    {"setting.dampers.*.open_frac", "what was put in"},
    {"setting.dampers.*.area_m2", "what was put in"},
    {"setting.dampers.*.count", "what was put in"},
    {"damper_words.*.*", "the whole kiln worked out again at other positions of the dampers"},
    {"damper_words_of", "a name"},
    {"damper_words_not_reached.*.*", "the whole kiln worked out again at other positions of the dampers"},
    {"doubt.words_within.*", "the words whose limits in config/bands.yaml lie between the ends of the doubt"},
    {"doubt.best_reading", "a word"},
    {"doubt.left_after_best_reading", "least squares over the inputs in doubt, worked out again with the dampers opened"},
    {"doubt.contains", "words"},
    {"datum_height_m", "the least of the heights put in for burners"},
    {"neutral_plane_reason", "words"},
    {"flows.*.name", "a name"},
    {"flows.*.kind", "a word"},
    {"flows.*.direction", "the sign of the driving pressure"},
    {"flows.*.height_m", "what was put in, for openings of one height"},
    {"flows.*.dp_pa", "the gas or air pressure put in, for jets into the room's pressure"},
    {"reduction_word", "the word between whose limits in config/bands.yaml equivalence_ratio is"},
    {"sooting", "a rule in config/bands.yaml, applied to equivalence_ratio, primary_aeration and "
                "gas_temperature_k"},
    {"oxides.*", "the form between whose boundaries log10_po2_bar is"},
    {"unmixedness", "what was put in"},
    {"solver.density_rounds", "a count"},
    {"solver.pressure_steps", "a count"},
    {"doubt.one_sided", "yes or no"},
    {"doubt.inputs.*.input", "a name"},
    {"doubt.inputs.*.low", "one end of the assumed range"},
    {"doubt.inputs.*.high", "one end of the assumed range"},
    {"doubt.inputs.*.is_factor", "yes or no"},
    {"doubt.inputs.*.equivalence_ratio_at_low", "the whole kiln is worked out again with that "
                                                "input"},
    {"doubt.inputs.*.equivalence_ratio_at_high", "the whole kiln is worked out again with that "
                                                 "input"},
    {"assumptions.*.*", "what was assumed"},
    {NULL, NULL},
};

static const dw_unworked oxides[] = {
    {"kiln", "a name"},
    {"solved", "yes or no"},
    {"reason", "words"},
    {"asked", "what was put in, in words"},
    {"sensor", "a word"},
    {"sensor_temperature_k", "what was put in"},
    {"fuel", "a name"},
    {"gas.found", "words"},
    {"gas.word", "the word whose limits in config/bands.yaml hold equivalence_ratio"},
    {"metals.*.form", "the form between whose boundaries log10_po2_bar is"},
    {"metals.*.formula", "the same as a formula"},
    {"metals.*.near", "the form across the boundary, where distance_log10 or two calibrations say "
                      "that it is near"},
    {"metals.*.nearest_buffer", "the name of the calibration that distance_log10 is measured to"},
    {"metals.*.drawn_on", "yes or no"},
    {"metals.*.mixed", "yes or no: whether lean and rich differ"},
    {"metals.*.lean", "the form for the leaner parcel"},
    {"metals.*.rich", "the form for the richer parcel"},
    {"boundaries.*.boundary", "a name"},
    {"boundaries.*.buffer", "a name"},
    {"boundaries.*.range", "words"},
    {"boundaries.*.source", "a name"},
    {"comparison.*.boundary", "a name"},
    {"comparison.*.buffer", "a name"},
    {"comparison.*.range", "words"},
    {"comparison.*.source", "a name"},
    {"parcels.*.gas", "a name"},
    {"glazes.*.glaze", "a name"},
    {"glazes.*.reason", "words"},
    {"windows.*.*", "a condition in config/oxides.yaml, compared in words with the numbers above"},
    {NULL, NULL},
};

static const dw_unworked ladder[] = {
    {"kiln", "a name"},
    {"fuel", "a name"},
    {"unmixedness", "what was put in"},
    {"rungs.*.equivalence_ratio", "what was put in: the steps of the ladder"},
    {"rungs.*.reduction_word", "the word whose limits in config/bands.yaml hold equivalence_ratio"},
    {"rungs.*.iron", "the form between whose boundaries log10_po2_bar is"},
    {"rungs.*.iron_forms", "the same, with the forms for the leaner and the richer parcel"},
    {"rungs.*.copper", "the form between whose boundaries log10_po2_bar is"},
    {"rungs.*.copper_forms", "the same, with the forms for the leaner and the richer parcel"},
    {"rungs.*.manganese", "the form between whose boundaries log10_po2_bar is"},
    {"rungs.*.manganese_forms", "the same, with the forms for the leaner and the richer parcel"},
    {"rungs.*.nickel", "the form between whose boundaries log10_po2_bar is"},
    {"rungs.*.nickel_forms", "the same, with the forms for the leaner and the richer parcel"},
    {NULL, NULL},
};

static const dw_unworked room[] = {
    {"kiln", "a name"},
    {"solved", "yes or no"},
    {"diagnostics.*.*", "words about numbers that are elsewhere in the report"},
    {"room.verdict", "a word, from the worst limit that the upper end exceeds"},
    {"room.duration_s", "what was put in, or a firing day, or a day and a night"},
    {"room.duration_given", "yes or no"},
    {"room.dwelling", "yes or no"},
    {"room.dwelling_given", "yes or no"},
    {"room.co_known", "yes or no"},
    {"room.co_unknown_because", "words"},
    {"room.verdict_by_co", "a word"},
    {"room.verdict_lifted_by", "words"},
    {"room.spread_incomplete", "yes or no"},
    {"room.pressure_given", "yes or no"},
    {"room.pressure_pa", "what was put in; where nothing was, the root of the balance, or where "
                         "the stack reverses the side of the jump with more carbon monoxide"},
    {"room.pressure_without_fan_pa", "the root of its balance; none where the stack reverses "
                                     "without the fan or the room lets nothing in"},
    {"room.residual_pa", "where the stack reverses, no pressure balances"},
    {"room.solutions", "a count"},
    {"places.*.name", "a name"},
    {"places.*.height_m", "what was put in, or the middle of the part where gas leaves"},
    {"places.*.near_burner", "a name"},
    {"course.0.time_s", "the beginning"},
    {NULL, NULL},
};

static const dw_unworked room_kiln[] = {
    {"doubt.*.input", "a name"},
    {"doubt.*.co_low_end_ppm", "the whole kiln and the room are worked out again with that input"},
    {"doubt.*.co_high_end_ppm", "the whole kiln and the room are worked out again with that input"},
    {"lighting.solved", "yes or no"},
    {"lighting.reason", "words"},
    {"lighting.limit_guessed", "yes or no"},
    {"lighting.corner_volume_m3", "what was put in"},
    {"lighting.chamber_glows", "yes or no"},
    {"lighting.burners.*.name", "a name"},
    {"lighting.purge_volumes", "a rule of config/co.yaml"},
    {"lighting.cold_stack_backwards", "yes or no"},
    {NULL, NULL},
};

static const dw_unworked exposure[] = {
    {"do_first.*", "words"},
    {"exposure.verdict", "a word, from the worst limit that is exceeded, or from the blood"},
    {"exposure.symptoms_reported", "yes or no"},
    {"exposure.duration_s", "what was put in, without a series"},
    {"exposure.series", "a name"},
    {"exposure.reading_count", "a count"},
    {"course.*.time_s", "what was put in, in a series"},
    {NULL, NULL},
};

void dw_not_worked(const char *command, const dw_unworked *lists[DW_UNWORKED_MAX])
{
    static const struct {
        const char *command;
        const dw_unworked *list[DW_UNWORKED_MAX];
    } known[] = {{"estimate", {head, estimate}},
                 {"oxides", {head, oxides}},
                 {"ladder", {head, ladder}},
                 {"room", {head, room, people, room_kiln}},
                 {"exposure", {head, exposure, people}}};
    for (size_t k = 0; k < DW_UNWORKED_MAX; ++k) lists[k] = NULL;
    for (size_t i = 0; i < sizeof known / sizeof known[0]; ++i) {
        if (strcmp(command, known[i].command) == 0) {
            memcpy(lists, known[i].list, sizeof known[i].list);
        }
    }
}

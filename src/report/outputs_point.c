/* Outputs of an operating point, of a sweep of them, and of what lists inputs and words. */
#include "outputs_rows.h"

#include "damper_words.h"
#include "doubt.h"
#include "result.h"

#define POINT(field) AT(DW_IN_POINT, dw_result, field)
#define OF_FLOW(field) EACH(DW_IN_POINT, dw_result, flow, field, flow_count)
#define SETTING(field) AT(DW_IN_KILN, dw_kiln, field), PUT_IN
#define OF_FLUE(field) EACH(DW_IN_KILN, dw_kiln, flue, field, flue_count), PUT_IN
#define OF_SPAN(field) EACH(DW_IN_DAMPER, dw_damper_words, span, field, count)
#define OF_DOUBT(field) EACH(DW_IN_DOUBT, dw_doubt, item, field, count)
#define CONTENT(name) AT(DW_IN_POINT, dw_result, gas_dry), .species = (name)
#define AGAIN NO_WORKING("the whole kiln is worked out again with that input")
#define ELSEWHERE NO_WORKING("the whole kiln worked out again at other positions of the dampers")

static double into_room(const void *point)
{
    const dw_result *x = point;
    return x->room_opening_kg_s + x->room_flue_kg_s;
}

static double neutral_plane(const void *point)
{
    const dw_result *x = point;
    return x->neutral == DW_NEUTRAL_INSIDE ? x->neutral_plane_m : NAN;
}

/* Of every report. */
static const dw_output_row head[] = {
    {"program.name", A_NAME},
    {"program.version", A_NAME},
    {"command", A_WORD},
    {"units", WORDS},
    {"caution", WORDS},
};

static const dw_output_row point[] = {
    {"kiln", A_NAME},
    {"solved", ASKED},
    {"reason", WORDS},
    {"diagnostics.*.*", WORD, NO_WORKING("words about numbers that are elsewhere in the report")},

    {"setting.fuel", WORD, LABEL("fuel"), PUT_IN},
    {"setting.gas_pressure_pa", GIVEN(PRESSURE_GAUGE), SETTING(operating.gas_pressure_pa), LABEL("gas "
    "pressure")},
    {"setting.air_pressure_pa", GIVEN(PRESSURE_GAUGE), SETTING(operating.air_pressure_pa), LABEL("air "
    "pressure")},
    {"setting.chamber_temperature_k", TEMPERATURE, SETTING(operating.chamber_temperature_k),
     LABEL("thermocouple reading")},
    {"setting.site_pressure_pa_abs", NUMBER(PRESSURE_ABS, 4), AT(DW_IN_KILN, dw_kiln, site.pressure_pa_abs),
     LABEL("air pressure here (absolute)"),
     NO_WORKING("what was put in, unless the height above the sea is used")},
    {"setting.air_temperature_k", TEMPERATURE, SETTING(site.air_temperature_k)},
    {"setting.room_temperature_k", TEMPERATURE, AT(DW_IN_KILN, dw_kiln, site.room_temperature_k),
     LABEL("room temperature"), NO_WORKING("what was put in, or the temperature of the air")},
    {"setting.outside_temperature_k", TEMPERATURE, AT(DW_IN_KILN, dw_kiln, site.outside_temperature_k),
     LABEL("outside temperature"), NO_WORKING("what was put in, or the temperature of the air")},
    {"setting.relative_humidity", GIVEN(RATIO), SETTING(site.relative_humidity), LABEL("relative humidity")},
    {"setting.room_pressure_pa", DRAFT, SETTING(site.room_pressure_pa),
     LABEL("pressure of the room against outside")},
    {"setting.wind_speed_m_s", GIVEN(SPEED), SETTING(site.wind_speed_m_s), LABEL("wind over the roof")},
    {"setting.dampers.*.name", HEADING("flue"), A_NAME},
    {"setting.dampers.*.open_frac", SHARE(3), OF_FLUE(damper.open_frac), HEADING("damper open")},
    {"setting.dampers.*.area_m2", NUMBER(AREA, 3), OF_FLUE(area_m2), HEADING("flue area")},
    {"setting.dampers.*.count", GIVEN(NUMBER), PUT_IN, HEADING("flues like this")},

    {"damper_words.*.word", WORD},
    {"damper_words.*.phrase", SHOWN, HEADING("word")},
    {"damper_words.*.from_frac", FINE_SHARE, OF_SPAN(from_frac), HEADING("from")},
    {"damper_words.*.to_frac", FINE_SHARE, OF_SPAN(to_frac), HEADING("to")},
    {"damper_words.*.*", WORD, ELSEWHERE},
    {"damper_words_of", A_NAME},
    {"damper_words_not_reached.*.word", WORD, HEADING("word")},
    {"damper_words_not_reached.*.nearest_equivalence_ratio", RATIO_COLUMN, HEADING("nearest\nequivalence "
    "ratio")},
    {"damper_words_not_reached.*.at_frac", FINE_SHARE, HEADING("at damper")},
    {"damper_words_not_reached.*.limit", WORD, HEADING("   because")},
    {"damper_words_not_reached.*.*", WORD, ELSEWHERE},

    {"doubt.words_within.*", WORD,
     NO_WORKING("the words whose limits in config/bands.yaml lie between the ends of the doubt")},
    {"doubt.best_reading", A_WORD},
    {"doubt.left_after_best_reading", SHARE(2), AT(DW_IN_DOUBT, dw_doubt, settled.left_share),
     LABEL("share of the width it leaves"),
     NO_WORKING("least squares over the inputs in doubt, worked out again with the dampers opened")},
    {"doubt.contains", WORDS},

    {"air_ratio", RATIO_COLUMN, POINT(air_ratio), LABEL("air ratio"), HEADING("air\nratio"), IN_SWEEP},
    {"equivalence_ratio", RATIO_COLUMN, POINT(equivalence_ratio), LABEL("equivalence ratio"),
     HEADING("equiv.\nratio"), IN_SWEEP},
    {"primary_aeration", SHARE(3), POINT(primary_aeration), LABEL("primary air / air needed"),
     NOTE("all burners together")},
    {"stoichiometric_air_kg_kg", NUMBER(NUMBER, 4), UNIT("to 1 of gas"), POINT(stoichiometric_air_kg_kg),
     LABEL("air needed, by weight")},
    {"gas_flow_kg_s", FLOW, POINT(gas_flow_kg_s), LABEL("gas flow")},
    {"air_flow_kg_s", FLOW, POINT(air_flow_kg_s), LABEL("air into the chamber, all ways")},
    {"heat_input_net_w", POWER, POINT(heat_input_net_w), LABEL("heat input, net"), HEADING("heat\ninput"),
     IN_SWEEP},
    {"heat_input_gross_w", POWER, POINT(heat_input_gross_w), LABEL("heat input, gross")},
    {"dphi_ddamper", SLOPE, ALIGNED(1.0e-3), POINT(dphi_ddamper), IN_SWEEP},
    {"dphi_dgas_pressure_per_pa", SLOPE, POINT(dphi_dgas_pressure_per_pa)},

    {"pressure_floor_pa", DRAFT, POINT(pressure_floor_pa), LABEL("chamber pressure, floor")},
    {"pressure_top_pa", DRAFT, POINT(pressure_top_pa), LABEL("chamber pressure, top")},
    {"pressure_datum_pa", DRAFT, POINT(pressure_datum_pa), LABEL("chamber pressure, lowest burner")},
    {"datum_height_m", HEIGHT, POINT(datum_height_m), LABEL("height of the lowest burner"),
     NO_WORKING("the least of the heights put in for burners")},
    {"neutral_plane_m", HEIGHT, READ(DW_IN_POINT, neutral_plane), LABEL("neutral plane"),
     HEADING("neutral\nplane"), IN_SWEEP},
    {"neutral_plane_reason", WORDS},
    {"draft_floor_pa", DRAFT, POINT(draft_floor_pa), LABEL("draft at the floor")},
    {"draft_top_pa", DRAFT, POINT(draft_top_pa), LABEL("draft at the top")},
    {"draft_flue_exit_pa", DRAFT, ALIGNED(0.01), POINT(draft_flue_exit_pa),
     LABEL("draft after the (first) damper"), HEADING("draft\nflue"), IN_SWEEP},
    {"draft_stack_base_pa", DRAFT, ALIGNED(0.01), POINT(draft_stack_base_pa), LABEL("draft at the stack base"),
     HEADING("draft\nstack"), IN_SWEEP},
    {"draft_theoretical_pa", DRAFT, POINT(draft_theoretical_pa), LABEL("theoretical draft"),
     NOTE("the stack's pull before all losses")},
    {"wind_pressure_pa", DRAFT, POINT(wind_pressure_pa), LABEL("wind adds to the draft"),
     NOTE("while it blows steadily; negative when it pushes down the stack")},
    {"flue_flow_kg_s", FLOW, POINT(flue_flow_kg_s), LABEL("flow through all flues"), HEADING("flue\nflow"),
     IN_SWEEP},
    {"stack_flow_kg_s", FLOW, POINT(stack_flow_kg_s), LABEL("flow up the stack")},
    {"into_room_kg_s", FLOW, READ(DW_IN_POINT, into_room), LABEL("kiln gas into the room"), HEADING("\nspill"),
     IN_SWEEP},
    {"into_room_by_openings_kg_s", FLOW, POINT(room_opening_kg_s), LABEL("of that by openings"), IN_SWEEP},
    {"into_room_by_flues_kg_s", FLOW, POINT(room_flue_kg_s), LABEL("by flues that end in the room"), IN_SWEEP},
    {"spill_kg_s", FLOW, POINT(spill_kg_s), IN_SWEEP},
    {"stack_base_temperature_k", TEMPERATURE, POINT(stack_base_temperature_k),
     LABEL("gas temperature, stack base")},
    {"stack_mean_temperature_k", TEMPERATURE, POINT(stack_mean_temperature_k),
     LABEL("mean gas temperature, stack")},

    {"flows.*.name", HEADING("name"), A_NAME},
    {"flows.*.kind", A_WORD},
    {"flows.*.what", SHOWN, HEADING("what")},
    {"flows.*.direction", WORD, HEADING(""), NO_WORKING("the sign of the driving pressure")},
    {"flows.*.mass_kg_s", FLOW, OF_FLOW(mass_kg_s), .magnitude = true, HEADING("flow")},
    {"flows.*.height_m", HEIGHT, OF_FLOW(height_m), HEADING("at height"),
     NO_WORKING("what was put in, for openings of one height")},
    {"flows.*.dp_pa", DRAFT, OF_FLOW(dp_pa), HEADING("driven by"),
     NO_WORKING("the gas or air pressure put in, for jets into the room's pressure")},

    {"gas_wet.*", GAS, AT(DW_IN_POINT, dw_result, gas_wet), .species = "*", HEADING("wet")},
    {"gas_dry.*", GAS, AT(DW_IN_POINT, dw_result, gas_dry), .species = "*", HEADING("dry")},

    {"reduction_word", WORD, HEADING("reduction"), IN_SWEEP,
     NO_WORKING("the word between whose limits in config/bands.yaml equivalence_ratio is")},
    {"sooting", YES_NO, LABEL("likely to smoke (judgement)"),
     NO_WORKING("a rule in config/bands.yaml, applied to equivalence_ratio, primary_aeration and "
                "gas_temperature_k")},
    {"smoke_aeration", SHARE(3), POINT(smoke_aeration), LABEL("smokes with primary air below")},
    {"reducing_fraction", SHARE(3), POINT(reducing_frac), LABEL("reducing fraction"),
     NOTE("(CO + H2) / (CO + H2 + CO2 + H2O)")},
    {"co_co2_ratio", GAS_RATIO, POINT(co_co2_ratio), LABEL("CO / CO2")},
    {"h2_h2o_ratio", GAS_RATIO, POINT(h2_h2o_ratio), LABEL("H2 / H2O")},
    {"log10_po2_bar", LOG10, POINT(log10_po2_bar), LABEL("oxygen pressure, log10 of bar"),
     NOTE("mean gas at its own temperature"), IN_SWEEP},
    {"probe_emf_v", VOLTS, POINT(probe_emf_v), LABEL("oxygen probe against dry air"), IN_SWEEP},
    {"carbon_activity", GAS_RATIO, POINT(carbon_activity), LABEL("carbon activity"), NOTE("graphite = 1")},
    {"gas_temperature_k", TEMPERATURE, POINT(gas_temperature_k), LABEL("gas temperature")},
    {"composition_temperature_k", TEMPERATURE, POINT(composition_temperature_k),
     LABEL("composition is that at"), NOTE("reactions freeze below the quench temperature")},
    {"oxides.*", WORD, NO_WORKING("the form between whose boundaries log10_po2_bar is")},
    {"unmixedness", GIVEN(NUMBER), POINT(unmixedness), LABEL("unmixedness"),
     NOTE("spread of the mixture from place to place"), PUT_IN},

    {"heat_released_w", POWER, POINT(heat_released_w), LABEL("released in the chamber")},
    {"heat_unburnt_w", POWER, POINT(heat_unburnt_w), LABEL("leaves unburnt")},
    {"heat_sensible_w", POWER, POINT(heat_sensible_w), LABEL("leaves with the hot gas")},
    {"heat_to_kiln_w", POWER, POINT(heat_to_kiln_w), LABEL("stays in ware, shelves, walls")},

    {"closure.mass", CLOSURE, POINT(closure_mass), LABEL("mass, worst node")},
    {"closure.elements.C", CLOSURE, POINT(closure_element[DW_C])},
    {"closure.elements.H", CLOSURE, POINT(closure_element[DW_H])},
    {"closure.elements.O", CLOSURE, POINT(closure_element[DW_O])},
    {"closure.elements.N", CLOSURE, POINT(closure_element[DW_N])},
    {"closure.elements.Ar", CLOSURE, POINT(closure_element[DW_AR])},
    {"closure.energy", CLOSURE, POINT(closure_energy), LABEL("energy")},
    {"solver.density_rounds", A_COUNT, POINT(density_rounds), LABEL("density rounds")},
    {"solver.pressure_steps", A_COUNT, POINT(pressure_steps), LABEL("pressure steps")},
    {"solver.worst_residual_kg_s", NUMBER(MASS_FLOW, 2), POINT(worst_residual_kg_s), LABEL("worst residual")},

    /* How far the doubt goes is itself only known to 0.01. */
    {"doubt.equivalence_ratio_low", NUMBER(NUMBER, 12), STEP(0.01), AT(DW_IN_DOUBT, dw_doubt, phi_from),
     LABEL("all together, from")},
    {"doubt.equivalence_ratio_high", NUMBER(NUMBER, 12), STEP(0.01), AT(DW_IN_DOUBT, dw_doubt, phi_to),
     LABEL("to"),
     NOTE("a first idea of the spread, from the inputs that were not given: each goes to the ends of its "
          "usual range, then the root of the squares is taken. Your own figures are taken as exact")},
    {"doubt.one_sided", ASKED},
    {"doubt.inputs.*.input", HEADING("\nnot given"), A_NAME},
    {"doubt.inputs.*.low", NUMBER(NUMBER, 3), OF_DOUBT(low), HEADING("tried\nfrom"),
     NO_WORKING("one end of the assumed range")},
    {"doubt.inputs.*.high", NUMBER(NUMBER, 3), OF_DOUBT(high), HEADING("\nto"),
     NO_WORKING("one end of the assumed range")},
    {"doubt.inputs.*.is_factor", OF_DOUBT(is_factor), ASKED},
    {"doubt.inputs.*.times", SHOWN, HEADING("\n")},
    {"doubt.inputs.*.equivalence_ratio_at_low", RATIO, OF_DOUBT(phi_low), HEADING("equivalence\nratio then"),
     AGAIN},
    {"doubt.inputs.*.equivalence_ratio_at_high", RATIO, OF_DOUBT(phi_high), HEADING("\nand then"), AGAIN},
    {"assumptions.*.*", WORD, NO_WORKING("what was assumed")},
};

static const dw_output_row sweep[] = {
    {"axes.*.path", WORD},
    {"axes.*.key", WORD},
    {"axes.*.unit", WORD},
    {"axes.*.count", COUNT},
    {"axes.*.values.*", WORD},
    {"rows.*.co_dry", GAS_COLUMN, CONTENT("CO"), HEADING("CO\ndry")},
    {"rows.*.o2_dry", GAS_COLUMN, CONTENT("O2"), HEADING("O2\ndry")},
    {"rows.*.solved", YES_NO, POINT(solved)},
    {"rows.*.neutral_plane", WORD},
    {"rows.*.hazards", WORD},
    {"rows.*.reason", WORD},
    {"solved_count", COUNT},
    {"hazard_count", COUNT},
};

static const dw_output_row check[] = {
    {"kiln", WORD},
    {"rules.*.*", WORD},
    {"questions.*.*", WORD},
    {"inputs.*", WORD},
    {"origins.*", WORD},
};

static const dw_output_row keys[] = {
    {"keys.*.path", WORD},
    {"keys.*.expected", WORD},
    {"keys.*.need", WORD},
    {"keys.*.default", WORD},
    {"keys.*.help", WORD},
    {"short_names.*", WORD},
};

static const dw_output_row why[] = {
    {"kiln", WORD},
    {"term", WORD},
    {"text", WORD},
    {"here.*", WORD},
    {"sources.*", WORD},
    {"terms.*.term", WORD, HEADING("term")},
    {"terms.*.aliases", WORD, HEADING("also called")},
};

LIST(dw_output_head, head);
LIST(dw_output_point, point);
LIST(dw_output_sweep, sweep);
LIST(dw_output_check, check);
LIST(dw_output_keys, keys);
LIST(dw_output_why, why);

/* The report of an operating point: keys of the JSON, the first screen, silence when not solved. */

#include <stdlib.h>
#include <string.h>

#include <jansson.h>

#include "check.h"
#include "reports.h"
#include "sample_result.h"
#include "show_number.h"
#include "writers.h"

static dw_data data;
static dw_kiln_file file;
static dw_result result;

static const dw_doubt *doubt;
static const dw_damper_words *damper;

static int setup(void **state)
{
    doubt = NULL;
    damper = NULL;
    (void)state;
    sample_data(&data);
    memset(&file, 0, sizeof file);
    sample_kiln(&file.kiln);
    sample_result(&result);
    return 0;
}

static char *report_text(void (*build)(dw_report *, const dw_report_source *, const dw_result *),
                         dw_unit_system system)
{
    const dw_report_source source = {"1.2.3", "estimate", &data, &file, &file.kiln, doubt, damper, NULL};
    dw_report *r = dw_report_create();
    dw_strbuf out;
    dw_strbuf_init(&out);
    build(r, &source, &result);
    assert_int_equal(dw_write_text(r, system, &out), DW_OK);
    dw_report_destroy(r);
    return dw_strbuf_take(&out);
}

static json_t *report_json(void)
{
    const dw_report_source source = {"1.2.3", "estimate", &data, &file, &file.kiln, doubt, damper, NULL};
    dw_report *r = dw_report_create();
    dw_strbuf out;
    dw_strbuf_init(&out);
    dw_build_estimate(r, &source, &result);
    assert_int_equal(dw_write_json(r, &out), DW_OK);
    dw_report_destroy(r);
    json_error_t error;
    json_t *j = json_loads(out.text, JSON_REJECT_DUPLICATES, &error);
    if (j == NULL) print_error("%s at line %d\n", error.text, error.line);
    assert_non_null(j);
    dw_strbuf_free(&out);
    return j;
}

/* Numbers of the result by key. */
static const char *const number_keys[] = {
    "air_ratio", "equivalence_ratio", "primary_aeration", "stoichiometric_air_kg_kg",
    "gas_flow_kg_s", "air_flow_kg_s", "heat_input_net_w", "heat_input_gross_w",
    "pressure_floor_pa", "pressure_top_pa", "pressure_datum_pa", "datum_height_m",
    "neutral_plane_m", "draft_theoretical_pa", "draft_stack_base_pa", "draft_flue_exit_pa",
    "draft_floor_pa", "draft_top_pa", "stack_mean_temperature_k", "stack_base_temperature_k",
    "flue_flow_kg_s", "stack_flow_kg_s", "spill_kg_s", "into_room_kg_s",
    "into_room_by_openings_kg_s", "into_room_by_flues_kg_s", "gas_temperature_k",
    "composition_temperature_k", "log10_po2_bar", "probe_emf_v", "reducing_fraction",
    "co_co2_ratio", "h2_h2o_ratio", "carbon_activity", "unmixedness", "dphi_ddamper",
    "dphi_dgas_pressure_per_pa", "heat_released_w", "heat_unburnt_w", "heat_sensible_w",
    "heat_to_kiln_w"};

static double number(const json_t *j, const char *key)
{
    const json_t *value = json_object_get(j, key);
    if (!json_is_number(value)) print_error("'%s' is no number\n", key);
    assert_true(json_is_number(value));
    return json_number_value(value);
}

static void json_has_every_promised_key(void **state)
{
    (void)state;
    json_t *j = report_json();
    for (size_t i = 0; i < sizeof number_keys / sizeof number_keys[0]; ++i) {
        (void)number(j, number_keys[i]);
    }
    assert_close(number(j, "equivalence_ratio"), 1.0890, 1e-12, 0.0);
    assert_close(number(j, "spill_kg_s"), 2.557 / 3600.0, 1e-11, 0.0);
    assert_close(number(j, "reducing_fraction"), 0.1268, 1e-12, 0.0);
    assert_true(json_is_true(json_object_get(j, "solved")));
    assert_true(json_is_null(json_object_get(j, "reason")));
    assert_true(json_is_null(json_object_get(j, "neutral_plane_reason")));
    assert_string_equal(json_string_value(json_object_get(j, "reduction_word")), "medium");
    assert_true(json_is_false(json_object_get(j, "sooting")));
    assert_string_equal(json_string_value(json_object_get(j, "kiln")), "Yard kiln");
    assert_non_null(json_object_get(j, "units"));
    assert_non_null(strstr(json_string_value(json_object_get(j, "caution")), "SAFETY.md"));
    const json_t *program = json_object_get(j, "program");
    assert_string_equal(json_string_value(json_object_get(program, "name")), "damperwise");
    assert_string_equal(json_string_value(json_object_get(program, "version")), "1.2.3");
    const json_t *closure = json_object_get(j, "closure");
    assert_close(number(closure, "mass"), 3.1e-14, 1e-12, 0.0);
    assert_close(number(closure, "energy"), 4.4e-13, 1e-12, 0.0);
    assert_close(number(json_object_get(closure, "elements"), "C"), -2.2e-15, 1e-12, 0.0);
    assert_int_equal(json_object_size(json_object_get(closure, "elements")), 5);
    const json_t *solver = json_object_get(j, "solver");
    assert_close(number(solver, "density_rounds"), 7, 0.0, 0.0);
    assert_close(number(solver, "pressure_steps"), 93, 0.0, 0.0);
    assert_close(number(solver, "worst_residual_kg_s"), 5.7e-16, 1e-12, 0.0);
    json_decref(j);
}

static void flows_have_a_size_and_a_direction(void **state)
{
    (void)state;
    json_t *j = report_json();
    const json_t *flows = json_object_get(j, "flows");
    assert_int_equal(json_array_size(flows), 11);
    const json_t *top = json_array_get(flows, 6), *flue = json_array_get(flows, 9);
    assert_string_equal(json_string_value(json_object_get(top, "name")), "top spyhole");
    assert_string_equal(json_string_value(json_object_get(top, "direction")), "out");
    assert_close(number(top, "mass_kg_s"), 0.843 / 3600.0, 1e-11, 0.0);
    assert_close(number(top, "height_m"), 0.92, 1e-12, 0.0);
    assert_close(number(top, "dp_pa"), 2.79, 1e-12, 0.0);
    assert_string_equal(json_string_value(json_object_get(flue, "kind")), "flue");
    assert_string_equal(json_string_value(json_object_get(flue, "direction")), "out");
    json_decref(j);
    /* A flue that runs backwards brings gas in. */
    result.flow[9].mass_kg_s = -0.003;
    j = report_json();
    const json_t *back = json_array_get(json_object_get(j, "flows"), 9);
    assert_string_equal(json_string_value(json_object_get(back, "direction")), "in");
    assert_close(number(back, "mass_kg_s"), 0.003, 1e-12, 0.0);
    json_decref(j);
}

static void gas_is_wet_with_water_and_dry_without(void **state)
{
    (void)state;
    json_t *j = report_json();
    const json_t *wet = json_object_get(j, "gas_wet"), *dry = json_object_get(j, "gas_dry");
    assert_close(number(wet, "H2O"), 0.1561, 1e-12, 0.0);
    assert_null(json_object_get(dry, "H2O"));
    assert_close(number(dry, "CO"), 0.0286, 1e-12, 0.0);
    assert_int_equal(json_object_size(wet), 7);
    json_decref(j);
}

static void diagnostics_come_with_hazards_first(void **state)
{
    (void)state;
    sample_find(&result, DW_FIND_JET_CHOKED, 1, 91300.0);
    sample_find(&result, DW_FIND_DAMPER_RANGE, 0, 0.037);
    sample_find(&result, DW_FIND_SOOTING, -1, 1.213);
    json_t *j = report_json();
    const json_t *list = json_object_get(j, "diagnostics");
    assert_int_equal(json_array_size(list), 5);
    static const char *const codes[] = {"positive-at-opening", "spill", "sooting",
                                        "damper-outside-range", "jet-choked"};
    static const char *const grades[] = {"hazard", "hazard", "hazard", "warning", "note"};
    for (size_t i = 0; i < 5; ++i) {
        const json_t *entry = json_array_get(list, i);
        assert_string_equal(json_string_value(json_object_get(entry, "code")), codes[i]);
        assert_string_equal(json_string_value(json_object_get(entry, "grade")), grades[i]);
        assert_non_null(json_string_value(json_object_get(entry, "text")));
    }
    const json_t *choked = json_array_get(list, 4);
    assert_string_equal(json_string_value(json_object_get(choked, "name")), "right");
    json_decref(j);
}

static void a_plane_outside_the_chamber_is_null_with_the_reason(void **state)
{
    (void)state;
    result.neutral = DW_NEUTRAL_ALL_IN;
    result.neutral_plane_m = NAN;
    json_t *j = report_json();
    assert_true(json_is_null(json_object_get(j, "neutral_plane_m")));
    assert_non_null(strstr(json_string_value(json_object_get(j, "neutral_plane_reason")),
                           "all openings draw in"));
    json_decref(j);
    char *text = report_text(dw_build_screen, DW_UNITS_METRIC);
    assert_non_null(strstr(text, "all openings draw air in"));
    free(text);
    result.neutral = DW_NEUTRAL_ALL_OUT;
    text = report_text(dw_build_screen, DW_UNITS_METRIC);
    assert_non_null(strstr(text, "all openings let gas out"));
    free(text);
}

static void what_is_not_solved_has_no_numbers(void **state)
{
    (void)state;
    result.solved = false;
    strcpy(result.reason, "the stack stalls");
    json_t *j = report_json();
    assert_true(json_is_false(json_object_get(j, "solved")));
    assert_string_equal(json_string_value(json_object_get(j, "reason")), "the stack stalls");
    for (size_t i = 0; i < sizeof number_keys / sizeof number_keys[0]; ++i) {
        assert_true(json_is_null(json_object_get(j, number_keys[i])));
    }
    static const char *const others[] = {"flows", "gas_wet", "gas_dry", "reduction_word",
                                         "closure", "solver", "sooting"};
    for (size_t i = 0; i < sizeof others / sizeof others[0]; ++i) {
        assert_true(json_is_null(json_object_get(j, others[i])));
    }
    const json_t *list = json_object_get(j, "diagnostics");
    assert_int_equal(json_array_size(list), 1);
    assert_string_equal(json_string_value(json_object_get(json_array_get(list, 0), "code")),
                        "not-solved");
    json_decref(j);
    char *text = report_text(dw_build_estimate, DW_UNITS_METRIC);
    assert_non_null(strstr(text, "NOT SOLVED: the stack stalls."));
    assert_null(strstr(text, "air ratio"));
    assert_null(strstr(text, "1.089"));
    assert_null(strstr(text, "HAZARD"));
    free(text);
}

/* Lines of a text; fails when one is wider than the terminal. */
static int count_lines(const char *text)
{
    int lines = 0;
    for (const char *p = text; *p != '\0'; ++lines) {
        char line[400];
        const size_t length = strcspn(p, "\n");
        assert_true(length < sizeof line);
        memcpy(line, p, length);
        line[length] = '\0';
        if (dw_show_width(line) > DW_TEXT_WIDTH) print_error("too wide: %s\n", line);
        assert_true(dw_show_width(line) <= DW_TEXT_WIDTH);
        assert_true(length == 0 || line[length - 1] != ' ');
        p += length + (p[length] == '\n');
    }
    return lines;
}

static void assert_screen_within(dw_unit_system system, int most)
{
    char *text = report_text(dw_build_screen, system);
    const int lines = count_lines(text);
    if (lines > most) print_error("%d lines:\n%s", lines, text);
    assert_true(lines <= most);
    assert_non_null(strstr(text, "SAFETY.md"));
    assert_non_null(strstr(text, "CO alarm"));
    free(text);
}

static void assert_screen(dw_unit_system system)
{
    assert_screen_within(system, 24);
}

static void the_first_screen_fits_whatever_was_found(void **state)
{
    (void)state;
    for (int found = 0; found <= DW_FINDING_CODE_COUNT; ++found) {
        result.finding_count = 0;
        for (int i = 0; i < found; ++i) {
            sample_find(&result, (dw_finding_code)i, 0, 1.234);
            sample_find(&result, (dw_finding_code)i, 1, 12.34);
        }
        assert_screen(DW_UNITS_METRIC);
        assert_screen(DW_UNITS_US);
    }
    /* Long names, two dampers, a long meaning, everything large. */
    memset(file.kiln.name, 'K', DW_NAME_SIZE - 1);
    for (int i = 0; i < file.kiln.opening_count; ++i) {
        memset(file.kiln.opening[i].name, 'O', DW_NAME_SIZE - 1);
    }
    file.kiln.flue_count = 2;
    file.kiln.flue[1] = file.kiln.flue[0];
    file.kiln.flue[1].damper.open_frac = 0.5;
    memset(data.band[3].meaning, 'm', DW_TEXT_SIZE - 1);
    result.heat_input_net_w *= 1000.0;
    result.draft_floor_pa *= 100.0;
    assert_screen(DW_UNITS_METRIC);
    assert_screen(DW_UNITS_US);
}

static void hazards_stand_before_everything_but_the_title(void **state)
{
    (void)state;
    sample_find(&result, DW_FIND_BURNER_PUSHED_BACK, 0, 3.7);
    char *text = report_text(dw_build_estimate, DW_UNITS_METRIC);
    const char *pushed = strstr(text, "HAZARD   left: the kiln pushes back");
    const char *spill = strstr(text, "HAZARD   2.6 kg/h of kiln gas leaks into the room");
    assert_non_null(pushed);
    assert_non_null(spill);
    assert_true(pushed < spill && spill < strstr(text, "Atmosphere"));
    assert_true(strstr(text, "Yard kiln: gas 4.23 kPa, damper 37.2 %, chamber 1183 degC") == text);
    assert_null(strstr(text, " safe "));
    (void)count_lines(text);
    free(text);
}

static void the_screen_says_what_a_potter_asks(void **state)
{
    (void)state;
    result.finding_count = 1; /* more hazards take lines from the flows */
    char *text = report_text(dw_build_screen, DW_UNITS_METRIC);
    static const char *const parts[] = {
        "Medium reduction. A few per cent",
        "air ratio 0.918   equivalence ratio 1.089 (above 1: gas left over)",
        "dry gas: CO 2.86 %   O2 0.140 %   CO/CO2 0.231",
        "floor 5.61, top -4.17, flue 21.8, stack base 22.4 Pa",
        "no draft at 0.61 m: air goes in below that height, gas out above",
        "55.6 kW net",
        /* -2.134 per unit; 0.1 x 4230 Pa x 7.93e-5 */
        "equivalence ratio -0.021 per 1 % damper, +0.034 per 10 % gas pressure",
        "air by burners          34.9     flue                    64.4",
        "air ports               24.9     top spyhole             0.84"};
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; ++i) {
        if (strstr(text, parts[i]) == NULL) print_error("'%s' is not in\n%s", parts[i], text);
        assert_non_null(strstr(text, parts[i]));
    }
    free(text);
}

static dw_damper_words two_words(void)
{
    return (dw_damper_words){.flue_count = 1,
                             .widest_frac = 0.372,
                             .share = {1.0},
                             .count = 2,
                             .span = {{3, 0.0, 0.612}, {2, 0.612, 1.0}},
                             .complete = true,
                             .leanest = {1.0234, 1.0, DW_LIMIT_FLUES},
                             .richest = {1.1049, 0.0, DW_LIMIT_BURNER_AIR}};
}

static void assert_says(const char *text, const char *part)
{
    if (strstr(text, part) == NULL) print_error("'%s' is not in\n%s", part, text);
    assert_non_null(strstr(text, part));
}

static void the_screen_says_where_each_word_begins(void **state)
{
    (void)state;
    dw_damper_words words = two_words();
    damper = &words;
    char *text = report_text(dw_build_screen, DW_UNITS_METRIC);
    assert_says(text, "Damper     Medium reduction up to 61.2 %, light above.\n");
    assert_says(text, "Not at any position: oxidizing, neutral. The leanest equivalence\n"
                      "           ratio is 1.023, at 100.0 %: the flues let out no more gas than");
    assert_says(text, "Not at any position: heavy. The richest equivalence ratio is 1.105,");
    assert_says(text, "at 0.0 %: the burners bring in this much air by themselves.");
    free(text);
    json_t *j = report_json();
    const json_t *list = json_object_get(j, "damper_words");
    assert_int_equal(json_array_size(list), 2);
    assert_string_equal(json_string_value(json_object_get(json_array_get(list, 1), "word")), "light");
    assert_close(number(json_array_get(list, 1), "from_frac"), 0.612, 1e-12, 0.0);
    assert_close(number(json_array_get(list, 1), "to_frac"), 1.0, 1e-12, 0.0);
    const json_t *missing = json_object_get(j, "damper_words_not_reached");
    assert_int_equal(json_array_size(missing), 3);
    assert_close(number(json_array_get(missing, 2), "nearest_equivalence_ratio"), 1.1049, 1e-9, 0.0);
    json_decref(j);

    /* A stretch without solution, a jump, one word alone. */
    words.span[0] = (dw_damper_span){-1, 0.0, 0.05};
    words.span[1] = (dw_damper_span){0, 0.05, 1.0};
    words.richest = words.leanest = (dw_damper_end){0.9, 1.0, DW_LIMIT_UNSOLVED};
    text = report_text(dw_build_screen, DW_UNITS_METRIC);
    assert_says(text, "Not solved up to 5.0 %, oxidizing above.");
    assert_says(text, "beyond this position the kiln\n           has no solution.");
    free(text);
    words.span[0].band = 4;
    words.richest.equivalence_ratio = 1.3;
    j = report_json();
    missing = json_object_get(j, "damper_words_not_reached");
    assert_string_equal(json_string_value(json_object_get(json_array_get(missing, 0), "limit")),
                        "the atmosphere jumps past it");
    json_decref(j);
    words.count = 1;
    words.span[0] = (dw_damper_span){0, 0.0, 1.0};
    text = report_text(dw_build_screen, DW_UNITS_METRIC);
    assert_says(text, "Damper     Oxidizing at every position.");
    free(text);
}

static void several_dampers_get_the_options_that_set_them(void **state)
{
    (void)state;
    dw_damper_words words = two_words();
    words.flue_count = 2;
    words.together = true;
    words.share[1] = 0.5;
    damper = &words;
    file.kiln.flue_count = 2;
    file.kiln.flue[1] = file.kiln.flue[0];
    strcpy(file.kiln.flue[0].name, "left");
    strcpy(file.kiln.flue[1].name, "potter's");
    char *text = report_text(dw_build_estimate, DW_UNITS_METRIC);
    assert_says(text, "Moved together, read at 'left': medium reduction up to 61.2 %, light");
    assert_says(text, "Light begins at --set 'flues.left.damper.open=61.2 %'\n"
                      "           --set \"flues.potter's.damper.open=30.6 %\"");
    free(text);
}

static void the_screen_says_how_sure_the_word_is(void **state)
{
    (void)state;
    dw_doubt wide = {.count = 1,
                     .item = {{DW_DOUBT_JET_DISCHARGE, 0.92, 1.08, true, 0.95, 1.2}},
                     .phi_from = 0.95,
                     .phi_to = 1.2,
                     .settled = {DW_READING_OXYGEN, 0.3, 0.2}};
    doubt = &wide;
    char *text = report_text(dw_build_screen, DW_UNITS_METRIC);
    assert_says(text, "Atmosphere Best estimate: medium reduction.\n");
    assert_says(text, "How sure   The equivalence ratio may be 0.95 to 1.20: oxidizing, neutral, light,\n"
                      "           medium or heavy. An oxygen reading in the flue with the damper 20 %\n"
                      "           further open would settle it best. Only what was not given is in");
    free(text);
    json_t *j = report_json();
    const json_t *d = json_object_get(j, "doubt");
    assert_int_equal(json_array_size(json_object_get(d, "words_within")), 5);
    assert_string_equal(json_string_value(json_object_get(d, "best_reading")), "oxygen");
    json_decref(j);
    wide.settled = (dw_settled){DW_READING_SMOKE, 0.8, 0.0};
    text = report_text(dw_build_screen, DW_UNITS_METRIC);
    assert_says(text, "The height where stick smoke turns would settle");
    free(text);

    /* One word inside the doubt: it is said with what it means. */
    wide.phi_from = 1.06;
    wide.phi_to = 1.12;
    text = report_text(dw_build_screen, DW_UNITS_METRIC);
    assert_says(text, "Atmosphere Medium reduction. A few per cent");
    assert_says(text, "How sure   The equivalence ratio may be 1.06 to 1.12: medium all the same.");
    assert_null(strstr(text, "settle it best"));
    free(text);
    wide.count = 0;
    text = report_text(dw_build_screen, DW_UNITS_METRIC);
    assert_says(text, "How sure   Your own figures are taken as exact");
    free(text);
}

static void the_longest_screen_is_bounded(void **state)
{
    (void)state;
    dw_doubt wide = {.count = 1,
                     .item = {{DW_DOUBT_JET_DISCHARGE, 0.92, 1.08, true, 0.95, 1.2}},
                     .phi_from = 0.95,
                     .phi_to = 1.2,
                     .settled = {DW_READING_OXYGEN, 0.3, 0.2}};
    dw_damper_words words = two_words();
    doubt = &wide;
    damper = &words;
    /* With one hazard and one damper all that a potter needs is on a terminal of 24 lines. */
    words.leanest.equivalence_ratio = 0.9;
    words.span[1].band = 0;
    result.finding_count = 0;
    sample_find(&result, DW_FIND_SPILL, 0, 1.234);
    assert_screen(DW_UNITS_METRIC);
    words = two_words();
    words.flue_count = 2;
    words.together = true;
    for (int i = 0; i < DW_FINDING_CODE_COUNT; ++i) sample_find(&result, (dw_finding_code)i, 0, 1.234);
    assert_screen_within(DW_UNITS_METRIC, 32);
    assert_screen_within(DW_UNITS_US, 32);
}

static void without_a_stack_its_drafts_are_null_and_not_in_the_text(void **state)
{
    (void)state;
    result.has_stack = false;
    result.draft_stack_base_pa = result.draft_flue_exit_pa = result.stack_flow_kg_s = NAN;
    result.stack_mean_temperature_k = result.stack_base_temperature_k = NAN;
    json_t *j = report_json();
    assert_true(json_is_null(json_object_get(j, "draft_stack_base_pa")));
    assert_true(json_is_null(json_object_get(j, "stack_mean_temperature_k")));
    json_decref(j);
    char *text = report_text(dw_build_estimate, DW_UNITS_METRIC);
    assert_non_null(strstr(text, "no stack"));
    assert_null(strstr(text, "stack base"));
    free(text);
}

static void the_word_takes_its_noun_from_the_limits(void **state)
{
    (void)state;
    dw_report *r = dw_report_create();
    assert_string_equal(dw_reduction_phrase(r, &data, 0), "oxidizing");
    assert_string_equal(dw_reduction_phrase(r, &data, 1), "neutral");
    assert_string_equal(dw_reduction_phrase(r, &data, 2), "light reduction");
    assert_string_equal(dw_reduction_phrase(r, &data, 4), "heavy reduction");
    assert_string_equal(dw_reduction_phrase(r, &data, 5), "");
    assert_string_equal(dw_reduction_phrase(r, &data, -1), "");
    dw_report_destroy(r);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup(json_has_every_promised_key, setup),
        cmocka_unit_test_setup(flows_have_a_size_and_a_direction, setup),
        cmocka_unit_test_setup(gas_is_wet_with_water_and_dry_without, setup),
        cmocka_unit_test_setup(diagnostics_come_with_hazards_first, setup),
        cmocka_unit_test_setup(a_plane_outside_the_chamber_is_null_with_the_reason, setup),
        cmocka_unit_test_setup(what_is_not_solved_has_no_numbers, setup),
        cmocka_unit_test_setup(the_first_screen_fits_whatever_was_found, setup),
        cmocka_unit_test_setup(hazards_stand_before_everything_but_the_title, setup),
        cmocka_unit_test_setup(the_screen_says_what_a_potter_asks, setup),
        cmocka_unit_test_setup(the_screen_says_where_each_word_begins, setup),
        cmocka_unit_test_setup(several_dampers_get_the_options_that_set_them, setup),
        cmocka_unit_test_setup(the_screen_says_how_sure_the_word_is, setup),
        cmocka_unit_test_setup(the_longest_screen_is_bounded, setup),
        cmocka_unit_test_setup(without_a_stack_its_drafts_are_null_and_not_in_the_text, setup),
        cmocka_unit_test_setup(the_word_takes_its_noun_from_the_limits, setup),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

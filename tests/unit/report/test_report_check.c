/* The listing of inputs, rules of thumb, and the list of keys. */

#include <stdlib.h>
#include <string.h>

#include <jansson.h>

#include "check.h"
#include "kiln_schema.h"
#include "kit.h"
#include "reports.h"
#include "sample_result.h"
#include "writers.h"

static dw_data data;
static dw_kiln_file file;
static dw_result result;

static void add_rule(const char *key, double low, double high, dw_dim dim)
{
    dw_rule *rule = &data.rule[data.rule_count++];
    strcpy(rule->key, key);
    strcpy(rule->text, "Most kilns do so.");
    strcpy(rule->source, "common-practice");
    rule->low = low;
    rule->high = high;
    rule->dim = dim;
}

static int setup(void **state)
{
    (void)state;
    sample_data(&data);
    memset(&file, 0, sizeof file);
    dw_kiln_init(&file.kiln);
    dw_kiln sample;
    sample_kiln(&sample);
    /* The rest of each burner, opening and flue keeps the usual values. */
    memcpy(file.kiln.name, sample.name, sizeof sample.name);
    file.kiln.fuel = sample.fuel;
    file.kiln.chamber = sample.chamber;
    file.kiln.chamber.leak_area_m2 = NAN;
    file.kiln.operating = sample.operating;
    file.kiln.burner_count = 1;
    strcpy(file.kiln.burner[0].name, "left");
    file.kiln.burner[0].height_m = 0.05;
    file.kiln.burner[0].jet_diameter_m = 1.83e-3;
    file.kiln.burner[0].throat_diameter_m = 22.1e-3;
    dw_keys const *keys = dw_keys_of(DW_OBJECT_CHAMBER);
    unsigned long long *word = dw_given_word(&file.given, DW_OBJECT_CHAMBER, 0);
    *word |= 1ULL << dw_keys_row(keys, "width");
    sample_result(&result);
    add_rule("heat_per_volume_w_m3", 100.0e3, 310.0e3, DW_DIM_POWER_PER_VOLUME);
    add_rule("throat_to_jet_diameter", 6.0, 14.0, DW_DIM_RATIO);
    add_rule("stack_to_flue_area", 0.8, 2.5, DW_DIM_RATIO);
    return 0;
}

static dw_report *built(dw_diag_list *diag)
{
    static dw_kiln resolved;
    resolved = file.kiln;
    dw_kiln_resolve(&resolved);
    const dw_report_source source = {"1.2.3", "check", &data, &file, &resolved, NULL, NULL, NULL};
    dw_report *r = dw_report_create();
    dw_build_check(r, &source, &result, diag);
    assert_false(dw_report_failed(r));
    return r;
}

static json_t *json_of(dw_report *r)
{
    dw_strbuf out;
    dw_strbuf_init(&out);
    assert_int_equal(dw_write_json(r, &out), DW_OK);
    json_error_t error;
    json_t *j = json_loads(out.text, JSON_REJECT_DUPLICATES, &error);
    if (j == NULL) print_error("%s at line %d\n", error.text, error.line);
    assert_non_null(j);
    dw_strbuf_free(&out);
    dw_report_destroy(r);
    return j;
}

static const char *origin(const json_t *j, const char *key)
{
    return json_string_value(json_object_get(json_object_get(j, "origins"), key));
}

static void every_input_is_in_si_with_where_it_came_from(void **state)
{
    (void)state;
    json_t *j = json_of(built(NULL));
    const json_t *inputs = json_object_get(j, "inputs");
    assert_close(json_number_value(json_object_get(inputs, "kiln.chamber.width_m")), 0.91, 0, 0);
    assert_string_equal(origin(j, "kiln.chamber.width_m"), "given");
    assert_string_equal(origin(j, "kiln.chamber.depth_m"), "default");
    assert_string_equal(origin(j, "kiln.chamber.leak_area_m2"), "derived");
    /* 10 cm2 per m2 of 5.2342 m2 */
    assert_close(json_number_value(json_object_get(inputs, "kiln.chamber.leak_area_m2")),
                 5.2342e-3, 1e-9, 0.0);
    assert_close(json_number_value(json_object_get(inputs, "kiln.burners.left.jet.diameter_m")),
                 1.83e-3, 1e-12, 0.0);
    assert_string_equal(json_string_value(json_object_get(inputs, "kiln.burners.left.kind")),
                        "inspirating");
    assert_int_equal(json_object_size(inputs), json_object_size(json_object_get(j, "origins")));
    json_decref(j);
}

static void rules_are_marked_as_common_practice_and_warn_when_outside(void **state)
{
    (void)state;
    dw_diag_list *diag = dw_diag_list_create();
    json_t *j = json_of(built(diag));
    const json_t *rules = json_object_get(j, "rules");
    assert_int_equal(json_array_size(rules), 3);
    const json_t *heat = json_array_get(rules, 0), *jet = json_array_get(rules, 1);
    assert_string_equal(json_string_value(json_object_get(heat, "state")), "low");
    assert_close(json_number_value(json_object_get(heat, "value_w_m3")), 68760.2005, 1e-8, 0.0);
    assert_string_equal(json_string_value(json_object_get(heat, "standing")), "common practice");
    assert_string_equal(json_string_value(json_object_get(jet, "state")), "usual");
    assert_string_equal(json_string_value(json_object_get(jet, "name")), "left");
    assert_string_equal(json_string_value(json_object_get(json_array_get(rules, 2), "state")),
                        "unknown");
    assert_true(json_is_null(json_object_get(json_array_get(rules, 2), "value")));
    json_decref(j);
    assert_int_equal(dw_diag_count(diag), 1);
    assert_string_equal(dw_diag_get(diag, 0)->code, "rule-of-thumb");
    assert_int_equal(dw_diag_get(diag, 0)->grade, DW_WARNING);
    dw_diag_list_destroy(diag);
}

static void heat_is_not_judged_without_a_solution(void **state)
{
    (void)state;
    result.solved = false;
    strcpy(result.reason, "the stack stalls");
    dw_report *r = built(NULL);
    dw_strbuf out;
    dw_strbuf_init(&out);
    assert_int_equal(dw_write_text(r, DW_UNITS_METRIC, &out), DW_OK);
    assert_non_null(strstr(out.text, "heat input, air and"));
    assert_null(strstr(out.text, "68.8"));
    dw_strbuf_free(&out);
    json_t *j = json_of(r);
    assert_string_equal(json_string_value(json_object_get(
                            json_array_get(json_object_get(j, "rules"), 0), "state")), "unknown");
    json_decref(j);
}

static void the_text_has_a_section_per_object_and_marks_what_was_not_given(void **state)
{
    (void)state;
    dw_report *r = built(NULL);
    dw_strbuf out;
    dw_strbuf_init(&out);
    assert_int_equal(dw_write_text(r, DW_UNITS_METRIC, &out), DW_OK);
    static const char *const parts[] = {
        "\nkiln.chamber\n------------\n"
        "  width                             0.91 m   inside width\n",
        "\nkiln.burners.left\n-----------------\n"
        "  count                             1 [default]",
        "  jet.diameter                      1.83 mm [default]",
        "  leak_area                         52.34 cm2 [derived]",
        "WARNING  net heat input / chamber volume 68.8 kW/m3 is below the usual 100 to\n"
        "         310 kW/m3. Most kilns do so. This is common practice, not a law",
        "usual    left: throat diameter / jet diameter 12.1 (usual 6 to 14). Most kilns"};
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; ++i) {
        if (strstr(out.text, parts[i]) == NULL) {
            print_error("'%s' is not in\n%s", parts[i], out.text);
        }
        assert_non_null(strstr(out.text, parts[i]));
    }
    /* The sections of one object are one. */
    const char *first = strstr(out.text, "\nkiln\n----\n");
    assert_non_null(first);
    assert_null(strstr(first + 1, "\nkiln\n----\n"));
    dw_strbuf_free(&out);
    dw_report_destroy(r);
}

/* What `about` says of each question, one after the other. */
static void asks(const char *expected)
{
    char about[200] = "";
    json_t *j = json_of(built(NULL));
    const json_t *list = json_object_get(j, "questions");
    for (size_t i = 0; i < json_array_size(list); ++i) {
        strcat(about, json_string_value(json_object_get(json_array_get(list, i), "about")));
        strcat(about, ";");
        assert_true(strlen(json_string_value(json_object_get(json_array_get(list, i), "text"))) > 40);
    }
    assert_string_equal(about, expected);
    json_decref(j);
}

static void leaks_that_nobody_gave_are_asked_for(void **state)
{
    (void)state;
    asks("kiln.chamber.leak_kind;kiln.openings;");
    file.kiln.chamber.leak_kind = DW_LEAK_DRY;
    asks("kiln.openings;");
    file.kiln.opening_count = 1;
    asks("kiln.openings;"); /* a hole is no joint */
    file.kiln.opening[0].kind = DW_OPENING_JOINT;
    file.kiln.opening[0].height_m = 0.2;
    asks("kiln.chamber.leak_area;");
    file.kiln.chamber.leak_area_m2 = 3e-4;
    asks("");
    file.kiln.chamber.leak_kind = DW_LEAK_UNKNOWN;
    file.kiln.opening_count = 0;
    asks("");
}

/* Beyond the rule it says what that usually means, and so it does where no number can be beyond. */
static void what_it_means_to_be_outside_is_said_outside_alone(void **state)
{
    (void)state;
    add_rule("neutral_plane_to_chamber_height", 0.2, 0.7, DW_DIM_NUMBER);
    dw_rule *rule = &data.rule[data.rule_count - 1];
    strcpy(rule->when_low, "It pushes.");
    strcpy(rule->when_high, "It draws.");
    const double inside = 0.5 * file.kiln.chamber.height_m;
    const struct {
        dw_neutral neutral;
        double plane_m;
        const char *means, *line;
    } rows[] = {
        {DW_NEUTRAL_INSIDE, inside, NULL, "chamber height 0.5 (usual 0.2 to 0.7). Most kilns do so.\n"},
        {DW_NEUTRAL_INSIDE, 0.1 * inside, "It pushes.", "0.05 is below the usual 0.2 to 0.7. Most kilns do so. It pushes. This is"},
        {DW_NEUTRAL_INSIDE, 1.8 * inside, "It draws.", "0.9 is above the usual 0.2 to 0.7. Most kilns do so. It draws. This is"},
        {DW_NEUTRAL_ALL_OUT, NAN, "It pushes.", "none, every opening pushes gas out (usual 0.2 to 0.7). Most kilns do so. It pushes. This is"},
        {DW_NEUTRAL_ALL_IN, NAN, "It draws.", "none, every opening draws air in (usual 0.2 to 0.7). Most kilns do so. It draws. This is"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; ++i) {
        result.neutral = rows[i].neutral;
        result.neutral_plane_m = rows[i].plane_m;
        dw_report *r = built(NULL);
        dw_strbuf out;
        dw_strbuf_init(&out);
        assert_int_equal(dw_write_text(r, DW_UNITS_METRIC, &out), DW_OK);
        char flat[4096] = "";
        size_t n = 0;
        for (const char *c = out.text; *c != '\0' && n + 1 < sizeof flat; ++c) {
            if (*c == '\n' && c[1] == ' ') {
                flat[n++] = ' ';
                while (c[1] == ' ') ++c;
            } else {
                flat[n++] = *c;
            }
        }
        if (strstr(flat, rows[i].line) == NULL) fail_msg("'%s' is not in\n%s", rows[i].line, flat);
        dw_strbuf_free(&out);
        json_t *j = json_of(r);
        const json_t *entry = json_array_get(json_object_get(j, "rules"), 3);
        const json_t *means = json_object_get(entry, "meaning");
        if (rows[i].means == NULL) {
            assert_true(json_is_null(means));
        } else {
            assert_string_equal(json_string_value(means), rows[i].means);
        }
        assert_int_equal(json_is_null(json_object_get(entry, "value")), isnan(rows[i].plane_m));
        json_decref(j);
    }
}

static void the_list_of_keys_has_them_all(void **state)
{
    (void)state;
    dw_report *r = dw_report_create();
    dw_build_keys(r, "1.2.3", kit_data());
    json_t *j = json_of(r);
    const json_t *keys = json_object_get(j, "keys");
    assert_true(json_array_size(keys) > 60);
    int found = 0;
    for (size_t i = 0; i < json_array_size(keys); ++i) {
        const json_t *key = json_array_get(keys, i);
        assert_non_null(json_string_value(json_object_get(key, "path")));
        assert_non_null(json_string_value(json_object_get(key, "help")));
        found += strcmp(json_string_value(json_object_get(key, "path")),
                        "kiln.model.unmixedness") == 0;
    }
    assert_int_equal(found, 1);
    assert_string_equal(json_string_value(json_object_get(json_object_get(j, "short_names"),
                                                          "gas_pressure")),
                        "operating.gas_pressure");
    json_decref(j);
}

/* The report as text, on one line. */
static char *text_of(dw_report *r)
{
    dw_strbuf out;
    dw_strbuf_init(&out);
    assert_int_equal(dw_write_text(r, DW_UNITS_METRIC, &out), DW_OK);
    dw_report_destroy(r);
    size_t n = 0;
    for (size_t i = 0; i < out.length; i++) {
        const bool blank = out.text[i] == ' ' || out.text[i] == '\n';
        if (!blank) {
            out.text[n++] = out.text[i];
        } else if (n > 0 && out.text[n - 1] != ' ') {
            out.text[n++] = ' ';
        }
    }
    out.text[n] = '\0';
    return dw_strbuf_take(&out);
}

static void says(bool is_said, const char *words)
{
    char *text = text_of(built(NULL));
    if ((strstr(text, words) != NULL) != is_said) fail_msg("'%s' %s in: %s", words, is_said ? "is not" : "is", text);
    free(text);
}

static void the_error_of_a_dial_goes_with_the_end_of_its_scale(void **state)
{
    (void)state;
    file.kiln.operating.gas_pressure_pa = 20e3;
    file.kiln.operating.gauge_end_pa = NAN;
    says(false, "A dial that goes to");
    file.kiln.operating.gauge_end_pa = 400e3;
    says(true, "A dial that goes to 400 kPa may be off by 6.4 kPa at any reading (class 1.6: 1.6 % of the full scale). "
               "That is 32 % of the 20 kPa read here");
    file.kiln.operating.gauge_end_pa = 20e3;
    says(true, "A dial that goes to 20 kPa");
    file.kiln.operating.gauge_end_pa = 19e3;
    says(true, "The gas pressure of 20 kPa is beyond the end of the gauge's scale, 19 kPa.");
    says(false, "A dial that goes to");
}

static void the_pressure_at_the_jets_is_told_where_the_gauge_is_elsewhere(void **state)
{
    (void)state;
    file.kiln.operating.gas_pressure_pa = 20e3;
    file.kiln.burner[0].gas_pressure_pa = NAN;
    dw_result_find(&result, DW_FIND_SUPPLY_LOSS, -1, 14.6e3);
    file.kiln.operating.gauge = DW_GAUGE_JET;
    says(false, "The gauge at the manifold");
    says(false, "[at the gauge]");
    file.kiln.operating.gauge = DW_GAUGE_MANIFOLD;
    says(true, "The gauge at the manifold reads 20 kPa, and the jets get 14.6 kPa at this flow: 27 % of the pressure is "
               "lost on the way.");
    says(true, "gas_pressure 20 kPa [at the gauge]");
    file.kiln.burner[0].gas_pressure_pa = 5e3;
    says(false, "[at the gauge]");
}

static void a_jet_of_unknown_kind_brings_the_question(void **state)
{
    (void)state;
    const dw_keys *keys = dw_keys_of(DW_OBJECT_BURNER);
    unsigned long long *given = dw_given_word(&file.given, DW_OBJECT_BURNER, 0);
    dw_burner *b = &file.kiln.burner[0];
    says(true, "look into its gas side");
    says(true, "Give that word as the jet.kind of left. No other");
    /* Every word that may be the answer is in it. */
    const char *const *words = keys->key[dw_keys_row(keys, "jet.kind")].words;
    for (int k = DW_JET_UNKNOWN + 1; words[k] != NULL; k++) {
        char in_brackets[40];
        (void)snprintf(in_brackets, sizeof in_brackets, "(%s)", words[k]);
        says(true, in_brackets);
    }
    file.kiln.burner_count = 2;
    file.kiln.burner[1] = *b;
    strcpy(file.kiln.burner[1].name, "right");
    says(true, "as the jet.kind of left, right.");
    b->jet_kind = DW_JET_PLUG;
    says(true, "as the jet.kind of right.");
    file.kiln.burner[1].lit = false;
    says(false, "look into its gas side");
    b->jet_kind = DW_JET_UNKNOWN;
    says(true, "as the jet.kind of left.");
    *given |= 1ULL << dw_keys_row(keys, "jet.velocity_coefficient");
    says(true, "look into its gas side");
    *given |= 1ULL << dw_keys_row(keys, "jet.discharge_coefficient");
    says(false, "look into its gas side");
    says(false, "The gas and its jets");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup(every_input_is_in_si_with_where_it_came_from, setup),
        cmocka_unit_test_setup(rules_are_marked_as_common_practice_and_warn_when_outside, setup),
        cmocka_unit_test_setup(heat_is_not_judged_without_a_solution, setup),
        cmocka_unit_test_setup(the_text_has_a_section_per_object_and_marks_what_was_not_given,
                               setup),
        cmocka_unit_test_setup(the_error_of_a_dial_goes_with_the_end_of_its_scale, setup),
        cmocka_unit_test_setup(the_pressure_at_the_jets_is_told_where_the_gauge_is_elsewhere, setup),
        cmocka_unit_test_setup(a_jet_of_unknown_kind_brings_the_question, setup),
        cmocka_unit_test_setup(leaks_that_nobody_gave_are_asked_for, setup),
        cmocka_unit_test_setup(what_it_means_to_be_outside_is_said_outside_alone, setup),
        cmocka_unit_test(the_list_of_keys_has_them_all),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

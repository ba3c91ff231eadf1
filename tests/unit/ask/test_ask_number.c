/* One number of an answer by its key: every number of the JSON, and what is no number of it. */

#include <stdlib.h>
#include <string.h>

#include <jansson.h>

#include "check.h"
#include "damperwise.h"
#include "kit.h"
#include "question.h"

static dw_engine *engine;
static dw_diag_list *diag;

static int setup(void **state)
{
    (void)state;
    diag = dw_diag_list_create();
    return diag != NULL && dw_engine_create(NULL, NULL, &engine) == DW_OK ? 0 : -1;
}

static int teardown(void **state)
{
    (void)state;
    dw_diag_list_destroy(diag);
    dw_engine_destroy(engine);
    return 0;
}

static dw_case *example(const char *name, const dw_setting *settings, size_t count)
{
    char path[200];
    size_t size;
    (void)snprintf(path, sizeof path, "examples/%s.yaml", name);
    char *yaml = kit_read_file(path, &size);
    dw_case *kiln = NULL;
    assert_int_equal(dw_case_read(engine, name, yaml, size, settings, count, NULL, &kiln), DW_OK);
    free(yaml);
    return kiln;
}

/** A question of which every number is asked. */
typedef struct asked {
    const dw_case *kiln;
    const dw_question *question;
    int step;      /* every step-th number of the JSON is asked for */
    int seen, numbers;
} asked;

static void compare(asked *a, const json_t *j, const char *key)
{
    const char *unit = NULL;
    double value = 0.0;
    if (a->seen++ % a->step != 0) return;
    assert_int_equal(dw_ask_number(engine, a->kiln, a->question, key, NULL, &value, &unit), DW_OK);
    if (json_is_null(j)) {
        if (!isnan(value)) fail_msg("%s is null in the JSON", key);
        return;
    }
    /* JSON has twelve digits. */
    if (!(fabs(value - json_number_value(j)) <= 1e-11 * fabs(value))) {
        fail_msg("%s: %.17g, in the JSON %.17g", key, value, json_number_value(j));
    }
    assert_true(unit[0] != '\0');
    a->numbers++;
}

/* All numbers below a value of the JSON. */
static void compare_all(asked *a, json_t *j, const char *path)
{
    char inner[300];
    const char *key;
    json_t *value;
    size_t i;
    if (json_is_number(j)) compare(a, j, path);
    json_object_foreach(j, key, value) {
        (void)snprintf(inner, sizeof inner, "%s%s%s", path, path[0] != '\0' ? "." : "", key);
        compare_all(a, value, inner);
    }
    json_array_foreach(j, i, value) {
        (void)snprintf(inner, sizeof inner, "%s.%zu", path, i);
        compare_all(a, value, inner);
    }
}

/* How many numbers of the JSON were asked for. */
static int every_number(const dw_case *kiln, const dw_question *question, int step)
{
    const dw_output output = {DW_FORMAT_JSON, DW_SHOW_METRIC};
    asked a = {.kiln = kiln, .question = question, .step = step};
    char *text = NULL;
    size_t length;
    assert_int_equal(dw_ask(engine, kiln, question, output, NULL, &text, &length), DW_OK);
    json_t *j = json_loads(text, 0, NULL);
    assert_non_null(j);
    compare_all(&a, j, "");
    json_decref(j);
    dw_text_free(text);
    print_message("%s: %d of %d numbers\n", question->name, a.numbers, a.seen);
    return a.numbers;
}

static void every_number_of_an_estimate_is_that_of_its_json(void **state)
{
    (void)state;
    dw_case *kiln = example("juniper-flat", NULL, 0);
    assert_true(every_number(kiln, &(dw_question){.name = "estimate"}, 1) > 80);
    dw_case_destroy(kiln);
}

/* Of a row; of keys with dots in their names; of lists, tables and spreads; without a kiln. */
static void numbers_of_the_other_questions_are_those_of_their_json(void **state)
{
    (void)state;
    dw_case *kiln = example("room-marlpit-cellar", NULL, 0);
    const dw_vary vary = {"damper", "20%,35%"};
    const dw_question row = {.name = "estimate", .vary = &vary, .vary_count = 1, .at_point = 2};
    const kit_options person = {{"ppm", "60", 0}, {"hours", "4", 0}};
    const kit_options gas = {{"at", "1200 degC", 0}, {"co_co2", "0.1", 0}};
    const dw_question exposure = kit_question("exposure", person);
    const dw_question oxides = kit_question("oxides", gas);
    assert_true(every_number(kiln, &row, 9) > 8);
    assert_true(every_number(kiln, &(dw_question){.name = "check"}, 1) > 30);
    assert_true(every_number(kiln, &(dw_question){.name = "room"}, 9) > 15);
    assert_true(every_number(kiln, &(dw_question){.name = "oxides"}, 3) > 10);
    assert_true(every_number(kiln, &(dw_question){.name = "ladder"}, 9) > 10);
    assert_true(every_number(NULL, &exposure, 1) > 50);
    assert_true(every_number(NULL, &oxides, 1) > 20);
    double at_20, at_35;
    const dw_question other = {.name = "estimate", .vary = &vary, .vary_count = 1, .at_point = 1};
    assert_int_equal(dw_ask_number(engine, kiln, &other, "air_ratio", NULL, &at_20, NULL), DW_OK);
    assert_int_equal(dw_ask_number(engine, kiln, &row, "air_ratio", NULL, &at_35, NULL), DW_OK);
    assert_true(at_35 > at_20);
    dw_case_destroy(kiln);
}

static void units_are_si(void **state)
{
    (void)state;
    static const struct {
        const char *question, *key, *unit;
    } rows[] = {{"estimate", "pressure_floor_pa", "Pa"}, {"estimate", "flows.0.mass_kg_s", "kg/s"},
                {"estimate", "air_ratio", "1"},
                {"estimate", "setting.chamber_temperature_k", "K"},
                {"room", "room.co_end_ppm", "ppm"},      {"room", "room.ventilation_m3_s", "m3/s"}};
    dw_case *kiln = example("room-marlpit-cellar", NULL, 0);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const dw_question question = {.name = rows[i].question};
        const char *unit = NULL;
        double value;
        assert_int_equal(dw_ask_number(engine, kiln, &question, rows[i].key, NULL, &value, &unit), DW_OK);
        assert_string_equal(unit, rows[i].unit);
    }
    dw_case_destroy(kiln);
}

static void what_has_no_value_says_why(void **state)
{
    (void)state;
    const dw_setting open[] = {{"damper", "100 %"}};
    dw_case *kiln = example("juniper-flat", open, 1);
    const dw_question estimate = {.name = "estimate"};
    const char *unit = NULL;
    double value = 0.0;
    assert_int_equal(dw_ask_number(engine, kiln, &estimate, "neutral_plane_m", diag, &value, &unit), DW_OK);
    assert_true(isnan(value));
    assert_string_equal(unit, "m");
    assert_int_equal(dw_diag_count_grade(diag, DW_ERROR), 0);
    bool said = false;
    for (size_t i = 0; i < dw_diag_count(diag); i++) {
        const dw_diag *d = dw_diag_get(diag, i);
        if (strcmp(d->code, "no-value") != 0) continue;
        assert_non_null(strstr(d->text, "'neutral_plane_m' has no value at this setting: "));
        said = true;
    }
    assert_true(said);
    dw_case_destroy(kiln);
}

/* Asks for what is refused; diag has one error, which says this. */
static void refused(const dw_case *kiln, const dw_question *question, const char *key, const char *code,
                    const char *says)
{
    const char *unit = NULL;
    double value = 0.0;
    dw_diag_list_clear(diag);
    assert_int_equal(dw_ask_number(engine, kiln, question, key, diag, &value, &unit), DW_ERR_INPUT);
    assert_true(isnan(value));
    assert_string_equal(unit, "");
    assert_int_equal(dw_diag_count_grade(diag, DW_ERROR), 1);
    for (size_t i = 0; i < dw_diag_count(diag); i++) {
        const dw_diag *d = dw_diag_get(diag, i);
        if (d->grade != DW_ERROR) continue;
        assert_string_equal(d->code, code);
        if (strstr(d->text, says) == NULL) fail_msg("'%s' lacks '%s'", d->text, says);
    }
}

static void misspelt_keys_get_the_nearest_one(void **state)
{
    (void)state;
    static const struct {
        const char *key, *code, *says;
    } rows[] = {{"air_ration", "unknown-key", "no number has the key 'air_ration', did you mean 'air_ratio'?"},
                {"flows.0.mas_kg_s", "unknown-key", "did you mean 'flows.0.mass_kg_s'?"},
                {"gas_dry.C0", "unknown-key", "did you mean 'gas_dry.CO'?"},
                /* Of what is no slip of the pen, the key that it is a part of. */
                {"pressure_floor", "unknown-key", "did you mean 'pressure_floor_pa'?"},
                {"probe", "unknown-key", "did you mean 'probe_emf_v'?"},
                {"zzzzzzzz", "unknown-key", "shows all keys"},
                {"", "unknown-key", "shows all keys"},
                {"flows", "unknown-key", "did you mean 'flows.0."},
                {"flows.99.mass_kg_s", "unknown-key", "did you mean 'flows."},
                {"reduction_word", "no-number", "'reduction_word' is a text, not a number"},
                {"solved", "no-number", "is a text"},
                {"flows.0.name", "no-number", "is a text"}};
    dw_case *kiln = example("juniper-flat", NULL, 0);
    const dw_question estimate = {.name = "estimate"};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        refused(kiln, &estimate, rows[i].key, rows[i].code, rows[i].says);
    }
    refused(kiln, &(dw_question){.name = "keys"}, "air_ratio", "unknown-key", "shows all keys");
    dw_case_destroy(kiln);
}

static void a_number_is_of_one_point(void **state)
{
    (void)state;
    dw_case *kiln = example("juniper-flat", NULL, 0);
    const dw_vary vary = {"damper", "20%,30%,40%"};
    dw_question rows = {.name = "estimate", .vary = &vary, .vary_count = 1};
    refused(kiln, &rows, "air_ratio", "one-point", "a range has 3 rows, and a number is of one of them");
    rows.at_point = 4;
    refused(kiln, &rows, "air_ratio", "no-such-point", "no row 4");
    const kit_options range = {{"at", "1200 degC, 1100 degC", 0}, {"co_co2", "0.1", 0}};
    dw_question oxides = kit_question("oxides", range);
    refused(NULL, &oxides, "log10_po2_bar", "one-point", "a range has 2 rows");
    oxides.at_point = 2;
    double value;
    assert_int_equal(dw_ask_number(engine, NULL, &oxides, "temperature_k", NULL, &value, NULL), DW_OK);
    assert_close(value, 1373.15, 1e-12, 0.0);
    dw_case_destroy(kiln);
}

static void what_is_not_solved_has_no_number(void **state)
{
    (void)state;
    const dw_setting settings[] = {{"damper", "0 %"}, {"gas_pressure", "400 kPa"}};
    dw_case *kiln = example("juniper-flat", settings, 2);
    const dw_question estimate = {.name = "estimate"};
    const char *unit = NULL;
    double value = 0.0;
    assert_int_equal(dw_ask_number(engine, kiln, &estimate, "air_ratio", diag, &value, &unit),
                     DW_ERR_NO_CONVERGE);
    assert_true(isnan(value));
    assert_string_equal(unit, "");
    assert_int_equal(dw_diag_count_grade(diag, DW_ERROR), 1);
    assert_string_equal(dw_diag_get(diag, 0)->code, "not-solved");
    dw_case_destroy(kiln);
}

static void wrong_arguments_are_refused(void **state)
{
    (void)state;
    dw_case *kiln = example("juniper-flat", NULL, 0);
    const dw_question estimate = {.name = "estimate"}, working = {.name = "estimate", .working = 1},
                      nameless = {.name = NULL};
    double value = 0.0;
    assert_int_equal(dw_ask_number(NULL, kiln, &estimate, "air_ratio", NULL, &value, NULL), DW_ERR_ARG);
    assert_true(isnan(value));
    value = 0.0;
    assert_int_equal(dw_ask_number(engine, NULL, &estimate, "air_ratio", NULL, &value, NULL), DW_ERR_ARG);
    assert_true(isnan(value));
    assert_int_equal(dw_ask_number(engine, kiln, NULL, "air_ratio", NULL, &value, NULL), DW_ERR_ARG);
    assert_int_equal(dw_ask_number(engine, kiln, &nameless, "air_ratio", NULL, &value, NULL), DW_ERR_ARG);
    assert_int_equal(dw_ask_number(engine, kiln, &estimate, NULL, NULL, &value, NULL), DW_ERR_ARG);
    assert_int_equal(dw_ask_number(engine, kiln, &estimate, "air_ratio", NULL, NULL, NULL), DW_ERR_ARG);
    assert_int_equal(dw_ask_number(engine, kiln, &working, "air_ratio", NULL, &value, NULL), DW_ERR_ARG);
    dw_case_destroy(kiln);
}

int main(void)
{
#define NUMBER_TEST(f) cmocka_unit_test_setup_teardown(f, setup, teardown)
    const struct CMUnitTest tests[] = {
        NUMBER_TEST(every_number_of_an_estimate_is_that_of_its_json),
        NUMBER_TEST(numbers_of_the_other_questions_are_those_of_their_json),
        NUMBER_TEST(units_are_si),
        NUMBER_TEST(what_has_no_value_says_why),
        NUMBER_TEST(misspelt_keys_get_the_nearest_one),
        NUMBER_TEST(a_number_is_of_one_point),
        NUMBER_TEST(what_is_not_solved_has_no_number),
        NUMBER_TEST(wrong_arguments_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

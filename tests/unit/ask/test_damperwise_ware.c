/* Questions about the ware through the installed API: what is answered and what is refused. */

#include <stdlib.h>
#include <string.h>

#include <jansson.h>

#include "check.h"
#include "damperwise.h"
#include "kit.h"
#include "question.h"

static dw_engine *engine;
static char *text;
static size_t length;
static dw_diag_list *diag;

static int setup(void **state)
{
    (void)state;
    text = NULL;
    diag = dw_diag_list_create();
    return diag != NULL && dw_engine_create(NULL, NULL, &engine) == DW_OK ? 0 : -1;
}

static int teardown(void **state)
{
    (void)state;
    dw_text_free(text);
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

static json_t *parsed(void)
{
    json_error_t error;
    json_t *j = json_loads(text, JSON_REJECT_DUPLICATES, &error);
    assert_non_null(j);
    dw_text_free(text);
    text = NULL;
    return j;
}

static const dw_output json = {DW_FORMAT_JSON, DW_SHOW_METRIC};

static dw_status ask(const char *name, const dw_case *kiln, const dw_option *options,
                     dw_output output)
{
    const dw_question question = kit_question(name, options);
    return dw_ask(engine, kiln, &question, output, diag, &text, &length);
}

static dw_status ask_gas(const dw_option *options)
{
    return ask("oxides", NULL, options, json);
}

static dw_status ask_rows(const dw_case *kiln, const dw_vary *vary, size_t count, dw_progress progress)
{
    const dw_question question = {
        .name = "oxides", .vary = vary, .vary_count = count, .progress = progress};
    return dw_ask(engine, kiln, &question, json, diag, &text, &length);
}

static double asked(const dw_option *options, const char *key)
{
    assert_int_equal(ask_gas(options), DW_OK);
    json_t *j = parsed();
    const double value = json_real_value(json_object_get(j, key));
    json_decref(j);
    return value;
}

static void the_four_ways_to_say_oxygen_agree(void **state)
{
    (void)state;
    const double log_po2 =
        asked((kit_options){{"at", "1200 degC", 0}, {"co_co2", "0.1", 0}}, "log10_po2_bar");
    /* -8.978 at CO/CO2 0.1 and 606.9 mV, worked out from NASA-9 outside this program. */
    assert_close(log_po2, -8.978, 0.0, 6e-4);
    assert_close(asked((kit_options){{"at", "1200 degC", 0}, {"volts", "606.9 mV", 0},
                                     {"sensor", "zirconia", 0}},
                       "log10_po2_bar"),
                 -8.978, 0.0, 1.5e-3);
    assert_close(asked((kit_options){{"at", "2192 degF", 0}, {"volts", "0.6069", 0},
                                     {"sensor", "zirconia", 0}}, "co_co2_ratio"),
                 0.1, 3e-3, 0.0);
    assert_close(asked((kit_options){{"at", "1200 degC", 0}, {"h2_h2o", "0.1", 0}},
     "log10_po2_bar"),
                 -9.765, 0.0, 6e-4);
    assert_close(asked((kit_options){{"at", "1200 degC", 0}, {"log_po2", "-8.978", 0}},
     "probe_emf_v"),
                 0.6069, 0.0, 6e-5);
    assert_close(asked((kit_options){{"at", "1473.15 K", 0}, {"log_po2", "-8.978", 0}},
                       "temperature_k"),
                 1473.15, 1e-12, 0.0);
}

/* Methane at an air ratio of 0.9 shows 763.1 mV at 1000 degC and 668.1 mV at 1200 degC (kiln-gas-checks, in
 * tests/reference/ladder.csv): what a heated sensor reads is carried to the ware by the mixture. */
static void a_heated_sensor_reads_at_its_own_temperature(void **state)
{
    (void)state;
    const kit_options heated = {{"at", "1200 degC", 0}, {"volts", "763.1 mV", 0},
                                {"sensor", "heated", 0}, {"sensor_temperature", "1000 degC", 0},
                                {"fuel", "methane", 0}};
    const kit_options probe = {{"at", "1200 degC", 0}, {"volts", "668.1 mV", 0},
                               {"sensor", "zirconia", 0}, {"fuel", "methane", 0}};
    assert_close(asked(heated, "probe_emf_v"), 0.6681, 0.0, 2e-4);
    assert_close(asked(heated, "equivalence_ratio"), 1.0 / 0.9, 0.0, 1e-3);
    assert_close(asked(probe, "equivalence_ratio"), 1.0 / 0.9, 0.0, 1e-3);
    assert_close(asked(heated, "sensor_temperature_k"), 1273.15, 0.0, 1e-9);
    assert_close(asked(heated, "log10_po2_bar"), asked(probe, "log10_po2_bar"), 0.0, 4e-3);
}

/* The words of a gas without a kiln are those of the bands, lean, even and rich. */
static void the_gas_is_named_without_a_kiln(void **state)
{
    (void)state;
    static const struct {
        const char *volts, *found, *word;
    } row[] = {{"-100 mV", "more oxygen than air", NULL}, {"0 V", "air", "oxidizing"},
               {"30 mV", "burnt gas", "oxidizing"},       {"300 mV", "burnt gas", "neutral"},
               {"550 mV", "burnt gas", "light"},          {"610 mV", "burnt gas", "medium"},
               {"700 mV", "burnt gas", "heavy"},          {"1.5 V", "too rich", "heavy"}};
    for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
        const kit_options request = {{"at", "1240 degC", 0}, {"volts", row[i].volts, 0},
                                     {"sensor", "zirconia", 0}};
        assert_int_equal(ask_gas(request), DW_OK);
        json_t *j = parsed();
        const json_t *gas = json_object_get(j, "gas");
        assert_string_equal(json_string_value(json_object_get(gas, "found")), row[i].found);
        const char *word = json_string_value(json_object_get(gas, "word"));
        assert_true((word == NULL) == (row[i].word == NULL));
        if (word != NULL) assert_string_equal(word, row[i].word);
        json_decref(j);
    }
    const kit_options lean = {{"at", "1240 degC", 0}, {"volts", "31.4 mV", 0},
                              {"sensor", "zirconia", 0}};
    const dw_output plain = {DW_FORMAT_TEXT, DW_SHOW_METRIC};
    assert_int_equal(ask("oxides", NULL, lean, plain), DW_OK);
    assert_non_null(strstr(text, "Oxidizing: O2 8.0 % of the gas"));
}

static void a_range_gives_a_row_each(void **state)
{
    (void)state;
    const kit_options request = {{"at", "1250 degC..750 degC:100 degC", 0}, {"log_po2", "-0.68", 0},
                                 {"glaze", "celadon", 0}};
    assert_int_equal(ask_gas(request), DW_OK);
    json_t *j = parsed();
    const json_t *rows = json_object_get(j, "rows");
    assert_int_equal(json_array_size(rows), 6);
    assert_true(json_is_real(json_object_get(json_array_get(rows, 0), "kress_ferrous")));
    assert_true(json_is_null(json_object_get(json_array_get(rows, 1), "kress_ferrous")));
    assert_string_equal(json_string_value(json_object_get(json_array_get(rows, 1), "copper")),
                        "red copper oxide");
    json_decref(j);
}

static void what_is_no_question_is_refused(void **state)
{
    (void)state;
    static const struct {
        kit_options options;
        const char *part;
    } wrong[] = {
        {{{"at", NULL, 0}, {"log_po2", "-8", 0}}, "temperature"},
        {{{"at", "1200 degC", 0}}, "one of"},
        {{{"at", "1200 degC", 0}, {"log_po2", "-8", 0}, {"volts", "0.6", 0}}, "one of"},
        {{{"at", "1200", 0}, {"log_po2", "-8", 0}}, "'1200'"},
        {{{"at", "400 degC", 0}, {"log_po2", "-8", 0}}, "'400 degC'"},
        {{{"at", "1200 degC", 0}, {"log_po2", "-41", 0}}, "-40"},
        {{{"at", "1200 degC", 0}, {"log_po2", "low", 0}}, "low"},
        {{{"at", "1200 degC", 0}, {"co_co2", "0", 0}}, "1e-09"},
        {{{"at", "1200 degC", 0}, {"volts", "3 V", 0}, {"sensor", "zirconia", 0}}, "1.6"},
        {{{"at", "1200 degC", 0}, {"volts", "3 m", 0}, {"sensor", "zirconia", 0}}, "3 m"},
        {{{"at", "1200 degC", 0}, {"volts", "0.6", 0}}, "--sensor zirconia"},
        {{{"at", "1200 degC", 0}, {"volts", "0.6", 0}, {"sensor", "zirkonia", 0}},
         "did you mean 'zirconia'"},
        {{{"at", "1200 degC", 0}, {"volts", "0.6", 0}, {"sensor", "wideband", 0}},
         "zirconia, heated"},
        {{{"at", "1200 degC", 0}, {"volts", "0.6", 0}, {"sensor", "heated", 0}},
         "--sensor-temperature"},
        {{{"at", "1200 degC", 0}, {"volts", "0.6", 0}, {"sensor_temperature", "700 degC", 0}},
         "--sensor zirconia"},
        {{{"at", "1200 degC", 0}, {"volts", "0.6", 0}, {"sensor", "zirconia", 0},
          {"sensor_temperature", "700 degC", 0}}, "as hot as the kiln"},
        {{{"at", "1200 degC", 0}, {"volts", "0.6", 0}, {"sensor", "heated", 0},
          {"sensor_temperature", "70 degC", 0}}, "70 degC"},
        {{{"at", "1200 degC", 0}, {"volts", "0.6", 0}, {"sensor", "heated", 0},
          {"sensor_temperature", "700", 0}}, "700"},
        {{{"at", "1200 degC", 0}, {"volts", "1.5", 0}, {"sensor", "heated", 0},
          {"sensor_temperature", "700 degC", 0}}, "richer"},
        {{{"at", "1200 degC", 0}, {"log_po2", "-8", 0}, {"sensor", "zirconia", 0}}, "--volts"},
        {{{"at", "1200 degC", 0}, {"co_co2", "0.1", 0}, {"sensor_temperature", "700 degC", 0}},
         "--volts"},
        {{{"at", "1200 degC", 0}, {"log_po2", "-8", 0}, {"fuel", "propan", 0}},
         "did you mean 'propane'"},
        {{{"at", "1200 degC", 0}, {"log_po2", "-8", 0}, {"fuel", "coal", 0}}, "natural gas"},
        {{{"at", "1200 degC", 0}, {"h2_h2o", "-0.1", 0}}, "-0.1"},
        {{{"at", "1200 degC", 0}, {"log_po2", "-8", 0}, {"glaze", "shiny", 0}}, "shiny"},
        {{{"at", "1200 degC", 0}, {"log_p02", "-8", 0}}, "did you mean 'log_po2'"},
        {{{"at", "1200 degC", 0}, {"hours", "3", 0}}, "allowed: glaze, at, log_po2"},
    };
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        dw_diag_list *list = dw_diag_list_create();
        const dw_question question = kit_question("oxides", wrong[i].options);
        assert_int_equal(dw_ask(engine, NULL, &question, json, list, &text, &length), DW_ERR_INPUT);
        assert_null(text);
        assert_int_equal(dw_diag_count_grade(list, DW_ERROR), 1);
        if (strstr(dw_diag_get(list, 0)->text, wrong[i].part) == NULL) {
            fail_msg("case %zu: '%s' lacks '%s'", i, dw_diag_get(list, 0)->text, wrong[i].part);
        }
        dw_diag_list_destroy(list);
    }
    const kit_options good = {{"at", "1200 degC", 0}, {"log_po2", "-8", 0}};
    const dw_question question = kit_question("oxides", good);
    assert_int_equal(dw_ask(NULL, NULL, &question, json, diag, &text, &length), DW_ERR_ARG);
    assert_int_equal(dw_ask(engine, NULL, NULL, json, diag, &text, &length), DW_ERR_ARG);
    assert_int_equal(dw_ask(engine, NULL, &question, json, diag, NULL, &length), DW_ERR_ARG);
    assert_int_equal(dw_ask(engine, NULL, &question, json, diag, &text, NULL), DW_ERR_ARG);
}

static void an_unknown_oxide_is_said_and_no_number_given(void **state)
{
    (void)state;
    const kit_options request = {{"at", "1250 degC", 0}, {"log_po2", "-9", 0},
                                 {"glaze", "{SiO2: 60 %, B2O3: 10 %, CaO: 28 %, FeO: 2 %}", 0}};
    assert_int_equal(ask_gas(request), DW_OK);
    assert_int_equal(dw_diag_count_grade(diag, DW_WARNING), 1);
    json_t *j = parsed();
    const json_t *g = json_array_get(json_object_get(j, "glazes"), 0);
    assert_true(json_is_null(json_object_get(g, "kress_ferrous")));
    assert_non_null(strstr(json_string_value(json_object_get(g, "reason")), "B2O3"));
    json_decref(j);
}

static void a_kiln_is_asked_at_one_setting_and_along_two(void **state)
{
    (void)state;
    dw_case *kiln = example("oxides-rushlight-hill", NULL, 0);
    assert_int_equal(ask("oxides", kiln, NULL, json), DW_OK);
    assert_int_equal(strlen(text), length);
    json_t *j = parsed();
    const double log_po2 = json_real_value(json_object_get(j, "log10_po2_bar"));
    assert_int_equal(json_array_size(json_object_get(j, "glazes")), 3);
    json_decref(j);
    const dw_vary vary[] = {{"damper", "30%,40%"},
                            {"temperature", "1100 degC,1180 degC,1265 degC"}};
    assert_int_equal(ask_rows(kiln, vary, 2, NULL), DW_OK);
    j = parsed();
    const json_t *rows = json_object_get(j, "rows");
    assert_int_equal(json_array_size(rows), 6);
    /* The last axis moves fastest: row 6 is the description itself. */
    const json_t *row = json_array_get(rows, 5);
    assert_close(json_real_value(json_object_get(row, "log10_po2_bar")), log_po2, 0.0, 1e-9);
    row = json_array_get(rows, 2);
    assert_close(json_real_value(json_object_get(row, "damper")), 0.3, 1e-12, 0.0);
    assert_close(json_real_value(json_object_get(row, "temperature_k")), 1538.15, 1e-12, 0.0);
    json_decref(j);
    const dw_vary same[] = {{"damper", "30%"}, {"damper", "40%"}};
    assert_int_equal(ask_rows(kiln, same, 2, NULL), DW_ERR_INPUT);
    assert_int_equal(ask_rows(kiln, same, 3, NULL), DW_ERR_ARG);
    assert_null(text);
    dw_case_destroy(kiln);
}

static int stop_at_two(void *user, size_t done, size_t total)
{
    (void)user;
    (void)total;
    return done == 2;
}

static void a_sweep_can_be_stopped(void **state)
{
    (void)state;
    dw_case *kiln = example("oxides-rushlight-hill", NULL, 0);
    const dw_vary vary = {"damper", "30..60%:5%"};
    assert_int_equal(ask_rows(kiln, &vary, 1, stop_at_two), DW_OK);
    json_t *j = parsed();
    assert_int_equal(json_array_size(json_object_get(j, "rows")), 2);
    json_decref(j);
    assert_int_equal(dw_diag_count_grade(diag, DW_WARNING), 1);
    dw_case_destroy(kiln);
}

static void what_is_not_solved_has_no_numbers(void **state)
{
    (void)state;
    const dw_setting rich[] = {{"openings.ports round the burners.open", "0 %"},
                               {"gas_pressure", "20 kPa"}, {"damper", "2 %"}};
    dw_case *kiln = example("oxides-rushlight-hill", rich, 3);
    assert_int_equal(ask("oxides", kiln, NULL, json),
                     DW_ERR_NO_CONVERGE);
    json_t *j = parsed();
    assert_null(json_object_get(j, "metals"));
    assert_true(json_is_string(json_object_get(j, "reason")));
    json_decref(j);
    const dw_vary vary = {"damper", "2%,3%"};
    assert_int_equal(ask_rows(kiln, &vary, 1, NULL), DW_ERR_NO_CONVERGE);
    dw_case_destroy(kiln);
}

static void the_ladder_is_written_or_refused(void **state)
{
    (void)state;
    dw_case *kiln = example("oxides-rushlight-hill", NULL, 0);
    const dw_output html = {DW_FORMAT_HTML, DW_SHOW_METRIC};
    assert_int_equal(ask("ladder", kiln, NULL, html), DW_OK);
    assert_non_null(strstr(text, "<svg"));
    assert_int_equal(strlen(text), length);
    dw_text_free(text);
    dw_case_destroy(kiln);
    const dw_setting cold = {"temperature", "430 degC"};
    kiln = example("oxides-rushlight-hill", &cold, 1);
    assert_int_equal(ask("ladder", kiln, NULL, json), DW_ERR_NO_CONVERGE);
    json_t *j = parsed();
    assert_true(json_is_null(json_object_get(j, "rungs")));
    json_decref(j);
    assert_int_equal(ask("ladder", NULL, NULL, json), DW_ERR_ARG);
    dw_case_destroy(kiln);
}

int main(void)
{
#define WARE_TEST(f) cmocka_unit_test_setup_teardown(f, setup, teardown)
    const struct CMUnitTest tests[] = {
        WARE_TEST(the_four_ways_to_say_oxygen_agree),
        WARE_TEST(a_heated_sensor_reads_at_its_own_temperature),
        WARE_TEST(the_gas_is_named_without_a_kiln),
        WARE_TEST(a_range_gives_a_row_each),
        WARE_TEST(what_is_no_question_is_refused),
        WARE_TEST(an_unknown_oxide_is_said_and_no_number_given),
        WARE_TEST(a_kiln_is_asked_at_one_setting_and_along_two),
        WARE_TEST(a_sweep_can_be_stopped),
        WARE_TEST(what_is_not_solved_has_no_numbers),
        WARE_TEST(the_ladder_is_written_or_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

/* The library through its public header: what it answers, what it hands out, what it refuses. */

#include <stdlib.h>
#include <string.h>

#include <jansson.h>

#include "check.h"
#include "damperwise.h"

static dw_engine *engine;
static dw_case *kiln;
static char *text;
static size_t length;

static const dw_output as_text = {DW_FORMAT_TEXT, DW_SHOW_METRIC};
static const dw_output as_json = {DW_FORMAT_JSON, DW_SHOW_METRIC};
static const dw_output as_csv = {DW_FORMAT_CSV, DW_SHOW_METRIC};

static const char description[] =
    "damperwise: 1\n"
    "kiln:\n"
    "  name: test kiln\n"
    "  fuel: propane\n"
    "  chamber: {width: 0.83 m, depth: 0.91 m, height: 1.07 m}\n"
    "  burners:\n"
    "    - {name: left, kind: inspirating, count: 2, height: 8 cm, jet: {diameter: 2.1 mm},\n"
    "       throat_diameter: 36 mm}\n"
    "  openings:\n"
    "    - {name: ports, kind: hole, area: 61 cm2, height: 9 cm}\n"
    "  flues:\n"
    "    - {name: back, area: 170 cm2, height: 7 cm, damper: {kind: slide, open: 55 %}}\n"
    "  stack: {height: 4.1 m, area: 430 cm2}\n"
    "operating: {gas_pressure: 17 kPa, chamber_temperature: 1150 degC}\n";

static int setup(void **state)
{
    (void)state;
    if (dw_engine_create(NULL, NULL, &engine) != DW_OK) return -1;
    dw_diag_list *diag = dw_diag_list_create();
    const dw_status status = dw_case_read(engine, "test.yaml", description, strlen(description),
                                          NULL, 0, diag, &kiln);
    for (size_t i = 0; i < dw_diag_count(diag); ++i) {
        print_error("%s\n", dw_diag_get(diag, i)->text);
    }
    dw_diag_list_destroy(diag);
    return status == DW_OK ? 0 : -1;
}

static int teardown(void **state)
{
    (void)state;
    dw_case_destroy(kiln);
    dw_engine_destroy(engine);
    return 0;
}

static json_t *taken_json(void)
{
    assert_int_equal(strlen(text), length);
    json_t *j = json_loads(text, JSON_REJECT_DUPLICATES, NULL);
    assert_non_null(j);
    dw_text_free(text);
    text = NULL;
    return j;
}

static dw_status ask(const char *name, const dw_case *of, dw_output output, dw_diag_list *diag)
{
    const dw_question question = {.name = name};
    return dw_ask(engine, of, &question, output, diag, &text, &length);
}

static dw_status sweep_of(const dw_vary *vary, size_t count, dw_output output, dw_diag_list *diag)
{
    const dw_question question = {.name = "estimate", .vary = vary, .vary_count = count};
    return dw_ask(engine, kiln, &question, output, diag, &text, &length);
}

static double number(const json_t *j, const char *key)
{
    assert_true(json_is_number(json_object_get(j, key)));
    return json_number_value(json_object_get(j, key));
}

static void an_estimate_is_the_same_in_every_format_and_twice(void **state)
{
    (void)state;
    assert_int_equal(ask("estimate", kiln, as_json, NULL), DW_OK);
    char *first = text;
    assert_int_equal(ask("estimate", kiln, as_json, NULL), DW_OK);
    assert_string_equal(first, text);
    dw_text_free(first);
    json_t *j = taken_json();
    assert_close(number(j, "air_ratio") * number(j, "equivalence_ratio"), 1.0, 1e-11, 0.0);
    assert_true(fabs(number(json_object_get(j, "closure"), "mass")) < 1e-10);

    char expected[40];
    (void)snprintf(expected, sizeof expected, "\r\nair_ratio,%.12g,", number(j, "air_ratio"));
    json_decref(j);
    assert_int_equal(ask("estimate", kiln, as_csv, NULL), DW_OK);
    assert_non_null(strstr(text, expected));
    dw_text_free(text);
}

static void findings_become_diagnostics(void **state)
{
    (void)state;
    dw_diag_list *diag = dw_diag_list_create();
    assert_int_equal(ask("estimate", kiln, as_text, diag), DW_OK);
    int spills = 0;
    for (size_t i = 0; i < dw_diag_count(diag); ++i) {
        const dw_diag *d = dw_diag_get(diag, i);
        /* Burnt gas at this setting: a note, not a hazard. */
        spills += strcmp(d->code, "spill-burnt") == 0 && d->grade == DW_NOTE;
    }
    assert_int_equal(spills, 1);
    dw_diag_list_destroy(diag);
    dw_text_free(text);
}

static void a_sweep_point_is_the_estimate_there(void **state)
{
    (void)state;
    const dw_vary vary[] = {{"damper", "40%,55%"}, {"temperature", "1000..1150:50 degC"}};
    assert_int_equal(sweep_of(vary, 2, as_json, NULL), DW_OK);
    json_t *sweep = taken_json();
    const json_t *rows = json_object_get(sweep, "rows");
    assert_int_equal(json_array_size(rows), 8);
    const json_t *last = json_array_get(rows, 7);
    assert_close(number(last, "damper"), 0.55, 1e-12, 0.0);
    assert_close(number(last, "temperature_k"), 1423.15, 1e-12, 0.0);
    assert_close(number(json_array_get(rows, 4), "temperature_k"), 1273.15, 1e-12, 0.0);
    assert_int_equal(ask("estimate", kiln, as_json, NULL), DW_OK);
    json_t *point = taken_json();
    assert_close(number(last, "equivalence_ratio"), number(point, "equivalence_ratio"), 0.0, 0.0);
    assert_close(number(last, "spill_kg_s"), number(point, "spill_kg_s"), 0.0, 0.0);
    json_decref(point);
    json_decref(sweep);
}

static int stop_after_three(void *user, size_t done, size_t total)
{
    size_t *calls = user;
    assert_int_equal(total, 21);
    assert_int_equal(done, ++*calls);
    return done == 3;
}

static void a_sweep_can_be_stopped_and_keeps_its_points(void **state)
{
    (void)state;
    const dw_vary vary = {"damper", "0..100%:5%"};
    size_t calls = 0;
    dw_diag_list *diag = dw_diag_list_create();
    const dw_question question = {.name = "estimate", .vary = &vary, .vary_count = 1,
                                  .progress = stop_after_three, .user = &calls};
    assert_int_equal(dw_ask(engine, kiln, &question, as_json, diag, &text, &length), DW_OK);
    assert_int_equal(calls, 3);
    json_t *j = taken_json();
    assert_int_equal(json_array_size(json_object_get(j, "rows")), 3);
    json_decref(j);
    /* That it was stopped, and that a nearly shut damper is outside its formula. */
    assert_int_equal(dw_diag_count_grade(diag, DW_WARNING), 2);
    dw_diag_list_destroy(diag);
}

typedef struct catcher {
    char *text;
    size_t length, pieces, allowed;
} catcher;

static int catch_piece(void *user, const char *piece, size_t piece_length)
{
    catcher *c = user;
    assert_true(piece_length > 0);
    c->text = realloc(c->text, c->length + piece_length + 1);
    assert_non_null(c->text);
    memcpy(c->text + c->length, piece, piece_length);
    c->length += piece_length;
    c->text[c->length] = '\0';
    return ++c->pieces > c->allowed;
}

static void a_sweep_in_pieces_is_the_sweep(void **state)
{
    (void)state;
    const dw_vary vary = {"damper", "10..100%:0.1%"};
    const dw_output outputs[] = {as_text, as_json, as_csv};
    for (size_t i = 0; i < 3; ++i) {
        catcher c = {.allowed = 1000};
        dw_question question = {.name = "estimate", .vary = &vary, .vary_count = 1,
                                .sink = {catch_piece, &c}};
        text = (char *)&c;
        length = 7;
        assert_int_equal(dw_ask(engine, kiln, &question, outputs[i], NULL, &text, &length), DW_OK);
        assert_null(text);
        assert_int_equal(length, 0);
        assert_int_equal(sweep_of(&vary, 1, outputs[i], NULL), DW_OK);
        assert_int_equal(c.length, length);
        assert_memory_equal(c.text, text, length);
        /* Rows that flow come in several pieces; a text is laid out as a whole. */
        assert_true(i == 0 ? c.pieces == 1 : c.pieces > 2);
        dw_text_free(text);
        free(c.text);
        catcher full = {.allowed = 0};
        question.sink.user = &full;
        assert_int_equal(dw_ask(engine, kiln, &question, outputs[i], NULL, NULL, NULL), DW_ERR_IO);
        assert_int_equal(full.pieces, 1);
        free(full.text);
    }
    const dw_question nowhere = {.name = "estimate", .vary = &vary, .vary_count = 1};
    assert_int_equal(dw_ask(engine, kiln, &nowhere, as_csv, NULL, NULL, NULL), DW_ERR_ARG);
}

static void assert_sweep_refused(const char *path, const char *range, const char *part)
{
    const dw_vary vary = {path, range};
    dw_diag_list *diag = dw_diag_list_create();
    text = (char *)diag;
    length = 7;
    assert_int_equal(sweep_of(&vary, 1, as_text, diag), DW_ERR_INPUT);
    assert_null(text);
    assert_int_equal(length, 0);
    assert_true(dw_diag_count_grade(diag, DW_ERROR) >= 1);
    const char *said = dw_diag_get(diag, 0)->text;
    if (strstr(said, part) == NULL) print_error("'%s' lacks '%s'\n", said, part);
    assert_non_null(strstr(said, part));
    dw_diag_list_destroy(diag);
}

static void what_cannot_be_swept_is_said(void **state)
{
    (void)state;
    assert_sweep_refused("damper", "0..110%:10%", "out of range");
    assert_sweep_refused("damper", "0..100%", "step");
    assert_sweep_refused("flues.front.damper.open", "0..100%:10%", "front");
    const dw_vary twice[] = {{"damper", "0..100%:50%"}, {"flues.back.damper.open", "0..100%:50%"}};
    dw_diag_list *diag = dw_diag_list_create();
    assert_int_equal(sweep_of(twice, 2, as_text, diag), DW_ERR_INPUT);
    assert_string_equal(dw_diag_get(diag, 0)->code, "same-quantity");
    dw_diag_list_clear(diag);
    const dw_vary many[] = {{"damper", "0..100%:0.01%"}, {"gas_pressure", "1..20000:1 Pa"}};
    assert_int_equal(sweep_of(many, 2, as_text, diag), DW_ERR_INPUT);
    assert_string_equal(dw_diag_get(diag, 0)->code, "too-many-points");
    dw_diag_list_destroy(diag);
}

static void settings_change_the_kiln_that_is_read(void **state)
{
    (void)state;
    const dw_setting settings[] = {{"damper", "40 %"}, {"operating.gas_pressure", "11 kPa"}};
    dw_case *other = NULL;
    assert_int_equal(dw_case_read(engine, "test.yaml", description, strlen(description), settings,
                                  2, NULL, &other), DW_OK);
    assert_int_equal(ask("check", other, as_json, NULL), DW_OK);
    json_t *j = taken_json();
    const json_t *inputs = json_object_get(j, "inputs");
    assert_close(number(inputs, "kiln.flues.back.damper.open"), 0.4, 1e-12, 0.0);
    assert_close(number(inputs, "operating.gas_pressure_pa"), 11000.0, 1e-12, 0.0);
    json_decref(j);
    dw_case_destroy(other);
}

static void wrong_arguments_and_input_are_refused(void **state)
{
    (void)state;
    dw_case *none = (dw_case *)description;
    assert_int_equal(dw_case_read(engine, "x", "a: [", 4, NULL, 0, NULL, &none), DW_ERR_INPUT);
    assert_null(none);
    assert_int_equal(dw_case_read(NULL, "x", "a", 1, NULL, 0, NULL, &none), DW_ERR_ARG);
    assert_int_equal(dw_case_read(engine, "x", "a", 1, NULL, 2, NULL, &none), DW_ERR_ARG);
    assert_int_equal(ask("estimate", NULL, as_text, NULL), DW_ERR_ARG);
    const dw_question estimate = {.name = "estimate"};
    assert_int_equal(dw_ask(engine, kiln, &estimate, as_text, NULL, NULL, &length), DW_ERR_ARG);
    assert_int_equal(dw_ask(engine, kiln, &estimate, as_text, NULL, &text, NULL), DW_ERR_ARG);
    assert_int_equal(dw_ask(NULL, kiln, &estimate, as_text, NULL, &text, &length), DW_ERR_ARG);
    assert_int_equal(dw_ask(engine, kiln, NULL, as_text, NULL, &text, &length), DW_ERR_ARG);
    assert_int_equal(ask(NULL, kiln, as_text, NULL), DW_ERR_ARG);
    const dw_vary vary = {"damper", NULL};
    assert_int_equal(sweep_of(&vary, 1, as_text, NULL), DW_ERR_ARG);
    assert_int_equal(sweep_of(&vary, 3, as_text, NULL), DW_ERR_ARG);
    assert_int_equal(sweep_of(NULL, 1, as_text, NULL), DW_ERR_ARG);
    const dw_question no_option = {.name = "why", .option_count = 1};
    assert_int_equal(dw_ask(engine, kiln, &no_option, as_text, NULL, &text, &length), DW_ERR_ARG);
    const dw_option nameless = {NULL, "x", 0};
    const dw_question no_name = {.name = "why", .option = &nameless, .option_count = 1};
    assert_int_equal(dw_ask(engine, kiln, &no_name, as_text, NULL, &text, &length), DW_ERR_ARG);
    const dw_output odd = {(dw_format)17, DW_SHOW_METRIC};
    assert_int_equal(ask("estimate", kiln, odd, NULL), DW_ERR_ARG);
    assert_null(text);
    const dw_vary good = {"damper", "20%,30%"};
    assert_int_equal(sweep_of(&good, 1, odd, NULL), DW_ERR_ARG);
    assert_null(text);
    dw_engine *missing = (dw_engine *)description;
    assert_true(dw_engine_create("/no/such/directory", NULL, &missing) != DW_OK);
    assert_null(missing);
    dw_text_free(NULL);
    dw_case_destroy(NULL);
    dw_engine_destroy(NULL);
}

static void keys_can_be_listed_without_a_kiln(void **state)
{
    (void)state;
    assert_int_equal(ask("keys", NULL, as_csv, NULL), DW_OK);
    assert_non_null(strstr(text, "path,expected,need,default,help\r\n"));
    dw_text_free(text);
    assert_int_equal(ask("keys", NULL, as_text, NULL), DW_OK);
    assert_non_null(strstr(text, "kiln.model.unmixedness"));
    /* Nor does a kiln change them. */
    char *without = text;
    assert_int_equal(ask("keys", kiln, as_text, NULL), DW_OK);
    assert_string_equal(text, without);
    dw_text_free(text);
    dw_text_free(without);
    const dw_question keys = {.name = "keys"};
    assert_int_equal(dw_ask(engine, NULL, &keys, as_text, NULL, NULL, &length), DW_ERR_ARG);
    assert_true(strlen(dw_version()) >= 5);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_estimate_is_the_same_in_every_format_and_twice),
        cmocka_unit_test(findings_become_diagnostics),
        cmocka_unit_test(a_sweep_point_is_the_estimate_there),
        cmocka_unit_test(a_sweep_in_pieces_is_the_sweep),
        cmocka_unit_test(a_sweep_can_be_stopped_and_keeps_its_points),
        cmocka_unit_test(what_cannot_be_swept_is_said),
        cmocka_unit_test(settings_change_the_kiln_that_is_read),
        cmocka_unit_test(wrong_arguments_and_input_are_refused),
        cmocka_unit_test(keys_can_be_listed_without_a_kiln),
    };
    return cmocka_run_group_tests(tests, setup, teardown);
}

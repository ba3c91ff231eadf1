/* The room, people and lighting through the library: what people ask, and what every output with
 * a number of carbon monoxide must say. */
#include "check.h"

#include <ctype.h>
#include <jansson.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "damperwise.h"
#include "kit.h"
#include "question.h"

static dw_engine *engine;

static int create_engine(void **state)
{
    (void)state;
    return dw_engine_create(NULL, NULL, &engine) == DW_OK ? 0 : -1;
}

static int destroy_engine(void **state)
{
    (void)state;
    dw_engine_destroy(engine);
    return 0;
}

static dw_case *read_case(const char *path, const dw_setting *settings, size_t count)
{
    size_t length;
    char *text = kit_read_file(path, &length);
    dw_case *kiln = NULL;
    const dw_status status =
        dw_case_read(engine, path, text, length, settings, count, NULL, &kiln);
    free(text);
    if (status != DW_OK) fail_msg("%s: %s", path, dw_status_text(status));
    return kiln;
}

static json_t *parsed(char *text, size_t length)
{
    json_error_t error;
    assert_non_null(text);
    json_t *root = json_loadb(text, length, 0, &error);
    dw_text_free(text);
    if (root == NULL) fail_msg("%s", error.text);
    return root;
}

/* A value by a path with points; ends the test when it is not there. */
static const json_t *at(const json_t *root, const char *path)
{
    char step[80];
    while (*path != '\0') {
        const size_t length = strcspn(path, ".");
        assert_true(length < sizeof step);
        memcpy(step, path, length);
        step[length] = '\0';
        root = json_object_get(root, step);
        if (root == NULL) fail_msg("no '%s'", step);
        path += length + (path[length] == '.');
    }
    return root;
}

static double number_at(const json_t *root, const char *path)
{
    return json_number_value(at(root, path));
}

static const char *text_at(const json_t *root, const char *path)
{
    return json_string_value(at(root, path));
}

static dw_status ask(const char *name, const dw_case *kiln, const dw_option *options,
                     dw_output output, char **text, size_t *length)
{
    const dw_question question = kit_question(name, options);
    return dw_ask(engine, kiln, &question, output, NULL, text, length);
}

static json_t *room_of(const char *path, const dw_setting *settings, size_t count)
{
    dw_case *kiln = read_case(path, settings, count);
    char *text = NULL;
    size_t length = 0;
    const dw_output json = {DW_FORMAT_JSON, DW_SHOW_METRIC};
    assert_int_equal(ask("room", kiln, NULL, json, &text, &length), DW_OK);
    dw_case_destroy(kiln);
    return parsed(text, length);
}

static json_t *exposure_of(const dw_option *options)
{
    char *text = NULL;
    size_t length = 0;
    const dw_output json = {DW_FORMAT_JSON, DW_SHOW_METRIC};
    assert_int_equal(ask("exposure", NULL, options, json, &text, &length), DW_OK);
    return parsed(text, length);
}

/* ---- questions ---------------------------------------------------------------------------- */

/* A helper with a headache after a firing of 16 hours; the alarm had sounded. */
static void headache_after_a_firing(void **state)
{
    (void)state;
    size_t length;
    char *csv = kit_read_file("examples/helper-headache.csv", &length);
    const kit_options options = {{"activity", "light", 0},
                                 {"symptoms", "yes", 0},
                                 {"series_name", "examples/helper-headache.csv", 0},
                                 {"series", csv, length}};
    json_t *root = exposure_of(options);
    assert_string_equal(text_at(root, "exposure.verdict"), "dangerous");
    assert_close(number_at(root, "exposure.duration_s"), 16.0 * 3600.0, 1e-12, 0.0);
    /* Headache begins at 10 %: it does, and for nobody is it a diagnosis. */
    assert_true(number_at(root, "people.cohb_peak") > 0.10);
    assert_true(number_at(root, "people.cohb_peak") < 0.25);
    const json_t *do_first = at(root, "do_first");
    assert_true(json_array_size(do_first) >= 4);
    assert_non_null(strstr(json_string_value(json_array_get(do_first, 0)), "fresh air"));
    assert_non_null(strstr(json_string_value(json_array_get(do_first, 1)), "EMERGENCY"));
    assert_non_null(strstr(json_string_value(json_array_get(do_first, 2)), "MEDICAL"));
    json_decref(root);

    /* In the text it comes first of all. */
    char *text = NULL;
    size_t size = 0;
    const dw_output plain = {DW_FORMAT_TEXT, DW_SHOW_METRIC};
    assert_int_equal(ask("exposure", NULL, options, plain, &text, &size), DW_OK);
    const char *out = strstr(text, "EVERYBODY OUT"), *verdict = strstr(text, "Verdict");
    const char *ppm = strstr(text, "ppm"), *help = strstr(text, "MEDICAL HELP");
    assert_true(out != NULL && out - text < 30);
    assert_true(help != NULL && verdict != NULL && ppm != NULL && help < verdict && help < ppm);
    assert_non_null(strstr(text, "not a diagnosis"));
    dw_text_free(text);
    free(csv);
}

/* Low levels with symptoms are not called low. */
static void symptoms_count_for_more(void **state)
{
    (void)state;
    kit_options options = {{"ppm", "1", 0}, {"hours", "2", 0}, {"symptoms", "no", 0}};
    json_t *root = exposure_of(options);
    assert_string_equal(text_at(root, "exposure.verdict"), "low");
    json_decref(root);
    options[2].value = "yes";
    root = exposure_of(options);
    assert_string_equal(text_at(root, "exposure.verdict"), "raised");
    json_decref(root);
}

/* How much carbon monoxide does a kiln in a basement give off? */
static void kiln_in_a_basement(void **state)
{
    (void)state;
    json_t *root = room_of("examples/room-marlpit-cellar.yaml", NULL, 0);
    assert_string_equal(text_at(root, "room.verdict"), "dangerous");
    /* Spill times content, less the hood; the balance of the room; the spread on both sides. */
    double co = 0.0;
    size_t i;
    json_t *place;
    json_array_foreach(at(root, "places"), i, place) co += number_at(place, "co_m3_s");
    assert_true(json_array_size(at(root, "places")) >= 2);
    assert_close(number_at(root, "room.co_leaves_kiln_m3_s"), co, 1e-9, 0.0);
    assert_close(number_at(root, "room.co_m3_s"), 0.40 * co, 1e-9, 0.0);
    assert_close(number_at(root, "room.co_steady_ppm"),
                 1.0 + 1e6 * number_at(root, "room.co_m3_s") /
                           number_at(root, "room.ventilation_m3_s"), 1e-9, 0.0);
    assert_true(number_at(root, "room.co_end_low_ppm") < number_at(root, "room.co_end_ppm"));
    assert_true(number_at(root, "room.co_end_high_ppm") > number_at(root, "room.co_end_ppm"));
    assert_true(number_at(root, "room.closure_co") < 1e-6);
    /* A fan without a way in: far below 5 Pa, and the boiler is warned about. */
    assert_true(number_at(root, "room.pressure_pa") < -5.0);
    bool warned = false;
    json_t *entry;
    json_array_foreach(at(root, "diagnostics"), i, entry) {
        warned = warned || strcmp(text_at(entry, "code"), "room-pressure-low") == 0;
    }
    assert_true(warned);
    /* Ventilation that would keep the limit: G 1e6/(L - C_out). */
    json_t *limit;
    int limits = 0;
    json_array_foreach(at(root, "limits"), i, limit) {
        limits++;
        const double need = number_at(root, "room.co_m3_s") * 1e6 / (number_at(limit, "ppm") - 1.0);
        assert_close(number_at(limit, "ventilation_needed_m3_s"), need, 1e-9, 0.0);
        assert_true(text_at(limit, "body")[0] != '\0' && text_at(limit, "provenance")[0] != '\0' &&
                    text_at(limit, "where")[0] != '\0' && text_at(limit, "year")[0] != '\0' &&
                    text_at(limit, "document")[0] != '\0');
    }
    assert_int_equal(limits, 38);
    json_decref(root);

    const dw_setting air_let_in = {"room.make_up_area", "800 cm2"};
    json_t *better = room_of("examples/room-marlpit-cellar.yaml", &air_let_in, 1);
    assert_true(number_at(better, "room.pressure_pa") > -5.0);
    json_decref(better);
}

/* Two bangs on lighting; a second valve had been left open. */
static void two_bangs(void **state)
{
    (void)state;
    json_t *root = room_of("examples/room-saltholme-yard.yaml", NULL, 0);
    const json_t *lighting = at(root, "lighting");
    const json_t *burners = at(lighting, "burners");
    assert_int_equal(json_array_size(burners), 3);
    const json_t *right = json_array_get(burners, 1), *all = json_array_get(burners, 2);
    /* Gas against the lower limit of the free chamber, by hand: L V/q. */
    const double lean = number_at(lighting, "lean_limit");
    assert_close(lean, 0.0495, 0.02, 0.0);
    const double volume = 0.95 * 0.95 * 1.10 * 0.5;
    assert_close(number_at(right, "chamber_at_limit_s"),
                 lean * volume / number_at(right, "gas_m3_s"), 1e-9, 0.0);
    assert_close(number_at(all, "chamber_at_limit_s"),
                 number_at(right, "chamber_at_limit_s") / 2.0, 1e-9, 0.0);
    /* Within half a minute or so: one match later is a bang. */
    assert_true(number_at(right, "chamber_at_limit_s") < 60.0);
    assert_close(number_at(right, "corner_at_limit_s"), lean * 2.0 / number_at(right, "gas_m3_s"),
                 1e-9, 0.0);
    /* Four volumes; by the cold stack never, by the fan of 240 m3/h a minute. */
    assert_close(number_at(lighting, "purge_volumes"), 4.0, 0.0, 0.0);
    assert_true(json_is_null(at(lighting, "natural_purge_s")));
    assert_close(number_at(lighting, "fan_purge_s"), 4.0 * 0.95 * 0.95 * 1.10 * 3600.0 / 240.0,
                 1e-9, 0.0);
    /* A cold kiln is never called low, whatever its flames are taken to make. */
    assert_string_equal(text_at(root, "room.verdict"), "raised");
    assert_string_equal(text_at(root, "room.verdict_lifted_by"), "cold chamber");
    json_decref(root);

    dw_case *kiln = read_case("examples/room-saltholme-yard.yaml", NULL, 0);
    char *text = NULL;
    size_t length = 0;
    const dw_output plain = {DW_FORMAT_TEXT, DW_SHOW_METRIC};
    assert_int_equal(ask("room", kiln, NULL, plain, &text, &length), DW_OK);
    assert_non_null(strstr(text, "Never relight without a purge"));
    assert_non_null(strstr(text, "licensed fitter"));
    assert_non_null(strstr(text, "lighter than air: it rises"));
    dw_text_free(text);
    dw_case_destroy(kiln);
}

/* ---- cautions ----------------------------------------------------------------------------- */

/* True when the text holds the word alone, whatever its case. */
static const char *find_word(const char *text, const char *word)
{
    const size_t length = strlen(word);
    for (const char *at = text; *at != '\0'; at++) {
        if (strncasecmp(at, word, length) != 0) continue;
        const bool begins = at == text || !isalnum((unsigned char)at[-1]);
        if (begins && !isalnum((unsigned char)at[length])) return at;
    }
    return NULL;
}

/* Lines may be broken anywhere: words are compared with white space made one. */
static char *in_one_line(const char *text)
{
    char *out = malloc(strlen(text) + 1), *to = out;
    assert_non_null(out);
    for (const char *from = text; *from != '\0'; from++) {
        const bool space = isspace((unsigned char)*from) != 0;
        if (space && to > out && to[-1] == ' ') continue;
        *to++ = space ? ' ' : *from;
    }
    *to = '\0';
    return out;
}

static void check_output(char *text, const char *what, int format, int *seen)
{
    assert_non_null(text);
    char *line = in_one_line(text);
    dw_text_free(text);
    const char *word = find_word(line, "safe");
    if (word != NULL) fail_msg("%s, format %d says '%.60s'", what, format, word);
    /* Not a measurement; alarm and ventilation; code and fitter. */
    const bool measure = strstr(line, "not a measurement") != NULL;
    const bool alarm = strstr(line, "CO alarm and ventilation on") != NULL ||
                       strstr(line, "Keep a carbon monoxide alarm and the ventilation") != NULL;
    const bool fitter = strstr(line, "licensed gas fitter decide") != NULL;
    if (!measure || !alarm || !fitter) {
        fail_msg("%s, format %d lacks its caution", what, format);
    }
    ++*seen;
    free(line);
}

/* Every question about a kiln that answers with a number of carbon monoxide, every format. */
static void every_output_carries_the_caution(void **state)
{
    (void)state;
    static const char *const questions[] = {"estimate", "room"};
    static const char *const files[] = {"examples/room-marlpit-cellar.yaml",
                                        "examples/room-saltholme-yard.yaml"};
    const dw_vary vary = {"damper", "20, 60 %"};
    int seen = 0;
    for (int format = DW_FORMAT_TEXT; format <= DW_FORMAT_HTML; format++) {
        const dw_output output = {(dw_format)format, format % 2 == 0 ? DW_SHOW_METRIC : DW_SHOW_US};
        char *text;
        size_t length;
        for (size_t f = 0; f < sizeof files / sizeof files[0]; f++) {
            dw_case *kiln = read_case(files[f], NULL, 0);
            for (size_t q = 0; q < sizeof questions / sizeof questions[0]; q++) {
                dw_question question = {.name = questions[q]};
                assert_int_equal(dw_ask(engine, kiln, &question, output, NULL, &text, &length), DW_OK);
                check_output(text, questions[q], format, &seen);
                question.vary = &vary;
                question.vary_count = 1;
                assert_int_equal(dw_ask(engine, kiln, &question, output, NULL, &text, &length), DW_OK);
                check_output(text, questions[q], format, &seen);
            }
            dw_case_destroy(kiln);
        }
        /* A kiln without a solution says it too. */
        const dw_setting stalled = {"room.leak_area", "0 cm2"};
        const dw_setting set[] = {stalled, {"room.exhaust_fan_pressure", "2000 Pa"}};
        dw_case *kiln = read_case("examples/room-marlpit-cellar.yaml", set, 2);
        const dw_status status = ask("room", kiln, NULL, output, &text, &length);
        assert_int_equal(status, DW_ERR_NO_CONVERGE);
        assert_null(strstr(text, "low estimate"));
        check_output(text, "room, not solved", format, &seen);
        dw_case_destroy(kiln);

        const kit_options people[] = {
            {{"ppm", "30", 0}, {"hours", "8", 0}},
            {{"ppm", "0.5", 0}, {"hours", "1", 0}},
            {{"ppm", "400", 0}, {"hours", "45 min", 0}, {"symptoms", "yes", 0}}};
        for (size_t i = 0; i < 3; i++) {
            assert_int_equal(ask("exposure", NULL, people[i], output, &text, &length), DW_OK);
            check_output(text, "exposure", format, &seen);
        }
    }
    print_message("%d outputs\n", seen);
    assert_int_equal(seen, 4 * 12);
}

static void wrong_requests_are_refused(void **state)
{
    (void)state;
    static const struct {
        kit_options options;
        const char *says;
    } cases[] = {
        {{{"ppm", "30", 0}}, "--ppm and --hours"},
        {{{"hours", "3", 0}}, "--ppm and --hours"},
        {{{"ppm", "-1", 0}, {"hours", "3", 0}}, "'-1' is not a number from 0"},
        {{{"ppm", "30 ppm", 0}, {"hours", "3", 0}}, "'30 ppm' is not a number from 0"},
        {{{"ppm", "30", 0}, {"hours", "3 kg", 0}}, "'3 kg' is not a time"},
        {{{"ppm", "30", 0}, {"hours", "0", 0}}, "'0' is not a time"},
        {{{"ppm", "30", 0}, {"hours", "3", 0}, {"activity", "hevy", 0}}, "did you mean heavy"},
        {{{"ppm", "30", 0}, {"hours", "3", 0}, {"sex", "x", 0}}, "'x' is not known; expected"},
        {{{"ppm", "30", 0}, {"hours", "3", 0}, {"height", "1.7 m", 0}}, "belong together"},
        {{{"ppm", "30", 0}, {"hours", "3", 0}, {"height", "9 m", 0}, {"mass", "70 kg", 0}},
         "'9 m' is not a height"},
        {{{"ppm", "30", 0}, {"series", "time_s,ppm\n0,1\n1,2\n", 21}}, "has its own"},
        {{{"series", "nonsense", 8}}, "the heading has no column"},
        {{{"ppm", "30", 0}, {"hours", "3", 0}, {"smoker", "yess", 0}}, "did you mean yes"},
        {{{"ppm", "30", 0}, {"hours", "3", 0}, {"symptoms", "perhaps", 0}},
         "'perhaps' is not known"},
        {{{"ppm", "30", 0}, {"ours", "3", 0}}, "has no option 'ours', did you mean 'hours'?"},
        {{{"ppm", "30", 0}, {"hours", "3", 0}, {"glaze", "celadon", 0}},
         "'glaze'; allowed: ppm, hours"},
    };
    const dw_output plain = {DW_FORMAT_TEXT, DW_SHOW_METRIC};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        dw_diag_list *diag = dw_diag_list_create();
        char *text = NULL, line[400] = "";
        size_t length = 0;
        const dw_question question = kit_question("exposure", cases[i].options);
        assert_int_equal(dw_ask(engine, NULL, &question, plain, diag, &text, &length), DW_ERR_INPUT);
        assert_null(text);
        assert_true(dw_diag_count(diag) > 0);
        (void)dw_diag_format(dw_diag_get(diag, 0), line, sizeof line);
        if (strstr(line, cases[i].says) == NULL) fail_msg("case %zu: %s", i, line);
        dw_diag_list_destroy(diag);
    }
    /* A kiln without a room has no answer. */
    dw_case *kiln = read_case("examples/juniper-flat.yaml", NULL, 0);
    char *text = NULL;
    size_t length = 0;
    assert_int_equal(ask("room", kiln, NULL, plain, &text, &length), DW_ERR_INPUT);
    const dw_vary vary = {"damper", "20, 60 %"};
    const dw_question rows = {.name = "room", .vary = &vary, .vary_count = 1};
    assert_int_equal(dw_ask(engine, kiln, &rows, plain, NULL, &text, &length), DW_ERR_INPUT);
    dw_case_destroy(kiln);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(headache_after_a_firing),
        cmocka_unit_test(symptoms_count_for_more),
        cmocka_unit_test(kiln_in_a_basement),
        cmocka_unit_test(two_bangs),
        cmocka_unit_test(every_output_carries_the_caution),
        cmocka_unit_test(wrong_requests_are_refused),
    };
    return cmocka_run_group_tests(tests, create_engine, destroy_engine);
}

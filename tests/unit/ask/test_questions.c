/* What belongs to a question: its name, its options, a kiln, rows, a working. */

#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "damperwise.h"
#include "kit.h"
#include "question.h"

static dw_engine *engine;
static dw_case *kiln;

static int setup(void **state)
{
    (void)state;
    size_t size;
    char *yaml = kit_read_file("examples/juniper-flat.yaml", &size);
    const bool good = dw_engine_create(NULL, NULL, &engine) == DW_OK &&
                      dw_case_read(engine, "juniper", yaml, size, NULL, 0, NULL, &kiln) == DW_OK;
    free(yaml);
    return good ? 0 : -1;
}

static int teardown(void **state)
{
    (void)state;
    dw_case_destroy(kiln);
    dw_engine_destroy(engine);
    return 0;
}

static const dw_output as_json = {DW_FORMAT_JSON, DW_SHOW_METRIC};

/* One error, with this code and these words. */
static void refused(const dw_case *of, dw_question question, const char *code, const char *says)
{
    dw_diag_list *diag = dw_diag_list_create();
    char *text = NULL;
    size_t length;
    assert_int_equal(dw_ask(engine, of, &question, as_json, diag, &text, &length), DW_ERR_INPUT);
    assert_null(text);
    assert_int_equal(dw_diag_count(diag), 1);
    const dw_diag *d = dw_diag_get(diag, 0);
    assert_int_equal(d->grade, DW_ERROR);
    assert_string_equal(d->code, code);
    if (strstr(d->text, says) == NULL) fail_msg("'%s' lacks '%s'", d->text, says);
    dw_diag_list_destroy(diag);
}

static void misspelt_names_get_the_nearest_one(void **state)
{
    (void)state;
    refused(kiln, (dw_question){.name = "estimat"}, "unknown-question",
            "there is no question 'estimat', did you mean 'estimate'?");
    refused(kiln, (dw_question){.name = "sweep"}, "unknown-question",
            "allowed: estimate, check, room, exposure, why, oxides, ladder or keys");
    refused(kiln, (dw_question){.name = ""}, "unknown-question", "allowed: estimate");
    const kit_options glaze = {{"glase", "celadon", 0}}, known[] = {{{"glaze", "celadon", 0}}, {{"term", "draft", 0}}};
    refused(kiln, kit_question("oxides", glaze), "unknown-option",
            "the question 'oxides' has no option 'glase', did you mean 'glaze'?");
    refused(kiln, kit_question("why", known[0]), "unknown-option", "no option 'glaze'; allowed: term");
    refused(kiln, kit_question("estimate", known[1]), "unknown-option",
            "the question 'estimate' has no option 'term', nor any other");
}

static void what_does_not_belong_to_a_question_is_said(void **state)
{
    (void)state;
    static const char *const unvaried[] = {"check", "why", "ladder", "exposure", "keys"};
    const dw_vary vary = {"damper", "20%,30%"};
    for (size_t i = 0; i < sizeof unvaried / sizeof unvaried[0]; i++) {
        refused(kiln, (dw_question){.name = unvaried[i], .vary = &vary, .vary_count = 1}, "no-rows",
                "nothing can be varied");
        refused(kiln, (dw_question){.name = unvaried[i], .at_point = 1}, "no-rows", "has no rows to take one of");
    }
    refused(kiln, (dw_question){.name = "estimate", .at_point = 1}, "no-rows", "vary makes them");
    refused(kiln, (dw_question){.name = "why", .working = 1}, "no-working", "'why' has no working");
    refused(kiln, (dw_question){.name = "keys", .working = 1}, "no-working", "'keys' has no working");
    refused(kiln, (dw_question){.name = "estimate", .vary = &vary, .vary_count = 1, .working = 1}, "one-point",
            "a range has 2 rows, and --working shows one of them");
    refused(kiln, (dw_question){.name = "estimate", .vary = &vary, .vary_count = 1, .at_point = 3},
            "no-such-point", "this sweep has no row 3; allowed: 1 to 2");
    const kit_options gas = {{"log_po2", "-8", 0}}, at = {{"at", "1200 degC", 0}, {"log_po2", "-8", 0}};
    refused(kiln, kit_question("oxides", gas), "gas-and-kiln", "'log_po2' is for a gas without a kiln");
    refused(kiln, kit_question("oxides", at), "gas-and-kiln", "'at' is for a gas without a kiln");
}

static void a_kiln_is_there_where_one_is_needed(void **state)
{
    (void)state;
    static const char *const needy[] = {"estimate", "check", "room", "ladder"};
    char *text = NULL;
    size_t length;
    for (size_t i = 0; i < sizeof needy / sizeof needy[0]; i++) {
        const dw_question question = {.name = needy[i]};
        assert_int_equal(dw_ask(engine, NULL, &question, as_json, NULL, &text, &length), DW_ERR_ARG);
        assert_null(text);
    }
    const dw_vary vary = {"damper", "20%,30%"};
    const dw_question rows = {.name = "oxides", .vary = &vary, .vary_count = 1};
    assert_int_equal(dw_ask(engine, NULL, &rows, as_json, NULL, &text, &length), DW_ERR_ARG);
    assert_null(text);
}

static char *answer(const dw_case *of, dw_question question)
{
    char *text = NULL;
    size_t length;
    assert_int_equal(dw_ask(engine, of, &question, as_json, NULL, &text, &length), DW_OK);
    return text;
}

/* Of two options with a name the last counts, one without a value not at all; a kiln that nobody asked for says
 * nothing. */
static void options_are_taken_as_they_come(void **state)
{
    (void)state;
    const kit_options once = {{"ppm", "60", 0}, {"hours", "3", 0}};
    const kit_options twice = {{"ppm", "10", 0}, {"hours", "3", 0}, {"ppm", "60", 0}, {"hours", NULL, 0},
                               {"sex", NULL, 0}};
    char *first = answer(NULL, kit_question("exposure", once));
    char *second = answer(kiln, kit_question("exposure", twice));
    assert_string_equal(first, second);
    dw_text_free(first);
    dw_text_free(second);
}

static int take_nothing(void *user, const char *piece, size_t length)
{
    size_t *sum = user;
    (void)piece;
    *sum += length;
    return *sum > 100;
}

/* A sink takes every answer, not rows alone. */
static void a_sink_takes_any_answer(void **state)
{
    (void)state;
    static const char *const names[] = {"estimate", "check", "keys", "oxides", "ladder", "why"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        dw_question question = {.name = names[i]};
        char *whole = answer(kiln, question);
        size_t sum = 0;
        question.sink = (dw_sink){take_nothing, &sum};
        assert_int_equal(dw_ask(engine, kiln, &question, as_json, NULL, NULL, NULL), DW_ERR_IO);
        assert_int_equal(sum, strlen(whole));
        dw_text_free(whole);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(misspelt_names_get_the_nearest_one),
        cmocka_unit_test(what_does_not_belong_to_a_question_is_said),
        cmocka_unit_test(a_kiln_is_there_where_one_is_needed),
        cmocka_unit_test(options_are_taken_as_they_come),
        cmocka_unit_test(a_sink_takes_any_answer),
    };
    return cmocka_run_group_tests(tests, setup, teardown);
}

/* Every spread of the gas that is allowed, asked of every question that looks at the parcels; and what it
 * does to the gas as it goes to nothing. */
#include "check.h"

#include <stdlib.h>

#include "damperwise.h"
#include "kit.h"

static dw_engine *engine;

static const dw_option term = {"term", "reduction", 0};
static const dw_question questions[] = {{.name = "estimate"},
                                        {.name = "estimate", .working = 1},
                                        {.name = "oxides"},
                                        {.name = "oxides", .working = 1},
                                        {.name = "ladder"},
                                        {.name = "ladder", .working = 1},
                                        {.name = "why", .option = &term, .option_count = 1}};

static dw_status ask(const dw_case *kiln, const dw_question *question)
{
    const dw_output json = {DW_FORMAT_JSON, DW_SHOW_METRIC};
    char *text = NULL;
    size_t length;
    const dw_status status = dw_ask(engine, kiln, question, json, NULL, &text, &length);
    dw_text_free(text);
    return status;
}

static void every_spread_is_solved_by_every_question(void **state)
{
    (void)state;
    static const char *const spreads[] = {"0",      "1e-7", "1e-6", "1.1e-6", "1e-5", "1e-4",
                                          "0.0007", "1e-3", "0.0018", "0.002", "0.01", "0.5"};
    static const char *const examples[] = {"juniper-flat", "fennelbank-school",
                                           "oxides-candlewick-lane"};
    assert_int_equal(dw_engine_create(NULL, NULL, &engine), DW_OK);
    for (size_t e = 0; e < sizeof examples / sizeof examples[0]; e++) {
        char path[128];
        (void)snprintf(path, sizeof path, "examples/%s.yaml", examples[e]);
        size_t length;
        char *yaml = kit_read_file(path, &length);
        for (size_t i = 0; i < sizeof spreads / sizeof spreads[0]; i++) {
            const dw_setting spread = {"model.unmixedness", spreads[i]};
            dw_case *kiln;
            assert_int_equal(dw_case_read(engine, path, yaml, length, &spread, 1, NULL, &kiln),
                             DW_OK);
            for (size_t q = 0; q < sizeof questions / sizeof questions[0]; q++) {
                const dw_status status = ask(kiln, &questions[q]);
                if (status != DW_OK) {
                    fail_msg("%s, spread %s, question %zu: %s", examples[e], spreads[i], q,
                             dw_status_text(status));
                }
            }
            dw_case_destroy(kiln);
        }
        free(yaml);
    }
    dw_engine_destroy(engine);
}

/* The mean over a narrow distribution is off by half its variance times the curvature: what the spread does
 * to carbon monoxide goes with its square, down to where it is no distribution any more. */
static void what_a_small_spread_does_goes_with_its_square(void **state)
{
    (void)state;
    const int co = dw_species_find(&kit_data()->species, "CO");
    for (int e = 0; kit_examples[e] != NULL; e++) {
        static dw_kiln_file file;
        static dw_result r;
        kit_example(kit_examples[e], &file);
        double even = NAN, curvature = NAN;
        for (double s = 0.0; s < 1.1e-4; s = s == 0.0 ? 1e-7 : s * sqrt(10.0)) {
            file.kiln.settings.unmixedness = s;
            assert_int_equal(dw_operating_point(kit_model(), &file.kiln, &r), DW_OK);
            const double x = r.gas_dry.x[co];
            if (s == 0.0) even = x;
            if (s < 1e-6) {
                assert_close(x, even, 1e-12, 0.0);
            } else if (isnan(curvature)) {
                curvature = (x - even) / (s * s);
            } else {
                assert_close((x - even) / (s * s), curvature, 0.03, 3e-15 / (s * s));
            }
            if (s >= 1e-5 && s < 2e-5) curvature = (x - even) / (s * s);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_spread_is_solved_by_every_question),
        cmocka_unit_test(what_a_small_spread_does_goes_with_its_square),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

/* Terms: the data, looking them up, and their sentences with the numbers of kilns. */
#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "kit.h"
#include "reports.h"
#include "working_point.h"
#include "writers.h"

static void terms_are_found_by_any_of_their_names(void **state)
{
    (void)state;
    const dw_terms *terms = &kit_data()->terms;
    static const char *const asked[] = {"equivalence ratio", "air ratio", "draft", "neutral plane",
                                        "damper loss", "primary air", "secondary air",
                                        "water-gas shift", "buffer", "heat work", "reduction",
                                        "unmixedness", "quench temperature", "Wobbe index",
                                        "choked flow", "stack", "stall", "spill",
                                        "carbon activity", "probe volts", "back pressure", "bag wall",
                                        "candling", "bung", "crossdraft", "downdraft", "updraft",
                                        "carboxyhaemoglobin", "celadon", "copper red", "tenmoku",
                                        "carbon trap", "body reduction", "sensitivity"};
    const char *near;
    for (size_t i = 0; i < sizeof asked / sizeof asked[0]; i++) {
        const dw_term *t = dw_term_find(terms, asked[i], &near);
        if (t == NULL) print_error("no term '%s'\n", asked[i]);
        assert_non_null(t);
        assert_string_equal(t->name, asked[i]);
    }
    assert_string_equal(dw_term_find(terms, "PHI", &near)->name, "equivalence ratio");
    assert_string_equal(dw_term_find(terms, "draught", &near)->name, "draft");
    assert_string_equal(dw_term_find(terms, "cohb", &near)->name, "carboxyhaemoglobin");
    assert_string_equal(dw_term_find(terms, "steepness", &near)->name, "sensitivity");
    assert_null(dw_term_find(terms, "neutral plne", &near));
    assert_string_equal(near, "neutral plane");
    assert_null(dw_term_find(terms, "gooseberry", &near));
    assert_null(near);
    assert_null(dw_term_find(terms, "", &near));
}

static int sentences_of(const char *text)
{
    int count = 0;
    for (const char *p = text; *p != '\0'; p++) count += *p == '.' && (p[1] == ' ' || p[1] == '\0');
    return count;
}

static void explanations_are_short_and_have_no_numbers_of_a_kiln(void **state)
{
    (void)state;
    const dw_terms *terms = &kit_data()->terms;
    for (size_t i = 0; i < terms->count; i++) {
        const dw_term *t = &terms->term[i];
        const int count = sentences_of(t->text);
        if (count < 2 || count > 6) print_error("'%s' has %d sentences\n", t->name, count);
        assert_true(count >= 2 && count <= 6);
        assert_null(strchr(t->text, '{'));
        assert_true(t->source_count > 0);
        assert_true(t->here_count > 0);
    }
}

/* A solved example: its report and its working. */
typedef struct answers {
    dw_kiln_file file;
    dw_kiln resolved;
    dw_result result;
    dw_report *estimate;
    dw_working *w;
    dw_report_source source;
    dw_ware ware;
} answers;

static void answer(answers *a, const char *example, double damper)
{
    kit_example(example, &a->file);
    if (damper > 0.0) a->file.kiln.flue[0].damper.open_frac = damper;
    if (strcmp(example, "thistledown-raku") == 0) a->file.kiln.operating.gas_pressure_pa = 110e3;
    a->resolved = a->file.kiln;
    dw_kiln_resolve(&a->resolved);
    a->w = dw_working_create();
    assert_int_equal(dw_working_point(kit_model(), &a->file.kiln, a->w, &a->result), DW_OK);
    a->source = (dw_report_source){.version = "0", .command = "why", .data = kit_data(),
                                   .file = &a->file, .kiln = &a->resolved};
    assert_int_equal(dw_ware_of_point(kit_model(), &a->file.kiln, &a->result, &a->ware), DW_OK);
    a->source.ware = &a->ware;
    a->estimate = dw_report_create();
    dw_build_estimate(a->estimate, &a->source, &a->result);
}

static void forget(answers *a)
{
    dw_report_destroy(a->estimate);
    dw_working_destroy(a->w);
}

static char *text_of(const answers *a, const char *term, dw_unit_system system)
{
    const char *near;
    dw_report *r = dw_report_create();
    dw_build_why(r, &a->source, dw_term_find(&kit_data()->terms, term, &near), a->estimate, a->w,
                 system);
    dw_strbuf out;
    dw_strbuf_init(&out);
    assert_int_equal(dw_write_text(r, system, &out), DW_OK);
    dw_report_destroy(r);
    return dw_strbuf_take(&out);
}

static void has(char *text, const char *part, bool wanted)
{
    if ((strstr(text, part) != NULL) != wanted) {
        print_error("%s '%s':\n%s\n", wanted ? "no" : "there is", part, text);
    }
    assert_true((strstr(text, part) != NULL) == wanted);
    free(text);
}

/* Every hole of every sentence has a value for some example: none is misspelt. */
static void every_sentence_can_be_said(void **state)
{
    (void)state;
    const dw_terms *terms = &kit_data()->terms;
    static bool said[DW_TERM_MAX][DW_TERM_SENTENCE_MAX];
    answers *a = malloc(sizeof *a);
    assert_non_null(a);
    for (int k = 0; kit_examples[k] != NULL; k++) {
        answer(a, kit_examples[k], k == 0 ? 0.02 : 0.0);
        for (size_t i = 0; i < terms->count; i++) {
            dw_report *r = dw_report_create();
            dw_build_why(r, &a->source, &terms->term[i], a->estimate, a->w, DW_UNITS_METRIC);
            for (size_t s = 0; s < terms->term[i].here_count; s++) {
                /* The longest stretch without a hole tells a sentence. */
                const char *text = terms->term[i].here[s].text, *best = text;
                size_t most = 0;
                for (const char *p = text; *p != '\0';) {
                    const size_t length = strcspn(p, "{");
                    if (length > most) {
                        best = p;
                        most = length;
                    }
                    p += length;
                    if (*p == '{') p += strcspn(p, "}") + 1;
                }
                char part[DW_TERM_SENTENCE_SIZE];
                (void)snprintf(part, sizeof part, "%.*s", (int)most, best);
                dw_found found;
                char path[24];
                for (int n = 0; n < DW_TERM_SENTENCE_MAX; n++) {
                    (void)snprintf(path, sizeof path, "here.%d", n);
                    if (dw_report_find(r, path, &found) && strstr(found.text, part) != NULL) {
                        said[i][s] = true;
                    }
                }
            }
            dw_report_destroy(r);
        }
        forget(a);
    }
    free(a);
    int missing = 0;
    for (size_t i = 0; i < terms->count; i++) {
        for (size_t s = 0; s < terms->term[i].here_count; s++) {
            if (said[i][s]) continue;
            print_error("'%s': never said: %s\n", terms->term[i].name, terms->term[i].here[s].text);
            missing++;
        }
    }
    assert_int_equal(missing, 0);
}

static void numbers_are_those_of_the_kiln_in_its_units(void **state)
{
    (void)state;
    answers *a = malloc(sizeof *a);
    assert_non_null(a);
    answer(a, "juniper-flat", 0.0);
    char wanted[80];
    (void)snprintf(wanted, sizeof wanted, "lies %.2f m above", a->result.neutral_plane_m);
    has(text_of(a, "neutral plane", DW_UNITS_METRIC), wanted, true);
    (void)snprintf(wanted, sizeof wanted, "lies %.1f ft above", a->result.neutral_plane_m / 0.3048);
    has(text_of(a, "neutral plane", DW_UNITS_US), wanted, true);
    has(text_of(a, "equivalence ratio", DW_UNITS_METRIC), "gas is left over, and", true);
    has(text_of(a, "equivalence ratio", DW_UNITS_METRIC), "air is left over, and", false);
    has(text_of(a, "neutral plane", DW_UNITS_US), "w.c..", false);
    has(text_of(a, "quench temperature", DW_UNITS_METRIC), "the quench temperature is 827 degC", true);
    forget(a);
    /* No stack: its sentences are left out. */
    answer(a, "fennelbank-school", 0.0);
    has(text_of(a, "stack", DW_UNITS_METRIC), "not available for this", true);
    has(text_of(a, "draft", DW_UNITS_METRIC), "The stack could", false);
    has(text_of(a, "draft", DW_UNITS_METRIC), "Here the chamber pulls", true);
    forget(a);
    free(a);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(terms_are_found_by_any_of_their_names),
        cmocka_unit_test(explanations_are_short_and_have_no_numbers_of_a_kiln),
        cmocka_unit_test(every_sentence_can_be_said),
        cmocka_unit_test(numbers_are_those_of_the_kiln_in_its_units),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

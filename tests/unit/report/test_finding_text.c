/* Words for what was found: every code has them, hazards say what to do, names are merged. */

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "finding_text.h"
#include "sample_result.h"
#include "show_number.h"
#include "writers.h"

static char *plain(const dw_item *line, dw_unit_system system)
{
    dw_strbuf out;
    dw_strbuf_init(&out);
    dw_write_plain(line, system, &out);
    return dw_strbuf_take(&out);
}

static void every_code_has_grade_code_word_and_sentences(void **state)
{
    (void)state;
    static const char *const codes[] = {
#define CODE(name, grade, code) code,
        DW_FINDING_LIST(CODE)};
    static const dw_grade grades[] = {
#define GRADE(name, grade, code) grade,
        DW_FINDING_LIST(GRADE)};
    for (int i = 0; i < DW_FINDING_CODE_COUNT; ++i) {
        dw_finding_words words;
        if (!dw_finding_words_of((dw_finding_code)i, &words)) print_error("%s\n", codes[i]);
        assert_true(dw_finding_words_of((dw_finding_code)i, &words));
        assert_string_equal(words.code, codes[i]);
        assert_int_equal(words.grade, grades[i]);
        assert_true(strlen(words.brief) > 20);
        assert_true(strlen(words.full) > strlen(words.brief));
        assert_int_equal(words.full[strlen(words.full) - 1], '.');
        /* What is named in one sentence is named in the other. */
        assert_int_equal(strstr(words.full, "{0}") != NULL, words.subject != DW_SUBJECT_KILN);
        assert_int_equal(strstr(words.brief, "{0}") != NULL, words.subject != DW_SUBJECT_KILN);
    }
    dw_finding_words words;
    assert_false(dw_finding_words_of(DW_FINDING_CODE_COUNT, &words));
    assert_false(dw_finding_words_of((dw_finding_code)-1, &words));
    assert_null(words.full);
}

/* True when the word stands in the text by itself, in any case. */
static bool has_word(const char *text, const char *word)
{
    const size_t own = strlen(word);
    for (const char *p = text; *p != '\0'; ++p) {
        size_t i = 0;
        while (i < own && tolower((unsigned char)p[i]) == word[i]) ++i;
        const bool begins = p == text || !isalpha((unsigned char)p[-1]);
        if (i == own && begins && !isalpha((unsigned char)p[own])) return true;
    }
    return false;
}

static void no_sentence_calls_anything_safe_and_hazards_say_what_to_do(void **state)
{
    (void)state;
    static const char *const actions[] = {"shut", "open", "keep",  "turn", "leave", "ventilate",
                                          "give", "watch", "purge", "needed"};
    for (int i = 0; i < DW_FINDING_CODE_COUNT; ++i) {
        dw_finding_words words;
        assert_true(dw_finding_words_of((dw_finding_code)i, &words));
        assert_false(has_word(words.brief, "safe"));
        assert_false(has_word(words.full, "safe"));
        assert_false(has_word(words.full, "safely"));
        if (words.grade != DW_HAZARD) continue;
        int found = 0;
        for (size_t k = 0; k < sizeof actions / sizeof actions[0]; ++k) {
            found += has_word(words.full, actions[k]);
        }
        assert_true(found > 0);
    }
}

static void briefs_of_hazards_fit_one_line_of_the_screen(void **state)
{
    (void)state;
    dw_kiln kiln;
    sample_kiln(&kiln);
    for (int i = 0; i < DW_FINDING_CODE_COUNT; ++i) {
        dw_finding_words words;
        assert_true(dw_finding_words_of((dw_finding_code)i, &words));
        dw_result result = {.solved = true};
        /* A typical value: 3.7 Pa, 1183 degC, 37 kg/h, 1.7. */
        const double value = words.number.dim == DW_DIM_TEMPERATURE       ? 1456.0
                             : words.number.dim == DW_DIM_MASS_FLOW       ? 0.0103
                             : words.number.dim == DW_DIM_RATIO           ? 0.037
                             : words.number.dim == DW_DIM_PRESSURE_GAUGE  ? 3.7
                                                                          : 1.7;
        sample_find(&result, (dw_finding_code)i, 0, value);
        dw_report *r = dw_report_create();
        char *text = plain(dw_finding_brief(r, dw_report_root(r), NULL, &kiln, &result,
                                            (dw_finding_code)i), DW_UNITS_METRIC);
        if (dw_show_width(text) > 71) print_error("%zu: %s\n", dw_show_width(text), text);
        assert_true(dw_show_width(text) <= 71);
        free(text);
        dw_report_destroy(r);
    }
}

static void a_full_sentence_has_its_name_and_value_in_the_units_asked_for(void **state)
{
    (void)state;
    dw_kiln kiln;
    sample_kiln(&kiln);
    dw_report *r = dw_report_create();
    const dw_finding finding = {DW_FIND_POSITIVE_AT_OPENING, 2, 4.17};
    const dw_item *line = dw_finding_line(r, dw_report_root(r), "text", NULL, &kiln, &finding);
    char *metric = plain(line, DW_UNITS_METRIC), *us = plain(line, DW_UNITS_US);
    assert_non_null(strstr(metric, "at top spyhole (chamber pressure there 4.2 Pa)"));
    assert_non_null(strstr(us, "(chamber pressure there 0.017 in w.c.)"));
    free(metric);
    free(us);
    dw_report_destroy(r);
}

static void names_are_merged_and_the_worst_value_stands_for_all(void **state)
{
    (void)state;
    dw_kiln kiln;
    sample_kiln(&kiln);
    kiln.opening_count = 5;
    strcpy(kiln.opening[3].name, "bung");
    kiln.opening[4].name[0] = '\0';
    dw_result result = {.solved = true};
    sample_find(&result, DW_FIND_POSITIVE_AT_OPENING, 0, 1.13);
    sample_find(&result, DW_FIND_POSITIVE_AT_OPENING, 4, 5.29);
    sample_find(&result, DW_FIND_SPILL, -1, 9.0);
    sample_find(&result, DW_FIND_POSITIVE_AT_OPENING, 2, 2.17);
    sample_find(&result, DW_FIND_POSITIVE_AT_OPENING, 3, 3.11);
    sample_find(&result, DW_FIND_POSITIVE_AT_OPENING, 1, 0.53);
    dw_report *r = dw_report_create();
    char *text = plain(dw_finding_brief(r, dw_report_root(r), NULL, &kiln, &result,
                                        DW_FIND_POSITIVE_AT_OPENING), DW_UNITS_METRIC);
    assert_non_null(strstr(text, "air ports, opening 5, top spyhole and 2 more: "));
    assert_non_null(strstr(text, "(up to 5.3 Pa)"));
    free(text);
    assert_null(dw_finding_brief(r, dw_report_root(r), NULL, &kiln, &result, DW_FIND_SOOTING));
    dw_report_destroy(r);
}

static void findings_without_an_index_are_about_the_whole(void **state)
{
    (void)state;
    dw_kiln kiln;
    sample_kiln(&kiln);
    char name[DW_NAME_SIZE + 16];
    const dw_finding gaps = {DW_FIND_POSITIVE_AT_OPENING, -1, 1.0};
    dw_finding_name(&kiln, &gaps, name, sizeof name);
    assert_string_equal(name, "the gaps of the kiln");
    const dw_finding beyond = {DW_FIND_JET_CHOKED, 17, 1.0};
    dw_finding_name(&kiln, &beyond, name, sizeof name);
    assert_string_equal(name, "the kiln");
    const dw_finding right = {DW_FIND_JET_CHOKED, 1, 1.0};
    dw_finding_name(&kiln, &right, name, sizeof name);
    assert_string_equal(name, "right");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_code_has_grade_code_word_and_sentences),
        cmocka_unit_test(no_sentence_calls_anything_safe_and_hazards_say_what_to_do),
        cmocka_unit_test(briefs_of_hazards_fit_one_line_of_the_screen),
        cmocka_unit_test(a_full_sentence_has_its_name_and_value_in_the_units_asked_for),
        cmocka_unit_test(names_are_merged_and_the_worst_value_stands_for_all),
        cmocka_unit_test(findings_without_an_index_are_about_the_whole),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

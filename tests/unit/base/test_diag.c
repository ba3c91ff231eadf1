#include "check.h"

#include <string.h>

#include "diag.h"

static const dw_place nowhere = {NULL, 0, 0};

static void entries_keep_order_and_own_their_strings(void **state)
{
    (void)state;
    dw_diag_list *list = dw_diag_list_create();
    assert_non_null(list);
    char file[] = "a.yaml", code[] = "some-code";
    dw_diag_add(list, DW_ERROR, code, (dw_place){file, 14, 21}, "'%s' is %d m", "depth", 12);
    dw_diag_add(list, DW_NOTE, NULL, nowhere, "plain");
    memset(file, 'x', sizeof file - 1);
    memset(code, 'x', sizeof code - 1);

    assert_int_equal(dw_diag_count(list), 2);
    const dw_diag *first = dw_diag_get(list, 0), *second = dw_diag_get(list, 1);
    assert_int_equal(first->grade, DW_ERROR);
    assert_string_equal(first->code, "some-code");
    assert_string_equal(first->file, "a.yaml");
    assert_int_equal(first->line, 14);
    assert_int_equal(first->column, 21);
    assert_string_equal(first->text, "'depth' is 12 m");
    assert_int_equal(second->grade, DW_NOTE);
    assert_string_equal(second->code, "");
    assert_string_equal(second->file, "");
    assert_null(dw_diag_get(list, 2));

    assert_int_equal(dw_diag_count_grade(list, DW_ERROR), 1);
    assert_int_equal(dw_diag_count_grade(list, DW_WARNING), 0);
    dw_diag_list_clear(list);
    assert_int_equal(dw_diag_count(list), 0);
    assert_int_equal(dw_diag_count_grade(list, DW_ERROR), 0);
    dw_diag_list_destroy(list);
}

static void no_list_is_an_empty_list(void **state)
{
    (void)state;
    dw_diag_add(NULL, DW_ERROR, "x", nowhere, "dropped");
    assert_int_equal(dw_diag_count(NULL), 0);
    assert_int_equal(dw_diag_count_grade(NULL, DW_ERROR), 0);
    assert_null(dw_diag_get(NULL, 0));
    assert_false(dw_diag_lost(NULL));
    dw_diag_list_clear(NULL);
    dw_diag_list_destroy(NULL);
}

static void a_full_list_goes_on_counting(void **state)
{
    (void)state;
    dw_diag_list *list = dw_diag_list_create();
    for (int i = 0; i < DW_DIAG_MAX; i++)
        dw_diag_add(list, DW_WARNING, "w", nowhere, "no. %d", i);
    assert_int_equal(dw_diag_count(list), DW_DIAG_MAX);
    for (int i = 0; i < 37; i++)
        dw_diag_add(list, DW_WARNING, "w", nowhere, "late %d", i);
    dw_diag_add(list, DW_NOTE, "n", nowhere, "late note");

    assert_int_equal(dw_diag_count(list), DW_DIAG_MAX + 1);
    assert_int_equal(dw_diag_count_grade(list, DW_WARNING), DW_DIAG_MAX + 37);
    assert_int_equal(dw_diag_count_grade(list, DW_NOTE), 1);
    const dw_diag *last = dw_diag_get(list, DW_DIAG_MAX);
    assert_string_equal(last->text, "38 more messages are left out (errors: 0, hazards: 0, "
                                    "warnings: 37, notes: 1)");
    assert_string_equal(last->code, "more-messages");
    assert_string_equal(dw_diag_get(list, DW_DIAG_MAX - 1)->text, "no. 99");
    assert_null(dw_diag_get(list, DW_DIAG_MAX + 1));
    dw_diag_list_destroy(list);
}

static void a_full_list_gives_way_to_graver_entries(void **state)
{
    (void)state;
    dw_diag_list *list = dw_diag_list_create();
    dw_diag_add(list, DW_NOTE, "n", nowhere, "note");
    for (int i = 1; i < DW_DIAG_MAX; i++)
        dw_diag_add(list, DW_WARNING, "w", nowhere, "no. %d", i);
    const dw_diag *held = dw_diag_get(list, 0);
    dw_diag_add(list, DW_HAZARD, "h", nowhere, "hazard");
    dw_diag_add(list, DW_ERROR, "e", nowhere, "error");

    assert_int_equal(dw_diag_count(list), DW_DIAG_MAX + 1);
    assert_string_equal(dw_diag_get(list, 0)->text, "no. 1");
    assert_string_equal(dw_diag_get(list, DW_DIAG_MAX - 3)->text, "no. 98");
    assert_string_equal(dw_diag_get(list, DW_DIAG_MAX - 2)->text, "hazard");
    assert_string_equal(dw_diag_get(list, DW_DIAG_MAX - 1)->text, "error");
    assert_string_equal(dw_diag_get(list, DW_DIAG_MAX)->text,
                        "2 more messages are left out (errors: 0, hazards: 0, warnings: 1, "
                        "notes: 1)");
    assert_int_equal(dw_diag_count_grade(list, DW_WARNING), DW_DIAG_MAX - 1);
    /* An entry that gave way is still readable by who borrowed it. */
    assert_string_equal(held->text, "note");
    dw_diag_list_destroy(list);
}

static void assert_line(dw_diag diag, const char *expected)
{
    char out[200];
    memset(out, 'x', sizeof out);
    assert_int_equal(dw_diag_format(&diag, out, sizeof out), strlen(expected));
    assert_string_equal(out, expected);
}

static void a_line_leaves_out_what_is_unknown(void **state)
{
    (void)state;
    assert_line((dw_diag){DW_ERROR, "unknown-key", "case.yaml", 14, 21, "what is wrong"},
                "case.yaml:14:21: error: what is wrong [unknown-key]");
    assert_line((dw_diag){DW_WARNING, "w", "case.yaml", 14, 0, "text"},
                "case.yaml:14: warning: text [w]");
    assert_line((dw_diag){DW_HAZARD, "h", "--set", 0, 0, "text"}, "--set: hazard: text [h]");
    assert_line((dw_diag){DW_NOTE, "", "", 0, 0, "text"}, "note: text");
}

static void a_line_is_cut_to_the_room_there_is(void **state)
{
    (void)state;
    const dw_diag diag = {DW_NOTE, "n", "f", 3, 4, "text"};
    char out[8] = "xxxxxxx";
    assert_int_equal(dw_diag_format(&diag, out, 7), strlen("f:3:4: note: text [n]"));
    assert_string_equal(out, "f:3:4:");
    assert_int_equal(dw_diag_format(&diag, NULL, 0), strlen("f:3:4: note: text [n]"));
    assert_int_equal(dw_diag_format(NULL, out, sizeof out), 0);
    assert_string_equal(out, "");
}

static void input_cannot_break_the_line(void **state)
{
    (void)state;
    dw_diag_list *list = dw_diag_list_create();
    dw_diag_add(list, DW_ERROR, "e", (dw_place){"a\nb", 1, 1}, "'%s'",
                "one\ntwo\x1b[31m \xC2\x9B \x7f \xC3\xA4 \xE2\x82\xAC \xff");
    dw_diag_add(list, DW_ERROR, "e", nowhere, "'%.2s'", "\xE2\x82\xAC");
    assert_string_equal(dw_diag_get(list, 0)->text, "'one two\\x1b[31m \\x9b \\x7f \xC3\xA4 \xE2\x82\xAC \\xff'");
    assert_string_equal(dw_diag_get(list, 0)->file, "a b");
    assert_string_equal(dw_diag_get(list, 1)->text, "'\\xe2\\x82'");
    dw_diag_list_destroy(list);
}

static void grades_have_names(void **state)
{
    (void)state;
    assert_string_equal(dw_grade_text(DW_NOTE), "note");
    assert_string_equal(dw_grade_text(DW_WARNING), "warning");
    assert_string_equal(dw_grade_text(DW_HAZARD), "hazard");
    assert_string_equal(dw_grade_text(DW_ERROR), "error");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(entries_keep_order_and_own_their_strings),
        cmocka_unit_test(no_list_is_an_empty_list),
        cmocka_unit_test(a_full_list_goes_on_counting),
        cmocka_unit_test(a_full_list_gives_way_to_graver_entries),
        cmocka_unit_test(a_line_leaves_out_what_is_unknown),
        cmocka_unit_test(a_line_is_cut_to_the_room_there_is),
        cmocka_unit_test(input_cannot_break_the_line),
        cmocka_unit_test(grades_have_names),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

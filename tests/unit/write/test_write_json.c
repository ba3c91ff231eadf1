/* The tree as JSON, read back with a JSON library. */

#include <string.h>

#include <jansson.h>

#include "check.h"
#include "sample_numbers.h"
#include "writers.h"

static char *json_of(dw_report *r)
{
    dw_strbuf out;
    dw_strbuf_init(&out);
    assert_int_equal(dw_write_json(r, &out), DW_OK);
    return dw_strbuf_take(&out);
}

static json_t *parsed(const char *text)
{
    json_error_t error;
    json_t *value = json_loads(text, JSON_REJECT_DUPLICATES, &error);
    if (value == NULL) print_error("%s at line %d\n%s\n", error.text, error.line, text);
    assert_non_null(value);
    return value;
}

static void groups_without_a_key_hand_their_entries_up(void **state)
{
    (void)state;
    dw_report *r = dw_report_create();
    dw_item *root = dw_report_root(r);
    dw_item *open = dw_report_group(r, root, NULL, "Section", DW_STYLE_SECTION);
    (void)dw_report_integer(r, open, "n", "n", 7);
    (void)dw_report_text(r, open, NULL, "text only", "x");
    dw_item *object = dw_report_group(r, root, "o", NULL, DW_STYLE_SECTION);
    (void)dw_report_bool(r, object, "yes", NULL, true);
    dw_item *list = dw_report_list(r, root, "l", NULL);
    (void)dw_report_text(r, list, NULL, NULL, "a \"quoted\" \xc3\xa9\n");
    (void)dw_report_group(r, list, NULL, NULL, DW_STYLE_SECTION);
    (void)dw_report_null(r, root, "none", NULL, "why");
    char *text = json_of(r);
    json_t *j = parsed(text);
    assert_int_equal(json_object_size(j), 4);
    assert_int_equal(json_integer_value(json_object_get(j, "n")), 7);
    assert_true(json_is_true(json_object_get(json_object_get(j, "o"), "yes")));
    assert_string_equal(json_string_value(json_array_get(json_object_get(j, "l"), 0)),
                        "a \"quoted\" \xc3\xa9\n");
    assert_int_equal(json_object_size(json_array_get(json_object_get(j, "l"), 1)), 0);
    assert_true(json_is_null(json_object_get(j, "none")));
    /* Order of the tree. */
    assert_true(strstr(text, "\"n\"") < strstr(text, "\"o\""));
    assert_true(strstr(text, "\"l\"") < strstr(text, "\"none\""));
    json_decref(j);
    free(text);
    dw_report_destroy(r);
}

static void numbers_have_twelve_digits_and_what_is_no_number_is_null(void **state)
{
    (void)state;
    dw_report *r = dw_report_create();
    dw_item *root = dw_report_root(r);
    (void)dw_report_number(r, root, "third_k", NULL,
                           dw_number_of(1.0 / 3.0, DW_DIM_TEMPERATURE, 1));
    (void)dw_report_number(r, root, "nan", NULL, dw_number_plain(NAN, 3));
    (void)dw_report_number(r, root, "inf", NULL, dw_number_plain(-INFINITY, 3));
    (void)dw_report_number(r, root, "minus_nought", NULL, dw_number_plain(-0.0, 3));
    dw_number spread = dw_number_plain(2.5, 3);
    spread.low_si = 2.25;
    spread.high_si = 3.125;
    (void)dw_report_number(r, root, "x", NULL, spread);
    char *text = json_of(r);
    assert_non_null(strstr(text, "\"third_k\": 0.333333333333,"));
    assert_non_null(strstr(text, "\"nan\": null"));
    assert_non_null(strstr(text, "\"inf\": null"));
    assert_non_null(strstr(text, "\"minus_nought\": 0.0"));
    json_t *j = parsed(text);
    assert_close(json_real_value(json_object_get(j, "x_low")), 2.25, 0.0, 0.0);
    assert_close(json_real_value(json_object_get(j, "x_high")), 3.125, 0.0, 0.0);
    json_decref(j);
    free(text);
    dw_report_destroy(r);
}

static void tables_are_arrays_of_objects_in_si(void **state)
{
    (void)state;
    dw_report *r = dw_report_create();
    const dw_column columns[] = {
        {.key = "name", .label = "n", .is_text = true},
        {.key = "t_k", .label = "t", .number = dw_number_of(0.0, DW_DIM_TEMPERATURE, 3)},
        {.label = "text only", .is_text = true},
        {.key = "ok", .is_truth = true}};
    dw_item *table = dw_report_table(r, dw_report_root(r), "rows", "", columns, 4);
    dw_cell *cell = dw_report_row(r, table);
    cell[0].text = "a";
    cell[1].si = 1456.15;
    cell[3].si = 0.0;
    cell = dw_report_row(r, table);
    (void)cell;
    (void)dw_report_table(r, dw_report_root(r), "empty", "", columns, 4);
    char *text = json_of(r);
    json_t *j = parsed(text);
    const json_t *rows = json_object_get(j, "rows");
    assert_int_equal(json_array_size(rows), 2);
    const json_t *first = json_array_get(rows, 0), *second = json_array_get(rows, 1);
    assert_int_equal(json_object_size(first), 3);
    assert_close(json_real_value(json_object_get(first, "t_k")), 1456.15, 1e-12, 0.0);
    assert_true(json_is_false(json_object_get(first, "ok")));
    assert_true(json_is_null(json_object_get(second, "name")));
    assert_true(json_is_null(json_object_get(second, "t_k")));
    assert_true(json_is_null(json_object_get(second, "ok")));
    assert_int_equal(json_array_size(json_object_get(j, "empty")), 0);
    json_decref(j);
    free(text);
    dw_report_destroy(r);
}

static void sentences_are_texts_with_metric_numbers(void **state)
{
    (void)state;
    dw_report *r = dw_report_create();
    dw_item *line = dw_report_line(r, dw_report_root(r), "text", NULL, "draft {0}");
    (void)dw_report_number(r, line, NULL, NULL, dw_number_draft(7.31));
    char *text = json_of(r);
    assert_non_null(strstr(text, "\"text\": \"draft 7.31 Pa\""));
    free(text);
    dw_report_destroy(r);
}

static void bytes_that_are_no_utf8_still_give_json(void **state)
{
    (void)state;
    dw_report *r = dw_report_create();
    (void)dw_report_text(r, dw_report_root(r), "path", NULL, "a\xff\xc3(b");
    char *text = json_of(r);
    json_t *j = parsed(text);
    assert_string_equal(json_string_value(json_object_get(j, "path")), "a??" "(b");
    json_decref(j);
    free(text);
    dw_report_destroy(r);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(groups_without_a_key_hand_their_entries_up),
        cmocka_unit_test(numbers_have_twelve_digits_and_what_is_no_number_is_null),
        cmocka_unit_test(tables_are_arrays_of_objects_in_si),
        cmocka_unit_test(sentences_are_texts_with_metric_numbers),
        cmocka_unit_test(bytes_that_are_no_utf8_still_give_json),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

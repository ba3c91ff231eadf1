/* Values of a tree by their JSON path. */
#include <string.h>

#include "check.h"
#include "sample_numbers.h"
#include "report_tree.h"

static dw_report *sample(void)
{
    dw_report *r = dw_report_create();
    dw_item *root = dw_report_root(r);
    dw_item *open = dw_report_group(r, root, NULL, "Section", DW_STYLE_SECTION);
    (void)dw_report_number(r, open, "ratio", "a ratio", dw_number_plain(1.0625, 4));
    (void)dw_report_null(r, open, "plane_m", "plane", "above the top");
    dw_item *gas = dw_report_group(r, root, "gas", NULL, DW_STYLE_SECTION);
    (void)dw_report_number(r, gas, "CO", NULL, dw_number_share(0.0125, 3));
    (void)dw_report_bool(r, gas, "smoky", NULL, false);
    (void)dw_report_integer(r, root, "rounds", NULL, 7);
    dw_item *list = dw_report_list(r, root, "list", NULL);
    (void)dw_report_text(r, list, NULL, NULL, "first");
    dw_item *entry = dw_report_group(r, list, NULL, NULL, DW_STYLE_SECTION);
    (void)dw_report_text(r, entry, "word", NULL, "second");
    const dw_column columns[] = {
        {.key = "name", .label = "name", .is_text = true},
        {.key = "m", .label = "flow", .number = dw_number_of(0.0, DW_DIM_MASS_FLOW, 3)}};
    dw_item *table = dw_report_table(r, root, "flows", "Flows", columns, 2);
    for (int i = 0; i < 2; i++) {
        dw_cell *cell = dw_report_row(r, table);
        cell[0].text = i == 0 ? "left" : "right";
        cell[1].si = 0.25 + i;
    }
    return r;
}

static void values_are_found(void **state)
{
    (void)state;
    dw_report *r = sample();
    dw_found f;
    assert_true(dw_report_find(r, "ratio", &f) && f.is_number);
    assert_close(f.number.si, 1.0625, 0.0, 0.0);
    assert_string_equal(f.label, "a ratio");
    assert_true(dw_report_find(r, "gas.CO", &f) && f.is_number && f.label == NULL);
    assert_int_equal(f.number.dim, DW_DIM_RATIO);
    assert_true(dw_report_find(r, "gas.smoky", &f) && !f.is_number);
    assert_string_equal(f.text, "no");
    assert_true(dw_report_find(r, "plane_m", &f) && f.is_null && !f.is_number);
    assert_string_equal(f.text, "above the top");
    assert_true(dw_report_find(r, "rounds", &f) && f.is_number);
    assert_close(f.number.si, 7.0, 0.0, 0.0);
    assert_true(dw_report_find(r, "list.0", &f));
    assert_string_equal(f.text, "first");
    assert_true(dw_report_find(r, "list.1.word", &f));
    assert_string_equal(f.text, "second");
    assert_true(dw_report_find(r, "flows.1.m", &f) && f.is_number);
    assert_close(f.number.si, 1.25, 0.0, 0.0);
    assert_int_equal(f.number.dim, DW_DIM_MASS_FLOW);
    assert_true(dw_report_find(r, "flows.0.name", &f));
    assert_string_equal(f.text, "left");
    dw_report_destroy(r);
}

static void what_is_not_there_is_not_found(void **state)
{
    (void)state;
    static const char *const none[] = {"",         "rati",     "ratio.x",   "gas",     "gas.",
                                       "gas.CO.x", "list.2",   "list.-1",   "list.x",  "list.1",
                                       "flows",    "flows.2.m", "flows.0",  "flows.0.x",
                                       "flows.0.m.x", "..", "list.99999999999"};
    dw_report *r = sample();
    for (size_t i = 0; i < sizeof none / sizeof none[0]; i++) {
        dw_found f;
        if (dw_report_find(r, none[i], &f)) print_error("found '%s'\n", none[i]);
        assert_false(dw_report_find(r, none[i], &f));
    }
    dw_report_destroy(r);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(values_are_found),
        cmocka_unit_test(what_is_not_there_is_not_found),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

/* The tree that reports are made of: order, ownership, tables, failures that stick. */

#include <string.h>

#include "check.h"
#include "report_tree.h"

static void children_keep_their_order_and_texts_are_copied(void **state)
{
    (void)state;
    dw_report *r = dw_report_create();
    dw_item *root = dw_report_root(r);
    char text[] = "first";
    dw_item *a = dw_report_text(r, root, "a", NULL, text);
    dw_item *b = dw_report_integer(r, root, "b", "B", 37);
    dw_item *c = dw_report_null(r, root, NULL, "C", "no reason");
    text[0] = 'X';
    assert_ptr_equal(root->first, a);
    assert_ptr_equal(a->next, b);
    assert_ptr_equal(b->next, c);
    assert_null(c->next);
    assert_string_equal(a->text, "first");
    assert_int_equal(b->integer, 37);
    assert_string_equal(c->note, "no reason");
    assert_string_equal(dw_report_keepf(r, "%s-%d", "left", 13), "left-13");
    assert_false(dw_report_failed(r));
    dw_report_destroy(r);
}

static void tables_grow_and_new_cells_have_no_value(void **state)
{
    (void)state;
    dw_report *r = dw_report_create();
    const dw_column columns[] = {{.key = "name", .is_text = true},
                                 {.key = "x_m", .number = dw_number_of(0.0, DW_DIM_LENGTH, 3)}};
    dw_item *item = dw_report_table(r, dw_report_root(r), "rows", NULL, columns, 2);
    for (int i = 0; i < 137; ++i) {
        dw_cell *cell = dw_report_row(r, item);
        assert_non_null(cell);
        assert_null(cell[0].text);
        assert_true(isnan(cell[1].si));
        cell[1].si = 0.25 * i;
    }
    assert_int_equal(item->table->row_count, 137);
    for (int i = 0; i < 137; ++i) {
        assert_close(item->table->cell[2 * i + 1].si, 0.25 * i, 0.0, 0.0);
    }
    dw_report_destroy(r);
}

static void texts_longer_than_a_piece_of_the_arena_fit(void **state)
{
    (void)state;
    static char text[50001];
    memset(text, 'q', sizeof text - 1);
    dw_report *r = dw_report_create();
    const char *kept = dw_report_keep(r, text);
    const char *after = dw_report_keep(r, "small");
    assert_string_equal(kept, text);
    assert_string_equal(after, "small");
    dw_report_destroy(r);
}

static void failures_stick_and_null_parents_are_harmless(void **state)
{
    (void)state;
    dw_report *r = dw_report_create();
    dw_item *root = dw_report_root(r);
    assert_null(dw_report_text(r, NULL, "a", NULL, "x"));
    assert_false(dw_report_failed(r));
    dw_report_fail(r);
    assert_true(dw_report_failed(r));
    assert_null(dw_report_text(r, root, "a", NULL, "x"));
    assert_null(dw_report_keep(r, "x"));
    assert_null(dw_report_row(r, NULL));
    dw_report_note(r, NULL, "x");
    dw_report_mark(NULL, "x");
    assert_null(root->first);
    dw_report_destroy(r);
    assert_true(dw_report_failed(NULL));
    assert_null(dw_report_root(NULL));
    dw_report_destroy(NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(children_keep_their_order_and_texts_are_copied),
        cmocka_unit_test(tables_grow_and_new_cells_have_no_value),
        cmocka_unit_test(texts_longer_than_a_piece_of_the_arena_fit),
        cmocka_unit_test(failures_stick_and_null_parents_are_harmless),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

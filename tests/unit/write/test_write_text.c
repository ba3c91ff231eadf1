/* The tree as text: columns, wrapping, tables, holes in sentences, what a terminal must not see. */

#include <string.h>

#include "check.h"
#include "sample_numbers.h"
#include "show_number.h"
#include "writers.h"

typedef struct sheet {
    dw_report *report;
    dw_item *root;
    dw_strbuf out;
} sheet;

static sheet begin(void)
{
    sheet s = {.report = dw_report_create()};
    s.root = dw_report_root(s.report);
    dw_strbuf_init(&s.out);
    return s;
}

static const char *text_of(sheet *s, dw_unit_system system)
{
    assert_int_equal(dw_write_text(s->report, system, &s->out), DW_OK);
    return s->out.text;
}

static void end(sheet *s)
{
    dw_strbuf_free(&s->out);
    dw_report_destroy(s->report);
}

static void a_section_has_a_heading_and_two_columns(void **state)
{
    (void)state;
    sheet s = begin();
    dw_item *g = dw_report_group(s.report, s.root, NULL, "Heat", DW_STYLE_SECTION);
    dw_item *a =
        dw_report_number(s.report, g, "a_w", "net", dw_number_of(55570.0, DW_DIM_POWER, 3));
    dw_report_mark(a, "default");
    dw_report_note(s.report, a, "a remark");
    (void)dw_report_number(s.report, g, "hidden_w", NULL, dw_number_of(1.0, DW_DIM_POWER, 3));
    (void)dw_report_bool(s.report, g, NULL, "smoky", false);
    (void)dw_report_null(s.report, g, "n", "plane", "outside");
    assert_string_equal(text_of(&s, DW_UNITS_METRIC),
                        "Heat\n"
                        "----\n"
                        "  net                               55.6 kW [default]   a remark\n"
                        "  smoky                             no\n"
                        "  plane                             outside\n");
    end(&s);
}

static void holes_take_the_children_in_order(void **state)
{
    (void)state;
    sheet s = begin();
    dw_item *line =
        dw_report_line(s.report, s.root, NULL, "", "{1} at {0}, {0#} bare, {2}, {9} {x}");
    (void)dw_report_number(s.report, line, NULL, NULL, dw_number_draft(3.21));
    (void)dw_report_text(s.report, line, NULL, NULL, "name {0}");
    (void)dw_report_integer(s.report, line, NULL, NULL, -17);
    dw_strbuf out;
    dw_strbuf_init(&out);
    dw_write_plain(line, DW_UNITS_METRIC, &out);
    assert_string_equal(out.text, "name {0} at 3.21 Pa, 3.21 bare, -17, {9} {x}");
    dw_strbuf_free(&out);
    end(&s);
}

static void sentences_are_wrapped_at_the_margin_but_not_inside_a_quantity(void **state)
{
    (void)state;
    sheet s = begin();
    dw_item *g = dw_report_group(s.report, s.root, NULL, "", DW_STYLE_PROSE);
    dw_item *line = dw_report_line(
        s.report, g, NULL, "NOTE",
        "this sentence has as many words as are needed to bring what follows to {0} of draft");
    (void)dw_report_number(s.report, line, NULL, NULL, dw_number_draft(31.4));
    assert_string_equal(text_of(&s, DW_UNITS_US),
                        "NOTE     this sentence has as many words as are needed to bring what "
                        "follows to\n"
                        "         0.126 in w.c. of draft\n");
    end(&s);
}

static void a_sentence_with_a_limit_is_cut_and_says_so(void **state)
{
    (void)state;
    sheet s = begin();
    dw_item *g = dw_report_group(s.report, s.root, NULL, NULL, DW_STYLE_PLAIN);
    dw_item *item = dw_report_text(s.report, g, NULL, "",
                                   "one two three four five six seven eight nine ten eleven twelve "
                                   "thirteen fourteen fifteen");
    item->max_lines = 1;
    const char *text = text_of(&s, DW_UNITS_METRIC);
    assert_int_equal(strcspn(text, "\n") + 1, strlen(text));
    assert_true(strlen(text) <= DW_TEXT_WIDTH + 1);
    assert_non_null(strstr(text, " ...\n"));
    end(&s);
}

static void a_word_longer_than_the_line_is_broken(void **state)
{
    (void)state;
    sheet s = begin();
    dw_item *g = dw_report_group(s.report, s.root, NULL, NULL, DW_STYLE_PLAIN);
    char word[201];
    memset(word, 'w', 200);
    word[200] = '\0';
    (void)dw_report_text(s.report, g, NULL, "", word);
    const char *text = text_of(&s, DW_UNITS_METRIC);
    assert_int_equal(strlen(text), 203);
    assert_int_equal(strcspn(text, "\n"), DW_TEXT_WIDTH);
    end(&s);
}

static dw_item *sample_table(sheet *s)
{
    const dw_column columns[] = {
        {.key = "name", .label = "name", .is_text = true},
        {.key = "p_pa", .label = "draft\nflue", .number = dw_number_draft(0.0)},
        {.key = "ok", .label = "ok", .is_truth = true},
        {.key = "why", .is_text = true}};
    dw_item *item = dw_report_table(s->report, s->root, "rows", "", columns, 4);
    dw_cell *cell = dw_report_row(s->report, item);
    cell[0].text = "caf\xc3\xa9";
    cell[1].si = -2.57;
    cell[2].si = 1.0;
    cell = dw_report_row(s->report, item);
    cell[0].text = "b";
    cell[2].si = 0.0;
    cell = dw_report_row(s->report, item);
    cell[0].text = "c";
    cell[3].text = "stalls";
    return item;
}

static void tables_line_up_and_rows_without_numbers_give_the_reason(void **state)
{
    (void)state;
    sheet s = begin();
    dw_item *item = sample_table(&s);
    item->table->lead_count = 1;
    item->table->reason_column = 3;
    item->table->reason_lead = "not solved: ";
    assert_string_equal(text_of(&s, DW_UNITS_METRIC),
                        "  name  draft   ok\n"
                        "         flue\n"
                        "           Pa\n"
                        "  caf\xc3\xa9  -2.57  yes\n"
                        "  b         -   no\n"
                        "  c     not solved: stalls\n");
    end(&s);
}

static void words_at_the_end_of_a_row_go_on_below_themselves(void **state)
{
    (void)state;
    sheet s = begin();
    const dw_column columns[] = {{.label = "name", .is_text = true},
                                 {.label = "flow", .number = dw_number_of(NAN, DW_DIM_MASS_FLOW, 3)},
                                 {.label = "what it does to the fire", .is_text = true},
                                 {.key = "hidden", .number = dw_number_plain(NAN, 3)}};
    dw_item *table = dw_report_table(s.report, s.root, "t", "", columns, 4);
    dw_cell *cell = dw_report_row(s.report, table);
    cell[0].text = "port";
    cell[1].si = 0.01;
    cell[2].text = "draws in air that has not been counted before and that cools the lower part "
                   "of the setting";
    cell = dw_report_row(s.report, table);
    cell[0].text = "bung";
    cell[1].si = 0.0125;
    cell[2].text = "nothing";
    cell = dw_report_row(s.report, table);
    cell[0].text = "flue";
    cell[1].si = NAN;
    cell[2].text = NULL;
    assert_string_equal(text_of(&s, DW_UNITS_METRIC),
                        "  name  flow  what it does to the fire\n"
                        "        kg/h\n"
                        "  port  36.0  draws in air that has not been counted before and that "
                        "cools the\n"
                        "              lower part of the setting\n"
                        "  bung  45.0  nothing\n"
                        "  flue     -  -\n");
    end(&s);
}

static void names_cannot_steer_a_terminal(void **state)
{
    (void)state;
    sheet s = begin();
    dw_item *g = dw_report_group(s.report, s.root, NULL, "T\x1b[31m", DW_STYLE_SECTION);
    (void)dw_report_text(s.report, g, NULL, "a\nb", "x\x1b]0;y\x07z\x7f\xc2\x9b" "1m \xc2\xb5");
    const char *text = text_of(&s, DW_UNITS_METRIC);
    for (const char *p = text; *p != '\0'; ++p) {
        assert_false(((unsigned char)*p < 0x20 && *p != '\n') || *p == 0x7f);
    }
    assert_null(strstr(text, "\xc2\x9b"));
    assert_non_null(strstr(text, "\xc2\xb5"));
    assert_non_null(strstr(text, "a b "));
    end(&s);
}

static void a_spread_is_shown_with_its_number(void **state)
{
    (void)state;
    sheet s = begin();
    dw_item *g = dw_report_group(s.report, s.root, NULL, "", DW_STYLE_SECTION);
    dw_number n = dw_number_of(1473.15, DW_DIM_TEMPERATURE, 12);
    n.resolution_si = 1.0;
    n.low_si = 1463.15;
    n.high_si = 1480.15;
    (void)dw_report_number(s.report, g, NULL, "peak", n);
    assert_string_equal(text_of(&s, DW_UNITS_METRIC),
                        "  peak                              1200 degC (1190 to 1207)\n");
    end(&s);
}

static void a_failed_tree_gives_no_text(void **state)
{
    (void)state;
    sheet s = begin();
    dw_report_fail(s.report);
    assert_int_equal(dw_write_text(s.report, DW_UNITS_METRIC, &s.out), DW_ERR_NOMEM);
    assert_int_equal(dw_write_json(s.report, &s.out), DW_ERR_NOMEM);
    assert_int_equal(dw_write_csv(s.report, DW_UNITS_METRIC, &s.out), DW_ERR_NOMEM);
    assert_int_equal(s.out.length, 0);
    end(&s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_section_has_a_heading_and_two_columns),
        cmocka_unit_test(holes_take_the_children_in_order),
        cmocka_unit_test(sentences_are_wrapped_at_the_margin_but_not_inside_a_quantity),
        cmocka_unit_test(a_sentence_with_a_limit_is_cut_and_says_so),
        cmocka_unit_test(a_word_longer_than_the_line_is_broken),
        cmocka_unit_test(tables_line_up_and_rows_without_numbers_give_the_reason),
        cmocka_unit_test(words_at_the_end_of_a_row_go_on_below_themselves),
        cmocka_unit_test(names_cannot_steer_a_terminal),
        cmocka_unit_test(a_spread_is_shown_with_its_number),
        cmocka_unit_test(a_failed_tree_gives_no_text),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

/* The tree as CSV: quoting, names with units, the main table, the flat form. */

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "sample_numbers.h"
#include "writers.h"

static void assert_csv(dw_report *r, dw_unit_system system, const char *expected)
{
    dw_strbuf out;
    dw_strbuf_init(&out);
    assert_int_equal(dw_write_csv(r, system, &out), DW_OK);
    assert_string_equal(out.text, expected);
    dw_strbuf_free(&out);
    dw_report_destroy(r);
}

static dw_report *with_table(void)
{
    dw_report *r = dw_report_create();
    const dw_column columns[] = {
        {.key = "name", .label = "n", .is_text = true},
        {.key = "draft_pa", .label = "d", .number = dw_number_draft(0.0)},
        {.key = "damper", .label = "x", .number = dw_number_share(0.0, 3)},
        {.label = "not in CSV", .is_text = true},
        {.key = "solved", .is_truth = true}};
    dw_item *group = dw_report_group(r, dw_report_root(r), NULL, NULL, DW_STYLE_SECTION);
    dw_item *item = dw_report_table(r, group, "rows", "", columns, 5);
    item->table->is_main = true;
    (void)dw_report_text(r, dw_report_root(r), "other", NULL, "left out");
    dw_cell *cell = dw_report_row(r, item);
    cell[0].text = "a \"b\", c";
    cell[1].si = 24.908891;
    cell[2].si = 0.35;
    cell[4].si = 1.0;
    cell = dw_report_row(r, item);
    cell[0].text = "two\nlines";
    cell[4].si = 0.0;
    return r;
}

static void the_main_table_has_units_in_its_names_and_quotes_where_needed(void **state)
{
    (void)state;
    assert_csv(with_table(), DW_UNITS_METRIC,
               "name,draft_Pa,damper,solved\r\n"
               "\"a \"\"b\"\", c\",24.908891,0.35,true\r\n"
               "\"two\nlines\",,,false\r\n");
    assert_csv(with_table(), DW_UNITS_US,
               "name,draft_in_w_c,damper,solved\r\n"
               "\"a \"\"b\"\", c\",0.1,0.35,true\r\n"
               "\"two\nlines\",,,false\r\n");
}

static void what_would_be_a_formula_is_quoted(void **state)
{
    (void)state;
    static const struct {
        const char *text, *shown;
    } cases[] = {{"=1+1", "'=1+1"},
                 {"=HYPERLINK(\"http://x\",\"y\")", "\"'=HYPERLINK(\"\"http://x\"\",\"\"y\"\")\""},
                 {"+A1", "'+A1"},
                 {"-A1", "'-A1"},
                 {"-2+3+cmd|' /C calc'!A0", "'-2+3+cmd|' /C calc'!A0"},
                 {"@SUM(A1)", "'@SUM(A1)"},
                 {"\t=1", "'\t=1"},
                 {"\r=1", "\"'\r=1\""},
                 {"-", "'-"},
                 {"-25 Pa", "-25 Pa"},
                 {"-8.2", "-8.2"},
                 {"+.5 in", "+.5 in"},
                 {"a=1", "a=1"},
                 {"", ""}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; ++i) {
        dw_report *r = dw_report_create();
        char expected[200];
        (void)dw_report_text(r, dw_report_root(r), "name", NULL, cases[i].text);
        (void)snprintf(expected, sizeof expected, "key,value,unit,label\r\nname,%s,,\r\n", cases[i].shown);
        assert_csv(r, DW_UNITS_METRIC, expected);
    }
    /* In a table, and in a sentence that begins with a name; numbers stay numbers. */
    dw_report *r = dw_report_create();
    const dw_column columns[] = {{.key = "name", .is_text = true},
                                 {.key = "x", .number = dw_number_plain(0.0, 3)}};
    dw_item *item = dw_report_table(r, dw_report_root(r), "rows", "", columns, 2);
    item->table->is_main = true;
    dw_cell *cell = dw_report_row(r, item);
    cell[0].text = "=A1";
    cell[1].si = -2.5;
    assert_csv(r, DW_UNITS_METRIC, "name,x\r\n'=A1,-2.5\r\n");
    r = dw_report_create();
    dw_item *line = dw_report_line(r, dw_report_root(r), "said", NULL, "{0}: high");
    (void)dw_report_text(r, line, NULL, NULL, "@flue");
    assert_csv(r, DW_UNITS_METRIC, "key,value,unit,label\r\nsaid,'@flue: high,,\r\n");
}

/* In pieces of any size a long table is what it is as a whole. */
static void a_long_table_can_be_written_in_pieces(void **state)
{
    (void)state;
    enum { ROWS = 7 };
    const dw_column columns[] = {{.key = "name", .is_text = true},
                                 {.key = "draft_pa", .number = dw_number_draft(0.0)}};
    for (int json = 0; json < 2; ++json) {
        char *whole = NULL;
        for (size_t piece = ROWS + 1; piece > 0; --piece) {
            dw_report *r = dw_report_create();
            dw_item *root = dw_report_root(r);
            (void)dw_report_text(r, root, "before", NULL, "b");
            dw_item *item = dw_report_table(r, root, "rows", "", columns, 2);
            item->table->is_main = true;
            item->table->caution = "careful";
            dw_long_table t = {.report = r, .table = item, .system = DW_UNITS_METRIC};
            const dw_report_point point = dw_report_here(r);
            dw_strbuf out;
            dw_strbuf_init(&out);
            if (json) dw_write_json_head(&t, &out);
            if (!json) dw_write_csv_head(&t, &out);
            for (int i = 0; i < ROWS; ++i) {
                dw_cell *cell = dw_report_row(r, item);
                cell[0].text = dw_report_keepf(r, "row %d", i);
                cell[1].si = i;
                if (item->table->row_count < piece) continue;
                if (json) dw_write_json_rows(&t, &out);
                if (!json) dw_write_csv_rows(&t, &out);
                dw_report_rows_done(r, item->table, point);
            }
            (void)dw_report_text(r, root, "after", NULL, "a");
            dw_strbuf all;
            dw_strbuf_init(&all);
            if (json) {
                /* Larger than the table: all of it is still there. */
                if (piece > ROWS) assert_int_equal(dw_write_json(r, &all), DW_OK);
                dw_write_json_rows(&t, &out);
                dw_write_json_rest(&t, &out);
            } else {
                if (piece > ROWS) assert_int_equal(dw_write_csv(r, DW_UNITS_METRIC, &all), DW_OK);
                dw_write_csv_rows(&t, &out);
            }
            if (piece > ROWS) whole = dw_strbuf_take(&all);
            assert_string_equal(out.text, whole);
            dw_strbuf_free(&all);
            dw_strbuf_free(&out);
            dw_report_destroy(r);
        }
        assert_non_null(strstr(whole, "row 6"));
        free(whole);
    }
}

static void other_trees_give_a_row_per_value(void **state)
{
    (void)state;
    dw_report *r = dw_report_create();
    dw_item *root = dw_report_root(r);
    dw_item *open = dw_report_group(r, root, NULL, "Section", DW_STYLE_SECTION);
    (void)dw_report_number(r, open, "heat_w", "heat, net", dw_number_of(55570.0, DW_DIM_POWER, 2));
    (void)dw_report_null(r, open, "plane_m", NULL, "outside");
    dw_item *object = dw_report_group(r, root, "solver", NULL, DW_STYLE_SECTION);
    (void)dw_report_integer(r, object, "rounds", NULL, 7);
    dw_item *list = dw_report_list(r, root, "l", NULL);
    dw_item *line = dw_report_line(r, list, NULL, NULL, "draft {0}");
    (void)dw_report_number(r, line, NULL, NULL, dw_number_draft(7.31));
    (void)dw_report_bool(r, list, NULL, NULL, true);
    const dw_column columns[] = {
        {.key = "name", .is_text = true},
        {.key = "m_kg_s", .number = dw_number_of(0.0, DW_DIM_MASS_FLOW, 3)}};
    dw_cell *cell = dw_report_row(r, dw_report_table(r, root, "flows", NULL, columns, 2));
    cell[0].text = "flue";
    cell[1].si = 0.0125;
    assert_csv(r, DW_UNITS_METRIC,
               "key,value,unit,label\r\n"
               "heat_kW,55.57,kW,\"heat, net\"\r\n"
               "plane_m,,,\r\n"
               "solver.rounds,7,,\r\n"
               "l.0,draft 7.31 Pa,,\r\n"
               "l.1,true,,\r\n"
               "flows.0.name,flue,,\r\n"
               "flows.0.m_kg_h,45,kg/h,\r\n");
}

static void a_main_table_carries_the_caution_once(void **state)
{
    (void)state;
    dw_report *r = with_table();
    dw_item *group = dw_report_root(r)->first;
    group->first->table->caution = "take care, always";
    assert_csv(r, DW_UNITS_METRIC,
               "name,draft_Pa,damper,solved,caution\r\n"
               "\"a \"\"b\"\", c\",24.908891,0.35,true,\"take care, always\"\r\n"
               "\"two\nlines\",,,false,\r\n");
}

/* A program that reads the file looks for a key: neither the size of a number nor its absence may
 * change it. */
static void a_key_is_the_same_for_every_number(void **state)
{
    (void)state;
    const double sizes_pa[] = {50.0, 20000.0};
    const char *const rows[] = {"0.05", "20"};
    for (int i = 0; i < 2; ++i) {
        dw_report *r = dw_report_create();
        dw_item *root = dw_report_root(r);
        (void)dw_report_number(r, root, "gas_pa", NULL,
                               dw_number_input(sizes_pa[i], DW_DIM_PRESSURE_GAUGE));
        (void)dw_report_number(r, root, "site_pa_abs", NULL,
                               dw_number_input(98765.0, DW_DIM_PRESSURE_ABS));
        dw_item *null = dw_report_null(r, root, "heat_w", NULL, "none");
        null->number = dw_number_of(NAN, DW_DIM_POWER, 3);
        (void)dw_report_text(r, root, "unit", NULL, "Pa");
        char expected[200];
        (void)snprintf(expected, sizeof expected,
                       "key,value,unit,label\r\n"
                       "gas_kPa,%s,kPa,\r\n"
                       "site_kPa_abs,98.765,kPa,\r\n"
                       "heat_kW,,kW,\r\n",
                       rows[i]);
        assert_csv(r, DW_UNITS_METRIC, expected);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_main_table_has_units_in_its_names_and_quotes_where_needed),
        cmocka_unit_test(what_would_be_a_formula_is_quoted),
        cmocka_unit_test(a_long_table_can_be_written_in_pieces),
        cmocka_unit_test(other_trees_give_a_row_per_value),
        cmocka_unit_test(a_main_table_carries_the_caution_once),
        cmocka_unit_test(a_key_is_the_same_for_every_number),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

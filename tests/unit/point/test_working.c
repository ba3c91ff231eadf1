/* The working: every step's own formula gives the model's number, and the steps hang together from
 * what was put in to the end. */
#include "check.h"

#include <stdlib.h>
#include <string.h>

#include "kit.h"
#include "rules.h"
#include "work_check.h"
#include "working_parts.h"
#include "working_point.h"

/* Agreement that is asked of model and formula: rounding, on the scale of what is added up. */
static const double TOLERANCE = 1e-9;

typedef struct work {
    dw_kiln kiln;
    dw_result result;
    dw_working *w;
    dw_status status;
} work;

static work work_of(const dw_kiln *kiln)
{
    work x = {.kiln = *kiln, .w = dw_working_create()};
    assert_non_null(x.w);
    x.status = dw_working_point(kit_model(), kiln, x.w, &x.result);
    if (x.status == DW_ERR_BUG) print_error("a formula is none\n");
    assert_true(x.status == DW_OK || x.status == DW_ERR_NO_CONVERGE || x.status == DW_ERR_DOMAIN);
    return x;
}

static void every_formula_gives_the_models_number(void **state)
{
    (void)state;
    size_t steps = 0;
    int bad = 0;
    for (int i = 0; kit_examples[i] != NULL; i++) {
        dw_kiln_file file;
        kit_example(kit_examples[i], &file);
        work x = work_of(&file.kiln);
        assert_int_equal(x.status, DW_OK);
        bad += work_check_steps(x.w, x.kiln.name, TOLERANCE);
        steps += dw_working_step_count(x.w);
        dw_working_destroy(x.w);
    }
    print_message("%zu steps of the examples\n", steps);
    assert_int_equal(bad, 0);
}

static void so_it_is_for_random_kilns(void **state)
{
    (void)state;
    kit_random random = kit_seed(20260101);
    const int cases = kit_cases("DW_WORKING_CASES", 60);
    int solved = 0, bad = 0;
    for (int i = 0; i < cases; i++) {
        dw_kiln kiln;
        kit_random_kiln(&random, &kiln);
        kiln.settings.graphite = i % 7 == 3;
        /* A thin jet, whose coefficient is a step of its own. */
        if (i % 5 == 2) kiln.burner[0].jet_discharge_coeff = NAN;
        if (i % 6 == 1) {
            kiln.operating.gauge = DW_GAUGE_MANIFOLD;
            kiln.operating.supply_static_pa = 12e3;
            kiln.operating.supply_running_pa = 8e3;
        }
        work x = work_of(&kiln);
        if (x.status == DW_OK) {
            solved++;
            bad += work_check_steps(x.w, x.kiln.name, TOLERANCE);
        } else {
            assert_int_equal(dw_working_step_count(x.w), 0);
        }
        dw_working_destroy(x.w);
    }
    print_message("%d of %d random kilns solved\n", solved, cases);
    assert_true(solved > cases / 2);
    assert_int_equal(bad, 0);
}

static void the_steps_hang_together(void **state)
{
    (void)state;
    int bad = 0;
    for (int i = 0; kit_examples[i] != NULL; i++) {
        dw_kiln_file file;
        kit_example(kit_examples[i], &file);
        work x = work_of(&file.kiln);
        bad += work_check_chain(x.w, x.kiln.name, 1e-7);
        dw_working_destroy(x.w);
    }
    assert_int_equal(bad, 0);
}

/* Rows of the table of flows carry the symbol of the step that gave them. */
static void flows_that_are_added_up_are_those_of_the_steps(void **state)
{
    (void)state;
    int rows = 0;
    for (int i = 0; kit_examples[i] != NULL; i++) {
        dw_kiln_file file;
        kit_example(kit_examples[i], &file);
        work x = work_of(&file.kiln);
        for (size_t t = 0; t < dw_working_table_count(x.w); t++) {
            const dw_work_table *table = dw_working_table(x.w, t);
            if (strcmp(table->row_title, "flow") != 0) continue;
            const dw_work_quantity *in = dw_working_quantity(x.w, table->column[0]);
            const dw_work_quantity *out = dw_working_quantity(x.w, table->column[1]);
            for (size_t k = 0; k < table->rows; k++) {
                char symbol[40];
                (void)snprintf(symbol, sizeof symbol, "%.*s", (int)strcspn(table->row[k], " "),
                               table->row[k]);
                const dw_work_quantity *m = dw_working_find(x.w, symbol);
                if (m == NULL) print_error("no step '%s'\n", table->row[k]);
                assert_non_null(m);
                if (strcmp(symbol, "m_r") == 0) continue;
                assert_close(in->value[k] + out->value[k], m->value[0], 1e-12, 0.0);
                rows++;
            }
        }
        dw_working_destroy(x.w);
    }
    assert_true(rows > 40);
}

static void a_pressure_that_is_not_the_solution_does_not_balance(void **state)
{
    (void)state;
    dw_kiln_file file;
    kit_example("juniper-flat", &file);
    work x = work_of(&file.kiln);
    /* Pressures at floor, top, burners, openings, flue. */
    assert_true(work_check_moved(x.w, "p", 1.01) >= 7);
    assert_int_equal(work_check_moved(x.w, "no such symbol", 1.01), -1);
    dw_working_destroy(x.w);
}

static void what_is_not_solved_has_no_steps(void **state)
{
    (void)state;
    dw_kiln kiln;
    kit_plain_kiln(&kiln);
    kiln.operating.gas_pressure_pa = 0.0;
    kiln.burner[0].gas_pressure_pa = 0.0;
    work x = work_of(&kiln);
    assert_int_not_equal(x.status, DW_OK);
    assert_int_equal(dw_working_step_count(x.w), 0);
    assert_true(x.result.reason[0] != '\0');
    dw_working_destroy(x.w);
}

static void writing_down_a_working(void **state)
{
    (void)state;
    dw_working *w = dw_working_create();
    dw_work_section(w, "Part %d", 1);
    dw_work_put(w, DW_WORK_INPUT, "a", "given", "m", 3.5);
    dw_work_step_is(w, "", "b", "twice", "m", "2*a", NAN, "definition");
    dw_work_put(w, DW_WORK_INPUT, "a", "another of that name", "m", 1.25);
    dw_work_step_is(w, "key", "c", "sum", "m", "a + b", 8.25, "definition");
    dw_work_put(w, DW_WORK_SOLVED, "s", "found", "m", 7.0);
    dw_work_balance(w, "", "s", "holds", "s = b", "definition");
    const double x[3] = {0.25, 0.5, 0.75};
    dw_work_table_begin(w, "Rows", "row", 3);
    dw_work_row(w, 1, "the %s", "second");
    dw_work_column(w, DW_WORK_DATA, "x", "numbers", "", x);
    dw_work_column_is(w, "rows.*", "y", "squares", "m", "a*x^2", NULL, "definition");
    dw_work_step_is(w, "", "t", "all", "m", "sum(y)", NAN, "definition");
    assert_int_equal(dw_working_status(w), DW_OK);
    assert_close(dw_working_find(w, "b")->value[0], 7.0, 0.0, 0.0);
    assert_close(dw_working_find(w, "c")->value[0], 8.25, 0.0, 0.0);
    assert_close(dw_working_find(w, "t")->value[0], 1.25 * 0.875, 1e-15, 0.0);
    assert_int_equal(dw_working_find(w, "s")->step, 3);
    assert_string_equal(dw_working_table(w, 0)->row[1], "the second");
    assert_int_equal(dw_working_table(w, 0)->column_count, 2);
    assert_null(dw_working_find(w, "x"));
    assert_string_equal(dw_working_step(w, 1)->keys, "key");
    assert_int_equal(dw_working_item_count(w), 7);
    dw_work_step_is(w, "", "u", "of nothing", "m", "2*unknown", NAN, "definition");
    assert_int_equal(dw_working_status(w), DW_ERR_BUG);
    dw_working_destroy(w);
    dw_working_destroy(NULL);
}

/* Keys of rows, keys of another report, balances of a column. */
static void columns_have_keys_and_balances(void **state)
{
    (void)state;
    dw_working *w = dw_working_create();
    static const dw_work_rename list[] = {{"old.a", "new.a new.b"}, {"old.c", "new.c"}};
    dw_work_put(w, DW_WORK_INPUT, "a", "given", "", 2.25);
    dw_work_rename_keys(w, list, 2);
    dw_work_step_is(w, "old.x old.c old.a", "b", "half", "", "a/2", NAN, "definition");
    assert_string_equal(dw_working_step(w, 0)->keys, "new.c new.a new.b");
    dw_work_step_is(w, "old.x", "b", "half", "", "a/2", NAN, "definition");
    assert_string_equal(dw_working_step(w, 1)->keys, "");
    dw_work_drop_keys(w);
    dw_work_step_is(w, "old.a", "b", "half", "", "a/2", NAN, "definition");
    assert_string_equal(dw_working_step(w, 2)->keys, "");
    dw_work_rename_keys(w, NULL, 0);
    const double u[3] = {1.5, 0.5, 4.0}, root[3] = {2.25, 0.25, 16.0};
    dw_work_table_begin(w, "Squares", "row", 3);
    for (size_t i = 0; i < 3; i++) dw_work_row(w, i, "%c", (char)('x' + (int)i));
    assert_false(dw_working_table(w, 0)->has_row_keys);
    assert_string_equal(dw_working_table(w, 0)->row_key[2], "z");
    dw_work_row_key(w, 1, "%d.deep", 7);
    assert_true(dw_working_table(w, 0)->has_row_keys);
    assert_string_equal(dw_working_table(w, 0)->row_key[1], "7.deep");
    dw_work_column(w, DW_WORK_SOLVED, "u", "found", "", u);
    dw_work_column(w, DW_WORK_INPUT, "v", "given", "", root);
    dw_work_balance(w, "rows.*", "u", "squares", "u^2 = v", "definition");
    dw_work_step_is(w, "", "top", "largest", "", "largest(v) - betainc(0.5, 3.5, 3.5)", NAN,
                    "definition");
    assert_int_equal(dw_working_status(w), DW_OK);
    assert_string_equal(dw_working_step(w, 3)->keys, "rows.*");
    assert_int_equal(work_check_steps(w, "squares", 1e-15), 0);
    assert_int_equal(work_check_moved(w, "u", 1.001), 1);
    assert_close(dw_working_find(w, "top")->value[0], 15.5, 1e-14, 0.0);
    /* A text may be as long as it likes. */
    char *text = malloc(5000);
    assert_non_null(text);
    memset(text, 'k', 4999);
    text[4999] = '\0';
    assert_int_equal(strlen(dw_work_keepf(w, "%s+%s", text, text)), 9999);
    free(text);
    dw_work_table_begin(w, "Nothing", "row", 0);
    assert_int_equal(dw_working_status(w), DW_ERR_BUG);
    dw_working_destroy(w);
}

/* Every source named is in the register. */
static void sources_are_known(void **state)
{
    (void)state;
    const dw_data *data = kit_data();
    for (int i = 0; kit_examples[i] != NULL; i++) {
        dw_kiln_file file;
        kit_example(kit_examples[i], &file);
        work x = work_of(&file.kiln);
        dw_rule_finding findings[DW_RULE_FINDING_MAX];
        (void)dw_rules_look(data, &x.kiln, &x.result, x.w, findings);
        assert_int_equal(dw_working_status(x.w), DW_OK);
        assert_int_equal(work_check_sources(x.w, data), 0);
        dw_working_destroy(x.w);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_formula_gives_the_models_number),
        cmocka_unit_test(so_it_is_for_random_kilns),
        cmocka_unit_test(the_steps_hang_together),
        cmocka_unit_test(flows_that_are_added_up_are_those_of_the_steps),
        cmocka_unit_test(a_pressure_that_is_not_the_solution_does_not_balance),
        cmocka_unit_test(what_is_not_solved_has_no_steps),
        cmocka_unit_test(writing_down_a_working),
        cmocka_unit_test(columns_have_keys_and_balances),
        cmocka_unit_test(sources_are_known),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

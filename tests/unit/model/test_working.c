/* The working: every step's own formula gives the model's number, and the steps hang together from
 * what was put in to the end. */
#include "check.h"

#include <stdlib.h>
#include <string.h>

#include "kit.h"
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

/* The largest number that a step is made of in its own unit: a difference is no better than that. */
static double scale_of(const dw_working *w, const dw_work_step *s, double value)
{
    double scale = fabs(value);
    /* Heating values and enthalpies of formation are two sets of digits: part in 1e8 of the heat. */
    if (strcmp(s->keys, "closure.energy") == 0) return 10.0 * dw_working_find(w, "Q_net")->value[0];
    const size_t last = s->input_count > 0 ? s->input[s->input_count - 1] : DW_WORK_NONE;
    const size_t like = s->result != DW_WORK_NONE ? s->result : last;
    const char *unit = like != DW_WORK_NONE ? dw_working_quantity(w, like)->unit : NULL;
    for (size_t i = 0; i < s->input_count; i++) {
        const dw_work_quantity *q = dw_working_quantity(w, s->input[i]);
        if (unit == NULL || q->rows > 0 || strcmp(q->unit, unit) != 0) continue;
        scale = fmax(scale, fabs(q->value[0]));
    }
    return scale;
}

static void say(const work *x, size_t step, double got, double wanted)
{
    const dw_work_step *s = dw_working_step(x->w, step);
    const char *symbol =
        s->result != DW_WORK_NONE ? dw_working_quantity(x->w, s->result)->symbol : "balance";
    print_error("%s: step %zu, %s = %s: %.15g, wanted %.15g\n", x->kiln.name, step + 1, symbol,
                s->formula, got, wanted);
}

static int check_step(const work *x, size_t step, const double *const *numbers, double tolerance)
{
    const dw_work_step *s = dw_working_step(x->w, step);
    const dw_work_quantity *q =
        s->result != DW_WORK_NONE ? dw_working_quantity(x->w, s->result) : NULL;
    const size_t rows = q != NULL && q->rows > 0 ? q->rows : 1;
    int bad = 0;
    for (size_t i = 0; i < rows; i++) {
        double left, right;
        if (dw_working_evaluate(x->w, step, numbers, i, &left, &right) != DW_OK) {
            say(x, step, NAN, NAN);
            return 1;
        }
        const double wanted = s->is_balance ? right : q->value[i];
        /* Exact nought on one side, such as an element that is absent. */
        const double scale = fmax(scale_of(x->w, s, wanted), s->is_balance ? fabs(left) : 0.0);
        if (fabs(left - wanted) <= tolerance * scale) continue;
        say(x, step, left, wanted);
        bad++;
    }
    return bad;
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
        for (size_t k = 0; k < dw_working_step_count(x.w); k++) bad += check_step(&x, k, NULL, TOLERANCE);
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
        work x = work_of(&kiln);
        if (x.status == DW_OK) {
            solved++;
            for (size_t k = 0; k < dw_working_step_count(x.w); k++) bad += check_step(&x, k, NULL, TOLERANCE);
        } else {
            assert_int_equal(dw_working_step_count(x.w), 0);
        }
        dw_working_destroy(x.w);
    }
    print_message("%d of %d random kilns solved\n", solved, cases);
    assert_true(solved > cases / 2);
    assert_int_equal(bad, 0);
}

/* Every result is worked out from results worked out before: only what is put in and what is found by
 * solving comes from the model. */
static int check_chain(const work *x, double tolerance)
{
    const dw_working *w = x->w;
    const size_t count = dw_working_quantity_count(w);
    double **own = calloc(count, sizeof *own);
    assert_non_null(own);
    int bad = 0;
    for (size_t k = 0; k < dw_working_step_count(w); k++) {
        const dw_work_step *s = dw_working_step(w, k);
        const double *const *numbers = (const double *const *)own;
        bad += check_step(x, k, numbers, tolerance);
        if (s->is_balance) continue;
        const dw_work_quantity *q = dw_working_quantity(w, s->result);
        const size_t rows = q->rows > 0 ? q->rows : 1;
        double *got = malloc(rows * sizeof *got), right;
        assert_non_null(got);
        for (size_t i = 0; i < rows; i++) {
            assert_int_equal(dw_working_evaluate(w, k, numbers, i, &got[i], &right), DW_OK);
        }
        free(own[s->result]);
        own[s->result] = got;
    }
    for (size_t i = 0; i < count; i++) free(own[i]);
    free(own);
    return bad;
}

static void the_steps_hang_together(void **state)
{
    (void)state;
    int bad = 0;
    for (int i = 0; kit_examples[i] != NULL; i++) {
        dw_kiln_file file;
        kit_example(kit_examples[i], &file);
        work x = work_of(&file.kiln);
        bad += check_chain(&x, 1e-7);
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
    size_t p = 0;
    while (strcmp(dw_working_quantity(x.w, p)->symbol, "p") != 0) p++;
    const size_t count = dw_working_quantity_count(x.w);
    const double **numbers = calloc(count, sizeof *numbers);
    assert_non_null(numbers);
    const double moved = 1.01 * dw_working_quantity(x.w, p)->value[0];
    numbers[p] = &moved;
    int off = 0;
    for (size_t k = 0; k < dw_working_step_count(x.w); k++) {
        const dw_work_step *s = dw_working_step(x.w, k);
        double left, right;
        assert_int_equal(dw_working_evaluate(x.w, k, numbers, 0, &left, &right), DW_OK);
        const double value = s->is_balance ? right : dw_working_quantity(x.w, s->result)->value[0];
        off += !close_enough(left, value, 1e-6, 0.0);
    }
    /* Pressures at floor, top, burners, openings, flue. */
    assert_true(off >= 7);
    free(numbers);
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

/* Every source named is in the register. */
static void sources_are_known(void **state)
{
    (void)state;
    const dw_data *data = kit_data();
    for (int i = 0; kit_examples[i] != NULL; i++) {
        dw_kiln_file file;
        kit_example(kit_examples[i], &file);
        work x = work_of(&file.kiln);
        dw_working_rules(data, &x.kiln, 1e5, x.w);
        assert_int_equal(dw_working_status(x.w), DW_OK);
        for (size_t k = 0; k < dw_working_step_count(x.w); k++) {
            const char *key = dw_working_step(x.w, k)->source;
            bool found = false;
            for (size_t s = 0; s < data->source_count; s++) {
                found = found || strcmp(data->source[s].key, key) == 0;
            }
            if (!found) print_error("step %zu names source '%s'\n", k + 1, key);
            assert_true(found);
        }
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
        cmocka_unit_test(sources_are_known),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

/* Digits of a printed working: as few as will do, as many as it takes. */
#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "report_working.h"
#include "working_parts.h"

static double printed(const dw_work_digits *d, size_t step, size_t quantity)
{
    char text[DW_WORK_SHOWN_SIZE];
    dw_work_show_input(d, step, quantity, text);
    return strtod(text, NULL);
}

static void short_numbers_are_printed_whole(void **state)
{
    (void)state;
    dw_working *w = dw_working_create();
    dw_work_put(w, DW_WORK_INPUT, "a", "given", "m", 0.85);
    dw_work_put(w, DW_WORK_CONSTANT, "R", "constant", "", 8.314462618);
    dw_work_put(w, DW_WORK_INPUT, "h", "high up", "m", 1600.0);
    dw_work_put(w, DW_WORK_INPUT, "big", "large", "Pa", 250000.0);
    dw_work_step_is(w, "", "r", "result", "m", "a*R*h/big", NAN, "definition");
    dw_work_digits *d = dw_work_digits_find(w);
    static const char *const wanted[] = {"0.85", "8.314462618", "1600", "250000"};
    for (size_t q = 0; q < 4; q++) {
        char text[DW_WORK_SHOWN_SIZE];
        dw_work_show_input(d, 0, q, text);
        assert_string_equal(text, wanted[q]);
    }
    dw_work_digits_free(d);
    dw_working_destroy(w);
}

static void a_difference_of_near_numbers_takes_more_digits(void **state)
{
    (void)state;
    dw_working *w = dw_working_create();
    const double a = 1.0 / 3.0, b = a * (1.0 - 1.234567e-5);
    dw_work_put(w, DW_WORK_DATA, "a", "one", "", a);
    dw_work_put(w, DW_WORK_DATA, "b", "the other", "", b);
    dw_work_step_is(w, "", "sum", "rough", "", "a + b", NAN, "definition");
    dw_work_step_is(w, "", "diff", "fine", "", "a - b", NAN, "definition");
    dw_work_digits *d = dw_work_digits_find(w);
    char rough[DW_WORK_SHOWN_SIZE], fine[DW_WORK_SHOWN_SIZE], result[DW_WORK_SHOWN_SIZE];
    dw_work_show_input(d, 0, 0, rough);
    dw_work_show_input(d, 1, 0, fine);
    assert_true(strlen(rough) <= 10 && strlen(fine) >= 12);
    dw_work_show_result(a - b, result);
    char again[DW_WORK_SHOWN_SIZE];
    dw_work_show_result(printed(d, 1, 0) - printed(d, 1, 1), again);
    assert_string_equal(result, again);
    dw_work_digits_free(d);
    dw_working_destroy(w);
}

/* The column that a step gives is itself put in by later steps: it is printed as they need it, and what
 * it is made of in turn. */
static void columns_have_the_digits_that_later_steps_ask(void **state)
{
    (void)state;
    dw_working *w = dw_working_create();
    const double x[3] = {1.0 / 3.0, 1.0 / 7.0, 1.0 - 1.0 / 3.0 - 1.0 / 7.0 - 1e-7 / 3.0};
    dw_work_table_begin(w, "Shares", "row", 3);
    dw_work_column(w, DW_WORK_DATA, "x", "shares", "", x);
    dw_work_column_is(w, "", "y", "twice", "", "2*x", NULL, "definition");
    dw_work_step_is(w, "", "rest", "what is missing", "", "2 - sum(y)", NAN, "definition");
    dw_work_digits *d = dw_work_digits_find(w);
    char text[DW_WORK_SHOWN_SIZE], wanted[DW_WORK_SHOWN_SIZE];
    double sum = 0.0;
    for (size_t r = 0; r < 3; r++) {
        dw_work_show_entry(d, 1, r, text);
        assert_true(strlen(text) >= 13);
        sum += strtod(text, NULL);
        /* From the printed x the printed y. */
        dw_work_show_entry(d, 0, r, text);
        assert_close(2.0 * strtod(text, NULL), 2.0 * x[r], 1e-12, 0.0);
    }
    dw_work_show_result(2.0 - sum, text);
    dw_work_show_result(dw_working_find(w, "rest")->value[0], wanted);
    assert_string_equal(text, wanted);
    dw_work_digits_free(d);
    dw_working_destroy(w);
}

static void results_have_six_digits(void **state)
{
    (void)state;
    static const struct {
        double value;
        const char *text;
    } rows[] = {{1.23456789, "1.23457"}, {-0.000123456789, "-0.000123457"}, {1.5e-9, "1.5e-09"},
                {123456789.0, "123457000"}, {9.99999951, "10"}, {0.0, "0"}, {-0.0, "0"},
                {NAN, "-"}, {INFINITY, "-"}, {3.25e12, "3.25e+12"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[DW_WORK_SHOWN_SIZE];
        dw_work_show_result(rows[i].value, text);
        assert_string_equal(text, rows[i].text);
    }
    dw_work_digits_free(NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(short_numbers_are_printed_whole),
        cmocka_unit_test(a_difference_of_near_numbers_takes_more_digits),
        cmocka_unit_test(columns_have_the_digits_that_later_steps_ask),
        cmocka_unit_test(results_have_six_digits),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

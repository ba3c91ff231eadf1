/* Formulas in plain text: the arithmetic, columns and sums, and what is no formula. */
#include "check.h"

#include <string.h>

#include "formula.h"

static const double seven_and_a_bit = 7.25, small = 3.2e-4, column_x[3] = {0.93, 0.04, 0.03},
                    column_m[3] = {16.04, 30.07, 28.01}, other[2] = {1.0, 2.0};

static bool find(void *user, const char *name, size_t length, dw_formula_value *value)
{
    (void)user;
    static const struct {
        const char *name;
        dw_formula_value value;
    } all[] = {{"a", {&seven_and_a_bit, 0}}, {"b_1", {&small, 0}}, {"x", {column_x, 3}},
               {"M", {column_m, 3}}, {"w", {other, 2}}, {"e", {&small, 0}}};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
        if (strlen(all[i].name) == length && memcmp(all[i].name, name, length) == 0) {
            *value = all[i].value;
            return true;
        }
    }
    return false;
}

static double value_of(const char *text)
{
    double value = -1.0;
    assert_int_equal(dw_formula_evaluate(text, find, NULL, DW_FORMULA_NO_ROW, &value), DW_OK);
    return value;
}

static void arithmetic_binds_as_in_a_textbook(void **state)
{
    (void)state;
    assert_close(value_of("2 + 3*4.5 - 6/4"), 14.0, 1e-15, 0.0);
    assert_close(value_of("-2^2"), -4.0, 1e-15, 0.0);
    assert_close(value_of("2^3^2"), 512.0, 1e-15, 0.0);
    assert_close(value_of("2^-3"), 0.125, 1e-15, 0.0);
    assert_close(value_of("(2 - 5.5)*(1 + a)/b_1"), -3.5 * 8.25 / 3.2e-4, 1e-15, 0.0);
    assert_close(value_of("12.5/5/2.5"), 1.0, 1e-15, 0.0);
    assert_close(value_of("10 - 4 - 3.5"), 2.5, 1e-15, 0.0);
    assert_close(value_of("1.238e-5*e"), 1.238e-5 * 3.2e-4, 1e-15, 0.0);
    assert_close(value_of("pi*a^2/4"), 0.25 * 3.14159265358979 * 7.25 * 7.25, 1e-14, 0.0);
}

static void functions_are_those_of_a_calculator(void **state)
{
    (void)state;
    assert_close(value_of("sqrt(a) + exp(-a) + ln(a) + log10(b_1)"),
                 sqrt(7.25) + exp(-7.25) + log(7.25) + log10(3.2e-4), 1e-15, 0.0);
    assert_close(value_of("asin(sin(0.7)) + abs(-a)"), 7.95, 1e-15, 0.0);
    assert_close(value_of("max(a, 9.5) - min(a, 9.5)"), 2.25, 1e-15, 0.0);
}

static void sums_run_over_columns(void **state)
{
    (void)state;
    assert_close(value_of("sum(x*M)"), 0.93 * 16.04 + 0.04 * 30.07 + 0.03 * 28.01, 1e-15, 0.0);
    assert_close(value_of("sum(x*M)/sum(x) + sum(w*a)"),
                 0.93 * 16.04 + 0.04 * 30.07 + 0.03 * 28.01 + 3.0 * 7.25, 1e-15, 0.0);
    double row = 0.0;
    assert_int_equal(dw_formula_evaluate("x*M/sum(x*M)", find, NULL, 1, &row), DW_OK);
    assert_close(row, 0.04 * 30.07 / (0.93 * 16.04 + 0.04 * 30.07 + 0.03 * 28.01), 1e-15, 0.0);
}

static void the_largest_of_a_column(void **state)
{
    (void)state;
    assert_close(value_of("largest(M)"), 30.07, 0.0, 0.0);
    assert_close(value_of("largest(x*M) - largest(-w)"), 0.93 * 16.04 + 1.0, 1e-15, 0.0);
    assert_close(value_of("max(a, largest(M - sum(x*M)))"), 30.07 - 16.9603, 1e-12, 0.0);
}

static void the_share_of_a_distribution(void **state)
{
    (void)state;
    assert_close(value_of("betainc(0.25, 1, a - 4.25)"), 1.0 - 0.75 * 0.75 * 0.75, 1e-14, 0.0);
    double row = 0.0;
    assert_int_equal(dw_formula_evaluate("1 - betainc(x, 2, 1)", find, NULL, 2, &row), DW_OK);
    assert_close(row, 1.0 - 0.03 * 0.03, 1e-14, 0.0);
}

static void a_balance_has_two_sides(void **state)
{
    (void)state;
    const char *text = "a*2 = 14 + 0.5";
    assert_close(value_of(text), 14.5, 1e-15, 0.0);
    assert_close(value_of(dw_formula_right(text)), 14.5, 1e-15, 0.0);
    assert_null(dw_formula_right("a*2"));
}

static void what_is_no_formula_is_refused(void **state)
{
    (void)state;
    static const char *const wrong[] = {"",        "a +",     "(a",      "a)",       "2 3",
                                        "unknown", "a*",      "sqrt a",  "nofun(3)", "max(a)",
                                        "x",       "sum(a)",  "sum(x*w)", "sum(x",   "1..2",
                                        "a b_1",   "+",       "sqrt(",   "2**3",     "largest(a)",
                                        "largest(x*w)", "betainc(a, a)", "betainc(a)"};
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        double value = 1.0;
        const dw_status status =
            dw_formula_evaluate(wrong[i], find, NULL, DW_FORMULA_NO_ROW, &value);
        if (status != DW_ERR_INPUT || !isnan(value)) print_error("accepted: %s\n", wrong[i]);
        assert_int_equal(status, DW_ERR_INPUT);
        assert_true(isnan(value));
    }
    char deep[400];
    memset(deep, '(', sizeof deep);
    deep[sizeof deep - 1] = '\0';
    double value;
    assert_int_equal(dw_formula_evaluate(deep, find, NULL, 0, &value), DW_ERR_INPUT);
    assert_int_equal(dw_formula_evaluate(NULL, find, NULL, 0, &value), DW_ERR_ARG);
}

static void add_name(void *user, const char *name, size_t length)
{
    char *out = user;
    (void)strncat(out, name, length);
    (void)strcat(out, ";");
}

static void names_are_what_must_be_put_in(void **state)
{
    (void)state;
    char names[120] = "";
    dw_formula_names("1.5e-3*a + sqrt(b_1^2e+2)*pi - max(x, M_2)/e = w", add_name, names);
    assert_string_equal(names, "a;b_1;x;M_2;e;w;");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(arithmetic_binds_as_in_a_textbook),
        cmocka_unit_test(functions_are_those_of_a_calculator),
        cmocka_unit_test(sums_run_over_columns),
        cmocka_unit_test(the_largest_of_a_column),
        cmocka_unit_test(the_share_of_a_distribution),
        cmocka_unit_test(a_balance_has_two_sides),
        cmocka_unit_test(what_is_no_formula_is_refused),
        cmocka_unit_test(names_are_what_must_be_put_in),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

#include "check.h"

#include "law.h"

#include <math.h>
#include <string.h>

DW_LAW(narrowing, "Cc", "narrowing of the jet", "", "idelchik1994", (double f),
       1.0 / (1.0 + 0.707 * pow(1.0 - f, 0.375)))
DW_LAW(share, "e", "share that the jet fills", "", "definition", (double Cc, double f), Cc * f)

static const char *shown(const char *c, const char *names)
{
    static char out[200];
    return dw_law_formula(c, names, out, sizeof out) ? out : "none";
}

static void a_law_is_shown_as_a_formula(void **state)
{
    (void)state;
    assert_string_equal(shown(narrowing_law.text, NULL), "1/(1 + 0.707*(1 - f)^0.375)");
    assert_string_equal(shown("scale*pow(1.0/(Cc*f)-k, 2.0)", NULL), "scale*(1/(Cc*f) - k)^2");
    assert_string_equal(shown("pow(x, 1.0/4.0)", NULL), "x^(1/4)");
    assert_string_equal(shown("pow(sqrt(a+b), 2.0)", NULL), "sqrt(a + b)^2");
    assert_string_equal(shown("pow((a + b), 2.0)", NULL), "(a + b)^2");
    assert_string_equal(shown("pow((a + b)*(c), 2.0)", NULL), "((a + b)*(c))^2");
    assert_string_equal(shown("pow(pow(a, b), -c)", NULL), "(a^b)^(-c)");
    assert_string_equal(shown("-p + fmax( 1.5e-3 , -q )", NULL), "-p + max(1.5e-3, -q)");
    assert_string_equal(shown("fmin(fabs(a), log(b)) - log10(c)*exp(d)", NULL),
                        "min(abs(a), ln(b)) - log10(c)*exp(d)");
    assert_string_equal(shown("sin(a)/asin(b)", NULL), "sin(a)/asin(b)");
    assert_string_equal(shown("10.0*0.10 + 1.05 + 100.0", NULL), "10*0.10 + 1.05 + 100");
}

static void names_are_put_in(void **state)
{
    (void)state;
    assert_string_equal(shown("A*dp + dp_2", "dp>dp_f1 A>A_f"), "A_f*dp_f1 + dp_2");
    assert_string_equal(shown("sqrt(a)", "sqrt>b a>c"), "sqrt(c)");
    assert_string_equal(shown("a + b", ""), "a + b");
    assert_string_equal(shown("a + b", "b>z"), "a + z");
}

static void what_is_no_law_is_refused(void **state)
{
    (void)state;
    static const char *const bad[] = {"",       "a +",     "a b",    "f(x)",  "pow(a)", "a ? b : c",
                                      "(a",     "a)",      "sqrt(a", "a % b", "p->x",   "pow(a, b",
                                      "max(a)", "pow(a,)", "a < b",  "fmax(a,)"};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        assert_string_equal(shown(bad[i], NULL), "none");
    }
    /* Any size that is too small. */
    const char *law = "pow(1.0 - f, 0.375)";
    char out[40];
    size_t size = 0;
    while (!dw_law_formula(law, NULL, out, size)) {
        assert_true(size == 0 || out[0] == '\0');
        size++;
    }
    assert_string_equal(out, "(1 - f)^0.375");
    assert_int_equal(size, sizeof "(1 - f)^0.375");
}

static void a_step_is_the_value_and_writes_it_down(void **state)
{
    (void)state;
    assert_true(DW_STEP(NULL, narrowing, (0.4)) == narrowing(0.4));
    dw_working *w = dw_working_create();
    assert_non_null(w);
    const double f = dw_law_given(w, DW_WORK_INPUT, "f", "open share", "", 0.4);
    const double Cc = DW_STEP(w, narrowing, (f));
    assert_true(Cc == narrowing(0.4));
    assert_true(DW_STEP_AS(w, "jet", "e>e_2", "share of the second jet", share, (Cc, f)) == Cc * f);
    assert_int_equal(dw_working_status(w), DW_OK);
    const dw_work_quantity *q = dw_working_find(w, "Cc");
    assert_non_null(q);
    assert_true(q->value[0] == Cc);
    assert_string_equal(q->meaning, "narrowing of the jet");
    assert_string_equal(dw_working_find(w, "e_2")->meaning, "share of the second jet");
    assert_int_equal(dw_working_step_count(w), 2);
    assert_string_equal(dw_working_step(w, 1)->formula, "Cc*f");
    assert_string_equal(dw_working_step(w, 1)->keys, "jet");
    assert_string_equal(dw_working_step(w, 0)->source, "idelchik1994");
    assert_string_equal(DW_LAW_TEXT(w, "m_f%d", 3), "m_f3");
    assert_string_equal(DW_LAW_TEXT((dw_working *)NULL, "m_f%d", 3), "");
    double left, right;
    assert_int_equal(dw_working_evaluate(w, 0, NULL, 0, &left, &right), DW_OK);
    assert_true(fabs(left - Cc) < 1e-15);
    dw_working_destroy(w);
}

static void a_column_is_a_step_of_its_table(void **state)
{
    (void)state;
    dw_working *w = dw_working_create();
    assert_non_null(w);
    static const double f[] = {0.2, 0.8};
    const double Cc[] = {narrowing(f[0]), narrowing(f[1])};
    dw_work_table_begin(w, "Plates", "plate", 2);
    dw_work_row(w, 0, "left");
    dw_work_row(w, 1, "right");
    dw_work_column(w, DW_WORK_INPUT, "f", "open share", "", f);
    dw_law_column(w, "narrowing.*", NULL, NULL, &narrowing_law, Cc);
    dw_law_column(NULL, "", NULL, NULL, &narrowing_law, Cc);
    assert_int_equal(dw_working_status(w), DW_OK);
    double left, right;
    assert_int_equal(dw_working_evaluate(w, 0, NULL, 1, &left, &right), DW_OK);
    assert_true(fabs(left - Cc[1]) < 1e-15);
    dw_working_destroy(w);
}

static void what_cannot_be_shown_is_a_fault(void **state)
{
    (void)state;
    static const dw_law bad = {"x", "", "", "definition", "a ? b : c"};
    dw_working *w = dw_working_create();
    assert_non_null(w);
    dw_law_write(w, "", NULL, NULL, &bad, 1.0);
    assert_int_equal(dw_working_status(w), DW_ERR_BUG);
    dw_working_destroy(w);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_law_is_shown_as_a_formula),
        cmocka_unit_test(names_are_put_in),
        cmocka_unit_test(what_is_no_law_is_refused),
        cmocka_unit_test(a_step_is_the_value_and_writes_it_down),
        cmocka_unit_test(a_column_is_a_step_of_its_table),
        cmocka_unit_test(what_cannot_be_shown_is_a_fault),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

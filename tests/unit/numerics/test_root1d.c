/* Roots against closed forms and against plain bisection. */
#include "check.h"

#include "root1d.h"

static double cubic(double x, void *context)
{
    const double c = *(const double *)context;
    return x * x * x - c;
}

/* Flat to the left, steep to the right: what plain secant steps dislike. */
static double knee(double x, void *context)
{
    (void)context;
    return x < 2.385 ? 1e-4 * (x - 2.385) : 713.0 * (x - 2.385);
}

static double never(double x, void *context)
{
    (void)context;
    return x > 0.31 ? NAN : x - 0.4;
}

static void finds_cube_root(void **state)
{
    (void)state;
    double c = 7.31;
    dw_root root;
    assert_int_equal(dw_root_find(cubic, &c, -4.7, 9.3, 0.0, 0.0, &root), DW_OK);
    assert_close(root.x, cbrt(7.31), 1e-15, 0.0);
    assert_true(root.evaluations < 20);
}

static double bisection(double low, double high, double c)
{
    for (int i = 0; i < 200; i++) {
        const double middle = 0.5 * (low + high);
        if (cubic(middle, &c) > 0.0) {
            high = middle;
        } else {
            low = middle;
        }
    }
    return 0.5 * (low + high);
}

static void agrees_with_bisection(void **state)
{
    (void)state;
    for (double c = 0.017; c < 300.0; c *= 1.73) {
        dw_root root;
        assert_int_equal(dw_root_find(cubic, &c, -4.7, 9.3, 0.0, 0.0, &root), DW_OK);
        assert_close(root.x, bisection(-4.7, 9.3, c), 1e-14, 0.0);
        assert_close(root.f, 0.0, 0.0, 1e-12 * c);
    }
}

static void survives_a_knee(void **state)
{
    (void)state;
    dw_root root;
    assert_int_equal(dw_root_find(knee, NULL, -900.0, 40.0, 1e-12, 0.0, &root), DW_OK);
    assert_close(root.x, 2.385, 0.0, 1e-11);
    assert_true(root.evaluations < 80);
}

static void stops_on_the_residual(void **state)
{
    (void)state;
    double c = 7.31;
    dw_root loose, tight;
    assert_int_equal(dw_root_find(cubic, &c, 0.0, 9.3, 0.0, 1e-2, &loose), DW_OK);
    assert_int_equal(dw_root_find(cubic, &c, 0.0, 9.3, 0.0, 1e-12, &tight), DW_OK);
    assert_true(fabs(loose.f) <= 1e-2);
    assert_true(fabs(tight.f) <= 1e-12);
    assert_true(loose.evaluations < tight.evaluations);
}

static void takes_a_root_at_an_end(void **state)
{
    (void)state;
    double c = 8.0;
    dw_root root;
    assert_int_equal(dw_root_find(cubic, &c, 2.0, 5.0, 0.0, 0.0, &root), DW_OK);
    assert_true(root.x == 2.0);
}

/* A function that remembers: next to nothing at the lower end, and of the other sign the second time. */
static double forgetful(double x, void *context)
{
    int *calls = context;
    if (x == 1.0) return (*calls)++ == 0 ? 1e-17 : -1e-17;
    return 2.0 - x - 1.0;
}

static double pole(double x, void *context)
{
    (void)context;
    return x == 0.5 ? INFINITY : 0.4 - x;
}

static void ends_keep_the_sign_they_were_found_with(void **state)
{
    (void)state;
    int calls = 0;
    dw_root root;
    assert_int_equal(dw_root_find(forgetful, &calls, 1.0, 3.0, 0.0, 0.0, &root), DW_OK);
    assert_close(root.x, 1.0, 0.0, 1e-9);
    assert_int_equal(dw_root_find(pole, NULL, 0.0, 0.5, 0.0, 0.0, &root), DW_ERR_NO_CONVERGE);
    assert_true(isnan(root.x));
}

/* Asked in between alone: at the ends it would say the opposite of what is known. */
static double turncoat(double x, void *context)
{
    int *asked_at_an_end = context;
    if (x == -1.0 || x == 2.0) {
        *asked_at_an_end += 1;
        return x < 0.0 ? 1.0 : -1.0;
    }
    return x - 0.25;
}

static void known_ends_are_not_asked_again(void **state)
{
    (void)state;
    int asked_at_an_end = 0;
    dw_root root;
    const dw_root_end low = {-1.0, -1.25}, high = {2.0, 1.75};
    assert_int_equal(dw_root_between(turncoat, &asked_at_an_end, low, high, 0.0, 0.0, &root), DW_OK);
    assert_close(root.x, 0.25, 1e-15, 0.0);
    assert_int_equal(asked_at_an_end, 0);
    assert_true(root.evaluations > 0 && root.evaluations < 8);
    /* An end that is the root, or good enough, is the answer at once. */
    const dw_root_end zero = {-1.0, 0.0}, small = {2.0, 1e-9};
    assert_int_equal(dw_root_between(turncoat, &asked_at_an_end, zero, high, 0.0, 0.0, &root), DW_OK);
    assert_true(root.x == -1.0 && root.f == 0.0 && root.evaluations == 0);
    assert_int_equal(dw_root_between(turncoat, &asked_at_an_end, low, small, 0.0, 1e-8, &root), DW_OK);
    assert_true(root.x == 2.0 && root.f == 1e-9 && root.evaluations == 0);
    /* What is no bracket. */
    const dw_root_end same = {2.0, -1e-9}, lost = {2.0, NAN}, left = {-1.0, 1.0};
    assert_int_equal(dw_root_between(turncoat, &asked_at_an_end, low, same, 0.0, 0.0, &root),
                     DW_ERR_DOMAIN);
    assert_int_equal(dw_root_between(turncoat, &asked_at_an_end, left, high, 0.0, 0.0, &root),
                     DW_ERR_DOMAIN);
    assert_true(isnan(root.x) && isnan(root.f));
    assert_int_equal(dw_root_between(turncoat, &asked_at_an_end, low, lost, 0.0, 0.0, &root), DW_ERR_ARG);
    assert_int_equal(dw_root_between(turncoat, &asked_at_an_end, high, low, 0.0, 0.0, &root), DW_ERR_ARG);
    assert_int_equal(dw_root_between(turncoat, &asked_at_an_end, low, high, -1.0, 0.0, &root), DW_ERR_ARG);
    assert_int_equal(dw_root_between(NULL, NULL, low, high, 0.0, 0.0, &root), DW_ERR_ARG);
    assert_int_equal(dw_root_between(turncoat, NULL, low, high, 0.0, 0.0, NULL), DW_ERR_ARG);
}

static void refuses_what_has_no_root(void **state)
{
    (void)state;
    double c = 7.31;
    dw_root root;
    assert_int_equal(dw_root_find(cubic, &c, 2.0, 5.0, 0.0, 0.0, &root), DW_ERR_DOMAIN);
    assert_true(isnan(root.x) && isnan(root.f));
    assert_int_equal(dw_root_find(cubic, &c, 5.0, 2.0, 0.0, 0.0, &root), DW_ERR_ARG);
    assert_int_equal(dw_root_find(cubic, &c, NAN, 2.0, 0.0, 0.0, &root), DW_ERR_ARG);
    assert_int_equal(dw_root_find(never, NULL, 0.0, 1.0, 0.0, 0.0, &root), DW_ERR_NO_CONVERGE);
    assert_true(isnan(root.x));
    assert_int_equal(dw_root_find(cubic, &c, 0.0, 5.0, 0.0, 0.0, NULL), DW_ERR_ARG);
}

/* A step at nought: halving towards it never gets as near as a part of nought. */
static double step(double x, void *context)
{
    (void)context;
    return x < 0.0 ? x - 1.0 : x + 1.0;
}

/* Sound at both ends, nothing in between. */
static double hollow(double x, void *context)
{
    (void)context;
    return x > 0.1 && x < 0.9 ? NAN : x - 0.5;
}

static void gives_up_in_the_end(void **state)
{
    (void)state;
    dw_root root;
    assert_int_equal(dw_root_find(step, NULL, -3.1, 2.3, 0.0, 0.0, &root), DW_ERR_NO_CONVERGE);
    assert_true(isnan(root.x));
    assert_true(root.evaluations > 100);
    assert_int_equal(dw_root_find(step, NULL, -3.1, 2.3, 1e-9, 0.0, &root), DW_OK);
    assert_close(root.x, 0.0, 0.0, 2e-9);
    assert_int_equal(dw_root_find(hollow, NULL, 0.0, 1.0, 0.0, 0.0, &root), DW_ERR_NO_CONVERGE);
    assert_true(isnan(root.x));
    assert_true(root.evaluations < 8); /* not asked again after that */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(finds_cube_root),       cmocka_unit_test(agrees_with_bisection),
        cmocka_unit_test(survives_a_knee),       cmocka_unit_test(stops_on_the_residual),
        cmocka_unit_test(takes_a_root_at_an_end), cmocka_unit_test(refuses_what_has_no_root),
        cmocka_unit_test(known_ends_are_not_asked_again),
        cmocka_unit_test(ends_keep_the_sign_they_were_found_with),
        cmocka_unit_test(gives_up_in_the_end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

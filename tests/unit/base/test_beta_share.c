/* The incomplete beta function: closed cases, symmetry, GSL's, and a plain integral. */
#include "check.h"

#include <gsl/gsl_cdf.h>

#include "beta_share.h"

static void small_whole_numbers_have_closed_forms(void **state)
{
    (void)state;
    /* a = 1: 1 - (1-x)^b; b = 1: x^a; (2, 3): 6x^2 - 8x^3 + 3x^4. */
    const double x[] = {0.013, 0.37, 0.62, 0.981};
    for (int i = 0; i < 4; i++) {
        assert_close(dw_beta_share(x[i], 1.0, 7.0), 1.0 - pow(1.0 - x[i], 7.0), 1e-13, 0.0);
        assert_close(dw_beta_share(x[i], 4.5, 1.0), pow(x[i], 4.5), 1e-13, 0.0);
        const double q = x[i] * x[i];
        assert_close(dw_beta_share(x[i], 2.0, 3.0), q * (6.0 - 8.0 * x[i] + 3.0 * q), 1e-13, 0.0);
    }
}

static void the_other_side_is_the_rest(void **state)
{
    (void)state;
    const double a[] = {0.7, 3.3, 41.0, 377.0}, b[] = {0.9, 12.0, 5890.0, 2.1};
    for (int i = 0; i < 4; i++) {
        for (double x = 0.017; x < 1.0; x += 0.119) {
            assert_close(dw_beta_share(x, a[i], b[i]) + dw_beta_share(1.0 - x, b[i], a[i]), 1.0,
                         1e-12, 0.0);
        }
    }
}

/* Narrow distributions as an evenly mixed gas has them, at points around their mean. */
static void it_agrees_with_gsl(void **state)
{
    (void)state;
    const double mean = 0.0613, spread[] = {0.31, 0.05, 0.011};
    for (int i = 0; i < 3; i++) {
        const double total = (1.0 - mean) / (mean * spread[i] * spread[i]) - 1.0;
        for (double far = -3.1; far < 3.2; far += 0.62) {
            const double x = mean * (1.0 + far * spread[i]);
            if (!(x > 0.0)) continue;
            assert_close(dw_beta_share(x, mean * total, (1.0 - mean) * total),
                         gsl_cdf_beta_P(x, mean * total, (1.0 - mean) * total), 3e-10, 0.0);
        }
    }
}

/* Hardly any spread, where logarithms of the gamma function lose their digits [computed: the integral by
 * mpmath 1.3.0 with 40 digits]. */
static void hardly_any_spread(void **state)
{
    (void)state;
    const double mean = 0.0613, spread = 0.0007;
    const double total = (1.0 - mean) / (mean * spread * spread) - 1.0;
    const double known[3][2] = {{0.061166979, 9.61478104548855224e-4},
                                {0.0612733958, 0.267673091670662079},
                                {0.061355783, 0.903173750625381436}};
    for (int i = 0; i < 3; i++) {
        assert_close(dw_beta_share(known[i][0], mean * total, (1.0 - mean) * total), known[i][1],
                     3e-11, 0.0);
    }
}

static void neighbouring_shares_differ_by_the_kernel(void **state)
{
    (void)state;
    for (double x = 0.05; x < 1.0; x += 0.17) {
        assert_close(dw_beta_share(x, 2.3, 5.1) - dw_beta_share(x, 3.3, 5.1),
                     dw_beta_kernel(x, 2.3, 5.1) / 2.3, 1e-11, 1e-15);
    }
    /* 6 x^2 (1-x)^3 * 10: B(2, 3) = 1/12. */
    assert_close(dw_beta_kernel(0.4, 2.0, 3.0), 12.0 * 0.16 * 0.216, 1e-13, 0.0);
}

/* By quadrature from a + b = 1e5 on; the fraction on the other side of that line is another calculation. */
static void both_ways_meet(void **state)
{
    (void)state;
    for (double far = -3.0; far < 3.1; far += 0.5) {
        double share[2];
        for (int i = 0; i < 2; i++) {
            const double total = i == 0 ? 99999.5 : 100000.5, a = 0.0613 * total, b = total - a;
            const double sigma = sqrt(0.0613 * (1.0 - 0.0613) / (total + 1.0));
            share[i] = dw_beta_share(0.0613 + far * sigma, a, b);
        }
        assert_close(share[1], share[0], 1e-6, 0.0); /* the skewness differs by so much */
    }
    /* One sigma below and above where nothing but rounding is left of the skewness. */
    const double total = (1.0 - 0.0613) / (0.0613 * 1e-12), a = 0.0613 * total, b = total - a;
    assert_close(dw_beta_share(0.0613 * (1.0 - 1e-6), a, b), 0.158655253931457, 1e-6, 0.0);
    assert_close(dw_beta_share(0.0613 * (1.0 + 1e-6), a, b), 0.841344746068543, 1e-6, 0.0);
    assert_close(dw_beta_share(0.0613, a, b), 0.5, 1e-6, 0.0);
}

static void it_is_the_integral(void **state)
{
    (void)state;
    const double a = 2.6, b = 5.3, x = 0.41;
    double part = 0.0, all = 0.0;
    enum { STEPS = 200000 };
    for (int i = 0; i < STEPS; i++) {
        const double t = (i + 0.5) / STEPS;
        const double density = pow(t, a - 1.0) * pow(1.0 - t, b - 1.0);
        all += density;
        if (t < x) part += density;
    }
    assert_close(dw_beta_share(x, a, b), part / all, 1e-6, 0.0);
}

static void ends_and_what_is_outside(void **state)
{
    (void)state;
    assert_close(dw_beta_share(0.0, 3.0, 4.0), 0.0, 0.0, 0.0);
    assert_close(dw_beta_share(1.0, 3.0, 4.0), 1.0, 0.0, 0.0);
    assert_true(isnan(dw_beta_share(-0.1, 3.0, 4.0)));
    assert_true(isnan(dw_beta_share(1.1, 3.0, 4.0)));
    assert_true(isnan(dw_beta_share(0.5, 0.0, 4.0)));
    assert_true(isnan(dw_beta_share(0.5, 3.0, -4.0)));
    assert_true(isnan(dw_beta_share(NAN, 3.0, 4.0)));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(small_whole_numbers_have_closed_forms),
        cmocka_unit_test(the_other_side_is_the_rest),
        cmocka_unit_test(it_agrees_with_gsl),
        cmocka_unit_test(hardly_any_spread),
        cmocka_unit_test(neighbouring_shares_differ_by_the_kernel),
        cmocka_unit_test(both_ways_meet),
        cmocka_unit_test(it_is_the_integral),
        cmocka_unit_test(ends_and_what_is_outside),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

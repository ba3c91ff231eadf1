/* Quantiles and tails of the unmixed gas, against the quadrature that averages over it and against
 * whole-number beta distributions by hand. */

#include "check.h"
#include "mixture_spread.h"
#include "unmixedness.h"

/* Spread of the beta distribution with these parameters. */
static double spread_of(double a, double b)
{
    const double mean = a / (a + b);
    return sqrt(mean * (1.0 - mean) / (a + b + 1.0)) / mean;
}

static void quantile_matches_hand_values(void **state)
{
    (void)state;
    /* a = 5, b = 2: I_z = 6 z^5 - 5 z^6, which is one half at 0.73555. */
    const double mean = 5.0 / 7.0, spread = spread_of(5.0, 2.0);
    double z;
    assert_int_equal(dw_mixture_quantile(mean, spread, 0.5, &z), DW_OK);
    assert_close(6.0 * pow(z, 5.0) - 5.0 * pow(z, 6.0), 0.5, 0.0, 1e-10);
    assert_close(z, 0.73555, 0.0, 5e-6);
    assert_int_equal(dw_mixture_quantile(mean, spread, 0.1, &z), DW_OK);
    assert_close(6.0 * pow(z, 5.0) - 5.0 * pow(z, 6.0), 0.1, 0.0, 1e-10);
}

static void tail_mean_matches_hand_value(void **state)
{
    (void)state;
    /* a = 5, b = 2: the mean above q is [5/7 - (30 q^6/6 - 30 q^7/7)] / share. */
    const double mean = 5.0 / 7.0, spread = spread_of(5.0, 2.0);
    double q, z;
    assert_int_equal(dw_mixture_quantile(mean, spread, 0.95, &q), DW_OK);
    assert_int_equal(dw_mixture_richest(mean, spread, 0.05, &z), DW_OK);
    assert_close(z, (mean - (5.0 * pow(q, 6.0) - 30.0 / 7.0 * pow(q, 7.0))) / 0.05, 1e-8, 0.0);
    assert_true(z > q);
}

static void agrees_with_the_points_of_the_average(void **state)
{
    (void)state;
    const double z_mean = 0.0597, spread = 0.137;
    double z[DW_PARCEL_MAX], weight[DW_PARCEL_MAX], q, rich;
    int count;
    assert_int_equal(dw_mixture_quantile(z_mean, spread, 0.9, &q), DW_OK);
    /* Cut where the quantile lies, so that the part above it is integrated by itself. */
    assert_int_equal(dw_unmixedness_points(z_mean, q, spread, z, weight, &count), DW_OK);
    double share = 0.0, sum = 0.0;
    for (int i = 0; i < count; i++) {
        if (z[i] < q) continue;
        share += weight[i];
        sum += weight[i] * z[i];
    }
    assert_close(share, 0.1, 0.0, 2e-5);
    assert_int_equal(dw_mixture_richest(z_mean, spread, 0.1, &rich), DW_OK);
    assert_close(sum / share, rich, 2e-5, 0.0);
}

static void narrow_gas_is_nearly_normal(void **state)
{
    (void)state;
    /* A tenth of a normal distribution lies beyond 1.281552 sigma. */
    double z;
    assert_int_equal(dw_mixture_quantile(0.061, 0.002, 0.1, &z), DW_OK);
    assert_close(z, 0.061 * (1.0 - 1.281552 * 0.002), 1e-5, 0.0);
    assert_int_equal(dw_mixture_quantile(0.061, 0.0, 0.1, &z), DW_OK);
    assert_close(z, 0.061, 0.0, 0.0);
    assert_int_equal(dw_mixture_richest(0.061, 0.0, 0.1, &z), DW_OK);
    assert_close(z, 0.061, 0.0, 0.0);
}

static void refuses_what_has_no_meaning(void **state)
{
    (void)state;
    double z = 1.0;
    assert_int_equal(dw_mixture_quantile(0.0, 0.1, 0.5, &z), DW_ERR_DOMAIN);
    assert_true(isnan(z));
    assert_int_equal(dw_mixture_quantile(1.0, 0.1, 0.5, &z), DW_ERR_DOMAIN);
    assert_int_equal(dw_mixture_quantile(0.06, -0.1, 0.5, &z), DW_ERR_DOMAIN);
    assert_int_equal(dw_mixture_quantile(0.06, 0.6, 0.5, &z), DW_ERR_DOMAIN);
    assert_int_equal(dw_mixture_quantile(0.06, 0.1, 0.0, &z), DW_ERR_DOMAIN);
    assert_int_equal(dw_mixture_quantile(0.06, 0.1, 1.0, &z), DW_ERR_DOMAIN);
    assert_int_equal(dw_mixture_quantile(NAN, 0.1, 0.5, &z), DW_ERR_ARG);
    assert_int_equal(dw_mixture_quantile(0.06, 0.1, 0.5, NULL), DW_ERR_ARG);
    assert_int_equal(dw_mixture_richest(0.06, 0.1, 1.0, &z), DW_ERR_DOMAIN);
    assert_int_equal(dw_mixture_richest(0.06, 0.1, 0.5, NULL), DW_ERR_ARG);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(quantile_matches_hand_values),
        cmocka_unit_test(tail_mean_matches_hand_value),
        cmocka_unit_test(agrees_with_the_points_of_the_average),
        cmocka_unit_test(narrow_gas_is_nearly_normal),
        cmocka_unit_test(refuses_what_has_no_meaning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

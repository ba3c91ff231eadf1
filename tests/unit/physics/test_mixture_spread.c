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
    double q, z, from;
    assert_int_equal(dw_mixture_quantile(mean, spread, 0.95, &q), DW_OK);
    assert_int_equal(dw_mixture_richest(mean, spread, 0.05, &from, &z), DW_OK);
    assert_true(from == q);
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
    assert_int_equal(dw_mixture_richest(z_mean, spread, 0.1, NULL, &rich), DW_OK);
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
    assert_int_equal(dw_mixture_richest(0.061, 0.0, 0.1, NULL, &z), DW_OK);
    assert_close(z, 0.061, 0.0, 0.0);
}

/* The 10, 90 and 95 % quantiles and the mean of the richest 5 %, in standard deviations from the mean of
 * 0.0613 [computed: density integrated and root found with 60 digits by mpmath 1.3.0]. In the limit they are
 * those of the normal distribution. */
static void keeps_its_digits_however_even_the_gas_is(void **state)
{
    (void)state;
    const double mean = 0.0613;
    static const double known[5][5] = {
        {0.0018, -1.281190862303456, 1.281911373099203, 1.645809597047881, 2.064615026876376},
        {1e-3, -1.281351285497073, 1.281751569145749, 1.645384852200380, 2.063769733972766},
        {1e-4, -1.281531549982736, 1.281571578342002, 1.644906764190176, 2.062818515664370},
        {1e-5, -1.281549564112818, 1.281553566948739, 1.644858940822506, 2.062723378478187},
        {1e-6, -1.281551365402666, 1.281551765686258, 1.644854158340048, 2.062713864606053}};
    static const double share[3] = {0.1, 0.9, 0.95};
    for (int i = 0; i < 5; i++) {
        const double s = known[i][0];
        double z;
        for (int k = 0; k < 3; k++) {
            assert_int_equal(dw_mixture_quantile(mean, s, share[k], &z), DW_OK);
            /* What is left below the rounding of z itself. */
            assert_close((z / mean - 1.0) / s, known[i][1 + k], 1e-11, 1e-15 / s);
        }
        assert_int_equal(dw_mixture_richest(mean, s, 0.05, NULL, &z), DW_OK);
        assert_close((z / mean - 1.0) / s, known[i][4], 1e-10, 1e-15 / s);
    }
}

/* Of all spreads that are allowed, lean and rich; where one calculation takes over from the other nothing
 * is seen. */
static void every_spread_has_its_quantiles(void **state)
{
    (void)state;
    static const double means[] = {1e-5, 0.004, 0.0597, 0.31, 0.6};
    for (int m = 0; m < 5; m++) {
        double last[4] = {NAN, NAN, NAN, NAN}, last_step = NAN;
        for (double s = 1e-8; s <= 0.5; s *= 1.05) {
            if (means[m] > 0.5 && s > 0.3) break; /* wider than any beta distribution with a peak */
            double z[4];
            for (int k = 0; k < 3; k++) {
                static const double share[3] = {0.1, 0.5, 0.9};
                if (dw_mixture_quantile(means[m], s, share[k], &z[k]) != DW_OK) {
                    fail_msg("mean %g, spread %g: no %g quantile", means[m], s, share[k]);
                }
            }
            assert_int_equal(dw_mixture_richest(means[m], s, 0.05, NULL, &z[3]), DW_OK);
            if (s < 1e-6) {
                for (int k = 0; k < 4; k++) assert_close(z[k], means[m], 0.0, 0.0);
                continue;
            }
            assert_true(z[0] < z[1] && z[1] < z[2] && z[2] < z[3]);
            for (int k = 0; k < 4; k++) {
                const double now = (z[k] / means[m] - 1.0) / s;
                /* By standard deviations the place moves by no more than some s from step to step. */
                if (s > last_step) assert_close(now, last[k], 0.0, 0.2 * s + 2e-4);
                last[k] = now;
            }
            last_step = s;
        }
    }
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
    double from = 1.0;
    assert_int_equal(dw_mixture_richest(0.06, 0.1, 1.0, &from, &z), DW_ERR_DOMAIN);
    assert_true(isnan(from) && isnan(z));
    assert_int_equal(dw_mixture_richest(0.06, 0.0, 0.1, &from, &z), DW_OK);
    assert_true(from == 0.06 && z == 0.06);
    assert_int_equal(dw_mixture_richest(0.06, 0.1, 0.5, NULL, NULL), DW_ERR_ARG);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(quantile_matches_hand_values),
        cmocka_unit_test(tail_mean_matches_hand_value),
        cmocka_unit_test(agrees_with_the_points_of_the_average),
        cmocka_unit_test(narrow_gas_is_nearly_normal),
        cmocka_unit_test(keeps_its_digits_however_even_the_gas_is),
        cmocka_unit_test(every_spread_has_its_quantiles),
        cmocka_unit_test(refuses_what_has_no_meaning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

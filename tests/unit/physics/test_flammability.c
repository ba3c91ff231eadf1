/** @file test_flammability.c  Unit tests of physics/flammability. */

#include "check.h"

#include "flammability.h"

static const double limits[] = {0.117, NAN, 0.043, 0.0211};

static void mixtures(void **state)
{
    (void)state;
    const double x[] = {0.031, 0.90, 0.012, 0.0};
    /* 0.031/0.117 + 0.012/0.043 = 0.544026; 0.043/0.544026 = 0.0790404. */
    assert_close(dw_flammable_ratio(x, limits, 4), 0.54402703239912534, 1e-12, 0.0);
    assert_close(dw_flammable_limit(x, limits, 4), 0.043 / 0.54402703239912534, 1e-12, 0.0);
    const double pure[] = {0.0, 0.2, 0.0, 0.7};
    assert_close(dw_flammable_limit(pure, limits, 4), 0.0211, 1e-15, 0.0);
    const double inert[] = {0.0, 1.0, 0.0, 0.0};
    assert_true(isnan(dw_flammable_limit(inert, limits, 4)));
    assert_true(dw_flammable_ratio(inert, limits, 4) == 0.0);
}

static void warmer_gas_burns_leaner(void **state)
{
    (void)state;
    assert_close(dw_lean_limit_factor(0.000721, 298.15), 1.0, 1e-15, 0.0);
    assert_close(dw_lean_limit_factor(0.000721, 898.15), 1.0 - 0.4326, 1e-12, 0.0);
    assert_true(isnan(dw_lean_limit_factor(0.000721, 1024.0)));
    assert_true(isnan(dw_lean_limit_factor(0.000721, 223.0)));
}

static void whole_gas(void **state)
{
    (void)state;
    const double x[] = {0.031, 0.90, 0.012, 0.0}, rich[] = {0.75, NAN, 0.75, 0.5};
    assert_close(dw_lean_limit(x, limits, 4, 0.000721, 898.15, "", NULL), 0.5674 / 0.54402703239912534, 1e-12, 0.0);
    assert_true(isnan(dw_lean_limit(x, limits, 4, 0.000721, 1024.0, "", NULL)));
    /* 1/(0.043/0.75) would be more than pure gas. */
    assert_close(dw_rich_limit(x, rich, 4, "", NULL), 1.0, 0.0, 0.0);
    const double pure[] = {0.0, 0.2, 0.0, 0.8}, inert[] = {0.0, 1.0, 0.0, 0.0};
    assert_close(dw_rich_limit(pure, rich, 4, "", NULL), 0.625, 1e-12, 0.0);
    assert_true(isnan(dw_rich_limit(inert, rich, 4, "", NULL)));
    assert_true(isnan(dw_lean_limit(inert, limits, 4, 0.000721, 300.0, "", NULL)));
    assert_close(dw_flammable_ratio_hot(0.31, 0.000721, 898.15, "", NULL), 0.31 / 0.5674, 1e-12, 0.0);
    assert_true(isnan(dw_flammable_ratio_hot(0.31, 0.000721, 1024.0, "", NULL)));
}

static void filling(void **state)
{
    (void)state;
    /* 0.043 of 0.57 m3 at 1.9 L/s. */
    assert_close(dw_fill_time_s(0.043, 0.57, 1.9e-3, "", "", NULL, NULL), 12.9, 1e-12, 0.0);
    assert_true(isinf(dw_fill_time_s(0.043, 0.57, 0.0, "", "", NULL, NULL)));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(mixtures),
        cmocka_unit_test(warmer_gas_burns_leaner),
        cmocka_unit_test(whole_gas),
        cmocka_unit_test(filling),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

/** @file test_duct.c  Unit tests of physics/duct. */

#include "check.h"

#include "duct.h"

static void viscosity_matches_hand_value(void **state)
{
    (void)state;
    /* 1.458e-6 743^1.5/(743 + 110.4) */
    assert_close(dw_air_viscosity_pa_s(743.0, NULL), 3.460095662867954e-5, 1e-13, 0.0);
    assert_true(isnan(dw_air_viscosity_pa_s(0.0, NULL)));
    assert_true(isnan(dw_air_viscosity_pa_s(-3.0, NULL)));
    assert_true(isnan(dw_air_viscosity_pa_s(NAN, NULL)));
}

static void friction_matches_hand_value(void **state)
{
    (void)state;
    assert_close(dw_friction_factor(23700.0, 0.0137, 0.0, NULL), 0.044875524510850084, 1e-12, 0.0);
    assert_close(dw_friction_factor(23700.0, 0.0137, DW_STACK_RE_FLOOR, NULL), 0.044875524510850084,
                 1e-12, 0.0);
}

static void floor_stops_the_reynolds_number(void **state)
{
    (void)state;
    assert_close(dw_friction_factor(310.0, 0.0137, 4000.0, NULL), 0.0537271475810425, 1e-12, 0.0);
    assert_close(dw_friction_factor(310.0, 0.0137, 0.0, NULL), 64.0 / 310.0, 1e-6, 0.0);
}

static void creeping_flow_is_laminar(void **state)
{
    (void)state;
    const double reynolds[] = {1e-300, 1e-20, 0.37, 0.999999, 1.000001, 14.0, 600.0};
    for (size_t i = 0; i < sizeof reynolds / sizeof reynolds[0]; i++) {
        assert_close(dw_friction_factor(reynolds[i], 0.01, 0.0, NULL), 64.0 / reynolds[i], 1e-5, 0.0);
    }
}

/** Colebrook's implicit equation, by substitution. */
static double colebrook(double re, double roughness)
{
    double f = 0.03;
    for (int i = 0; i < 100; i++) {
        const double root = -2.0 * log10(roughness / 3.7 + 2.51 / (re * sqrt(f)));
        f = 1.0 / (root * root);
    }
    return f;
}

static void turbulent_flow_is_near_colebrook(void **state)
{
    (void)state;
    const double roughness[] = {0.0, 1e-5, 1e-3, 0.013, 0.05};
    for (size_t i = 0; i < 5; i++) {
        for (double re = 4000.0; re < 1e7; re *= 1.3) {
            assert_close(dw_friction_factor(re, roughness[i], 0.0, NULL), colebrook(re, roughness[i]),
                         0.0321, 0.0);
        }
    }
}

static void loss_grows_with_flow(void **state)
{
    (void)state;
    const double floors[] = {0.0, 4000.0};
    for (size_t j = 0; j < 2; j++) {
        double last = 0.0;
        for (double re = 1e-3; re < 1e8; re *= 1.003) {
            const double loss = dw_friction_factor(re, 0.013, floors[j], NULL) * re * re;
            assert_true(loss > last);
            last = loss;
        }
    }
}

static void refuses_what_has_no_meaning(void **state)
{
    (void)state;
    assert_true(isnan(dw_friction_factor(0.0, 0.01, 0.0, NULL)));
    assert_true(isnan(dw_friction_factor(-1.0, 0.01, 4000.0, NULL)));
    assert_true(isnan(dw_friction_factor(1e4, -0.01, 0.0, NULL)));
    assert_true(isnan(dw_friction_factor(1e4, 0.21, 0.0, NULL)));
    assert_true(isnan(dw_friction_factor(1e4, 0.01, -1.0, NULL)));
    assert_true(isnan(dw_friction_factor(NAN, 0.01, 0.0, NULL)));
    assert_true(isnan(dw_friction_factor(1e4, NAN, 0.0, NULL)));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(viscosity_matches_hand_value),
        cmocka_unit_test(friction_matches_hand_value),
        cmocka_unit_test(floor_stops_the_reynolds_number),
        cmocka_unit_test(creeping_flow_is_laminar),
        cmocka_unit_test(turbulent_flow_is_near_colebrook),
        cmocka_unit_test(loss_grows_with_flow),
        cmocka_unit_test(refuses_what_has_no_meaning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

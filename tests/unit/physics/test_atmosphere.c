/** @file test_atmosphere.c  Unit tests of physics/atmosphere. */

#include "check.h"

#include "atmosphere.h"
#include "constants.h"

static void matches_hand_value(void **state)
{
    (void)state;
    /* 101325 (1 - 0.0065 1387.3/288.15)^5.25588 */
    assert_close(dw_atmosphere_pressure_pa(1387.3, "", NULL), 85731.94587405086, 1e-13, 0.0);
    assert_close(dw_atmosphere_temperature_k(1387.3), 279.13255, 1e-14, 0.0);
    assert_close(dw_atmosphere_pressure_pa(0.0, "", NULL), 101325.0, 0.0, 0.0);
}

static void slope_is_the_weight_of_the_air(void **state)
{
    (void)state;
    const double heights[] = {-431.0, 0.0, 812.0, 2950.0, 8300.0};
    for (size_t i = 0; i < sizeof heights / sizeof heights[0]; i++) {
        const double h = heights[i];
        const double slope =
            (dw_atmosphere_pressure_pa(h + 1.0, "", NULL) - dw_atmosphere_pressure_pa(h - 1.0, "", NULL)) / 2.0;
        const double rho =
            dw_atmosphere_pressure_pa(h, "", NULL) * 28.9644e-3 / (8.31432 * dw_atmosphere_temperature_k(h));
        assert_close(slope, -rho * DW_G_M_S2, 1e-5, 0.0);
    }
}

static void refuses_heights_outside_the_layer(void **state)
{
    (void)state;
    assert_true(isfinite(dw_atmosphere_pressure_pa(-2000.0, "", NULL)));
    assert_true(isfinite(dw_atmosphere_pressure_pa(11000.0, "", NULL)));
    assert_true(isnan(dw_atmosphere_pressure_pa(-2001.0, "", NULL)));
    assert_true(isnan(dw_atmosphere_pressure_pa(11001.0, "", NULL)));
    assert_true(isnan(dw_atmosphere_temperature_k(11001.0)));
    assert_true(isnan(dw_atmosphere_pressure_pa(NAN, "", NULL)));
    assert_true(isnan(dw_atmosphere_pressure_pa(INFINITY, "", NULL)));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(matches_hand_value),
        cmocka_unit_test(slope_is_the_weight_of_the_air),
        cmocka_unit_test(refuses_heights_outside_the_layer),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

/** @file test_draft.c  Unit tests of physics/draft. */

#include "check.h"

#include "draft.h"

static void draft_matches_hand_value(void **state)
{
    (void)state;
    /* (1.187 - 0.261) 9.80665 3.7 */
    assert_close(dw_draft_theoretical_pa(1.187, 0.261, 3.7), 33.59954423, 1e-12, 0.0);
    assert_close(dw_draft_theoretical_pa(0.261, 1.187, 3.7), -33.59954423, 1e-12, 0.0);
    assert_close(dw_draft_theoretical_pa(1.187, 1.187, 3.7), 0.0, 0.0, 0.0);
}

static void hot_gas_pushes_at_the_top(void **state)
{
    (void)state;
    assert_close(dw_draft_pressure_at_pa(-4.3, 1.187, 0.261, 4.2, 0.5), 33.59954423 - 4.3, 1e-12, 0.0);
    assert_close(dw_draft_pressure_at_pa(-4.3, 1.187, 0.261, -3.7, 0.0), -33.59954423 - 4.3, 1e-12, 0.0);
    assert_close(dw_draft_pressure_at_pa(-4.3, 1.187, 0.261, 0.0, 0.0), -4.3, 0.0, 0.0);
}

static void pressure_is_zero_at_the_neutral_plane(void **state)
{
    (void)state;
    const double z = dw_draft_neutral_plane_m(-4.3, 1.187, 0.261, 0.0);
    assert_close(z, 4.3 / (0.926 * 9.80665), 1e-12, 0.0);
    assert_close(dw_draft_pressure_at_pa(-4.3, 1.187, 0.261, z, 0.0), 0.0, 0.0, 1e-14);
    /* overpressure at the datum: the plane lies below it */
    assert_close(dw_draft_neutral_plane_m(-4.3, 1.187, 0.261, 0.7), z + 0.7, 1e-14, 0.0);
    assert_true(dw_draft_neutral_plane_m(2.0, 1.187, 0.261, 0.0) < 0.0);
    assert_true(isnan(dw_draft_neutral_plane_m(-4.3, 1.187, 1.187, 0.0)));
}

static void wind_adds_its_share_of_the_speed_head(void **state)
{
    (void)state;
    /* 1.2 x 5^2/2 = 15 Pa: half of it, and back */
    assert_close(dw_draft_wind_pa(1.2, 5.0, 0.5, 0.0, NULL), 7.5, 1e-14, 0.0);
    assert_close(dw_draft_wind_pa(1.2, 5.0, 0.1, -0.4, NULL), 7.5, 1e-14, 0.0);
    assert_close(dw_draft_wind_pa(1.2, 5.0, -0.2, 0.3, NULL), -7.5, 1e-14, 0.0);
    assert_close(dw_draft_wind_pa(1.2, 10.0, 0.0, -0.3, NULL), 18.0, 1e-14, 0.0);
    assert_close(dw_draft_wind_pa(1.2, 0.0, 0.5, -0.5, NULL), 0.0, 0.0, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(wind_adds_its_share_of_the_speed_head),
        cmocka_unit_test(draft_matches_hand_value),
        cmocka_unit_test(hot_gas_pushes_at_the_top),
        cmocka_unit_test(pressure_is_zero_at_the_neutral_plane),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

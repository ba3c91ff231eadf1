/** @file test_opening.c  Unit tests of physics/opening. */

#include "check.h"

#include "constants.h"
#include "opening.h"

#define RHO_OUTSIDE 1.187
#define RHO_INSIDE 0.231

static dw_hole busy_hole(void)
{
    dw_hole hole;
    assert_int_equal(dw_hole_init(2.71e-4, 0.63, RHO_OUTSIDE, RHO_INSIDE, &hole), DW_OK);
    return hole;
}

static dw_crack busy_crack(double exponent)
{
    dw_crack crack;
    assert_int_equal(dw_crack_init(3.1e-4, 0.6, exponent, 8.0, RHO_OUTSIDE, RHO_INSIDE, &crack),
                     DW_OK);
    return crack;
}

static dw_opening_flow hole_at(double p)
{
    const dw_hole hole = busy_hole();
    dw_opening_flow flow;
    dw_hole_flow(&hole, p, &flow);
    return flow;
}

static void hole_matches_hand_value(void **state)
{
    (void)state;
    /* 0.63 2.71e-4 sqrt(2 0.231 7.3) out; with 1.187 and 4.1 Pa in; the blend takes 1e-6 */
    assert_close(hole_at(7.3).mass_kg_s, -3.1353949763712383e-4, 1e-6, 0.0);
    assert_close(hole_at(-4.1).mass_kg_s, 5.326502387203631e-4, 2e-6, 0.0);
    assert_close(hole_at(0.0).mass_kg_s, 0.0, 0.0, 0.0);
    /* at |p| = eps the fourth root of 2 divides the plain law */
    assert_close(hole_at(0.01).mass_kg_s,
                 -0.63 * 2.71e-4 * sqrt(2.0 * RHO_INSIDE * 0.01) / sqrt(sqrt(2.0)), 1e-13, 0.0);
}

static void hole_slope_matches_finite_difference(void **state)
{
    (void)state;
    const double pressures[] = {-41.7, -3.3, -0.02, -0.003, 0.004, 0.015, 2.9, 613.0};
    for (size_t i = 0; i < sizeof pressures / sizeof pressures[0]; i++) {
        const double p = pressures[i];
        const double h = 1e-5 * fabs(p);
        const double slope = (hole_at(p + h).mass_kg_s - hole_at(p - h).mass_kg_s) / (2.0 * h);
        assert_close(hole_at(p).slope_kg_s_pa, slope, 1e-8, 0.0);
        assert_true(hole_at(p).slope_kg_s_pa < 0.0);
    }
    /* finite at zero: k/sqrt(eps) */
    assert_close(hole_at(0.0).slope_kg_s_pa, -0.63 * 2.71e-4 * sqrt(2.0 * RHO_OUTSIDE) / 0.1, 1e-13,
                 0.0);
}

static void crack_follows_its_power_law(void **state)
{
    (void)state;
    const dw_crack crack = busy_crack(0.71);
    dw_opening_flow flow;
    /* 0.6 3.1e-4 sqrt(2 1.187 8) (5.7/8)^0.71 */
    dw_crack_flow(&crack, -5.7, &flow);
    assert_close(flow.mass_kg_s, 6.37199684047669e-4, 1e-6, 0.0);
    dw_crack_flow(&crack, 5.7, &flow);
    assert_close(flow.mass_kg_s, -6.37199684047669e-4 * sqrt(RHO_INSIDE / RHO_OUTSIDE), 1e-6, 0.0);
    dw_crack_flow(&crack, 0.0, &flow);
    assert_close(flow.mass_kg_s, 0.0, 0.0, 0.0);
    assert_true(flow.slope_kg_s_pa < 0.0 && isfinite(flow.slope_kg_s_pa));
}

static void crack_slope_matches_finite_difference(void **state)
{
    (void)state;
    const double pressures[] = {-41.7, -3.3, -0.02, -0.003, 0.004, 0.015, 2.9, 613.0};
    const double exponents[] = {0.5, 0.65, 1.0};
    for (size_t j = 0; j < 3; j++) {
        const dw_crack crack = busy_crack(exponents[j]);
        for (size_t i = 0; i < sizeof pressures / sizeof pressures[0]; i++) {
            const double p = pressures[i];
            const double h = 1e-5 * fabs(p);
            dw_opening_flow low, high, here;
            dw_crack_flow(&crack, p - h, &low);
            dw_crack_flow(&crack, p + h, &high);
            dw_crack_flow(&crack, p, &here);
            assert_close(here.slope_kg_s_pa, (high.mass_kg_s - low.mass_kg_s) / (2.0 * h), 1e-8,
                         0.0);
        }
    }
}

static void turbulent_crack_is_a_hole(void **state)
{
    (void)state;
    const dw_crack crack = busy_crack(0.5);
    dw_hole hole;
    assert_int_equal(dw_hole_init(3.1e-4, 0.6, RHO_OUTSIDE, RHO_INSIDE, &hole), DW_OK);
    const double pressures[] = {-21.0, -0.006, 0.0, 0.013, 9.7};
    for (size_t i = 0; i < 5; i++) {
        dw_opening_flow a, b;
        dw_crack_flow(&crack, pressures[i], &a);
        dw_hole_flow(&hole, pressures[i], &b);
        assert_close(a.mass_kg_s, b.mass_kg_s, 1e-13, 0.0);
        assert_close(a.slope_kg_s_pa, b.slope_kg_s_pa, 1e-13, 0.0);
    }
}

static void restriction_lets_air_one_way_only(void **state)
{
    (void)state;
    dw_restriction_state air;
    assert_int_equal(dw_restriction_flow(2.71e-4, 0.63, RHO_OUTSIDE, 4.1, &air), DW_OK);
    assert_close(air.mass_kg_s, 5.326502387203631e-4, 2e-6, 0.0);
    assert_false(air.reversed);
    dw_restriction_state low, high;
    assert_int_equal(dw_restriction_flow(2.71e-4, 0.63, RHO_OUTSIDE, 4.0999, &low), DW_OK);
    assert_int_equal(dw_restriction_flow(2.71e-4, 0.63, RHO_OUTSIDE, 4.1001, &high), DW_OK);
    assert_close(air.slope_kg_s_pa, (high.mass_kg_s - low.mass_kg_s) / 2e-4, 1e-8, 0.0);
    const double backwards[] = {0.0, -1e-6, -55.0};
    for (size_t i = 0; i < 3; i++) {
        assert_int_equal(dw_restriction_flow(2.71e-4, 0.63, RHO_OUTSIDE, backwards[i], &air),
                         DW_OK);
        assert_true(air.reversed);
        assert_close(air.mass_kg_s, 0.0, 0.0, 0.0);
        assert_close(air.slope_kg_s_pa, 0.0, 0.0, 0.0);
    }
}

static void refuses_what_has_no_meaning(void **state)
{
    (void)state;
    const double bad[][4] = {{-1e-4, 0.6, 1.2, 0.3},     {1e-4, 0.0, 1.2, 0.3},
                             {1e-4, 0.6, 0.0, 0.3},      {1e-4, 0.6, 1.2, -0.3},
                             {NAN, 0.6, 1.2, 0.3},       {1e-4, NAN, 1.2, 0.3},
                             {1e-4, 0.6, INFINITY, 0.3}, {1e-4, 0.6, 1.2, NAN}};
    dw_hole hole;
    dw_crack crack;
    dw_restriction_state air;
    for (size_t i = 0; i < 8; i++) {
        const dw_status expected = i < 4 ? DW_ERR_DOMAIN : DW_ERR_ARG;
        const double *b = bad[i];
        assert_int_equal(dw_hole_init(b[0], b[1], b[2], b[3], &hole), expected);
        assert_true(isnan(hole.in_coeff) && isnan(hole.out_coeff));
        assert_int_equal(dw_crack_init(b[0], b[1], 0.65, 10.0, b[2], b[3], &crack), expected);
        assert_true(isnan(crack.in_coeff) && isnan(crack.exponent));
        if (i != 3) { /* the fourth number is a pressure here */
            assert_int_equal(dw_restriction_flow(b[0], b[1], b[2], b[3], &air), expected);
            assert_true(isnan(air.mass_kg_s) && isnan(air.slope_kg_s_pa));
        }
    }
    assert_int_equal(dw_crack_init(1e-4, 0.6, 0.49, 10.0, 1.2, 0.3, &crack), DW_ERR_DOMAIN);
    assert_int_equal(dw_crack_init(1e-4, 0.6, 1.01, 10.0, 1.2, 0.3, &crack), DW_ERR_DOMAIN);
    assert_int_equal(dw_crack_init(1e-4, 0.6, 0.65, 0.0, 1.2, 0.3, &crack), DW_ERR_DOMAIN);
    assert_int_equal(dw_crack_init(1e-4, 0.6, NAN, 10.0, 1.2, 0.3, &crack), DW_ERR_ARG);
    assert_int_equal(dw_hole_init(1e-4, 0.6, 1.2, 0.3, NULL), DW_ERR_ARG);
    assert_int_equal(dw_crack_init(1e-4, 0.6, 0.65, 10.0, 1.2, 0.3, NULL), DW_ERR_ARG);
    assert_int_equal(dw_restriction_flow(1e-4, 0.6, 1.2, 3.0, NULL), DW_ERR_ARG);
    assert_true(isnan(hole_at(NAN).mass_kg_s));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(hole_matches_hand_value),
        cmocka_unit_test(hole_slope_matches_finite_difference),
        cmocka_unit_test(crack_follows_its_power_law),
        cmocka_unit_test(crack_slope_matches_finite_difference),
        cmocka_unit_test(turbulent_crack_is_a_hole),
        cmocka_unit_test(restriction_lets_air_one_way_only),
        cmocka_unit_test(refuses_what_has_no_meaning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

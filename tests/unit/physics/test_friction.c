/** @file test_friction.c  Unit tests of physics/friction. */

#include "check.h"

#include "constants.h"
#include "friction.h"
#include "kit.h"

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

#define FROM 0.27
#define TO 1.19

static const dw_joint_side room = {1.187, 294.0}, hot = {0.231, 1390.0}, heavy = {1.401, 271.0};

static dw_joint joint_of(double width_m, double depth_m, double length_m, bool level, dw_joint_side inside)
{
    const dw_joint_size size = {width_m, depth_m, length_m, level ? NAN : FROM, level ? NAN : TO};
    dw_joint joint;
    assert_int_equal(dw_joint_init(&size, &room, &inside, NULL, &joint), DW_OK);
    return joint;
}

static dw_joint usual(bool level, dw_joint_side inside)
{
    return joint_of(2.1e-3, 0.117, 0.93, level, inside);
}

static dw_opening_flow level_at(const dw_joint *joint, double p)
{
    dw_opening_flow flow;
    dw_joint_flow(joint, p, NULL, NULL, &flow);
    return flow;
}

static dw_tall_flow flow_at(const dw_joint *joint, double pressure_from_pa)
{
    dw_tall_flow flow;
    dw_joint_upright_flow(joint, pressure_from_pa, NULL, NULL, &flow);
    return flow;
}

/* The law itself, by halving of the speed: not solved for it. */
static double speed_by_bisection(double friction, double rho, double dp)
{
    double low = 0.0, high = dp / friction;
    for (int i = 0; i < 200; i++) {
        const double v = 0.5 * (low + high);
        if (friction * v + 1.5 * rho * v * v / 2.0 < dp)
            low = v;
        else
            high = v;
    }
    return 0.5 * (low + high);
}

static void gas_in_it_is_at_the_mean_temperature(void **state)
{
    (void)state;
    const dw_joint j = usual(false, hot);
    const double t = 842.0, mu = 1.458e-6 * t * sqrt(t) / (t + 110.4);
    assert_close(j.friction_pa_s_m, 12.0 * mu * 0.117 / (2.1e-3 * 2.1e-3), 1e-13, 0.0);
    assert_close(j.in_rho_kg_m3, 1.187 * 294.0 / 842.0, 1e-14, 0.0);
    assert_close(j.out_rho_kg_m3, 0.231 * 1390.0 / 842.0, 1e-14, 0.0);
    assert_close(j.area_m2, 2.1e-3 * 0.93, 1e-14, 0.0);
    /* The column in the chamber is as hot as the chamber. */
    assert_close(j.rise_pa, (1.187 - 0.231) * DW_G_M_S2 * (TO - FROM), 1e-14, 0.0);
}

static void level_joint_obeys_its_law(void **state)
{
    (void)state;
    kit_random random = kit_seed(1987);
    for (int n = 0; n < 2000; n++) {
        const dw_joint j = joint_of(kit_log_between(&random, 1e-4, 2e-2), kit_log_between(&random, 5e-3, 1.0),
                                    kit_log_between(&random, 0.05, 5.0), true,
                                    n % 3 == 0 ? heavy : hot);
        const double p = kit_log_between(&random, 1e-4, 200.0);
        const double v_out = speed_by_bisection(j.friction_pa_s_m, j.out_rho_kg_m3, p);
        const double v_in = speed_by_bisection(j.friction_pa_s_m, j.in_rho_kg_m3, p);
        assert_close(level_at(&j, p).mass_kg_s, -j.out_rho_kg_m3 * j.area_m2 * v_out, 1e-12, 0.0);
        assert_close(level_at(&j, -p).mass_kg_s, j.in_rho_kg_m3 * j.area_m2 * v_in, 1e-12, 0.0);
        for (int side = -1; side <= 1; side += 2) {
            const double h = 1e-5 * p, at = side * p;
            const double slope = (level_at(&j, at + h).mass_kg_s - level_at(&j, at - h).mass_kg_s) / (2.0 * h);
            assert_close(level_at(&j, at).slope_kg_s_pa, slope, 1e-8, 0.0);
            assert_true(level_at(&j, at).slope_kg_s_pa < 0.0);
        }
    }
}

static void flow_goes_with_the_pressure_when_small_and_with_its_root_when_large(void **state)
{
    (void)state;
    const dw_joint j = usual(true, hot);
    for (int side = -1; side <= 1; side += 2) {
        const double small = level_at(&j, side * 1e-7).mass_kg_s, large = level_at(&j, side * 1e9).mass_kg_s;
        assert_close(level_at(&j, side * 2e-7).mass_kg_s, 2.0 * small, 1e-7, 0.0);
        assert_close(level_at(&j, side * 4e9).mass_kg_s, 2.0 * large, 1e-3, 0.0);
        /* where it is slow: dp/B, and the slope that it has there; where it is fast: sqrt(dp/(0.75 rho)) */
        const double rho = side > 0 ? j.out_rho_kg_m3 : j.in_rho_kg_m3;
        assert_close(fabs(small), rho * j.area_m2 * 1e-7 / j.friction_pa_s_m, 1e-7, 0.0);
        assert_close(level_at(&j, side * 1e-12).slope_kg_s_pa, -rho * j.area_m2 / j.friction_pa_s_m, 1e-9, 0.0);
        assert_close(fabs(large), rho * j.area_m2 * sqrt(1e9 / (0.75 * rho)), 1e-3, 0.0);
    }
    const dw_opening_flow none = level_at(&j, 0.0);
    assert_close(none.mass_kg_s, 0.0, 0.0, 0.0);
    assert_close(none.slope_kg_s_pa, -j.in_rho_kg_m3 * j.area_m2 / j.friction_pa_s_m, 1e-14, 0.0);
}

static void wider_and_shallower_joints_leak_more_than_in_proportion(void **state)
{
    (void)state;
    static const double pressures[] = {-9.0, -0.4, 0.1, 3.0, 8.0};
    for (int i = 0; i < 5; i++) {
        double last = 0.0;
        for (int n = 1; n <= 40; n++) { /* width; twice the width gives more than twice the flow */
            const dw_joint j = joint_of(2e-4 * n, 0.117, 0.93, true, hot);
            const double m = fabs(level_at(&j, pressures[i]).mass_kg_s);
            assert_true(m > last * (n > 1 ? (double)n / (n - 1) : 1.0));
            last = m;
        }
        for (int n = 1; n <= 40; n++) { /* depth */
            const dw_joint j = joint_of(2e-3, 0.01 * n, 0.93, true, hot);
            const double m = fabs(level_at(&j, pressures[i]).mass_kg_s);
            assert_true(n == 1 || m < last);
            last = m;
        }
        const dw_joint one = joint_of(2e-3, 0.117, 0.5, true, hot), two = joint_of(2e-3, 0.117, 1.0, true, hot);
        assert_close(level_at(&two, pressures[i]).mass_kg_s, 2.0 * level_at(&one, pressures[i]).mass_kg_s, 1e-14,
                     0.0);
    }
}

/* The same by many thin joints, one above the other. */
static void by_slices(const dw_joint *joint, double pressure_from_pa, double *in, double *out)
{
    enum { SLICES = 20000 };
    const double gradient = joint->rise_pa / joint->height_m;
    *in = *out = 0.0;
    for (int i = 0; i < SLICES; i++) {
        const double m =
            level_at(joint, pressure_from_pa + gradient * (TO - FROM) * (i + 0.5) / SLICES).mass_kg_s / SLICES;
        if (m > 0.0)
            *in += m;
        else
            *out -= m;
    }
}

/* Rise over the height with the hot gas: 8.6252 Pa. */
static const double pressures[] = {-57.0, -9.1, -8.7,  -8.62, -6.3, -2.2, -0.7,
                                   -0.02, 0.0,  0.003, 0.4,   5.1,  83.0};
enum { PRESSURES = sizeof pressures / sizeof pressures[0] };

static void upright_joint_is_the_sum_of_level_ones(void **state)
{
    (void)state;
    const dw_joint_side inside[] = {hot, heavy, room, {1.1869, 294.0}};
    const double widths[] = {3e-4, 2.1e-3, 9e-3};
    for (int k = 0; k < 12; k++) {
        const dw_joint j = joint_of(widths[k % 3], 0.117, 0.93, false, inside[k / 3]);
        for (int i = 0; i < PRESSURES; i++) {
            double in, out;
            by_slices(&j, pressures[i], &in, &out);
            const dw_tall_flow flow = flow_at(&j, pressures[i]);
            assert_close(flow.in_kg_s, in, 1e-6, 1e-11);
            assert_close(flow.out_kg_s, out, 1e-6, 1e-11);
            assert_close(flow.net_kg_s, flow.in_kg_s - flow.out_kg_s, 0.0, 0.0);
        }
    }
}

/* The mean speed is that of the integral in closed form, F = 2/3 dp^2 (2 s + B)/(s + B)^2. */
static void mean_speed_is_that_of_the_integral(void **state)
{
    (void)state;
    const dw_joint j = usual(false, hot);
    const double low = 3.7, high = low + j.rise_pa, B = j.friction_pa_s_m, rho = j.out_rho_kg_m3;
    double F[2];
    for (int i = 0; i < 2; i++) {
        const double dp = i == 0 ? low : high, s = sqrt(B * B + 3.0 * rho * dp);
        F[i] = 2.0 / 3.0 * dp * dp * (2.0 * s + B) / ((s + B) * (s + B));
    }
    assert_close(flow_at(&j, low).out_kg_s, rho * j.area_m2 * (F[1] - F[0]) / j.rise_pa, 1e-12, 0.0);
}

static void slopes_match_finite_differences(void **state)
{
    (void)state;
    const dw_joint_side inside[] = {hot, heavy, room};
    for (size_t d = 0; d < 3; d++) {
        const dw_joint j = usual(false, inside[d]);
        for (int i = 0; i < PRESSURES; i++) {
            const double p = pressures[i], h = fmax(1e-5 * fabs(p), 1e-5);
            const double end = p + j.rise_pa;
            if (fabs(p) < 2.0 * h || fabs(end) < 2.0 * h) continue;
            const dw_tall_flow low = flow_at(&j, p - h), high = flow_at(&j, p + h), here = flow_at(&j, p);
            assert_close(here.in_slope_kg_s_pa, (high.in_kg_s - low.in_kg_s) / (2.0 * h), 1e-6, 1e-12);
            assert_close(here.out_slope_kg_s_pa, (high.out_kg_s - low.out_kg_s) / (2.0 * h), 1e-6, 1e-12);
            assert_close(here.net_slope_kg_s_pa, (high.net_kg_s - low.net_kg_s) / (2.0 * h), 1e-6, 1e-12);
            assert_true(here.net_slope_kg_s_pa < 0.0);
        }
    }
}

static void nothing_jumps_when_the_neutral_plane_passes_an_end(void **state)
{
    (void)state;
    const dw_joint_side inside[] = {hot, heavy};
    for (int k = 0; k < 4; k++) {
        const dw_joint j = usual(false, inside[k / 2]);
        const double end = k % 2 == 0 ? 0.0 : -j.rise_pa;
        const dw_tall_flow below = flow_at(&j, end - 1e-9), at = flow_at(&j, end), above = flow_at(&j, end + 1e-9);
        const double scale = fabs(at.net_kg_s);
        assert_true(scale > 1e-5);
        assert_close(below.net_kg_s, at.net_kg_s, 0.0, 4e-9 * scale);
        assert_close(above.net_kg_s, at.net_kg_s, 0.0, 4e-9 * scale);
        assert_close(below.net_slope_kg_s_pa, at.net_slope_kg_s_pa, 1e-7, 0.0);
        assert_close(above.net_slope_kg_s_pa, at.net_slope_kg_s_pa, 1e-7, 0.0);
    }
}

static void net_flow_falls_steadily(void **state)
{
    (void)state;
    const dw_joint j = usual(false, hot);
    double last = INFINITY;
    for (int i = -3000; i <= 1000; i++) {
        const dw_tall_flow flow = flow_at(&j, 0.005 * i);
        assert_true(flow.net_kg_s < last && flow.in_kg_s >= 0.0 && flow.out_kg_s >= 0.0);
        last = flow.net_kg_s;
    }
    assert_true(isnan(flow_at(&j, NAN).net_kg_s));
    assert_true(isnan(level_at(&j, NAN).mass_kg_s));
}

static void equal_densities_are_a_level_joint_at_every_pressure(void **state)
{
    (void)state;
    const dw_joint upright = usual(false, room), level = usual(true, room);
    const double all[] = {-31.0, -0.02, -1e-300, 0.0, 5e-324, 1e-300, 1e-9, 0.007, 12.0};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
        const dw_tall_flow flow = flow_at(&upright, all[i]);
        assert_close(flow.net_kg_s, level_at(&level, all[i]).mass_kg_s, 1e-14, 1e-320);
        assert_close(flow.net_slope_kg_s_pa, level_at(&level, all[i]).slope_kg_s_pa, 1e-14, 0.0);
        assert_true(isnan(flow.neutral_m));
    }
}

static void heights_are_those_of_the_stretches(void **state)
{
    (void)state;
    dw_joint j = usual(false, hot);
    dw_tall_flow flow = flow_at(&j, -0.31 * (1.187 - 0.231) * DW_G_M_S2);
    assert_close(flow.neutral_m, FROM + 0.31, 1e-12, 0.0);
    assert_close(flow.in_height_m, FROM + 0.155, 1e-12, 0.0);
    assert_close(flow.out_height_m, 0.5 * (FROM + 0.31 + TO), 1e-12, 0.0);
    j = usual(false, heavy); /* it draws in at the top */
    flow = flow_at(&j, 0.31 * (1.401 - 1.187) * DW_G_M_S2);
    assert_close(flow.neutral_m, FROM + 0.31, 1e-12, 0.0);
    assert_close(flow.out_height_m, FROM + 0.155, 1e-12, 0.0);
    assert_close(flow.in_height_m, 0.5 * (FROM + 0.31 + TO), 1e-12, 0.0);
    j = usual(false, hot);
    flow = flow_at(&j, 1.0);
    assert_close(flow.out_height_m, 0.5 * (FROM + TO), 1e-14, 0.0);
    assert_true(isnan(flow.in_height_m) && isnan(flow.neutral_m) && flow.in_kg_s == 0.0);
}

static void refuses_what_has_no_meaning_of_a_joint(void **state)
{
    (void)state;
    const dw_joint_size good = {2e-3, 0.1, 0.5, FROM, TO};
    dw_joint joint;
    for (int i = 0; i < 9; i++) {
        dw_joint_size size = good;
        dw_joint_side outside = room, inside = hot;
        double *const at[] = {&size.width_m,        &size.depth_m,      &size.length_m,
                              &outside.rho_kg_m3,   &inside.rho_kg_m3,  &outside.temperature_k,
                              &inside.temperature_k, &size.from_m,      &size.to_m};
        *at[i] = i == 7 ? TO : i == 8 ? FROM : i == 2 ? -1e-9 : 0.0;
        assert_int_equal(dw_joint_init(&size, &outside, &inside, NULL, &joint), DW_ERR_DOMAIN);
        assert_true(isnan(joint.area_m2) && isnan(joint.friction_pa_s_m));
        *at[i] = INFINITY;
        assert_int_equal(dw_joint_init(&size, &outside, &inside, NULL, &joint), DW_ERR_ARG);
        *at[i] = NAN;
        assert_int_equal(dw_joint_init(&size, &outside, &inside, NULL, &joint), DW_ERR_ARG);
    }
    assert_int_equal(dw_joint_init(NULL, &room, &hot, NULL, &joint), DW_ERR_ARG);
    assert_int_equal(dw_joint_init(&good, NULL, &hot, NULL, &joint), DW_ERR_ARG);
    assert_int_equal(dw_joint_init(&good, &room, NULL, NULL, &joint), DW_ERR_ARG);
    assert_int_equal(dw_joint_init(&good, &room, &hot, NULL, NULL), DW_ERR_ARG);
    dw_joint_size none = good;
    none.length_m = 0.0;
    assert_int_equal(dw_joint_init(&none, &room, &hot, NULL, &joint), DW_OK);
    assert_close(flow_at(&joint, -3.0).in_kg_s, 0.0, 0.0, 0.0);
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
        cmocka_unit_test(gas_in_it_is_at_the_mean_temperature),
        cmocka_unit_test(level_joint_obeys_its_law),
        cmocka_unit_test(flow_goes_with_the_pressure_when_small_and_with_its_root_when_large),
        cmocka_unit_test(wider_and_shallower_joints_leak_more_than_in_proportion),
        cmocka_unit_test(upright_joint_is_the_sum_of_level_ones),
        cmocka_unit_test(mean_speed_is_that_of_the_integral),
        cmocka_unit_test(slopes_match_finite_differences),
        cmocka_unit_test(nothing_jumps_when_the_neutral_plane_passes_an_end),
        cmocka_unit_test(net_flow_falls_steadily),
        cmocka_unit_test(equal_densities_are_a_level_joint_at_every_pressure),
        cmocka_unit_test(heights_are_those_of_the_stretches),
        cmocka_unit_test(refuses_what_has_no_meaning_of_a_joint),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

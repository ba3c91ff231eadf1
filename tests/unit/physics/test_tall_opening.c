/** @file test_tall_opening.c  Unit tests of the tall opening of physics/opening. */

#include "check.h"

#include "constants.h"
#include "opening.h"

#define AREA 0.0143
#define CD 0.63
#define FROM 0.27
#define TO 1.19

static dw_tall tall_of(double rho_outside, double rho_inside)
{
    dw_tall tall;
    assert_int_equal(dw_tall_init(AREA, CD, FROM, TO, rho_outside, rho_inside, &tall), DW_OK);
    return tall;
}

static dw_tall_flow flow_at(const dw_tall *tall, double pressure_from_pa)
{
    dw_tall_flow flow;
    dw_tall_opening_flow(tall, pressure_from_pa, NULL, NULL, &flow);
    return flow;
}

/** The same by many thin holes, one above the other. */
static void by_slices(double rho_outside, double rho_inside, double pressure_from_pa, double *in,
                      double *out)
{
    enum { SLICES = 20000 };
    dw_hole slice;
    assert_int_equal(dw_hole_init(AREA / SLICES, CD, rho_outside, rho_inside, &slice), DW_OK);
    const double gradient = (rho_outside - rho_inside) * DW_G_M_S2;
    *in = *out = 0.0;
    for (int i = 0; i < SLICES; i++) {
        dw_opening_flow flow;
        dw_hole_flow(&slice, pressure_from_pa + gradient * (TO - FROM) * (i + 0.5) / SLICES, &flow);
        if (flow.mass_kg_s > 0.0)
            *in += flow.mass_kg_s;
        else
            *out -= flow.mass_kg_s;
    }
}

/* Rise over the height at 1.187 outside and 0.231 inside: 8.6252 Pa. */
static const double pressures[] = {-57.0, -9.1, -8.7,  -8.62, -6.3, -2.2, -0.7,
                                   -0.02, 0.0,  0.003, 0.4,   5.1,  83.0};
enum { PRESSURES = sizeof pressures / sizeof pressures[0] };

static void is_the_sum_of_thin_holes(void **state)
{
    (void)state;
    const double densities[][2] = {{1.187, 0.231}, {1.187, 1.187}, {1.187, 1.401}, {1.187, 1.1869}};
    for (size_t d = 0; d < 4; d++) {
        const dw_tall tall = tall_of(densities[d][0], densities[d][1]);
        for (int i = 0; i < PRESSURES; i++) {
            double in, out;
            by_slices(densities[d][0], densities[d][1], pressures[i], &in, &out);
            const dw_tall_flow flow = flow_at(&tall, pressures[i]);
            /* the slices' own error: coarse where the pressure changes sign inside a few of them */
            assert_close(flow.in_kg_s, in, 2e-6, 2e-8);
            assert_close(flow.out_kg_s, out, 2e-6, 2e-8);
            assert_close(flow.net_kg_s, flow.in_kg_s - flow.out_kg_s, 0.0, 0.0);
        }
    }
}

static void slopes_match_finite_differences(void **state)
{
    (void)state;
    const double densities[][2] = {{1.187, 0.231}, {1.187, 1.187}, {1.187, 1.401}};
    for (size_t d = 0; d < 3; d++) {
        const dw_tall tall = tall_of(densities[d][0], densities[d][1]);
        for (int i = 0; i < PRESSURES; i++) {
            const double p = pressures[i];
            if (p == 0.0) continue; /* densities change there; looked at below */
            const double h = fmin(1e-5, 1e-4 * fabs(p));
            const dw_tall_flow low = flow_at(&tall, p - h);
            const dw_tall_flow high = flow_at(&tall, p + h);
            const dw_tall_flow here = flow_at(&tall, p);
            assert_close(here.in_slope_kg_s_pa, (high.in_kg_s - low.in_kg_s) / (2.0 * h), 1e-6,
                         1e-12);
            assert_close(here.out_slope_kg_s_pa, (high.out_kg_s - low.out_kg_s) / (2.0 * h), 1e-6,
                         1e-12);
            assert_close(here.net_slope_kg_s_pa, (high.net_kg_s - low.net_kg_s) / (2.0 * h), 1e-6,
                         1e-12);
            assert_true(here.net_slope_kg_s_pa < 0.0);
        }
    }
}

static void nothing_jumps_when_the_neutral_plane_passes_an_end(void **state)
{
    (void)state;
    const dw_tall tall = tall_of(1.187, 0.231);
    assert_close(tall.rise_pa, (1.187 - 0.231) * 9.80665 * 0.92, 1e-14, 0.0);
    const double ends[] = {0.0, -tall.rise_pa};
    for (int i = 0; i < 2; i++) {
        const dw_tall_flow below = flow_at(&tall, ends[i] - 1e-9);
        const dw_tall_flow at = flow_at(&tall, ends[i]);
        const dw_tall_flow above = flow_at(&tall, ends[i] + 1e-9);
        const double scale = fabs(at.net_kg_s);
        assert_true(scale > 1e-3);
        assert_close(below.net_kg_s, at.net_kg_s, 0.0, 1e-9 * scale);
        assert_close(above.net_kg_s, at.net_kg_s, 0.0, 1e-9 * scale);
        assert_close(below.net_slope_kg_s_pa, at.net_slope_kg_s_pa, 1e-6, 0.0);
        assert_close(above.net_slope_kg_s_pa, at.net_slope_kg_s_pa, 1e-6, 0.0);
    }
}

static void one_signed_stretch_keeps_its_digits(void **state)
{
    (void)state;
    /* Densities alike to 1e-9: 8.6e-9 Pa of rise on 3.7 Pa is the plain hole at mid-height. */
    const dw_tall tall = tall_of(1.187, 1.187 * (1.0 - 1e-9));
    dw_hole hole;
    dw_opening_flow plain;
    assert_int_equal(dw_hole_init(AREA, CD, 1.187, 1.187 * (1.0 - 1e-9), &hole), DW_OK);
    dw_hole_flow(&hole, 3.7 + 0.5 * tall.rise_pa, &plain);
    const dw_tall_flow flow = flow_at(&tall, 3.7);
    assert_close(flow.net_kg_s, plain.mass_kg_s, 1e-14, 0.0);
    assert_close(flow.net_slope_kg_s_pa, plain.slope_kg_s_pa, 1e-14, 0.0);
    /* far from zero pressure: (2/3)(a^2 + a b + b^2)/(a + b), a and b roots of the end pressures */
    const dw_tall hot = tall_of(1.187, 0.231);
    const double a = sqrt(40.0);
    const double b = sqrt(40.0 + hot.rise_pa);
    const double mean = (2.0 / 3.0) * (a * a + a * b + b * b) / (a + b);
    assert_close(flow_at(&hot, 40.0).out_kg_s, CD * AREA * sqrt(2.0 * 0.231) * mean, 1e-7, 0.0);
}

static void equal_densities_are_a_plain_hole_at_every_pressure(void **state)
{
    (void)state;
    const dw_tall tall = tall_of(1.187, 1.187);
    dw_hole hole;
    assert_int_equal(dw_hole_init(AREA, CD, 1.187, 1.187, &hole), DW_OK);
    const double all[] = {-31.0, -0.02, -1e-300, 0.0, 5e-324, 1e-300, 1e-9, 0.007, 12.0};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
        dw_opening_flow plain;
        dw_hole_flow(&hole, all[i], &plain);
        const dw_tall_flow flow = flow_at(&tall, all[i]);
        assert_close(flow.net_kg_s, plain.mass_kg_s, 1e-13, 0.0);
        assert_close(flow.net_slope_kg_s_pa, plain.slope_kg_s_pa, 1e-13, 0.0);
        assert_true(isnan(flow.neutral_m));
    }
}

static void heights_are_those_of_the_stretches(void **state)
{
    (void)state;
    const dw_tall tall = tall_of(1.187, 0.231);
    /* neutral plane 0.31 m above the lower end */
    const double gradient = (1.187 - 0.231) * 9.80665;
    dw_tall_flow flow = flow_at(&tall, -0.31 * gradient);
    assert_close(flow.neutral_m, FROM + 0.31, 1e-12, 0.0);
    assert_close(flow.in_height_m, FROM + 0.155, 1e-12, 0.0);
    assert_close(flow.out_height_m, 0.5 * (FROM + 0.31 + TO), 1e-12, 0.0);
    /* heavier inside: it draws in at the top */
    const dw_tall heavy = tall_of(1.187, 1.401);
    flow = flow_at(&heavy, 0.31 * (1.401 - 1.187) * 9.80665);
    assert_close(flow.neutral_m, FROM + 0.31, 1e-12, 0.0);
    assert_close(flow.out_height_m, FROM + 0.155, 1e-12, 0.0);
    assert_close(flow.in_height_m, 0.5 * (FROM + 0.31 + TO), 1e-12, 0.0);
    /* one way only */
    flow = flow_at(&tall, 1.0);
    assert_close(flow.out_height_m, 0.5 * (FROM + TO), 1e-14, 0.0);
    assert_true(isnan(flow.in_height_m) && isnan(flow.neutral_m));
    assert_close(flow.in_kg_s, 0.0, 0.0, 0.0);
    flow = flow_at(&tall, -20.0);
    assert_close(flow.in_height_m, 0.5 * (FROM + TO), 1e-14, 0.0);
    assert_true(isnan(flow.out_height_m) && isnan(flow.neutral_m));
    assert_close(flow.out_kg_s, 0.0, 0.0, 0.0);
}

static void net_flow_falls_steadily(void **state)
{
    (void)state;
    const dw_tall tall = tall_of(1.187, 0.231);
    double last = INFINITY;
    for (int i = -3000; i <= 1000; i++) {
        const dw_tall_flow flow = flow_at(&tall, 0.005 * i);
        assert_true(flow.net_kg_s < last);
        assert_true(flow.in_kg_s >= 0.0 && flow.out_kg_s >= 0.0);
        last = flow.net_kg_s;
    }
    assert_true(isnan(flow_at(&tall, NAN).net_kg_s));
}

static void refuses_what_has_no_meaning(void **state)
{
    (void)state;
    dw_tall tall;
    assert_int_equal(dw_tall_init(AREA, CD, 1.0, 1.0, 1.2, 0.3, &tall), DW_ERR_DOMAIN);
    assert_true(isnan(tall.in_coeff) && isnan(tall.rise_pa));
    assert_int_equal(dw_tall_init(AREA, CD, 1.1, 1.0, 1.2, 0.3, &tall), DW_ERR_DOMAIN);
    assert_int_equal(dw_tall_init(-AREA, CD, 0.0, 1.0, 1.2, 0.3, &tall), DW_ERR_DOMAIN);
    assert_int_equal(dw_tall_init(AREA, 0.0, 0.0, 1.0, 1.2, 0.3, &tall), DW_ERR_DOMAIN);
    assert_int_equal(dw_tall_init(AREA, CD, 0.0, 1.0, 1.2, 0.0, &tall), DW_ERR_DOMAIN);
    assert_int_equal(dw_tall_init(AREA, CD, NAN, 1.0, 1.2, 0.3, &tall), DW_ERR_ARG);
    assert_int_equal(dw_tall_init(AREA, CD, 0.0, INFINITY, 1.2, 0.3, &tall), DW_ERR_ARG);
    assert_int_equal(dw_tall_init(AREA, CD, 0.0, 1.0, NAN, 0.3, &tall), DW_ERR_ARG);
    assert_int_equal(dw_tall_init(AREA, CD, 0.0, 1.0, 1.2, 0.3, NULL), DW_ERR_ARG);
    assert_int_equal(dw_tall_init(0.0, CD, 0.0, 1.0, 1.2, 0.3, &tall), DW_OK);
    assert_close(flow_at(&tall, -3.0).in_kg_s, 0.0, 0.0, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(is_the_sum_of_thin_holes),
        cmocka_unit_test(slopes_match_finite_differences),
        cmocka_unit_test(nothing_jumps_when_the_neutral_plane_passes_an_end),
        cmocka_unit_test(one_signed_stretch_keeps_its_digits),
        cmocka_unit_test(equal_densities_are_a_plain_hole_at_every_pressure),
        cmocka_unit_test(heights_are_those_of_the_stretches),
        cmocka_unit_test(net_flow_falls_steadily),
        cmocka_unit_test(refuses_what_has_no_meaning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

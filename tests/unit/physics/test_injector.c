/** @file test_injector.c  Unit tests of physics/injector. */

#include "check.h"

#include "injector.h"

/* Gas and a compressed-air jet: gas 2.17e-4 kg/s at 1.83 kg/m3, air jet 1.1e-4 at 1.176. */
static const dw_injector_input busy = {.throat_area_m2 = 6.9e-4,
                                       .kappa_m = 1.31,
                                       .kappa_a = 0.21,
                                       .jet_mass_kg_s = 2.17e-4 + 1.1e-4,
                                       .jet_volume_m3_s = 2.17e-4 / 1.83 + 1.1e-4 / 1.176,
                                       .thrust_n = 0.0187,
                                       .air_density_kg_m3 = 1.176};

static dw_injector_flow air_at(const dw_injector_input *input, double chamber_pa)
{
    dw_injector injector;
    dw_injector_flow flow;
    assert_int_equal(dw_injector_init(input, &injector), DW_OK);
    dw_injector_air(&injector, chamber_pa, NULL, &flow);
    return flow;
}

static void coefficients_match_hand_values(void **state)
{
    (void)state;
    /* 1 + 0.21/2 - 0.37/2 + 1.7 (1.43/2) 0.64^2 */
    assert_close(dw_injector_kappa_m(0.21, 0.37, 1.43, 0.64, 1.7, NULL), 1.4178688, 1e-14, 0.0);
    assert_close(dw_injector_kappa_a(0.57, NULL), 0.215, 1e-14, 0.0);
    assert_close(dw_injector_shutter_loss(7.1e-4, 9.3e-4, 0.61, NULL), 0.5663583634665443, 1e-13, 0.0);
    assert_true(isinf(dw_injector_shutter_loss(7.1e-4, 0.0, 0.61, NULL)));
    assert_true(isinf(dw_injector_kappa_a(INFINITY, NULL)) && dw_injector_kappa_a(INFINITY, NULL) < 0.0);
    /* A/sqrt(2 (1.31 - 0.21)) */
    assert_close(dw_injector_unlit_area_m2(6.9e-4, 1.31, 0.21), 4.65197905099637e-4, 1e-12, 0.0);
    assert_close(dw_injector_unlit_area_m2(6.9e-4, 1.31, -INFINITY), 0.0, 0.0, 0.0);
    assert_true(isnan(dw_injector_unlit_area_m2(6.9e-4, 0.21, 0.21)));
}

static void air_matches_hand_value(void **state)
{
    (void)state;
    /* The quadratic of the header by the textbook root. */
    const dw_injector_flow flow = air_at(&busy, 3.7);
    assert_close(flow.air_kg_s, 3.111005958482406e-3, 1e-12, 0.0);
    assert_false(flow.reversed);
}

static void momentum_balances(void **state)
{
    (void)state;
    const double pressures[] = {-60.0, -7.3, 0.0, 4.1, 19.0, 26.0};
    for (size_t i = 0; i < sizeof pressures / sizeof pressures[0]; i++) {
        const double dp = pressures[i];
        const double m = air_at(&busy, dp).air_kg_s;
        const double a2 = busy.throat_area_m2 * busy.throat_area_m2;
        /* J/A = dp + kappa_m (M0+m)(V0+m/rho)/A^2 - kappa_a m^2/(rho A^2): only induced air m in
         * the last term, the air jet not */
        const double right = dp +
                             busy.kappa_m * (busy.jet_mass_kg_s + m) *
                                 (busy.jet_volume_m3_s + m / busy.air_density_kg_m3) / a2 -
                             busy.kappa_a * m * m / (busy.air_density_kg_m3 * a2);
        assert_close(right, busy.thrust_n / busy.throat_area_m2, 1e-12, 0.0);
    }
}

static void slope_matches_finite_difference(void **state)
{
    (void)state;
    const double pressures[] = {-60.0, -7.3, 0.0, 4.1, 19.0, 26.0};
    for (size_t i = 0; i < sizeof pressures / sizeof pressures[0]; i++) {
        const double dp = pressures[i];
        const double h = 1e-4;
        const double slope =
            (air_at(&busy, dp + h).air_kg_s - air_at(&busy, dp - h).air_kg_s) / (2.0 * h);
        const dw_injector_flow flow = air_at(&busy, dp);
        assert_close(flow.slope_kg_s_pa, slope, 1e-7, 0.0);
        assert_true(flow.slope_kg_s_pa < 0.0);
    }
}

static void reverses_where_the_jets_fail(void **state)
{
    (void)state;
    dw_injector injector;
    dw_injector_flow flow;
    assert_int_equal(dw_injector_init(&busy, &injector), DW_OK);
    /* (A J - kappa_m M0 V0)/A^2 */
    assert_close(injector.reversal_pa, 26.910597753971384, 1e-12, 0.0);
    dw_injector_air(&injector, 26.9105, NULL, &flow);
    assert_false(flow.reversed);
    assert_true(flow.air_kg_s > 0.0 && flow.air_kg_s < 1e-6);
    const double beyond[] = {26.9107, 40.0, 500.0};
    for (size_t i = 0; i < 3; i++) {
        dw_injector_air(&injector, beyond[i], NULL, &flow);
        assert_true(flow.reversed);
        assert_close(flow.air_kg_s, 0.0, 0.0, 0.0);
        assert_close(flow.slope_kg_s_pa, 0.0, 0.0, 0.0);
    }
    dw_injector_air(&injector, NAN, NULL, &flow);
    assert_true(isnan(flow.air_kg_s));
    assert_false(flow.reversed);
}

static void little_air_goes_with_the_pressure_left(void **state)
{
    (void)state;
    dw_injector injector;
    dw_injector_flow flow;
    assert_int_equal(dw_injector_init(&busy, &injector), DW_OK);
    /* Near reversal m = -c/b - a c^2/b^3, with -c = A^2 times the pressure left. */
    const double left_pa = 1e-6;
    dw_injector_air(&injector, injector.reversal_pa - left_pa, NULL, &flow);
    const double first = injector.area_sq * left_pa / injector.b;
    assert_close(flow.air_kg_s, first - injector.a * first * first / injector.b, 1e-8, 0.0);
}

static void closed_shutter_is_no_reversal(void **state)
{
    (void)state;
    dw_injector_input closed = busy;
    closed.kappa_a = dw_injector_kappa_a(dw_injector_shutter_loss(6.9e-4, 0.0, 0.62, NULL), NULL);
    const dw_injector_flow flow = air_at(&closed, -5.0);
    assert_close(flow.air_kg_s, 0.0, 0.0, 0.0);
    assert_close(flow.slope_kg_s_pa, 0.0, 0.0, 0.0);
    assert_false(flow.reversed);
    assert_true(air_at(&closed, 40.0).reversed);
    /* closing it bit by bit leads there */
    double last = INFINITY;
    for (double area = 2e-3; area > 1e-9; area *= 0.3) {
        dw_injector_input input = busy;
        input.kappa_a = dw_injector_kappa_a(dw_injector_shutter_loss(6.9e-4, area, 0.62, NULL), NULL);
        const dw_injector_flow part = air_at(&input, -5.0);
        assert_true(part.air_kg_s > 0.0 && part.air_kg_s < last);
        assert_false(part.reversed);
        last = part.air_kg_s;
    }
    assert_true(last < 1e-8);
}

static void without_jets_it_is_the_unlit_opening(void **state)
{
    (void)state;
    dw_injector_input unlit = busy;
    unlit.jet_mass_kg_s = 1e-14;
    unlit.jet_volume_m3_s = 1e-14;
    unlit.thrust_n = 0.0;
    const double area = dw_injector_unlit_area_m2(busy.throat_area_m2, busy.kappa_m, busy.kappa_a);
    assert_close(air_at(&unlit, -6.3).air_kg_s, area * sqrt(2.0 * busy.air_density_kg_m3 * 6.3),
                 1e-9, 0.0);
}

static void refused(dw_injector_input input, dw_status expected)
{
    dw_injector injector;
    assert_int_equal(dw_injector_init(&input, &injector), expected);
    assert_true(isnan(injector.a) && isnan(injector.c0) && isnan(injector.reversal_pa));
}

static void refuses_what_has_no_meaning(void **state)
{
    (void)state;
    dw_injector_input in = busy;
    in.kappa_a = busy.kappa_m;
    refused(in, DW_ERR_DOMAIN);
    in = busy, in.kappa_a = INFINITY;
    refused(in, DW_ERR_ARG);
    in = busy, in.kappa_m = NAN;
    refused(in, DW_ERR_ARG);
    in = busy, in.kappa_m = 0.0, in.kappa_a = -1.0;
    refused(in, DW_ERR_DOMAIN);
    in = busy, in.throat_area_m2 = 0.0;
    refused(in, DW_ERR_DOMAIN);
    in = busy, in.jet_mass_kg_s = 0.0;
    refused(in, DW_ERR_DOMAIN);
    in = busy, in.jet_volume_m3_s = 0.0;
    refused(in, DW_ERR_DOMAIN);
    in = busy, in.thrust_n = -1e-3;
    refused(in, DW_ERR_DOMAIN);
    in = busy, in.air_density_kg_m3 = 0.0;
    refused(in, DW_ERR_DOMAIN);
    dw_injector injector;
    assert_int_equal(dw_injector_init(NULL, &injector), DW_ERR_ARG);
    assert_int_equal(dw_injector_init(&busy, NULL), DW_ERR_ARG);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(coefficients_match_hand_values),
        cmocka_unit_test(air_matches_hand_value),
        cmocka_unit_test(momentum_balances),
        cmocka_unit_test(slope_matches_finite_difference),
        cmocka_unit_test(reverses_where_the_jets_fail),
        cmocka_unit_test(little_air_goes_with_the_pressure_left),
        cmocka_unit_test(closed_shutter_is_no_reversal),
        cmocka_unit_test(without_jets_it_is_the_unlit_opening),
        cmocka_unit_test(refuses_what_has_no_meaning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

/** @file test_room_air.c  Unit tests of physics/room_air. */

#include "check.h"

#include "room_air.h"

static const dw_room_air busy = {.volume_m3 = 47.3,
                                 .flow_m3_s = 0.0173,
                                 .source_m3_s = 2.71e-6,
                                 .outside_ppm = 1.7};

static void hand_values(void **state)
{
    (void)state;
    /* tau = 47.3/0.0173 = 2734.104046 s; steady = 1.7 + 2.71/0.0173 = 158.347399. */
    assert_close(dw_room_air_steady_ppm(&busy), 158.34739884393063, 1e-12, 0.0);
    const double e = exp(-1234.0 / 2734.1040462427745);
    assert_close(dw_room_air_ppm(&busy, 11.3, 1234.0), 158.34739884393063 * (1.0 - e) + 11.3 * e,
                 1e-12, 0.0);
    assert_close(dw_room_air_ppm(&busy, 11.3, 0.0), 11.3, 0.0, 0.0);
    assert_close(dw_room_air_ppm(&busy, 11.3, INFINITY), dw_room_air_steady_ppm(&busy), 0.0, 0.0);
    /* The level it holds after a time is reached after that time. */
    const double level = dw_room_air_ppm(&busy, 11.3, 777.0);
    assert_close(dw_room_air_time_to_ppm(&busy, 11.3, level), 777.0, 1e-10, 0.0);
    assert_true(dw_room_air_time_to_ppm(&busy, 11.3, 11.3) == 0.0);
    assert_true(isinf(dw_room_air_time_to_ppm(&busy, 11.3, 160.0)));
    dw_room_air held = busy;
    held.flow_m3_s = dw_room_air_flow_for_ppm(&busy, 35.0);
    assert_close(dw_room_air_steady_ppm(&held), 35.0, 1e-12, 0.0);
    assert_true(isinf(dw_room_air_flow_for_ppm(&busy, 1.7)));
}

static void a_closed_room_rises_in_a_straight_line(void **state)
{
    (void)state;
    dw_room_air closed = busy;
    closed.flow_m3_s = 0.0;
    const double slope = 2.71 / 47.3;
    assert_close(dw_room_air_ppm(&closed, 3.1, 900.0), 3.1 + 900.0 * slope, 1e-12, 0.0);
    assert_close(dw_room_air_mean_ppm(&closed, 3.1, 900.0), 3.1 + 450.0 * slope, 1e-12, 0.0);
    assert_close(dw_room_air_time_to_ppm(&closed, 3.1, 40.0), 36.9 / slope, 1e-12, 0.0);
    assert_true(isinf(dw_room_air_steady_ppm(&closed)));
    /* A very small flow goes over into it. */
    closed.flow_m3_s = 1e-9;
    assert_close(dw_room_air_ppm(&closed, 3.1, 900.0), 3.1 + 900.0 * slope, 1e-6, 0.0);
    closed.flow_m3_s = 0.0;
    closed.source_m3_s = 0.0;
    assert_close(dw_room_air_ppm(&closed, 3.1, INFINITY), 3.1, 0.0, 0.0);
    assert_true(isinf(dw_room_air_time_to_ppm(&closed, 3.1, 4.0)));
    assert_true(dw_room_air_flow_for_ppm(&closed, 4.0) == 0.0);
}

static void the_mean_is_the_integral(void **state)
{
    (void)state;
    const double durations[] = {0.7, 2.2, 61.0, 3600.0, 86400.0};
    for (size_t k = 0; k < sizeof durations / sizeof durations[0]; k++) {
        const double t = durations[k];
        double sum = 0.0;
        enum { PARTS = 20000 };
        for (int i = 0; i < PARTS; i++) {
            sum += dw_room_air_ppm(&busy, 11.3, t * (i + 0.5) / PARTS);
        }
        assert_close(dw_room_air_mean_ppm(&busy, 11.3, t), sum / PARTS, 1e-7, 0.0);
    }
}

/* The law of the balance, V dC/dt = G + Q (C_out - C), by small steps of its own. */
static void the_level_follows_the_balance(void **state)
{
    (void)state;
    const double step_s = 0.5;
    double ppm = 11.3;
    for (int i = 0; i < 28800; i++) {
        const double slope =
            (1e6 * busy.source_m3_s + busy.flow_m3_s * (busy.outside_ppm - ppm)) / busy.volume_m3;
        const double half = ppm + 0.5 * step_s * slope;
        ppm += step_s *
               (1e6 * busy.source_m3_s + busy.flow_m3_s * (busy.outside_ppm - half)) / busy.volume_m3;
    }
    assert_close(dw_room_air_ppm(&busy, 11.3, 14400.0), ppm, 1e-7, 0.0);
    /* What came in and did not go out is still there. */
    const double in = (busy.source_m3_s + 1e-6 * busy.flow_m3_s * busy.outside_ppm) * 14400.0;
    const double out =
        1e-6 * busy.flow_m3_s * dw_room_air_mean_ppm(&busy, 11.3, 14400.0) * 14400.0;
    assert_close(in - out, 1e-6 * busy.volume_m3 * (ppm - 11.3), 1e-7, 0.0);
}

static void refuses_what_has_no_meaning(void **state)
{
    (void)state;
    dw_room_air bad = busy;
    assert_int_equal(dw_room_air_check(&busy), DW_OK);
    assert_int_equal(dw_room_air_check(NULL), DW_ERR_ARG);
    bad.volume_m3 = 0.0;
    assert_int_equal(dw_room_air_check(&bad), DW_ERR_DOMAIN);
    bad = busy;
    bad.source_m3_s = -1e-9;
    assert_int_equal(dw_room_air_check(&bad), DW_ERR_DOMAIN);
    bad = busy;
    bad.flow_m3_s = NAN;
    assert_int_equal(dw_room_air_check(&bad), DW_ERR_ARG);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(hand_values),
        cmocka_unit_test(a_closed_room_rises_in_a_straight_line),
        cmocka_unit_test(the_mean_is_the_integral),
        cmocka_unit_test(the_level_follows_the_balance),
        cmocka_unit_test(refuses_what_has_no_meaning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

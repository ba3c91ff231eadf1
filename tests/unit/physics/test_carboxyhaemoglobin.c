/** @file test_carboxyhaemoglobin.c  Unit tests of physics/carboxyhaemoglobin. */

#include "check.h"

#include "carboxyhaemoglobin.h"
#include "cohb_linear.h"

/* A busy person: no number as in the data. */
static const dw_cohb busy = {.haldane_ratio = 231.0,
                             .endogenous_m3_s = 1.31e-10,
                             .capillary_o2_pa = 12950.0,
                             .capacity_m3_m3 = 0.193,
                             .blood_m3 = 4.87e-3,
                             .ventilation_m3_s = 1.83e-4,
                             .diffusing_m3_s_pa = 4.4e-9,
                             .barometric_pa_abs = 97300.0,
                             .water_pa = 6270.0};

/* The header's equation as it stands, by many small Runge-Kutta steps. */
static double slope(const dw_cohb *p, double c, double ppm)
{
    const double dry = p->barometric_pa_abs - p->water_pa;
    const double b = 1.0 / p->diffusing_m3_s_pa + dry / p->ventilation_m3_s;
    const double back = c * p->capillary_o2_pa / (p->haldane_ratio * (p->capacity_m3_m3 - c));
    return p->endogenous_m3_s / p->blood_m3 + (ppm * 1e-6 * dry - back) / (p->blood_m3 * b);
}

static double by_steps(const dw_cohb *p, double start, double ppm, double time_s)
{
    enum { STEPS = 40000 };
    double c = start * p->capacity_m3_m3;
    const double h = time_s / STEPS;
    for (int i = 0; i < STEPS; i++) {
        const double k1 = slope(p, c, ppm), k2 = slope(p, c + 0.5 * h * k1, ppm);
        const double k3 = slope(p, c + 0.5 * h * k2, ppm), k4 = slope(p, c + h * k3, ppm);
        c += h / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4);
    }
    return c / p->capacity_m3_m3;
}

static void closed_form_agrees_with_steps(void **state)
{
    (void)state;
    const double ppm[] = {0.0, 3.7, 41.0, 330.0, 2900.0};
    const double start[] = {0.0, 0.0083, 0.12, 0.55};
    const double hours[] = {0.021, 0.9, 7.3, 30.0};
    for (int i = 0; i < 5; i++) {
        for (int k = 0; k < 4; k++) {
            for (int n = 0; n < 4; n++) {
                const double t = hours[n] * 3600.0;
                assert_close(dw_cohb_after(&busy, start[k], ppm[i], t),
                             by_steps(&busy, start[k], ppm[i], t), 1e-9, 1e-12);
            }
        }
    }
}

static void two_halves_make_a_whole(void **state)
{
    (void)state;
    const double whole = dw_cohb_after(&busy, 0.011, 137.0, 5000.0);
    const double half = dw_cohb_after(&busy, 0.011, 137.0, 1700.0);
    assert_close(dw_cohb_after(&busy, half, 137.0, 3300.0), whole, 1e-12, 0.0);
    assert_close(dw_cohb_time_to(&busy, 0.011, 137.0, whole), 5000.0, 1e-9, 0.0);
}

static void extremes(void **state)
{
    (void)state;
    const double end = dw_cohb_after(&busy, 0.0, 137.0, INFINITY);
    assert_close(dw_cohb_after(&busy, 0.011, 137.0, INFINITY), end, 0.0, 0.0);
    assert_close(dw_cohb_after(&busy, 0.011, 137.0, 1e9), end, 1e-12, 0.0);
    assert_close(dw_cohb_after(&busy, 0.7, 137.0, 1e9), end, 1e-12, 0.0);
    assert_close(dw_cohb_after(&busy, end, 137.0, 1234.0), end, 1e-15, 0.0);
    assert_close(dw_cohb_after(&busy, 0.011, 137.0, 0.0), 0.011, 1e-13, 0.0);
    assert_close(dw_cohb_after(&busy, 0.7, 0.0, 0.0), 0.7, 1e-13, 0.0);
    /* Pure CO: nearly all of it, never more than all. */
    const double most = dw_cohb_after(&busy, 0.0, 1e6, 1e5);
    assert_true(most > 0.99 && most < 1.0);
    assert_true(isinf(dw_cohb_time_to(&busy, 0.011, 137.0, end + 1e-9)));
    assert_true(dw_cohb_time_to(&busy, 0.011, 137.0, 0.011) == 0.0);
    assert_true(isnan(dw_cohb_after(&busy, 1.0, 137.0, 5.0)));
    assert_true(isnan(dw_cohb_after(&busy, 0.1, -1.0, 5.0)));
    assert_true(isnan(dw_cohb_after(&busy, 0.1, 137.0, NAN)));
}

static void more_co_more_time_more_blood_less(void **state)
{
    (void)state;
    dw_cohb small = busy, high = busy;
    small.blood_m3 *= 0.7;
    const double usual = dw_cohb_after(&busy, 0.008, 90.0, 4000.0);
    assert_true(dw_cohb_after(&busy, 0.008, 91.0, 4000.0) > usual);
    assert_true(dw_cohb_after(&busy, 0.008, 90.0, 4100.0) > usual);
    assert_true(dw_cohb_after(&small, 0.008, 90.0, 4000.0) > usual);
    /* High up there is less oxygen to hold CO off. */
    high.barometric_pa_abs = 80000.0;
    high.capillary_o2_pa = dw_capillary_o2_pa(12950.0, 0.209476, 80000.0, 97300.0, NULL);
    assert_close(high.capillary_o2_pa, 12950.0 - 0.209476 * 17300.0, 1e-12, 0.0);
    assert_true(dw_cohb_after(&high, 0.0, 90.0, INFINITY) > dw_cohb_after(&busy, 0.0, 90.0, INFINITY));
    assert_close(dw_capillary_o2_pa(12950.0, 0.209476, 104000.0, 97300.0, NULL), 12950.0, 0.0, 0.0);
    assert_true(isnan(dw_capillary_o2_pa(12950.0, 0.209476, 40000.0, 101325.0, NULL)));
}

static void linear_form_is_the_limit_of_little(void **state)
{
    (void)state;
    const double full = dw_cohb_after(&busy, 0.0, 1.3, 4000.0);
    assert_close(cohb_after_linear(&busy, 0.0, 1.3, 4000.0), full, 1e-3, 0.0);
    assert_true(cohb_after_linear(&busy, 0.01, 900.0, 90000.0) > 1.0);
}

static void refuses_what_has_no_meaning(void **state)
{
    (void)state;
    assert_int_equal(dw_cohb_check(&busy), DW_OK);
    assert_int_equal(dw_cohb_check(NULL), DW_ERR_ARG);
    dw_cohb bad = busy;
    bad.blood_m3 = 0.0;
    assert_int_equal(dw_cohb_check(&bad), DW_ERR_DOMAIN);
    bad = busy;
    bad.barometric_pa_abs = 6000.0;
    assert_int_equal(dw_cohb_check(&bad), DW_ERR_DOMAIN);
    bad = busy;
    bad.capillary_o2_pa = NAN;
    assert_int_equal(dw_cohb_check(&bad), DW_ERR_ARG);
    bad = busy;
    bad.endogenous_m3_s = -1.0;
    assert_int_equal(dw_cohb_check(&bad), DW_ERR_DOMAIN);
    bad.endogenous_m3_s = 0.0;
    assert_int_equal(dw_cohb_check(&bad), DW_OK);
    assert_true(isnan(dw_blood_volume_m3(2.3, 80.0, false, NULL)));
    assert_true(isnan(dw_blood_volume_m3(1.7, 20.0, true, NULL)));
    assert_true(dw_blood_volume_m3(1.7, 70.0, true, NULL) < dw_blood_volume_m3(1.7, 70.0, false, NULL));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(closed_form_agrees_with_steps),
        cmocka_unit_test(two_halves_make_a_whole),
        cmocka_unit_test(extremes),
        cmocka_unit_test(more_co_more_time_more_blood_less),
        cmocka_unit_test(linear_form_is_the_limit_of_little),
        cmocka_unit_test(refuses_what_has_no_meaning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

/** @file test_damper.c  Unit tests of physics/damper. */

#include "check.h"

#include "constants.h"
#include "damper.h"

#define DEG (DW_PI / 180.0)

/* Round plate. */
static const double angles[] = {5 * DEG,  10 * DEG, 20 * DEG, 30 * DEG,
                                40 * DEG, 50 * DEG, 60 * DEG, 70 * DEG};
static const double losses[] = {0.24, 0.52, 1.54, 3.91, 10.8, 32.6, 118.0, 751.0};
enum { ROWS = 8 };

static dw_damper_loss slide(double open_frac, double leak, double scale, double k)
{
    const dw_damper_setting setting = {open_frac, leak, scale};
    dw_damper_loss loss;
    assert_int_equal(dw_damper_slide(&setting, k, NULL, &loss), DW_OK);
    return loss;
}

static dw_damper_loss butterfly(double open_frac, double leak, double scale)
{
    const dw_damper_setting setting = {open_frac, leak, scale};
    dw_damper_loss loss;
    assert_int_equal(dw_damper_butterfly(&setting, angles, losses, ROWS, NULL, &loss), DW_OK);
    return loss;
}

static void slide_matches_hand_values(void **state)
{
    (void)state;
    /* f 0.37: Cc = 1/(1 + 0.707 0.63^0.375), (1/(Cc f) - k)^2 */
    assert_close(slide(0.37, 0.01, 1.0, 1.0).loss, 10.953018079112564, 1e-12, 0.0);
    assert_close(slide(0.37, 0.01, 1.0, 0.45).loss, 14.896005941436265, 1e-12, 0.0);
    assert_close(slide(0.37, 0.01, 1.21, 0.45).loss, 1.21 * 14.896005941436265, 1e-12, 0.0);
    assert_close(slide(0.37, 0.01, 1.0, 1.0).open_frac, 0.37, 0.0, 0.0);
    /* full open: nothing into an equal duct, one speed head into a plenum */
    assert_close(slide(1.0, 0.01, 1.0, 1.0).loss, 0.0, 0.0, 0.0);
    assert_close(slide(1.0, 0.01, 1.0, 0.0).loss, 1.0, 0.0, 0.0);
    assert_close(slide(1.0, 0.01, 1.0, 0.3).loss, 0.49, 1e-14, 0.0);
}

static dw_damper_loss shelf(double open_frac, double scale, double thickness_m, double width_m)
{
    /* The fifth row is not one of them. */
    static const double ratio[] = {0.5, 1.0, 2.0, 4.0, 5.0}, factor[] = {1.0, 0.83, 0.61, 0.55, 0.1};
    const dw_damper_setting setting = {open_frac, 0.01, scale};
    const dw_damper_plate plate = {thickness_m, width_m, ratio, factor, 4};
    dw_damper_loss loss;
    assert_int_equal(dw_damper_shelf(&setting, &plate, NULL, &loss), DW_OK);
    return loss;
}

static void shelf_is_a_slide_into_a_plenum_that_loses_less_when_it_is_thick(void **state)
{
    (void)state;
    /* 20 mm over a mouth of 160 mm: slots of 80, 20, 10, 5 and 2.5 mm, and half way between 20 and 10 mm of ratio */
    static const double open[] = {0.5, 0.125, 0.0625, 0.03125, 0.015625, 0.125 / 1.5};
    static const double factor[] = {1.0, 0.83, 0.61, 0.55, 0.55, 0.72};
    for (int i = 0; i < 6; i++) {
        const dw_damper_loss thick = shelf(open[i], 1.1, 0.02, 0.16);
        assert_close(thick.loss, 1.1 * factor[i] * slide(open[i], 0.01, 1.0, 0.0).loss, 1e-12, 0.0);
        assert_close(thick.open_frac, open[i], 0.0, 0.0);
        assert_int_equal(thick.outside_published, open[i] < 0.1);
    }
    assert_true(shelf(0.0, 1.0, 0.02, 0.16).at_leak);
    assert_close(shelf(0.0, 1.0, 0.02, 0.16).loss, 0.55 * slide(0.01, 0.01, 1.0, 0.0).loss, 1e-12, 0.0);
    /* Without both sizes it is thin. */
    assert_close(shelf(0.1, 1.0, NAN, 0.16).loss, slide(0.1, 0.01, 1.0, 0.0).loss, 0.0, 0.0);
    assert_close(shelf(0.1, 1.0, 0.02, NAN).loss, slide(0.1, 0.01, 1.0, 0.0).loss, 0.0, 0.0);
    assert_close(shelf(0.1, 1.0, 0.02, 0.0).loss, slide(0.1, 0.01, 1.0, 0.0).loss, 0.0, 0.0);
    /* The limits of the published range belong to it. */
    assert_false(shelf(0.1, 1.0, 0.02, 0.16).outside_published);
    assert_false(shelf(0.95, 1.0, 0.02, 0.16).outside_published);
    /* What closes loses more. */
    double before = 0.0;
    for (double f = 1.0; f > 0.012; f *= 0.97) {
        const double now = shelf(f, 1.0, 0.03, 0.12).loss;
        assert_true(now > before);
        before = now;
    }
    const dw_damper_setting setting = {0.1, 0.01, 1.0};
    const dw_damper_plate one_row = {0.02, 0.16, angles, losses, 1};
    dw_damper_loss loss;
    assert_int_equal(dw_damper_shelf(&setting, &one_row, NULL, &loss), DW_ERR_DOMAIN);
    const dw_damper_plate two_rows = {0.02, 0.16, angles, losses, 2};
    assert_int_equal(dw_damper_shelf(&setting, &two_rows, NULL, &loss), DW_OK);
    assert_int_equal(dw_damper_shelf(&setting, NULL, NULL, &loss), DW_OK);
    assert_close(loss.loss, slide(0.1, 0.01, 1.0, 0.0).loss, 0.0, 0.0);
    assert_int_equal(dw_damper_shelf(NULL, &one_row, NULL, &loss), DW_ERR_ARG);
    assert_int_equal(dw_damper_shelf(&setting, &one_row, NULL, NULL), DW_ERR_ARG);
}

static void slide_shut_is_its_leak(void **state)
{
    (void)state;
    const dw_damper_loss shut = slide(0.0, 0.017, 1.0, 1.0);
    assert_true(shut.at_leak && shut.outside_published);
    assert_close(shut.open_frac, 0.017, 0.0, 0.0);
    assert_close(shut.loss, slide(0.017, 0.002, 1.0, 1.0).loss, 0.0, 0.0);
    assert_true(slide(0.017, 0.017, 1.0, 1.0).at_leak);
    assert_false(slide(0.018, 0.017, 1.0, 1.0).at_leak);
    const double inside[] = {0.1, 0.5, 0.95};
    const double outside[] = {0.0999, 0.9501, 1.0};
    for (size_t i = 0; i < 3; i++) {
        assert_false(slide(inside[i], 0.01, 1.0, 1.0).outside_published);
        assert_true(slide(outside[i], 0.01, 1.0, 1.0).outside_published);
    }
}

static void losses_fall_as_dampers_open(void **state)
{
    (void)state;
    const double leaks[] = {0.002, 0.01, 0.034, 0.0341, 0.05};
    for (size_t j = 0; j < 5; j++) {
        double last_slide = INFINITY;
        double last_butterfly = INFINITY;
        for (int i = 0; i <= 2000; i++) {
            const double f = i / 2000.0;
            const double s = slide(f, leaks[j], 1.0, 0.7).loss;
            const double b = butterfly(f, leaks[j], 1.0).loss;
            if (f > leaks[j])
                assert_true(s < last_slide);
            else
                assert_true(s <= last_slide);
            /* below 5 degrees the first row holds */
            if (f > leaks[j] && f < 0.912)
                assert_true(b < last_butterfly);
            else
                assert_true(b <= last_butterfly);
            last_slide = s;
            last_butterfly = b;
        }
    }
}

static void butterfly_goes_through_its_rows(void **state)
{
    (void)state;
    for (int i = 0; i < ROWS; i++) {
        const double f = dw_butterfly_open_frac(angles[i]);
        assert_close(butterfly(f, 0.01, 1.3).loss, 1.3 * losses[i], 1e-9, 0.0);
        assert_false(butterfly(f, 0.01, 1.0).outside_published);
    }
    /* 43 degrees: 10.8 (32.6/10.8)^0.3 */
    assert_close(butterfly(dw_butterfly_open_frac(43 * DEG), 0.01, 1.0).loss,
                 10.8 * pow(32.6 / 10.8, 0.3), 1e-10, 0.0);
    assert_close(butterfly(1.0, 0.01, 1.0).loss, 0.24, 0.0, 0.0);
    assert_true(butterfly(1.0, 0.01, 1.0).outside_published);
    assert_true(butterfly(0.05, 0.01, 1.0).outside_published);
}

static void butterfly_joins_its_leak(void **state)
{
    (void)state;
    const double end = dw_butterfly_open_frac(75 * DEG);
    const double end_loss = 751.0 * sqrt(751.0 / 118.0);
    assert_close(butterfly(end, 0.01, 1.0).loss, end_loss, 1e-9, 0.0);
    assert_close(butterfly(end * (1.0 - 1e-9), 0.01, 1.0).loss, end_loss, 1e-7, 0.0);
    assert_close(butterfly(end * (1.0 + 1e-9), 0.01, 1.0).loss, end_loss, 1e-7, 0.0);
    /* past it in proportion to a slide's */
    const double ratio = slide(0.013, 0.001, 1.0, 1.0).loss / slide(end, 0.001, 1.0, 1.0).loss;
    assert_close(butterfly(0.0, 0.013, 1.0).loss, end_loss * ratio, 1e-9, 0.0);
    assert_true(butterfly(0.0, 0.013, 1.0).at_leak);
    /* nothing jumps when the leak itself passes 75 degrees */
    assert_close(butterfly(0.0, end * (1.0 - 1e-9), 1.0).loss,
                 butterfly(0.0, end * (1.0 + 1e-9), 1.0).loss, 1e-7, 0.0);
}

static void angle_and_open_share_are_inverse(void **state)
{
    (void)state;
    assert_close(dw_butterfly_open_frac(30 * DEG), 0.5, 1e-14, 0.0);
    assert_close(dw_butterfly_angle_rad(0.5), 30 * DEG, 1e-14, 0.0);
    for (int i = 0; i <= 17; i++) {
        const double f = i / 17.0;
        assert_close(dw_butterfly_open_frac(dw_butterfly_angle_rad(f)), f, 0.0, 1e-15);
    }
    assert_true(isnan(dw_butterfly_angle_rad(-0.01)));
    assert_true(isnan(dw_butterfly_angle_rad(1.01)));
    assert_true(isnan(dw_butterfly_angle_rad(NAN)));
}

static dw_damper_loss table(double open_frac, double leak)
{
    static const double rows[] = {0.2, 0.5, 0.8};
    static const double zeta[] = {52.58, 4.37, 0.0};
    const dw_damper_setting setting = {open_frac, leak, 1.0};
    dw_damper_loss loss;
    assert_int_equal(dw_damper_table(&setting, rows, zeta, 3, NULL, &loss), DW_OK);
    return loss;
}

static void table_is_linear_in_effective_area(void **state)
{
    (void)state;
    assert_close(table(0.2, 0.01).loss, 52.58, 1e-12, 0.0);
    assert_close(table(0.5, 0.01).loss, 4.37, 1e-12, 0.0);
    assert_close(table(0.8, 0.01).loss, 0.0, 0.0, 1e-28);
    /* 0.29: e = 0.7/(1 + sqrt(52.58)) + 0.3/(1 + sqrt(4.37)), zeta = (1/e - 1)^2 */
    const double e = 0.7 / (1.0 + sqrt(52.58)) + 0.3 / (1.0 + sqrt(4.37));
    assert_close(table(0.29, 0.01).loss, (1.0 / e - 1.0) * (1.0 / e - 1.0), 1e-12, 0.0);
    /* below the first row in proportion: a quarter of e at a quarter of f */
    const double e_low = 0.25 / (1.0 + sqrt(52.58));
    assert_close(table(0.05, 0.01).loss, (1.0 / e_low - 1.0) * (1.0 / e_low - 1.0), 1e-12, 0.0);
    assert_close(table(0.0, 0.05).loss, table(0.05, 0.01).loss, 0.0, 0.0);
    assert_close(table(1.0, 0.05).loss, 0.0, 0.0, 0.0);
    assert_true(table(0.19, 0.01).outside_published);
    assert_true(table(0.81, 0.01).outside_published);
    assert_false(table(0.2, 0.01).outside_published);
    double last = INFINITY;
    for (int i = 1; i <= 80; i++) {
        const double loss = table(i / 100.0, 0.001).loss;
        assert_true(loss < last);
        last = loss;
    }
}

static void table_of_slide_values_gives_the_slide_back(void **state)
{
    (void)state;
    double rows[10], zeta[10];
    for (int i = 0; i < 10; i++) {
        rows[i] = 0.1 * (i + 1);
        zeta[i] = slide(rows[i], 0.01, 1.0, 1.0).loss;
    }
    for (double f = 0.12; f < 0.9; f += 0.0371) {
        const dw_damper_setting setting = {f, 0.01, 1.0};
        dw_damper_loss loss;
        assert_int_equal(dw_damper_table(&setting, rows, zeta, 10, NULL, &loss), DW_OK);
        assert_close(loss.loss, slide(f, 0.01, 1.0, 1.0).loss, 0.025, 0.015);
    }
}

static void refuses_what_has_no_meaning(void **state)
{
    (void)state;
    const dw_damper_setting bad[] = {{-0.1, 0.01, 1.0}, {1.1, 0.01, 1.0}, {0.5, 0.0, 1.0},
                                     {0.5, 1.0, 1.0},   {0.5, 0.01, 0.0}, {NAN, 0.01, 1.0}};
    const dw_damper_setting good = {0.5, 0.01, 1.0};
    dw_damper_loss loss;
    for (size_t i = 0; i < 6; i++) {
        const dw_status expected = i == 5 ? DW_ERR_ARG : DW_ERR_DOMAIN;
        assert_int_equal(dw_damper_slide(&bad[i], 1.0, NULL, &loss), expected);
        assert_true(isnan(loss.loss) && isnan(loss.open_frac));
        assert_int_equal(dw_damper_butterfly(&bad[i], angles, losses, ROWS, NULL, &loss), expected);
        assert_int_equal(dw_damper_table(&bad[i], angles, losses, 1, NULL, &loss), expected);
    }
    assert_int_equal(dw_damper_slide(&good, 1.01, NULL, &loss), DW_ERR_DOMAIN);
    assert_int_equal(dw_damper_slide(&good, -0.01, NULL, &loss), DW_ERR_DOMAIN);
    assert_int_equal(dw_damper_slide(&good, NAN, NULL, &loss), DW_ERR_ARG);
    assert_int_equal(dw_damper_slide(NULL, 1.0, NULL, &loss), DW_ERR_ARG);
    assert_int_equal(dw_damper_slide(&good, 1.0, NULL, NULL), DW_ERR_ARG);

    const double falling[] = {0.3, 0.2};
    const double rising[] = {0.2, 0.3};
    const double steep[] = {0.2, 1.4}; /* 80 degrees */
    const double with_nan[] = {0.2, NAN};
    assert_int_equal(dw_damper_butterfly(&good, falling, rising, 2, NULL, &loss), DW_ERR_DOMAIN);
    assert_int_equal(dw_damper_butterfly(&good, rising, falling, 2, NULL, &loss), DW_ERR_DOMAIN);
    assert_int_equal(dw_damper_butterfly(&good, steep, rising, 2, NULL, &loss), DW_ERR_DOMAIN);
    assert_int_equal(dw_damper_butterfly(&good, rising, with_nan, 2, NULL, &loss), DW_ERR_ARG);
    assert_int_equal(dw_damper_butterfly(&good, rising, rising, 1, NULL, &loss), DW_ERR_DOMAIN);
    assert_int_equal(dw_damper_butterfly(&good, NULL, rising, 2, NULL, &loss), DW_ERR_ARG);
    assert_int_equal(dw_damper_butterfly(&good, rising, rising, 2, NULL, &loss), DW_OK);
    assert_int_equal(dw_damper_table(&good, rising, rising, 2, NULL, &loss), DW_ERR_DOMAIN);
    assert_int_equal(dw_damper_table(&good, falling, falling, 2, NULL, &loss), DW_ERR_DOMAIN);
    assert_int_equal(dw_damper_table(&good, rising, falling, 0, NULL, &loss), DW_ERR_DOMAIN);
    assert_int_equal(dw_damper_table(&good, rising, NULL, 2, NULL, &loss), DW_ERR_ARG);
    assert_int_equal(dw_damper_table(&good, steep, falling, 2, NULL, &loss), DW_ERR_DOMAIN);
    assert_int_equal(dw_damper_table(&good, rising, falling, 2, NULL, &loss), DW_OK);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(slide_matches_hand_values),
        cmocka_unit_test(shelf_is_a_slide_into_a_plenum_that_loses_less_when_it_is_thick),
        cmocka_unit_test(slide_shut_is_its_leak),
        cmocka_unit_test(losses_fall_as_dampers_open),
        cmocka_unit_test(butterfly_goes_through_its_rows),
        cmocka_unit_test(butterfly_joins_its_leak),
        cmocka_unit_test(angle_and_open_share_are_inverse),
        cmocka_unit_test(table_is_linear_in_effective_area),
        cmocka_unit_test(table_of_slide_values_gives_the_slide_back),
        cmocka_unit_test(refuses_what_has_no_meaning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

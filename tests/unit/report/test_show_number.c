/* Numbers as people read them: digits, resolution, units, no locale. */

#include <string.h>

#include "check.h"
#include "sample_numbers.h"
#include "show_number.h"

static void assert_bare(dw_number number, dw_unit_system system, const char *expected)
{
    char shown[DW_SHOWN_SIZE];
    dw_show_bare(&number, system, shown);
    assert_string_equal(shown, expected);
}

static void assert_shown(dw_number number, dw_unit_system system, const char *expected)
{
    char shown[DW_SHOWN_SIZE];
    dw_show_number(&number, system, shown);
    for (char *p = shown; *p != '\0'; ++p) {
        if (*p == DW_GLUE) *p = ' ';
    }
    assert_string_equal(shown, expected);
}

static void significant_digits_decide_the_decimals(void **state)
{
    (void)state;
    assert_bare(dw_number_plain(1.08937, 4), DW_UNITS_METRIC, "1.089");
    assert_bare(dw_number_plain(0.0021537, 3), DW_UNITS_METRIC, "0.00215");
    assert_bare(dw_number_plain(12374.0, 3), DW_UNITS_METRIC, "12400");
    assert_bare(dw_number_plain(-12374.0, 2), DW_UNITS_METRIC, "-12000");
    assert_bare(dw_number_plain(0.0, 3), DW_UNITS_METRIC, "0");
}

static void nobody_has_to_read_powers_of_ten(void **state)
{
    (void)state;
    assert_bare(dw_number_plain(0.000123, 2), DW_UNITS_METRIC, "0.00012");
    assert_bare(dw_number_plain(0.000099996, 3), DW_UNITS_METRIC, "0.000100");
    assert_bare(dw_number_plain(0.0000987, 2), DW_UNITS_METRIC, "<0.0001");
    assert_bare(dw_number_plain(3.17e-14, 2), DW_UNITS_METRIC, "<0.0001");
    assert_bare(dw_number_plain(-3.17e-14, 2), DW_UNITS_METRIC, "<0.0001");
    assert_bare(dw_number_plain(7.31e11, 3), DW_UNITS_METRIC, "731000000000");
    assert_shown(dw_number_of(1e-15, DW_DIM_MASS_FLOW, 2), DW_UNITS_METRIC, "<0.0001 kg/h");
    /* A resolution says what matters, and so does a person. */
    dw_number share = dw_number_share(1.3e-9, 3);
    assert_bare(share, DW_UNITS_METRIC, "0.000");
    dw_number column = dw_number_of(3.5e-15, DW_DIM_RATIO, 12);
    column.resolution_si = 1e-4;
    assert_bare(column, DW_UNITS_METRIC, "0.00");
    assert_bare(dw_number_input(0.000021, DW_DIM_NUMBER), DW_UNITS_METRIC, "0.000021");
    assert_bare(dw_number_input(-2e-9, DW_DIM_NUMBER), DW_UNITS_METRIC, "-0.000000002");
    assert_bare(dw_number_input(123456.0, DW_DIM_NUMBER), DW_UNITS_METRIC, "123456");
}

static void what_is_assumed_has_no_digits_of_another_unit(void **state)
{
    (void)state;
    assert_shown(dw_number_assumed(1100.0, DW_DIM_TEMPERATURE), DW_UNITS_METRIC, "827 degC");
    assert_shown(dw_number_assumed(1100.0, DW_DIM_TEMPERATURE), DW_UNITS_US, "1520 degF");
    assert_shown(dw_number_assumed(46.0, DW_DIM_VOLUME), DW_UNITS_US, "1624 ft3");
    assert_shown(dw_number_input(1460.65, DW_DIM_TEMPERATURE), DW_UNITS_METRIC, "1187.5 degC");
    assert_shown(dw_number_input(0.15, DW_DIM_LENGTH), DW_UNITS_US, "5.906 in");
    /* Not the "degF_diff" of a description. */
    assert_shown(dw_number_input(10.0, DW_DIM_TEMPERATURE_DIFF), DW_UNITS_US, "18 degrees F");
    assert_shown(dw_number_input(10.0, DW_DIM_TEMPERATURE_DIFF), DW_UNITS_METRIC, "10 K");
}

static void rounding_up_to_the_next_power_keeps_the_digits(void **state)
{
    (void)state;
    assert_bare(dw_number_plain(9.996, 3), DW_UNITS_METRIC, "10.0");
    assert_bare(dw_number_plain(0.099961, 3), DW_UNITS_METRIC, "0.100");
    assert_bare(dw_number_plain(99960.0, 3), DW_UNITS_METRIC, "100000");
}

static void nothing_finer_than_the_resolution_is_shown(void **state)
{
    (void)state;
    assert_bare(dw_number_draft(0.0317), DW_UNITS_METRIC, "0.03");
    assert_bare(dw_number_draft(0.0031), DW_UNITS_METRIC, "0.00");
    assert_bare(dw_number_draft(-0.0031), DW_UNITS_METRIC, "0.00");
    assert_bare(dw_number_draft(-13.37), DW_UNITS_METRIC, "-13.4");
    dw_number kelvin = dw_number_of(1456.62, DW_DIM_TEMPERATURE, 12);
    kelvin.resolution_si = 1.0;
    assert_bare(kelvin, DW_UNITS_METRIC, "1183");
    assert_bare(kelvin, DW_UNITS_US, "2162");
}

/* Of a poison little is not none: no size, unit or sign of it is shown as 0, and 0 is. */
static void a_trace_is_not_shown_as_nothing(void **state)
{
    (void)state;
    dw_number co = dw_number_of(0.0, DW_DIM_VOLUME_FLOW, 2);
    co.resolution_si = 1.0e-4 / 3600.0;
    co.trace = true;
    assert_bare(co, DW_UNITS_METRIC, "0");
    const double m3_h[] = {4.9e-5, 1e-7, -3e-9, 1e-300};
    for (int i = 0; i < 4; i++) {
        co.si = m3_h[i] / 3600.0;
        assert_shown(co, DW_UNITS_METRIC, "<0.0001 m3/h");
        assert_shown(co, DW_UNITS_US, "<0.01 ft3/h");
    }
    co.si = 5.1e-5 / 3600.0;
    assert_bare(co, DW_UNITS_METRIC, "0.0001");
    co.si = 0.0312 / 3600.0;
    assert_bare(co, DW_UNITS_METRIC, "0.031");
    co.trace = false;
    co.si = 4.9e-5 / 3600.0;
    assert_bare(co, DW_UNITS_METRIC, "0.0000");
}

static void noughts_that_a_person_did_not_give_are_dropped(void **state)
{
    (void)state;
    assert_shown(dw_number_input(0.4, DW_DIM_RATIO), DW_UNITS_METRIC, "40 %");
    assert_shown(dw_number_input(0.375, DW_DIM_RATIO), DW_UNITS_METRIC, "37.5 %");
    assert_shown(dw_number_input(20000.0, DW_DIM_PRESSURE_GAUGE), DW_UNITS_METRIC, "20 kPa");
    assert_shown(dw_number_input(200.0, DW_DIM_NUMBER), DW_UNITS_METRIC, "200");
}

static void units_follow_system_kind_and_size(void **state)
{
    (void)state;
    assert_shown(dw_number_draft(-12.37), DW_UNITS_METRIC, "-12.4 Pa");
    assert_shown(dw_number_draft(-12.37), DW_UNITS_US, "-0.0497 in w.c.");
    assert_shown(dw_number_of(20684.27, DW_DIM_PRESSURE_GAUGE, 4), DW_UNITS_US, "3.000 psi");
    /* A gas pressure that a water gauge shows, and a bore. */
    assert_shown(dw_number_input(1743.622, DW_DIM_PRESSURE_GAUGE), DW_UNITS_US, "7 in w.c.");
    assert_shown(dw_number_input(1743.622, DW_DIM_PRESSURE_GAUGE), DW_UNITS_METRIC, "1.744 kPa");
    assert_shown(dw_number_input(0.0381, DW_DIM_LENGTH), DW_UNITS_US, "1.5 in");
    assert_shown(dw_number_input(0.0381, DW_DIM_LENGTH), DW_UNITS_METRIC, "38.1 mm");
    assert_shown(dw_number_input(0.9144, DW_DIM_LENGTH), DW_UNITS_US, "3 ft");
    /* A burner's gas, and a room's air. */
    dw_number gas = dw_number_of(1e-4, DW_DIM_VOLUME_FLOW, 3);
    assert_shown(gas, DW_UNITS_METRIC, "0.360 m3/h");
    assert_shown(gas, DW_UNITS_US, "12.7 ft3/h");
    gas.small = true;
    assert_shown(gas, DW_UNITS_METRIC, "6.00 L/min");
    assert_shown(gas, DW_UNITS_US, "12.7 ft3/h");
    dw_number plain = dw_number_plain(15.793, 4);
    plain.unit = "kg per kg";
    assert_shown(plain, DW_UNITS_US, "15.79 kg per kg");
    assert_shown(dw_number_of(NAN, DW_DIM_POWER, 3), DW_UNITS_METRIC, "-");
    assert_shown(dw_number_of(INFINITY, DW_DIM_POWER, 3), DW_UNITS_METRIC, "-");
}

static void width_counts_characters_not_bytes(void **state)
{
    (void)state;
    assert_int_equal(dw_show_width("abc"), 3);
    assert_int_equal(dw_show_width("\xc3\xa9t\xc3\xa9"), 3);
    assert_int_equal(dw_show_width(""), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(significant_digits_decide_the_decimals),
        cmocka_unit_test(nobody_has_to_read_powers_of_ten),
        cmocka_unit_test(what_is_assumed_has_no_digits_of_another_unit),
        cmocka_unit_test(rounding_up_to_the_next_power_keeps_the_digits),
        cmocka_unit_test(nothing_finer_than_the_resolution_is_shown),
        cmocka_unit_test(a_trace_is_not_shown_as_nothing),
        cmocka_unit_test(noughts_that_a_person_did_not_give_are_dropped),
        cmocka_unit_test(units_follow_system_kind_and_size),
        cmocka_unit_test(width_counts_characters_not_bytes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

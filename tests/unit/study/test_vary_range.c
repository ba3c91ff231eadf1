/* Ranges and lists of values: units once or at each number, ends included, what is refused. */

#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "vary_range.h"

static char message[DW_VARY_MESSAGE_SIZE];

static size_t parse(const char *text, dw_dim dim, double low, double high, double **values)
{
    size_t count = 0;
    const dw_status status = dw_vary_range_parse(text, dim, low, high, values, &count, message);
    if (status != DW_OK) print_error("'%s': %s\n", text, message);
    assert_int_equal(status, DW_OK);
    assert_string_equal(message, "");
    return count;
}

static void assert_values(const char *text, dw_dim dim, const double *expected, size_t count)
{
    double *values = NULL;
    assert_int_equal(parse(text, dim, -1.0e9, 1.0e9, &values), count);
    for (size_t i = 0; i < count; ++i) assert_close(values[i], expected[i], 1.0e-12, 1.0e-15);
    free(values);
}

static void assert_refused(const char *text, dw_dim dim, const char *part)
{
    double *values = (double *)message;
    size_t count = 17;
    const dw_status status =
        dw_vary_range_parse(text, dim, 0.0, 2.0e5, &values, &count, message);
    if (status != DW_ERR_INPUT || strstr(message, part) == NULL) {
        print_error("'%s' gave '%s', expected '%s' in it\n", text, message, part);
    }
    assert_int_equal(status, DW_ERR_INPUT);
    assert_non_null(strstr(message, part));
    assert_null(values);
    assert_int_equal(count, 0);
}

static void the_unit_may_stand_once_at_the_end_or_at_each_number(void **state)
{
    (void)state;
    const double shares[] = {0.0, 0.25, 0.5, 0.75, 1.0};
    assert_values("0..100%:25%", DW_DIM_SHARE, shares, 5);
    assert_values("0 .. 100 : 25 %", DW_DIM_SHARE, shares, 5);
    assert_values("0%..100%:25%", DW_DIM_SHARE, shares, 5);
    assert_values("0..1:0.25", DW_DIM_RATIO, shares, 5);
    const double pressures[] = {1300.0, 2600.0, 3900.0};
    assert_values("1.3 kPa..3.9 kPa:1.3 kPa", DW_DIM_PRESSURE_GAUGE, pressures, 3);
    assert_values("1.3..3.9:1.3 kPa", DW_DIM_PRESSURE_GAUGE, pressures, 3);
    assert_values("1.3 kPa..3900 Pa:1300 Pa", DW_DIM_PRESSURE_GAUGE, pressures, 3);
}

static void lists_keep_their_order_and_may_hold_ranges(void **state)
{
    (void)state;
    const double list[] = {0.3, 0.0, 1.0};
    assert_values("30 %, 0 %,100%", DW_DIM_SHARE, list, 3);
    assert_values("30,0,100 %", DW_DIM_SHARE, list, 3);
    const double mixed[] = {0.07, 0.1, 0.2, 0.3, 0.85};
    assert_values("7, 10..30:10, 85 %", DW_DIM_SHARE, mixed, 5);
    const double one[] = {0.372};
    assert_values(" 37.2 % ", DW_DIM_SHARE, one, 1);
    assert_values("37.2%..37.2%:5%", DW_DIM_SHARE, one, 1);
}

static void a_step_of_temperature_is_a_difference(void **state)
{
    (void)state;
    const double celsius[] = {1173.15, 1193.15, 1213.15};
    assert_values("900 degC..940 degC:20 degC", DW_DIM_TEMPERATURE, celsius, 3);
    assert_values("900..940:20 degC", DW_DIM_TEMPERATURE, celsius, 3);
    assert_values("900 degC..940 degC:20 K", DW_DIM_TEMPERATURE, celsius, 3);
    const double fahrenheit[] = {1310.92777777777778, 1338.70555555555556};
    assert_values("1900 degF..1950 degF:50 degF", DW_DIM_TEMPERATURE, fahrenheit, 2);
}

static void the_end_is_included_when_the_steps_meet_it(void **state)
{
    (void)state;
    double *values = NULL;
    /* A tenth is no binary fraction: ten steps miss 1 by rounding, and must not. */
    assert_int_equal(parse("0..1:0.1", DW_DIM_RATIO, 0.0, 1.0, &values), 11);
    assert_true(values[10] == 1.0);
    free(values);
    assert_int_equal(parse("0..100%:30%", DW_DIM_SHARE, 0.0, 1.0, &values), 4);
    assert_close(values[3], 0.9, 1e-12, 0.0);
    free(values);
    assert_int_equal(parse("100%..0%:5%", DW_DIM_SHARE, 0.0, 1.0, &values), 21);
    assert_true(values[20] == 0.0);
    assert_close(values[1], 0.95, 1e-12, 0.0);
    free(values);
}

static void long_ranges_are_allowed_up_to_the_limit(void **state)
{
    (void)state;
    double *values = NULL;
    assert_int_equal(parse("1..10000000:1", DW_DIM_NUMBER, 0.0, 1.0e9, &values), 10000000);
    assert_true(values[9999999] == 1.0e7);
    assert_close(values[6283184], 6283185.0, 1e-14, 0.0);
    free(values);
    size_t count = 0;
    assert_int_equal(dw_vary_range_parse("0..10000000:1", DW_DIM_NUMBER, 0.0, 1.0e9, &values,
                                         &count, message), DW_ERR_INPUT);
    assert_non_null(strstr(message, "10000000"));
    assert_int_equal(dw_vary_range_parse("1..9000000:1, 1..2000000:1", DW_DIM_NUMBER, 0.0, 1.0e9,
                                         &values, &count, message), DW_ERR_INPUT);
    assert_non_null(strstr(message, "11000000"));
    assert_null(values);
}

static void what_cannot_be_meant_is_refused_with_what_is_allowed(void **state)
{
    (void)state;
    const dw_dim share = DW_DIM_SHARE, pressure = DW_DIM_PRESSURE_GAUGE;
    assert_refused("", share, "empty");
    assert_refused("1,,2", share, "empty");
    assert_refused("0..100%", share, "has no step");
    assert_refused("5%:1%", share, "no range");
    assert_refused("..100%:5%", share, "number is missing");
    assert_refused("0..:5%", share, "number is missing");
    assert_refused("0..100%:", share, "number is missing");
    assert_refused("0..100%:0%", share, "is not more than 0");
    assert_refused("0..100%:-5%", share, "is not more than 0");
    assert_refused("0...5:1", share, "three dots");
    assert_refused("nan", share, "number is missing");
    assert_refused("inf..1:1", share, "number is missing");
    assert_refused("1e999..1:1", share, "1e999");
    assert_refused("1..2:1", pressure, "1");
    assert_refused("1 kPa..2 kPa:1", pressure, "1");
    assert_refused("1 m..2 m:1 m", pressure, "m");
    assert_refused("1 kPa..900 kPa:1 kPa", pressure, "out of range, expected 0 to 200 kPa");
    assert_refused("-1 Pa", pressure, "out of range");
    assert_refused("x..y:z", share, "number is missing");
    char longest[5000];
    memset(longest, '1', sizeof longest - 1);
    longest[sizeof longest - 1] = '\0';
    assert_refused(longest, share, "too long");
    memset(longest, ',', sizeof longest - 1);
    assert_refused(longest, share, "empty");
    for (size_t i = 0; i + 1 < sizeof longest - 1; i += 2) longest[i] = '1';
    longest[sizeof longest - 2] = '1';
    assert_refused(longest, share, "more than 1000");
}

static void what_was_meant_is_shown(void **state)
{
    (void)state;
    const dw_dim share = DW_DIM_SHARE, pressure = DW_DIM_PRESSURE_GAUGE, length = DW_DIM_LENGTH;
    assert_refused("0.2..0.6:0.1", share, "'0.2..0.6:0.1' has no unit: write 20..60:10 %");
    assert_refused("20..60:5", share, "write 20..60:5 %");
    assert_refused("0..1:0.05", share, "write 0..100:5 %");
    assert_refused("1", share, "write 1 % or 100 %");
    assert_refused("0.2, 0.4", share, "write 20 % or 0.2 %");
    assert_refused("30", share, "write 30 %");
    assert_refused("20-60", share, "'20-60' is not a range; write two dots and a step: 20..60:5 %");
    assert_refused("20%-60%", share, "20%..60%:5%");
    assert_refused("20 to 60 %", share, "20..60 %:5%");
    assert_refused("2-3 mm", length, "2..3 mm:STEP");
    assert_refused("2 mm\xE2\x80\x93"
                   "3 mm",
                   length, "2 mm..3 mm:STEP");
    assert_refused("20..60 %", share, "has no step; write how far to go each time: 20..60 %:5 %");
    assert_refused("0,2..0,6:0,1", share, "the decimal mark is a point");
    assert_refused("+10..60 %:5 %", share,
                   "a change cannot be given, write the value itself: 10 %");
    assert_refused("+1 kPa", pressure, "write the value itself: 1 kPa");
    assert_refused("1 kPa..3 kPa:+1 kPa", pressure, "write the value itself: 1 kPa");
    /* Numbers with a minus or an exponent are no ranges. */
    double list[2] = {1e-5, 2e-5};
    assert_values("1e-5 m, 2e-5 m", length, list, 2);
}

static void limits_are_in_the_unit_that_was_typed(void **state)
{
    (void)state;
    double *values = NULL;
    size_t count = 0;
    assert_int_equal(
        dw_vary_range_parse("30 mm", DW_DIM_LENGTH, 1e-4, 2e-2, &values, &count, message),
        DW_ERR_INPUT);
    assert_string_equal(message, "30 mm is out of range, expected 0.1 to 20 mm");
    assert_int_equal(dw_vary_range_parse("1..2 in:1/4 in", DW_DIM_LENGTH, 1e-4, 2.54e-2, &values,
                                         &count, message),
                     DW_ERR_INPUT);
    assert_non_null(strstr(message, "to 1 in"));
}

static void the_unit_of_the_first_value_is_found(void **state)
{
    (void)state;
    assert_string_equal(dw_vary_range_unit("3..9 in w.c.:1 in w.c.", DW_DIM_PRESSURE_GAUGE),
                        "in w.c.");
    assert_string_equal(dw_vary_range_unit("20,40,60 %", DW_DIM_SHARE), "%");
    assert_string_equal(dw_vary_range_unit("2 mm..1 in:1 mm", DW_DIM_LENGTH), "mm");
    assert_string_equal(dw_vary_range_unit("0.5..1:0.1", DW_DIM_NUMBER), "");
    assert_null(dw_vary_range_unit("..", DW_DIM_LENGTH));
    assert_null(dw_vary_range_unit(NULL, DW_DIM_LENGTH));
}

static void null_arguments_are_refused(void **state)
{
    (void)state;
    double *values = NULL;
    size_t count = 3;
    assert_int_equal(dw_vary_range_parse(NULL, DW_DIM_SHARE, 0, 1, &values, &count, message),
                     DW_ERR_ARG);
    assert_int_equal(count, 0);
    assert_int_equal(dw_vary_range_parse("1", DW_DIM_SHARE, 0, 1, NULL, &count, message),
                     DW_ERR_ARG);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_unit_may_stand_once_at_the_end_or_at_each_number),
        cmocka_unit_test(lists_keep_their_order_and_may_hold_ranges),
        cmocka_unit_test(a_step_of_temperature_is_a_difference),
        cmocka_unit_test(the_end_is_included_when_the_steps_meet_it),
        cmocka_unit_test(long_ranges_are_allowed_up_to_the_limit),
        cmocka_unit_test(what_cannot_be_meant_is_refused_with_what_is_allowed),
        cmocka_unit_test(what_was_meant_is_shown),
        cmocka_unit_test(limits_are_in_the_unit_that_was_typed),
        cmocka_unit_test(the_unit_of_the_first_value_is_found),
        cmocka_unit_test(null_arguments_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

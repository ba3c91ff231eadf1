#include "check.h"

#include <locale.h>
#include <stdlib.h>
#include <string.h>

#include "number.h"

/*
 * The reading code once more, under a C library that is set to a decimal comma, with
 * every case of this file; the code asks nothing of the library but these two functions.
 */
static struct lconv comma_conventions;
static char comma[] = ",";

static struct lconv *localeconv_comma(void)
{
    comma_conventions.decimal_point = comma;
    return &comma_conventions;
}

/* As strtod() of such a locale: a comma is the mark, a point ends the number. */
static double strtod_comma(const char *text, char **end)
{
    char copy[300];
    (void)snprintf(copy, sizeof copy, "%s", text);
    for (char *c = copy; *c != '\0'; c++) {
        if (*c == '.') {
            *c = '\0';
            break;
        }
        if (*c == ',') *c = '.';
    }
    assert_null(end);
    return strtod(copy, NULL);
}

size_t number_read_with_comma(const char *text, size_t length, double *value);
#define dw_number_read number_read_with_comma
#define localeconv localeconv_comma
#define strtod strtod_comma
#include "number.c"
#undef dw_number_read
#undef localeconv
#undef strtod

size_t dw_number_read(const char *text, size_t length, double *value);

static void assert_number(const char *text, size_t size, double value)
{
    double got = 1.0;
    assert_int_equal(dw_number_read(text, strlen(text), &got), size);
    assert_true(got == value || (isnan(got) && isnan(value)));
    assert_int_equal(number_read_with_comma(text, strlen(text), &got), size);
    assert_true(got == value || (isnan(got) && isnan(value)));
}

static void numbers_end_where_they_end(void **state)
{
    (void)state;
    assert_number("12", 2, 12);
    assert_number("-1.78 mm", 5, -1.78);
    assert_number("+0.5", 4, 0.5);
    assert_number(".25x", 3, 0.25);
    assert_number("7.", 2, 7);
    assert_number("2.5e3Pa", 5, 2500);
    assert_number("2.5E-3", 6, 0.0025);
    assert_number("5e", 1, 5);
    assert_number("5e+", 1, 5);
    assert_number("5em", 1, 5);
    assert_number("1,5", 1, 1);
    assert_number("10..20", 3, 10);
    assert_number("1.2.3", 3, 1.2);
    assert_number("0x10", 1, 0);
}

static void what_is_no_number_is_none(void **state)
{
    (void)state;
    static const char *const texts[] = {"",    "-",   ".",   "+.",   "e5", " 5",
                                        "--5", "nan", "inf", "-inf", ",5", "x"};
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++)
        assert_number(texts[i], 0, NAN);
    double got = 1.0;
    assert_int_equal(dw_number_read(NULL, 3, &got), 0);
    assert_true(isnan(got));
}

static void rounding_is_correct(void **state)
{
    (void)state;
    /* Halfway cases and long spellings that a sum of digits gets wrong. */
    assert_number("9007199254740993", 16, 9007199254740992.0);
    assert_number("9007199254740993.00000000000001", 31, 9007199254740994.0);
    assert_number("0.1000000000000000055511151231257827", 36, 0x1.999999999999ap-4);
    assert_number("2.2250738585072011e-308", 23, 0x0.fffffffffffffp-1022);
    assert_number("1.7976931348623157e308", 22, 0x1.fffffffffffffp1023);
    assert_number("1e400", 5, (double)INFINITY);
    assert_number("1e-400", 6, 0);
}

static void length_bounds_the_reading(void **state)
{
    (void)state;
    double got;
    assert_int_equal(dw_number_read("123456", 3, &got), 3);
    assert_true(got == 123);
    assert_int_equal(dw_number_read("1.5e7", 4, &got), 3);
    assert_true(got == 1.5);
    char longest[DW_NUMBER_LENGTH_MAX + 1];
    memset(longest, '0', sizeof longest);
    longest[0] = '7';
    longest[1] = '.';
    assert_int_equal(dw_number_read(longest, DW_NUMBER_LENGTH_MAX, &got), DW_NUMBER_LENGTH_MAX);
    assert_true(got == 7);
    assert_int_equal(dw_number_read(longest, sizeof longest, &got), 0);
    assert_true(isnan(got));
}

/* In the folder LOCPATH, put there by the build: decimal marks of one byte and of two. */
static void a_true_locale_changes_nothing(void **state)
{
    (void)state;
    static const char *const names[] = {"de_DE.UTF-8", "ps_AF.UTF-8"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        if (setlocale(LC_ALL, names[i]) == NULL) fail_msg("there is no locale %s", names[i]);
        assert_int_not_equal(localeconv()->decimal_point[0], '.');
        double got = 0.0;
        const size_t size = dw_number_read("-1.78e1 mm", 10, &got);
        (void)setlocale(LC_ALL, "C");
        assert_int_equal(size, 7);
        assert_true(got == -17.8);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_end_where_they_end),
        cmocka_unit_test(what_is_no_number_is_none),
        cmocka_unit_test(rounding_is_correct),
        cmocka_unit_test(length_bounds_the_reading),
        cmocka_unit_test(a_true_locale_changes_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

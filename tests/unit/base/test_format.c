#include "check.h"

#include <limits.h>
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "format.h"

/* Under the C locale, where the C library itself is the second opinion. */
#define SAME(...)                                                                                  \
    do {                                                                                           \
        char own[700], library[700];                                                               \
        const int a = dw_print(own, sizeof own, __VA_ARGS__);                                     \
        const int b = snprintf(library, sizeof library, __VA_ARGS__);                              \
        assert_string_equal(own, library);                                                         \
        assert_int_equal(a, b);                                                                    \
    } while (0)

static void it_writes_as_the_c_library_does(void **state)
{
    (void)state;
    SAME("plain, with commas; and 100 %%");
    SAME("%s|%10s|%-10s|%.3s|%.*s|%*s|%-*s|", "text", "text", "text", "text", 2, "text", 7, "text", 7, "text");
    SAME("%*s|", -7, "text");
    SAME("%c%c|%3c|%-3c|", 'a', ',', 'b', 'c');
    SAME("%d %d %d %d %i", 0, 7, -7, INT_MAX, INT_MIN);
    SAME("%5d|%-5d|%05d|%05d|", 42, 42, 42, -42);
    SAME("%ld %ld %lld %lld", LONG_MAX, LONG_MIN, LLONG_MAX, LLONG_MIN);
    SAME("%zu %zu %u %lu %llu", (size_t)0, SIZE_MAX, UINT_MAX, ULONG_MAX, ULLONG_MAX);
    SAME("%x %X %02X %02X", 0xbeefu, 0xbeefu, 10u, 255u);
    SAME("%g %f %e %.0f %.0e %.3g", 0.1, 0.1, 0.1, 2.5, 1234.0, 1234567.0);
    SAME("%8.2f|%-8.2f|%08.2f|%08.2f|", 3.14159, 3.14159, 3.14159, -3.14159);
    SAME("%.*e %.*g %.*f", 3, 12345.678, 12, 1.0 / 3.0, 1, 0.05);
}

static void any_double_comes_out_alike(void **state)
{
    (void)state;
    const double odd[] = {0.0, -0.0, 1.7976931348623157e308, -4.9e-324, 1e21, 123456789.0, (double)INFINITY,
                          -(double)INFINITY, (double)NAN};
    for (size_t i = 0; i < sizeof odd / sizeof odd[0]; i++) {
        SAME("%g %.17g %.3f %.12e %f", odd[i], odd[i], odd[i], odd[i], odd[i]);
    }
    unsigned long long bits = 88172645463325252ULL;
    for (int i = 0; i < 20000; i++) {
        bits ^= bits << 13;
        bits ^= bits >> 7;
        bits ^= bits << 17;
        double value;
        memcpy(&value, &bits, sizeof value);
        SAME("%.*g %.6e", i % 18, value, value);
    }
}

static void it_never_writes_past_the_end(void **state)
{
    (void)state;
    for (size_t size = 0; size < 40; size++) {
        char own[64];
        memset(own, '#', sizeof own);
        assert_int_equal(dw_print(own, size, "%s is %.3f, %5d", "pressure", 2.5, 42), 24);
        for (size_t i = size; i < sizeof own; i++) assert_int_equal(own[i], '#');
        if (size > 0) assert_int_equal(strlen(own), size > 24 ? 24 : size - 1);
    }
    assert_int_equal(dw_print(NULL, 0, "%.1f", 12.5), 4);
}

/* A function pointer, so that the compiler does not look at the format. */
static int (*const unchecked)(char *, size_t, const char *, ...) = dw_print;

static void an_unknown_conversion_is_a_fault(void **state)
{
    (void)state;
    char own[20];
    assert_int_equal(unchecked(own, sizeof own, "a %p", (void *)own), -1);
    assert_string_equal(own, "a ");
    assert_int_equal(unchecked(own, sizeof own, "b %"), -1);
    assert_string_equal(own, "b ");
    const char *volatile none = NULL;
    assert_int_equal(unchecked(own, sizeof own, "%s", none), 6);
}

/* In the folder LOCPATH, put there by the build: decimal marks of one byte and of two. */
static void the_mark_is_a_point_in_every_locale(void **state)
{
    (void)state;
    const char *const names[] = {"de_DE.UTF-8", "ps_AF.UTF-8"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        if (setlocale(LC_ALL, names[i]) == NULL) fail_msg("there is no locale %s", names[i]);
        char own[80], library[80];
        const int length = dw_print(own, sizeof own, "%.2f, %g, %.3e; %8.1f|%-8.1f|%08.1f", 1234567.891, 0.5, -1e9,
                                     2.5, 2.5, -2.5);
        (void)snprintf(library, sizeof library, "%.1f", 0.5);
        (void)setlocale(LC_ALL, "C");
        assert_string_not_equal(library, "0.5");
        assert_string_equal(own, "1234567.89, 0.5, -1.000e+09;      2.5|2.5     |-00002.5");
        assert_int_equal(length, strlen(own));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_writes_as_the_c_library_does),
        cmocka_unit_test(any_double_comes_out_alike),
        cmocka_unit_test(it_never_writes_past_the_end),
        cmocka_unit_test(an_unknown_conversion_is_a_fault),
        cmocka_unit_test(the_mark_is_a_point_in_every_locale),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

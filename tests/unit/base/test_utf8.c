#include "check.h"

#include <string.h>

#include "utf8.h"

/* Decodes by the plain rules of the encoding, independently of the ranges the code uses: value
 * from the bits, then shortest form, no surrogate, at most U+10FFFF. */
static size_t by_value(const unsigned char *s, size_t length)
{
    size_t n = s[0] < 0x80 ? 1 : s[0] >> 5 == 6 ? 2 : s[0] >> 4 == 14 ? 3 : s[0] >> 3 == 30 ? 4 : 0;
    if (n == 0 || n > length) return 0;
    static const unsigned lead_mask[] = {0, 0x7F, 0x1F, 0x0F, 0x07};
    static const unsigned least[] = {0, 0, 0x80, 0x800, 0x10000};
    unsigned value = s[0] & lead_mask[n];
    for (size_t i = 1; i < n; i++) {
        if (s[i] >> 6 != 2) return 0;
        value = value << 6 | (s[i] & 0x3Fu);
    }
    if (value < least[n] || value > 0x10FFFF || (value >= 0xD800 && value <= 0xDFFF)) return 0;
    return n;
}

static void all_two_byte_starts_agree(void **state)
{
    (void)state;
    static const unsigned char ends[][2] = {{0x80, 0x80}, {0xBF, 0xBF}, {0x7F, 0x80}, {0x80, 0xC0}};
    for (unsigned a = 0; a < 256; a++) {
        for (unsigned b = 0; b < 256; b++) {
            for (size_t k = 0; k < 4; k++) {
                const unsigned char s[4] = {(unsigned char)a, (unsigned char)b, ends[k][0],
                                            ends[k][1]};
                for (size_t length = 1; length <= 4; length++) {
                    const size_t got = dw_utf8_char((const char *)s, length);
                    if (got != by_value(s, length)) {
                        fail_msg("%02x %02x %02x %02x of %zu: %zu", s[0], s[1], s[2], s[3], length,
                                 got);
                    }
                }
            }
        }
    }
}

static void nothing_is_no_character(void **state)
{
    (void)state;
    assert_int_equal(dw_utf8_char("a", 0), 0);
    assert_int_equal(dw_utf8_char(NULL, 3), 0);
    assert_int_equal(dw_utf8_char("\0", 1), 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(all_two_byte_starts_agree),
        cmocka_unit_test(nothing_is_no_character),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

#include "check.h"

#include <string.h>

#include "visible.h"

static void assert_shown(const char *text, size_t length, const char *expected)
{
    char shown[200] = "", piece[DW_VISIBLE_SIZE];
    for (size_t i = 0; i < length;) {
        const size_t used = dw_visible(text + i, length - i, piece);
        assert_true(used > 0 && used <= length - i);
        assert_true(strlen(piece) < DW_VISIBLE_SIZE);
        strcat(shown, piece);
        i += used;
    }
    assert_string_equal(shown, expected);
}

#define SHOWN(text, expected) assert_shown(text, sizeof(text) - 1, expected)

static void what_can_be_read_stays(void **state)
{
    (void)state;
    SHOWN("back flue, 35 % \\ ~", "back flue, 35 % \\ ~");
    SHOWN("\xC3\xA4 \xE2\x82\xAC \xF0\x9F\x94\xA5", "\xC3\xA4 \xE2\x82\xAC \xF0\x9F\x94\xA5");
}

static void what_steers_a_terminal_is_escaped(void **state)
{
    (void)state;
    SHOWN("\x1b[31mred", "\\x1b[31mred");
    SHOWN("a\0b\x07\x7f", "a\\x00b\\x07\\x7f");
    SHOWN("one\ntwo\tthree\r", "one two three ");
    /* A control character of two bytes, the byte alone that some terminals take for it, and a last half. */
    SHOWN("\xC2\x9b" "31m \x9b" "31m \xC3", "\\x9b31m \\x9b31m \\xc3");
    SHOWN("\xC2\xA0", "\xC2\xA0");
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(what_can_be_read_stays),
                                       cmocka_unit_test(what_steers_a_terminal_is_escaped)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}

/* Words of the statuses. */
#include "check.h"

#include <string.h>

#include "dw_status.h"

static void every_status_has_words_of_its_own(void **state)
{
    (void)state;
    for (int i = 0; i < DW_STATUS_COUNT; i++) {
        const char *text = dw_status_text((dw_status)i);
        assert_true(strlen(text) > 1);
        assert_string_not_equal(text, "unknown status");
        for (int j = 0; j < i; j++) {
            assert_string_not_equal(text, dw_status_text((dw_status)j));
        }
    }
}

static void what_is_no_status_is_said_to_be_unknown(void **state)
{
    (void)state;
    assert_string_equal(dw_status_text(DW_STATUS_COUNT), "unknown status");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_status_has_words_of_its_own),
        cmocka_unit_test(what_is_no_status_is_said_to_be_unknown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

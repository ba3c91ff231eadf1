/* Key paths: joining steps and taking them apart again. */

#include <string.h>

#include "check.h"
#include "key_path.h"

static void steps_are_joined_and_quoted(void **state)
{
    (void)state;
    char out[DW_PATH_SIZE];
    assert_int_equal(dw_path_join(out, sizeof out, "", "kiln"), 4);
    assert_string_equal(out, "kiln");
    dw_path_join(out, sizeof out, "kiln.flues", "back flue");
    assert_string_equal(out, "kiln.flues.back flue");
    dw_path_join(out, sizeof out, "kiln.flues", "no. 2");
    assert_string_equal(out, "kiln.flues.\"no. 2\"");
    dw_path_join(out, sizeof out, "kiln.flues", "a \"b.c\"");
    assert_string_equal(out, "kiln.flues.'a \"b.c\"'");
    dw_path_join(out, sizeof out, "kiln.flues", "'tis");
    assert_string_equal(out, "kiln.flues.\"'tis\"");
    assert_int_equal(dw_path_join_keys(out, sizeof out, "kiln.burners.left", "jet.diameter"), 30);
    assert_string_equal(out, "kiln.burners.left.jet.diameter");
    dw_path_join_keys(out, sizeof out, "", "site");
    assert_string_equal(out, "site");
}

static void short_room_is_not_overrun(void **state)
{
    (void)state;
    char out[8] = "xxxxxxx";
    assert_int_equal(dw_path_join(out, 6, "kiln", "flues"), 10);
    assert_string_equal(out, "kiln.");
    assert_int_equal(out[6], 'x');
}

static void steps_come_off_one_by_one(void **state)
{
    (void)state;
    const char *path = "flues.\"no. 2\".'it\"s'.damper.open";
    const char *const steps[] = {"flues", "no. 2", "it\"s", "damper", "open"};
    char step[16];
    for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++) {
        bool quoted = false;
        assert_true(dw_path_next(&path, step, sizeof step, &quoted));
        assert_string_equal(step, steps[i]);
        assert_int_equal(quoted, i == 1 || i == 2);
    }
    assert_string_equal(path, "");
    assert_false(dw_path_next(&path, step, sizeof step, NULL));
}

static void what_is_no_step_is_refused(void **state)
{
    (void)state;
    static const char *const bad[] = {"",      ".a",     "a.",     "\"open",
                                      "'open", "\"a\"b", "\"\".a", "sixteen letters!"};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        const char *path = bad[i];
        char step[16] = "old";
        assert_false(dw_path_next(&path, step, sizeof step, NULL));
        assert_string_equal(step, "");
        assert_ptr_equal(path, bad[i]);
    }
    const char *path = "fifteen letters";
    char step[16];
    assert_true(dw_path_next(&path, step, sizeof step, NULL));
    assert_string_equal(step, "fifteen letters");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(steps_are_joined_and_quoted),
        cmocka_unit_test(short_room_is_not_overrun),
        cmocka_unit_test(steps_come_off_one_by_one),
        cmocka_unit_test(what_is_no_step_is_refused),
    };
    return cmocka_run_group_tests_name("key_path", tests, NULL, NULL);
}

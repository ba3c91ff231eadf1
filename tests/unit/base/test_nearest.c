#include "check.h"

#include "nearest.h"

#include <string.h>

static const char *const words[] = {
    "gas_pressure", "air_pressure", "damper", "height", NULL, "weight", "in", "psi", "heights",
};
enum { WORD_COUNT = sizeof words / sizeof words[0] };

static const char *nearest(const char *word) { return dw_nearest_word(word, words, WORD_COUNT); }

static void small_slips_are_found(void **state)
{
    (void)state;
    assert_string_equal(nearest("damper"), "damper");
    assert_string_equal(nearest("dampr"), "damper");
    assert_string_equal(nearest("dammper"), "damper");
    assert_string_equal(nearest("dampor"), "damper");
    assert_string_equal(nearest("gaspresure"), "gas_pressure");
    assert_string_equal(nearest("pis"), "psi");
}

static void a_swap_is_one_slip(void **state)
{
    (void)state;
    /* Two swaps are two slips; without swaps they would be four. */
    assert_string_equal(nearest("admpre"), "damper");
    /* Two swaps and one more letter are three. */
    assert_null(nearest("admprex"));
}

static void half_a_word_wrong_is_too_much(void **state)
{
    (void)state;
    assert_null(nearest("on"));                       /* one slip of two letters    */
    assert_null(nearest("px"));                       /* two slips of two letters   */
    assert_null(nearest("ipsx"));                     /* two slips of four letters  */
    assert_string_equal(nearest("weghtt"), "weight"); /* two of six */
}

static void the_nearest_and_among_equals_the_first_wins(void **state)
{
    (void)state;
    assert_string_equal(nearest("heights"), "heights");
    assert_string_equal(nearest("keight"), "height");
    assert_string_equal(nearest("gair_pressure"), "air_pressure");
}

static void far_words_are_near_nothing(void **state)
{
    (void)state;
    assert_null(nearest("pressure_gas"));
    assert_null(nearest("chamber"));
    assert_null(nearest(""));
    assert_null(nearest(NULL));
    assert_null(dw_nearest_word("damper", NULL, 0));
    assert_null(dw_nearest_word("damper", words, 0));
}

static void long_words_are_bounded(void **state)
{
    (void)state;
    char word[DW_NEAREST_WORD_MAX + 2], same[DW_NEAREST_WORD_MAX + 2];
    for (size_t i = 0; i < sizeof word; i++)
        word[i] = same[i] = 'a';
    word[DW_NEAREST_WORD_MAX] = same[DW_NEAREST_WORD_MAX] = '\0';
    same[3] = 'b';
    const char *list[] = {same};
    assert_ptr_equal(dw_nearest_word(word, list, 1), same);
    word[DW_NEAREST_WORD_MAX] = 'a';
    word[DW_NEAREST_WORD_MAX + 1] = '\0';
    assert_null(dw_nearest_word(word, list, 1));
    assert_null(dw_nearest_word(same, (const char *const[]){word}, 1));
}

static void words_are_joined_and_cut(void **state)
{
    (void)state;
    static const char *const word[] = {"slide", "butterfly", "table"};
    char out[40];
    dw_words_join(word, 3, out, sizeof out);
    assert_string_equal(out, "slide, butterfly or table");
    dw_words_join(word, 1, out, sizeof out);
    assert_string_equal(out, "slide");
    dw_words_join(word, 0, out, sizeof out);
    assert_string_equal(out, "");
    memset(out, 'x', sizeof out);
    dw_words_join(word, 3, out, 14);
    assert_string_equal(out, "slide, ...");
    assert_int_equal(out[14], 'x');
    dw_words_join(word, 3, out, 26);
    assert_string_equal(out, "slide, butterfly or table");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(small_slips_are_found),
        cmocka_unit_test(a_swap_is_one_slip),
        cmocka_unit_test(half_a_word_wrong_is_too_much),
        cmocka_unit_test(the_nearest_and_among_equals_the_first_wins),
        cmocka_unit_test(far_words_are_near_nothing),
        cmocka_unit_test(long_words_are_bounded),
        cmocka_unit_test(words_are_joined_and_cut),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

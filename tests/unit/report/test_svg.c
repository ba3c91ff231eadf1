/* Words of a drawing: how wide they are taken to be, and how they are kept apart. */
#include "check.h"
#include "svg.h"

static void words_that_have_room_stay(void **state)
{
    (void)state;
    double place[3] = {10.0, 40.0, 80.0};
    const double size[3] = {10.0, 20.0, 10.0};
    dw_svg_spread(place, size, 3, 2.0, 0.0, 100.0);
    assert_close(place[0], 10.0, 0.0, 1e-12);
    assert_close(place[1], 40.0, 0.0, 1e-12);
    assert_close(place[2], 80.0, 0.0, 1e-12);
}

/* Two at one place move half each; a third one that is then touched moves with them. */
static void words_on_one_place_move_as_little_as_may_be(void **state)
{
    (void)state;
    double two[2] = {50.0, 50.0};
    const double size[3] = {10.0, 10.0, 10.0};
    dw_svg_spread(two, size, 2, 2.0, 0.0, 100.0);
    assert_close(two[0], 44.0, 0.0, 1e-12);
    assert_close(two[1], 56.0, 0.0, 1e-12);
    double three[3] = {50.0, 50.0, 60.0};
    dw_svg_spread(three, size, 3, 2.0, 0.0, 100.0);
    /* By the means of 50, 50 - 12 and 60 - 24. */
    assert_close(three[0], 124.0 / 3.0, 0.0, 1e-12);
    assert_close(three[1], 124.0 / 3.0 + 12.0, 0.0, 1e-12);
    assert_close(three[2], 124.0 / 3.0 + 24.0, 0.0, 1e-12);
}

static void the_ends_hold(void **state)
{
    (void)state;
    const double size[3] = {10.0, 10.0, 10.0};
    double left[3] = {0.0, 1.0, 90.0};
    dw_svg_spread(left, size, 3, 2.0, 0.0, 100.0);
    assert_close(left[0], 5.0, 0.0, 1e-12);
    assert_close(left[1], 17.0, 0.0, 1e-12);
    assert_close(left[2], 90.0, 0.0, 1e-12);
    double right[3] = {10.0, 99.0, 100.0};
    dw_svg_spread(right, size, 3, 2.0, 0.0, 100.0);
    assert_close(right[0], 10.0, 0.0, 1e-12);
    assert_close(right[1], 83.0, 0.0, 1e-12);
    assert_close(right[2], 95.0, 0.0, 1e-12);
    /* Too many for the row: in order, from its beginning on. */
    double full[3] = {1.0, 2.0, 3.0};
    dw_svg_spread(full, size, 3, 2.0, 0.0, 20.0);
    assert_close(full[0], 5.0, 0.0, 1e-12);
    assert_close(full[2], 29.0, 0.0, 1e-12);
    dw_svg_spread(NULL, NULL, 0, 2.0, 0.0, 20.0);
}

static void letters_are_counted_and_not_bytes(void **state)
{
    (void)state;
    assert_close(dw_svg_width("FeO", false), 20.4, 0.0, 1e-12);
    assert_close(dw_svg_width("\xc3\xa9\xc3\xa9", false), 13.6, 0.0, 1e-12);
    assert_true(dw_svg_width("FeO", true) > dw_svg_width("FeO", false));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(words_that_have_room_stay),
        cmocka_unit_test(words_on_one_place_move_as_little_as_may_be),
        cmocka_unit_test(the_ends_hold),
        cmocka_unit_test(letters_are_counted_and_not_bytes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

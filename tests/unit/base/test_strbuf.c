#include "check.h"

#include <stdlib.h>
#include <string.h>

#include "strbuf.h"

static void pieces_add_up(void **state)
{
    (void)state;
    dw_strbuf buf;
    dw_strbuf_init(&buf);
    dw_strbuf_puts(&buf, "draft ");
    dw_strbuf_printf(&buf, "%.1f Pa at %s", -4.25, "floor");
    dw_strbuf_add(&buf, ", and more", 5);
    assert_string_equal(buf.text, "draft -4.2 Pa at floor, and");
    assert_int_equal(buf.length, strlen(buf.text));
    char *text = dw_strbuf_take(&buf);
    assert_string_equal(text, "draft -4.2 Pa at floor, and");
    assert_null(buf.text);
    assert_int_equal(buf.length, 0);
    free(text);
}

static void it_grows_past_every_size(void **state)
{
    (void)state;
    dw_strbuf buf;
    dw_strbuf_init(&buf);
    size_t expected = 0;
    for (int i = 0; i < 3000; i++) {
        dw_strbuf_printf(&buf, "%d,", i);
        expected += i < 10 ? 2 : i < 100 ? 3 : i < 1000 ? 4 : 5;
        assert_int_equal(buf.length, expected);
        assert_true(buf.capacity > buf.length);
    }
    assert_memory_equal(buf.text + buf.length - 10, "2998,2999,", 11);
    dw_strbuf_free(&buf);
    assert_null(buf.text);
    assert_int_equal(buf.capacity, 0);
}

static void bytes_may_hold_a_nul(void **state)
{
    (void)state;
    dw_strbuf buf;
    dw_strbuf_init(&buf);
    dw_strbuf_add(&buf, "a\0b", 3);
    dw_strbuf_puts(&buf, "c");
    assert_int_equal(buf.length, 4);
    assert_memory_equal(buf.text, "a\0bc", 5);
    dw_strbuf_free(&buf);
}

static void an_empty_text_is_a_text(void **state)
{
    (void)state;
    dw_strbuf buf;
    dw_strbuf_init(&buf);
    char *text = dw_strbuf_take(&buf);
    assert_non_null(text);
    assert_string_equal(text, "");
    free(text);
}

static void a_failure_sticks(void **state)
{
    (void)state;
    dw_strbuf buf;
    dw_strbuf_init(&buf);
    dw_strbuf_puts(&buf, "kept");
    /* No machine has room for this; the text itself is never touched. */
    dw_strbuf_add(&buf, "x", SIZE_MAX - 2);
    assert_true(buf.failed);
    dw_strbuf_puts(&buf, " not added");
    dw_strbuf_printf(&buf, "%d", 5);
    assert_string_equal(buf.text, "kept");
    assert_null(dw_strbuf_take(&buf));

    /* Taking leaves it as after init. */
    dw_strbuf_puts(&buf, "new");
    char *text = dw_strbuf_take(&buf);
    assert_string_equal(text, "new");
    free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pieces_add_up),        cmocka_unit_test(it_grows_past_every_size),
        cmocka_unit_test(bytes_may_hold_a_nul), cmocka_unit_test(an_empty_text_is_a_text),
        cmocka_unit_test(a_failure_sticks),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

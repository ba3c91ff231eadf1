/* The tables of keys: that every row makes sense, and the look-ups in them. */

#include <ctype.h>
#include <string.h>

#include "check.h"
#include "kiln_schema.h"
#include "kit.h"

/* An object as dw_kiln_init() leaves it. */
static const void *fresh_object(const dw_kiln *kiln, dw_object object)
{
    switch (object) {
    case DW_OBJECT_SITE: return &kiln->site;
    case DW_OBJECT_CHAMBER: return &kiln->chamber;
    case DW_OBJECT_BURNER: return &kiln->burner[0];
    case DW_OBJECT_OPENING: return &kiln->opening[0];
    case DW_OBJECT_FLUE: return &kiln->flue[0];
    case DW_OBJECT_DAMPER: return &kiln->flue[0].damper;
    case DW_OBJECT_STACK: return &kiln->stack;
    case DW_OBJECT_MODEL: return &kiln->settings;
    case DW_OBJECT_OPERATING: return &kiln->operating;
    case DW_OBJECT_ROOM: return &kiln->room;
    default: return kiln;
    }
}

static double number_at(const void *object, const dw_key *key)
{
    double value;
    memcpy(&value, (const char *)object + key->offset, sizeof value);
    return value;
}

#define EACH_KEY(object_, key_)                                                                    \
    for (int object_ = 0; object_ < DW_OBJECT_COUNT; object_++)                                    \
        for (const dw_key *key_ = dw_keys_of((dw_object)object_)->key;                             \
             key_ < dw_keys_of((dw_object)object_)->key + dw_keys_of((dw_object)object_)->count;   \
             key_++)

static void limits_are_quantities_in_order(void **state)
{
    (void)state;
    int limited = 0;
    EACH_KEY(object, key)
    {
        if (key->low == NULL) {
            assert_null(key->high);
            assert_null(key->usual_low);
            continue;
        }
        const double low = dw_key_limit(key, key->low), high = dw_key_limit(key, key->high);
        if (!(low <= high && isfinite(low) && isfinite(high))) {
            print_error("%s: %s to %s\n", key->name, key->low, key->high);
            fail();
        }
        limited++;
        if (key->usual_low == NULL) continue;
        if (!(dw_key_limit(key, key->usual_low) >= low &&
              dw_key_limit(key, key->usual_high) <= high &&
              dw_key_limit(key, key->usual_low) < dw_key_limit(key, key->usual_high))) {
            print_error("%s: usually %s to %s\n", key->name, key->usual_low, key->usual_high);
            fail();
        }
    }
    assert_true(limited > 70);
    const dw_key none = {.kind = DW_KEY_NUMBER, .dim = DW_DIM_LENGTH};
    assert_true(isnan(dw_key_limit(&none, NULL)));
}

static void needs_agree_with_a_fresh_kiln(void **state)
{
    (void)state;
    dw_kiln kiln, resolved;
    dw_kiln_init(&kiln);
    resolved = kiln;
    dw_kiln_resolve(&resolved);
    EACH_KEY(object, key)
    {
        if (!dw_key_is_plain_number(key)) continue;
        double value = number_at(fresh_object(&kiln, (dw_object)object), key);
        /* Another key may stand in for a default: it is filled in later. */
        if (key->need == DW_NEED_DEFAULT && isnan(value)) {
            value = number_at(fresh_object(&resolved, (dw_object)object), key);
        }
        const int right = key->need == DW_NEED_DEFAULT ? value >= dw_key_limit(key, key->low) &&
                                                             value <= dw_key_limit(key, key->high)
                                                       : isnan(value);
        if (!right) {
            print_error("%s is %g before reading\n", key->name, value);
            fail();
        }
    }
}

static void rows_fit_their_structs_and_bits(void **state)
{
    (void)state;
    for (int object = 0; object < DW_OBJECT_COUNT; object++) {
        const dw_keys *keys = dw_keys_of((dw_object)object);
        assert_true(keys->count > 0 && keys->count <= DW_KEY_MAX);
        if (keys->kind_row != DW_NO_ROW) {
            assert_string_equal(keys->key[keys->kind_row].name, "kind");
        }
        for (int i = 0; i < keys->count; i++) {
            const dw_key *key = &keys->key[i];
            assert_true(key->offset < keys->size);
            assert_int_equal(dw_keys_row(keys, key->name), i); /* no name twice */
            assert_true(keys->kind_row != DW_NO_ROW ||
                        (key->applies == 0 && key->required_for == 0));
            /* what is required only of a kind must matter to it */
            assert_true(key->applies == 0 || (key->required_for & ~key->applies) == 0);
            const int list = key->kind == DW_KEY_LIST;
            assert_true(list == (key->list_max > 0));
            if (list) assert_int_equal(dw_keys_row(dw_keys_of(key->child), "name"), 0);
        }
    }
}

static void forms_end_in_the_quantity_of_their_choice(void **state)
{
    (void)state;
    const dw_keys *burner = dw_keys_of(DW_OBJECT_BURNER), *stack = dw_keys_of(DW_OBJECT_STACK);
    assert_int_equal(dw_keys_target(burner, dw_keys_row(burner, "jet.drill")),
                     dw_keys_row(burner, "jet.diameter"));
    assert_int_equal(dw_keys_target(burner, dw_keys_row(burner, "air_restriction.diameter")),
                     dw_keys_row(burner, "air_restriction.area"));
    assert_int_equal(dw_keys_target(burner, dw_keys_row(burner, "air_flow")),
                     dw_keys_row(burner, "air_flow"));
    assert_int_equal(dw_keys_target(stack, dw_keys_row(stack, "cap")),
                     dw_keys_row(stack, "cap_loss"));
    assert_int_equal(dw_keys_target(stack, dw_keys_row(stack, "section")),
                     dw_keys_row(stack, "section"));
    /* every other form of a number has a number to end in */
    EACH_KEY(object, key)
    {
        const int form = key->kind == DW_KEY_DIAMETER || key->kind == DW_KEY_ANGLE ||
                         key->kind == DW_KEY_DRILL || key->kind == DW_KEY_LINING ||
                         key->kind == DW_KEY_CAP;
        const dw_keys *keys = dw_keys_of((dw_object)object);
        const int row = (int)(key - keys->key);
        assert_int_equal(form, dw_keys_target(keys, row) != row);
    }
}

static void help_is_one_plain_line(void **state)
{
    (void)state;
    EACH_KEY(object, key)
    {
        assert_non_null(key->help);
        const size_t length = strlen(key->help);
        assert_true(length > 3 && length < 100);
        assert_true(key->help[length - 1] != '.' && !isupper((unsigned char)key->help[0]));
        assert_null(strchr(key->help, '\n'));
    }
}

static void kinds_decide_what_applies_and_is_required(void **state)
{
    (void)state;
    dw_opening gap;
    dw_opening_init(&gap);
    gap.kind = DW_OPENING_TALL;
    const dw_keys *keys = dw_keys_of(DW_OBJECT_OPENING);
    assert_int_equal(dw_object_kind(keys, &gap), DW_OPENING_TALL);
    assert_int_equal(dw_object_kind(dw_keys_of(DW_OBJECT_SITE), &gap), 0);
    const dw_key *height = &keys->key[dw_keys_row(keys, "height")];
    const dw_key *from = &keys->key[dw_keys_row(keys, "from")];
    assert_false(dw_key_applies(height, DW_OPENING_TALL) ||
                 dw_key_required(height, DW_OPENING_TALL));
    assert_true(dw_key_applies(height, DW_OPENING_CRACK) &&
                dw_key_required(height, DW_OPENING_CRACK));
    assert_true(dw_key_required(from, DW_OPENING_TALL) && !dw_key_applies(from, DW_OPENING_HOLE));
    const dw_keys *burner = dw_keys_of(DW_OBJECT_BURNER);
    const dw_key *throat = &burner->key[dw_keys_row(burner, "throat_diameter")];
    assert_true(dw_key_required(throat, DW_BURNER_INSPIRATING));
    assert_false(dw_key_applies(throat, DW_BURNER_BLOWN) ||
                 dw_key_required(throat, DW_BURNER_BLOWN));
    const dw_key *port = &burner->key[dw_keys_row(burner, "port_diameter")];
    assert_true(dw_key_applies(port, DW_BURNER_BLOWN) && !dw_key_required(port, DW_BURNER_BLOWN));
}

static void words_that_may_come_next(void **state)
{
    (void)state;
    dw_words words;
    const dw_keys *burner = dw_keys_of(DW_OBJECT_BURNER);
    dw_keys_words(burner, NULL, &words);
    int jets = 0;
    for (size_t i = 0; i < words.count; i++) {
        assert_null(strchr(words.word[i], '.'));
        if (strcmp(words.word[i], "jet") == 0) jets++;
    }
    assert_int_equal(jets, 1);
    dw_keys_words(burner, "air_restriction", &words);
    assert_int_equal(words.count, 3);
    assert_string_equal(words.word[2], "discharge_coefficient");
    assert_true(dw_keys_have_group(burner, "air_jet"));
    assert_false(dw_keys_have_group(burner, "air") || dw_keys_have_group(burner, "name"));
}

static void expectations_read_like_a_person(void **state)
{
    (void)state;
    static const struct {
        dw_object object;
        const char *key, *text;
    } cases[] = {
        {DW_OBJECT_BURNER, "jet.diameter", "0.1 mm to 20 mm"},
        {DW_OBJECT_BURNER, "count", "a whole number from 1 to 100"},
        {DW_OBJECT_BURNER, "lit", "yes or no"},
        {DW_OBJECT_DAMPER, "kind", "slide, butterfly, table or shelf"},
        {DW_OBJECT_FLUE, "damper_downstream_area", "1 cm2 to 10 m2, or plenum"},
        {DW_OBJECT_FLUE, "damper", "a map with the keys kind, open, angle, leak, scale, thickness, mouth_width or rows"},
        {DW_OBJECT_STACK, "section", "square or round"},
        {DW_OBJECT_STACK, "lining", "brick, castable, clay tile, fibre or steel"},
        {DW_OBJECT_FILE, "damperwise", "1"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const dw_keys *keys = dw_keys_of(cases[i].object);
        char out[200];
        dw_key_expected(&keys->key[dw_keys_row(keys, cases[i].key)], kit_data(), out, sizeof out);
        assert_string_equal(out, cases[i].text);
    }
    EACH_KEY(object, key)
    {
        char out[500] = "";
        dw_key_expected(key, NULL, out, sizeof out);
        assert_true(strlen(out) > 0 && strlen(out) < sizeof out - 1);
    }
}

static void given_words_are_those_of_the_object(void **state)
{
    (void)state;
    dw_kiln_given given;
    assert_ptr_equal(dw_given_word(&given, DW_OBJECT_BURNER, 7), &given.burner[7]);
    assert_ptr_equal(dw_given_word(&given, DW_OBJECT_DAMPER, 3), &given.damper[3]);
    assert_ptr_equal(dw_given_word(&given, DW_OBJECT_STACK, 0), &given.stack);
    assert_ptr_equal(dw_given_word(&given, DW_OBJECT_MODEL, 0), &given.settings);
    assert_ptr_equal(dw_given_word(&given, DW_OBJECT_KILN, 0), &given.fuel);
    assert_null(dw_given_word(&given, DW_OBJECT_FILE, 0));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(limits_are_quantities_in_order),
        cmocka_unit_test(needs_agree_with_a_fresh_kiln),
        cmocka_unit_test(rows_fit_their_structs_and_bits),
        cmocka_unit_test(forms_end_in_the_quantity_of_their_choice),
        cmocka_unit_test(help_is_one_plain_line),
        cmocka_unit_test(kinds_decide_what_applies_and_is_required),
        cmocka_unit_test(words_that_may_come_next),
        cmocka_unit_test(expectations_read_like_a_person),
        cmocka_unit_test(given_words_are_those_of_the_object),
    };
    return cmocka_run_group_tests_name("kiln_schema", tests, NULL, NULL);
}

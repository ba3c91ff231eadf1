/* The marks of the dampers against a sweep in steps of half a per cent, over all examples and random
 * kilns at five settings each: every mark is a place where the word changes, and no change is missing. */
#include "check.h"

#include <string.h>

#include "damper_words.h"
#include "kit.h"

enum { STEPS = 200, SETTINGS = 5 };
/* A fifth of a per cent of damper. */
static const double allowed = 0.002;

static int band_at(const dw_kiln *kiln, const dw_damper_words *words, double x)
{
    dw_kiln moved = *kiln;
    dw_result r;
    for (int i = 0; i < moved.flue_count; i++) {
        moved.flue[i].damper.open_frac = dw_damper_mark(words, i, x);
    }
    return dw_operating_point(kit_model(), &moved, &r) == DW_OK ? r.band : -1;
}

static int said_at(const dw_damper_words *words, double x)
{
    for (int i = 0; i < words->count; i++) {
        if (x <= words->span[i].to_frac) return words->span[i].band;
    }
    return -2;
}

/* Is there a mark within this distance? */
static bool has_mark(const dw_damper_words *words, double from, double to)
{
    for (int i = 1; i < words->count; i++) {
        const double x = words->span[i].from_frac;
        if (x >= from && x <= to) return true;
    }
    return false;
}

static int marks, changes;

static void check_setting(const dw_kiln *kiln, const char *name, int n)
{
    dw_damper_words words;
    assert_int_equal(dw_damper_words_find(kit_model(), kiln, &words), DW_OK);
    assert_true(words.complete && words.count >= 1);
    assert_true(words.span[0].from_frac == 0.0 && words.span[words.count - 1].to_frac == 1.0);
    /* Every mark, obeyed: a little below it the word before, a little above it the word after. */
    for (int i = 1; i < words.count; i++) {
        const dw_damper_span *a = &words.span[i - 1], *b = &words.span[i];
        assert_true(a->band != b->band && a->to_frac == b->from_frac);
        marks++;
        const double x = b->from_frac;
        const double below = fmax(x - allowed, i == 1 ? 0.0 : 0.5 * (a->from_frac + x));
        const double above = fmin(x + allowed, i + 1 == words.count ? 1.0 : 0.5 * (b->to_frac + x));
        const int is_below = band_at(kiln, &words, below), is_above = band_at(kiln, &words, above);
        if (is_below != a->band || is_above != b->band) {
            print_error("%s %d: at %.5f words %d|%d are said, %d|%d are found\n", name, n, x, a->band,
                        b->band, is_below, is_above);
            fail();
        }
    }
    /* Every change that a sweep sees. */
    int last = band_at(kiln, &words, 0.0);
    for (int i = 1; i <= STEPS; i++) {
        const double x = (double)i / STEPS, before = (double)(i - 1) / STEPS;
        const int band = band_at(kiln, &words, x);
        if (band != last) {
            changes++;
            if (!has_mark(&words, before - allowed, x + allowed)) {
                print_error("%s %d: the word changes from %d to %d between %.3f and %.3f, no mark\n",
                            name, n, last, band, before, x);
                fail();
            }
        }
        if (band != said_at(&words, x) && !has_mark(&words, x - allowed, x + allowed)) {
            print_error("%s %d: at %.3f word %d is said, %d is found\n", name, n, x,
                        said_at(&words, x), band);
            fail();
        }
        last = band;
    }
}

static void vary(kit_random *random, dw_kiln *kiln)
{
    for (int i = 0; i < kiln->flue_count; i++) {
        kiln->flue[i].damper.open_frac = kit_between(random, 0.05, 1.0);
    }
    kiln->operating.gas_pressure_pa *= kit_log_between(random, 0.4, 2.5);
    kiln->operating.chamber_temperature_k = kit_between(random, 900.0, 1570.0);
}

static void marks_of_the_examples_are_where_the_word_changes(void **state)
{
    (void)state;
    kit_random random = kit_seed(97);
    for (int e = 0; kit_examples[e] != NULL; e++) {
        dw_kiln_file file;
        kit_example(kit_examples[e], &file);
        check_setting(&file.kiln, kit_examples[e], 0);
        for (int n = 1; n < SETTINGS; n++) {
            dw_kiln kiln = file.kiln;
            vary(&random, &kiln);
            check_setting(&kiln, kit_examples[e], n);
        }
    }
    print_message("%d marks, %d changes seen\n", marks, changes);
    assert_true(marks > 60 && changes > 60);
}

static void marks_of_random_kilns_are_where_the_word_changes(void **state)
{
    (void)state;
    kit_random random = kit_seed(4021);
    const int kilns = kit_cases("DW_KILNS", 40);
    marks = changes = 0;
    for (int k = 0; k < kilns; k++) {
        dw_kiln kiln;
        kit_random_kiln(&random, &kiln);
        for (int n = 0; n < SETTINGS; n++) {
            dw_kiln varied = kiln;
            if (n > 0) vary(&random, &varied);
            check_setting(&varied, "random kiln", k * SETTINGS + n);
        }
    }
    print_message("%d kilns, %d marks, %d changes seen\n", kilns, marks, changes);
    assert_true(marks > kilns && changes > kilns);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(marks_of_the_examples_are_where_the_word_changes),
        cmocka_unit_test(marks_of_random_kilns_are_where_the_word_changes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

/* The words by damper: places found are places solved, ends say what limits them, dampers keep step. */
#include "check.h"

#include <string.h>

#include "damper_words.h"
#include "kit.h"

static dw_kiln example(const char *name)
{
    static dw_kiln_file file;
    kit_example(name, &file);
    return file.kiln;
}

static dw_damper_words find(const dw_kiln *kiln)
{
    dw_damper_words words;
    assert_int_equal(dw_damper_words_find(kit_model(), kiln, &words), DW_OK);
    return words;
}

static double phi_at(const dw_kiln *kiln, const dw_damper_words *words, double x)
{
    dw_kiln moved = *kiln;
    dw_result r;
    for (int i = 0; i < moved.flue_count; i++) {
        moved.flue[i].damper.open_frac = dw_damper_mark(words, i, x);
    }
    assert_int_equal(dw_operating_point(kit_model(), &moved, &r), DW_OK);
    return r.equivalence_ratio;
}

/* From the far side of the damper the same places must be found as from beside them. */
static void places_do_not_depend_on_where_the_damper_is(void **state)
{
    (void)state;
    static const char *const names[] = {"tram-shed", "tollgate-car-kiln", "juniper-flat"};
    for (size_t n = 0; n < 3; n++) {
        dw_kiln kiln = example(names[n]);
        const dw_damper_words here = find(&kiln);
        assert_int_equal(here.count, 5);
        for (int setting = 0; setting < 3; setting++) {
            for (int i = 0; i < kiln.flue_count; i++) {
                kiln.flue[i].damper.open_frac = 0.1 + 0.4 * setting;
            }
            const dw_damper_words there = find(&kiln);
            assert_int_equal(there.count, 5);
            for (int i = 0; i < 5; i++) {
                assert_int_equal(there.span[i].band, here.span[i].band);
                assert_close(there.span[i].from_frac, here.span[i].from_frac, 0.0, 2e-4);
            }
        }
        for (int i = 1; i < here.count; i++) {
            const double edge = kit_data()->band[here.span[i].band].phi_below;
            assert_close(phi_at(&kiln, &here, here.span[i].from_frac), edge, 0.0, 2e-3);
        }
    }
}

static void several_dampers_move_in_proportion(void **state)
{
    (void)state;
    const dw_kiln kiln = example("gannet-quay"); /* 55 and 40 % */
    const dw_damper_words words = find(&kiln);
    assert_true(words.together);
    assert_int_equal(words.widest, 0);
    assert_close(words.widest_frac, 0.55, 1e-12, 0.0);
    assert_close(dw_damper_mark(&words, 0, 0.55), 0.55, 1e-12, 0.0);
    assert_close(dw_damper_mark(&words, 1, 0.55), 0.40, 1e-12, 0.0);
    assert_close(dw_damper_mark(&words, 1, 1.0), 0.40 / 0.55, 1e-12, 0.0);

    dw_kiln shut = kiln;
    shut.flue[0].damper.open_frac = shut.flue[1].damper.open_frac = 0.0;
    const dw_damper_words from_shut = find(&shut);
    assert_false(from_shut.together);
    assert_close(dw_damper_mark(&from_shut, 0, 0.3), 0.3, 1e-12, 0.0);
    assert_close(dw_damper_mark(&from_shut, 1, 0.3), 0.3, 1e-12, 0.0);

    dw_kiln alike = kiln;
    alike.flue[1].damper.open_frac = alike.flue[0].damper.open_frac;
    assert_false(find(&alike).together);
}

static void what_is_not_reached_has_a_reason(void **state)
{
    (void)state;
    /* Far too much gas for this flue: it never gets lean. */
    dw_kiln kiln = example("juniper-flat");
    kiln.operating.gas_pressure_pa = 70e3;
    dw_damper_words words = find(&kiln);
    assert_int_equal(words.span[words.count - 1].band, 2);
    assert_close(words.leanest.open_frac, 1.0, 0.0, 1e-12);
    assert_close(words.leanest.equivalence_ratio, phi_at(&kiln, &words, 1.0), 1e-12, 0.0);
    assert_int_equal(words.leanest.limit, DW_LIMIT_FLUES);

    /* A narrow way in instead: hardly any hole but the burners, a wide flue. */
    kiln.opening_count = 0;
    kiln.chamber.leak_area_m2 = 1e-5;
    kiln.flue[0].area_m2 *= 2.0;
    words = find(&kiln);
    assert_int_equal(words.leanest.limit, DW_LIMIT_INLETS);

    /* Little gas, much air: shut as it may be, the kiln is never rich. */
    kiln = example("juniper-flat");
    kiln.operating.gas_pressure_pa = 500.0;
    kiln.flue[0].damper.leak_frac = 0.2;
    words = find(&kiln);
    assert_int_equal(words.count, 1);
    assert_int_equal(words.span[0].band, 0);
    assert_true(words.richest.equivalence_ratio < 0.98);
    assert_true(words.richest.limit == DW_LIMIT_BURNER_AIR || words.richest.limit == DW_LIMIT_OPENINGS);
}

static void a_stretch_without_solution_has_no_word(void **state)
{
    (void)state;
    dw_kiln kiln = example("juniper-flat");
    kiln.operating.gas_pressure_pa = 400e3;
    const dw_damper_words words = find(&kiln);
    int unsolved = 0;
    for (int i = 0; i < words.count; i++) {
        if (words.span[i].band >= 0) continue;
        unsolved++;
        dw_kiln moved = kiln;
        dw_result r;
        moved.flue[0].damper.open_frac = 0.5 * (words.span[i].from_frac + words.span[i].to_frac);
        assert_int_equal(dw_operating_point(kit_model(), &moved, &r), DW_ERR_NO_CONVERGE);
    }
    assert_int_equal(unsolved, 1);
    assert_int_equal(words.richest.limit, DW_LIMIT_NONE); /* "heavy" is reached all the same */
}

static void bad_arguments_are_refused(void **state)
{
    (void)state;
    dw_kiln kiln = example("juniper-flat");
    dw_damper_words words;
    assert_int_equal(dw_damper_words_find(kit_model(), &kiln, NULL), DW_ERR_ARG);
    assert_int_equal(dw_damper_words_find(NULL, &kiln, &words), DW_ERR_ARG);
    assert_int_equal(dw_damper_words_find(kit_model(), NULL, &words), DW_ERR_ARG);
    kiln.flue_count = 0;
    assert_int_equal(dw_damper_words_find(kit_model(), &kiln, &words), DW_ERR_ARG);
    assert_int_equal(words.count, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(places_do_not_depend_on_where_the_damper_is),
        cmocka_unit_test(several_dampers_move_in_proportion),
        cmocka_unit_test(what_is_not_reached_has_a_reason),
        cmocka_unit_test(a_stretch_without_solution_has_no_word),
        cmocka_unit_test(bad_arguments_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

/* The working of the ladder: formulas give the rungs' numbers, one and two equilibria a rung. */
#include "check.h"

#include <stdlib.h>
#include <string.h>

#include "kit.h"
#include "work_check.h"
#include "working_ladder.h"

static dw_ladder ladder;
static dw_rung rung[DW_LADDER_RUNG_COUNT];

static dw_working *work(const dw_kiln *kiln)
{
    char reason[DW_REASON_SIZE];
    assert_int_equal(dw_ladder_init(&ladder, kit_model(), kiln, reason), DW_OK);
    for (int i = 0; i < DW_LADDER_RUNG_COUNT; i++) {
        assert_int_equal(dw_ladder_rung(&ladder, dw_ladder_ratio[i], &rung[i]), DW_OK);
    }
    dw_working *w = dw_working_create();
    assert_non_null(w);
    assert_int_equal(dw_working_ladder(kiln, &ladder, rung, DW_LADDER_RUNG_COUNT, w), DW_OK);
    return w;
}

static const dw_work_quantity *result_of(const dw_working *w, const char *key)
{
    const dw_work_step *s = work_step_of(w, key);
    if (s == NULL) print_error("no step for %s\n", key);
    assert_non_null(s);
    return dw_working_quantity(w, s->result);
}

static void every_formula_gives_the_rungs_numbers(void **state)
{
    (void)state;
    for (int i = 0; kit_examples[i] != NULL; i++) {
        dw_kiln_file file;
        kit_example(kit_examples[i], &file);
        /* Hot, and below the temperature that reactions freeze at. */
        for (int cold = 0; cold < 3; cold++) {
            file.kiln.operating.chamber_temperature_k = cold ? 873.0 + 7.0 * i : 1290.0 + 31.0 * i;
            /* And below that of rich gas alone. */
            if (cold == 2) file.kiln.operating.chamber_temperature_k = 1150.0;
            if (i % 2 == 1 || cold == 2) file.kiln.settings.quench_temperature_rich_k = 1330.0;
            dw_working *w = work(&file.kiln);
            assert_int_equal(work_check_steps(w, kit_examples[i], 1e-9), 0);
            assert_int_equal(work_check_chain(w, kit_examples[i], 1e-6), 0);
            assert_int_equal(work_check_sources(w, kit_data()), 0);
            dw_working_destroy(w);
        }
    }
}

static void uneven_and_even_gas(void **state)
{
    (void)state;
    dw_kiln_file file;
    kit_example("juniper-flat", &file);
    /* All rungs in one table. */
    file.kiln.settings.quench_temperature_k = file.kiln.settings.quench_temperature_rich_k = 1100.0;
    dw_working *w = work(&file.kiln);
    for (size_t i = 0; i < DW_LADDER_RUNG_COUNT; i++) {
        char key[40];
        (void)snprintf(key, sizeof key, "rungs.%zu.co_dry", i);
        assert_close(result_of(w, key)->value[0], rung[i].unmixed.co, 0.0, 0.0);
        assert_close(result_of(w, "rungs.*.co_dry_mixed")->value[i], rung[i].mixed.co, 0.0, 0.0);
        assert_close(result_of(w, "rungs.*.log10_po2_bar")->value[i],
                     rung[i].ware.mean.log10_po2_bar, 0.0, 0.0);
    }
    /* Seven rungs lie near 1; their parcels are two rows each. */
    assert_int_equal(result_of(w, "rungs.*")->rows, 14);
    assert_true(work_check_moved(w, "z_p", 1.001) >= 1);
    assert_true(work_check_moved(w, "pi_E", 1.001) >= 3);
    dw_working_destroy(w);

    file.kiln.settings.unmixedness = 0.0;
    w = work(&file.kiln);
    assert_int_equal(work_check_steps(w, "even", 1e-9), 0);
    assert_null(work_step_of(w, "rungs.*"));
    assert_null(work_step_of(w, "rungs.3.co_dry"));
    assert_close(result_of(w, "rungs.*.co_dry")->value[7], rung[7].unmixed.co, 0.0, 0.0);
    assert_close(result_of(w, "rungs.*.o2_dry")->value[2], rung[2].unmixed.o2, 0.0, 0.0);
    dw_working_destroy(w);
}

static void what_cannot_be(void **state)
{
    (void)state;
    dw_kiln_file file;
    kit_example("juniper-flat", &file);
    dw_working *w = dw_working_create();
    assert_int_equal(dw_working_ladder(&file.kiln, &ladder, rung, 0, w), DW_ERR_ARG);
    assert_int_equal(dw_working_ladder(&file.kiln, &ladder, rung, 1000, w), DW_ERR_ARG);
    assert_int_equal(dw_working_step_count(w), 0);
    dw_working_destroy(w);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_formula_gives_the_rungs_numbers),
        cmocka_unit_test(uneven_and_even_gas),
        cmocka_unit_test(what_cannot_be),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

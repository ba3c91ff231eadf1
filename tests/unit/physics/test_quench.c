/** @file test_quench.c  Unit tests of physics/quench. */

#include "check.h"

#include <string.h>

#include "kit.h"
#include "quench.h"
#include "work_check.h"

static const dw_quench two = {1100.0, 1310.0}, one = {1150.0, 1150.0};

static void no_colder_than_where_reactions_freeze(void **state)
{
    (void)state;
    static const struct {
        double gas_k, lean_k, rich_k;
    } cases[] = {{900.0, 1100.0, 1310.0}, {1200.0, 1200.0, 1310.0}, {1400.0, 1400.0, 1400.0}};
    for (int i = 0; i < 3; i++) {
        const dw_quench at = dw_frozen_both(cases[i].gas_k, two, "", "", NULL);
        assert_close(at.lean_k, cases[i].lean_k, 0.0, 0.0);
        assert_close(at.rich_k, cases[i].rich_k, 0.0, 0.0);
    }
    assert_close(dw_frozen_mean_k(900.0, one, 1.0, "", NULL), 1150.0, 0.0, 0.0);
    assert_close(dw_frozen_mean_k(900.0, one, 1.0071, "", NULL), 1150.0, 0.0, 0.0);
    /* Whatever happens without any air. */
    assert_close(dw_frozen_mean_k(900.0, two, INFINITY, "", NULL), 1310.0, 0.0, 0.0);
}

static void smooth_from_lean_to_rich(void **state)
{
    (void)state;
    double before = 1100.0, slope_before = 0.0;
    for (double phi = 0.97; phi < 1.03; phi += 1e-4) {
        const double k = dw_frozen_mean_k(1000.0, two, phi, "", NULL);
        assert_true(k >= before && k - before < 0.8);
        const double slope = k - before;
        /* 6 * 210 K / 0.04^2 is the steepest that the slope changes. */
        assert_true(fabs(slope - slope_before) <= 6.0 * 210.0 / 0.0016 * 1e-8 * 1.01);
        slope_before = slope;
        before = k;
    }
    assert_close(before, 1310.0, 0.0, 0.0);
}

static void potentials_of_lean_of_rich_and_between(void **state)
{
    (void)state;
    const dw_gas_set *set = &kit_model()->gases;
    static dw_frozen frozen, hot;
    static dw_gas_potentials scratch;
    const dw_gas_potentials *at;
    assert_int_equal(dw_frozen_init(&frozen, set, 1000.0, two), DW_OK);
    assert_close(frozen.lean.temperature_k, 1100.0, 0.0, 0.0);
    assert_close(frozen.rich.temperature_k, 1310.0, 0.0, 0.0);
    assert_int_equal(dw_frozen_at(&frozen, set, 0.98, &scratch, &at), DW_OK);
    assert_ptr_equal(at, &frozen.lean);
    assert_int_equal(dw_frozen_at(&frozen, set, 1.02, &scratch, &at), DW_OK);
    assert_ptr_equal(at, &frozen.rich);
    assert_int_equal(dw_frozen_at(&frozen, set, 1.0, &scratch, &at), DW_OK);
    assert_ptr_equal(at, &scratch);
    assert_close(at->temperature_k, 1205.0, 1e-14, 0.0);

    assert_int_equal(dw_frozen_init(&hot, set, 1400.0, two), DW_OK);
    assert_memory_equal(&hot.lean, &hot.rich, sizeof hot.lean);
    assert_int_equal(dw_frozen_at(&hot, set, 1.0, &scratch, &at), DW_OK);
    assert_ptr_equal(at, &hot.lean);

    assert_int_equal(dw_frozen_init(NULL, set, 1000.0, two), DW_ERR_ARG);
    assert_int_equal(dw_frozen_init(&frozen, NULL, 1000.0, two), DW_ERR_ARG);
    assert_int_equal(dw_frozen_init(&frozen, set, 1000.0, (dw_quench){10.0, 1100.0}), DW_OK);
    assert_int_equal(dw_frozen_init(&frozen, set, 10.0, (dw_quench){10.0, 1100.0}), DW_ERR_DOMAIN);
    assert_int_equal(dw_frozen_init(&frozen, set, 1000.0, (dw_quench){1100.0, 1e5}), DW_ERR_DOMAIN);
}

static dw_working *work(double gas_k, dw_quench quench, double phi)
{
    dw_working *w = dw_working_create();
    assert_non_null(w);
    (void)dw_law_given(w, DW_WORK_INPUT, "T_gas", "gas", "K", gas_k);
    (void)dw_law_given(w, DW_WORK_INPUT, "phi", "ratio", "", phi);
    (void)dw_frozen_mean_k(gas_k, quench, phi, "key", w);
    assert_int_equal(work_check_steps(w, "quench", 1e-14), 0);
    assert_close(dw_working_quantity(w, work_step_of(w, "key")->result)->value[0],
                 dw_frozen_mean_k(gas_k, quench, phi, "", NULL), 0.0, 0.0);
    return w;
}

static void the_working_is_the_same_path(void **state)
{
    (void)state;
    dw_working *w = work(1000.0, one, 1.3);
    assert_int_equal(dw_working_step_count(w), 1);
    dw_working_destroy(w);
    w = work(1000.0, two, 1.007);
    assert_int_equal(dw_working_step_count(w), 5);
    dw_working_destroy(w);
    w = work(1390.0, two, 1.007);
    assert_int_equal(dw_working_step_count(w), 5);
    dw_working_destroy(w);

    w = dw_working_create();
    (void)dw_law_given(w, DW_WORK_INPUT, "T_gas", "gas", "K", 1000.0);
    (void)dw_frozen_both(1000.0, one, "lean", "rich", w);
    assert_non_null(work_step_of(w, "lean"));
    assert_ptr_equal(work_step_of(w, "lean"), work_step_of(w, "rich"));
    (void)dw_frozen_both(1000.0, two, "lean_k", "rich_k", w);
    assert_close(dw_working_quantity(w, work_step_of(w, "lean_k")->result)->value[0], 1100.0, 0.0, 0.0);
    assert_close(dw_working_quantity(w, work_step_of(w, "rich_k")->result)->value[0], 1310.0, 0.0, 0.0);
    dw_working_destroy(w);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_colder_than_where_reactions_freeze),
        cmocka_unit_test(smooth_from_lean_to_rich),
        cmocka_unit_test(potentials_of_lean_of_rich_and_between),
        cmocka_unit_test(the_working_is_the_same_path),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

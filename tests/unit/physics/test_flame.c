/** @file test_flame.c  Unit tests of physics/flame. */

#include "check.h"

#include <string.h>

#include "constants.h"
#include "flame.h"
#include "kit.h"
#include "work_check.h"

static const double limits[] = {0.117, NAN, 0.043, 0.0211};

static void mixtures(void **state)
{
    (void)state;
    const double x[] = {0.031, 0.90, 0.012, 0.0};
    /* 0.031/0.117 + 0.012/0.043 = 0.544026; 0.043/0.544026 = 0.0790404. */
    assert_close(dw_flammable_ratio(x, limits, 4), 0.54402703239912534, 1e-12, 0.0);
    assert_close(dw_flammable_limit(x, limits, 4), 0.043 / 0.54402703239912534, 1e-12, 0.0);
    const double pure[] = {0.0, 0.2, 0.0, 0.7};
    assert_close(dw_flammable_limit(pure, limits, 4), 0.0211, 1e-15, 0.0);
    const double inert[] = {0.0, 1.0, 0.0, 0.0};
    assert_true(isnan(dw_flammable_limit(inert, limits, 4)));
    assert_true(dw_flammable_ratio(inert, limits, 4) == 0.0);
}

static void warmer_gas_burns_leaner(void **state)
{
    (void)state;
    assert_close(dw_lean_limit_factor(0.000721, 298.15), 1.0, 1e-15, 0.0);
    assert_close(dw_lean_limit_factor(0.000721, 898.15), 1.0 - 0.4326, 1e-12, 0.0);
    assert_true(isnan(dw_lean_limit_factor(0.000721, 1024.0)));
    assert_true(isnan(dw_lean_limit_factor(0.000721, 223.0)));
}

static void whole_gas(void **state)
{
    (void)state;
    const double x[] = {0.031, 0.90, 0.012, 0.0}, rich[] = {0.75, NAN, 0.75, 0.5};
    assert_close(dw_lean_limit(x, limits, 4, 0.000721, 898.15, "", NULL), 0.5674 / 0.54402703239912534, 1e-12, 0.0);
    assert_true(isnan(dw_lean_limit(x, limits, 4, 0.000721, 1024.0, "", NULL)));
    /* 1/(0.043/0.75) would be more than pure gas. */
    assert_close(dw_rich_limit(x, rich, 4, "", NULL), 1.0, 0.0, 0.0);
    const double pure[] = {0.0, 0.2, 0.0, 0.8}, inert[] = {0.0, 1.0, 0.0, 0.0};
    assert_close(dw_rich_limit(pure, rich, 4, "", NULL), 0.625, 1e-12, 0.0);
    assert_true(isnan(dw_rich_limit(inert, rich, 4, "", NULL)));
    assert_true(isnan(dw_lean_limit(inert, limits, 4, 0.000721, 300.0, "", NULL)));
    assert_close(dw_flammable_ratio_hot(0.31, 0.000721, 898.15, "", NULL), 0.31 / 0.5674, 1e-12, 0.0);
    assert_true(isnan(dw_flammable_ratio_hot(0.31, 0.000721, 1024.0, "", NULL)));
}

static void filling(void **state)
{
    (void)state;
    /* 0.043 of 0.57 m3 at 1.9 L/s. */
    assert_close(dw_fill_time_s(0.043, 0.57, 1.9e-3, "", "", NULL, NULL), 12.9, 1e-12, 0.0);
    assert_true(isinf(dw_fill_time_s(0.043, 0.57, 0.0, "", "", NULL, NULL)));
}

static double gas[DW_SPECIES_MAX], air[DW_SPECIES_MAX];
static dw_port_meeting meeting;

static void put(double *x, const char *name, double share)
{
    x[dw_species_find(&kit_data()->species, name)] = share;
}

/* Rich gas with a little oxygen, as uneven gas has, and humid air. */
static void meet(double gas_k)
{
    memset(gas, 0, sizeof gas);
    memset(air, 0, sizeof air);
    put(gas, "CO", 0.031);
    put(gas, "H2", 0.024);
    put(gas, "O2", 0.002);
    put(gas, "CO2", 0.097);
    put(gas, "H2O", 0.142);
    put(gas, "N2", 0.704);
    put(air, "O2", 0.207);
    put(air, "N2", 0.780);
    put(air, "H2O", 0.013);
    meeting = (dw_port_meeting){.table = &kit_data()->species, .x_gas = gas, .x_air = air, .gas_temperature_k = gas_k,
                                .air_temperature_k = 293.15, .pressure_pa_abs = 98000.0};
}

static dw_port_flame find(double gas_k)
{
    dw_port_flame f;
    meet(gas_k);
    assert_int_equal(dw_port_flame_find(&meeting, NULL, &f), DW_OK);
    return f;
}

static double h(const double *x, double t_k)
{
    return dw_mixture_enthalpy_j_mol(&kit_data()->species, x, t_k);
}

static void heat_is_kept_and_shares_are_those_of_the_mixture(void **state)
{
    (void)state;
    const double at[] = {890.0, 1000.0, 1150.0, 1450.0};
    for (int i = 0; i < 4; i++) {
        const dw_port_flame f = find(at[i]);
        const double a = f.air_mol_mol;
        assert_true(f.temperature_k >= 883.15 && f.temperature_k < at[i] && a > 0.0);
        assert_close(h(gas, at[i]) + a * h(air, 293.15), h(gas, f.temperature_k) + a * h(air, f.temperature_k), 1e-12,
                     0.0);
        assert_close(f.x_o2, (0.002 + 0.207 * a) / (1.0 + a), 1e-12, 0.0);
        assert_close(f.x_h2o, (0.142 + 0.013 * a) / (1.0 + a), 1e-12, 0.0);
        assert_close(f.tau_s, dw_co_burns_in_s(f.temperature_k, 98000.0, f.x_h2o, f.x_o2, NULL), 1e-14, 0.0);
        /* Never more air than burns it all: CO + H2 - 2 O2 of the gas, over twice the oxygen of the air. */
        assert_true(a <= (0.031 + 0.024 - 2.0 * 0.002) / (2.0 * 0.207) * (1.0 + 1e-9));
    }
}

/* Every other mixture burns more slowly. */
static void no_mixture_is_faster(void **state)
{
    (void)state;
    const double at[] = {890.0, 1000.0, 1150.0, 1450.0};
    for (int i = 0; i < 4; i++) {
        const dw_port_flame f = find(at[i]);
        const double enough = (0.031 + 0.024 - 2.0 * 0.002) / (2.0 * 0.207);
        double best = INFINITY;
        for (int k = 1; k <= 20000; k++) {
            const double t_k = at[i] - (at[i] - 883.15) * k / 20000.0;
            const double a = (h(gas, at[i]) - h(gas, t_k)) / (h(air, t_k) - h(air, 293.15));
            if (a > enough) break;
            best = fmin(best, dw_co_burns_in_s(t_k, 98000.0, (0.142 + 0.013 * a) / (1.0 + a),
                                               (0.002 + 0.207 * a) / (1.0 + a), NULL));
        }
        assert_close(f.tau_s, best, 1e-4, 0.0);
        assert_true(f.tau_s <= best * (1.0 + 1e-9));
    }
}

/* Hardly rich gas burns fastest with all the air it can use, and no more is asked for. */
static void just_enough_air_is_the_most(void **state)
{
    (void)state;
    meet(1300.0);
    put(gas, "CO", 0.004);
    put(gas, "H2", 0.003);
    dw_port_flame f;
    assert_int_equal(dw_port_flame_find(&meeting, NULL, &f), DW_OK);
    assert_close(f.air_mol_mol, (0.004 + 0.003 - 2.0 * 0.002) / (2.0 * 0.207), 1e-7, 0.0);
}

/* With air to spare it is the gas itself; too cold it is none. */
static void gas_that_needs_no_air_and_gas_that_is_cold(void **state)
{
    (void)state;
    meet(1100.0);
    put(gas, "O2", 0.05);
    dw_port_flame f;
    assert_int_equal(dw_port_flame_find(&meeting, NULL, &f), DW_OK);
    assert_close(f.temperature_k, 1100.0, 1e-12, 0.0);
    assert_close(f.air_mol_mol, 0.0, 0.0, 1e-9);
    assert_close(f.tau_s, dw_co_burns_in_s(1100.0, 98000.0, 0.142, 0.05, NULL), 1e-9, 0.0);

    f = find(883.0);
    assert_true(isnan(f.temperature_k) && isinf(f.tau_s));
    assert_close(dw_port_burnt_frac(&f, 1.0, 1e-6), 0.0, 0.0, 0.0);
    /* Air as hot as that there is none of. */
    meet(1100.0);
    meeting.air_temperature_k = 900.0;
    assert_int_equal(dw_port_flame_find(&meeting, NULL, &f), DW_OK);
    assert_true(isnan(f.temperature_k));
}

static void the_ramps(void **state)
{
    (void)state;
    dw_port_flame f = {.temperature_k = 958.15, .tau_s = 0.02};
    /* 10 * 0.055 / 5 / 0.02 = 5.5: half of both ways. */
    assert_close(dw_port_burnt_frac(&f, 0.055, 5.0), 0.9 * 0.5 * 0.5, 1e-12, 0.0);
    assert_close(dw_port_burnt_frac(&f, 0.1, 5.0), 0.9 * 0.5, 1e-12, 0.0);
    assert_close(dw_port_burnt_frac(&f, 10.0, 5.0), 0.9 * 0.5, 1e-12, 0.0);
    assert_close(dw_port_burnt_frac(&f, 0.01, 5.0), 0.0, 0.0, 1e-12);
    assert_close(dw_port_burnt_frac(&f, 0.001, 5.0), 0.0, 0.0, 0.0);
    f.temperature_k = 1033.15;
    assert_close(dw_port_burnt_frac(&f, 0.055, 5.0), 0.9 * 0.5, 1e-12, 0.0);
    f.temperature_k = 1500.0;
    assert_close(dw_port_burnt_frac(&f, 1.0, 5.0), 0.9, 1e-12, 0.0);
    f.temperature_k = 883.15;
    assert_close(dw_port_burnt_frac(&f, 1.0, 5.0), 0.0, 0.0, 0.0);
    f.temperature_k = 1500.0;
    assert_close(dw_port_burnt_frac(&f, 1.0, 0.0), 0.0, 0.0, 0.0);
    f.tau_s = INFINITY;
    assert_close(dw_port_burnt_frac(&f, 1.0, 5.0), 0.0, 0.0, 0.0);
    assert_true(isinf(dw_co_burns_in_s(1000.0, 1e5, 0.0, 0.1, NULL)));
    assert_true(isinf(dw_co_burns_in_s(1000.0, 1e5, 0.1, 0.0, NULL)));
}

static void what_cannot_be(void **state)
{
    (void)state;
    dw_port_flame f;
    meet(1100.0);
    assert_int_equal(dw_port_flame_find(&meeting, NULL, NULL), DW_ERR_ARG);
    assert_int_equal(dw_port_flame_find(NULL, NULL, &f), DW_ERR_ARG);
    meeting.x_air = NULL;
    assert_int_equal(dw_port_flame_find(&meeting, NULL, &f), DW_ERR_ARG);
    meet(1100.0);
    meeting.x_gas = NULL;
    assert_int_equal(dw_port_flame_find(&meeting, NULL, &f), DW_ERR_ARG);
    meet(1100.0);
    meeting.table = NULL;
    assert_int_equal(dw_port_flame_find(&meeting, NULL, &f), DW_ERR_ARG);
    meet(7000.0);
    assert_int_equal(dw_port_flame_find(&meeting, NULL, &f), DW_ERR_DOMAIN);
    meet(1100.0);
    meeting.air_temperature_k = 100.0;
    assert_int_equal(dw_port_flame_find(&meeting, NULL, &f), DW_ERR_DOMAIN);
    const dw_species_table none = {.count = 0};
    meet(1100.0);
    meeting.table = &none;
    assert_int_equal(dw_port_flame_find(&meeting, NULL, &f), DW_ERR_DOMAIN);
}

static void the_working_is_the_same_path(void **state)
{
    (void)state;
    const dw_port_flame f = find(1200.0);
    dw_port_flame again;
    dw_working *w = dw_working_create();
    (void)dw_law_given(w, DW_WORK_INPUT, "p_air", "pressure", "Pa", 98000.0);
    (void)dw_law_given(w, DW_WORK_CONSTANT, "R", "gas constant", "J/(mol K)", DW_R_J_MOL_K);
    assert_int_equal(dw_port_flame_find(&meeting, w, &again), DW_OK);
    assert_memory_equal(&f, &again, sizeof f);
    (void)dw_port_hot(f.temperature_k, w);
    assert_int_equal(work_check_steps(w, "flame", 1e-13), 0);
    assert_int_equal(work_check_sources(w, kit_data()), 0);
    assert_int_equal(dw_working_step_count(w), 6);
    dw_working_destroy(w);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(mixtures),
        cmocka_unit_test(warmer_gas_burns_leaner),
        cmocka_unit_test(whole_gas),
        cmocka_unit_test(filling),
        cmocka_unit_test(heat_is_kept_and_shares_are_those_of_the_mixture),
        cmocka_unit_test(no_mixture_is_faster),
        cmocka_unit_test(just_enough_air_is_the_most),
        cmocka_unit_test(gas_that_needs_no_air_and_gas_that_is_cold),
        cmocka_unit_test(the_ramps),
        cmocka_unit_test(what_cannot_be),
        cmocka_unit_test(the_working_is_the_same_path),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

/** @file test_oxygen.c  Unit tests of physics/oxygen. */

#include "check.h"

#include "constants.h"
#include "equilibrium.h"
#include "kit.h"
#include "oxygen.h"

static void both_ways_are_inverse(void **state)
{
    (void)state;
    dw_oxygen_ratio k;
    assert_int_equal(dw_oxygen_ratio_at(&kit_model()->gases, 1483.0, &k), DW_OK);
    assert_close(dw_co_co2_from_oxygen(&k, dw_oxygen_from_co_co2(&k, 0.137)), 0.137, 1e-12, 0.0);
    assert_close(dw_h2_h2o_from_oxygen(&k, dw_oxygen_from_h2_h2o(&k, 0.0371)), 0.0371, 1e-12, 0.0);
    /* Ten times the ratio is a hundredth of the oxygen. */
    assert_close(dw_oxygen_from_co_co2(&k, 1.37) - dw_oxygen_from_co_co2(&k, 0.137), -2.0, 1e-12,
                 0.0);
    assert_true(isnan(dw_oxygen_from_co_co2(&k, 0.0)));
    assert_true(isnan(dw_oxygen_from_h2_h2o(&k, -1.0)));
}

static void agrees_with_the_whole_gas(void **state)
{
    (void)state;
    const dw_gas_set *set = &kit_model()->gases;
    dw_gas_potentials at;
    dw_oxygen_ratio k;
    assert_int_equal(dw_gas_potentials_at(set, 1391.0, &at), DW_OK);
    assert_int_equal(dw_oxygen_ratio_at(set, 1391.0, &k), DW_OK);
    /* Some C, H, O, N with too little oxygen: E = 2.9 - 2 x 0.7 - 1.7 = -0.2 */
    const dw_elements e = {{[DW_C] = 0.7, [DW_H] = 3.4, [DW_O] = 2.9, [DW_N] = 11.0}, -0.2};
    dw_equilibrium s = {.start = DW_START_COLD};
    assert_int_equal(dw_equilibrium_solve(set, &at, &e, 97000.0, false, &s), DW_OK);
    assert_close(dw_oxygen_from_co_co2(&k, s.x[set->role[DW_ROLE_CO]] / s.x[set->role[DW_ROLE_CO2]]),
                 s.log10_po2_bar, 0.0, 1e-9);
    assert_close(dw_oxygen_from_h2_h2o(&k, s.x[set->role[DW_ROLE_H2]] / s.x[set->role[DW_ROLE_H2O]]),
                 s.log10_po2_bar, 0.0, 1e-9);
}

static void refuses_what_has_no_meaning(void **state)
{
    (void)state;
    dw_oxygen_ratio k;
    assert_int_equal(dw_oxygen_ratio_at(&kit_model()->gases, 100.0, &k), DW_ERR_DOMAIN);
    assert_true(isnan(k.k_co2) && isnan(k.k_h2o));
    assert_int_equal(dw_oxygen_ratio_at(NULL, 1400.0, &k), DW_ERR_ARG);
    assert_int_equal(dw_oxygen_ratio_at(&kit_model()->gases, 1400.0, NULL), DW_ERR_ARG);
}

static void probe_matches_hand_value(void **state)
{
    (void)state;
    /* R 1487/(4 F) ln(0.2095 0.93/10^-11.37) */
    assert_close(dw_probe_emf_v(-11.37, 1487.0, 93000.0), 0.7862907954695386, 1e-12, 0.0);
}

static void air_reads_zero_at_any_pressure(void **state)
{
    (void)state;
    const double pressures[] = {72000.0, 93000.0, 101325.0};
    for (size_t i = 0; i < 3; i++) {
        const double log10_po2 = log10(0.2095 * pressures[i] / DW_BAR_PA);
        assert_close(dw_probe_emf_v(log10_po2, 1487.0, pressures[i]), 0.0, 0.0, 1e-16);
    }
    /* more oxygen than air: negative */
    assert_true(dw_probe_emf_v(0.0, 1487.0, DW_ATM_PA) < 0.0);
}

static void inverse_gives_the_oxygen_back(void **state)
{
    (void)state;
    for (double x = -34.7; x < 0.5; x += 2.31) {
        const double emf = dw_probe_emf_v(x, 1133.0, 88100.0);
        assert_close(dw_probe_log10_po2_bar(emf, 1133.0, 88100.0), x, 1e-13, 1e-13);
    }
}

static void probe_refuses_what_has_no_meaning(void **state)
{
    (void)state;
    const double bad[][2] = {{0.0, 1e5}, {-1.0, 1e5}, {NAN, 1e5}, {1200.0, 0.0}, {1200.0, NAN}};
    for (size_t i = 0; i < 5; i++) {
        assert_true(isnan(dw_probe_emf_v(-9.0, bad[i][0], bad[i][1])));
        assert_true(isnan(dw_probe_log10_po2_bar(0.6, bad[i][0], bad[i][1])));
    }
    assert_true(isnan(dw_probe_emf_v(NAN, 1200.0, 1e5)));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(both_ways_are_inverse),
        cmocka_unit_test(agrees_with_the_whole_gas),
        cmocka_unit_test(refuses_what_has_no_meaning),
        cmocka_unit_test(probe_matches_hand_value),
        cmocka_unit_test(air_reads_zero_at_any_pressure),
        cmocka_unit_test(inverse_gives_the_oxygen_back),
        cmocka_unit_test(probe_refuses_what_has_no_meaning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

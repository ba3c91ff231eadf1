/* Oxygen from CO/CO2 and H2/H2O: both ways, and the same as the equilibrium of the whole gas. */

#include "check.h"
#include "equilibrium.h"
#include "kit.h"
#include "oxygen_ratio.h"

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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(both_ways_are_inverse),
        cmocka_unit_test(agrees_with_the_whole_gas),
        cmocka_unit_test(refuses_what_has_no_meaning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

/* Flame temperature: what is refused, and flames far from the usual ones. */
#include "check.h"

#include "flame_temp.h"
#include "kit.h"
#include "test_data.h"

static dw_elements mixture_of(const char *fuel_name, double phi)
{
    const dw_species_table *table = &kit_data()->species;
    double fuel[DW_SPECIES_MAX], air[DW_SPECIES_MAX];
    assert_true(test_fractions(table, test_fuel(fuel_name), fuel));
    assert_true(test_fractions(table, &test_air, air));
    const dw_elements f = dw_elements_from_moles(table, fuel);
    const dw_elements a = dw_elements_from_moles(table, air);
    return dw_elements_combine(1.0, f, -f.excess_o / a.excess_o / phi, a);
}

/* Enthalpy of the burnt gas at a temperature: reactants that hold as much burn at just that one. */
static double enthalpy_at(const dw_elements *mix, double temperature_k)
{
    const dw_gas_set *set = &kit_model()->gases;
    dw_gas_potentials at;
    dw_equilibrium s = {.start = DW_START_COLD};
    assert_int_equal(dw_gas_potentials_at(set, temperature_k, &at), DW_OK);
    assert_int_equal(dw_equilibrium_solve(set, &at, mix, 1e5, false, &s), DW_OK);
    return dw_equilibrium_enthalpy_j(set, temperature_k, &s);
}

static void cold_and_very_hot_flames_are_found(void **state)
{
    (void)state;
    const dw_elements mix = mixture_of("methane", 0.3);
    const double temperatures[] = {317.0, 655.0, 990.0, 1010.0, 2990.0, 3010.0, 3870.0, 4930.0};
    for (size_t i = 0; i < sizeof temperatures / sizeof temperatures[0]; i++) {
        double found;
        dw_equilibrium s;
        assert_int_equal(dw_flame_temperature(&kit_model()->gases, &mix, 1e5,
                                              enthalpy_at(&mix, temperatures[i]), false, &found,
                                              &s), DW_OK);
        assert_close(found, temperatures[i], 0.0, 2e-6);
        assert_true(s.x[0] >= 0.0);
    }
}

static void what_has_no_flame_is_refused(void **state)
{
    (void)state;
    const dw_gas_set *set = &kit_model()->gases;
    const dw_elements mix = mixture_of("propane", 1.0);
    const double h = enthalpy_at(&mix, 1900.0);
    double t = 1.0;
    dw_equilibrium s;
    assert_int_equal(dw_flame_temperature(NULL, &mix, 1e5, h, false, &t, &s), DW_ERR_ARG);
    assert_true(isnan(t));
    assert_int_equal(dw_flame_temperature(set, NULL, 1e5, h, false, &t, &s), DW_ERR_ARG);
    assert_int_equal(dw_flame_temperature(set, &mix, 1e5, h, false, NULL, &s), DW_ERR_ARG);
    assert_int_equal(dw_flame_temperature(set, &mix, 1e5, h, false, &t, NULL), DW_ERR_ARG);
    assert_int_equal(dw_flame_temperature(set, &mix, 1e5, NAN, false, &t, &s), DW_ERR_ARG);
    t = 1.0;
    assert_int_equal(dw_flame_temperature(set, &mix, -1e5, h, false, &t, &s), DW_ERR_DOMAIN);
    assert_true(isnan(t));
    /* Colder than 300 K, hotter than 5000 K. */
    assert_int_equal(dw_flame_temperature(set, &mix, 1e5, -1e9, false, &t, &s), DW_ERR_NO_CONVERGE);
    assert_int_equal(dw_flame_temperature(set, &mix, 1e5, 1e12, false, &t, &s), DW_ERR_NO_CONVERGE);
    assert_true(isnan(t));
}

static void enthalpy_counts_gas_and_carbon(void **state)
{
    (void)state;
    const dw_gas_set *set = &kit_model()->gases;
    const dw_species_table *table = &kit_data()->species;
    dw_equilibrium s = {.gas_mol = 2.3, .graphite_mol = 0.7};
    s.x[set->role[DW_ROLE_CO]] = 0.4;
    s.x[set->role[DW_ROLE_N2]] = 0.6;
    const double t = 1187.0;
    double co, n2, carbon;
    assert_int_equal(dw_species_standard_state(&table->species[dw_species_find(table, "CO")], t, NULL, &co, NULL), DW_OK);
    assert_int_equal(dw_species_standard_state(&table->species[dw_species_find(table, "N2")], t, NULL, &n2, NULL), DW_OK);
    assert_int_equal(dw_species_standard_state(&table->species[dw_species_find(table, "C(gr)")], t, NULL, &carbon, NULL), DW_OK);
    assert_close(dw_equilibrium_enthalpy_j(set, t, &s), 2.3 * (0.4 * co + 0.6 * n2) + 0.7 * carbon,
                 1e-13, 0.0);
    assert_true(isnan(dw_equilibrium_enthalpy_j(set, 100.0, &s)));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cold_and_very_hot_flames_are_found),
        cmocka_unit_test(what_has_no_flame_is_refused),
        cmocka_unit_test(enthalpy_counts_gas_and_carbon),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

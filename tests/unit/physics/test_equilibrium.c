/* Equilibrium of random gases: balances, mass action, graphite, refusals, flame temperature. */
#include "check.h"

#include <stdlib.h>
#include <string.h>

#include "constants.h"
#include "flame_temp.h"
#include "kit.h"

static const dw_species_table *table(void)
{
    return &kit_data()->species;
}

static dw_elements random_mixture(kit_random *r, double phi)
{
    static const char *const fuels[] = {"CH4", "C2H6", "C3H8", "n-C4H10", "H2", "CO", "C2H4"};
    double fuel[DW_SPECIES_MAX] = {0.0}, air[DW_SPECIES_MAX] = {0.0};
    fuel[dw_species_find(table(), fuels[kit_pick(r, 7)])] += 0.7;
    fuel[dw_species_find(table(), fuels[kit_pick(r, 7)])] += 0.3;
    const double water = kit_between(r, 0.0, 0.04);
    air[dw_species_find(table(), "N2")] = 0.78084 * (1.0 - water);
    air[dw_species_find(table(), "O2")] = 0.209476 * (1.0 - water);
    air[dw_species_find(table(), "Ar")] = 0.009365 * (1.0 - water);
    air[dw_species_find(table(), "CO2")] = 0.000319 * (1.0 - water);
    air[dw_species_find(table(), "H2O")] = water;
    const dw_elements f = dw_elements_from_moles(table(), fuel);
    const dw_elements a = dw_elements_from_moles(table(), air);
    return dw_elements_combine(1.0, f, -f.excess_o / a.excess_o / phi, a);
}

static double mole_fraction(const dw_gas_set *set, const dw_equilibrium *s, const char *name)
{
    const int species = dw_species_find(table(), name);
    for (int j = 0; j < set->count; j++) {
        if (set->species[j] == species) return s->x[j];
    }
    return NAN;
}

static void balances_and_mass_action_hold_everywhere(void **state)
{
    (void)state;
    const dw_gas_set *set = &kit_model()->gases;
    kit_random r = kit_seed(20861);
    double worst = 0.0;
    int most = 0;
    for (int n = 0; n < 20000; n++) {
        const double t = kit_between(&r, 700.0, 2600.0), p = kit_between(&r, 5e4, 1.2e5);
        const double phi = n % 5 == 0 ? 1.0 + kit_between(&r, -1e-4, 1e-4) : kit_between(&r, 0.05, 3.0);
        const dw_elements el = random_mixture(&r, phi);
        dw_gas_potentials at;
        dw_equilibrium s = {.start = DW_START_COLD};
        assert_int_equal(dw_gas_potentials_at(set, t, &at), DW_OK);
        assert_int_equal(dw_equilibrium_solve(set, &at, &el, p, false, &s), DW_OK);
        if (s.iterations > most) most = s.iterations;

        double found[DW_ELEMENT_COUNT] = {0.0}, sum = 0.0;
        for (int j = 0; j < set->count; j++) {
            assert_true(s.x[j] >= 0.0);
            sum += s.x[j];
            for (int e = 0; e < DW_ELEMENT_COUNT; e++) {
                found[e] += table()->species[set->species[j]].atoms[e] * s.x[j] * s.gas_mol;
            }
        }
        assert_close(sum, 1.0, 0.0, 1e-12);
        for (int e = 0; e < DW_ELEMENT_COUNT; e++) {
            const double error = fabs(found[e] / el.n[e] - 1.0);
            if (error > worst) worst = error;
            assert_true(error < 1e-12);
        }
        /* CO + H2O = CO2 + H2 and 2 CO + O2 = 2 CO2, from the potentials alone. */
        const double *g = at.g_rt;
        const int *role = set->role;
        const double shift = exp(g[role[DW_ROLE_CO]] + g[role[DW_ROLE_H2O]] - g[role[DW_ROLE_CO2]] - g[role[DW_ROLE_H2]]);
        assert_close(s.x[role[DW_ROLE_CO2]] * s.x[role[DW_ROLE_H2]] / (s.x[role[DW_ROLE_CO]] * s.x[role[DW_ROLE_H2O]]), shift, 1e-10, 0.0);
        assert_close(log10(s.x[role[DW_ROLE_O2]] * p / DW_BAR_PA), s.log10_po2_bar, 0.0, 1e-10);
    }
    print_message("worst element closure %.1e, most iterations %d\n", worst, most);
}

static void start_does_not_change_the_answer(void **state)
{
    (void)state;
    const dw_gas_set *set = &kit_model()->gases;
    kit_random r = kit_seed(517);
    dw_equilibrium warm = {.start = DW_START_COLD};
    for (int n = 0; n < 300; n++) {
        const dw_elements el = random_mixture(&r, kit_between(&r, 0.6, 1.6));
        dw_gas_potentials at;
        assert_int_equal(dw_gas_potentials_at(set, 1373.0, &at), DW_OK);
        dw_equilibrium cold = {.start = DW_START_COLD};
        assert_int_equal(dw_equilibrium_solve(set, &at, &el, 91300.0, false, &cold), DW_OK);
        assert_int_equal(dw_equilibrium_solve(set, &at, &el, 91300.0, false, &warm), DW_OK);
        for (int j = 0; j < set->count; j++) {
            assert_close(warm.x[j], cold.x[j], 1e-9, 1e-30);
        }
    }
}

static void graphite_takes_the_carbon_above_activity_one(void **state)
{
    (void)state;
    const dw_gas_set *set = &kit_model()->gases;
    kit_random r = kit_seed(9083);
    int with = 0, without = 0;
    for (int n = 0; n < 3000; n++) {
        const dw_elements el = random_mixture(&r, kit_between(&r, 1.2, 7.0));
        const double t = kit_between(&r, 800.0, 1700.0);
        dw_gas_potentials at;
        dw_equilibrium gas = {.start = DW_START_COLD}, both = {.start = DW_START_COLD};
        assert_int_equal(dw_gas_potentials_at(set, t, &at), DW_OK);
        assert_int_equal(dw_equilibrium_solve(set, &at, &el, 101325.0, true, &both), DW_OK);
        double carbon = both.graphite_mol;
        for (int j = 0; j < set->count; j++) {
            carbon += table()->species[set->species[j]].atoms[DW_C] * both.x[j] * both.gas_mol;
        }
        assert_close(carbon, el.n[DW_C], 1e-11, 0.0);
        if (both.graphite_mol > 0.0) {
            with++;
            assert_close(both.carbon_activity, 1.0, 1e-12, 0.0);
            if (dw_equilibrium_solve(set, &at, &el, 101325.0, false, &gas) == DW_OK) {
                assert_true(gas.carbon_activity > 1.0);
            }
        } else {
            without++;
            assert_true(both.carbon_activity <= 1.0);
            assert_int_equal(dw_equilibrium_solve(set, &at, &el, 101325.0, false, &gas), DW_OK);
            assert_close(mole_fraction(set, &both, "CO"), mole_fraction(set, &gas, "CO"), 1e-12, 0.0);
        }
    }
    assert_true(with > 300 && without > 300);
}

static void refuses_what_has_no_meaning(void **state)
{
    (void)state;
    const dw_gas_set *set = &kit_model()->gases;
    kit_random r = kit_seed(3);
    const dw_elements good = random_mixture(&r, 1.1);
    dw_gas_potentials at;
    assert_int_equal(dw_gas_potentials_at(set, 1400.0, &at), DW_OK);
    dw_equilibrium s = {.start = DW_START_COLD};
    assert_int_equal(dw_equilibrium_solve(set, &at, &good, 0.0, false, &s), DW_ERR_DOMAIN);
    assert_true(isnan(s.x[0]) && isnan(s.gas_mol));
    assert_int_equal(dw_equilibrium_solve(set, &at, &good, NAN, false, &s), DW_ERR_DOMAIN);
    assert_int_equal(dw_equilibrium_solve(set, &at, NULL, 1e5, false, &s), DW_ERR_ARG);
    dw_elements bad = good;
    bad.n[DW_C] = -1.0;
    assert_int_equal(dw_equilibrium_solve(set, &at, &bad, 1e5, false, &s), DW_ERR_DOMAIN);
    bad = good;
    bad.n[DW_H] = NAN;
    assert_int_equal(dw_equilibrium_solve(set, &at, &bad, 1e5, false, &s), DW_ERR_ARG);
    bad = good;
    bad.n[DW_O] = 0.0;
    assert_int_equal(dw_equilibrium_solve(set, &at, &bad, 1e5, false, &s), DW_ERR_DOMAIN);
    /* Soot without soot: there is no such gas, and nothing of an earlier one is left. */
    assert_int_equal(dw_equilibrium_solve(set, &at, &good, 1e5, false, &s), DW_OK);
    assert_true(s.start == DW_START_WARM && isfinite(s.x[0]));
    bad = good;
    bad.n[DW_O] = 1e-2 * good.n[DW_C];
    bad.n[DW_H] = 1e-3 * good.n[DW_C];
    bad.excess_o = bad.n[DW_O] - 2.0 * bad.n[DW_C] - 0.5 * bad.n[DW_H];
    assert_int_equal(dw_equilibrium_solve(set, &at, &bad, 1e5, false, &s), DW_ERR_NO_CONVERGE);
    assert_true(s.start == DW_START_COLD && isnan(s.x[0]) && isnan(s.gas_mol) && isnan(s.log10_po2_bar));
    assert_int_equal(dw_equilibrium_solve(set, &at, &good, 1e5, false, &s), DW_OK);
    assert_int_equal(dw_equilibrium_solve(set, &at, &good, 0.0, false, &s), DW_ERR_DOMAIN);
    assert_true(s.start == DW_START_COLD && isnan(s.x[0]));
    assert_int_equal(dw_gas_potentials_at(set, 150.0, &at), DW_ERR_DOMAIN);
    dw_gas_set small;
    dw_species_table empty = {0};
    assert_int_equal(dw_gas_set_init(&small, &empty), DW_ERR_INPUT);
}

/* Gases side by side or one by one: the same potentials to the last digit. */
static void polynomials_that_change_elsewhere(void **state)
{
    (void)state;
    const dw_gas_set *set = &kit_model()->gases;
    assert_close(set->split_k, 1000.0, 0.0, 0.0);
    dw_species_table *other = malloc(sizeof *other);
    assert_non_null(other);
    *other = *set->table;
    dw_species *cut = &other->species[set->species[3]];
    assert_int_equal(cut->range_count, 2);
    cut->range_count = 3;
    cut->range[2] = cut->range[1];
    cut->range[1].t_high_k = cut->range[2].t_low_k = 3000.0;
    dw_gas_set apart;
    assert_int_equal(dw_gas_set_init(&apart, other), DW_OK);
    assert_true(isnan(apart.split_k));
    static const double t_k[] = {200.0, 999.9, 1000.0, 1000.1, 1750.0, 3000.0, 3000.1, 6000.0};
    for (size_t i = 0; i < sizeof t_k / sizeof t_k[0]; i++) {
        dw_gas_potentials a, b;
        assert_int_equal(dw_gas_potentials_at(set, t_k[i], &a), DW_OK);
        assert_int_equal(dw_gas_potentials_at(&apart, t_k[i], &b), DW_OK);
        for (int j = 0; j < set->count; j++) assert_close(a.g_rt[j], b.g_rt[j], 0.0, 0.0);
    }
    /* And changing with the others, but at another place. */
    cut->range_count = 2;
    cut->range[0].t_high_k = cut->range[1].t_low_k = 1001.0;
    assert_int_equal(dw_gas_set_init(&apart, other), DW_OK);
    assert_true(isnan(apart.split_k));
    free(other);
}

static void flame_temperature_returns_its_enthalpy(void **state)
{
    (void)state;
    const dw_gas_set *set = &kit_model()->gases;
    kit_random r = kit_seed(77);
    for (int n = 0; n < 100; n++) {
        const dw_elements el = random_mixture(&r, kit_between(&r, 0.5, 1.8));
        const double t = kit_between(&r, 600.0, 2800.0);
        dw_gas_potentials at;
        dw_equilibrium s = {.start = DW_START_COLD};
        assert_int_equal(dw_gas_potentials_at(set, t, &at), DW_OK);
        assert_int_equal(dw_equilibrium_solve(set, &at, &el, 88000.0, false, &s), DW_OK);
        const double h = dw_equilibrium_enthalpy_j(set, t, &s);
        double found;
        assert_int_equal(dw_flame_temperature(set, &el, 88000.0, h, false, &found, &s), DW_OK);
        assert_close(found, t, 0.0, 2e-6);
    }
    double found;
    dw_equilibrium s;
    const dw_elements el = random_mixture(&r, 1.0);
    assert_int_equal(dw_flame_temperature(set, &el, 88000.0, 1e12, false, &found, &s),
                     DW_ERR_NO_CONVERGE);
    assert_true(isnan(found));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(balances_and_mass_action_hold_everywhere),
        cmocka_unit_test(start_does_not_change_the_answer),
        cmocka_unit_test(graphite_takes_the_carbon_above_activity_one),
        cmocka_unit_test(refuses_what_has_no_meaning),
        cmocka_unit_test(polynomials_that_change_elsewhere),
        cmocka_unit_test(flame_temperature_returns_its_enthalpy),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

/* Atoms, masses and molar averages of mixtures, against sums written out. */
#include "check.h"

#include "elements.h"
#include "kit.h"

static const dw_species_table *table(void) { return &kit_data()->species; }

static void put(double x[DW_SPECIES_MAX], const char *name, double share)
{
    const int i = dw_species_find(table(), name);
    assert_true(i >= 0);
    x[i] = share;
}

static void a_mixture_has_the_atoms_of_its_gases(void **state)
{
    (void)state;
    double x[DW_SPECIES_MAX] = {0.0};
    put(x, "C3H8", 0.23);
    put(x, "CO2", 0.31);
    put(x, "H2O", 0.17);
    put(x, "N2", 0.27);
    put(x, "Ar", 0.02);
    const dw_elements e = dw_elements_from_moles(table(), x);
    assert_close(e.n[DW_C], 3.0 * 0.23 + 0.31, 1e-15, 0.0);
    assert_close(e.n[DW_H], 8.0 * 0.23 + 2.0 * 0.17, 1e-15, 0.0);
    assert_close(e.n[DW_O], 2.0 * 0.31 + 0.17, 1e-15, 0.0);
    assert_close(e.n[DW_N], 2.0 * 0.27, 1e-15, 0.0);
    assert_close(e.n[DW_AR], 0.02, 1e-15, 0.0);
    /* CO2 and H2O bring what they need: only the propane asks for oxygen. */
    assert_close(e.excess_o, -10.0 * 0.23, 1e-15, 0.0);
    assert_close(dw_elements_mass_kg(&e), dw_mixture_molar_mass(table(), x), 1e-5, 0.0);
    assert_close(dw_mixture_molar_mass(table(), x),
                 0.23 * 44.09562e-3 + 0.31 * 44.0095e-3 + 0.17 * 18.01528e-3 + 0.27 * 28.0134e-3 +
                     0.02 * 39.948e-3, 1e-7, 0.0);
}

static void streams_add(void **state)
{
    (void)state;
    double x[DW_SPECIES_MAX] = {0.0}, y[DW_SPECIES_MAX] = {0.0};
    put(x, "CH4", 1.0);
    put(y, "O2", 0.21);
    put(y, "N2", 0.79);
    const dw_elements fuel = dw_elements_from_moles(table(), x);
    const dw_elements air = dw_elements_from_moles(table(), y);
    const dw_elements sum = dw_elements_combine(0.7, fuel, 9.1, air);
    assert_close(sum.n[DW_C], 0.7, 1e-15, 0.0);
    assert_close(sum.n[DW_H], 2.8, 1e-15, 0.0);
    assert_close(sum.n[DW_O], 9.1 * 0.42, 1e-15, 0.0);
    assert_close(sum.n[DW_N], 9.1 * 1.58, 1e-15, 0.0);
    assert_close(sum.excess_o, -0.7 * 4.0 + 9.1 * 0.42, 1e-15, 0.0);
}

static void shares_follow_from_the_need_for_air(void **state)
{
    (void)state;
    double x[DW_SPECIES_MAX] = {0.0}, y[DW_SPECIES_MAX] = {0.0};
    put(x, "CH4", 1.0);
    put(y, "O2", 0.21);
    put(y, "N2", 0.79);
    const dw_elements fuel = dw_elements_per_kg(table(), x), air = dw_elements_per_kg(table(), y);
    assert_close(dw_elements_mass_kg(&fuel), 1.0, 1e-14, 0.0);
    /* A mole of methane takes 2/0.21 moles of this air: 28.8503 g/mol against 16.0425. */
    const double need = dw_air_need_kg_kg(&fuel, &air);
    assert_close(need, 2.0 / 0.21 * 28.8503 / 16.0425, 1e-5, 0.0);
    assert_close(dw_fuel_share(1.3, 17.0), 1.3 / 18.3, 1e-15, 0.0);
    assert_close(dw_equivalence_ratio(0.06, 17.0), 1.02 / 0.94, 1e-15, 0.0);
    assert_true(dw_air_need_kg_kg(&air, &air) < 0.0);
}

static void molar_functions_are_means_by_mole(void **state)
{
    (void)state;
    double x[DW_SPECIES_MAX] = {0.0};
    put(x, "CO", 0.37);
    put(x, "H2", 0.63);
    const double t = 947.0;
    double cp_co, cp_h2, h_co, h_h2;
    assert_int_equal(dw_species_standard_state(&table()->species[dw_species_find(table(), "CO")], t,
                                               &cp_co, &h_co, NULL), DW_OK);
    assert_int_equal(dw_species_standard_state(&table()->species[dw_species_find(table(), "H2")], t,
                                               &cp_h2, &h_h2, NULL), DW_OK);
    assert_close(dw_mixture_enthalpy_j_mol(table(), x, t), 0.37 * h_co + 0.63 * h_h2, 1e-14, 0.0);
    assert_close(dw_mixture_heat_capacity_j_mol_k(table(), x, t), 0.37 * cp_co + 0.63 * cp_h2,
                 1e-14, 0.0);
    const double refused[] = {150.0, 6500.0, NAN};
    for (size_t i = 0; i < sizeof refused / sizeof refused[0]; i++) {
        assert_true(isnan(dw_mixture_enthalpy_j_mol(table(), x, refused[i])));
        assert_true(isnan(dw_mixture_heat_capacity_j_mol_k(table(), x, refused[i])));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_mixture_has_the_atoms_of_its_gases),
        cmocka_unit_test(streams_add),
        cmocka_unit_test(shares_follow_from_the_need_for_air),
        cmocka_unit_test(molar_functions_are_means_by_mole),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

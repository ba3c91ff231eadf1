/* Thermodynamic functions of one species, and what a table of them must not get past its check. */
#include "check.h"

#include <string.h>

#include "constants.h"
#include "kit.h"
#include "species.h"

/* cp/R, h/RT and s/R of a made-up gas by the published forms, added up term by term. */
static void functions_are_the_published_forms(void **state)
{
    (void)state;
    const dw_species gas = {
        .name = "G",
        .range_count = 1,
        .range = {{200.0, 6000.0, {3.1e4, -2.7e2, 3.9, 1.7e-3, -4.1e-7, 6.3e-11, -3.7e-15, -1.3e3, 4.9}}},
    };
    const double *a = gas.range[0].coeff, t = 713.0;
    double cp, h, s;
    assert_int_equal(dw_species_standard_state(&gas, t, &cp, &h, &s), DW_OK);
    double cp_r = 0.0, h_rt = a[7] / t, s_r = a[8];
    const double power[7] = {-2.0, -1.0, 0.0, 1.0, 2.0, 3.0, 4.0};
    for (int i = 0; i < 7; i++) {
        const double q = power[i];
        cp_r += a[i] * pow(t, q);
        h_rt += q == -1.0 ? a[i] * log(t) / t : a[i] * pow(t, q) / (q + 1.0);
        s_r += q == 0.0 ? a[i] * log(t) : a[i] * pow(t, q) / q;
    }
    assert_close(cp, DW_R_NASA_J_MOL_K * cp_r, 1e-13, 0.0);
    assert_close(h, DW_R_NASA_J_MOL_K * t * h_rt, 1e-12, 0.0);
    assert_close(s, DW_R_NASA_J_MOL_K * s_r, 1e-13, 0.0);
}

static void only_what_is_asked_for_is_given(void **state)
{
    (void)state;
    const dw_species *gas = &kit_data()->species.species[0];
    double cp = 1.0, h = 1.0, s = 1.0, alone;
    assert_int_equal(dw_species_standard_state(gas, 871.0, &cp, &h, &s), DW_OK);
    assert_int_equal(dw_species_standard_state(gas, 871.0, &alone, NULL, NULL), DW_OK);
    assert_true(alone == cp);
    assert_int_equal(dw_species_standard_state(gas, 871.0, NULL, &alone, NULL), DW_OK);
    assert_true(alone == h);
    assert_int_equal(dw_species_standard_state(gas, 871.0, NULL, NULL, &alone), DW_OK);
    assert_true(alone == s);
}

static void outside_its_temperatures_there_is_no_value(void **state)
{
    (void)state;
    const dw_species *gas = &kit_data()->species.species[0];
    const double refused[] = {199.9, 6000.1, -3.0, NAN, INFINITY};
    for (size_t i = 0; i < sizeof refused / sizeof refused[0]; i++) {
        double cp = 1.0, h = 1.0, s = 1.0;
        assert_int_equal(dw_species_standard_state(gas, refused[i], &cp, &h, &s), DW_ERR_DOMAIN);
        assert_true(isnan(cp) && isnan(h) && isnan(s));
    }
    double h = 1.0;
    assert_int_equal(dw_species_standard_state(NULL, 300.0, NULL, &h, NULL), DW_ERR_ARG);
    assert_true(isnan(h));
    assert_int_equal(dw_species_standard_state(gas, 200.0, NULL, &h, NULL), DW_OK);
    assert_int_equal(dw_species_standard_state(gas, 6000.0, NULL, &h, NULL), DW_OK);
}

static void species_are_found_by_their_exact_name(void **state)
{
    (void)state;
    const dw_species_table *table = &kit_data()->species;
    assert_string_equal(table->species[dw_species_find(table, "CO2")].name, "CO2");
    assert_int_equal(dw_species_find(table, "co2"), -1);
    assert_int_equal(dw_species_find(table, "CO2 "), -1);
    assert_int_equal(dw_species_find(table, ""), -1);
}

/* One change to the built-in table, and what the check then says. */
typedef void (*spoil)(dw_species_table *table, dw_species *co2);

static void fewer_than_no_atoms(dw_species_table *t, dw_species *s) { (void)t; s->atoms[DW_N] = -1.0; }
static void wrong_mass(dw_species_table *t, dw_species *s) { (void)t; s->molar_mass_kg_mol *= 1.0002; }
static void no_range(dw_species_table *t, dw_species *s) { (void)t; s->range_count = 0; }
static void too_many_ranges(dw_species_table *t, dw_species *s) { (void)t; s->range_count = DW_NASA9_RANGE_MAX + 1; }
static void range_upside_down(dw_species_table *t, dw_species *s) { (void)t; s->range[0].t_low_k = 1100.0; }
static void gap_between_ranges(dw_species_table *t, dw_species *s) { (void)t; s->range[1].t_low_k = 1000.5; }
static void heat_capacity_below_zero(dw_species_table *t, dw_species *s) { (void)t; s->range[0].coeff[2] -= 20.0; }
static void heat_capacity_jumps(dw_species_table *t, dw_species *s) { (void)t; s->range[1].coeff[2] *= 1.001; }
static void enthalpy_jumps(dw_species_table *t, dw_species *s) { (void)t; s->range[1].coeff[7] *= 1.01; }
static void entropy_jumps(dw_species_table *t, dw_species *s) { (void)t; s->range[1].coeff[8] += 0.1; }
static void other_formation_enthalpy(dw_species_table *t, dw_species *s) { (void)t; s->h_formation_j_mol += 3.0; }
static void twice(dw_species_table *t, dw_species *s) { t->species[t->count++] = *s; }
static void empty(dw_species_table *t, dw_species *s) { (void)s; t->count = 0; }
static void overfull(dw_species_table *t, dw_species *s) { (void)s; t->count = DW_SPECIES_MAX + 1; }

static void the_check_names_the_first_fault(void **state)
{
    (void)state;
    static const struct {
        spoil change;
        const char *says;
    } cases[] = {
        {fewer_than_no_atoms, "species CO2: negative number of atoms"},
        {wrong_mass, "species CO2: molar mass is 44.0183 g/mol, its atoms weigh 44.009"},
        {no_range, "species CO2: 0 temperature ranges"},
        {too_many_ranges, "temperature ranges, expected 1 to 3"},
        {range_upside_down, "species CO2: temperature range 1 does not follow"},
        {gap_between_ranges, "species CO2: temperature range 2 does not follow"},
        {heat_capacity_below_zero, "species CO2: heat capacity is not positive at 200 K"},
        {heat_capacity_jumps, "species CO2: heat capacity jumps at 1000 K"},
        {enthalpy_jumps, "species CO2: enthalpy jumps at 1000 K"},
        {entropy_jumps, "species CO2: entropy jumps at 1000 K"},
        {other_formation_enthalpy, "species CO2: enthalpy at 298.15 K is"},
        {twice, "species CO2: listed twice"},
        {empty, "0 species, expected 1 to 40"},
        {overfull, "41 species, expected 1 to 40"},
    };
    char message[200];
    static dw_species_table table;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        table = kit_data()->species;
        assert_int_equal(dw_species_table_check(&table, message, sizeof message), DW_OK);
        assert_string_equal(message, "");
        cases[i].change(&table, &table.species[dw_species_find(&table, "CO2")]);
        assert_int_equal(dw_species_table_check(&table, message, sizeof message), DW_ERR_INPUT);
        if (strstr(message, cases[i].says) == NULL) {
            print_error("'%s', expected '%s'\n", message, cases[i].says);
        }
        assert_non_null(strstr(message, cases[i].says));
    }
    assert_int_equal(dw_species_table_check(NULL, message, sizeof message), DW_ERR_ARG);
    assert_int_equal(dw_species_table_check(&table, NULL, sizeof message), DW_ERR_ARG);
    assert_int_equal(dw_species_table_check(&table, message, 0), DW_ERR_ARG);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(functions_are_the_published_forms),
        cmocka_unit_test(only_what_is_asked_for_is_given),
        cmocka_unit_test(outside_its_temperatures_there_is_no_value),
        cmocka_unit_test(species_are_found_by_their_exact_name),
        cmocka_unit_test(the_check_names_the_first_fault),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

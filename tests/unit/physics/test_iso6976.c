#include "check.h"

#include <string.h>

#include "iso6976.h"

/* Two made-up components with busy constants and one that the standard does not know. */
static void make_table(dw_species_table *table)
{
    memset(table, 0, sizeof *table);
    table->count = 3;
    dw_species *s = table->species;
    s[0].molar_mass_kg_mol = 16.07e-3;
    s[0].atoms[DW_C] = 1.0;
    s[0].atoms[DW_H] = 4.0;
    s[0].iso =
        (dw_iso6976){true, {891270.0, 889930.0, 889410.0, 888970.0}, {0.0493, 0.0447, 0.0431}};
    s[1].molar_mass_kg_mol = 30.13e-3;
    s[1].atoms[DW_C] = 2.0;
    s[1].atoms[DW_H] = 6.0;
    s[1].iso = (dw_iso6976){
        true, {1563310.0, 1561170.0, 1560390.0, 1559730.0}, {-0.0131, -0.0117, -0.0109}};
    s[2].molar_mass_kg_mol = 17.03e-3;
}

static const double mixture[3] = {0.63, 0.37, 0.0};

static dw_iso6976_result solve(dw_iso6976_conditions conditions)
{
    dw_species_table table;
    make_table(&table);
    dw_iso6976_result r;
    assert_int_equal(dw_iso6976_from_moles(&table, mixture, &conditions, &r), DW_OK);
    return r;
}

/* Expected numbers: the equations of the header evaluated once in another language. */
static void real_gas_matches_hand_value(void **state)
{
    (void)state;
    const dw_iso6976_result r = solve((dw_iso6976_conditions){295.15, 280.15, 96300.0, true});
    assert_close(r.molar_mass_kg_mol, 21.2722e-3, 1e-12, 0.0);
    assert_close(r.compression_factor, 0.9994011704036397, 1e-12, 0.0);
    assert_close(r.hhv_j_mol, 1137464.04, 1e-12, 0.0);
    assert_close(r.lhv_j_mol, 1032856.032, 1e-12, 0.0);
    assert_close(r.hhv_j_m3, 47054300.78452213, 1e-12, 0.0);
    assert_close(r.lhv_j_m3, 42726905.36822247, 1e-12, 0.0);
    assert_close(r.relative_density, 0.7344904690026718, 1e-12, 0.0);
    assert_close(r.wobbe_gross_j_m3, 54904285.219844066, 1e-12, 0.0);
    assert_close(r.wobbe_net_j_m3, 49854958.20330671, 1e-12, 0.0);
}

static void ideal_gas_matches_hand_value(void **state)
{
    (void)state;
    const dw_iso6976_result r = solve((dw_iso6976_conditions){290.15, 291.15, 96300.0, false});
    assert_close(r.compression_factor, 1.0, 0.0, 0.0);
    assert_close(r.hhv_j_mol, 1138042.32, 1e-12, 0.0);
    assert_close(r.lhv_j_mol, 1032938.982, 1e-12, 0.0);
    assert_close(r.hhv_j_m3, 45272423.8606801, 1e-12, 0.0);
    assert_close(r.lhv_j_m3, 41091311.45081091, 1e-12, 0.0);
    assert_close(r.relative_density, 0.734398832264359, 1e-12, 0.0);
    assert_close(r.wobbe_gross_j_m3, 52828436.57320355, 1e-12, 0.0);
    assert_close(r.wobbe_net_j_m3, 47949492.33045784, 1e-12, 0.0);
}

/* At a tabulated temperature the tabulated constant itself comes out. */
static void grid_temperatures_give_the_table(void **state)
{
    (void)state;
    const double expected[4] = {891270.0, 889930.0, 889410.0, 888970.0};
    const double at_k[4] = {273.15, 288.15, 293.15, 298.15};
    dw_species_table table;
    make_table(&table);
    const double pure[3] = {1.0, 0.0, 0.0};
    for (int i = 0; i < 4; i++) {
        const dw_iso6976_conditions c = {at_k[i], 288.15, 101325.0, true};
        dw_iso6976_result r;
        assert_int_equal(dw_iso6976_from_moles(&table, pure, &c, &r), DW_OK);
        assert_close(r.hhv_j_mol, expected[i], 1e-15, 0.0);
        assert_close(r.compression_factor, 1.0 - 0.0447 * 0.0447, 1e-15, 0.0);
    }
}

static dw_status status_at(double t1_k, double t2_k, double p_pa)
{
    dw_species_table table;
    make_table(&table);
    const dw_iso6976_conditions c = {t1_k, t2_k, p_pa, true};
    dw_iso6976_result r = {1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0};
    const dw_status status = dw_iso6976_from_moles(&table, mixture, &c, &r);
    const bool all_nan = isnan(r.molar_mass_kg_mol) && isnan(r.compression_factor) &&
                         isnan(r.hhv_j_mol) && isnan(r.lhv_j_mol) && isnan(r.hhv_j_m3) &&
                         isnan(r.lhv_j_m3) && isnan(r.relative_density) &&
                         isnan(r.wobbe_gross_j_m3) && isnan(r.wobbe_net_j_m3);
    assert_int_equal(all_nan, status != DW_OK);
    return status;
}

static void refuses_conditions_outside_the_standard(void **state)
{
    (void)state;
    assert_int_equal(status_at(273.15, 273.15, 90.0e3), DW_OK);
    assert_int_equal(status_at(298.15, 293.15, 110.0e3), DW_OK);
    assert_int_equal(status_at(273.14, 288.15, 101325.0), DW_ERR_DOMAIN);
    assert_int_equal(status_at(298.16, 288.15, 101325.0), DW_ERR_DOMAIN);
    assert_int_equal(status_at(288.15, 273.14, 101325.0), DW_ERR_DOMAIN);
    assert_int_equal(status_at(288.15, 293.16, 101325.0), DW_ERR_DOMAIN);
    assert_int_equal(status_at(288.15, 288.15, 89.9e3), DW_ERR_DOMAIN);
    assert_int_equal(status_at(288.15, 288.15, 110.1e3), DW_ERR_DOMAIN);
    assert_int_equal(status_at(NAN, 288.15, 101325.0), DW_ERR_ARG);
    assert_int_equal(status_at(288.15, NAN, 101325.0), DW_ERR_ARG);
    assert_int_equal(status_at(288.15, 288.15, INFINITY), DW_ERR_ARG);
}

static dw_status status_of(double x0, double x1, double x2)
{
    dw_species_table table;
    make_table(&table);
    const double x[3] = {x0, x1, x2};
    const dw_iso6976_conditions c = {288.15, 288.15, 101325.0, true};
    dw_iso6976_result r;
    const dw_status status = dw_iso6976_from_moles(&table, x, &c, &r);
    if (status != DW_OK) assert_true(isnan(r.hhv_j_mol) && isnan(r.wobbe_net_j_m3));
    return status;
}

static void refuses_what_it_has_no_constants_for(void **state)
{
    (void)state;
    assert_int_equal(status_of(0.63, 0.37, 0.0), DW_OK);
    assert_int_equal(status_of(0.63, 0.36, 0.01), DW_ERR_DOMAIN);
    assert_int_equal(status_of(0.63, 0.36, 0.0), DW_ERR_DOMAIN);
    assert_int_equal(status_of(1.37, -0.37, 0.0), DW_ERR_DOMAIN);
    assert_int_equal(status_of(NAN, 0.37, 0.0), DW_ERR_ARG);

    dw_species_table table;
    make_table(&table);
    table.species[0].iso.summation_factor[1] = 0.9; /* Z = 0.68: far from a gas */
    const dw_iso6976_conditions c = {288.15, 288.15, 101325.0, true};
    dw_iso6976_result r;
    assert_int_equal(dw_iso6976_from_moles(&table, mixture, &c, &r), DW_ERR_DOMAIN);
    assert_true(isnan(r.compression_factor));
    /* 1 - (0.63 s)^2 with the second component's share left out: 0.9045 is a gas, 0.8955 is none. */
    table.species[1].iso.summation_factor[1] = 0.0;
    table.species[0].iso.summation_factor[1] = sqrt(0.0955) / 0.63;
    assert_int_equal(dw_iso6976_from_moles(&table, mixture, &c, &r), DW_OK);
    assert_close(r.compression_factor, 0.9045, 1e-12, 0.0);
    table.species[0].iso.summation_factor[1] = sqrt(0.1045) / 0.63;
    assert_int_equal(dw_iso6976_from_moles(&table, mixture, &c, &r), DW_ERR_DOMAIN);
    assert_int_equal(dw_iso6976_from_moles(NULL, mixture, &c, &r), DW_ERR_ARG);
    assert_int_equal(dw_iso6976_from_moles(&table, NULL, &c, &r), DW_ERR_ARG);
    assert_int_equal(dw_iso6976_from_moles(&table, mixture, NULL, &r), DW_ERR_ARG);
    assert_int_equal(dw_iso6976_from_moles(&table, mixture, &c, NULL), DW_ERR_ARG);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(real_gas_matches_hand_value),
        cmocka_unit_test(ideal_gas_matches_hand_value),
        cmocka_unit_test(grid_temperatures_give_the_table),
        cmocka_unit_test(refuses_conditions_outside_the_standard),
        cmocka_unit_test(refuses_what_it_has_no_constants_for),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

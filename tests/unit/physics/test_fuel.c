#include "check.h"

#include <string.h>

#include "constants.h"
#include "fuel_volume.h"

/* Made-up gases with a constant heat capacity, so that every answer is a sum on paper. */
enum { METHANE, MONOXIDE, OXYGEN, NITROGEN, ARGON, DIOXIDE, WATER, CARBON, COUNT };

static const struct {
    const char *name;
    double atoms[DW_ELEMENT_COUNT];
    double molar_mass_kg_mol, cp_r, h_298_j_mol;
} made_up[COUNT] = {
    {"CH4", {1, 4, 0, 0, 0}, 16.13e-3, 4.31, -74613.0},
    {"CO", {1, 0, 1, 0, 0}, 28.07e-3, 3.53, -110527.0},
    {"O2", {0, 0, 2, 0, 0}, 32.03e-3, 3.57, 11.0},
    {"N2", {0, 0, 0, 2, 0}, 28.05e-3, 3.49, 17.0},
    {"Ar", {0, 0, 0, 0, 1}, 39.91e-3, 2.51, 23.0},
    {"CO2", {1, 0, 2, 0, 0}, 44.03e-3, 4.47, -393521.0},
    {"H2O", {0, 2, 1, 0, 0}, 18.05e-3, 4.03, -241819.0},
    {"C(gr)", {1, 0, 0, 0, 0}, 12.07e-3, 1.03, 3.0},
};

static void make_table(dw_species_table *table)
{
    memset(table, 0, sizeof *table);
    table->count = COUNT;
    for (int i = 0; i < COUNT; i++) {
        dw_species *s = &table->species[i];
        (void)snprintf(s->name, sizeof s->name, "%s", made_up[i].name);
        s->condensed = i == CARBON;
        s->molar_mass_kg_mol = made_up[i].molar_mass_kg_mol;
        memcpy(s->atoms, made_up[i].atoms, sizeof s->atoms);
        s->range_count = 1;
        s->range[0].t_low_k = 200.0;
        s->range[0].t_high_k = 6000.0;
        s->range[0].coeff[2] = made_up[i].cp_r;
        /* h/R = a3 T + b1 */
        s->range[0].coeff[7] =
            made_up[i].h_298_j_mol / DW_R_NASA_J_MOL_K - made_up[i].cp_r * DW_T_REFERENCE_K;
    }
}

static const double mixture[COUNT] = {0.61, 0.17, 0.08, 0.09, 0.05, 0.0, 0.0, 0.0};

static void heating_values_match_hand_sum(void **state)
{
    (void)state;
    dw_species_table table;
    make_table(&table);
    dw_fuel_properties p;
    assert_int_equal(dw_fuel_properties_from_moles(&table, mixture, &p), DW_OK);
    /* C 0.78, H 2.44, O 0.33, N 0.18 mol: O2 needed 0.78 + 0.61 - 0.165 = 1.225.
     * In:  0.61(-74613) + 0.17(-110527) + 0.08(11) + 0.09(17) + 0.05(23) + 1.225(11)
     *      = -64286.485
     * Out: 0.78(-393521) + 1.22(-241819) + 0.09(17) + 0.05(23) = -601962.88 */
    assert_close(p.oxygen_mol_mol, 1.225, 1e-14, 0.0);
    assert_close(p.lhv_j_mol, -64286.485 + 601962.88, 1e-12, 0.0);
    assert_close(p.hhv_j_mol, -64286.485 + 601962.88 + 1.22 * 44004.0, 1e-12, 0.0);
    /* 0.61*16.13 + 0.17*28.07 + 0.08*32.03 + 0.09*28.05 + 0.05*39.91 = 21.6936 g/mol */
    assert_close(p.molar_mass_kg_mol, 21.6936e-3, 1e-12, 0.0);
    assert_close(p.lhv_j_kg, p.lhv_j_mol / 21.6936e-3, 1e-12, 0.0);
    assert_close(p.hhv_j_kg, p.hhv_j_mol / 21.6936e-3, 1e-12, 0.0);
}

static void products_have_no_heating_value(void **state)
{
    (void)state;
    dw_species_table table;
    make_table(&table);
    double x[COUNT] = {0.0};
    x[DIOXIDE] = 0.37;
    x[WATER] = 0.41;
    x[NITROGEN] = 0.22;
    dw_fuel_properties p;
    assert_int_equal(dw_fuel_properties_from_moles(&table, x, &p), DW_OK);
    assert_close(p.lhv_j_mol, 0.0, 0.0, 1e-9);
    assert_close(p.hhv_j_mol, 0.41 * 44004.0, 1e-12, 0.0); /* steam condenses */
    assert_close(p.oxygen_mol_mol, 0.0, 0.0, 1e-15);
}

static void volumes_follow_metering_conditions(void **state)
{
    (void)state;
    const dw_fuel_properties p = {21.6936e-3, 591357.0, 537676.0, 0.0, 0.0, 1.225};
    dw_fuel_volumetric v;
    assert_int_equal(dw_fuel_volumetric_at(&p, 28.97e-3, 287.3, 98700.0, &v), DW_OK);
    /* d = 21.6936/28.97 */
    const double mol_m3 = 98700.0 / (8.314462618 * 287.3);
    assert_close(v.relative_density, 0.748829823956, 1e-11, 0.0);
    assert_close(v.hhv_j_m3, 591357.0 * mol_m3, 1e-14, 0.0);
    assert_close(v.lhv_j_m3, 537676.0 * mol_m3, 1e-14, 0.0);
    assert_close(v.wobbe_gross_j_m3, 591357.0 * mol_m3 / 0.865349538600, 1e-11, 0.0);
    assert_close(v.wobbe_net_j_m3, 537676.0 * mol_m3 / 0.865349538600, 1e-11, 0.0);
}

static void air_need_is_oxygen_over_share(void **state)
{
    (void)state;
    assert_close(dw_fuel_stoichiometric_air_mol_mol(1.225, 0.2057), 5.955274671852, 1e-12, 0.0);
    assert_close(dw_fuel_stoichiometric_air_mol_mol(1.225, 1.0), 1.225, 1e-15, 0.0);
    assert_true(isnan(dw_fuel_stoichiometric_air_mol_mol(0.0, 0.2057)));
    assert_true(isnan(dw_fuel_stoichiometric_air_mol_mol(-0.3, 0.2057)));
    assert_true(isnan(dw_fuel_stoichiometric_air_mol_mol(1.225, 0.0)));
    assert_true(isnan(dw_fuel_stoichiometric_air_mol_mol(1.225, 1.01)));
    assert_true(isnan(dw_fuel_stoichiometric_air_mol_mol(NAN, 0.2057)));
}

static void heat_capacity_ratio_matches_hand_value(void **state)
{
    (void)state;
    dw_species_table table;
    make_table(&table);
    /* cp/R = 0.61*4.31 + 0.17*3.53 + 0.08*3.57 + 0.09*3.49 + 0.05*2.51 = 3.9544 */
    assert_close(dw_heat_capacity_ratio(&table, mixture, 291.7), 3.9544 / 2.9544, 1e-12, 0.0);
    assert_true(isnan(dw_heat_capacity_ratio(&table, mixture, 199.0)));
    assert_true(isnan(dw_heat_capacity_ratio(&table, mixture, 6001.0)));
}

/* Calls with one fraction replaced, and checks that every output is NaN. */
static dw_status status_with(int index, double fraction)
{
    dw_species_table table;
    make_table(&table);
    double x[COUNT];
    memcpy(x, mixture, sizeof x);
    x[index] = fraction;
    dw_fuel_properties p = {1.0, 1.0, 1.0, 1.0, 1.0, 1.0};
    const dw_status status = dw_fuel_properties_from_moles(&table, x, &p);
    assert_true(isnan(p.molar_mass_kg_mol) && isnan(p.hhv_j_mol) && isnan(p.lhv_j_mol) &&
                isnan(p.hhv_j_kg) && isnan(p.lhv_j_kg) && isnan(p.oxygen_mol_mol));
    return status;
}

static void refuses_what_is_no_mixture(void **state)
{
    (void)state;
    assert_int_equal(status_with(METHANE, 0.62), DW_ERR_DOMAIN);
    assert_int_equal(status_with(METHANE, NAN), DW_ERR_ARG);
    assert_int_equal(status_with(METHANE, -0.61), DW_ERR_DOMAIN);
    assert_int_equal(status_with(CARBON, 1.0e-9), DW_ERR_DOMAIN);

    dw_species_table table;
    make_table(&table);
    dw_fuel_properties p;
    assert_int_equal(dw_fuel_properties_from_moles(NULL, mixture, &p), DW_ERR_ARG);
    assert_int_equal(dw_fuel_properties_from_moles(&table, NULL, &p), DW_ERR_ARG);
    assert_int_equal(dw_fuel_properties_from_moles(&table, mixture, NULL), DW_ERR_ARG);
    for (int i = OXYGEN; i <= WATER; i++) {
        if (i == ARGON) continue;
        make_table(&table);
        table.species[i].name[0] = '?';
        assert_int_equal(dw_fuel_properties_from_moles(&table, mixture, &p), DW_ERR_DOMAIN);
    }
}

static void refuses_conditions_without_meaning(void **state)
{
    (void)state;
    const dw_fuel_properties p = {21.6936e-3, 591357.0, 537676.0, 0.0, 0.0, 1.225};
    dw_fuel_volumetric v = {1.0, 1.0, 1.0, 1.0, 1.0};
    assert_int_equal(dw_fuel_volumetric_at(&p, 0.0, 287.3, 98700.0, &v), DW_ERR_DOMAIN);
    assert_true(isnan(v.hhv_j_m3) && isnan(v.lhv_j_m3) && isnan(v.relative_density) &&
                isnan(v.wobbe_gross_j_m3) && isnan(v.wobbe_net_j_m3));
    assert_int_equal(dw_fuel_volumetric_at(&p, 28.97e-3, -1.0, 98700.0, &v), DW_ERR_DOMAIN);
    assert_int_equal(dw_fuel_volumetric_at(&p, 28.97e-3, 287.3, 0.0, &v), DW_ERR_DOMAIN);
    assert_int_equal(dw_fuel_volumetric_at(&p, 28.97e-3, NAN, 98700.0, &v), DW_ERR_ARG);
    assert_int_equal(dw_fuel_volumetric_at(&p, INFINITY, 287.3, 98700.0, &v), DW_ERR_ARG);
    assert_int_equal(dw_fuel_volumetric_at(&p, 28.97e-3, 287.3, NAN, &v), DW_ERR_ARG);
    assert_int_equal(dw_fuel_volumetric_at(NULL, 28.97e-3, 287.3, 98700.0, &v), DW_ERR_ARG);
    assert_int_equal(dw_fuel_volumetric_at(&p, 28.97e-3, 287.3, 98700.0, NULL), DW_ERR_ARG);
    for (int i = 0; i < 3; i++) {
        dw_fuel_properties hole = p;
        *(i == 0 ? &hole.molar_mass_kg_mol : i == 1 ? &hole.hhv_j_mol : &hole.lhv_j_mol) = NAN;
        assert_int_equal(dw_fuel_volumetric_at(&hole, 28.97e-3, 287.3, 98700.0, &v), DW_ERR_ARG);
    }
    dw_fuel_properties weightless = p;
    weightless.molar_mass_kg_mol = 0.0;
    assert_int_equal(dw_fuel_volumetric_at(&weightless, 28.97e-3, 287.3, 98700.0, &v),
                     DW_ERR_DOMAIN);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(heating_values_match_hand_sum),
        cmocka_unit_test(products_have_no_heating_value),
        cmocka_unit_test(volumes_follow_metering_conditions),
        cmocka_unit_test(air_need_is_oxygen_over_share),
        cmocka_unit_test(heat_capacity_ratio_matches_hand_value),
        cmocka_unit_test(refuses_what_is_no_mixture),
        cmocka_unit_test(refuses_conditions_without_meaning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

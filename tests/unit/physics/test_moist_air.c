/** @file test_moist_air.c  Unit tests of physics/moist_air. */

#include "check.h"

#include "constants.h"
#include "moist_air.h"

static void dry_air_sums_to_one(void **state)
{
    (void)state;
    assert_close(DW_DRY_AIR_X_N2 + DW_DRY_AIR_X_O2 + DW_DRY_AIR_X_AR + DW_DRY_AIR_X_CO2, 1.0, 0.0,
                 1e-15);
    dw_moist_air air;
    assert_int_equal(dw_moist_air_from_humidity(291.0, 98000.0, 0.0, NULL, &air), DW_OK);
    assert_close(air.x_h2o, 0.0, 0.0, 0.0);
    assert_close(air.x_o2, 0.209476, 0.0, 0.0);
    /* 0.78084 28.0134 + 0.209476 31.9988 + 0.009365 39.948 + 0.000319 44.0095 g/mol */
    assert_close(air.molar_mass_kg_mol, 28.9651159353e-3, 1e-12, 0.0);
}

static void matches_hand_value(void **state)
{
    (void)state;
    /* 297.3 K, 93210 Pa, 43 %: psv 3012.6372981 Pa, f 1.0038733986, x = 0.43 f psv/p */
    assert_close(dw_water_saturation_pressure_pa(297.3), 3012.6372981157488, 1e-12, 0.0);
    assert_close(dw_water_enhancement_factor(297.3, 93210.0), 1.0038733986, 1e-12, 0.0);
    dw_moist_air air;
    assert_int_equal(dw_moist_air_from_humidity(297.3, 93210.0, 0.43, NULL, &air), DW_OK);
    assert_close(air.x_h2o, 0.013951848198473215, 1e-12, 0.0);
    assert_close(air.x_n2, (1.0 - 0.013951848198473215) * 0.78084, 1e-13, 0.0);
    assert_close(air.x_o2, (1.0 - 0.013951848198473215) * 0.209476, 1e-13, 0.0);
    assert_close(air.x_ar, (1.0 - 0.013951848198473215) * 0.009365, 1e-13, 0.0);
    assert_close(air.x_co2, (1.0 - 0.013951848198473215) * 0.000319, 1e-13, 0.0);
    assert_close(air.x_h2o + air.x_n2 + air.x_o2 + air.x_ar + air.x_co2, 1.0, 0.0, 1e-15);
    assert_close(air.molar_mass_kg_mol, 28.812345486532507e-3, 1e-12, 0.0);
    assert_close(dw_ideal_gas_density_kg_m3(air.molar_mass_kg_mol, 297.3, 93210.0),
                 1.086455711728253, 1e-12, 0.0);
}

static void marks_what_lies_outside_the_published_range(void **state)
{
    (void)state;
    const struct {
        double temperature_k, pressure_pa;
        bool inside;
    } cases[] = {
        {288.15, 101325.0, true},  {300.15, 101325.0, true}, {288.10, 101325.0, false},
        {300.20, 101325.0, false}, {294.0, 60000.0, true},   {294.0, 110000.0, true},
        {294.0, 59990.0, false},   {294.0, 110010.0, false},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        dw_moist_air air;
        assert_int_equal(
            dw_moist_air_from_humidity(cases[i].temperature_k, cases[i].pressure_pa, 0.5, NULL, &air),
            DW_OK);
        assert_int_equal(air.in_published_range, cases[i].inside);
    }
}

static void refuses(double temperature_k, double pressure_pa, double humidity, dw_status expected)
{
    dw_moist_air air = {0};
    assert_int_equal(dw_moist_air_from_humidity(temperature_k, pressure_pa, humidity, NULL, &air),
                     expected);
    assert_true(isnan(air.x_h2o) && isnan(air.x_n2) && isnan(air.x_o2) && isnan(air.x_ar) &&
                isnan(air.x_co2) && isnan(air.molar_mass_kg_mol));
}

static void refuses_what_has_no_meaning(void **state)
{
    (void)state;
    refuses(294.0, 98000.0, -0.01, DW_ERR_DOMAIN);
    refuses(294.0, 98000.0, 1.01, DW_ERR_DOMAIN);
    refuses(294.0, 0.0, 0.5, DW_ERR_DOMAIN);
    refuses(294.0, -5.0, 0.5, DW_ERR_DOMAIN);
    refuses(230.0, 98000.0, 0.5, DW_ERR_DOMAIN);
    refuses(374.0, 98000.0, 0.5, DW_ERR_DOMAIN);
    refuses(NAN, 98000.0, 0.5, DW_ERR_ARG);
    refuses(294.0, INFINITY, 0.5, DW_ERR_ARG);
    refuses(294.0, 98000.0, NAN, DW_ERR_ARG);
    /* Vapour pressure 89 kPa at 96.6 degC: the air is gone at 80 kPa, not at 98 kPa. */
    refuses(369.75, 80000.0, 1.0, DW_ERR_DOMAIN);
    dw_moist_air air;
    assert_int_equal(dw_moist_air_from_humidity(369.75, 98000.0, 1.0, NULL, &air), DW_OK);
    assert_int_equal(dw_moist_air_from_humidity(294.0, 98000.0, 0.5, NULL, NULL), DW_ERR_ARG);
    assert_true(isnan(dw_water_saturation_pressure_pa(NAN)));
    assert_true(isnan(dw_water_saturation_pressure_pa(233.0)));
    assert_true(isnan(dw_water_saturation_pressure_pa(374.0)));
}

static void humid_air_is_lighter(void **state)
{
    (void)state;
    double last = INFINITY;
    for (int i = 0; i <= 10; i++) {
        dw_moist_air air;
        assert_int_equal(dw_moist_air_from_humidity(303.0, 101325.0, i / 10.0, NULL, &air), DW_OK);
        assert_true(air.molar_mass_kg_mol < last);
        last = air.molar_mass_kg_mol;
    }
}

static void pressure_by_height_matches_hand_value(void **state)
{
    (void)state;
    /* 101325 (1 - 0.0065 1387.3/288.15)^5.25588 */
    assert_close(dw_atmosphere_pressure_pa(1387.3, "", NULL), 85731.94587405086, 1e-13, 0.0);
    assert_close(dw_atmosphere_temperature_k(1387.3), 279.13255, 1e-14, 0.0);
    assert_close(dw_atmosphere_pressure_pa(0.0, "", NULL), 101325.0, 0.0, 0.0);
}

static void slope_is_the_weight_of_the_air(void **state)
{
    (void)state;
    const double heights[] = {-431.0, 0.0, 812.0, 2950.0, 8300.0};
    for (size_t i = 0; i < sizeof heights / sizeof heights[0]; i++) {
        const double h = heights[i];
        const double slope =
            (dw_atmosphere_pressure_pa(h + 1.0, "", NULL) - dw_atmosphere_pressure_pa(h - 1.0, "", NULL)) / 2.0;
        const double rho =
            dw_atmosphere_pressure_pa(h, "", NULL) * 28.9644e-3 / (8.31432 * dw_atmosphere_temperature_k(h));
        assert_close(slope, -rho * DW_G_M_S2, 1e-5, 0.0);
    }
}

static void refuses_heights_outside_the_layer(void **state)
{
    (void)state;
    assert_true(isfinite(dw_atmosphere_pressure_pa(-2000.0, "", NULL)));
    assert_true(isfinite(dw_atmosphere_pressure_pa(11000.0, "", NULL)));
    assert_true(isnan(dw_atmosphere_pressure_pa(-2001.0, "", NULL)));
    assert_true(isnan(dw_atmosphere_pressure_pa(11001.0, "", NULL)));
    assert_true(isnan(dw_atmosphere_temperature_k(11001.0)));
    assert_true(isnan(dw_atmosphere_pressure_pa(NAN, "", NULL)));
    assert_true(isnan(dw_atmosphere_pressure_pa(INFINITY, "", NULL)));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(dry_air_sums_to_one),
        cmocka_unit_test(matches_hand_value),
        cmocka_unit_test(marks_what_lies_outside_the_published_range),
        cmocka_unit_test(refuses_what_has_no_meaning),
        cmocka_unit_test(humid_air_is_lighter),
        cmocka_unit_test(pressure_by_height_matches_hand_value),
        cmocka_unit_test(slope_is_the_weight_of_the_air),
        cmocka_unit_test(refuses_heights_outside_the_layer),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

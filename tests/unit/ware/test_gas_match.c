/* The mixture of fuel and air that goes with an oxygen pressure, and the way to another temperature. */

#include <string.h>

#include "check.h"
#include "constants.h"
#include "gas_match.h"
#include "kit.h"
#include "oxygen.h"

static dw_match_mixtures mixtures;

static void use(const char *species)
{
    static dw_fuel fuel;
    const int i = dw_species_find(&kit_data()->species, species);
    assert_true(i >= 0);
    fuel = (dw_fuel){.x = {0.0}};
    fuel.x[i] = 1.0;
    assert_int_equal(dw_match_mixtures_init(&mixtures, kit_model(), &fuel, DW_ATM_PA), DW_OK);
}

static dw_matched_gas match(double emf_v, double celsius)
{
    dw_matched_gas gas;
    const double t = celsius + 273.15;
    assert_int_equal(dw_match_oxygen(&mixtures, t, dw_probe_log10_po2_bar(emf_v, t, DW_ATM_PA),
                                     &gas),
                     DW_OK);
    assert_int_equal(dw_match_composition(&mixtures, t, &gas), DW_OK);
    return gas;
}

/* The rows of tests/reference/ladder.csv (kiln-gas-checks, worked out outside this program): air ratio
 * in, millivolts out. Here the other way round; they are given to 0.05 mV. */
static void volts_give_the_air_ratio_back(void **state)
{
    (void)state;
    static const struct {
        const char *fuel;
        double celsius, emf_v, air_ratio;
    } row[] = {{"CH4", 1200.0, 0.7646, 0.70},  {"CH4", 1200.0, 0.6681, 0.90},
               {"CH4", 1200.0, 0.6185, 0.95},  {"CH4", 1200.0, 0.1000, 1.05},
               {"CH4", 1200.0, 0.0793, 1.10},  {"CH4", 1000.0, 0.8107, 0.80},
               {"C3H8", 1200.0, 0.6675, 0.90}, {"C3H8", 1300.0, 0.6184, 0.90}};
    for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
        use(row[i].fuel);
        const dw_matched_gas gas = match(row[i].emf_v, row[i].celsius);
        assert_int_equal(gas.found, DW_MATCH_GAS);
        assert_close(1.0 / gas.equivalence_ratio, row[i].air_ratio, 0.0, 1e-3);
    }
}

/* One gas, two thermometers: 763.1 mV at 1000 degC and 668.1 mV at 1200 degC are the same methane at an air
 * ratio of 0.9 (the same rows). The oxygen pressures differ by two decades. */
static void the_mixture_is_kept_and_not_the_oxygen(void **state)
{
    (void)state;
    use("CH4");
    const dw_matched_gas gas = match(0.7631, 1000.0);
    double log10_po2;
    assert_int_equal(dw_match_oxygen_at(&mixtures, &gas, 1473.15, &log10_po2), DW_OK);
    assert_close(dw_probe_emf_v(log10_po2, 1473.15, DW_ATM_PA), 0.6681, 0.0, 2e-4);
    assert_true(log10_po2 - dw_probe_log10_po2_bar(0.7631, 1273.15, DW_ATM_PA) > 2.0);
}

/* Left-over oxygen is the same share at every temperature: C3H8 + 5 lambda (O2 + 3.774 N2 and Ar) at
 * lambda 1.6 is 3 CO2 + 4 H2O + 3 O2 + 30.19, so 3/40.19 wet and 3/36.19 dry. */
static void lean_gas_has_the_oxygen_left_over(void **state)
{
    (void)state;
    use("C3H8");
    const double wet = 3.0 / 40.19, dry = 3.0 / 36.19;
    for (double celsius = 700.0; celsius < 1150.0; celsius += 200.0) {
        const double t = celsius + 273.15;
        const double emf_v = dw_probe_emf_v(log10(wet * 1.01325), t, DW_ATM_PA);
        const dw_matched_gas gas = match(emf_v, celsius);
        assert_close(gas.equivalence_ratio, 1.0 / 1.6, 2e-3, 0.0);
        assert_close(gas.o2_wet, wet, 3e-3, 0.0);
        assert_close(gas.o2_dry, dry, 3e-3, 0.0);
        assert_true(gas.co_dry < 1e-5);
        assert_string_equal(kit_data()->band[gas.band].word, "oxidizing");
    }
}

static void what_no_mixture_has_is_said(void **state)
{
    (void)state;
    use("C3H8");
    dw_matched_gas gas = match(0.0, 1200.0);
    assert_int_equal(gas.found, DW_MATCH_AIR);
    assert_close(gas.o2_dry, 0.2095, 1e-12, 0.0);   /* the air of the probe's other side */
    assert_int_equal(gas.band, 0);
    gas = match(-0.05, 1200.0);
    assert_int_equal(gas.found, DW_MATCH_ABOVE_AIR);
    assert_true(isnan(gas.o2_dry) && isnan(gas.equivalence_ratio));
    assert_int_equal(gas.band, -1);
    gas = match(1.3, 1200.0);
    assert_int_equal(gas.found, DW_MATCH_TOO_RICH);
    assert_true(isnan(gas.co_dry));
    double log10_po2;
    assert_int_equal(dw_match_oxygen_at(&mixtures, &gas, 1473.15, &log10_po2), DW_ERR_ARG);
    assert_int_equal(dw_match_oxygen(&mixtures, 100.0, -8.0, &gas), DW_ERR_DOMAIN);
    assert_int_equal(dw_match_oxygen(&mixtures, 1473.15, NAN, &gas), DW_ERR_ARG);
    dw_fuel nothing = {.x = {0.0}};
    nothing.x[dw_species_find(&kit_data()->species, "N2")] = 1.0;
    assert_int_equal(dw_match_mixtures_init(&mixtures, kit_model(), &nothing, DW_ATM_PA),
                     DW_ERR_DOMAIN);
}

/* There and back over everything that a sensor shows, the step at 1 included. */
static void oxygen_comes_back(void **state)
{
    (void)state;
    use("n-C4H10");
    double before = 0.0;
    for (double emf_v = 0.01; emf_v < 0.9; emf_v += 0.01) {
        const dw_matched_gas gas = match(emf_v, 850.0);
        double log10_po2;
        assert_int_equal(gas.found, DW_MATCH_GAS);
        assert_true(gas.equivalence_ratio >= before);
        before = gas.equivalence_ratio;
        assert_int_equal(dw_match_oxygen_at(&mixtures, &gas, 1123.15, &log10_po2), DW_OK);
        assert_close(dw_probe_emf_v(log10_po2, 1123.15, DW_ATM_PA), emf_v, 0.0, 1e-7);
    }
    assert_true(before > 1.05);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(volts_give_the_air_ratio_back),
        cmocka_unit_test(the_mixture_is_kept_and_not_the_oxygen),
        cmocka_unit_test(lean_gas_has_the_oxygen_left_over),
        cmocka_unit_test(what_no_mixture_has_is_said),
        cmocka_unit_test(oxygen_comes_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

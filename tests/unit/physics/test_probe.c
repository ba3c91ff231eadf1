/** @file test_probe.c  Unit tests of physics/probe. */

#include "check.h"

#include "constants.h"
#include "probe.h"

static void matches_hand_value(void **state)
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

static void refuses_what_has_no_meaning(void **state)
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
        cmocka_unit_test(matches_hand_value),
        cmocka_unit_test(air_reads_zero_at_any_pressure),
        cmocka_unit_test(inverse_gives_the_oxygen_back),
        cmocka_unit_test(refuses_what_has_no_meaning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

/* Ferrous iron in melts: the formulas by hand, their direction, what is refused. */

#include "check.h"
#include "glaze_iron.h"

/* Mole fractions, busy on purpose; sum 1. */
static const dw_melt melt = {{[DW_MELT_SIO2] = 0.6713, [DW_MELT_TIO2] = 0.0037,
                              [DW_MELT_AL2O3] = 0.0871, [DW_MELT_FEO] = 0.0219,
                              [DW_MELT_MNO] = 0.0011, [DW_MELT_MGO] = 0.0293,
                              [DW_MELT_CAO] = 0.1317, [DW_MELT_NA2O] = 0.0187,
                              [DW_MELT_K2O] = 0.0321, [DW_MELT_P2O5] = 0.0031}};

static void kress_matches_hand_value(void **state)
{
    (void)state;
    const double t = 1541.3, log_o2 = -6.37, p = 98700.0;
    const double low = 0.196 * log_o2 * log(10.0) + 11492.0 / t - 6.675 - 2.243 * 0.0871 -
                       1.828 * 0.0219 + 3.201 * 0.1317 + 5.854 * 0.0187 + 6.215 * 0.0321;
    const double more = -3.36 * (1.0 - 1673.0 / t - log(t / 1673.0)) - 7.01e-7 * p / t -
                        1.54e-10 * (t - 1673.0) * p / t + 3.85e-17 * p * p / t;
    assert_close(dw_kress_ferric_ratio(&melt, t, log_o2, p), exp(low + more), 1e-12, 0.0);
    /* The pressure terms count where pressures are high: -7.01e-7 x 2e9/1541.3 - ... */
    const double high = -7.01e-7 * 2e9 / t - 1.54e-10 * (t - 1673.0) * 2e9 / t +
                        3.85e-17 * 4e18 / t;
    assert_close(dw_kress_ferric_ratio(&melt, t, log_o2, 2e9) /
                     dw_kress_ferric_ratio(&melt, t, log_o2, 0.0),
                 exp(high), 1e-12, 0.0);
}

static void borisov_matches_hand_value(void **state)
{
    (void)state;
    const double t = 1541.3;
    const double log_ratio = 0.207 * -6.37 + 4633.3 / t - 0.445 * 0.6713 - 0.900 * 0.0037 +
                             1.532 * 0.0293 + 0.314 * 0.1317 + 2.030 * 0.0187 + 3.355 * 0.0321 -
                             4.851 * 0.0031 - 3.081 * 0.6713 * 0.0871 - 4.370 * 0.6713 * 0.0293 -
                             1.852;
    assert_close(log10(dw_borisov_ferric_ratio(&melt, t, -6.37)), log_ratio, 1e-12, 0.0);
}

static void shares_follow_from_the_ratios(void **state)
{
    (void)state;
    dw_glaze_iron iron;
    assert_int_equal(dw_glaze_iron_at(&melt, 1541.3, -6.37, 98700.0, &iron), DW_OK);
    assert_close(iron.kress_share,
                 1.0 / (1.0 + 2.0 * dw_kress_ferric_ratio(&melt, 1541.3, -6.37, 98700.0)), 1e-14,
                 0.0);
    assert_close(iron.borisov_share,
                 1.0 / (1.0 + dw_borisov_ferric_ratio(&melt, 1541.3, -6.37)), 1e-14, 0.0);
    assert_close(iron.low_share, fmin(iron.kress_share, iron.borisov_share) - 0.05, 1e-14, 0.0);
    assert_close(iron.high_share, fmax(iron.kress_share, iron.borisov_share) + 0.05, 1e-14, 0.0);
    /* Near the ends the spread stays within all and nothing. */
    assert_int_equal(dw_glaze_iron_at(&melt, 1541.3, -14.0, 98700.0, &iron), DW_OK);
    assert_close(iron.high_share, 1.0, 0.0, 0.0);
    assert_int_equal(dw_glaze_iron_at(&melt, 1541.3, 4.0, 98700.0, &iron), DW_OK);
    assert_close(iron.low_share, 0.0, 0.0, 0.0);
}

static void less_oxygen_and_more_heat_make_ferrous_iron(void **state)
{
    (void)state;
    double before_kress = -1.0, before_borisov = -1.0;
    for (double x = -0.5; x > -12.0; x -= 0.7) {
        dw_glaze_iron iron;
        assert_int_equal(dw_glaze_iron_at(&melt, 1550.0, x, 1e5, &iron), DW_OK);
        assert_true(iron.kress_share > before_kress && iron.borisov_share > before_borisov);
        before_kress = iron.kress_share;
        before_borisov = iron.borisov_share;
    }
    dw_glaze_iron cool, hot;
    assert_int_equal(dw_glaze_iron_at(&melt, 1480.0, -7.0, 1e5, &cool), DW_OK);
    assert_int_equal(dw_glaze_iron_at(&melt, 1620.0, -7.0, 1e5, &hot), DW_OK);
    assert_true(hot.kress_share > cool.kress_share && hot.borisov_share > cool.borisov_share);
}

static void weights_become_mole_fractions(void **state)
{
    (void)state;
    double mass[DW_MELT_OXIDE_COUNT] = {0.0};
    mass[DW_MELT_SIO2] = 3.0 * 60.084;
    mass[DW_MELT_AL2O3] = 0.5 * 101.961;
    mass[DW_MELT_FEO] = 0.25 * 71.844;
    mass[DW_MELT_CAO] = 1.0 * 56.077;
    dw_melt out;
    assert_int_equal(dw_melt_from_mass(mass, &out), DW_OK);
    assert_close(out.x[DW_MELT_SIO2], 3.0 / 4.75, 1e-12, 0.0);
    assert_close(out.x[DW_MELT_AL2O3], 0.5 / 4.75, 1e-12, 0.0);
    assert_close(out.x[DW_MELT_FEO], 0.25 / 4.75, 1e-12, 0.0);
    assert_close(out.x[DW_MELT_CAO], 1.0 / 4.75, 1e-12, 0.0);
    assert_close(DW_FEO_PER_FE2O3, 0.89981, 0.0, 1e-5);
    /* A mole of each oxide: a tenth each. */
    static const double mole_g[DW_MELT_OXIDE_COUNT] = {60.084, 79.866, 101.961, 71.844, 70.937,
                                                       40.304, 56.077, 61.979,  94.196, 141.944};
    assert_int_equal(dw_melt_from_mass(mole_g, &out), DW_OK);
    for (int i = 0; i < DW_MELT_OXIDE_COUNT; i++) assert_close(out.x[i], 0.1, 1e-12, 0.0);
    assert_string_equal(dw_melt_oxide_name(DW_MELT_K2O), "K2O");
}

static void refuses_what_has_no_meaning(void **state)
{
    (void)state;
    dw_glaze_iron iron;
    assert_int_equal(dw_glaze_iron_at(&melt, 1472.0, -7.0, 1e5, &iron), DW_ERR_DOMAIN);
    assert_true(isnan(iron.kress_share) && isnan(iron.high_share));
    assert_int_equal(dw_glaze_iron_at(&melt, 1474.0, -7.0, 1e5, &iron), DW_OK);
    assert_int_equal(dw_glaze_iron_at(&melt, 1904.0, -7.0, 1e5, &iron), DW_ERR_DOMAIN);
    assert_int_equal(dw_glaze_iron_at(&melt, 1902.0, -7.0, 1e5, &iron), DW_OK);
    assert_int_equal(dw_glaze_iron_at(&melt, NAN, -7.0, 1e5, &iron), DW_ERR_ARG);
    assert_int_equal(dw_glaze_iron_at(&melt, 1500.0, -7.0, -1.0, &iron), DW_ERR_DOMAIN);
    assert_int_equal(dw_glaze_iron_at(NULL, 1500.0, -7.0, 1e5, &iron), DW_ERR_ARG);
    assert_int_equal(dw_glaze_iron_at(&melt, 1500.0, -7.0, 1e5, NULL), DW_ERR_ARG);
    dw_melt without = melt;
    without.x[DW_MELT_FEO] = 0.0;
    assert_int_equal(dw_glaze_iron_at(&without, 1500.0, -7.0, 1e5, &iron), DW_ERR_DOMAIN);
    assert_true(isnan(dw_kress_ferric_ratio(&melt, -1.0, -7.0, 1e5)));
    assert_true(isnan(dw_kress_ferric_ratio(&melt, 1500.0, -7.0, -1.0)));
    assert_true(isnan(dw_borisov_ferric_ratio(NULL, 1500.0, -7.0)));
    double mass[DW_MELT_OXIDE_COUNT] = {0.0};
    dw_melt out;
    assert_int_equal(dw_melt_from_mass(mass, &out), DW_ERR_DOMAIN);
    mass[0] = -1.0;
    assert_int_equal(dw_melt_from_mass(mass, &out), DW_ERR_DOMAIN);
    mass[0] = NAN;
    assert_int_equal(dw_melt_from_mass(mass, &out), DW_ERR_ARG);
    assert_true(isnan(out.x[0]));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(kress_matches_hand_value),
        cmocka_unit_test(borisov_matches_hand_value),
        cmocka_unit_test(shares_follow_from_the_ratios),
        cmocka_unit_test(less_oxygen_and_more_heat_make_ferrous_iron),
        cmocka_unit_test(weights_become_mole_fractions),
        cmocka_unit_test(refuses_what_has_no_meaning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

/* The ends of the ranges of the laws of rooms, oxides, melts, mixtures and burners: the last value that is
 * taken and the first that is not, each pointer and each number that is missing, alone. */
#include "check.h"

#include <float.h>
#include <string.h>

#include "damper.h"
#include "flame.h"
#include "glaze_iron.h"
#include "injector.h"
#include "iso6976.h"
#include "kit.h"
#include "unmixedness.h"
#include "oxide.h"
#include "room_air.h"

static void every_number_of_a_room_is_finite(void **state)
{
    (void)state;
    const dw_room_air sound = {41.0, 0.03, 2e-6, 3.0};
    assert_int_equal(dw_room_air_check(&sound), DW_OK);
    for (int i = 0; i < 4; i++) {
        dw_room_air room = sound;
        double *const field[] = {&room.volume_m3, &room.flow_m3_s, &room.source_m3_s,
                                 &room.outside_ppm};
        *field[i] = INFINITY;
        assert_int_equal(dw_room_air_check(&room), DW_ERR_ARG);
        *field[i] = 0.0;
        assert_int_equal(dw_room_air_check(&room), i == 0 ? DW_ERR_DOMAIN : DW_OK);
        *field[i] = -1e-9;
        assert_int_equal(dw_room_air_check(&room), DW_ERR_DOMAIN);
    }
}

static void rooms_after_very_long(void **state)
{
    (void)state;
    /* Aired without a source: outside air. A source in a closed room: without end. Neither: as it is. */
    const dw_room_air aired = {41.0, 0.03, 0.0, 3.0}, filled = {41.0, 0.0, 2e-6, 3.0},
                      sealed = {41.0, 0.0, 0.0, 3.0};
    assert_close(dw_room_air_ppm(&aired, 250.0, INFINITY), 3.0, 1e-15, 0.0);
    assert_true(isinf(dw_room_air_ppm(&filled, 250.0, INFINITY)));
    assert_close(dw_room_air_ppm(&sealed, 250.0, INFINITY), 250.0, 1e-15, 0.0);
    assert_true(isinf(dw_room_air_time_to_ppm(&sealed, 2.0, 5.0)));
    assert_close(dw_room_air_time_to_ppm(&filled, 2.0, 5.0), 3e-6 * 41.0 / 2e-6, 1e-12, 0.0);
}

/* The mean of a rising room, (1 - (1 - e^-x)/x)/x of what the source adds, on both sides of where the
 * program changes to a series; here from the series to its eighth term. */
static void means_over_short_times_keep_their_digits(void **state)
{
    (void)state;
    static const double changes[] = {1e-7, 3.7e-5, 2.9e-4, 9.99e-4, 1.01e-3, 4.4e-3};
    for (int i = 0; i < 6; i++) {
        const dw_room_air room = {50.0, 0.05, 3e-5, 0.0};
        const double x = changes[i], time_s = x * 1000.0;
        double rest = 0.0, term = 0.5;
        for (int k = 3; k < 11; k++) {
            rest += term;
            term *= -x / k;
        }
        assert_close(dw_room_air_mean_ppm(&room, 0.0, time_s), 1e6 * 3e-5 * time_s / 50.0 * rest,
                     x < 1e-3 ? 5e-15 : 1e-12, 0.0);
    }
}

static void buffers_reach_to_their_ends(void **state)
{
    (void)state;
    const dw_oxide_table *table = &kit_data()->oxides;
    const dw_buffer *b = dw_buffer_find(table, "hm-frost");
    assert_non_null(b);
    /* 682 to 1270 degC are stated, up to 1400 degC it is drawn on. */
    assert_close(b->from_k, 955.15, 1e-12, 0.0);
    assert_close(b->used_to_k, 1673.15, 1e-12, 0.0);
    assert_int_equal(dw_buffer_reach_at(b, b->from_k), DW_BUFFER_IN);
    assert_int_equal(dw_buffer_reach_at(b, b->to_k), DW_BUFFER_IN);
    assert_int_equal(dw_buffer_reach_at(b, b->to_k + 1e-9), DW_BUFFER_DRAWN_ON);
    assert_int_equal(dw_buffer_reach_at(b, b->used_to_k), DW_BUFFER_DRAWN_ON);
    assert_int_equal(dw_buffer_reach_at(b, b->used_to_k + 1e-9), DW_BUFFER_OUT);
    assert_int_equal(dw_buffer_reach_at(b, b->used_from_k), DW_BUFFER_IN);
    assert_int_equal(dw_buffer_reach_at(b, b->used_from_k - 1e-9), DW_BUFFER_OUT);
    dw_buffer wide = *b;
    wide.used_from_k = 900.0;
    assert_int_equal(dw_buffer_reach_at(&wide, 900.0), DW_BUFFER_DRAWN_ON);
    assert_int_equal(dw_buffer_reach_at(NULL, 1000.0), DW_BUFFER_OUT);
    assert_null(dw_buffer_find(NULL, "hm-frost"));
    assert_null(dw_buffer_find(table, NULL));
    assert_int_equal(dw_metal_find(NULL, "iron"), -1);
    assert_int_equal(dw_metal_find(table, NULL), -1);
    assert_true(isnan(dw_buffer_log10_po2_bar(NULL, 1000.0)));
    assert_true(isnan(dw_buffer_log10_po2_bar(b, 0.0)));
    dw_oxide_state found;
    memset(&found, 0, sizeof found);
    const int iron = dw_metal_find(table, "iron");
    assert_int_equal(dw_oxide_state_at(table, iron, 5000.0, -5.0, &found), DW_ERR_DOMAIN);
    assert_true(found.form == -1 && found.other == -1 && found.nearest == -1 &&
                isnan(found.margin_log10));
    assert_int_equal(dw_oxide_state_at(table, iron, NAN, -5.0, &found), DW_ERR_ARG);
    assert_int_equal(dw_oxide_state_at(table, iron, 1200.0, NAN, &found), DW_ERR_ARG);
    assert_int_equal(dw_oxide_state_at(table, -1, 1200.0, -5.0, &found), DW_ERR_ARG);
    assert_int_equal(dw_oxide_state_at(NULL, 0, 1200.0, -5.0, &found), DW_ERR_ARG);
    assert_int_equal(dw_oxide_state_at(table, iron, 1200.0, -5.0, NULL), DW_ERR_ARG);
}

static void melts_from_1200_to_1630(void **state)
{
    (void)state;
    static const double by_weight[DW_MELT_OXIDE_COUNT] = {[DW_MELT_SIO2] = 0.66,
                                                          [DW_MELT_AL2O3] = 0.14,
                                                          [DW_MELT_CAO] = 0.12,
                                                          [DW_MELT_K2O] = 0.06,
                                                          [DW_MELT_FEO] = 0.02};
    dw_melt melt;
    dw_glaze_iron iron;
    assert_int_equal(dw_melt_from_mass(by_weight, &melt), DW_OK);
    assert_int_equal(dw_glaze_iron_at(&melt, 1473.15, -8.0, 1e5, &iron), DW_OK);
    assert_int_equal(dw_glaze_iron_at(&melt, 1473.15 - 1e-9, -8.0, 1e5, &iron), DW_ERR_DOMAIN);
    assert_true(isnan(iron.low_share));
    assert_int_equal(dw_glaze_iron_at(&melt, 1903.15, -8.0, 1e5, &iron), DW_OK);
    assert_int_equal(dw_glaze_iron_at(&melt, 1903.15 + 1e-9, -8.0, 1e5, &iron), DW_ERR_DOMAIN);
    assert_int_equal(dw_glaze_iron_at(&melt, 1600.0, -8.0, 0.0, &iron), DW_OK);
    assert_int_equal(dw_glaze_iron_at(&melt, 1600.0, -8.0, -1.0, &iron), DW_ERR_DOMAIN);
    assert_int_equal(dw_glaze_iron_at(NULL, 1600.0, -8.0, 1e5, &iron), DW_ERR_ARG);
    assert_int_equal(dw_glaze_iron_at(&melt, 1600.0, -8.0, 1e5, NULL), DW_ERR_ARG);
    assert_int_equal(dw_glaze_iron_at(&melt, NAN, -8.0, 1e5, &iron), DW_ERR_ARG);
    assert_int_equal(dw_glaze_iron_at(&melt, 1600.0, INFINITY, 1e5, &iron), DW_ERR_ARG);
    assert_int_equal(dw_glaze_iron_at(&melt, 1600.0, -8.0, INFINITY, &iron), DW_ERR_ARG);
    melt.x[DW_MELT_FEO] = 0.0;
    assert_int_equal(dw_glaze_iron_at(&melt, 1600.0, -8.0, 1e5, &iron), DW_ERR_DOMAIN);
    assert_true(isnan(dw_kress_ferric_ratio(NULL, 1600.0, -8.0, 1e5)));
    assert_true(isnan(dw_kress_ferric_ratio(&melt, 0.0, -8.0, 1e5)));
    assert_true(isnan(dw_borisov_ferric_ratio(NULL, 1600.0, -8.0)));
    assert_true(isnan(dw_borisov_ferric_ratio(&melt, 0.0, -8.0)));
}

static void flames_from_minus_50_to_750(void **state)
{
    (void)state;
    assert_close(dw_lean_limit_factor(1e-3, 223.15), 1.075, 1e-12, 0.0);
    assert_close(dw_lean_limit_factor(1e-3, 1023.15), 0.275, 1e-12, 0.0);
    assert_true(isnan(dw_lean_limit_factor(1e-3, 223.15 - 1e-9)));
    assert_true(isnan(dw_lean_limit_factor(1e-3, 1023.15 + 1e-9)));
    assert_true(isinf(dw_fill_time_s(0.05, 2.0, 0.0, "", "", NULL, NULL)));
    const double x[2] = {0.0, 1.0}, limit[2] = {0.05, NAN};
    assert_true(isnan(dw_flammable_limit(x, limit, 2)));
}

static void spreads_that_have_a_distribution(void **state)
{
    (void)state;
    double z[DW_PARCEL_MAX], weight[DW_PARCEL_MAX], q;
    int count = 7;
    const double good[3] = {0.3, 0.2, 0.1};
    for (int i = 0; i < 3; i++) {
        static const double bad[] = {NAN, INFINITY, -1e-9, 1.0};
        for (int k = 0; k < 4; k++) {
            double v[3] = {good[0], good[1], good[2]};
            v[i] = bad[k];
            const dw_status wanted = k < 2 ? DW_ERR_ARG : DW_ERR_DOMAIN;
            q = 0.0;
            assert_int_equal(dw_mixture_quantile(v[0], v[1], v[2], &q), wanted);
            assert_true(isnan(q));
            q = 0.0;
            assert_int_equal(dw_mixture_richest(v[0], v[1], v[2], NULL, &q), wanted);
            assert_true(isnan(q));
        }
    }
    assert_int_equal(dw_mixture_quantile(0.0, 0.2, 0.1, &q), DW_ERR_DOMAIN);
    assert_int_equal(dw_mixture_quantile(0.3, 0.2, 0.0, &q), DW_ERR_DOMAIN);
    assert_int_equal(dw_mixture_quantile(0.3, 0.6, 0.1, &q), DW_ERR_DOMAIN);
    assert_int_equal(dw_mixture_quantile(0.3, 0.0, 0.1, &q), DW_OK);
    assert_close(q, 0.3, 0.0, 0.0);
    /* A beta distribution with one hump has both exponents above 1: by hand, with z = 0.5 and
     * a = b = 1 + e, s = sqrt(1/(3 + 2 e)), beyond what is allowed; with z small, a is the one that
     * gives out: (1 - z)/s^2 - z = a. */
    const double mean = 0.9;
    const double edge = sqrt((1.0 - mean) * (1.0 - mean) / mean / (1.0 + (1.0 - mean)));
    assert_int_equal(dw_mixture_quantile(mean, edge * (1.0 - 1e-6), 0.1, &q), DW_OK);
    assert_int_equal(dw_mixture_quantile(mean, edge * (1.0 + 1e-6), 0.1, &q), DW_ERR_DOMAIN);
    assert_int_equal(dw_unmixedness_points(mean, 0.5, edge * (1.0 - 1e-6), z, weight, &count), DW_OK);
    assert_true(count > 1);
    assert_int_equal(dw_unmixedness_points(mean, 0.5, edge * (1.0 + 1e-6), z, weight, &count),
                     DW_ERR_DOMAIN);
    assert_int_equal(count, 0);
    for (int i = 0; i < 6; i++) {
        static const double bad[6][3] = {{0.0, 0.3, 0.1}, {1.0, 0.3, 0.1},   {0.3, 0.0, 0.1},
                                         {0.3, 1.0, 0.1}, {0.3, 0.2, -1e-9}, {0.3, 0.2, 0.6}};
        count = 7;
        assert_int_equal(dw_unmixedness_points(bad[i][0], bad[i][1], bad[i][2], z, weight, &count),
                         DW_ERR_DOMAIN);
        assert_int_equal(count, 0);
    }
    assert_int_equal(dw_unmixedness_points(0.3, 0.2, 0.1, NULL, weight, &count), DW_ERR_ARG);
    assert_int_equal(dw_unmixedness_points(0.3, 0.2, 0.1, z, NULL, &count), DW_ERR_ARG);
    assert_int_equal(dw_unmixedness_points(0.3, 0.2, 0.1, z, weight, NULL), DW_ERR_ARG);
}

static void every_number_of_a_burner_is_finite(void **state)
{
    (void)state;
    const dw_injector_input sound = {8e-4, 1.3, -0.7, 3e-4, 5e-4, 0.04, 1.19};
    dw_injector injector;
    assert_int_equal(dw_injector_init(&sound, &injector), DW_OK);
    for (int i = 0; i < 7; i++) {
        dw_injector_input in = sound;
        double *const field[] = {&in.throat_area_m2,  &in.kappa_m,  &in.kappa_a, &in.jet_mass_kg_s,
                                 &in.jet_volume_m3_s, &in.thrust_n, &in.air_density_kg_m3};
        *field[i] = NAN;
        assert_int_equal(dw_injector_init(&in, &injector), DW_ERR_ARG);
        *field[i] = INFINITY;
        assert_int_equal(dw_injector_init(&in, &injector), DW_ERR_ARG);
        assert_true(isnan(injector.reversal_pa));
        *field[i] = 0.0;
        const bool may_be_nothing = i == 2 || i == 5;
        assert_int_equal(dw_injector_init(&in, &injector), may_be_nothing ? DW_OK : DW_ERR_DOMAIN);
    }
}

static void dampers_from_shut_to_open(void **state)
{
    (void)state;
    dw_damper_loss loss;
    for (int i = 0; i < 3; i++) {
        dw_damper_setting s = {0.5, 0.01, 1.0};
        double *const field[] = {&s.open_frac, &s.leak_frac, &s.scale};
        *field[i] = NAN;
        assert_int_equal(dw_damper_slide(&s, 1.0, NULL, &loss), DW_ERR_ARG);
        assert_true(isnan(loss.loss));
        static const double beyond[] = {1.0 + 1e-9, 1.0, 0.0}, last[] = {1.0, 1.0 - 1e-9, 1e-9};
        *field[i] = beyond[i];
        assert_int_equal(dw_damper_slide(&s, 1.0, NULL, &loss), DW_ERR_DOMAIN);
        *field[i] = last[i];
        assert_int_equal(dw_damper_slide(&s, 1.0, NULL, &loss), DW_OK);
    }
    dw_damper_setting s = {-1e-9, 0.01, 1.0};
    assert_int_equal(dw_damper_slide(&s, 1.0, NULL, &loss), DW_ERR_DOMAIN);
    s.open_frac = 0.0;
    assert_int_equal(dw_damper_slide(&s, 1.0, NULL, &loss), DW_OK);
    assert_int_equal(dw_damper_slide(NULL, 1.0, NULL, &loss), DW_ERR_ARG);
    assert_int_equal(dw_damper_slide(&s, 1.0, NULL, NULL), DW_ERR_ARG);
}

/* Net from gross at every temperature of the table: water condenses with 45.064, 44.431, 44.222 and
 * 44.013 kJ/mol, two hydrogen atoms a molecule. Air's own compression at 0, 15 and 20 degC. */
static void heating_values_at_every_temperature_of_the_standard(void **state)
{
    (void)state;
    const dw_species_table *table = &kit_data()->species;
    static const double at_k[4] = {273.15, 288.15, 293.15, 298.15},
                        water[4] = {45064.0, 44431.0, 44222.0, 44013.0},
                        air_z[3] = {0.999419, 0.999595, 0.999645};
    double x[DW_SPECIES_MAX] = {0.0};
    const int c3h8 = dw_species_find(table, "C3H8");
    x[c3h8] = 1.0;
    for (int i = 0; i < 4; i++) {
        const dw_iso6976_conditions c = {at_k[i], at_k[i < 3 ? i : 1], 101325.0, true};
        dw_iso6976_result r;
        assert_int_equal(dw_iso6976_from_moles(table, x, &c, &r), DW_OK);
        assert_close(r.lhv_j_mol, r.hhv_j_mol - 4.0 * water[i], 1e-14, 0.0);
        assert_close(r.relative_density,
                     table->species[c3h8].molar_mass_kg_mol / 28.96546e-3 * air_z[i < 3 ? i : 1] /
                         r.compression_factor, 1e-14, 0.0);
        assert_true(r.compression_factor < 0.985 && r.compression_factor > 0.97);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_number_of_a_room_is_finite),
        cmocka_unit_test(rooms_after_very_long),
        cmocka_unit_test(means_over_short_times_keep_their_digits),
        cmocka_unit_test(buffers_reach_to_their_ends),
        cmocka_unit_test(melts_from_1200_to_1630),
        cmocka_unit_test(flames_from_minus_50_to_750),
        cmocka_unit_test(spreads_that_have_a_distribution),
        cmocka_unit_test(every_number_of_a_burner_is_finite),
        cmocka_unit_test(dampers_from_shut_to_open),
        cmocka_unit_test(heating_values_at_every_temperature_of_the_standard),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

/** @file test_lighting.c  Unit tests of model/lighting. */

#include "check.h"

#include <string.h>

#include "constants.h"
#include "fuel.h"
#include "kit.h"
#include "lighting.h"

static dw_kiln_file file;

static void use_fuel(dw_kiln *kiln, const char *gas)
{
    memset(kiln->fuel.x, 0, sizeof kiln->fuel.x);
    kiln->fuel.x[dw_species_find(&kit_data()->species, gas)] = 1.0;
}

/* A kiln that is as cold as a room of -75 degC is out of the range of the laws: lighting is then not known, and
 * says why; nothing else of it is set. */
static void a_cold_that_is_out_of_range_is_said(void **state)
{
    (void)state;
    kit_example("juniper-flat", &file);
    dw_kiln *k = &file.kiln;
    dw_lighting l;
    assert_int_equal(dw_lighting_look(kit_model(), k, NULL, NULL, &l), DW_OK);
    assert_true(l.solved && l.reason[0] == '\0');
    k->site.room_temperature_k = 198.15;
    assert_int_equal(dw_lighting_look(kit_model(), k, NULL, NULL, &l), DW_OK);
    assert_false(l.solved);
    assert_true(l.reason[0] != '\0');
    dw_lighting why = {.solved = false};
    memcpy(why.reason, l.reason, sizeof why.reason);
    assert_memory_equal(&l, &why, sizeof l);
}

static void gas_of_an_open_burner(void **state)
{
    (void)state;
    kit_example("juniper-flat", &file);
    dw_kiln *k = &file.kiln;
    dw_lighting l;
    assert_int_equal(dw_lighting_look(kit_model(), k, NULL, NULL, &l), DW_OK);
    /* The running kiln lets the same gas through its two burners. */
    dw_result r;
    assert_int_equal(dw_operating_point(kit_model(), k, &r), DW_OK);
    assert_close(l.all.gas_kg_s, r.gas_flow_kg_s, 1e-12, 0.0);
    assert_close(l.burner[0].gas_kg_s, r.gas_flow_kg_s / 2.0, 1e-12, 0.0);
    dw_kiln resolved = *k;
    dw_kiln_resolve(&resolved);
    const double m3_s = l.all.gas_kg_s / 0.04409562 * DW_R_J_MOL_K *
                        resolved.site.room_temperature_k / resolved.site.pressure_pa_abs;
    assert_close(l.all.gas_m3_s, m3_s, 1e-9, 0.0);
    /* Propane: 2.1 % of the free volume, at 12 degC a little more. */
    const double lean = 0.021 * (1.0 + 0.000721 * 13.0);
    assert_close(l.lean_x, lean, 1e-9, 0.0);
    const double volume = 0.75 * 0.75 * 1.0 * 0.55;
    assert_close(l.free_volume_m3, volume, 1e-12, 0.0);
    assert_close(l.all.chamber_s, lean * volume / m3_s, 1e-9, 0.0);
    assert_close(l.all.corner_s, lean * 1.0 / m3_s, 1e-9, 0.0);
    assert_true(l.relative_density > 1.5); /* sinks */
    assert_true(l.glows);
    assert_true(isnan(l.gas_ratio));
    assert_int_equal(dw_lighting_look(kit_model(), k, &r, NULL, &l), DW_OK);
    assert_true(l.gas_ratio > 0.0 && isnan(l.gas_ratio_hot));
}

/* Each gas, each altitude: what comes out is sqrt(2 rho dp) through the jet, at a pressure that hardly
 * compresses it. */
static void each_gas_each_altitude(void **state)
{
    (void)state;
    static const char *const gases[] = {"CH4", "C3H8", "n-C4H10", "H2"};
    static const double altitudes[] = {0.0, 1600.0, 3400.0};
    kit_example("juniper-flat", &file);
    for (int g = 0; g < 4; g++) {
        for (int a = 0; a < 3; a++) {
            dw_kiln k = file.kiln;
            use_fuel(&k, gases[g]);
            k.site.elevation_m = altitudes[a];
            k.operating.gas_pressure_pa = 700.0;
            dw_lighting l;
            assert_int_equal(dw_lighting_look(kit_model(), &k, NULL, NULL, &l), DW_OK);
            dw_kiln_resolve(&k);
            const dw_species *s =
                &kit_data()->species.species[dw_species_find(&kit_data()->species, gases[g])];
            const double rho = k.site.pressure_pa_abs * s->molar_mass_kg_mol /
                               (DW_R_J_MOL_K * k.site.room_temperature_k);
            const double d = k.burner[0].jet_diameter_m;
            const double kg_s = k.burner[0].jet_discharge_coeff * 0.25 * DW_PI * d * d *
                                sqrt(2.0 * rho * 700.0);
            assert_close(l.burner[0].gas_kg_s, kg_s, 0.004, 0.0);
            assert_close(l.burner[0].gas_m3_s, kg_s / rho, 0.004, 0.0);
            assert_int_equal(l.relative_density > 1.0, g == 1 || g == 2);
        }
    }
}

static void an_off_burner_counts_and_no_pressure_gives_no_gas(void **state)
{
    (void)state;
    kit_example("juniper-flat", &file);
    dw_kiln k = file.kiln;
    dw_lighting on, off;
    assert_int_equal(dw_lighting_look(kit_model(), &k, NULL, NULL, &on), DW_OK);
    k.burner[0].lit = false;
    k.burner[0].plugged = true;
    assert_int_equal(dw_lighting_look(kit_model(), &k, NULL, NULL, &off), DW_OK);
    assert_close(off.all.gas_kg_s, on.all.gas_kg_s, 1e-15, 0.0);
    k.operating.gas_pressure_pa = 0.0;
    assert_int_equal(dw_lighting_look(kit_model(), &k, NULL, NULL, &off), DW_OK);
    assert_true(off.all.gas_kg_s == 0.0 && isinf(off.all.chamber_s));
}

static void a_cold_stack_hardly_purges(void **state)
{
    (void)state;
    kit_example("juniper-flat", &file);
    dw_kiln k = file.kiln;
    dw_lighting l;
    /* Room and outside alike: no draft at all. */
    assert_int_equal(dw_lighting_look(kit_model(), &k, NULL, NULL, &l), DW_OK);
    assert_close(l.cold_draft_pa, 0.0, 0.0, 1e-12);
    assert_true(isinf(l.natural_s) && l.natural_m3_s == 0.0 && !l.backwards);
    assert_close(l.purge_volume_m3, 4.0 * 0.5625, 1e-12, 0.0);
    assert_true(isnan(l.fan_s));
    k.room.purge_fan_m3_s = 0.0125;
    /* A warm room in winter: a little. By hand 0.0034 bar... of (rho_out - rho_room) g H. */
    k.site.room_temperature_k = 291.15;
    k.site.outside_temperature_k = 271.15;
    assert_int_equal(dw_lighting_look(kit_model(), &k, NULL, NULL, &l), DW_OK);
    assert_true(l.cold_draft_pa > 1.0 && l.cold_draft_pa < 4.0);
    assert_true(l.natural_m3_s > 0.0);
    assert_close(l.natural_s, l.purge_volume_m3 / l.natural_m3_s, 1e-12, 0.0);
    assert_close(l.fan_s, 4.0 * 0.5625 / 0.0125, 1e-12, 0.0);
    /* A cold room in summer: down it comes. */
    k.site.outside_temperature_k = 305.15;
    assert_int_equal(dw_lighting_look(kit_model(), &k, NULL, NULL, &l), DW_OK);
    assert_true(l.backwards && isinf(l.natural_s) && l.cold_draft_pa < 0.0);
    /* So does a fan in the room. */
    k.site.outside_temperature_k = 271.15;
    k.site.room_pressure_pa = -12.0;
    assert_int_equal(dw_lighting_look(kit_model(), &k, NULL, NULL, &l), DW_OK);
    assert_true(l.backwards && isinf(l.natural_s));
    /* A fan that blows into the room lifts the air through a stack that would not draw. */
    k.site.outside_temperature_k = k.site.room_temperature_k;
    k.site.room_pressure_pa = 3.0;
    assert_int_equal(dw_lighting_look(kit_model(), &k, NULL, NULL, &l), DW_OK);
    assert_true(!l.backwards && l.natural_m3_s > 0.0);
    /* Three pascals through dampers, burners and stack, all open; the flow goes with the root of the
     * pull, but for a laminar part of the friction. */
    const double at_3 = l.natural_m3_s;
    k.site.room_pressure_pa = 12.0;
    assert_int_equal(dw_lighting_look(kit_model(), &k, NULL, NULL, &l), DW_OK);
    assert_close(l.natural_m3_s / at_3, 2.0, 0.05, 0.0);
    /* Without a stack nothing moves. */
    kit_example("fennelbank-school", &file);
    assert_int_equal(dw_lighting_look(kit_model(), &file.kiln, NULL, NULL, &l), DW_OK);
    assert_true(isinf(l.natural_s) && !l.backwards);
}

/* Cold, dampers wide open, every burner a hole. */
static void a_kiln_that_is_purged(void **state)
{
    (void)state;
    kit_example("gannet-quay", &file);
    dw_kiln k = file.kiln;
    assert_true(k.burner_count > 1 && k.flue_count > 1);
    k.burner[0].lit = true;
    k.burner[1].plugged = true;
    k.settings.gas_minus_reading_dk = 35.0;
    k.flue[0].damper.kind = DW_DAMPER_TABLE;
    k.flue[0].damper.row_count = 3;
    static const double open[3] = {0.2, 0.5, 0.8};
    memcpy(k.flue[0].damper.row_open_frac, open, sizeof open);
    k.flue[0].damper.open_frac = 0.3;
    k.flue[1].damper.kind = DW_DAMPER_SLIDE;
    k.flue[1].damper.open_frac = 0.4;
    dw_kiln_resolve(&k);
    dw_lighting_cool(&k);
    for (int i = 0; i < k.burner_count; i++) {
        assert_false(k.burner[i].lit);
        assert_false(k.burner[i].plugged);
    }
    /* The last row is as open as the table says anything of. */
    assert_close(k.flue[0].damper.open_frac, 0.8, 0.0, 0.0);
    assert_close(k.flue[1].damper.open_frac, 1.0, 0.0, 0.0);
    assert_close(k.operating.chamber_temperature_k, k.site.room_temperature_k, 0.0, 0.0);
    assert_close(k.settings.gas_minus_reading_dk, 0.0, 0.0, 0.0);
}

static void limits_of_mixtures(void **state)
{
    (void)state;
    kit_example("fennelbank-school", &file);
    dw_lighting l;
    assert_int_equal(dw_lighting_look(kit_model(), &file.kiln, NULL, NULL, &l), DW_OK);
    /* Natural gas with 2 % that does not burn: 1/(0.93/5 + 0.04/3 + 0.01/2.1) % at 25 degC. */
    const double at_25 = 0.01 / (0.93 / 5.0 + 0.04 / 3.0 + 0.01 / 2.1);
    assert_close(l.lean_x, at_25 * (1.0 + 0.000721 * 4.0), 1e-9, 0.0);
    assert_false(l.limit_guessed);
    assert_true(l.relative_density < 0.7);
    /* A gas that is not in the table burns at the lowest limit of all. */
    memset(file.kiln.fuel.x, 0, sizeof file.kiln.fuel.x);
    file.kiln.fuel.x[dw_species_find(&kit_data()->species, "CH3CN")] = 1.0;
    assert_int_equal(dw_lighting_look(kit_model(), &file.kiln, NULL, NULL, &l), DW_OK);
    assert_true(l.limit_guessed);
    assert_close(l.lean_x, 0.012 * (1.0 + 0.000721 * 4.0), 1e-9, 0.0);
    assert_close(l.rich_x, 0.80, 1e-9, 0.0); /* the highest of all */
    /* Mixed half and half with nitrogen a gas that burns up to 80 % burns however much there is. */
    file.kiln.fuel.x[dw_species_find(&kit_data()->species, "CH3CN")] = 0.5;
    file.kiln.fuel.x[dw_species_find(&kit_data()->species, "N2")] = 0.5;
    assert_int_equal(dw_lighting_look(kit_model(), &file.kiln, NULL, NULL, &l), DW_OK);
    assert_close(l.rich_x, 1.0, 0.0, 0.0);
    /* The chamber glows from just that temperature on. */
    kit_example("fennelbank-school", &file);
    const double glow_k = kit_data()->co.glow_k;
    for (int i = 0; i < 2; i++) {
        file.kiln.operating.chamber_temperature_k = glow_k * (i == 0 ? 1.0 : 1.0 - 1e-12);
        assert_int_equal(dw_lighting_look(kit_model(), &file.kiln, NULL, NULL, &l), DW_OK);
        assert_int_equal(l.glows, i == 0);
    }
    assert_int_equal(dw_lighting_look(NULL, &file.kiln, NULL, NULL, &l), DW_ERR_ARG);
    assert_int_equal(dw_lighting_look(kit_model(), NULL, NULL, NULL, &l), DW_ERR_ARG);
    assert_int_equal(dw_lighting_look(kit_model(), &file.kiln, NULL, NULL, NULL), DW_ERR_ARG);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_cold_that_is_out_of_range_is_said),
        cmocka_unit_test(gas_of_an_open_burner),
        cmocka_unit_test(each_gas_each_altitude),
        cmocka_unit_test(an_off_burner_counts_and_no_pressure_gives_no_gas),
        cmocka_unit_test(a_cold_stack_hardly_purges),
        cmocka_unit_test(a_kiln_that_is_purged),
        cmocka_unit_test(limits_of_mixtures),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

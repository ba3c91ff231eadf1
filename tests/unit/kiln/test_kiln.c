/* The kiln: what is filled in when it is not given, and what makes a kiln meaningless. */

#include <string.h>

#include "check.h"
#include "kiln.h"

enum { CH4, C3H8, H2, CO, CO2, N2, GRAPHITE, SPECIES_COUNT };

/* Only the atoms matter here. */
static const dw_species_table table = {
    .count = SPECIES_COUNT,
    .species = {
        [CH4] = {.name = "CH4", .atoms = {[DW_C] = 1, [DW_H] = 4}},
        [C3H8] = {.name = "C3H8", .atoms = {[DW_C] = 3, [DW_H] = 8}},
        [H2] = {.name = "H2", .atoms = {[DW_H] = 2}},
        [CO] = {.name = "CO", .atoms = {[DW_C] = 1, [DW_O] = 1}},
        [CO2] = {.name = "CO2", .atoms = {[DW_C] = 1, [DW_O] = 2}},
        [N2] = {.name = "N2", .atoms = {[DW_N] = 2}},
        [GRAPHITE] = {.name = "C(gr)", .condensed = true, .atoms = {[DW_C] = 1}},
    }};

/* A downdraft kiln with one burner entry, three openings, two flues and a stack. */
static dw_kiln sound_kiln(void)
{
    dw_kiln kiln;
    dw_kiln_init(&kiln);
    kiln.site.elevation_m = 1600.0;
    kiln.site.air_temperature_k = 285.15;
    kiln.site.relative_humidity = 0.4;
    kiln.fuel.x[C3H8] = 0.93;
    kiln.fuel.x[CH4] = 0.04;
    kiln.fuel.x[N2] = 0.03;
    kiln.chamber.width_m = 0.75;
    kiln.chamber.depth_m = 0.81;
    kiln.chamber.height_m = 1.12;
    kiln.chamber.packed_frac = 0.45;

    kiln.burner_count = 1;
    dw_burner *burner = &kiln.burner[0];
    strcpy(burner->name, "left pair");
    burner->count = 2;
    burner->height_m = 0.11;
    burner->jet_diameter_m = 1.8e-3;
    burner->throat_diameter_m = 0.038;

    kiln.opening_count = 3;
    strcpy(kiln.opening[0].name, "ports");
    kiln.opening[0].area_m2 = 18.0e-4;
    kiln.opening[0].height_m = 0.13;
    strcpy(kiln.opening[1].name, "door gap");
    kiln.opening[1].kind = DW_OPENING_TALL;
    kiln.opening[1].area_m2 = 12.0e-4;
    kiln.opening[1].from_m = 0.05;
    kiln.opening[1].to_m = 0.95;
    strcpy(kiln.opening[2].name, "joint");
    kiln.opening[2].kind = DW_OPENING_CRACK;
    kiln.opening[2].area_m2 = 2.3e-4;
    kiln.opening[2].height_m = 0.71;

    kiln.flue_count = 2;
    strcpy(kiln.flue[0].name, "back");
    kiln.flue[0].area_m2 = 240.0e-4;
    kiln.flue[0].height_m = 0.09;
    kiln.flue[0].damper.open_frac = 0.6;
    strcpy(kiln.flue[1].name, "side");
    kiln.flue[1].area_m2 = 60.0e-4;
    kiln.flue[1].height_m = 0.07;

    kiln.stack.present = true;
    kiln.stack.height_m = 3.6;
    kiln.stack.area_m2 = 400.0e-4;
    kiln.operating.gas_pressure_pa = 20.0e3;
    kiln.operating.chamber_temperature_k = 1273.15;
    return kiln;
}

static void fixed_defaults_are_those_of_the_model(void **state)
{
    (void)state;
    dw_kiln kiln;
    dw_kiln_init(&kiln);
    const dw_burner *burner = &kiln.burner[DW_BURNER_MAX - 1];
    assert_close(burner->jet_discharge_coeff, 0.85, 0.0, 0.0);
    assert_close(burner->jet_velocity_coeff, 0.97, 0.0, 0.0);
    assert_close(burner->throat_friction, 0.18, 0.0, 0.0);
    assert_close(burner->diffuser_recovery, 0.40, 0.0, 0.0);
    assert_close(burner->port_loss, 1.6, 0.0, 0.0);
    assert_close(burner->inlet_loss, 0.5, 0.0, 0.0);
    assert_close(burner->port_temperature_ratio, 1.0, 0.0, 0.0);
    assert_close(burner->air_jet_diameter_m, 0.0, 0.0, 0.0);
    assert_true(burner->lit && !burner->plugged && burner->count == 1);
    assert_close(kiln.opening[DW_OPENING_MAX - 1].discharge_coeff, 0.62, 0.0, 0.0);
    assert_close(kiln.opening[0].exponent, 0.65, 0.0, 0.0);
    assert_close(kiln.opening[0].reference_pressure_pa, 10.0, 0.0, 0.0);
    assert_close(kiln.flue[DW_FLUE_MAX - 1].entry_loss, 0.5, 0.0, 0.0);
    assert_close(kiln.flue[0].damper.leak_frac, 0.01, 0.0, 0.0);
    assert_close(kiln.flue[0].damper.scale, 1.0, 0.0, 0.0);
    assert_close(kiln.stack.roughness_m, 3.0e-3, 0.0, 0.0);
    assert_close(kiln.stack.bend_count, 1.0, 0.0, 0.0);
    assert_close(kiln.stack.bend_loss, 1.2, 0.0, 0.0);
    assert_close(kiln.stack.exit_loss, 1.0, 0.0, 0.0);
    assert_close(kiln.stack.heat_loss_ntu, 0.35, 0.0, 0.0);
    assert_false(kiln.stack.present);
    assert_close(kiln.settings.unmixedness, 0.05, 0.0, 0.0);
    assert_true(isnan(kiln.settings.quench_temperature_k) && isnan(kiln.settings.quench_temperature_rich_k));
    assert_true(isnan(burner->jet_diameter_m) && isnan(burner->throat_diameter_m));
    assert_true(isnan(kiln.chamber.width_m) && isnan(kiln.operating.gas_pressure_pa));
    assert_true(isnan(kiln.flue[0].area_m2) && isnan(kiln.opening[0].area_m2));
}

static void one_quench_temperature_is_both(void **state)
{
    (void)state;
    static const double cases[][4] = { /* lean and rich as given, and as resolved */
        {NAN, NAN, 1100.0, 1100.0},
        {1100.0, NAN, 1100.0, 1100.0},
        {1200.0, NAN, 1200.0, 1200.0},
        {NAN, 1300.0, 1100.0, 1300.0},
        {1050.0, 1350.0, 1050.0, 1350.0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const double *c = cases[i];
        dw_kiln kiln = sound_kiln();
        kiln.settings.quench_temperature_k = c[0];
        kiln.settings.quench_temperature_rich_k = c[1];
        for (int again = 0; again < 2; again++) {
            dw_kiln_resolve(&kiln);
            assert_close(kiln.settings.quench_temperature_k, c[2], 0.0, 0.0);
            /* With none given each is its own default. */
            assert_close(kiln.settings.quench_temperature_rich_k,
                         isnan(c[0]) && isnan(c[1]) ? dw_quench_usual_rich.middle : c[3], 0.0, 0.0);
        }
    }
    assert_close(dw_quench_usual_lean.middle, 1100.0, 0.0, 0.0);
    const dw_usual *const usual[] = {&dw_quench_usual_lean, &dw_quench_usual_rich};
    for (int i = 0; i < 2; i++) {
        assert_true(usual[i]->low < usual[i]->middle && usual[i]->middle < usual[i]->high);
        assert_true(usual[i]->low >= DW_QUENCH_LOW_K && usual[i]->high <= DW_QUENCH_HIGH_K);
    }
}

static void geometry_of_the_chamber(void **state)
{
    (void)state;
    const dw_kiln kiln = sound_kiln();
    /* 2 (0.75 0.81 + 0.75 1.12 + 0.81 1.12), by hand */
    assert_close(dw_chamber_surface_m2(&kiln.chamber), 4.7094, 1e-12, 0.0);
    assert_close(dw_chamber_volume_m3(&kiln.chamber, NULL), 0.6804, 1e-12, 0.0);
}

static void datum_is_the_lowest_burner(void **state)
{
    (void)state;
    dw_kiln kiln = sound_kiln();
    assert_close(dw_kiln_datum_height_m(&kiln), 0.11, 0.0, 0.0);
    kiln.burner_count = 3;
    kiln.burner[1].height_m = 0.06;
    kiln.burner[2].height_m = 0.4;
    assert_close(dw_kiln_datum_height_m(&kiln), 0.06, 0.0, 0.0);
    kiln.burner_count = 0;
    assert_close(dw_kiln_datum_height_m(&kiln), 0.0, 0.0, 0.0);
}

static void site_and_leak_are_derived(void **state)
{
    (void)state;
    dw_kiln kiln = sound_kiln();
    dw_kiln_resolve(&kiln);
    /* 101325 (1 - 0.0065 1600/288.15)^5.25588, by hand */
    assert_close(kiln.site.pressure_pa_abs, 83524.0, 1e-4, 0.0);
    assert_close(kiln.site.outside_temperature_k, 285.15, 0.0, 0.0);
    assert_close(kiln.site.room_temperature_k, 285.15, 0.0, 0.0);
    assert_close(kiln.operating.gas_temperature_k, 285.15, 0.0, 0.0);
    assert_close(kiln.chamber.leak_area_m2, 47.094e-4, 1e-12, 0.0);

    /* A firing day; a day and a night where somebody lives; what was given. */
    for (int n = 0; n < 4; n++) {
        kiln = sound_kiln();
        kiln.room.present = true;
        kiln.room.volume_m3 = 50.0;
        kiln.room.air_changes_per_hour = 1.0;
        kiln.room.dwelling = n % 2 == 1;
        if (n >= 2) kiln.room.duration_s = 700.0;
        dw_kiln_resolve(&kiln);
        assert_close(kiln.room.duration_s, n >= 2 ? 700.0 : n == 1 ? 86400.0 : 43200.0, 0.0, 0.0);
    }

    kiln = sound_kiln();
    kiln.site.room_temperature_k = 301.4;
    dw_kiln_resolve(&kiln);
    assert_close(kiln.operating.gas_temperature_k, 301.4, 0.0, 0.0);
    assert_close(kiln.site.outside_temperature_k, 285.15, 0.0, 0.0);
}

static void burner_takes_from_operating_and_throat(void **state)
{
    (void)state;
    dw_kiln kiln = sound_kiln();
    kiln.operating.air_pressure_pa = 1900.0;
    dw_kiln_resolve(&kiln);
    const dw_burner *burner = &kiln.burner[0];
    assert_close(burner->gas_pressure_pa, 20.0e3, 0.0, 0.0);
    assert_close(burner->air_pressure_pa, 1900.0, 0.0, 0.0);
    assert_close(burner->port_diameter_m, 0.038, 0.0, 0.0);
    /* throat 1.134115e-3 m2 / (0.62 sqrt(1.5)), and back to the loss */
    assert_close(burner->shutter_area_m2, 1.49355e-3, 1e-5, 0.0);
    const double ratio = 1.1341149479459152e-3 / (0.62 * burner->shutter_area_m2);
    assert_close(ratio * ratio - 1.0, 0.5, 1e-12, 0.0);
}

static void space_behind_the_damper_follows_flues_and_stack(void **state)
{
    (void)state;
    dw_kiln kiln = sound_kiln();
    dw_kiln_resolve(&kiln);
    /* k = 300/400 for both flues */
    assert_close(kiln.flue[0].downstream_area_m2, 320.0e-4, 1e-12, 0.0);
    assert_close(kiln.flue[1].downstream_area_m2, 80.0e-4, 1e-12, 0.0);
    assert_false(kiln.flue[0].downstream_is_plenum);
    assert_close(kiln.stack.base_height_m, 0.07, 0.0, 0.0);

    kiln = sound_kiln();
    kiln.stack.area_m2 = 270.0e-4; /* narrower than the flues: k = 1 */
    dw_kiln_resolve(&kiln);
    assert_close(kiln.flue[0].downstream_area_m2, 240.0e-4, 1e-12, 0.0);

    kiln = sound_kiln();
    kiln.stack.present = false;
    kiln.flue[1].downstream_area_m2 = 90.0e-4;
    dw_kiln_resolve(&kiln);
    assert_true(kiln.flue[0].downstream_is_plenum);
    assert_false(kiln.flue[1].downstream_is_plenum);
    assert_true(isnan(kiln.stack.base_height_m));
}

static void resolving_keeps_what_was_given(void **state)
{
    (void)state;
    dw_kiln kiln = sound_kiln();
    kiln.site.pressure_pa_abs = 90.1e3;
    kiln.site.outside_temperature_k = 263.2;
    kiln.operating.gas_temperature_k = 279.3;
    kiln.chamber.leak_area_m2 = 0.0;
    kiln.burner[0].gas_pressure_pa = 7.3e3;
    kiln.burner[0].port_diameter_m = 0.045;
    kiln.burner[0].shutter_area_m2 = 9.1e-4;
    kiln.flue[0].downstream_area_m2 = 500.0e-4;
    kiln.flue[1].downstream_is_plenum = true;
    kiln.stack.base_height_m = -0.4;
    dw_kiln_resolve(&kiln);
    assert_close(kiln.site.pressure_pa_abs, 90.1e3, 0.0, 0.0);
    assert_close(kiln.site.outside_temperature_k, 263.2, 0.0, 0.0);
    assert_close(kiln.operating.gas_temperature_k, 279.3, 0.0, 0.0);
    assert_close(kiln.chamber.leak_area_m2, 0.0, 0.0, 0.0);
    assert_close(kiln.burner[0].gas_pressure_pa, 7.3e3, 0.0, 0.0);
    assert_close(kiln.burner[0].port_diameter_m, 0.045, 0.0, 0.0);
    assert_close(kiln.burner[0].shutter_area_m2, 9.1e-4, 0.0, 0.0);
    assert_close(kiln.flue[0].downstream_area_m2, 500.0e-4, 0.0, 0.0);
    assert_true(kiln.flue[1].downstream_is_plenum);
    assert_close(kiln.stack.base_height_m, -0.4, 0.0, 0.0);
}

static void resolving_twice_changes_nothing(void **state)
{
    (void)state;
    static dw_kiln once, twice;
    once = sound_kiln();
    dw_kiln_resolve(&once);
    memcpy(&twice, &once, sizeof once);
    dw_kiln_resolve(&twice);
    assert_memory_equal(&once, &twice, sizeof once);
}

/* ------------------------------------------------------------------------------- checks */

typedef void (*spoil)(dw_kiln *kiln);

#define SPOIL(name_, statement_)                                                                   \
    static void name_(dw_kiln *kiln) { statement_; }

SPOIL(no_spoil, (void)kiln)
SPOIL(high_site, kiln->site.elevation_m = 6100.0)
SPOIL(wet_air, kiln->site.relative_humidity = 1.3)
SPOIL(cold_room, kiln->site.room_temperature_k = 140.0)
SPOIL(no_width, kiln->chamber.width_m = NAN)
SPOIL(flat_chamber, kiln->chamber.height_m = 0.0)
SPOIL(full_chamber, kiln->chamber.packed_frac = 1.0)
SPOIL(negative_leak, kiln->chamber.leak_area_m2 = -1e-4)
SPOIL(half_fuel, kiln->fuel.x[C3H8] = 0.43)
SPOIL(negative_share, (kiln->fuel.x[C3H8] = 0.98, kiln->fuel.x[N2] = -0.02))
SPOIL(carbon_dust, (kiln->fuel.x[C3H8] = 0.73, kiln->fuel.x[GRAPHITE] = 0.20))
SPOIL(burnt_fuel, (kiln->fuel.x[C3H8] = kiln->fuel.x[CH4] = 0.0, kiln->fuel.x[CO2] = 0.97))
SPOIL(hydrogen, (memset(&kiln->fuel, 0, sizeof kiln->fuel), kiln->fuel.x[H2] = 1.0))
SPOIL(carbon_monoxide, (memset(&kiln->fuel, 0, sizeof kiln->fuel), kiln->fuel.x[CO] = 1.0))
SPOIL(hot_gas, kiln->settings.gas_minus_reading_dk = 900.0)
SPOIL(very_hot, kiln->operating.chamber_temperature_k = 2100.0)
SPOIL(low_quench, kiln->settings.quench_temperature_k = 800.0)
SPOIL(low_rich_quench, kiln->settings.quench_temperature_rich_k = 800.0)
SPOIL(wide_spread, kiln->settings.unmixedness = 0.6)
SPOIL(no_burner, kiln->burner_count = 0)
SPOIL(no_pressure, kiln->operating.gas_pressure_pa = 0.0)
SPOIL(not_lit, kiln->burner[0].lit = false)
SPOIL(lit_and_plugged, kiln->burner[0].plugged = true)
SPOIL(no_count, kiln->burner[0].count = 0)
SPOIL(high_burner, kiln->burner[0].height_m = 1.13)
SPOIL(no_jet, kiln->burner[0].jet_diameter_m = NAN)
SPOIL(strong_jet, kiln->burner[0].jet_discharge_coeff = 1.1)
SPOIL(no_throat, kiln->burner[0].throat_diameter_m = NAN)
SPOIL(wide_jets,
      (kiln->burner[0].jet_diameter_m = 0.02, kiln->burner[0].air_jet_diameter_m = 0.035))
SPOIL(open_shutter, kiln->burner[0].shutter_open_frac = 1.01)
SPOIL(no_losses, (kiln->burner[0].throat_friction = 0.0, kiln->burner[0].port_loss = 0.0,
                  kiln->burner[0].diffuser_recovery = 0.95, kiln->burner[0].shutter_area_m2 = 0.1))
SPOIL(no_air, kiln->burner[0].kind = DW_BURNER_BLOWN)
SPOIL(two_airs, (kiln->burner[0].kind = DW_BURNER_BLOWN, kiln->burner[0].air_flow_m3_s = 0.01,
                 kiln->burner[0].air_restriction_area_m2 = 3e-4))
SPOIL(spyhole_in_roof, kiln->opening[0].height_m = 1.2)
SPOIL(opening_half_shut, kiln->opening[0].open_frac = -0.5)
SPOIL(gap_upside_down, kiln->opening[1].to_m = 0.04)
SPOIL(gap_through_floor, kiln->opening[1].from_m = -0.01)
SPOIL(odd_crack, kiln->opening[2].exponent = 1.2)
SPOIL(no_flue, kiln->flue_count = 0)
SPOIL(no_flue_area, kiln->flue[1].area_m2 = 0.0)
SPOIL(high_flue, kiln->flue[1].height_m = 1.121)
SPOIL(over_open, kiln->flue[0].damper.open_frac = 1.2)
SPOIL(tight_damper, kiln->flue[0].damper.leak_frac = 0.0)
SPOIL(no_scale, kiln->flue[0].damper.scale = 0.0)
SPOIL(narrow_behind, kiln->flue[0].downstream_area_m2 = 239.0e-4)
SPOIL(no_rows, kiln->flue[0].damper.kind = DW_DAMPER_TABLE)
SPOIL(no_stack_height, kiln->stack.height_m = NAN)
SPOIL(sunk_stack, kiln->stack.base_height_m = -5.2)
SPOIL(rough_stack, kiln->stack.roughness_m = 0.041)
SPOIL(gap_above_top, kiln->stack.hood_gap_height_m = 3.7)
SPOIL(no_heat_loss, kiln->stack.heat_loss_ntu = NAN)
SPOIL(wind_from_nowhere, kiln->site.wind_speed_m_s = -1.0)
SPOIL(wall_of_wind, (kiln->site.wind_speed_m_s = 3.0, kiln->stack.wind_coeff = 0.51))
SPOIL(room_of_wind, (kiln->site.wind_speed_m_s = 3.0, kiln->room.wind_coeff = -0.52))
SPOIL(calm, (kiln->stack.wind_coeff = 0.51, kiln->room.wind_coeff = -0.52))
SPOIL(wall_without_rows, kiln->stack.wall = DW_WALL_BARE_STEEL)
SPOIL(wall_of_nothing, (kiln->stack.wall = DW_WALL_SINGLE_BRICK, kiln->stack.wall_point_count = 1))
SPOIL(negative_ua, kiln->stack.heat_loss_ua_w_k = -1.0)

static void rows_that_turn(dw_kiln *kiln)
{
    dw_damper *damper = &kiln->flue[0].damper;
    damper->kind = DW_DAMPER_TABLE;
    damper->row_count = 3;
    damper->row_open_frac[0] = 0.1;
    damper->row_open_frac[1] = 0.4;
    damper->row_open_frac[2] = 0.4;
    damper->row_loss[0] = 250.0;
    damper->row_loss[1] = 12.0;
    damper->row_loss[2] = 0.2;
}

static void losses_that_turn(dw_kiln *kiln)
{
    rows_that_turn(kiln);
    kiln->flue[0].damper.row_open_frac[2] = 0.9;
    kiln->flue[0].damper.row_loss[2] = 12.0;
}

static const struct {
    spoil spoil;
    const char *message; /* begins so; "" when sound */
} cases[] = {
    {no_spoil, ""},
    {high_site, "'kiln.site.elevation' is 6100 m, expected -400 m to 5500 m"},
    {wet_air, "'kiln.site.relative_humidity' is 130 %, expected 0 % to 100 %"},
    {cold_room,
     "'kiln.site.room_temperature' is -133.15 degC, expected -73.15 degC to 1726.8 degC"},
    {no_width, "'kiln.chamber.width' is missing"},
    {flat_chamber, "'kiln.chamber.height' is 0 m, expected more than 0"},
    {full_chamber, "'kiln.chamber.packed' is 100 %, expected 0 % or more and less than 100 %"},
    {negative_leak, "'kiln.chamber.leak_area' is -1 cm2, expected 0 or more"},
    {half_fuel, "'kiln.fuel' has shares that add up to 50 %, expected 100 %"},
    {negative_share, "'kiln.fuel.N2' is -2 %, expected 0 % to 100 %"},
    {carbon_dust, "'kiln.fuel.C(gr)' is not a gas"},
    {burnt_fuel, "'kiln.fuel' does not burn"},
    {hydrogen, "'kiln.fuel' has no carbon"},
    {carbon_monoxide, "'kiln.fuel' has no hydrogen"},
    {hot_gas, "'kiln.model.gas_minus_reading' gives a gas temperature of 1900 degC, expected"},
    {very_hot, "'operating.chamber_temperature' is 1826.8 degC"},
    {low_quench, "'kiln.model.quench_temperature' is 526.85 degC"},
    {low_rich_quench, "'kiln.model.quench_temperature_rich' is 526.85 degC"},
    {wide_spread, "'kiln.model.unmixedness' is 60 %"},
    {no_burner, "'kiln.burners' is empty"},
    {no_pressure, "'kiln.burners': nothing burns"},
    {not_lit, "'kiln.burners': nothing burns"},
    {lit_and_plugged, "'kiln.burners.left pair' is both lit and plugged"},
    {no_count, "'kiln.burners.left pair.count' is 0, expected 1 or more"},
    {high_burner,
     "'kiln.burners.left pair.height' is 1.13 m, expected 0 m (floor) to 1.12 m (roof"},
    {no_jet, "'kiln.burners.left pair.jet.diameter' is missing"},
    {strong_jet, "'kiln.burners.left pair.jet.discharge_coefficient' is 1.1, expected more than 0"},
    {no_throat, "'kiln.burners.left pair.throat_diameter' is missing"},
    {wide_jets, "'kiln.burners.left pair.throat_diameter' is 38 mm, expected more than the jet"},
    {open_shutter, "'kiln.burners.left pair.shutter' is 101 %"},
    {no_losses, "'kiln.burners.left pair' loses too little"},
    {no_air, "'kiln.burners.left pair' has no air supply"},
    {two_airs, "'kiln.burners.left pair' has both air_restriction and air_flow"},
    {spyhole_in_roof, "'kiln.openings.ports.height' is 1.2 m"},
    {opening_half_shut, "'kiln.openings.ports.open' is -50 %"},
    {gap_upside_down, "'kiln.openings.door gap.from' is 50 mm, expected less than 'to', which is 40 mm"},
    {gap_through_floor, "'kiln.openings.door gap.from' is -10 mm"},
    {odd_crack, "'kiln.openings.joint.exponent' is 1.2, expected 0.5 to 1"},
    {no_flue, "'kiln.flues' is empty"},
    {no_flue_area, "'kiln.flues.side.area' is 0 cm2, expected more than 0"},
    {high_flue, "'kiln.flues.side.height' is 1.121 m"},
    {over_open, "'kiln.flues.back.damper.open' is 120 %"},
    {tight_damper, "'kiln.flues.back.damper.leak' is 0"},
    {no_scale, "'kiln.flues.back.damper.scale' is 0"},
    {narrow_behind, "'kiln.flues.back.damper_downstream_area' is 239 cm2, expected at least the"},
    {no_rows, "'kiln.flues.back.damper.rows' has 0 rows, expected 2 to 16"},
    {rows_that_turn, "'kiln.flues.back.damper.rows' has an opening in row 3 that is not larger"},
    {losses_that_turn, "'kiln.flues.back.damper.rows' has a loss in row 3 that is not smaller"},
    {no_stack_height, "'kiln.stack.height' is missing"},
    {sunk_stack, "'kiln.stack.base_height' is -5.2 m"},
    {rough_stack, "'kiln.stack.roughness' is 41 mm, expected at most a fifth"},
    {gap_above_top, "'kiln.stack.hood_gap_height' is 3.7 m"},
    {no_heat_loss, "'kiln.stack.heat_loss_ntu' is missing"},
    {wind_from_nowhere, "'kiln.site.wind_speed' is -1 m/s, expected 0 or more"},
    {wall_of_wind, "'kiln.stack.wind_coefficient' is 0.51, expected -0.5 to 0.5"},
    {room_of_wind, "'room.wind_coefficient' is -0.52, expected -0.5 to 0.5"},
    {calm, ""},
    {wall_without_rows, "'kiln.stack.wall' is missing"},
    {wall_of_nothing, "'kiln.stack.wall' is 0, expected more than 0"},
    {negative_ua, "'kiln.stack.heat_loss_ua' is -1 W/K, expected 0 or more"},
};

static void every_nonsense_is_named(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        static dw_kiln kiln;
        char message[200] = "untouched";
        kiln = sound_kiln();
        cases[i].spoil(&kiln);
        dw_kiln_resolve(&kiln);
        const dw_status status = dw_kiln_check(&kiln, &table, message, sizeof message);
        const char *wanted = cases[i].message;
        const int right =
            wanted[0] == '\0' ? message[0] == '\0' : strncmp(message, wanted, strlen(wanted)) == 0;
        if (!right || (status == DW_OK) != (wanted[0] == '\0')) {
            print_error("case %zu: got (%s) %s\n    expected %s\n", i, dw_status_text(status),
                        message, wanted);
            fail();
        }
    }
}

static void what_is_sound_passes(void **state)
{
    (void)state;
    char message[200];
    /* a blown burner needs no throat, lit or not: off, it is its restriction */
    dw_kiln kiln = sound_kiln();
    kiln.burner_count = 2;
    kiln.burner[1] = kiln.burner[0];
    kiln.burner[1].kind = DW_BURNER_BLOWN;
    kiln.burner[1].throat_diameter_m = NAN;
    kiln.burner[1].air_flow_m3_s = 0.012;
    dw_kiln resolved = kiln;
    dw_kiln_resolve(&resolved);
    assert_int_equal(dw_kiln_check(&resolved, &table, message, sizeof message), DW_OK);
    resolved.burner[1].lit = false;
    assert_int_equal(dw_kiln_check(&resolved, &table, message, sizeof message), DW_OK);

    /* a closed shutter, an updraft kiln with its flue in the roof, a stack with its heat loss in W/K */
    kiln = sound_kiln();
    kiln.burner[0].shutter_open_frac = 0.0;
    kiln.flue[0].height_m = 1.12;
    kiln.flue[1].height_m = 1.12;
    kiln.stack.heat_loss_ntu = NAN;
    kiln.stack.heat_loss_ua_w_k = 14.0;
    dw_kiln_resolve(&kiln);
    assert_int_equal(dw_kiln_check(&kiln, &table, message, sizeof message), DW_OK);
    assert_string_equal(message, "");
}

static void a_hot_port_counts_only_while_the_burner_burns(void **state)
{
    (void)state;
    char message[200];
    dw_kiln kiln = sound_kiln();
    kiln.burner_count = 2;
    kiln.burner[1] = kiln.burner[0];
    dw_burner *burner = &kiln.burner[1];
    burner->throat_friction = 0.0;
    burner->diffuser_recovery = 0.95;
    burner->shutter_area_m2 = 0.1; /* air coefficient close to 1 */
    burner->port_loss = 0.6;       /* mixture coefficient 0.525 + 0.3 times the ratio */
    burner->port_temperature_ratio = 2.0;
    dw_kiln_resolve(&kiln);
    assert_int_equal(dw_kiln_check(&kiln, &table, message, sizeof message), DW_OK);
    burner->lit = false;
    assert_int_equal(dw_kiln_check(&kiln, &table, message, sizeof message), DW_ERR_DOMAIN);
    assert_non_null(strstr(message, "mixture coefficient 0.825"));
}

static void names_with_dots_are_quoted_in_messages(void **state)
{
    (void)state;
    char message[200], small[12];
    dw_kiln kiln = sound_kiln();
    strcpy(kiln.flue[0].name, "no. 2");
    kiln.flue[0].area_m2 = -1.0;
    dw_kiln_resolve(&kiln);
    assert_int_equal(dw_kiln_check(&kiln, &table, message, sizeof message), DW_ERR_DOMAIN);
    assert_string_equal(message, "'kiln.flues.\"no. 2\".area' is -10000 cm2, expected more than 0");
    /* a short buffer is filled and ended, not overrun */
    assert_int_equal(dw_kiln_check(&kiln, &table, small, sizeof small), DW_ERR_DOMAIN);
    assert_string_equal(small, "'kiln.flues");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(fixed_defaults_are_those_of_the_model),
        cmocka_unit_test(one_quench_temperature_is_both),
        cmocka_unit_test(geometry_of_the_chamber),
        cmocka_unit_test(datum_is_the_lowest_burner),
        cmocka_unit_test(site_and_leak_are_derived),
        cmocka_unit_test(burner_takes_from_operating_and_throat),
        cmocka_unit_test(space_behind_the_damper_follows_flues_and_stack),
        cmocka_unit_test(resolving_keeps_what_was_given),
        cmocka_unit_test(resolving_twice_changes_nothing),
        cmocka_unit_test(every_nonsense_is_named),
        cmocka_unit_test(what_is_sound_passes),
        cmocka_unit_test(a_hot_port_counts_only_while_the_burner_burns),
        cmocka_unit_test(names_with_dots_are_quoted_in_messages),
    };
    return cmocka_run_group_tests_name("kiln", tests, NULL, NULL);
}

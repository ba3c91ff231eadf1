/* Every limit of a kiln from both sides: the last value that is taken, the first that is not. */
#include "check.h"

#include <stddef.h>
#include <string.h>

#include "kit.h"

static dw_kiln kiln;
static char message[200];

/* A kiln with something of each kind: two burners, a hole, a crack, a gap, two joints, two flues and a stack. */
static void sound_kiln(void)
{
    kit_plain_kiln(&kiln);
    kiln.burner_count = 2;
    kiln.burner[1] = kiln.burner[0];
    strcpy(kiln.burner[1].name, "blower");
    kiln.burner[1].kind = DW_BURNER_BLOWN;
    kiln.burner[1].air_restriction_area_m2 = 3e-4;
    kiln.opening_count = 5;
    kiln.opening[1] = kiln.opening[2] = kiln.opening[0];
    strcpy(kiln.opening[1].name, "crack");
    kiln.opening[1].kind = DW_OPENING_CRACK;
    strcpy(kiln.opening[2].name, "gap");
    kiln.opening[2].kind = DW_OPENING_TALL;
    kiln.opening[2].from_m = 0.2;
    kiln.opening[2].to_m = 0.8;
    kiln.opening[3] = kiln.opening[2];
    strcpy(kiln.opening[3].name, "upright");
    kiln.opening[3].kind = DW_OPENING_JOINT;
    kiln.opening[3].area_m2 = kiln.opening[3].height_m = NAN;
    kiln.opening[3].width_m = 2e-3;
    kiln.opening[3].depth_m = 0.115;
    kiln.opening[3].length_m = 0.6;
    kiln.opening[4] = kiln.opening[3];
    strcpy(kiln.opening[4].name, "level");
    kiln.opening[4].height_m = 0.5;
    kiln.opening[4].from_m = kiln.opening[4].to_m = NAN;
    kiln.flue_count = 2;
    kiln.flue[1] = kiln.flue[0];
    strcpy(kiln.flue[1].name, "table");
    kiln.flue[1].damper = (dw_damper){.kind = DW_DAMPER_TABLE, .open_frac = 0.5, .leak_frac = 0.01,
                                      .scale = 1.0, .row_count = 3,
                                      .row_open_frac = {0.2, 0.5, 0.9},
                                      .row_loss = {50.0, 9.0, 0.5}};
    kiln.stack.present = true;
    kiln.stack.height_m = 4.0;
    kiln.stack.area_m2 = 400e-4;
    kiln.stack.base_height_m = 0.2;
    kiln.stack.relief_area_m2 = 10e-4;
}

static dw_status check(void)
{
    return dw_kiln_check(&kiln, &kit_data()->species, message, sizeof message);
}

#define ABOVE(x) ((x) + 1e-9)
#define BELOW(x) ((x) - 1e-9)
#define AT(member) offsetof(dw_kiln, member)
#define NO_END NAN /* a side without a limit */

/* low and high are taken; low_bad and high_bad are not. The message names the key. */
static const struct {
    const char *key;
    size_t offset;
    double low_bad, low, high, high_bad;
} limits[] = {
    {"'kiln.site.elevation'", AT(site.elevation_m), -401.0, -400.0, 5500.0, 5501.0},
    {"'kiln.site.pressure'", AT(site.pressure_pa_abs), 0.0, 1.0, 5e7, INFINITY},
    {"'kiln.site.air_temperature'", AT(site.air_temperature_k), 199.9, 200.0, 2000.0, 2000.1},
    {"'kiln.site.relative_humidity'", AT(site.relative_humidity), -1e-9, 0.0, 1.0, ABOVE(1.0)},
    {"'kiln.site.outside_temperature'", AT(site.outside_temperature_k), 199.9, 200.0, 2000.0, 2000.1},
    {"'kiln.site.room_temperature'", AT(site.room_temperature_k), 199.9, 200.0, 2000.0, 2000.1},
    {"'kiln.site.room_pressure'", AT(site.room_pressure_pa), -101326.0, -101325.0, 101325.0, 101326.0},
    {"'kiln.chamber.width'", AT(chamber.width_m), 0.0, 1e-9, 1e9, INFINITY},
    {"'kiln.chamber.depth'", AT(chamber.depth_m), 0.0, 1e-9, 1e9, INFINITY},
    {"'kiln.chamber.leak_area'", AT(chamber.leak_area_m2), -1e-9, 0.0, 1e9, INFINITY},
    {"'kiln.chamber.leak_discharge_coefficient'", AT(chamber.leak_discharge_coeff), 0.0, 1e-9, 1.0, ABOVE(1.0)},
    {"'kiln.chamber.packed'", AT(chamber.packed_frac), -1e-9, 0.0, BELOW(1.0), 1.0},
    {"'operating.gas_temperature'", AT(operating.gas_temperature_k), 199.9, 200.0, 2000.0, 2000.1},
    {"'operating.chamber_temperature'", AT(operating.chamber_temperature_k), 199.9, 200.0, 2000.0, 2000.1},
    {"'kiln.model.unmixedness'", AT(settings.unmixedness), -1e-9, 0.0, 0.5, ABOVE(0.5)},
    {"'kiln.model.quench_temperature'", AT(settings.quench_temperature_k), 899.9, 900.0, 1500.0, 1500.1},
    {"'kiln.model.quench_temperature_rich'", AT(settings.quench_temperature_rich_k), 899.9, 900.0, 1500.0, 1500.1},
    {"'kiln.model.gas_minus_reading'", AT(settings.gas_minus_reading_dk), -1273.2, -1273.149, 526.849, 526.9},
    {"'kiln.burners.burner.height'", AT(burner[0].height_m), -1e-9, 0.0, 1.0, ABOVE(1.0)},
    {"'kiln.burners.burner.gas_pressure'", AT(burner[0].gas_pressure_pa), -1e-9, 0.0, 1e9, INFINITY},
    {"'kiln.burners.burner.air_pressure'", AT(burner[0].air_pressure_pa), -1e-9, 0.0, 1e9, INFINITY},
    {"'kiln.burners.burner.jet.diameter'", AT(burner[0].jet_diameter_m), 0.0, 1e-9, 0.0399, NO_END},
    {"'kiln.burners.burner.jet.discharge_coefficient'", AT(burner[0].jet_discharge_coeff), 0.0, 1e-9, 1.0, ABOVE(1.0)},
    {"'kiln.burners.burner.jet.velocity_coefficient'", AT(burner[0].jet_velocity_coeff), 0.0, 1e-9, 1.0, ABOVE(1.0)},
    {"'kiln.burners.burner.air_jet.diameter'", AT(burner[0].air_jet_diameter_m), -1e-9, 0.0, 0.0398, NO_END},
    {"'kiln.burners.burner.air_jet.discharge_coefficient'", AT(burner[0].air_jet_discharge_coeff), 0.0, 1e-9, 1.0, ABOVE(1.0)},
    {"'kiln.burners.burner.throat_diameter'", AT(burner[0].throat_diameter_m), 0.0, NO_END, NO_END, INFINITY},
    {"'kiln.burners.burner.port_diameter'", AT(burner[0].port_diameter_m), 0.0, 1e-3, 1e9, INFINITY},
    {"'kiln.burners.burner.shutter'", AT(burner[0].shutter_open_frac), -1e-9, 0.0, 1.0, ABOVE(1.0)},
    {"'kiln.burners.burner.shutter_area'", AT(burner[0].shutter_area_m2), -1e-9, 0.0, 1e9, INFINITY},
    {"'kiln.burners.burner.shutter_discharge_coefficient'", AT(burner[0].shutter_discharge_coeff), 0.0, 1e-9, 1.0, ABOVE(1.0)},
    {"'kiln.burners.burner.throat_friction'", AT(burner[0].throat_friction), -1e-9, 0.0, 1e9, INFINITY},
    {"'kiln.burners.burner.diffuser_recovery'", AT(burner[0].diffuser_recovery), -1e-9, 0.0, 1.0, ABOVE(1.0)},
    {"'kiln.burners.burner.port_loss'", AT(burner[0].port_loss), -1e-9, 0.0, 1e9, INFINITY},
    {"'kiln.burners.burner.port_temperature_ratio'", AT(burner[0].port_temperature_ratio), 0.0, 1e-9, 1e9, INFINITY},
    {"'kiln.burners.blower.air_restriction.area'", AT(burner[1].air_restriction_area_m2), 0.0, 1e-9, 1e9, INFINITY},
    {"'kiln.burners.blower.air_restriction.discharge_coefficient'", AT(burner[1].air_restriction_coeff), 0.0, 1e-9, 1.0, ABOVE(1.0)},
    {"'kiln.openings.port.area'", AT(opening[0].area_m2), -1e-9, 0.0, 1e9, INFINITY},
    {"'kiln.openings.port.open'", AT(opening[0].open_frac), -1e-9, 0.0, 1.0, ABOVE(1.0)},
    {"'kiln.openings.port.height'", AT(opening[0].height_m), -1e-9, 0.0, 1.0, ABOVE(1.0)},
    {"'kiln.openings.port.discharge_coefficient'", AT(opening[0].discharge_coeff), 0.0, 1e-9, 1.0, ABOVE(1.0)},
    {"'kiln.openings.port.depth'", AT(opening[0].depth_m), 0.0, 1e-9, 1e9, INFINITY},
    {"'kiln.openings.crack.height'", AT(opening[1].height_m), -1e-9, 0.0, 1.0, ABOVE(1.0)},
    {"'kiln.openings.crack.exponent'", AT(opening[1].exponent), BELOW(0.5), 0.5, 1.0, ABOVE(1.0)},
    {"'kiln.openings.crack.reference_pressure'", AT(opening[1].reference_pressure_pa), 0.0, 1e-9, 1e9, INFINITY},
    {"'kiln.openings.gap.from'", AT(opening[2].from_m), -1e-9, 0.0, BELOW(0.8), 0.8},
    {"'kiln.openings.gap.to'", AT(opening[2].to_m), NO_END, ABOVE(0.2), 1.0, ABOVE(1.0)},
    {"'kiln.openings.upright.width'", AT(opening[3].width_m), 0.0, 1e-9, 1e9, INFINITY},
    {"'kiln.openings.upright.depth'", AT(opening[3].depth_m), 0.0, 1e-9, 1e9, INFINITY},
    {"'kiln.openings.upright.length'", AT(opening[3].length_m), BELOW(0.6), 0.6, 1e9, INFINITY},
    {"'kiln.openings.upright.open'", AT(opening[3].open_frac), -1e-9, 0.0, 1.0, ABOVE(1.0)},
    {"'kiln.openings.upright.from'", AT(opening[3].from_m), -1e-9, NO_END, BELOW(0.8), 0.8},
    {"'kiln.openings.upright.to'", AT(opening[3].to_m), NO_END, ABOVE(0.2), 0.8, ABOVE(1.0)},
    {"'kiln.openings.level.length'", AT(opening[4].length_m), 0.0, 1e-9, 1e9, INFINITY},
    {"'kiln.openings.level.height'", AT(opening[4].height_m), -1e-9, 0.0, 1.0, ABOVE(1.0)},
    {"'kiln.flues.flue.area'", AT(flue[0].area_m2), 0.0, 1e-9, 1e9, INFINITY},
    {"'kiln.flues.flue.height'", AT(flue[0].height_m), -1e-9, 0.0, 1.0, ABOVE(1.0)},
    {"'kiln.flues.flue.entry_loss'", AT(flue[0].entry_loss), -1e-9, 0.0, 1e9, INFINITY},
    {"'kiln.flues.flue.floor_loss'", AT(flue[0].floor_loss), -1e-9, 0.0, 1e9, INFINITY},
    {"'kiln.chamber.setting_loss'", AT(chamber.setting_loss), -1e-9, 0.0, 1e9, INFINITY},
    {"'kiln.flues.flue.damper.open'", AT(flue[0].damper.open_frac), -1e-9, 0.0, 1.0, ABOVE(1.0)},
    {"'kiln.flues.flue.damper.scale'", AT(flue[0].damper.scale), 0.0, 1e-9, 1e9, INFINITY},
    {"'kiln.flues.flue.damper.leak'", AT(flue[0].damper.leak_frac), 0.0, 1e-9, BELOW(1.0), 1.0},
    {"'kiln.flues.table.damper.rows' has an opening of 0 % in row 1", AT(flue[1].damper.row_open_frac[0]), 0.0, 1e-9, BELOW(0.5), NO_END},
    {"'kiln.flues.table.damper.rows' has an opening in row 2 that is not larger", AT(flue[1].damper.row_open_frac[1]), 0.2, ABOVE(0.2), BELOW(0.9), NO_END},
    {"'kiln.flues.table.damper.rows' has an opening of 100.5 % in row 3", AT(flue[1].damper.row_open_frac[2]), NO_END, ABOVE(0.5), 1.0, 1.005},
    {"'kiln.flues.table.damper.rows' has a loss of inf in row 1", AT(flue[1].damper.row_loss[0]), NO_END, ABOVE(9.0), 1e9, INFINITY},
    {"'kiln.flues.table.damper.rows' has a loss in row 2 that is not smaller", AT(flue[1].damper.row_loss[1]), NO_END, ABOVE(0.5), BELOW(50.0), 50.0},
    {"'kiln.flues.table.damper.rows' has a loss of -1 in row 3", AT(flue[1].damper.row_loss[2]), -1.0, 0.0, BELOW(9.0), NO_END},
    {"'kiln.stack.height'", AT(stack.height_m), 0.0, 1e-9, 1e9, INFINITY},
    {"'kiln.stack.area'", AT(stack.area_m2), 0.0, 1.0, 1e9, INFINITY},
    {"'kiln.stack.base_height'", AT(stack.base_height_m), -5.01, -5.0, 1.0, ABOVE(1.0)},
    {"'kiln.stack.bends'", AT(stack.bend_count), -1e-9, 0.0, 1e9, INFINITY},
    {"'kiln.stack.bend_loss'", AT(stack.bend_loss), -1e-9, 0.0, 1e9, INFINITY},
    {"'kiln.stack.cap_loss'", AT(stack.cap_loss), -1e-9, 0.0, 1e9, INFINITY},
    {"'kiln.stack.exit_loss'", AT(stack.exit_loss), -1e-9, 0.0, 1e9, INFINITY},
    {"'kiln.stack.relief_opening'", AT(stack.relief_area_m2), -1e-9, 0.0, 1e9, INFINITY},
    {"'kiln.stack.relief_discharge_coefficient'", AT(stack.relief_discharge_coeff), 0.0, 1e-9, 1.0, ABOVE(1.0)},
    {"'kiln.stack.roughness' is 40.1 mm, expected at most a fifth of the width of the stack, 40 mm", AT(stack.roughness_m), NO_END, 0.0, 0.04, 0.0401},
    {"'kiln.stack.roughness'", AT(stack.roughness_m), -1e-9, 0.0, 0.04, ABOVE(0.04)},
    {"'kiln.stack.hood_gap_height'", AT(stack.hood_gap_height_m), 0.0, 1e-9, 4.0, ABOVE(4.0)},
    {"'kiln.stack.heat_loss_ntu'", AT(stack.heat_loss_ntu), -1e-9, 0.0, 1e9, INFINITY},
    {"'kiln.stack.heat_loss_ua'", AT(stack.heat_loss_ua_w_k), -1e-9, 0.0, 1e9, INFINITY},
};

static void put(size_t i, double value)
{
    sound_kiln();
    memcpy((char *)&kiln + limits[i].offset, &value, sizeof value);
}

static void every_limit_is_taken_and_not_a_hair_beyond(void **state)
{
    (void)state;
    sound_kiln();
    assert_int_equal(check(), DW_OK);
    assert_string_equal(message, "");
    for (size_t i = 0; i < sizeof limits / sizeof limits[0]; i++) {
        const double good[] = {limits[i].low, limits[i].high};
        const double bad[] = {limits[i].low_bad, limits[i].high_bad};
        for (int side = 0; side < 2; side++) {
            if (!isnan(good[side])) {
                put(i, good[side]);
                if (check() != DW_OK) fail_msg("%s: %g refused: %s", limits[i].key, good[side], message);
            }
            if (isnan(bad[side])) continue;
            put(i, bad[side]);
            const char *key = limits[i].key;
            if (check() == DW_OK) fail_msg("%s: %g taken", key, bad[side]);
            if (strncmp(message, key, strlen(key)) != 0) fail_msg("%s for %s", message, key);
        }
    }
}

static void shares_of_the_fuel_sum_to_one(void **state)
{
    (void)state;
    const int ch4 = dw_species_find(&kit_data()->species, "CH4");
    const int o2 = dw_species_find(&kit_data()->species, "O2");
    sound_kiln();
    kiln.fuel.x[ch4] = 1.0 - 0.999e-9;
    assert_int_equal(check(), DW_OK);
    kiln.fuel.x[ch4] = 1.0 - 1.001e-9;
    assert_int_equal(check(), DW_ERR_DOMAIN);
    kiln.fuel.x[ch4] = 1.005;
    assert_int_equal(check(), DW_ERR_DOMAIN);
    assert_string_equal(message, "'kiln.fuel.CH4' is 100.5 %, expected 0 % to 100 %");
    /* A mole of methane burns with two of oxygen: a third is the last that still wants air. */
    kiln.fuel.x[ch4] = 1.0 / 3.0 + 1e-4;
    kiln.fuel.x[o2] = 2.0 / 3.0 - 1e-4;
    assert_int_equal(check(), DW_OK);
    kiln.fuel.x[ch4] = 1.0 / 3.0 - 1e-4;
    kiln.fuel.x[o2] = 2.0 / 3.0 + 1e-4;
    assert_int_equal(check(), DW_ERR_DOMAIN);
    assert_string_equal(message, "'kiln.fuel' does not burn: it needs no oxygen");
}

static void throat_holds_both_jets(void **state)
{
    (void)state;
    sound_kiln();
    kiln.burner[0].jet_diameter_m = 24e-3; /* 24, 32 and 40 are 3, 4 and 5 */
    kiln.burner[0].air_jet_diameter_m = 31.99e-3;
    assert_int_equal(check(), DW_OK);
    kiln.burner[0].air_jet_diameter_m = 32.01e-3;
    assert_int_equal(check(), DW_ERR_DOMAIN);
    assert_non_null(strstr(message, "'kiln.burners.burner.throat_diameter' is 40 mm"));
}

static void mixture_must_lose_more_than_the_air(void **state)
{
    (void)state;
    /* kappa_m = 1 + (0.18 - 1 + port_loss (d/D)^4)/2 with d/D = 40/50; kappa_a = 1 - (A/(Cd S f))^2/2. */
    sound_kiln();
    dw_burner *b = &kiln.burner[0];
    b->diffuser_recovery = 1.0;
    b->port_diameter_m = 50e-3;
    b->shutter_area_m2 = 0.02;
    b->shutter_open_frac = 0.5;
    const double throat = 3.14159265358979 / 4.0 * 40e-3 * 40e-3;
    const double air = 1.0 - 0.5 * pow(throat / (0.62 * 0.02 * 0.5), 2);
    const double port_loss = (2.0 * (air - 1.0) + 1.0 - 0.18) / pow(0.8, 4);
    b->port_loss = port_loss + 1e-6;
    assert_int_equal(check(), DW_OK);
    b->port_loss = port_loss - 1e-6;
    assert_int_equal(check(), DW_ERR_DOMAIN);
    assert_non_null(strstr(message, "'kiln.burners.burner' loses too little"));
}

static void space_behind_the_damper_is_no_narrower_than_the_flue(void **state)
{
    (void)state;
    sound_kiln();
    kiln.flue[0].downstream_is_plenum = false;
    kiln.flue[0].downstream_area_m2 = 200e-4 * (1.0 - 0.9e-12);
    assert_int_equal(check(), DW_OK);
    kiln.flue[0].downstream_area_m2 = 200e-4 * (1.0 - 1.1e-12);
    assert_int_equal(check(), DW_ERR_DOMAIN);
    kiln.flue[0].downstream_is_plenum = true;
    assert_int_equal(check(), DW_OK);
}

static void flue_that_loses_nothing_is_refused(void **state)
{
    (void)state;
    for (int table = 0; table < 2; table++) {
        sound_kiln();
        dw_flue *f = &kiln.flue[table];
        f->downstream_is_plenum = false;
        f->downstream_area_m2 = f->area_m2;
        f->damper.open_frac = 1.0;
        if (table) {
            f->damper.row_open_frac[2] = 1.0;
            f->damper.row_loss[2] = 0.0;
        }
        f->entry_loss = 1e-6;
        assert_int_equal(check(), DW_OK);
        f->entry_loss = 0.0;
        assert_int_equal(check(), DW_ERR_DOMAIN);
        assert_non_null(strstr(message, "' loses nothing: its damper is wide open"));
        assert_non_null(strstr(message, table ? "'kiln.flues.table'" : "'kiln.flues.flue'"));
        f->floor_loss = 1e-6;
        assert_int_equal(check(), DW_OK);
        f->floor_loss = 0.0;
        f->damper.open_frac = 0.97;
        assert_int_equal(check(), DW_OK);
        /* Where it ends in the room it loses its speed. */
        f->damper.open_frac = 1.0;
        kiln.stack.present = false;
        assert_int_equal(check(), DW_OK);
    }
}

static void round_stack_is_as_wide_as_its_diameter(void **state)
{
    (void)state;
    sound_kiln();
    kiln.stack.round = true;
    const double fifth = 0.2 * sqrt(4.0 * 400e-4 / 3.14159265358979);
    kiln.stack.roughness_m = fifth * (1.0 - 1e-9);
    assert_int_equal(check(), DW_OK);
    kiln.stack.roughness_m = fifth * (1.0 + 1e-9);
    assert_int_equal(check(), DW_ERR_DOMAIN);
}

static void counts_of_rows_and_pieces(void **state)
{
    (void)state;
    sound_kiln();
    dw_damper *damper = &kiln.flue[1].damper;
    damper->row_count = 2;
    assert_int_equal(check(), DW_OK);
    damper->row_count = 1;
    assert_int_equal(check(), DW_ERR_DOMAIN);
    for (int i = 0; i < DW_DAMPER_ROW_MAX; i++) {
        damper->row_open_frac[i] = 0.05 * (i + 1);
        damper->row_loss[i] = 100.0 - i;
    }
    damper->row_count = DW_DAMPER_ROW_MAX;
    assert_int_equal(check(), DW_OK);
    damper->row_count = DW_DAMPER_ROW_MAX + 1;
    assert_int_equal(check(), DW_ERR_DOMAIN);
    /* What lies beyond the count is no row. */
    damper->row_count = 4;
    damper->row_open_frac[4] = 7.0;
    assert_int_equal(check(), DW_OK);
    sound_kiln();
    kiln.opening[0].count = 0;
    assert_int_equal(check(), DW_ERR_DOMAIN);
    assert_string_equal(message, "'kiln.openings.port.count' is 0, expected 1 or more");
    sound_kiln();
    kiln.burner[1].air_restriction_area_m2 = NAN;
    kiln.burner[1].air_flow_m3_s = -1e-9;
    assert_int_equal(check(), DW_ERR_DOMAIN);
    kiln.burner[1].air_flow_m3_s = 0.0;
    assert_int_equal(check(), DW_OK);
}

static void what_is_left_out_is_called_missing(void **state)
{
    (void)state;
    sound_kiln();
    kiln.opening[0].height_m = NAN;
    assert_int_equal(check(), DW_ERR_DOMAIN);
    assert_string_equal(message, "'kiln.openings.port.height' is missing");
    sound_kiln();
    kiln.opening[0].discharge_coeff = NAN;
    assert_int_equal(check(), DW_ERR_DOMAIN);
    assert_string_equal(message, "'kiln.openings.port.discharge_coefficient' is missing");
    /* Without room for a message the answer is the same. */
    char none = 'x';
    assert_int_equal(dw_kiln_check(&kiln, &kit_data()->species, &none, 0), DW_ERR_DOMAIN);
    assert_int_equal(none, 'x');
}

static void joint_is_either_level_or_upright(void **state)
{
    (void)state;
    static const char both[] = "'kiln.openings.level' has both height and from or to, expected "
                               "height for a level joint, or from and to for an upright one";
    sound_kiln();
    kiln.opening[4].to_m = 0.9;
    assert_int_equal(check(), DW_ERR_DOMAIN);
    assert_string_equal(message, both);
    kiln.opening[4].from_m = 0.2;
    assert_int_equal(check(), DW_ERR_DOMAIN);
    assert_string_equal(message, both);
    kiln.opening[4].height_m = NAN;
    kiln.opening[4].length_m = 0.7;
    assert_int_equal(check(), DW_OK);
    kiln.opening[4].to_m = NAN;
    assert_int_equal(check(), DW_ERR_DOMAIN);
    assert_string_equal(message, "'kiln.openings.level.to' is missing");
    kiln.opening[4].from_m = NAN;
    assert_int_equal(check(), DW_ERR_DOMAIN);
    assert_non_null(strstr(message, "has neither height nor from and to, expected height for a level"));
    sound_kiln();
    kiln.opening[4].length_m = NAN;
    assert_int_equal(check(), DW_ERR_DOMAIN);
    assert_string_equal(message, "'kiln.openings.level.length' is missing");
    /* Of an upright one its length follows; the difference of its ends may be a rounding error longer. */
    kiln.opening[4].length_m = 1.0;
    kiln.opening[3].length_m = NAN;
    dw_kiln_resolve(&kiln);
    assert_close(kiln.opening[3].length_m, 0.6, 1e-15, 0.0);
    kiln.opening[3].length_m = 0.6 * (1.0 - 0.9e-9);
    assert_int_equal(check(), DW_OK);
    kiln.opening[3].length_m = 0.6 * (1.0 - 1.1e-9);
    assert_int_equal(check(), DW_ERR_DOMAIN);
    assert_string_equal(message, "'kiln.openings.upright.length' is 0.6 m, expected at least the 0.6 m from its "
                                 "lower to its upper end");
}

static void gauge_and_supply_go_together(void **state)
{
    (void)state;
    dw_operating *o = &kiln.operating;
    sound_kiln();
    o->gauge = DW_GAUGE_MANIFOLD;
    assert_int_equal(check(), DW_ERR_DOMAIN);
    assert_memory_equal(message, "'operating.gauge' is manifold", 29);
    o->supply_static_pa = 1700.0;
    assert_int_equal(check(), DW_ERR_DOMAIN);
    assert_memory_equal(message, "'operating.supply.running' is missing", 37);
    o->supply_running_pa = BELOW(1700.0);
    assert_int_equal(check(), DW_OK);
    o->supply_running_pa = 1700.0;
    assert_int_equal(check(), DW_ERR_DOMAIN);
    assert_memory_equal(message, "'operating.supply.running' is 1.7 kPa", 37);
    o->supply_running_pa = 0.0;
    assert_int_equal(check(), DW_ERR_DOMAIN);
    o->supply_running_pa = 1e-6;
    assert_int_equal(check(), DW_OK);
    o->supply_static_pa = INFINITY;
    assert_int_equal(check(), DW_ERR_DOMAIN);
    o->supply_static_pa = NAN;
    assert_int_equal(check(), DW_ERR_DOMAIN);
    assert_memory_equal(message, "'operating.supply.static' is missing", 36);
    /* Half a supply is none at the jets either. */
    o->gauge = DW_GAUGE_JET;
    assert_int_equal(check(), DW_ERR_DOMAIN);
    o->supply_running_pa = NAN;
    assert_int_equal(check(), DW_OK);
}

static void what_lies_beyond_the_counts_is_no_part_of_the_kiln(void **state)
{
    (void)state;
    dw_kiln_init(&kiln);
    kit_plain_kiln(&kiln);
    kiln.flue[0].downstream_is_plenum = false;
    kiln.flue[0].downstream_area_m2 = NAN;
    kiln.stack.present = true;
    kiln.stack.area_m2 = 400e-4;
    kiln.burner[1].height_m = 0.0;
    kiln.burner[1].gas_pressure_pa = NAN;
    kiln.flue[1] = kiln.flue[0];
    kiln.flue[1].height_m = 0.05;
    assert_close(dw_kiln_datum_height_m(&kiln), 0.1, 0.0, 0.0);
    dw_kiln_resolve(&kiln);
    /* One flue of half the stack's area, at 0.9 m. */
    assert_close(kiln.flue[0].downstream_area_m2, 400e-4, 1e-12, 0.0);
    assert_close(kiln.stack.base_height_m, 0.9, 0.0, 0.0);
    assert_true(isnan(kiln.burner[1].gas_pressure_pa));
    assert_true(isnan(kiln.flue[1].downstream_area_m2));
    /* Without a flue there is no lowest one. */
    kiln.flue_count = 0;
    kiln.stack.base_height_m = NAN;
    dw_kiln_resolve(&kiln);
    assert_true(isnan(kiln.stack.base_height_m));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_limit_is_taken_and_not_a_hair_beyond),
        cmocka_unit_test(shares_of_the_fuel_sum_to_one),
        cmocka_unit_test(throat_holds_both_jets),
        cmocka_unit_test(mixture_must_lose_more_than_the_air),
        cmocka_unit_test(space_behind_the_damper_is_no_narrower_than_the_flue),
        cmocka_unit_test(flue_that_loses_nothing_is_refused),
        cmocka_unit_test(round_stack_is_as_wide_as_its_diameter),
        cmocka_unit_test(counts_of_rows_and_pieces),
        cmocka_unit_test(joint_is_either_level_or_upright),
        cmocka_unit_test(gauge_and_supply_go_together),
        cmocka_unit_test(what_lies_beyond_the_counts_is_no_part_of_the_kiln),
        cmocka_unit_test(what_is_left_out_is_called_missing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

/** @file test_kiln_idle.c  Unit tests of kiln/kiln_effect: for what reason a key has no effect. */

#include "check.h"

#include <string.h>

#include "kiln_effect.h"
#include "kit.h"

static dw_kiln kiln;

static void nothing(void) {}
static void stack(void)
{
    kiln.stack.present = true;
    kiln.stack.bend_count = 1.0;
}
static void stack_without_bends(void)
{
    stack();
    kiln.stack.bend_count = 0.0;
}
static void stack_with_wall(void)
{
    stack();
    kiln.stack.wall = DW_WALL_BARE_STEEL;
}
static void hood(void)
{
    stack();
    kiln.stack.hood_gap_height_m = 2.0;
}
static void hood_in_a_room(void)
{
    hood();
    kiln.room.present = true;
}
static void relief(void)
{
    stack();
    kiln.stack.relief_area_m2 = 1e-3;
}
static void windy(void)
{
    stack();
    kiln.site.wind_speed_m_s = 4.0;
}
static void calm(void)
{
    stack();
    kiln.site.wind_speed_m_s = 0.0;
}
static void unlit(void) { kiln.burner[0].lit = false; }
static void plugged(void)
{
    unlit();
    kiln.burner[0].plugged = true;
}
static void unlit_blown(void)
{
    unlit();
    kiln.burner[0].kind = DW_BURNER_BLOWN;
}
static void shut(void) { kiln.burner[0].shutter_open_frac = 0.0; }
static void nearly_shut(void) { kiln.burner[0].shutter_open_frac = 1e-6; }
static void no_shutter_area(void) { kiln.burner[0].shutter_area_m2 = NAN; }
static void shutter_area(void) { kiln.burner[0].shutter_area_m2 = 1e-3; }
static void air_jet(void) { kiln.burner[0].air_jet_diameter_m = 1e-3; }
static void air_jet_with_air(void)
{
    air_jet();
    kiln.operating.air_pressure_pa = 2e5;
    kiln.burner[0].air_pressure_pa = NAN;
}
static void air_of_its_own(void)
{
    air_jet();
    kiln.operating.air_pressure_pa = 0.0;
    kiln.burner[0].air_pressure_pa = 1e5;
}
static void no_air(void)
{
    air_jet();
    kiln.operating.air_pressure_pa = 0.0;
    kiln.burner[0].air_pressure_pa = NAN;
}
static void blown(void) { kiln.burner[0].kind = DW_BURNER_BLOWN; }
static void blown_by_flow(void)
{
    blown();
    kiln.burner[0].air_flow_m3_s = 0.01;
}
static void jet_given(void) { kiln.burner[0].jet_coeffs_given = true; }
static void gas_of_its_own(void) { kiln.burner[0].gas_pressure_pa = 5e3; }
static void manifold(void) { kiln.operating.gauge = DW_GAUGE_MANIFOLD; }
static void closed(void) { kiln.opening[0].open_frac = 0.0; }
static void room(void) { kiln.room.present = true; }
static void deep(void)
{
    kiln.opening[0].depth_m = 0.1;
    kiln.opening[0].discharge_coeff = NAN;
}
static void deep_and_given(void)
{
    kiln.opening[0].depth_m = 0.1;
    kiln.opening[0].discharge_coeff = 0.7;
}
static void leaky(void) { kiln.chamber.leak_area_m2 = 1e-3; }
static void tight(void) { kiln.chamber.leak_area_m2 = 0.0; }
static void pressure(void) { kiln.site.pressure_pa_abs = 95e3; }
static void floor_given(void) { kiln.flue[0].floor_loss_given = true; }
static void butterfly(void) { kiln.flue[0].damper.kind = DW_DAMPER_BUTTERFLY; }
static void butterfly_before_a_stack(void)
{
    butterfly();
    stack();
}
static void table(void) { kiln.flue[0].damper.kind = DW_DAMPER_TABLE; }
static void shelf(void)
{
    kiln.flue[0].damper.kind = DW_DAMPER_SHELF;
    kiln.flue[0].damper.thickness_m = 0.02;
}
static void shelf_of_both_sizes(void)
{
    shelf();
    kiln.flue[0].damper.mouth_width_m = 0.1;
}
static void fan(void) { kiln.room.exhaust_fan_m3_s = 0.1; }
static void tall_person(void) { kiln.room.person_height_m = 1.7; }
static void person(void)
{
    tall_person();
    kiln.room.person_mass_kg = 70.0;
}

#define BEHIND_ROOM "behind a butterfly without a stack is the room"
#define NO_STACK "there is no stack, so the flues end in the room"
#define GAP "the stack ends at a hood gap in the room"

/* A key of the first object of a kind; why it has no effect, NULL: it has one. */
static const struct {
    void (*make)(void);
    dw_object object;
    const char *key, *why;
} rows[] = {
    {nothing, DW_OBJECT_BURNER, "gas_pressure", NULL},
    {unlit, DW_OBJECT_BURNER, "gas_pressure", "this burner is not lit"},
    {nothing, DW_OBJECT_BURNER, "plugged", "this burner is lit"},
    {unlit, DW_OBJECT_BURNER, "plugged", NULL},
    {nothing, DW_OBJECT_BURNER, "throat_diameter", NULL},
    {unlit, DW_OBJECT_BURNER, "throat_diameter", NULL},
    {plugged, DW_OBJECT_BURNER, "throat_diameter", "this burner is plugged"},
    {unlit, DW_OBJECT_BURNER, "jet.diameter", NULL},
    {plugged, DW_OBJECT_BURNER, "jet.diameter", "this burner is not lit"},
    {unlit_blown, DW_OBJECT_BURNER, "jet.diameter", "this burner is not lit"},
    {nothing, DW_OBJECT_BURNER, "inlet_loss", NULL},
    {nearly_shut, DW_OBJECT_BURNER, "inlet_loss", NULL},
    {shut, DW_OBJECT_BURNER, "inlet_loss", "the shutter is closed"},
    {no_shutter_area, DW_OBJECT_BURNER, "shutter_discharge_coefficient", "shutter_area is not given"},
    {shutter_area, DW_OBJECT_BURNER, "shutter_discharge_coefficient", NULL},
    {nothing, DW_OBJECT_BURNER, "jet.kind", NULL},
    {jet_given, DW_OBJECT_BURNER, "jet.kind", "the coefficients of the jet are given"},
    {nothing, DW_OBJECT_BURNER, "air_pressure", "this burner has no air_jet.diameter"},
    {air_jet, DW_OBJECT_BURNER, "air_pressure", NULL},
    {blown, DW_OBJECT_BURNER, "air_pressure", NULL},
    {blown_by_flow, DW_OBJECT_BURNER, "air_pressure", "the air flow of this burner is given"},
    {air_jet_with_air, DW_OBJECT_BURNER, "air_jet.discharge_coefficient", NULL},
    {air_of_its_own, DW_OBJECT_BURNER, "air_jet.discharge_coefficient", NULL},
    {no_air, DW_OBJECT_BURNER, "air_jet.discharge_coefficient", "there is no air_pressure"},
    {nothing, DW_OBJECT_BURNER, "air_jet.discharge_coefficient", "this burner has no air_jet.diameter"},
    {blown, DW_OBJECT_BURNER, "air_restriction.discharge_coefficient", NULL},
    {blown_by_flow, DW_OBJECT_BURNER, "air_restriction.discharge_coefficient", "the air flow of this burner is given"},
    {nothing, DW_OBJECT_OPENING, "area", NULL},
    {closed, DW_OBJECT_OPENING, "area", "this opening is closed (open: 0 %)"},
    {nothing, DW_OBJECT_OPENING, "burnt_share", "there is no room"},
    {room, DW_OBJECT_OPENING, "burnt_share", NULL},
    {nothing, DW_OBJECT_OPENING, "depth", "no depth is given in the description"},
    {deep, DW_OBJECT_OPENING, "depth", NULL},
    {deep_and_given, DW_OBJECT_OPENING, "depth", "discharge_coefficient is given"},
    {nothing, DW_OBJECT_OPENING, "exponent", "the kind is hole"},
    {leaky, DW_OBJECT_CHAMBER, "leak_discharge_coefficient", NULL},
    {tight, DW_OBJECT_CHAMBER, "leak_discharge_coefficient", "leak_area is 0"},
    {nothing, DW_OBJECT_SITE, "elevation", NULL},
    {pressure, DW_OBJECT_SITE, "elevation", "site.pressure is given"},
    {nothing, DW_OBJECT_SITE, "outside_temperature", NO_STACK},
    {stack, DW_OBJECT_SITE, "outside_temperature", NULL},
    {hood, DW_OBJECT_SITE, "outside_temperature", GAP},
    {hood_in_a_room, DW_OBJECT_SITE, "outside_temperature", NULL},
    {hood, DW_OBJECT_SITE, "room_pressure", GAP},
    {nothing, DW_OBJECT_SITE, "wind_speed", NO_STACK},
    {stack, DW_OBJECT_SITE, "wind_speed", NULL},
    {hood_in_a_room, DW_OBJECT_SITE, "wind_speed", GAP},
    {windy, DW_OBJECT_STACK, "wind_coefficient", NULL},
    {calm, DW_OBJECT_STACK, "wind_coefficient", "there is no wind_speed"},
    {stack, DW_OBJECT_STACK, "bend_loss", NULL},
    {stack_without_bends, DW_OBJECT_STACK, "bend_loss", "bends is 0"},
    {stack, DW_OBJECT_STACK, "cap_loss", NULL},
    {hood, DW_OBJECT_STACK, "cap_loss", "the open hood gap is where the stack ends"},
    {stack, DW_OBJECT_STACK, "relief_discharge_coefficient", "there is no relief_opening"},
    {relief, DW_OBJECT_STACK, "relief_discharge_coefficient", NULL},
    {stack, DW_OBJECT_STACK, "heat_loss_ntu", NULL},
    {stack_with_wall, DW_OBJECT_STACK, "heat_loss_ntu", "the wall of the stack is given"},
    {nothing, DW_OBJECT_FLUE, "floor_kind", NULL},
    {floor_given, DW_OBJECT_FLUE, "floor_kind", "floor_loss is given"},
    {nothing, DW_OBJECT_FLUE, "damper_downstream_area", NULL},
    {butterfly, DW_OBJECT_FLUE, "damper_downstream_area", BEHIND_ROOM},
    {butterfly_before_a_stack, DW_OBJECT_FLUE, "damper_downstream_area", NULL},
    {table, DW_OBJECT_FLUE, "damper_downstream_area", "the rows of a damper table include what is behind it"},
    {shelf, DW_OBJECT_FLUE, "damper_downstream_area", "a wide space is behind a shelf"},
    {shelf, DW_OBJECT_DAMPER, "thickness", "it is used only when thickness and mouth_width are both given"},
    {shelf_of_both_sizes, DW_OBJECT_DAMPER, "thickness", NULL},
    {nothing, DW_OBJECT_OPERATING, "gas_pressure", NULL},
    {unlit, DW_OBJECT_OPERATING, "gas_pressure", "no burner is lit"},
    {gas_of_its_own, DW_OBJECT_OPERATING, "gas_pressure", "every lit burner has a gas_pressure of its own"},
    {nothing, DW_OBJECT_OPERATING, "air_pressure", "no lit burner has an air jet or is blown through a restriction"},
    {air_jet, DW_OBJECT_OPERATING, "air_pressure", NULL},
    {air_of_its_own, DW_OBJECT_OPERATING, "air_pressure",
     "every lit burner that takes air has an air_pressure of its own"},
    {nothing, DW_OBJECT_OPERATING, "supply.static", "gas_pressure is read at the jets (gauge: jet)"},
    {manifold, DW_OBJECT_OPERATING, "supply.static", NULL},
    {room, DW_OBJECT_ROOM, "exhaust_fan_pressure", "there is no exhaust_fan_flow"},
    {fan, DW_OBJECT_ROOM, "exhaust_fan_pressure", NULL},
    {tall_person, DW_OBJECT_ROOM, "person.height",
     "it is used only when person.height and person.mass are both given"},
    {person, DW_OBJECT_ROOM, "person.height", NULL},
};

static void a_key_has_no_effect_for_one_reason(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        kit_plain_kiln(&kiln);
        kiln.site.pressure_pa_abs = NAN;
        kiln.burner[0].gas_pressure_pa = kiln.burner[0].air_pressure_pa = NAN;
        rows[i].make();
        const dw_keys *keys = dw_keys_of(rows[i].object);
        const int row = dw_keys_row(keys, rows[i].key);
        if (row == DW_NO_ROW) fail_msg("no key %s", rows[i].key);
        char reason[DW_IDLE_SIZE] = "";
        unsigned lacks = 77;
        const bool idle = dw_key_idle(&kiln, rows[i].object, 0, &keys->key[row], reason, &lacks);
        if (idle != (rows[i].why != NULL)) fail_msg("row %zu, %s: '%s'", i, rows[i].key, reason);
        if (idle) assert_string_equal(reason, rows[i].why);
        if (!idle) assert_int_equal(lacks, 0);
        if (idle && strncmp(reason, "the kind is", 11) != 0) {
            assert_true(lacks != 0 && (lacks & keys->key[row].needs) == lacks);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_key_has_no_effect_for_one_reason)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}

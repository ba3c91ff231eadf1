/* The working of kilns that no example is: each branch of a law that a description can reach, with the
 * words it must say. */
#include "check.h"

#include <string.h>

#include "kiln_kinds.h"
#include "kit.h"
#include "work_check.h"
#include "working_point.h"

typedef struct odd {
    const char *what;
    void (*change)(dw_kiln *kiln);
    const char *says[6]; /* beginnings of sentences, sections, or meanings of numbers */
    bool no_stack;       /* begins with the plain kiln */
} odd;

static void given_pressure(dw_kiln *k) { k->site.pressure_pa_abs = 97e3; }

static void closed_shutter(dw_kiln *k) { k->burner[0].shutter_open_frac = 0.0; }

static void out_with_closed_shutter(dw_kiln *k)
{
    k->burner[1] = k->burner[0];
    k->burner[1].lit = false;
    k->burner[1].shutter_open_frac = 0.0;
    k->burner_count = 2;
}

static void out_and_open(dw_kiln *k)
{
    out_with_closed_shutter(k);
    k->burner[1].shutter_open_frac = 1.0;
}

static void pushed_back(dw_kiln *k)
{
    k->burner[1] = k->burner[0];
    k->burner[1].gas_pressure_pa = 60.0;
    k->burner_count = 2;
    k->flue[0].damper.open_frac = 0.0;
}

static void blow(dw_kiln *k, double air_m3_s)
{
    dw_burner *b = &k->burner[0];
    b->kind = DW_BURNER_BLOWN;
    b->air_flow_m3_s = air_m3_s;
}

static void blown(dw_kiln *k) { blow(k, 0.06); }

static void blown_and_out(dw_kiln *k)
{
    out_with_closed_shutter(k);
    k->burner[1].kind = DW_BURNER_BLOWN;
    k->burner[1].air_restriction_area_m2 = 3e-4;
}

static void blown_without_gas(dw_kiln *k)
{
    k->burner[1] = k->burner[0];
    k->burner_count = 2;
    blow(k, 0.03);
    k->burner[0].gas_pressure_pa = 1e-3;
    k->flue[0].damper.open_frac = 0.0;
}

static void blown_without_air(dw_kiln *k)
{
    k->burner[1] = k->burner[0];
    k->burner_count = 2;
    dw_burner *b = &k->burner[0];
    b->kind = DW_BURNER_BLOWN;
    b->air_restriction_area_m2 = 3e-4;
    b->air_pressure_pa = 1e-3;
    b->gas_pressure_pa = 200.0;
    k->flue[0].damper.open_frac = 0.0;
}

static void air_jet(dw_kiln *k)
{
    k->burner[0].air_jet_diameter_m = 1e-3;
    k->burner[0].air_pressure_pa = 20e3;
}

static void joint(dw_kiln *k, double from_m, double to_m)
{
    dw_opening *o = &k->opening[0];
    o->kind = DW_OPENING_JOINT;
    o->area_m2 = o->height_m = NAN;
    o->width_m = 2e-3;
    o->depth_m = 0.115;
    o->from_m = from_m;
    o->to_m = to_m;
}

static void joint_both_ways(dw_kiln *k) { joint(k, 0.0, k->chamber.height_m); }

static void joint_at_the_top(dw_kiln *k)
{
    joint(k, 0.9 * k->chamber.height_m, k->chamber.height_m);
    k->opening[0].count = 2;
    k->operating.gas_pressure_pa *= 3.0;
    k->flue[0].damper.open_frac = 0.1;
}

static void level_joint(dw_kiln *k)
{
    joint(k, NAN, NAN);
    k->opening[0].height_m = 0.05;
    k->opening[0].length_m = 0.8;
}

static void level_joint_at_the_top(dw_kiln *k)
{
    level_joint(k);
    k->opening[0].height_m = k->chamber.height_m;
    k->operating.gas_pressure_pa *= 3.0;
    k->flue[0].damper.open_frac = 0.1;
}

static void deep_port(dw_kiln *k)
{
    k->opening[0].depth_m = 0.06;
    k->opening[0].discharge_coeff = NAN;
}

static void floor_and_setting(dw_kiln *k)
{
    k->flue[0].floor_loss = 2.5;
    k->chamber.setting_loss = 20.0;
}

static void setting_alone(dw_kiln *k) { k->chamber.setting_loss = 20.0; }

static void wide_behind(dw_kiln *k) { k->flue[0].downstream_area_m2 = 2.0 * k->flue[0].area_m2; }

static void plenum_behind(dw_kiln *k) { k->flue[0].downstream_is_plenum = true; }

static void table(dw_kiln *k, double open_frac)
{
    dw_damper *d = &k->flue[0].damper;
    d->kind = DW_DAMPER_TABLE;
    d->open_frac = open_frac;
    d->row_count = 3;
    const double row[3] = {0.2, 0.6, 0.9}, loss[3] = {60.0, 4.0, 0.2};
    memcpy(d->row_open_frac, row, sizeof row);
    memcpy(d->row_loss, loss, sizeof loss);
}

static void below_the_table(dw_kiln *k) { table(k, 0.1); }
static void inside_the_table(dw_kiln *k) { table(k, 0.7); }
static void above_the_table(dw_kiln *k) { table(k, 0.95); }

static void shelf(dw_kiln *k)
{
    k->flue[0].damper.kind = DW_DAMPER_SHELF;
    dw_damper_take_kinds(&k->flue[0].damper, 0, &kit_data()->spreads);
}

static void thick_shelf(dw_kiln *k)
{
    shelf(k);
    k->flue[0].damper.thickness_m = 0.07;
    k->flue[0].damper.mouth_width_m = 0.1;
}

static void thick_shelf_in_the_roof(dw_kiln *k)
{
    thick_shelf(k);
    k->flue[0].damper.open_frac = 0.4;
}

static void butterfly(dw_kiln *k, double open_frac)
{
    k->flue[0].damper.kind = DW_DAMPER_BUTTERFLY;
    k->flue[0].damper.open_frac = open_frac;
}

static void butterfly_half(dw_kiln *k) { butterfly(k, 0.5); }
static void butterfly_nearly_shut(dw_kiln *k) { butterfly(k, 0.02); }

/* A vent in the roof pulls harder than the stack, and the room pushes air up the stack by its relief
 * opening: some of it goes back through the flues. */
static void back_through_the_flues(dw_kiln *k)
{
    k->flue[1] = k->flue[0];
    k->flue[1].height_m = 0.5 * k->chamber.height_m;
    k->flue_count = 2;
    k->opening[0].area_m2 = 0.02;
    k->opening[0].height_m = k->chamber.height_m;
    k->site.room_pressure_pa = 2.0;
    k->site.outside_temperature_k = k->site.air_temperature_k - 2.0;
    k->stack.height_m = 0.2;
    k->stack.relief_area_m2 = 0.032;
}

static void down_the_stack(dw_kiln *k)
{
    k->site.room_pressure_pa = -60.0;
}

static void relief(dw_kiln *k) { k->stack.relief_area_m2 = 0.02; }

static void relief_pushes(dw_kiln *k)
{
    relief(k);
    k->stack.height_m = 0.5;
    k->stack.area_m2 = 0.25 * k->flue[0].area_m2;
    k->flue[0].height_m = 0.98 * k->chamber.height_m;
}

static void room_air_through_a_flue(dw_kiln *k)
{
    k->flue[1] = k->flue[0];
    k->flue[1].height_m = 0.0;
    k->flue_count = 2;
}

static void soot(dw_kiln *k)
{
    k->settings.graphite = true;
    k->flue[0].damper.open_frac = 0.12;
    k->opening[0].open_frac = 0.3;
    k->burner[0].shutter_open_frac = 0.3;
    k->operating.gas_pressure_pa = 15e3;
}

static void butterfly_into_the_room(dw_kiln *k) { butterfly(k, 0.6); }

static void two_dampers(dw_kiln *k)
{
    k->flue[1] = k->flue[0];
    k->flue_count = 2;
    k->flue[0].damper.open_frac = 0.3;
    k->flue[1].damper.open_frac = 0.25;
}

static void behind_a_wall(dw_kiln *k, dw_stack_wall wall)
{
    k->stack.wall = wall;
    dw_stack_take_kinds(&k->stack, &kit_data()->spreads);
}

static void brick_wall(dw_kiln *k) { behind_a_wall(k, DW_WALL_SINGLE_BRICK); }

static void bare_steel(dw_kiln *k)
{
    behind_a_wall(k, DW_WALL_BARE_STEEL);
    k->operating.chamber_temperature_k = 1100.0;
}

static void wind(dw_kiln *k)
{
    k->site.wind_speed_m_s = 4.0;
    k->room.wind_coeff = 0.1;
}

static void wind_down_the_stack(dw_kiln *k)
{
    k->site.wind_speed_m_s = 20.0;
    k->stack.wind_coeff = 0.5;
}

static void bare_steel_to_a_gap(dw_kiln *k)
{
    behind_a_wall(k, DW_WALL_BARE_STEEL);
    k->stack.hood_gap_height_m = 1.1;
    k->stack.round = true;
}

static const odd odds[] = {
    {"pressure given", given_pressure, {"pressure of the air here, absolute"}, false},
    {"shutter closed", closed_shutter, {"air drawn in: none, because the shutter is closed"}, false},
    {"out, shutter closed", out_with_closed_shutter,
     {"opening that the unlit burner is: none, because its shutter is closed"}, false},
    {"out and open", out_and_open, {"opening that the unlit burners are, all of this entry"}, false},
    {"pushed back", pushed_back, {"air drawn in: none; c is not negative"}, false},
    {"blown", blown, {"air flow as given, at room conditions", "air through all burners of this entry"}, false},
    {"blown and out", blown_and_out, {"area of the restriction; 0 for a given flow"}, false},
    {"blown without gas", blown_without_gas, {"gas: none, because the chamber pressure is higher"},
     false},
    {"blown without air", blown_without_air, {"air: none, because the chamber pressure is higher"},
     false},
    {"air jet", air_jet, {"compressed air through all burners of this entry"}, false},
    {"joint, both ways", joint_both_ways,
     {"friction of slow flow in the joint: pressure / speed", "mean speed from that end to the neutral plane",
      "share of the height below the neutral plane"}, false},
    {"joint at the top", joint_at_the_top, {"mean speed over the height", "chamber gas pushed out"}, false},
    {"level joint", level_joint, {"speed in the joint", "room air drawn in"}, false},
    {"level joint at the top", level_joint_at_the_top, {"speed in the joint", "chamber gas pushed out"}, false},
    {"deep port", deep_port,
     {"how deep it is: 0 up to half its width, 1 from its width on", "discharge coefficient of a hole of this depth"},
     false},
    {"floor and setting", floor_and_setting,
     {"loss between the setting and the flue's mouth", "loss before the damper: of mouth, floor and setting"}, false},
    {"setting alone", setting_alone, {"loss of the setting, on the speed in the flue"}, false},
    {"wide behind", wide_behind, {"area just after the damper"}, false},
    {"plenum behind", plenum_behind, {"flue area / area behind the damper: 0"}, false},
    {"below the table", below_the_table, {"share that the jet fills here, in proportion"}, false},
    {"inside the table", inside_the_table, {"share that the jet fills here, in a straight line"}, false},
    {"above the table", above_the_table, {"loss in the last row of the damper's table"}, false},
    {"shelf", shelf, {"flue area / area behind the damper: 0"}, false},
    {"thick shelf", thick_shelf,
     {"flue area / area behind the damper: 0", "thickness of the plate / width", "loss past the thick plate"}, false},
    {"thick shelf in the roof", thick_shelf_in_the_roof, {"loss past the thick plate"}, true},
    {"butterfly", butterfly_half, {"angle of the plate"}, false},
    {"butterfly nearly shut", butterfly_nearly_shut, {"loss of the damper further shut"}, false},
    {"back through the flues", back_through_the_flues,
     {"What comes back through a flue", "density of the gas at the stack base", "back through 'back flue'"},
     false},
    {"brick wall", brick_wall, {"heat through the wall for each m2 and kelvin", "heat that the stack loses for each kelvin: that of its inside"},
     false},
    {"bare steel", bare_steel,
     {"gas beside the wall, about", "heat through the wall for each m2 and kelvin, in a straight line",
      "heat that the stack loses for each kelvin: that of its inside"}, false},
    {"bare steel to a gap", bare_steel_to_a_gap, {"gas beside the wall, about"}, false},
    {"wind", wind, {"how much more the wind presses on the room", "the same with the wind on the room"}, false},
    {"wind down the stack", wind_down_the_stack, {"the same with the wind", "What comes back through a flue"}, false},
    {"down the stack", down_the_stack, {"What comes back through a flue"}, false},
    {"relief", relief, {"area of the relief opening", "room air into the stack base"}, false},
    {"relief pushes", relief_pushes, {"gas out of the relief opening"}, false},
    {"soot", soot, {"solid carbon in a kilogram", "enthalpy of graphite at T_gas"}, false},
    {"butterfly into the room", butterfly_into_the_room,
     {"loss of the mouth, the damper and the speed that is lost in the room"}, true},
    {"two dampers", two_dampers, {"slope of phi by the open share of the dampers"}, false},
    {"room air through a flue", room_air_through_a_flue, {"What comes back through a flue"}, true},
};
enum { ODD_COUNT = sizeof odds / sizeof odds[0] };

static dw_working *work_of(const odd *o, dw_kiln *kiln)
{
    if (o->no_stack) {
        kit_plain_kiln(kiln);
    } else {
        dw_kiln_file file;
        kit_example("juniper-flat", &file);
        *kiln = file.kiln;
    }
    o->change(kiln);
    dw_working *w = dw_working_create();
    assert_non_null(w);
    dw_result result;
    const dw_status status = dw_working_point(kit_model(), kiln, w, &result);
    if (status != DW_OK) print_error("%s: %d, %s\n", o->what, (int)status, result.reason);
    assert_int_equal(status, DW_OK);
    return w;
}

static void odd_kilns_are_worked_out(void **state)
{
    (void)state;
    int bad = 0;
    for (int i = 0; i < ODD_COUNT; i++) {
        const odd *o = &odds[i];
        dw_kiln kiln;
        dw_working *w = work_of(o, &kiln);
        bad += work_check_steps(w, o->what, 1e-9);
        bad += work_check_chain(w, o->what, 1e-7);
        bad += work_check_sources(w, kit_data());
        for (int k = 0; k < 6 && o->says[k] != NULL; k++) {
            if (work_says(w, o->says[k])) continue;
            print_error("%s: does not say '%s'\n", o->what, o->says[k]);
            bad++;
        }
        dw_working_destroy(w);
    }
    assert_int_equal(bad, 0);
}

/* What is put in is what the kiln says, where several burners have a say. */
static void pressures_of_burners_that_burn(void **state)
{
    (void)state;
    dw_kiln_file file;
    kit_example("juniper-flat", &file);
    dw_kiln kiln = file.kiln;
    out_and_open(&kiln);
    kiln.burner[2] = kiln.burner[0];
    kiln.burner_count = 3;
    kiln.burner[0].gas_pressure_pa = 12e3;
    kiln.burner[1].gas_pressure_pa = 90e3; /* out */
    kiln.burner[2].gas_pressure_pa = 17e3;
    dw_working *w = dw_working_create();
    dw_result result;
    assert_int_equal(dw_working_point(kit_model(), &kiln, w, &result), DW_OK);
    assert_close(dw_working_find(w, "pg_1")->value[0], 12e3, 0.0, 0.0);
    assert_close(dw_working_find(w, "pg_2")->value[0], 17e3, 0.0, 0.0);
    assert_int_equal(work_check_steps(w, "three burners", 1e-9), 0);
    dw_working_destroy(w);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(odd_kilns_are_worked_out),
                                       cmocka_unit_test(pressures_of_burners_that_burn)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}

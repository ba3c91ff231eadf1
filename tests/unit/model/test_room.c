/** @file test_room.c  Unit tests of model/room and room_spill. */

#include "check.h"

#include <stdlib.h>
#include <string.h>

#include "constants.h"
#include "kit.h"
#include "moist_air.h"
#include "room.h"

static dw_kiln_file file;
static dw_result kiln;
static dw_room_result room;

/* An example in a room of 83 m3 with 1.7 changes an hour. */
static dw_kiln *in_a_room(const char *name)
{
    kit_example(name, &file);
    dw_room *r = &file.kiln.room;
    r->present = true;
    r->volume_m3 = 83.0;
    r->air_changes_per_hour = 1.7;
    r->ventilation_m3_s = NAN;
    r->leak_area_m2 = NAN;
    return &file.kiln;
}

static void solve(const dw_kiln *k)
{
    const dw_status status = dw_room_solve(kit_model(), k, NAN, &kiln, &room);
    if (status != DW_OK) fail_msg("%s", room.reason);
    assert_true(room.solved);
}

static int co_index(void)
{
    return dw_species_find(&kit_data()->species, "CO");
}

static void spill_is_what_the_network_pushes_out(void **state)
{
    (void)state;
    solve(in_a_room("juniper-flat"));
    /* A kiln whose flue goes to a stack: the places are the negative flows of the table. */
    double out = 0.0;
    for (int i = 0; i < kiln.flow_count; i++) {
        const dw_flow *f = &kiln.flow[i];
        if (f->kind != DW_FLOW_FLUE && f->kind != DW_FLOW_STACK) out += fmax(-f->mass_kg_s, 0.0);
    }
    assert_true(out > 0.0);
    assert_close(room.spill_kg_s, out, 1e-12, 0.0);
    assert_close(room.spill_kg_s, kiln.spill_kg_s, 1e-9, 0.0);
    /* CO: moles of gas, its share, at room conditions. */
    dw_kiln resolved = file.kiln;
    dw_kiln_resolve(&resolved);
    const double m3_s = out / kiln.gas_wet.molar_mass_kg_mol * DW_R_J_MOL_K *
                        resolved.site.room_temperature_k / resolved.site.pressure_pa_abs;
    assert_close(room.co_m3_s, m3_s * kiln.gas_wet.x[co_index()], 1e-12, 0.0);
    assert_close(room.x_co_wet, kiln.gas_wet.x[co_index()], 0.0, 0.0);
    assert_close(room.air.flow_m3_s, 1.7 * 83.0 / 3600.0, 1e-12, 0.0);
    assert_close(room.steady_ppm, 1.0 + 1e6 * room.co_m3_s / room.air.flow_m3_s, 1e-12, 0.0);
    /* Every place has a height inside the chamber, and one near a burner says which. */
    for (int i = 0; i < room.place_count; i++) {
        const dw_room_place *p = &room.place[i];
        assert_true(p->height_m >= 0.0 && p->height_m <= file.kiln.chamber.height_m);
        if (p->near_burner >= 0) {
            assert_true(fabs(file.kiln.burner[p->near_burner].height_m - p->height_m) <= 0.1);
        }
    }
}

static void hood_and_flame_take_their_share(void **state)
{
    (void)state;
    dw_kiln *k = in_a_room("fennelbank-school");
    solve(k);
    const double bare = room.co_m3_s;
    assert_true(bare > 0.0);
    k->room.hood_capture_frac = 0.83;
    k->room.burnt_frac = 0.41;
    solve(k);
    assert_close(room.co_m3_s, bare * 0.17 * 0.59, 1e-12, 0.0);
    assert_close(room.co_leaves_m3_s, bare, 1e-12, 0.0);
}

static void without_a_stack_all_of_it_comes_into_the_room(void **state)
{
    (void)state;
    solve(in_a_room("fennelbank-school"));
    double flues = 0.0;
    for (int i = 0; i < room.place_count; i++) {
        if (room.place[i].kind == DW_FLOW_FLUE) flues += room.place[i].mass_kg_s;
    }
    assert_close(flues, kiln.flue_flow_kg_s, 1e-12, 0.0);
    assert_false(room.kiln_feels_it);
    /* Under a hood gap too: it is the room that it opens to. */
    dw_kiln *k = in_a_room("juniper-flat");
    k->stack.hood_gap_height_m = 0.5 * k->stack.height_m;
    solve(k);
    flues = 0.0;
    for (int i = 0; i < room.place_count; i++) {
        if (room.place[i].kind == DW_FLOW_FLUE) flues += room.place[i].mass_kg_s;
    }
    assert_close(flues, kiln.flue_flow_kg_s, 1e-12, 0.0);
}

/* What comes in, by the fan's and the openings' laws written down once more. */
static void the_room_balances(void **state)
{
    (void)state;
    dw_kiln *k = in_a_room("juniper-flat");
    k->room.exhaust_fan_m3_s = 0.11;
    k->room.exhaust_fan_pressure_pa = 90.0;
    k->room.make_up_area_m2 = 0.031;
    solve(k);
    assert_true(room.pressure_pa < 0.0);
    dw_kiln resolved = *k;
    dw_kiln_resolve(&resolved);
    const double leak = 1.7 * 83.0 / 3600.0 / (0.62 * sqrt(2.0 * 4.0 / 1.2));
    assert_close(resolved.room.leak_area_m2, leak, 1e-12, 0.0);
    dw_moist_air air;
    const dw_site *s = &resolved.site;
    assert_int_equal(dw_moist_air_from_humidity(s->air_temperature_k, s->pressure_pa_abs,
                                                s->relative_humidity, &air), DW_OK);
    const double rho_room = dw_ideal_gas_density_kg_m3(air.molar_mass_kg_mol,
                                                       s->room_temperature_k, s->pressure_pa_abs);
    const double rho_out = dw_ideal_gas_density_kg_m3(air.molar_mass_kg_mol,
                                                      s->outside_temperature_k,
                                                      s->pressure_pa_abs);
    const double in = 0.62 * (0.031 + leak) * sqrt(-2.0 * rho_out * room.pressure_pa) / rho_room;
    const double fan = 0.11 * (1.0 + room.pressure_pa / 90.0);
    assert_close(room.make_up_m3_s, in, 1e-12, 0.0);
    assert_close(room.fan_m3_s, fan, 1e-12, 0.0);
    assert_close(in, fan + room.kiln_draws_m3_s, 1e-3, 0.0);
    /* What the kiln draws is the flow up its stack less the gas that comes by pipe. */
    assert_close(room.kiln_draws_m3_s * rho_room, kiln.stack_flow_kg_s - kiln.gas_flow_kg_s, 1e-8,
                 0.0);
    /* The operating point is the one at that pressure. */
    dw_kiln at = *k;
    at.site.room_pressure_pa = room.pressure_pa;
    dw_result again;
    assert_int_equal(dw_operating_point(kit_model(), &at, &again), DW_OK);
    assert_close(again.spill_kg_s, kiln.spill_kg_s, 1e-12, 0.0);
    assert_close(room.air.flow_m3_s, fmax(fan, 1.7 * 83.0 / 3600.0), 1e-12, 0.0);
}

static void a_fan_without_make_up_costs_draft(void **state)
{
    (void)state;
    dw_kiln *k = in_a_room("juniper-flat");
    solve(k);
    const double without = room.pressure_pa, draft = kiln.draft_floor_pa, spill = room.spill_kg_s;
    assert_true(isnan(room.pressure_without_fan_pa));
    k->room.exhaust_fan_m3_s = 0.06;
    solve(k);
    assert_close(room.pressure_without_fan_pa, without, 0.0, 2e-4);
    assert_true(room.pressure_pa < without - 0.5);
    assert_true(kiln.draft_floor_pa < draft);
    assert_true(room.draft_loss_pa > 0.0);
    assert_true(room.spill_kg_s >= spill);
    /* An opening for the air to come in gives most of it back. */
    const double tight = room.pressure_pa;
    k->room.make_up_area_m2 = 0.25;
    solve(k);
    assert_true(room.pressure_pa > 0.3 * tight);
}

static void with_the_kiln_off_the_fan_is_alone(void **state)
{
    (void)state;
    dw_kiln *k = in_a_room("juniper-flat");
    assert_close(dw_room_idle_pressure_pa(k), 0.0, 0.0, 0.0);
    k->room.exhaust_fan_m3_s = 0.06;
    const double idle = dw_room_idle_pressure_pa(k);
    assert_true(idle < -0.5);
    solve(k);
    assert_true(room.pressure_pa < idle); /* the kiln draws too */
    k->site.room_pressure_pa = -3.1;
    assert_close(dw_room_idle_pressure_pa(k), -3.1, 0.0, 0.0);
}

static void a_measured_pressure_is_used_as_it_is(void **state)
{
    (void)state;
    dw_kiln *k = in_a_room("juniper-flat");
    k->site.room_pressure_pa = -1.37;
    k->room.exhaust_fan_m3_s = 0.5;
    solve(k);
    assert_true(room.pressure_given);
    assert_close(room.pressure_pa, -1.37, 0.0, 0.0);
}

/* Random kilns with their dampers nearly shut: in some the chamber pushes a burner back. */
static void a_burner_that_is_pushed_back_lets_its_gas_out(void **state)
{
    (void)state;
    kit_random random = kit_seed(77);
    int seen = 0;
    for (int n = 0; n < 400 && seen < 5; n++) {
        dw_kiln *k = &file.kiln;
        kit_random_kiln(&random, k);
        for (int i = 0; i < k->flue_count; i++) k->flue[i].damper.open_frac = 0.0;
        k->settings.graphite = true;
        k->room.present = true;
        k->room.volume_m3 = 83.0;
        k->room.air_changes_per_hour = 1.7;
        if (dw_room_solve(kit_model(), k, NAN, &kiln, &room) != DW_OK) continue;
        bool back[DW_BURNER_MAX] = {false};
        double wanted = 0.0, fuel = 0.0, through = 0.0;
        for (int i = 0; i < kiln.finding_count; i++) {
            const dw_finding *f = &kiln.finding[i];
            if (f->code != DW_FIND_BURNER_PUSHED_BACK || !k->burner[f->index].lit) continue;
            back[f->index] = true;
        }
        for (int i = 0; i < kiln.flow_count; i++) {
            const dw_flow *f = &kiln.flow[i];
            if (f->kind == DW_FLOW_GAS_JET && back[f->index]) wanted += f->mass_kg_s;
        }
        if (!(wanted > 0.0)) continue;
        seen++;
        for (int i = 0; i < room.place_count; i++) {
            if (room.place[i].kind == DW_FLOW_GAS_JET) {
                fuel += room.place[i].mass_kg_s;
                assert_true(room.place[i].unburnt_m3_s > 0.0);
            }
            if (room.place[i].kind == DW_FLOW_PRIMARY_AIR) through += room.place[i].mass_kg_s;
        }
        assert_close(fuel, wanted, 1e-12, 0.0);
        assert_true(through > 0.0);
    }
    print_message("%d kilns with a burner pushed back\n", seen);
    assert_true(seen > 0);
}

static void refuses_what_has_no_meaning(void **state)
{
    (void)state;
    dw_kiln *k = in_a_room("juniper-flat");
    assert_int_equal(dw_room_solve(NULL, k, NAN, &kiln, &room), DW_ERR_ARG);
    k->room.present = false;
    assert_int_equal(dw_room_solve(kit_model(), k, NAN, &kiln, &room), DW_ERR_ARG);
    k->room.present = true;
    k->room.volume_m3 = 0.0;
    assert_int_equal(dw_room_solve(kit_model(), k, NAN, &kiln, &room), DW_ERR_DOMAIN);
    assert_non_null(strstr(room.reason, "volume"));
    k = in_a_room("juniper-flat");
    k->room.hood_capture_frac = 1.2;
    assert_int_equal(dw_room_solve(kit_model(), k, NAN, &kiln, &room), DW_ERR_DOMAIN);
    k = in_a_room("juniper-flat");
    k->room.air_changes_per_hour = NAN;
    assert_int_equal(dw_room_solve(kit_model(), k, NAN, &kiln, &room), DW_ERR_DOMAIN);
    assert_non_null(strstr(room.reason, "ventilation"));
    k = in_a_room("juniper-flat");
    k->flue[0].area_m2 = -1.0;
    assert_int_equal(dw_room_solve(kit_model(), k, NAN, &kiln, &room), DW_ERR_DOMAIN);
    /* No air can come in: the fan has nothing to balance it. */
    k = in_a_room("juniper-flat");
    k->room.leak_area_m2 = 0.0;
    k->room.exhaust_fan_m3_s = 1.0;
    k->room.exhaust_fan_pressure_pa = 2000.0;
    assert_int_equal(dw_room_solve(kit_model(), k, NAN, &kiln, &room), DW_ERR_NO_CONVERGE);
    assert_false(room.solved);
    assert_true(room.reason[0] != '\0');
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(spill_is_what_the_network_pushes_out),
        cmocka_unit_test(hood_and_flame_take_their_share),
        cmocka_unit_test(without_a_stack_all_of_it_comes_into_the_room),
        cmocka_unit_test(the_room_balances),
        cmocka_unit_test(a_fan_without_make_up_costs_draft),
        cmocka_unit_test(with_the_kiln_off_the_fan_is_alone),
        cmocka_unit_test(a_measured_pressure_is_used_as_it_is),
        cmocka_unit_test(a_burner_that_is_pushed_back_lets_its_gas_out),
        cmocka_unit_test(refuses_what_has_no_meaning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

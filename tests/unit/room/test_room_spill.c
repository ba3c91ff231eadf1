/** @file test_room_spill.c  Unit tests of model/room_spill: what comes out of a kiln into its room. */

#include "check.h"

#include <string.h>

#include "constants.h"
#include "kit.h"
#include "room.h"
#include "room_spill.h"

static dw_kiln_file file;
static dw_result kiln;
static dw_room_result room;

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
    solve(kit_in_a_room(&file, "juniper-flat"));
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

/* Whatever burns counts: hydrogen, and beside CO the little of everything else. */
static void gases_that_burn_are_those_of_the_kiln_gas(void **state)
{
    (void)state;
    dw_kiln *k = kit_in_a_room(&file, "fennelbank-school");
    k->flue[0].damper.open_frac = 0.12;
    k->room.hood_capture_frac = 0.29;
    k->room.burnt_frac = 0.17; /* not in this figure */
    solve(k);
    static const char *const inert[] = {"N2", "O2", "Ar", "CO2", "H2O", "CO", "H2"};
    double out = 0.0, x_rest = 1.0, all = 0.0;
    for (size_t i = 0; i < sizeof inert / sizeof inert[0]; i++) {
        x_rest -= kiln.gas_wet.x[dw_species_find(&kit_data()->species, inert[i])];
    }
    for (int i = 0; i < room.place_count; i++) {
        out += room.place[i].mass_kg_s;
        all += room.place[i].unburnt_m3_s;
    }
    assert_close(room.spill_kg_s, out, 1e-12, 0.0);
    dw_kiln resolved = *k;
    dw_kiln_resolve(&resolved);
    const double m3_s = out / kiln.gas_wet.molar_mass_kg_mol * DW_R_J_MOL_K *
                        resolved.site.room_temperature_k / resolved.site.pressure_pa_abs;
    const double x_h2 = kiln.gas_wet.x[dw_species_find(&kit_data()->species, "H2")];
    assert_true(x_h2 > 0.01);
    assert_close(room.h2_m3_s, 0.71 * m3_s * x_h2, 1e-12, 0.0);
    /* Radicals and nitrogen oxides are a little of the rest too, and burn no more. */
    assert_true(all > 0.0 && all < m3_s * x_rest);
    const double x_ch4 = kiln.gas_wet.x[dw_species_find(&kit_data()->species, "CH4")];
    assert_true(all >= m3_s * x_ch4);
    assert_close(room.unburnt_m3_s, 0.71 * all, 1e-12, 0.0);
}

static void a_hood_takes_its_share_and_a_flame_none(void **state)
{
    (void)state;
    dw_kiln *k = kit_in_a_room(&file, "fennelbank-school");
    solve(k);
    const double bare = room.co_m3_s;
    assert_true(bare > 0.0);
    k->room.hood_capture_frac = 0.83;
    k->room.burnt_frac = 0.41;
    solve(k);
    assert_close(room.co_m3_s, bare * 0.17, 1e-12, 0.0);
    assert_close(room.co_leaves_m3_s, bare, 1e-12, 0.0);
}

static void without_a_stack_all_of_it_comes_into_the_room(void **state)
{
    (void)state;
    solve(kit_in_a_room(&file, "fennelbank-school"));
    double flues = 0.0;
    for (int i = 0; i < room.place_count; i++) {
        if (room.place[i].kind == DW_FLOW_FLUE) flues += room.place[i].mass_kg_s;
    }
    assert_close(flues, kiln.flue_flow_kg_s, 1e-12, 0.0);
    assert_false(room.kiln_feels_it);
    /* Under a hood gap too: it is the room that it opens to. */
    dw_kiln *k = kit_in_a_room(&file, "juniper-flat");
    k->stack.hood_gap_height_m = 0.5 * k->stack.height_m;
    solve(k);
    flues = 0.0;
    for (int i = 0; i < room.place_count; i++) {
        if (room.place[i].kind == DW_FLOW_FLUE) flues += room.place[i].mass_kg_s;
    }
    assert_close(flues, kiln.flue_flow_kg_s, 1e-12, 0.0);
}

/* Methane: 1 mol of CO, 2 of H2, and the nitrogen of half a mol of oxygen. Gas that is CO already is no
 * richer with air; one that burns to none holds none. */
static void the_richest_gas_of_a_fuel(void **state)
{
    (void)state;
    const dw_species_table *table = &kit_data()->species;
    dw_fuel fuel = {.x = {0.0}};
    const int ch4 = dw_species_find(table, "CH4"), n2 = dw_species_find(table, "N2");
    fuel.x[ch4] = 1.0;
    assert_close(dw_room_richest_co_frac(kit_data(), &fuel), 1.0 / (3.0 + 0.5 * 79.0 / 21.0), 1e-12, 0.0);
    fuel.x[ch4] = 0.6;
    fuel.x[n2] = 0.4;
    assert_close(dw_room_richest_co_frac(kit_data(), &fuel),
                 0.6 / (0.6 * (3.0 + 0.5 * 79.0 / 21.0) + 0.4), 1e-12, 0.0);
    memset(&fuel, 0, sizeof fuel);
    fuel.x[co_index()] = 0.7;
    fuel.x[n2] = 0.3;
    assert_close(dw_room_richest_co_frac(kit_data(), &fuel), 0.7, 1e-12, 0.0);
    fuel.x[co_index()] = 0.0;
    fuel.x[dw_species_find(table, "H2")] = 0.7;
    assert_close(dw_room_richest_co_frac(kit_data(), &fuel), 0.0, 0.0, 0.0);
}

/* The gas takes the place of as much air: its volume is that of its mass at the room's temperature, less what
 * a hood takes; where that is more than the ventilation it is what is counted. */
static void gas_that_comes_in_pushes_air_out(void **state)
{
    (void)state;
    dw_kiln *k = kit_in_a_room(&file, "fennelbank-school");
    k->room.hood_capture_frac = 0.25;
    k->room.air_changes_per_hour = 1e-3;
    k->room.make_up_area_m2 = 0.05;
    solve(k);
    dw_kiln resolved = *k;
    dw_kiln_resolve(&resolved);
    const double m3_s = 0.75 * room.spill_kg_s / kiln.gas_wet.molar_mass_kg_mol * DW_R_J_MOL_K *
                        resolved.site.room_temperature_k / resolved.site.pressure_pa_abs;
    assert_close(room.gas_m3_s, m3_s, 1e-12, 0.0);
    assert_close(room.air.flow_m3_s, m3_s, 1e-12, 0.0);
    assert_close(room.steady_ppm, k->room.outside_co_ppm + 1e6 * room.x_co_wet, 1e-9, 0.0);
    k->room.air_changes_per_hour = 30.0;
    solve(k);
    assert_close(room.air.flow_m3_s, 30.0 * k->room.volume_m3 / 3600.0, 1e-12, 0.0);
}

/* A stack that runs down blows kiln gas out of its relief opening, into the room. */
static void a_relief_opening_may_blow_out(void **state)
{
    (void)state;
    dw_kiln *k = kit_in_a_room(&file, "juniper-flat");
    k->stack.relief_area_m2 = 0.0071;
    k->site.room_pressure_pa = -60.0;
    solve(k);
    double out = 0.0, relief = 0.0, all = 0.0;
    for (int i = 0; i < kiln.flow_count; i++) {
        const dw_flow *f = &kiln.flow[i];
        if (f->kind == DW_FLOW_RELIEF) out = -f->mass_kg_s;
    }
    assert_true(out > 0.0);
    for (int i = 0; i < room.place_count; i++) {
        all += room.place[i].mass_kg_s;
        if (room.place[i].kind == DW_FLOW_RELIEF) relief += room.place[i].mass_kg_s;
    }
    assert_close(relief, out, 1e-12, 0.0);
    assert_close(room.spill_kg_s, all, 1e-12, 0.0);
}

/* The first lit burner that is no further off than a hand's breadth, 0.1 m. */
static void places_near_a_burner_say_which(void **state)
{
    (void)state;
    static const double off_m[] = {-0.1005, -0.0995, 0.0, 0.0995, 0.1005};
    for (int n = 0; n < 10; n++) {
        dw_kiln *k = kit_in_a_room(&file, "fennelbank-school");
        k->burner[0].height_m = 0.3;
        k->opening_count = 1;
        k->opening[0].kind = DW_OPENING_HOLE;
        k->opening[0].height_m = 0.3 + off_m[n % 5];
        k->opening[0].open_frac = 1.0;
        k->opening[0].area_m2 = 20e-4;
        k->opening[0].count = 1;
        if (n >= 5) { /* a second one, off, at the same height and first in the list */
            k->burner_count = 2;
            k->burner[1] = k->burner[0];
            k->burner[0].lit = false;
            k->burner[0].plugged = true;
        }
        k->flue[0].damper.open_frac = 0.05; /* everything pushes out */
        solve(k);
        int seen = 0;
        for (int i = 0; i < room.place_count; i++) {
            if (room.place[i].kind != DW_FLOW_OPENING) continue;
            const bool near = fabs(off_m[n % 5]) < 0.1;
            assert_int_equal(room.place[i].near_burner, near ? (n >= 5 ? 1 : 0) : -1);
            seen++;
        }
        assert_int_equal(seen, 1);
    }
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
        if (n % 2 == 0) { /* gas that brings its own carbon monoxide */
            memset(k->fuel.x, 0, sizeof k->fuel.x);
            k->fuel.x[co_index()] = 0.31;
            k->fuel.x[dw_species_find(&kit_data()->species, "H2")] = 0.26;
            k->fuel.x[dw_species_find(&kit_data()->species, "CH4")] = 0.40;
            k->fuel.x[dw_species_find(&kit_data()->species, "N2")] = 0.03;
        }
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
                /* The fuel's own volume but for what does not burn in it. */
                static const char *const inert[] = {"N2", "O2", "Ar", "CO2", "H2O"};
                double burns = 1.0;
                for (size_t e = 0; e < sizeof inert / sizeof inert[0]; e++) {
                    burns -= k->fuel.x[dw_species_find(&kit_data()->species, inert[e])];
                }
                dw_kiln resolved = *k;
                dw_kiln_resolve(&resolved);
                const double m3_s = room.place[i].mass_kg_s /
                                    dw_mixture_molar_mass(&kit_data()->species, k->fuel.x) *
                                    DW_R_J_MOL_K * resolved.site.room_temperature_k /
                                    resolved.site.pressure_pa_abs;
                assert_close(room.place[i].co_m3_s + room.place[i].h2_m3_s +
                                 room.place[i].unburnt_m3_s, m3_s * burns, 1e-9, 0.0);
                assert_close(room.place[i].h2_m3_s,
                             m3_s * k->fuel.x[dw_species_find(&kit_data()->species, "H2")], 1e-12,
                             1e-30);
                assert_close(room.place[i].co_m3_s, m3_s * k->fuel.x[co_index()], 1e-12, 1e-30);
                assert_close(room.place[i].height_m,
                             k->burner[room.place[i].index].height_m, 0.0, 0.0);
            }
            if (room.place[i].kind == DW_FLOW_PRIMARY_AIR) through += room.place[i].mass_kg_s;
        }
        assert_close(fuel, wanted, 1e-12, 0.0);
        assert_true(through > 0.0);
    }
    print_message("%d kilns with a burner pushed back\n", seen);
    assert_true(seen > 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(spill_is_what_the_network_pushes_out),
        cmocka_unit_test(gases_that_burn_are_those_of_the_kiln_gas),
        cmocka_unit_test(a_hood_takes_its_share_and_a_flame_none),
        cmocka_unit_test(without_a_stack_all_of_it_comes_into_the_room),
        cmocka_unit_test(the_richest_gas_of_a_fuel),
        cmocka_unit_test(gas_that_comes_in_pushes_air_out),
        cmocka_unit_test(a_relief_opening_may_blow_out),
        cmocka_unit_test(places_near_a_burner_say_which),
        cmocka_unit_test(a_burner_that_is_pushed_back_lets_its_gas_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

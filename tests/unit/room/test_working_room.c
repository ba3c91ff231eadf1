/* The working of a room: places, pressure, lighting, by their own formulas for random kilns in rooms. */
#include "check.h"

#include <stdlib.h>
#include <string.h>

#include "kit.h"
#include "lighting.h"
#include "work_check.h"
#include "working_point.h"
#include "working_room.h"

/** A room with its working. */
typedef struct in_room {
    dw_kiln kiln;
    dw_result result, again;
    dw_room_result room;
    dw_lighting lighting;
    dw_solved solved;
    dw_work_rename keys[DW_WORK_ROOM_KEY_MAX];
    dw_working *w;
} in_room;

static in_room now;

/* False when there is no solution. */
static bool work(void)
{
    if (dw_room_solve(kit_model(), &now.kiln, NAN, &now.result, &now.room) != DW_OK) return false;
    now.w = dw_working_create();
    assert_non_null(now.w);
    dw_kiln at_pressure = now.kiln;
    if (now.room.kiln_feels_it && !now.room.pressure_given) {
        at_pressure.site.room_pressure_pa = now.room.pressure_pa;
    }
    dw_work_rename_keys(now.w, now.keys,
                        dw_working_room_keys(&now.room, &now.result, now.w, now.keys));
    assert_int_equal(dw_working_point_solved(kit_model(), &at_pressure, DW_WORK_TO_GAS, now.w,
                                             &now.solved, &now.again),
                     DW_OK);
    dw_work_rename_keys(now.w, NULL, 0);
    assert_int_equal(dw_working_room(kit_model(), &now.kiln, &now.solved, &now.again, &now.room,
                                     now.w),
                     DW_OK);
    assert_int_equal(dw_lighting_look(kit_model(), &now.kiln, &now.result, NULL, &now.lighting), DW_OK);
    if (!now.lighting.solved) return true;
    dw_lighting again;
    assert_int_equal(dw_lighting_look(kit_model(), &now.kiln, &now.result, now.w, &again), DW_OK);
    assert_memory_equal(&again, &now.lighting, sizeof again);
    return true;
}

/* The number that a step gives for a key; of a column in a row. */
static double value_of(const char *key, size_t row)
{
    const dw_work_step *s = work_step_of(now.w, key);
    if (s == NULL || s->result == DW_WORK_NONE) print_error("no step for %s\n", key);
    assert_non_null(s);
    return dw_working_quantity(now.w, s->result)->value[row];
}

static void check_numbers(void)
{
    const dw_room_result *r = &now.room;
    assert_close(value_of("room.spill_kg_s", 0), r->spill_kg_s, 0.0, 0.0);
    const bool known = r->unknown == DW_CO_KNOWN;
    if (known) assert_close(value_of("room.co_m3_s", 0), r->co_m3_s, 0.0, 0.0);
    /* No step of carbon monoxide where nobody knows it. */
    static const char *const of_co[] = {"room.co_m3_s", "room.h2_m3_s", "room.unburnt_m3_s",
                                        "room.co_leaves_kiln_m3_s", "room.co_content_wet"};
    for (size_t i = 0; i < sizeof of_co / sizeof of_co[0]; i++) {
        assert_int_equal(work_step_of(now.w, of_co[i]) != NULL, known);
    }
    assert_int_equal(work_says(now.w, "How much carbon monoxide comes with it is not known"), !known);
    assert_close(value_of("room.gas_m3_s", 0), r->gas_m3_s, 0.0, 0.0);
    assert_close(value_of("room.into_room_by_flues_kg_s", 0), r->by_flues_kg_s, 0.0, 0.0);
    assert_close(value_of("room.make_up_m3_s", 0), r->make_up_m3_s, 0.0, 0.0);
    assert_close(value_of("room.ventilation_m3_s", 0), r->air.flow_m3_s, 0.0, 0.0);
    for (int i = 0; i < r->place_count; i++) {
        char key[40];
        (void)snprintf(key, sizeof key, "places.%d.mass_kg_s", i);
        assert_close(value_of(key, 0), r->place[i].mass_kg_s, 1e-12, 0.0);
        if (known) {
            assert_close(value_of("places.*.h2_m3_s", (size_t)i), r->place[i].h2_m3_s, 0.0, 0.0);
        }
    }
    assert_close(value_of("lighting.lean_limit", 0), now.lighting.lean_x, 0.0, 0.0);
    /* Of all burners, last: litres a minute. */
    assert_close(dw_working_find(now.w, "q_min")->value[0], now.lighting.all.gas_m3_s * 1000.0 * 60.0, 1e-12, 0.0);
    assert_close(value_of("lighting.natural_purge_m3_s", 0), now.lighting.natural_m3_s, 0.0, 0.0);
}

static void random_room(kit_random *r, dw_room *room)
{
    room->present = true;
    room->volume_m3 = kit_log_between(r, 20.0, 900.0);
    if (kit_uniform(r) < 0.5) {
        room->air_changes_per_hour = kit_log_between(r, 0.1, 30.0);
    } else {
        room->ventilation_m3_s = kit_log_between(r, 1e-3, 3.0);
        if (kit_uniform(r) < 0.3) room->leak_area_m2 = kit_log_between(r, 1e-4, 0.1);
    }
    if (kit_uniform(r) < 0.5) {
        room->exhaust_fan_m3_s = kit_log_between(r, 0.02, 1.5);
        room->exhaust_fan_pressure_pa = kit_between(r, 20.0, 190.0);
    }
    if (kit_uniform(r) < 0.6) room->make_up_area_m2 = kit_log_between(r, 1e-3, 1.0);
    if (kit_uniform(r) < 0.5) room->hood_capture_frac = kit_uniform(r);
    if (kit_uniform(r) < 0.3) room->burnt_frac = kit_uniform(r);
    if (kit_uniform(r) < 0.3) room->purge_fan_m3_s = kit_log_between(r, 0.01, 0.5);
}

static void random_rooms_are_worked_out(void **state)
{
    (void)state;
    kit_random random = kit_seed(20260311);
    const int cases = kit_cases("DW_WORKING_CASES", 60);
    int solved = 0, given = 0, balanced = 0, without_fan = 0, drawn = 0, spills = 0, bad = 0;
    for (int i = 0; i < cases; i++) {
        kit_random_kiln(&random, &now.kiln);
        random_room(&random, &now.kiln.room);
        if (i % 5 == 2) now.kiln.site.room_pressure_pa = kit_between(&random, -6.0, 2.0);
        if (i % 4 == 1) now.kiln.site.outside_temperature_k = kit_between(&random, 255.0, 285.0);
        if (!work()) continue;
        char name[40];
        (void)snprintf(name, sizeof name, "random room %d", i);
        /* The room's pressure is found to 1e-12 Pa and no better. */
        const double rounding = 1e-12 / fmax(fabs(now.room.pressure_pa), 1e-9);
        bad += work_check_steps(now.w, name, fmax(1e-9, rounding));
        bad += work_check_sources(now.w, kit_data());
        check_numbers();
        solved++;
        balanced += work_step_of(now.w, "room.pressure_pa") != NULL;
        without_fan += work_step_of(now.w, "room.pressure_without_fan_pa") != NULL;
        drawn += now.lighting.natural_m3_s > 0.0;
        spills += now.room.place_count > 0;
        given += now.room.pressure_given;
        assert_int_equal(work_says(now.w, "The pressure of the room is given"),
                         now.room.pressure_given);
        assert_int_equal(work_says(now.w, "At this pressure the stack reverses"),
                         now.room.turning && !now.room.pressure_given);
        assert_int_equal(work_says(now.w, "No gas comes out of the kiln"), now.room.place_count == 0);
        dw_working_destroy(now.w);
    }
    print_message("%d of %d rooms; %d balanced, %d without their fan, %d with a draft when cold, %d "
                  "with gas in them\n", solved, cases, balanced, without_fan, drawn, spills);
    assert_int_equal(bad, 0);
    assert_true(solved > cases / 2 && given > 0 && balanced > 0 && without_fan > 0 && drawn > 0 && spills > 0);
}

/* Dampers nearly shut: what is pushed back has its own steps. */
static void what_is_pushed_back_is_worked_out(void **state)
{
    (void)state;
    kit_random random = kit_seed(77);
    int seen = 0;
    for (int n = 0; n < 400 && seen < 3; n++) {
        kit_random_kiln(&random, &now.kiln);
        for (int i = 0; i < now.kiln.flue_count; i++) now.kiln.flue[i].damper.open_frac = 0.0;
        now.kiln.settings.graphite = true;
        now.kiln.room.present = true;
        now.kiln.room.volume_m3 = 83.0;
        now.kiln.room.air_changes_per_hour = 1.7;
        if (!work()) continue;
        bool back = false;
        for (int i = 0; i < now.room.place_count; i++) {
            back = back || now.room.place[i].kind == DW_FLOW_PRIMARY_AIR;
        }
        if (back) {
            assert_int_equal(work_check_steps(now.w, "pushed back", 1e-9), 0);
            check_numbers();
            assert_true(work_says(now.w, "The chamber pushes '"));
            assert_int_equal(now.room.unknown, DW_CO_PUSHED_BACK);
            seen++;
        }
        dw_working_destroy(now.w);
    }
    assert_true(seen > 0);
}

/* A pressure of the room that is not the one found does not balance. */
static void another_pressure_does_not_balance(void **state)
{
    (void)state;
    dw_kiln_file file;
    kit_example("juniper-flat", &file);
    now.kiln = file.kiln;
    now.kiln.room.present = true;
    now.kiln.room.volume_m3 = 118.0;
    now.kiln.room.air_changes_per_hour = 1.3;
    now.kiln.room.exhaust_fan_m3_s = 0.31;
    now.kiln.room.exhaust_fan_pressure_pa = 140.0;
    now.kiln.room.make_up_area_m2 = 0.027;
    assert_true(work());
    assert_int_equal(work_check_steps(now.w, "juniper-flat", 1e-9), 0);
    assert_true(work_check_moved(now.w, "p_bal", 1.001) >= 1);
    assert_true(work_check_moved(now.w, "p_room", 1.001) >= 3);
    assert_true(work_check_moved(now.w, "hood", 1.1) == 0); /* nought, and stays so */
    assert_true(work_check_moved(now.w, "stays", 1.01) >= 1);
    dw_working_destroy(now.w);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(random_rooms_are_worked_out),
        cmocka_unit_test(what_is_pushed_back_is_worked_out),
        cmocka_unit_test(another_pressure_does_not_balance),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

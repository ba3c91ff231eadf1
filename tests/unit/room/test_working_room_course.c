/* The working of a room over time: formulas give the numbers of its air, limits, blood and spread. */
#include "check.h"

#include <stdlib.h>
#include <string.h>

#include "kit.h"
#include "work_check.h"
#include "working_parts.h"
#include "room_course.h"

static dw_room_course course;
static dw_kiln kiln;

/* A room without a kiln: the numbers that the kiln's part would leave. */
static dw_working *work(void)
{
    dw_working *w = dw_working_create();
    assert_non_null(w);
    dw_work_put(w, DW_WORK_INPUT, "V", "volume", "m3", course.room.air.volume_m3);
    dw_work_put(w, DW_WORK_STEP, "Q", "ventilation", "m3/s", course.room.air.flow_m3_s);
    dw_work_put(w, DW_WORK_STEP, "G", "source", "m3/s", course.room.air.source_m3_s);
    assert_int_equal(dw_working_room_course(&kit_data()->co, &kiln, &course, w), DW_OK);
    return w;
}

/* False when the kiln has no solution in its room, or none with a known CO at every end of its spread. */
static bool find(void)
{
    bool given[DW_DOUBT_COUNT];
    for (int i = 0; i < DW_DOUBT_COUNT; i++) given[i] = i % 3 == 1;
    if (dw_room_course_find(kit_model(), &kiln, given, DW_SPREAD_FULL, &course) != DW_OK) {
        return false;
    }
    dw_kiln_resolve(&kiln);
    return course.room.unknown == DW_CO_KNOWN && !course.spread_incomplete;
}

static double value_of(const dw_working *w, const char *key, size_t at)
{
    const dw_work_step *s = work_step_of(w, key);
    if (s == NULL) print_error("no step for %s\n", key);
    assert_non_null(s);
    return dw_working_quantity(w, s->result)->value[at];
}

static void check(const dw_working *w, const char *name)
{
    assert_int_equal(work_check_steps(w, name, 1e-8), 0);
    assert_int_equal(work_check_sources(w, kit_data()), 0);
    assert_close(value_of(w, "room.co_end_ppm", 0), course.end_ppm, 0.0, 0.0);
    assert_close(value_of(w, "room.co_end_high_ppm", 0), course.high_ppm, 0.0, 0.0);
    assert_close(value_of(w, "people.cohb_end_rest", 0),
                 course.exposure.end_frac[DW_ACTIVITY_REST], 0.0, 0.0);
    const dw_work_step *s = work_step_of(w, "course.*.co_ppm");
    assert_non_null(s);
    const dw_work_quantity *q = dw_working_quantity(w, s->result);
    const dw_work_table *t = dw_working_table(w, (size_t)q->table - 1);
    int rows = 0;
    for (size_t i = 0; i < q->rows; i++) {
        if (t->row_key[i][0] == '\0') continue;
        const long row = strtol(t->row_key[i], NULL, 10);
        assert_close(q->value[i], course.row[row].ppm, 0.0, 0.0);
        assert_close(value_of(w, "course.*.cohb", i), course.row[row].cohb_frac, 0.0, 0.0);
        rows++;
    }
    assert_int_equal(rows, DW_COURSE_ROW_MAX - 1);
}

static void random_rooms_are_worked_out(void **state)
{
    (void)state;
    kit_random random = kit_seed(20260523);
    const int cases = kit_cases("DW_WORKING_CASES", 20);
    int solved = 0, reached = 0;
    for (int i = 0; i < cases; i++) {
        kit_random_kiln(&random, &kiln);
        dw_room *room = &kiln.room;
        room->present = true;
        room->volume_m3 = kit_log_between(&random, 20.0, 900.0);
        room->air_changes_per_hour = kit_log_between(&random, 0.05, 30.0);
        room->make_up_area_m2 = kit_log_between(&random, 1e-3, 1.0);
        if (kit_uniform(&random) < 0.6) room->hood_capture_frac = kit_uniform(&random);
        room->outside_co_ppm = kit_uniform(&random) < 0.5 ? 1.0 : kit_between(&random, 0.0, 8.0);
        room->duration_s = kit_log_between(&random, 300.0, 20000.0);
        room->activity = (dw_room_activity)kit_pick(&random, 4);
        if (!find()) continue;
        dw_working *w = work();
        char name[40];
        (void)snprintf(name, sizeof name, "random room %d", i);
        check(w, name);
        solved++;
        reached += work_step_of(w, "limits.*.air_reaches_it_s") != NULL;
        dw_working_destroy(w);
    }
    print_message("%d of %d rooms, %d with a limit reached\n", solved, cases, reached);
    assert_true(solved > cases / 2 && reached > 0);
}

/* Closed, nearly closed, and so much gas that the balance has left its range. */
static void rooms_at_the_ends(void **state)
{
    (void)state;
    dw_kiln_file file;
    kit_example("juniper-flat", &file);
    const double changes[] = {0.0, 1e-6, 0.013, 55.0}, hours[] = {0.4, 5.0, 70.0};
    for (int i = 0; i < 4; i++) {
        for (int k = 0; k < 3; k++) {
            kiln = file.kiln;
            kiln.room.present = true;
            kiln.room.volume_m3 = i == 1 ? 3.1 : 77.0;
            kiln.room.air_changes_per_hour = changes[i];
            kiln.room.make_up_area_m2 = 0.31;
            kiln.room.duration_s = 3600.0 * hours[k];
            if (i == 1) kiln.operating.gas_pressure_pa *= 2.0;
            if (!find()) continue;
            dw_working *w = work();
            check(w, "at an end");
            dw_working_destroy(w);
        }
    }
}

/* What comes in goes out or stays, for the printed levels alone. */
static void moved_numbers_are_seen(void **state)
{
    (void)state;
    dw_kiln_file file;
    kit_example("juniper-flat", &file);
    kiln = file.kiln;
    kiln.room.present = true;
    kiln.room.volume_m3 = 77.0;
    kiln.room.air_changes_per_hour = 1.1;
    kiln.room.make_up_area_m2 = 0.2;
    kiln.room.duration_s = 7100.0;
    assert_true(find());
    dw_working *w = work();
    assert_true(work_check_moved(w, "G", 1.01) >= 5);
    assert_true(work_check_moved(w, "C_m", 1.01) >= 2);
    assert_true(work_check_moved(w, "C_h", 1.01) >= 1);
    dw_working_destroy(w);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(random_rooms_are_worked_out),
        cmocka_unit_test(rooms_at_the_ends),
        cmocka_unit_test(moved_numbers_are_seen),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

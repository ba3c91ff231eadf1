/* What must hold of any kiln in any room, over random ones. The means over a limit's averaging time
 * are worked out here by themselves, from the closed form of the room alone. */
#include "check.h"

#include <stdlib.h>

#include "kit.h"
#include "room_course.h"

static int rooms(int usual)
{
    return kit_cases("DW_ROOMS", usual);
}

/* A room that makes sense; a good part of them well ventilated and hooded, so that some are low. */
static void random_room(kit_random *r, dw_room *room)
{
    room->present = true;
    room->volume_m3 = kit_log_between(r, 20.0, 900.0);
    if (kit_uniform(r) < 0.5) {
        room->air_changes_per_hour = kit_log_between(r, 0.1, 30.0);
    } else {
        room->ventilation_m3_s = kit_log_between(r, 1e-3, 3.0);
    }
    if (kit_uniform(r) < 0.4) {
        room->exhaust_fan_m3_s = kit_log_between(r, 0.02, 1.5);
        room->exhaust_fan_pressure_pa = kit_between(r, 20.0, 190.0);
    }
    if (kit_uniform(r) < 0.6) room->make_up_area_m2 = kit_log_between(r, 1e-3, 1.0);
    if (kit_uniform(r) < 0.6) room->hood_capture_frac = 1.0 - kit_log_between(r, 1e-4, 1.0);
    if (kit_uniform(r) < 0.3) room->burnt_frac = kit_uniform(r);
    room->outside_co_ppm = kit_uniform(r) < 0.7 ? 0.3 : kit_between(r, 0.0, 8.0);
    room->duration_s = kit_log_between(r, 300.0, 172800.0);
    room->activity = (dw_room_activity)kit_pick(r, 4);
    room->smoker = kit_uniform(r) < 0.2;
}

static void random_case(kit_random *r, dw_kiln *kiln)
{
    kit_random_kiln(r, kiln);
    if (kit_uniform(r) < 0.6) { /* much air: what leaves is burnt */
        kiln->operating.gas_pressure_pa *= kit_log_between(r, 0.03, 0.3);
        for (int i = 0; i < kiln->flue_count; i++) {
            kiln->flue[i].damper.open_frac = kit_between(r, 0.5, 1.0);
        }
    }
    if (kit_uniform(r) < 0.3) kiln->operating.chamber_temperature_k = kit_between(r, 900.0, 1600.0);
    random_room(r, &kiln->room);
}

/* Highest mean over a limit's averaging time in a room that only fills: the last of it. */
static double highest_mean(const dw_room_air *air, double duration_s, double over_s)
{
    const double start = air->outside_ppm;
    if (over_s <= 0.0) return dw_room_air_ppm(air, start, duration_s);
    if (over_s >= duration_s) return dw_room_air_mean_ppm(air, start, duration_s);
    const double all = duration_s * dw_room_air_mean_ppm(air, start, duration_s);
    const double first = duration_s - over_s;
    return (all - first * dw_room_air_mean_ppm(air, start, first)) / over_s;
}

static bool some_limit_exceeded(const dw_room_air *air, double duration_s)
{
    const dw_co_data *co = &kit_data()->co;
    for (size_t i = 0; i < co->limit_count; i++) {
        const double mean = highest_mean(air, duration_s, co->limit[i].over_s);
        if (!(mean < co->limit[i].ppm)) return true;
    }
    return false;
}

/* Not a number of carbon monoxide, of blood or of an alarm is left of a state that nobody knows. */
static void nothing_is_claimed(const dw_room_course *c)
{
    const dw_room_result *room = &c->room;
    assert_int_equal(c->verdict, DW_VERDICT_DANGEROUS);
    assert_true(c->lift != DW_LIFT_NONE);
    const double numbers[] = {c->end_ppm,       c->low_ppm,        c->high_ppm,    c->closure_co,
                              room->co_m3_s,    room->h2_m3_s,     room->unburnt_m3_s,
                              room->steady_ppm, room->co_leaves_m3_s, room->x_co_wet,
                              room->air.source_m3_s, c->likely_end_ppm, c->likely_steady_ppm,
                              c->likely_cohb_frac, c->likely.co_m3_s, c->likely.burnt_frac};
    for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++) assert_true(isnan(numbers[i]));
    for (int i = 0; i < room->place_count; i++) {
        assert_true(room->place[i].mass_kg_s > 0.0);
        assert_true(isnan(room->place[i].co_m3_s) && isnan(room->place[i].h2_m3_s));
        assert_true(isnan(room->place[i].unburnt_m3_s) && isnan(c->likely.place[i].burnt_frac));
    }
    for (int i = 0; i < DW_CO_LIMIT_MAX; i++) {
        assert_true(isnan(c->limit_level_s[i]) && isnan(c->limit_flow_m3_s[i]));
    }
    const dw_exposure none = {0};
    assert_memory_equal(&c->exposure, &none, sizeof none);
    assert_memory_equal(&c->worst, &none, sizeof none);
    assert_int_equal(c->row_count + c->doubt_count, 0);
}

/* The likely figure is never above the upper one, and what comes out of cracks is in both. */
static void likely_is_no_more(const dw_room_course *c)
{
    const dw_room_result *room = &c->room;
    const double rounding = 1.0 + 1e-12;
    assert_true(c->likely.co_m3_s <= room->co_m3_s && c->likely.co_m3_s >= 0.0);
    assert_true(c->likely_end_ppm <= c->end_ppm * rounding);
    assert_true(c->likely_steady_ppm <= room->steady_ppm * rounding);
    assert_true(c->likely_cohb_frac <= c->exposure.peak_frac[c->exposure.activity] * rounding);
    for (int i = 0; i < room->place_count; i++) {
        const double burnt = c->likely.place[i].burnt_frac;
        const dw_flow_kind kind = room->place[i].kind;
        assert_true(burnt >= 0.0 && burnt <= 1.0);
        if (kind == DW_FLOW_LEAK_OUT || kind == DW_FLOW_UNLIT_BURNER || kind == DW_FLOW_RELIEF) assert_true(burnt == 0.0);
    }
}

/* Whether gas goes where nobody knows how it burns, seen from the flows. */
static bool goes_the_wrong_way(const dw_kiln *kiln, const dw_room_course *c)
{
    for (int i = 0; i < c->kiln.flow_count; i++) {
        const dw_flow *f = &c->kiln.flow[i];
        if (f->kind == DW_FLOW_STACK && f->mass_kg_s < 0.0) return true;
    }
    for (int i = 0; i < c->kiln.finding_count; i++) {
        const dw_finding *f = &c->kiln.finding[i];
        if (f->code == DW_FIND_BURNER_PUSHED_BACK && kiln->burner[f->index].lit) return true;
    }
    return c->room.turning;
}

static void low_is_never_said_over_a_limit(void **state)
{
    (void)state;
    kit_random random = kit_seed(5171);
    const int count = rooms(1000);
    const bool given[DW_DOUBT_COUNT] = {false};
    dw_kiln *kiln = malloc(sizeof *kiln);
    dw_room_course *course = malloc(sizeof *course);
    assert_non_null(kiln);
    assert_non_null(course);
    int solved = 0, low = 0, over = 0, turning = 0, unknown[5] = {0}, said[3] = {0};
    double worst_closure = 0.0;
    for (int n = 0; n < count; n++) {
        random_case(&random, kiln);
        const dw_status status =
            dw_room_course_find(kit_model(), kiln, given, DW_SPREAD_FOR_VERDICT, course);
        if (status != DW_OK) {
            /* Without a solution nothing is claimed, least of all low. */
            assert_int_equal(course->verdict, DW_VERDICT_DANGEROUS);
            assert_false(course->room.solved && status == DW_ERR_NO_CONVERGE);
            continue;
        }
        solved++;
        said[course->verdict]++;
        turning += course->room.turning;
        if (course->room.turning) assert_int_equal(course->verdict, DW_VERDICT_DANGEROUS);
        unknown[course->room.unknown]++;
        if (course->room.unknown == DW_CO_KNOWN) likely_is_no_more(course);
        if (goes_the_wrong_way(kiln, course)) {
            assert_true(course->room.unknown != DW_CO_KNOWN);
        } else {
            assert_true(course->room.unknown == DW_CO_KNOWN ||
                        course->room.unknown == DW_CO_END_UNKNOWN);
        }
        if (course->room.unknown != DW_CO_KNOWN) {
            nothing_is_claimed(course);
            continue;
        }
        if (course->spread_incomplete) {
            assert_true(isnan(course->high_ppm) && isnan(course->low_ppm));
            assert_int_equal(course->exposure.verdict, DW_VERDICT_DANGEROUS);
        }
        const double duration_s = kiln->room.duration_s;
        const bool exceeded = some_limit_exceeded(&course->room.air, duration_s);
        over += exceeded;
        if (course->verdict == DW_VERDICT_LOW) {
            low++;
            if (exceeded) fail_msg("kiln %d: low over a limit", n);
            /* Nor over one at the upper end of the spread. */
            dw_room_air worst = course->room.air;
            const dw_room_air unit = {worst.volume_m3, worst.flow_m3_s, 1.0, 0.0};
            worst.source_m3_s = (course->high_ppm - worst.outside_ppm) /
                                dw_room_air_ppm(&unit, 0.0, duration_s);
            if (some_limit_exceeded(&worst, duration_s)) fail_msg("kiln %d: spread", n);
            assert_false(course->spread_incomplete);
            /* Nor of a kiln that pushes gas out, smokes or is cold. */
            assert_false(course->room.turning);
            for (int i = 0; i < course->kiln.finding_count; i++) {
                const dw_finding_code code = course->kiln.finding[i].code;
                assert_true(code != DW_FIND_BURNER_PUSHED_BACK && code != DW_FIND_STACK_REVERSED &&
                            code != DW_FIND_RELIEF_SPILLS && code != DW_FIND_COLD_CHAMBER &&
                            code != DW_FIND_SOOTING);
            }
        }
        if (exceeded) assert_true(course->exposure.verdict != DW_VERDICT_LOW);
        assert_true(course->spread_incomplete ||
                    (course->high_ppm >= course->end_ppm && course->low_ppm <= course->end_ppm));
        worst_closure = fmax(worst_closure, course->closure_co);
    }
    print_message("%d of %d solved: %d low, %d raised, %d dangerous; %d over a limit, %d turning; "
                  "CO closes to %.1e; not known: %d reversed, %d pushed back, %d turning, %d ends\n",
                  solved, count, low, said[1], said[2], over, turning, worst_closure,
                  unknown[DW_CO_STACK_REVERSED], unknown[DW_CO_PUSHED_BACK],
                  unknown[DW_CO_STACK_TURNS], unknown[DW_CO_END_UNKNOWN]);
    /* The test means nothing unless all three are among them. */
    assert_true(solved > count / 3 && low > count / 50 && said[1] > count / 50 && over > count / 10);
    assert_true(worst_closure < 1e-11);
    free(course);
    free(kiln);
}

/* From sealed rooms to storms, from a minute to a month: what comes in has gone out or is still there, and the
 * air never holds more CO than the gas that comes in, nor the doubt more than gas of that fuel can hold. */
static void the_air_adds_up_and_is_bounded(void **state)
{
    (void)state;
    kit_random random = kit_seed(40961);
    const int count = rooms(70);
    const bool given[DW_DOUBT_COUNT] = {false};
    dw_kiln *kiln = malloc(sizeof *kiln);
    dw_room_course *course = malloc(sizeof *course);
    assert_non_null(kiln);
    assert_non_null(course);
    int solved = 0, pushed_out = 0;
    double worst_closure = 0.0;
    for (int n = 0; n < count; n++) {
        random_case(&random, kiln);
        kiln->room.volume_m3 = kit_log_between(&random, 3.0, 1e5);
        kiln->room.ventilation_m3_s = NAN;
        kiln->room.air_changes_per_hour =
            n % 2 == 0 ? kit_log_between(&random, 1e-6, 1e-2) : kit_log_between(&random, 1.0, 200.0);
        kiln->room.make_up_area_m2 = 0.3;
        kiln->room.exhaust_fan_m3_s = 0.0;
        kiln->room.duration_s = kit_log_between(&random, 60.0, 30.0 * 86400.0);
        if (dw_room_course_find(kit_model(), kiln, given, DW_SPREAD_FULL, course) != DW_OK) continue;
        const dw_room_result *room = &course->room;
        if (room->unknown != DW_CO_KNOWN) continue;
        solved++;
        pushed_out += room->air.flow_m3_s == room->gas_m3_s && room->gas_m3_s > 0.0;
        worst_closure = fmax(worst_closure, course->closure_co);
        const double bound = room->air.outside_ppm + 1e6 * room->x_co_wet;
        if (!(course->end_ppm <= bound * (1.0 + 1e-9))) {
            fail_msg("kiln %d: %g ppm of gas with %g ppm", n, course->end_ppm, bound);
        }
        assert_true(course->end_ppm <= room->richest_ppm);
        assert_true(!(course->high_ppm > room->richest_ppm) && room->richest_ppm < 1e6);
    }
    print_message("%d of %d solved, %d with gas that pushes the air out; CO closes to %.1e\n", solved,
                  count, pushed_out, worst_closure);
    assert_true(solved > count / 3 && pushed_out > count / 20);
    assert_true(worst_closure < 1e-11);
    free(course);
    free(kiln);
}

/* What an operating point says goes into the room, and what the room says comes: the same by openings and by
 * flues that end there, whichever way the kiln ends, wherever no burner is pushed back. */
static void the_kiln_gives_what_the_room_gets(void **state)
{
    (void)state;
    kit_random random = kit_seed(3391);
    const int count = rooms(300);
    dw_kiln kiln;
    dw_result result;
    dw_room_result room;
    int solved = 0, flues = 0, openings = 0, under_hood = 0, relief = 0;
    for (int n = 0; n < count; n++) {
        random_case(&random, &kiln);
        if (n % 3 == 1) kiln.stack.present = false;
        if (n % 3 == 2 && kiln.stack.present) {
            kiln.stack.hood_gap_height_m = 0.4 * kiln.stack.height_m;
            kiln.stack.relief_area_m2 = 0.004;
        }
        if (dw_room_solve(kit_model(), &kiln, 0.0, &result, &room) != DW_OK) continue;
        double by_flues = 0.0, by_openings = 0.0;
        bool back = false;
        for (int i = 0; i < room.place_count; i++) {
            const dw_room_place *p = &room.place[i];
            back = back || p->kind == DW_FLOW_GAS_JET || p->kind == DW_FLOW_PRIMARY_AIR;
            *(p->kind == DW_FLOW_FLUE ? &by_flues : &by_openings) += p->mass_kg_s;
        }
        if (back) continue;
        solved++;
        const double all = result.room_opening_kg_s + result.room_flue_kg_s;
        assert_close(result.room_flue_kg_s, by_flues, 1e-9, 1e-12);
        assert_close(result.room_opening_kg_s, by_openings, 1e-9, 1e-12);
        assert_close(room.spill_kg_s, all, 1e-9, 1e-12);
        assert_close(room.by_flues_kg_s, by_flues, 1e-12, 0.0);
        flues += by_flues > 0.0;
        openings += by_openings > 0.0;
        under_hood += by_flues > 0.0 && kiln.stack.present;
        for (int i = 0; i < result.finding_count; i++) {
            relief += result.finding[i].code == DW_FIND_RELIEF_SPILLS && by_flues > 0.0;
        }
    }
    print_message("%d of %d: %d by flues, %d of them under a hood (%d with a relief that blows out), %d by "
                  "openings\n", solved, count, flues, under_hood, relief, openings);
    assert_true(solved > count / 3 && flues > count / 10 && under_hood > 5 && openings > count / 10);
}

/* A fan in a room that is opened step by step, with a stack that it turns round: on the reversed side there is
 * never a figure, and never a lower verdict than on the other. */
static void the_reversed_side_is_never_better(void **state)
{
    (void)state;
    kit_random random = kit_seed(811);
    const bool given[DW_DOUBT_COUNT] = {false};
    dw_room_course *course = malloc(sizeof *course);
    assert_non_null(course);
    dw_kiln kiln;
    int both = 0, sides[2] = {0};
    const int count = rooms(30);
    for (int n = 0; n < count; n++) {
        random_case(&random, &kiln);
        if (!kiln.stack.present) continue;
        kiln.stack.hood_gap_height_m = NAN;
        kiln.room.exhaust_fan_m3_s = kit_log_between(&random, 0.05, 0.6);
        kiln.room.exhaust_fan_pressure_pa = 150.0;
        int seen[2] = {0};
        dw_verdict least = DW_VERDICT_DANGEROUS, most = DW_VERDICT_LOW;
        for (int step = 0; step < 4; step++) {
            kiln.room.make_up_area_m2 = 0.02 * step;
            if (dw_room_course_find(kit_model(), &kiln, given, DW_SPREAD_FOR_VERDICT, course) != DW_OK) {
                assert_int_equal(course->verdict, DW_VERDICT_DANGEROUS);
                continue;
            }
            const bool reversed = goes_the_wrong_way(&kiln, course);
            seen[reversed]++;
            if (reversed) {
                nothing_is_claimed(course);
                if (course->verdict < least) least = course->verdict;
            } else if (course->verdict > most) {
                most = course->verdict;
            }
        }
        sides[0] += seen[0];
        sides[1] += seen[1];
        both += seen[0] > 0 && seen[1] > 0;
        assert_true(least >= most);
    }
    print_message("%d rooms, %d reversed; %d kilns with both\n", sides[0], sides[1], both);
    assert_true(both > 1);
    free(course);
}

/* More ventilation, more hood, more time: what each does to the room. */
static void careful_directions(void **state)
{
    (void)state;
    kit_random random = kit_seed(29);
    const int count = rooms(150);
    dw_kiln kiln, other;
    dw_result result;
    dw_room_result a, b;
    int tried = 0;
    for (int n = 0; n < count; n++) {
        random_case(&random, &kiln);
        kiln.room.exhaust_fan_m3_s = 0.0;
        if (dw_room_solve(kit_model(), &kiln, NAN, &result, &a) != DW_OK) continue;
        /* A hood only takes away. */
        other = kiln;
        other.room.hood_capture_frac = 0.5 * (1.0 + kiln.room.hood_capture_frac);
        assert_int_equal(dw_room_solve(kit_model(), &other, NAN, &result, &b), DW_OK);
        assert_true(b.co_m3_s <= a.co_m3_s * (1.0 + 1e-9));
        /* What is said to burn is not in these. */
        other.room = kiln.room;
        other.room.burnt_frac = 0.9;
        assert_int_equal(dw_room_solve(kit_model(), &other, NAN, &result, &b), DW_OK);
        assert_true(b.co_m3_s == a.co_m3_s && b.h2_m3_s == a.h2_m3_s && b.unburnt_m3_s == a.unburnt_m3_s);
        /* A fan takes away draft, never gives it: what leaves the kiln does not get less. */
        other = kiln;
        other.room.exhaust_fan_m3_s = 0.2;
        if (dw_room_solve(kit_model(), &other, NAN, &result, &b) != DW_OK || a.turning ||
            b.turning) {
            continue;
        }
        assert_true(b.pressure_pa <= a.pressure_pa + 1e-3);
        tried++;
    }
    assert_true(tried > count / 4);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(low_is_never_said_over_a_limit),
        cmocka_unit_test(the_air_adds_up_and_is_bounded),
        cmocka_unit_test(the_reversed_side_is_never_better),
        cmocka_unit_test(the_kiln_gives_what_the_room_gets),
        cmocka_unit_test(careful_directions),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

/** @file test_room_likely.c  Unit tests of room/room_likely: what burns where gas comes into a room. */

#include "check.h"

#include <string.h>

#include "constants.h"
#include "kit.h"
#include "room_course.h"

static dw_kiln_file file;
static dw_kiln resolved;
static dw_result result;
static dw_room_result room;
static dw_room_likely likely;
static dw_room_course course, other;

static void solve(const dw_kiln *k)
{
    resolved = *k;
    dw_kiln_resolve(&resolved);
    if (dw_room_solve(kit_model(), k, NAN, &result, &room) != DW_OK) fail_msg("%s", room.reason);
    assert_int_equal(room.unknown, DW_CO_KNOWN);
    assert_int_equal(dw_room_likely_find(kit_model(), &resolved, &result, &room, &likely), DW_OK);
}

/* The place of an opening by its name; -1: no gas leaves there. */
static int place_of(const char *name)
{
    for (int i = 0; i < room.place_count; i++) {
        const dw_room_place *p = &room.place[i];
        if (p->kind != DW_FLOW_OPENING && p->kind != DW_FLOW_TALL_OUT) continue;
        if (strcmp(resolved.opening[p->index].name, name) == 0) return i;
    }
    return -1;
}

static int index_of(const dw_kiln *k, const char *name)
{
    for (int i = 0; i < k->opening_count; i++) {
        if (strcmp(k->opening[i].name, name) == 0) return i;
    }
    fail_msg("no opening '%s'", name);
    return -1;
}

/* A kiln that reduces, hot, its upper spyhole open. */
static dw_kiln *reducing(void)
{
    dw_kiln *k = kit_in_a_room(&file, "juniper-flat");
    k->flue[0].damper.open_frac = 0.45;
    k->opening[index_of(k, "upper spyhole")].open_frac = 1.0;
    return k;
}

static double rho(void)
{
    return resolved.site.pressure_pa_abs * result.gas_wet.molar_mass_kg_mol / (DW_R_J_MOL_K * result.gas_temperature_k);
}

static void holes_burn_by_the_law_and_cracks_never(void **state)
{
    (void)state;
    solve(reducing());
    const int hole = place_of("upper spyhole");
    assert_true(hole >= 0);
    const dw_opening *o = &resolved.opening[room.place[hole].index];
    assert_int_equal(likely.place[hole].by, DW_BURNT_BY_LAW);
    assert_close(likely.place[hole].width_m, sqrt(o->area_m2), 1e-14, 0.0);
    const double v = room.place[hole].mass_kg_s / (rho() * o->area_m2 * o->count);
    const double burnt = dw_port_burnt_frac(&likely.flame, sqrt(o->area_m2), v);
    assert_close(likely.place[hole].burnt_frac, burnt, 1e-12, 0.0);
    assert_true(burnt > 0.5 && burnt <= 0.9);
    double left = 0.0;
    int never = 0;
    for (int i = 0; i < room.place_count; i++) {
        left += (1.0 - likely.place[i].burnt_frac) * room.place[i].co_m3_s;
        if (room.place[i].kind == DW_FLOW_LEAK_OUT) {
            assert_int_equal(likely.place[i].by, DW_BURNT_NEVER);
            assert_close(likely.place[i].burnt_frac, 0.0, 0.0, 0.0);
            never++;
        }
    }
    assert_int_equal(never, 1);
    assert_close(likely.co_m3_s, left, 1e-12, 0.0);
    assert_close(likely.burnt_frac, 1.0 - left / room.co_leaves_m3_s, 1e-12, 0.0);
    assert_true(left < room.co_m3_s);
}

/* Where the flame is neither sure nor out of the question the speed in the mouth decides. */
static void the_speed_in_a_mouth_counts(void **state)
{
    (void)state;
    dw_kiln *k = reducing();
    const int at = index_of(k, "upper spyhole");
    k->opening[at].area_m2 = 1.5e-4;
    k->opening[at].count = 2;
    int between = 0;
    for (double t_k = 950.0; t_k < 1500.0; t_k += 25.0) {
        k->operating.chamber_temperature_k = t_k;
        solve(k);
        const int i = place_of("upper spyhole");
        if (i < 0) continue;
        const double v = room.place[i].mass_kg_s / (rho() * 2.0 * 1.5e-4);
        const double most = dw_port_burnt_frac(&likely.flame, 1e9, v);
        const double burnt = dw_port_burnt_frac(&likely.flame, sqrt(1.5e-4), v);
        assert_close(likely.place[i].burnt_frac, burnt, 1e-12, 1e-15);
        between += burnt > 0.02 && burnt < most - 0.02;
    }
    assert_true(between > 2);
}

/* Partly open the hole is narrower; several are as wide as one and share the flow. */
static void the_mouth_of_a_hole(void **state)
{
    (void)state;
    dw_kiln *k = reducing();
    const int at = index_of(k, "upper spyhole");
    k->opening[at].open_frac = 0.36;
    k->opening[at].count = 3;
    solve(k);
    const int hole = place_of("upper spyhole");
    assert_close(likely.place[hole].width_m, 0.6 * sqrt(k->opening[at].area_m2), 1e-12, 0.0);
    assert_close(likely.place[hole].area_m2, 3.0 * 0.36 * k->opening[at].area_m2, 1e-12, 0.0);
    /* As narrow as a crack it is one. */
    k->opening[at].open_frac = 1.0;
    k->opening[at].count = 1;
    k->opening[at].area_m2 = 0.99e-4;
    solve(k);
    assert_int_equal(likely.place[place_of("upper spyhole")].by, DW_BURNT_NEVER);
    k->opening[at].area_m2 = 1.01e-4;
    solve(k);
    assert_int_equal(likely.place[place_of("upper spyhole")].by, DW_BURNT_BY_LAW);
    k->opening[at].area_m2 = 20e-4;
    k->opening[at].kind = DW_OPENING_CRACK;
    k->opening[at].burnt_frac = 0.8;
    k->room.burnt_frac = 0.8;
    solve(k);
    assert_int_equal(likely.place[place_of("upper spyhole")].by, DW_BURNT_NEVER);
}

/* Of a tall opening the part above the neutral plane counts, four times its area over its circumference wide. */
static void the_mouth_of_a_tall_opening(void **state)
{
    (void)state;
    dw_kiln *k = reducing();
    dw_opening *o = &k->opening[index_of(k, "upper spyhole")];
    o->kind = DW_OPENING_TALL;
    o->from_m = 0.1;
    o->to_m = 0.9;
    o->area_m2 = 0.8 * 0.02;
    solve(k);
    const int i = place_of("upper spyhole");
    assert_true(i >= 0);
    const double out_m = 2.0 * (0.9 - room.place[i].height_m);
    assert_true(out_m > 0.05 && out_m < 0.8);
    assert_close(likely.place[i].width_m, 4.0 * 0.02 * out_m / (2.0 * (0.02 + out_m)), 1e-12, 0.0);
    assert_close(likely.place[i].area_m2, 0.02 * out_m, 1e-12, 0.0);
    o->area_m2 = 0.8 * 0.0099;
    solve(k);
    assert_int_equal(likely.place[place_of("upper spyhole")].by, DW_BURNT_NEVER);
}

static void flues_that_end_in_the_room(void **state)
{
    (void)state;
    dw_kiln *k = kit_in_a_room(&file, "fennelbank-school");
    k->flue[0].damper.open_frac = 0.25;
    solve(k);
    int flues = 0;
    for (int i = 0; i < room.place_count; i++) {
        if (room.place[i].kind != DW_FLOW_FLUE) continue;
        const dw_flue *f = &resolved.flue[room.place[i].index];
        const double open = f->damper.open_frac, side = sqrt(f->area_m2);
        assert_int_equal(likely.place[i].by, DW_BURNT_BY_LAW);
        assert_close(likely.place[i].area_m2, f->count * open * f->area_m2, 1e-12, 0.0);
        assert_close(likely.place[i].width_m, 2.0 * side * open / (1.0 + open), 1e-12, 0.0);
        flues++;
    }
    assert_true(flues > 0);
    /* Shut it leaks through its gaps. */
    k->flue[0].damper.open_frac = 0.0;
    solve(k);
    for (int i = 0; i < room.place_count; i++) {
        if (room.place[i].kind == DW_FLOW_FLUE && room.place[i].index == 0) {
            assert_int_equal(likely.place[i].by, DW_BURNT_NEVER);
        }
    }
    k->flue[0].damper.leak_frac = 0.2;
    solve(k);
    for (int i = 0; i < room.place_count; i++) {
        if (room.place[i].kind != DW_FLOW_FLUE || room.place[i].index != 0) continue;
        assert_close(likely.place[i].area_m2, resolved.flue[0].count * 0.2 * resolved.flue[0].area_m2, 1e-12, 0.0);
    }
    /* Under a hood gap the stack has taken the heat, unless somebody says what burns. */
    k = kit_in_a_room(&file, "juniper-flat");
    k->stack.hood_gap_height_m = 0.5 * k->stack.height_m;
    for (int said = 0; said < 2; said++) {
        if (said) k->room.burnt_frac = 0.4;
        solve(k);
        for (int i = 0; i < room.place_count; i++) {
            if (room.place[i].kind != DW_FLOW_FLUE) continue;
            assert_close(likely.place[i].burnt_frac, said ? 0.4 : 0.0, 0.0, 0.0);
        }
    }
}

/* What a person says of an opening is before what is said of the room, and that before the law. */
static void who_decides(void **state)
{
    (void)state;
    dw_kiln *k = reducing();
    const int at = index_of(k, "upper spyhole");
    k->room.burnt_frac = 0.3;
    solve(k);
    assert_int_equal(likely.place[place_of("upper spyhole")].by, DW_BURNT_GIVEN);
    assert_close(likely.place[place_of("upper spyhole")].burnt_frac, 0.3, 0.0, 0.0);
    k->opening[at].burnt_frac = 0.7;
    solve(k);
    assert_close(likely.place[place_of("upper spyhole")].burnt_frac, 0.7, 0.0, 0.0);
    k->opening[at].burnt_frac = 0.0;
    solve(k);
    assert_close(likely.place[place_of("upper spyhole")].burnt_frac, 0.0, 0.0, 0.0);
    k->room.burnt_frac = NAN;
    k->room.hood_capture_frac = 0.75;
    k->opening[at].burnt_frac = 0.9;
    solve(k);
    double left = 0.0;
    for (int i = 0; i < room.place_count; i++) left += (1.0 - likely.place[i].burnt_frac) * room.place[i].co_m3_s;
    assert_close(likely.co_m3_s, 0.25 * left, 1e-12, 0.0);
}

static void find(const dw_kiln *k, dw_room_course *c)
{
    const bool given[DW_DOUBT_COUNT] = {false};
    assert_int_equal(dw_room_course_find(kit_model(), k, given, DW_SPREAD_FULL, c), DW_OK);
}

/* With nine tenths burnt at every hole and crack the cracks' CO is untouched, and nothing but the likely figures moves. */
static void a_burnt_share_moves_the_likely_figure_alone(void **state)
{
    (void)state;
    dw_kiln *k = reducing();
    find(k, &course);
    k->room.burnt_frac = 0.9;
    for (int i = 0; i < k->opening_count; i++) k->opening[i].burnt_frac = 0.9;
    find(k, &other);
    assert_int_equal(other.verdict, course.verdict);
    assert_int_equal(other.lift, course.lift);
    for (int worst = 0; worst < 2; worst++) {
        const dw_exposure *a = worst ? &other.worst : &other.exposure, *b = worst ? &course.worst : &course.exposure;
        assert_int_equal(a->verdict, b->verdict);
        assert_memory_equal(a->limit, b->limit, sizeof a->limit[0] * kit_data()->co.limit_count);
        assert_memory_equal(a->alarm_may_s, b->alarm_may_s, sizeof a->alarm_may_s[0] * kit_data()->co.alarm_count);
        assert_memory_equal(a->peak_frac, b->peak_frac, sizeof a->peak_frac);
    }
    const double same[][2] = {{other.end_ppm, course.end_ppm}, {other.high_ppm, course.high_ppm},
                              {other.room.co_m3_s, course.room.co_m3_s}, {other.room.h2_m3_s, course.room.h2_m3_s},
                              {other.room.steady_ppm, course.room.steady_ppm}};
    for (size_t i = 0; i < sizeof same / sizeof same[0]; i++) assert_close(same[i][0], same[i][1], 0.0, 0.0);
    double cracks = 0.0;
    for (int i = 0; i < other.room.place_count; i++) {
        if (other.room.place[i].kind == DW_FLOW_LEAK_OUT) cracks += other.room.place[i].co_m3_s;
    }
    assert_true(cracks > 0.0);
    assert_true(other.likely.co_m3_s >= cracks);
    assert_true(other.likely.co_m3_s < course.room.co_m3_s);
}

/* By hand from the room's own law. */
static void levels_of_the_likely_figure(void **state)
{
    (void)state;
    dw_kiln *k = reducing();
    find(k, &course);
    const dw_room_air *air = &course.room.air;
    const double steady = air->outside_ppm + 1e6 * course.likely.co_m3_s / air->flow_m3_s;
    assert_close(course.likely_steady_ppm, steady, 1e-12, 0.0);
    const double changes = air->flow_m3_s * 43200.0 / air->volume_m3;
    assert_close(course.likely_end_ppm, steady + (air->outside_ppm - steady) * exp(-changes), 1e-9, 0.0);
    assert_true(course.likely_end_ppm < course.end_ppm);
    assert_true(course.likely_cohb_frac < course.exposure.peak_frac[course.exposure.activity]);
    assert_true(course.likely_cohb_frac > course.exposure.start_frac);
    /* The temperature where reactions stop moves the CO of cold rich gas, by lean and rich gas together. */
    k->operating.chamber_temperature_k = 1073.15;
    find(k, &course);
    int looked = 0;
    for (int i = 0; i < course.doubt_count; i++) {
        const dw_room_doubt_item *d = &course.doubt[i];
        if (d->input != (int)DW_ROOM_DOUBT_QUENCH) continue;
        assert_true(d->low_ppm < 0.995 * course.end_ppm && d->high_ppm > 1.01 * course.end_ppm);
        looked++;
    }
    assert_int_equal(looked, 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(holes_burn_by_the_law_and_cracks_never),
        cmocka_unit_test(the_speed_in_a_mouth_counts),
        cmocka_unit_test(the_mouth_of_a_hole),
        cmocka_unit_test(the_mouth_of_a_tall_opening),
        cmocka_unit_test(flues_that_end_in_the_room),
        cmocka_unit_test(who_decides),
        cmocka_unit_test(a_burnt_share_moves_the_likely_figure_alone),
        cmocka_unit_test(levels_of_the_likely_figure),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

/** @file test_room.c  Unit tests of model/room. */

#include "check.h"

#include <stdlib.h>
#include <string.h>

#include "constants.h"
#include "kit.h"
#include "moist_air.h"
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

/* Of the air in the room and outside, kg/m3. */
static void densities(const dw_site *s, double *room_kg_m3, double *outside_kg_m3)
{
    dw_moist_air air;
    assert_int_equal(dw_moist_air_from_humidity(s->air_temperature_k, s->pressure_pa_abs,
                                                s->relative_humidity, NULL, &air), DW_OK);
    *room_kg_m3 = dw_ideal_gas_density_kg_m3(air.molar_mass_kg_mol, s->room_temperature_k,
                                             s->pressure_pa_abs);
    *outside_kg_m3 = dw_ideal_gas_density_kg_m3(air.molar_mass_kg_mol, s->outside_temperature_k,
                                                s->pressure_pa_abs);
}

/* Air and gas that come in leave again: what a kiln takes from the room, less what it gives to it, is
 * what goes up its stack less what comes by pipe, wherever the stack ends. */
static void what_a_kiln_draws_closes_its_balance(void **state)
{
    (void)state;
    for (int n = 0; n < 4; n++) {
        static const char *const name[] = {"juniper-flat", "fennelbank-school", "juniper-flat",
                                           "gannet-quay"};
        dw_kiln *k = kit_in_a_room(&file, name[n]);
        if (n == 2) k->stack.hood_gap_height_m = 0.5 * k->stack.height_m;
        if (n == 3) k->stack.relief_area_m2 = 0.0123;
        solve(k);
        const bool outside = n == 0 || n == 3;
        double jets = 0.0;
        for (int i = 0; i < kiln.flow_count; i++) {
            if (kiln.flow[i].kind == DW_FLOW_AIR_JET) jets += kiln.flow[i].mass_kg_s;
        }
        assert_close(dw_room_kiln_draws_kg_s(k, &kiln),
                     (outside ? kiln.stack_flow_kg_s : 0.0) - kiln.gas_flow_kg_s - jets, 0.0,
                     1e-9 * kiln.flue_flow_kg_s);
    }
}

/* What comes in, by the fan's and the openings' laws written down once more. */
static void the_room_balances(void **state)
{
    (void)state;
    dw_kiln *k = kit_in_a_room(&file, "juniper-flat");
    k->room.exhaust_fan_m3_s = 0.11;
    k->room.exhaust_fan_pressure_pa = 90.0;
    k->room.make_up_area_m2 = 0.031;
    solve(k);
    assert_true(room.pressure_pa < 0.0);
    dw_kiln resolved = *k;
    dw_kiln_resolve(&resolved);
    const double leak = 1.7 * 83.0 / 3600.0 / (0.62 * sqrt(2.0 * 4.0 / 1.2));
    assert_close(resolved.room.leak_area_m2, leak, 1e-12, 0.0);
    double rho_room, rho_out;
    densities(&resolved.site, &rho_room, &rho_out);
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

/* Where a stack turns round, the draw of the kiln jumps and no pressure balances the room: one side of the
 * jump asks for less pressure, the other for more, and the one that gives more CO is shown. */
static void a_stack_that_turns_round_shows_the_worse_side(void **state)
{
    (void)state;
    dw_kiln *k = kit_in_a_room(&file, "juniper-flat");
    k->room.exhaust_fan_m3_s = 0.14;
    k->room.exhaust_fan_pressure_pa = 320.0;
    k->room.make_up_area_m2 = 0.0;
    solve(k);
    assert_true(room.turning && room.kiln_feels_it);
    dw_kiln resolved = *k;
    dw_kiln_resolve(&resolved);
    double rho_room, rho_out;
    densities(&resolved.site, &rho_room, &rho_out);
    double gap[2], co[2];
    static dw_result at;
    for (int i = 0; i < 2; i++) {
        const double p = room.pressure_pa + (i == 0 ? -1e-3 : 1e-3);
        dw_kiln there = *k;
        there.site.room_pressure_pa = p;
        assert_int_equal(dw_operating_point(kit_model(), &there, &at), DW_OK);
        const double in = 0.62 * resolved.room.leak_area_m2 * sqrt(-2.0 * rho_out * p) / rho_room;
        gap[i] = in - 0.14 * (1.0 + p / 320.0) - (at.stack_flow_kg_s - at.gas_flow_kg_s) / rho_room;
        static dw_room_result spill;
        memset(&spill, 0, sizeof spill);
        dw_kiln_resolve(&there);
        assert_int_equal(dw_room_add_up(kit_model(), &there, &at, &spill), DW_OK);
        co[i] = spill.co_m3_s;
    }
    /* Lower it would be pushed up, higher pulled down, and not by little. */
    assert_true(gap[0] > 0.0 && gap[1] < 0.0 && gap[0] - gap[1] > 1e-3);
    assert_true(fabs(co[0] - co[1]) > 0.01 * co[0]);
    assert_close(room.co_m3_s, fmax(co[0], co[1]), 1e-3, 0.0);
    /* The same from wherever the search begins. */
    for (int i = 0; i < 3; i++) {
        static const double guess_pa[] = {-70.0, -33.0, 5.0};
        assert_int_equal(dw_room_solve(kit_model(), k, guess_pa[i], &kiln, &room), DW_OK);
        assert_true(room.turning);
        assert_close(room.co_m3_s, fmax(co[0], co[1]), 1e-3, 0.0);
        assert_close(room.spill_kg_s, kiln.spill_kg_s, 1e-9, 0.0);
    }
}

/* Just lean enough to be worked out in a room without a difference of pressure, too rich in one that a fan
 * pulls down: the reason names the pressure where the kiln has no balance any more. */
static void a_room_may_be_too_tight_for_the_kiln(void **state)
{
    (void)state;
    dw_kiln *k = kit_in_a_room(&file, "juniper-flat");
    for (int i = 0; i < k->flue_count; i++) k->flue[i].damper.open_frac = 0.10;
    double low_pa = 150e3, high_pa = 900e3;
    for (int i = 0; i < 40; i++) {
        k->operating.gas_pressure_pa = 0.5 * (low_pa + high_pa);
        const dw_status status = dw_operating_point(kit_model(), k, &kiln);
        if (status == DW_OK && kiln.equivalence_ratio < 2.999) {
            low_pa = k->operating.gas_pressure_pa;
        } else {
            high_pa = k->operating.gas_pressure_pa;
        }
    }
    k->operating.gas_pressure_pa = low_pa;
    assert_int_equal(dw_operating_point(kit_model(), k, &kiln), DW_OK);
    assert_close(kiln.equivalence_ratio, 2.999, 1e-9, 0.0);
    k->room.exhaust_fan_m3_s = 0.3;
    k->room.exhaust_fan_pressure_pa = 300.0;
    assert_int_equal(dw_room_solve(kit_model(), k, NAN, &kiln, &room), DW_ERR_NO_CONVERGE);
    assert_false(room.solved);
    assert_non_null(strstr(room.reason, "the room is too tight"));
    /* The whole of the kiln's own reason, whichever side the search ended on. */
    const char *own = "(far too rich: equivalence ratio above 3 (only with model.graphite: yes))";
    assert_non_null(strstr(room.reason, own));
    for (int i = 0; i < 6; i++) {
        dw_kiln next = *k;
        next.operating.gas_pressure_pa = low_pa - 400.0 * i;
        assert_int_equal(dw_room_solve(kit_model(), &next, NAN, &kiln, &room), DW_ERR_NO_CONVERGE);
        assert_non_null(strstr(room.reason, own));
    }
    assert_int_equal(dw_room_solve(kit_model(), k, NAN, &kiln, &room), DW_ERR_NO_CONVERGE);
    const char *at = strstr(room.reason, "at its -");
    assert_non_null(at);
    const double limit_pa = strtod(at + 7, NULL);
    for (int i = 0; i < 2; i++) {
        dw_kiln there = *k;
        there.site.room_pressure_pa = limit_pa * (i == 0 ? 0.95 : 1.05);
        assert_int_equal(dw_operating_point(kit_model(), &there, &kiln),
                         i == 0 ? DW_OK : DW_ERR_NO_CONVERGE);
    }
}

/* Solutions of the kiln until the room's pressure is found, over tight and open rooms, weak and strong
 * fans. A worse step ends at the same pressure, so nothing else sees it; who makes it cheaper puts the
 * new figure here. */
static void the_pressure_is_found_in_few_solutions(void **state)
{
    (void)state;
    enum { ROOMS = 40 };
    int sum = 0, most = 0, compared = 0;
    for (int n = 0; n < ROOMS; n++) {
        const double a = (n + 0.5) / ROOMS, b = fmod(a * 13.0, 1.0), c = fmod(a * 29.0, 1.0);
        dw_kiln *k = kit_in_a_room(&file, n % 2 == 0 ? "juniper-flat" : "gannet-quay");
        k->room.exhaust_fan_m3_s = 0.02 + 0.3 * b;
        k->room.exhaust_fan_pressure_pa = 20.0 + 150.0 * c;
        k->room.make_up_area_m2 = 0.05 * a;
        /* A guess leaves the comparison without the fan out. */
        assert_int_equal(dw_room_solve(kit_model(), k, 0.0, &kiln, &room), DW_OK);
        assert_true(fabs(room.residual_pa) <= 1e-3);
        sum += room.rounds;
        if (room.rounds > most) most = room.rounds;
        assert_int_equal(dw_room_solve(kit_model(), k, NAN, &kiln, &room), DW_OK);
        compared += room.rounds;
    }
    print_message("%d solutions of %d rooms, %d at most; %d compared with no fan\n", sum, ROOMS, most,
                  compared);
    assert_in_range(compared, 396, 404);
    assert_in_range(sum, 237, 243);
    assert_in_range(most, 9, 11);
}

static void a_fan_without_make_up_costs_draft(void **state)
{
    (void)state;
    dw_kiln *k = kit_in_a_room(&file, "juniper-flat");
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
    dw_kiln *k = kit_in_a_room(&file, "juniper-flat");
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
    dw_kiln *k = kit_in_a_room(&file, "juniper-flat");
    k->site.room_pressure_pa = -1.37;
    k->room.exhaust_fan_m3_s = 0.5;
    solve(k);
    assert_true(room.pressure_given);
    assert_close(room.pressure_pa, -1.37, 0.0, 0.0);
}

static void refuses_what_has_no_meaning(void **state)
{
    (void)state;
    dw_kiln *k = kit_in_a_room(&file, "juniper-flat");
    assert_int_equal(dw_room_solve(NULL, k, NAN, &kiln, &room), DW_ERR_ARG);
    k->room.present = false;
    assert_int_equal(dw_room_solve(kit_model(), k, NAN, &kiln, &room), DW_ERR_ARG);
    k->room.present = true;
    k->room.volume_m3 = 0.0;
    assert_int_equal(dw_room_solve(kit_model(), k, NAN, &kiln, &room), DW_ERR_DOMAIN);
    assert_non_null(strstr(room.reason, "volume"));
    k = kit_in_a_room(&file, "juniper-flat");
    k->room.hood_capture_frac = 1.2;
    assert_int_equal(dw_room_solve(kit_model(), k, NAN, &kiln, &room), DW_ERR_DOMAIN);
    /* Each alone, and the last values that still have a meaning. */
    for (int n = 0; n < 12; n++) {
        k = kit_in_a_room(&file, "juniper-flat");
        dw_room *r = &k->room;
        double *const field[] = {&r->volume_m3, &r->exhaust_fan_m3_s, &r->exhaust_fan_pressure_pa,
                                 &r->make_up_area_m2, &r->leak_area_m2, &r->hood_capture_frac,
                                 &r->hood_capture_frac, &r->burnt_frac, &r->burnt_frac,
                                 &r->outside_co_ppm, &r->duration_s, &r->duration_s};
        static const double bad[] = {INFINITY, -0.1, 0.0, -0.1, -0.1, -0.01, 1.001, -0.01, 1.001,
                                     -0.1, 0.0, INFINITY};
        *field[n] = bad[n];
        if (dw_room_solve(kit_model(), k, NAN, &kiln, &room) != DW_ERR_DOMAIN) fail_msg("%d", n);
        static const double good[] = {80.0, 0.0, 1.0, 0.0, 0.1, 0.0, 1.0, 0.0, 1.0, 0.0, 1.0, 1e5};
        *field[n] = good[n];
        solve(k);
    }
    k = kit_in_a_room(&file, "juniper-flat");
    k->room.ventilation_m3_s = INFINITY;
    assert_int_equal(dw_room_solve(kit_model(), k, NAN, &kiln, &room), DW_ERR_DOMAIN);
    k->room.ventilation_m3_s = 0.0;
    solve(k);
    assert_int_equal(dw_room_solve(kit_model(), k, NAN, NULL, &room), DW_ERR_ARG);
    assert_int_equal(dw_room_solve(kit_model(), k, NAN, &kiln, NULL), DW_ERR_ARG);
    assert_true(kiln.solved);
    assert_int_equal(dw_room_solve(kit_model(), NULL, NAN, &kiln, &room), DW_ERR_ARG);
    assert_false(kiln.solved || room.solved);
    /* Steam of 99 degC does not fit into the air of a mountain. */
    k = kit_in_a_room(&file, "juniper-flat");
    k->site.pressure_pa_abs = 80e3;
    k->site.air_temperature_k = k->site.room_temperature_k = 372.15;
    k->site.relative_humidity = 1.0;
    assert_int_equal(dw_room_solve(kit_model(), k, NAN, &kiln, &room), DW_ERR_DOMAIN);
    assert_non_null(strstr(room.reason, "vapour"));
    k = kit_in_a_room(&file, "juniper-flat");
    k->room.air_changes_per_hour = NAN;
    assert_int_equal(dw_room_solve(kit_model(), k, NAN, &kiln, &room), DW_ERR_DOMAIN);
    assert_non_null(strstr(room.reason, "ventilation"));
    k = kit_in_a_room(&file, "juniper-flat");
    k->flue[0].area_m2 = -1.0;
    assert_int_equal(dw_room_solve(kit_model(), k, NAN, &kiln, &room), DW_ERR_DOMAIN);
    /* No air can come in: the fan has nothing to balance it. */
    k = kit_in_a_room(&file, "juniper-flat");
    k->room.leak_area_m2 = 0.0;
    k->room.exhaust_fan_m3_s = 1.0;
    k->room.exhaust_fan_pressure_pa = 2000.0;
    assert_int_equal(dw_room_solve(kit_model(), k, NAN, &kiln, &room), DW_ERR_NO_CONVERGE);
    assert_false(room.solved);
    assert_true(room.reason[0] != '\0');
    /* Nothing of the last attempt is left, in the kiln's result neither. */
    dw_result only_why = {0};
    (void)snprintf(only_why.reason, sizeof only_why.reason, "%s", room.reason);
    assert_memory_equal(&kiln, &only_why, sizeof kiln);
    dw_room_result nothing = {.rounds = room.rounds};
    memcpy(nothing.reason, room.reason, sizeof nothing.reason);
    assert_memory_equal(&room, &nothing, sizeof room);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_a_kiln_draws_closes_its_balance),
        cmocka_unit_test(the_room_balances),
        cmocka_unit_test(a_stack_that_turns_round_shows_the_worse_side),
        cmocka_unit_test(a_room_may_be_too_tight_for_the_kiln),
        cmocka_unit_test(the_pressure_is_found_in_few_solutions),
        cmocka_unit_test(a_fan_without_make_up_costs_draft),
        cmocka_unit_test(with_the_kiln_off_the_fan_is_alone),
        cmocka_unit_test(a_measured_pressure_is_used_as_it_is),
        cmocka_unit_test(refuses_what_has_no_meaning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

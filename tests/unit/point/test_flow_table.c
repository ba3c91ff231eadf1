/* The flow table, drafts and findings of states filled in by hand. */
#include "check.h"

#include <string.h>

#include "constants.h"
#include "kit.h"
#include "network.h"

static dw_kiln kiln;
static dw_network net;
static dw_network_at at;
static dw_network_state given;
static dw_result result;

static double rise_pa_m(void) { return (net.rho_room_kg_m3 - at.rho_kg_m3) * 9.80665; }

/* Reports the state with these pressures; the sums are what flows at them. */
static void report(double pressure_pa, double stack_base_pa, bool down)
{
    char reason[DW_REASON_SIZE];
    assert_int_equal(dw_network_init(&net, kit_model(), &kiln, reason), DW_OK);
    const dw_chamber_gas gas = {0.0281, net.x_air};
    assert_int_equal(dw_network_at_density(&net, gas, &at), DW_OK);
    at.down = down;
    memset(&given, 0, sizeof given);
    given.pressure_pa = pressure_pa;
    given.stack_base_pa = stack_base_pa;
    given.down = down;
    dw_network_evaluate(&at, pressure_pa, stack_base_pa, &given.sums);
    const dw_network_sums *s = &given.sums;
    given.stack_kg_s = s->flue_out_kg_s - s->flue_back_kg_s + s->relief_kg_s;
    given.stack = (dw_stack_state){.loss_pa = 3.21, .buoyancy_pa = 27.3,
                                   .mean_temperature_k = 871.0};
    memset(&result, 0, sizeof result);
    result.neutral = DW_NEUTRAL_ALL_OUT;
    result.draft_theoretical_pa = 7.0;
    dw_network_report(&at, &given, &result);
}

/* The only line of a kind; fails when there is none or another. */
static const dw_flow *line(dw_flow_kind kind, int index)
{
    const dw_flow *found = NULL;
    for (int i = 0; i < result.flow_count; i++) {
        const dw_flow *f = &result.flow[i];
        if (f->kind != kind || f->index != index) continue;
        assert_null(found);
        found = f;
    }
    assert_non_null(found);
    return found;
}

static int lines(dw_flow_kind kind)
{
    int count = 0;
    for (int i = 0; i < result.flow_count; i++) count += result.flow[i].kind == kind;
    return count;
}

static const dw_finding *finding(dw_finding_code code)
{
    for (int i = 0; i < result.finding_count; i++) {
        if (result.finding[i].code == code) return &result.finding[i];
    }
    return NULL;
}

static void expect_line(dw_flow_kind kind, int index, double mass, double height, double dp)
{
    const dw_flow *f = line(kind, index);
    assert_close(f->mass_kg_s, mass, 1e-9, 1e-18);
    assert_close(f->height_m, height, 1e-9, 0.0);
    assert_close(f->dp_pa, dp, 1e-9, 1e-12);
}

static void expect_finding(dw_finding_code code, int index, double value)
{
    const dw_finding *f = finding(code);
    assert_non_null(f);
    assert_int_equal(f->index, index);
    assert_close(f->value, value, 1e-9, 0.0);
}

static void kiln_that_draws_at_every_part(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.burner[0].count = 2;
    report(-20.0, NAN, false);
    const double hole_pa = 20.0 - 0.2 * rise_pa_m();
    dw_injector_flow air;
    dw_injector_air(&net.burner[0].injector, -20.0, NULL, &air);
    expect_line(DW_FLOW_GAS_JET, 0, net.burner[0].gas_kg_s, 0.1, 10000.0);
    expect_line(DW_FLOW_PRIMARY_AIR, 0, 2.0 * air.air_kg_s, 0.1, 20.0);
    assert_close(line(DW_FLOW_OPENING, 0)->mass_kg_s,
                 0.62 * 40e-4 * sqrt(2.0 * net.rho_room_kg_m3 * hole_pa), 1e-6, 0.0);
    expect_line(DW_FLOW_OPENING, 0, line(DW_FLOW_OPENING, 0)->mass_kg_s, 0.3, hole_pa);
    const double flue_pa = -20.0 + 0.8 * rise_pa_m();
    assert_true(flue_pa < 0.0);
    expect_line(DW_FLOW_FLUE, 0, -given.sums.flue_back_kg_s, 0.9, flue_pa);
    expect_finding(DW_FIND_FLUE_REVERSED, 0, given.sums.flue_back_kg_s);
    expect_finding(DW_FIND_DAMPER_RANGE, 0, 1.0); /* wide open */
    assert_int_equal(result.flow_count, 4);
    assert_int_equal(result.finding_count, 2);

    assert_close(result.gas_flow_kg_s, given.sums.gas_kg_s, 0.0, 0.0);
    assert_close(result.air_flow_kg_s, given.sums.air_kg_s, 0.0, 0.0);
    assert_close(result.flue_flow_kg_s, -given.sums.flue_back_kg_s, 0.0, 0.0);
    assert_close(result.spill_kg_s, 0.0, 0.0, 0.0);
    assert_close(result.datum_height_m, 0.1, 0.0, 0.0);
    assert_close(result.pressure_datum_pa, -20.0, 0.0, 0.0);
    assert_close(result.pressure_floor_pa, -20.0 - 0.1 * rise_pa_m(), 1e-12, 0.0);
    assert_close(result.pressure_top_pa, -20.0 + 0.9 * rise_pa_m(), 1e-12, 0.0);
    assert_close(result.draft_floor_pa, -result.pressure_floor_pa, 0.0, 0.0);
    assert_close(result.draft_top_pa, -result.pressure_top_pa, 0.0, 0.0);
    assert_int_equal(result.neutral, DW_NEUTRAL_ALL_IN);
    assert_true(isnan(result.neutral_plane_m));
    assert_false(result.has_stack);
    assert_close(result.draft_theoretical_pa, 0.0, 0.0, 0.0);
    assert_true(isnan(result.draft_stack_base_pa) && isnan(result.draft_flue_exit_pa) &&
                isnan(result.stack_flow_kg_s) && isnan(result.stack_mean_temperature_k) &&
                isnan(result.stack_base_temperature_k));
    /* Everything that enters but the gas is a residual here, as nothing was solved. */
    assert_close(result.worst_residual_kg_s, given.sums.net_kg_s, 1e-12, 0.0);
    assert_close(result.closure_mass, given.sums.net_kg_s / given.sums.in_kg_s, 1e-12, 0.0);
}

static void neutral_plane_is_a_height_inside_and_a_word_outside(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    report(0.0, NAN, false);
    const double rise = rise_pa_m();
    report(-rise * 0.35, NAN, false);
    assert_int_equal(result.neutral, DW_NEUTRAL_INSIDE);
    assert_close(result.neutral_plane_m, 0.45, 1e-9, 0.0);
    report(rise * 0.0999, NAN, false);
    assert_int_equal(result.neutral, DW_NEUTRAL_INSIDE);
    report(rise * 0.1001, NAN, false);
    assert_int_equal(result.neutral, DW_NEUTRAL_ALL_OUT);
    assert_true(isnan(result.neutral_plane_m));
    report(-rise * 0.8999, NAN, false);
    assert_int_equal(result.neutral, DW_NEUTRAL_INSIDE);
    report(-rise * 0.9001, NAN, false);
    assert_int_equal(result.neutral, DW_NEUTRAL_ALL_IN);
    /* The floor and the roof belong to the chamber. */
    for (int top = 0; top < 2; top++) {
        kiln.burner[0].height_m = top;
        report(0.0, NAN, false);
        assert_int_equal(result.neutral, DW_NEUTRAL_INSIDE);
        assert_close(result.neutral_plane_m, top, 0.0, 0.0);
    }
}

static void pushed_back_parts_are_hazards(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.burner_count = 4;
    for (int i = 1; i < 4; i++) kiln.burner[i] = kiln.burner[0];
    kiln.burner[1].lit = false;
    kiln.burner[2].lit = false;
    kiln.burner[2].plugged = true;
    kiln.burner[3].kind = DW_BURNER_BLOWN;
    kiln.burner[3].air_restriction_area_m2 = 4e-4;
    kiln.burner[3].air_pressure_pa = 120.0;
    kiln.opening_count = 2;
    kiln.opening[1] = kiln.opening[0];
    kiln.opening[1].open_frac = 0.0; /* a bung: no line */
    report(90.0, NAN, false);
    assert_int_equal(lines(DW_FLOW_UNLIT_BURNER), 1);
    assert_close(line(DW_FLOW_UNLIT_BURNER, 1)->mass_kg_s,
                 -net.burner[1].unlit_area_m2 * sqrt(2.0 * at.rho_kg_m3 * 90.0), 1e-6, 0.0);
    expect_line(DW_FLOW_UNLIT_BURNER, 1, line(DW_FLOW_UNLIT_BURNER, 1)->mass_kg_s, 0.1, 90.0);
    expect_line(DW_FLOW_PRIMARY_AIR, 0, 0.0, 0.1, -90.0);
    int pushed = 0;
    for (int i = 0; i < result.finding_count; i++) {
        if (result.finding[i].code != DW_FIND_BURNER_PUSHED_BACK) continue;
        pushed++;
        assert_true(result.finding[i].index < 2);
        assert_close(result.finding[i].value, 90.0, 1e-12, 0.0);
    }
    assert_int_equal(pushed, 2);
    /* The blown one still works, against 90 Pa. */
    dw_jet_flow jet;
    dw_jet_discharge(&net.burner[3].gas_jet, 101325.0 + 90.0, &jet);
    expect_line(DW_FLOW_GAS_JET, 3, jet.mass_kg_s, 0.1, 9910.0);
    assert_close(line(DW_FLOW_PRIMARY_AIR, 3)->mass_kg_s,
                 0.62 * 4e-4 * sqrt(2.0 * net.rho_room_kg_m3 * 30.0), 1e-6, 0.0);
    expect_line(DW_FLOW_PRIMARY_AIR, 3, line(DW_FLOW_PRIMARY_AIR, 3)->mass_kg_s, 0.1, 30.0);
    const double hole_pa = 90.0 + 0.2 * rise_pa_m();
    assert_int_equal(lines(DW_FLOW_OPENING), 1);
    assert_true(line(DW_FLOW_OPENING, 0)->mass_kg_s < 0.0);
    expect_finding(DW_FIND_POSITIVE_AT_OPENING, 0, hole_pa);
    assert_close(result.spill_kg_s, given.sums.out_kg_s, 0.0, 0.0);
    assert_close(result.flue_flow_kg_s, given.sums.flue_out_kg_s, 0.0, 0.0);
    assert_true(finding(DW_FIND_FLUE_REVERSED) == NULL);

    report(130.0, NAN, false);
    assert_close(line(DW_FLOW_PRIMARY_AIR, 3)->mass_kg_s, 0.0, 0.0, 0.0);
    pushed = 0;
    for (int i = 0; i < result.finding_count; i++) {
        pushed += result.finding[i].code == DW_FIND_BURNER_PUSHED_BACK &&
                  result.finding[i].index == 3;
    }
    assert_int_equal(pushed, 1);
    report(-5.0, NAN, false);
    assert_null(finding(DW_FIND_BURNER_PUSHED_BACK));
    assert_null(finding(DW_FIND_POSITIVE_AT_OPENING));
    assert_true(line(DW_FLOW_UNLIT_BURNER, 1)->mass_kg_s > 0.0);
    assert_close(line(DW_FLOW_UNLIT_BURNER, 1)->dp_pa, 5.0, 1e-12, 0.0);
}

static void blown_burner_with_a_given_flow_and_weak_gas(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.burner[0].kind = DW_BURNER_BLOWN;
    kiln.burner[0].count = 3;
    kiln.burner[0].air_flow_m3_s = 0.02;
    kiln.burner[0].gas_pressure_pa = 50.0;
    report(-2.0, NAN, false);
    expect_line(DW_FLOW_PRIMARY_AIR, 0, 0.06 * net.rho_room_kg_m3, 0.1, 2.0);
    dw_jet_flow jet;
    dw_jet_discharge(&net.burner[0].gas_jet, 101323.0, &jet);
    expect_line(DW_FLOW_GAS_JET, 0, 3.0 * jet.mass_kg_s, 0.1, 52.0);
    assert_null(finding(DW_FIND_BURNER_PUSHED_BACK));
    report(60.0, NAN, false); /* more than the gas has */
    expect_line(DW_FLOW_GAS_JET, 0, 0.0, 0.1, -10.0);
    expect_finding(DW_FIND_BURNER_PUSHED_BACK, 0, 60.0);
    assert_null(finding(DW_FIND_JET_CHOKED));
    kiln.burner[0].gas_pressure_pa = 150e3;
    report(-2.0, NAN, false);
    expect_finding(DW_FIND_JET_CHOKED, 0, 150e3);
}

static void air_jet_choked_jet_and_closed_shutter(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.burner[0].air_jet_diameter_m = 1e-3;
    kiln.burner[0].air_pressure_pa = 3000.0;
    report(-2.0, NAN, false);
    expect_line(DW_FLOW_AIR_JET, 0, net.burner[0].air_jet_kg_s, 0.1, 3000.0);
    assert_null(finding(DW_FIND_JET_CHOKED));
    assert_null(finding(DW_FIND_SHUTTER_CLOSED));
    kiln.burner[0].air_pressure_pa = 200e3;
    report(-2.0, NAN, false);
    expect_finding(DW_FIND_JET_CHOKED, 0, 10e3);
    kiln.burner[0].air_jet_diameter_m = 0.0;
    kiln.burner[0].gas_pressure_pa = 200e3;
    kiln.burner[0].shutter_open_frac = 0.0;
    report(-2.0, NAN, false);
    assert_int_equal(lines(DW_FLOW_AIR_JET), 0);
    expect_finding(DW_FIND_JET_CHOKED, 0, 200e3);
    expect_finding(DW_FIND_SHUTTER_CLOSED, 0, 0.0);
}

static void tall_openings_have_a_line_for_each_direction(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.chamber.leak_area_m2 = 12e-4;
    kiln.opening_count = 2;
    kiln.opening[0] = (dw_opening){.kind = DW_OPENING_TALL, .count = 1, .area_m2 = 30e-4,
                                   .open_frac = 1.0, .from_m = 0.2, .to_m = 0.8,
                                   .discharge_coeff = 0.7};
    kiln.opening[1] = (dw_opening){.kind = DW_OPENING_CRACK, .count = 1, .area_m2 = 3e-4,
                                   .open_frac = 1.0, .height_m = 0.7, .discharge_coeff = 0.6,
                                   .exponent = 0.65, .reference_pressure_pa = 10.0};
    report(0.0, NAN, false);
    const double rise = rise_pa_m();
    report(-rise * 0.4, NAN, false); /* neutral plane at 0.5 m */
    dw_tall_flow tall;
    dw_tall_opening_flow(&at.opening_tall[0], -rise * 0.3, &tall);
    expect_line(DW_FLOW_TALL_IN, 0, tall.in_kg_s, 0.35, rise * 0.15);
    expect_line(DW_FLOW_TALL_OUT, 0, -tall.out_kg_s, 0.65, rise * 0.15);
    dw_tall_opening_flow(&at.leak, -rise * 0.5, &tall);
    expect_line(DW_FLOW_LEAK_IN, -1, tall.in_kg_s, 0.25, rise * 0.25);
    expect_line(DW_FLOW_LEAK_OUT, -1, -tall.out_kg_s, 0.75, rise * 0.25);
    dw_opening_flow crack;
    dw_crack_flow(&at.opening_crack[1], rise * 0.2, &crack);
    expect_line(DW_FLOW_OPENING, 1, crack.mass_kg_s, 0.7, rise * 0.2);
    expect_finding(DW_FIND_POSITIVE_AT_OPENING, 1, rise * 0.2);
    report(-rise * 1.5, NAN, false);
    assert_int_equal(lines(DW_FLOW_TALL_OUT) + lines(DW_FLOW_LEAK_OUT), 0);
    report(rise * 1.5, NAN, false);
    assert_int_equal(lines(DW_FLOW_TALL_IN) + lines(DW_FLOW_LEAK_IN), 0);
    assert_close(line(DW_FLOW_TALL_OUT, 0)->height_m, 0.5, 1e-9, 0.0);
}

static void breath_at_an_opening_is_no_finding(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.burner_count = 0; /* datum 0 m */
    kiln.flue_count = 0;
    kiln.opening[0].height_m = 0.0;
    for (int more = 0; more < 2; more++) {
        /* A hundredth of a gram a second at 10 Pa, a thousandth less or more. */
        kiln.opening[0].area_m2 = 1.0;
        report(10.0, NAN, false);
        kiln.opening[0].area_m2 = (more ? 1.001e-5 : 0.999e-5) / given.sums.out_kg_s;
        report(10.0, NAN, false);
        assert_int_equal(finding(DW_FIND_POSITIVE_AT_OPENING) != NULL, more);
        assert_close(result.spill_kg_s, given.sums.out_kg_s, 0.0, 0.0);
    }
}

static void stack_has_lines_drafts_and_a_balance_of_its_own(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.flue_count = 2;
    kiln.flue[1] = kiln.flue[0];
    kiln.flue[1].damper.open_frac = 0.005;
    kiln.flue[0].downstream_is_plenum = kiln.flue[1].downstream_is_plenum = true;
    kiln.flue[0].damper.open_frac = 0.5;
    kiln.stack.present = true;
    kiln.stack.height_m = 4.0;
    kiln.stack.area_m2 = 500e-4;
    kiln.stack.base_height_m = 0.6;
    kiln.stack.relief_area_m2 = 30e-4;
    report(-6.0, -14.0, false);
    const dw_network_sums *s = &given.sums;
    assert_true(result.has_stack);
    expect_line(DW_FLOW_RELIEF, -1, s->relief_kg_s, 0.6, 14.0);
    expect_line(DW_FLOW_STACK, -1, s->flue_out_kg_s + s->relief_kg_s, 0.6, 3.21);
    assert_true(line(DW_FLOW_FLUE, 0)->mass_kg_s > 10.0 * line(DW_FLOW_FLUE, 1)->mass_kg_s);
    assert_close(line(DW_FLOW_FLUE, 0)->mass_kg_s + line(DW_FLOW_FLUE, 1)->mass_kg_s,
                 s->flue_out_kg_s, 1e-12, 0.0);
    expect_finding(DW_FIND_DAMPER_LEAK, 1, 0.01);
    expect_finding(DW_FIND_DAMPER_RANGE, 1, 0.01);
    assert_null(finding(DW_FIND_RELIEF_SPILLS));
    assert_null(finding(DW_FIND_STACK_REVERSED));
    assert_close(result.draft_theoretical_pa, 27.3, 0.0, 0.0);
    assert_close(result.draft_stack_base_pa, 14.0, 0.0, 0.0);
    assert_close(result.draft_flue_exit_pa, 14.0 - 0.3 * rise_pa_m(), 1e-12, 0.0);
    assert_close(result.stack_flow_kg_s, given.stack_kg_s, 0.0, 0.0);
    assert_close(result.stack_mean_temperature_k, 871.0, 0.0, 0.0);
    assert_close(result.stack_base_temperature_k, s->base_temperature_k, 0.0, 0.0);
    assert_close(result.flue_flow_kg_s, s->flue_out_kg_s, 0.0, 0.0);

    /* The base's own balance: what is left of it beside all that enters it. */
    given.sums.net_kg_s = -3e-7;
    given.base_left_kg_s = -2e-6;
    given.stack_kg_s = -0.013;
    memset(&result, 0, sizeof result);
    dw_network_report(&at, &given, &result);
    assert_close(result.worst_residual_kg_s, 2e-6, 1e-12, 0.0);
    assert_close(result.closure_mass, 2e-6 / (s->flue_out_kg_s + s->relief_kg_s + 0.013), 1e-12, 0.0);
    /* A second report takes the place of the first. */
    const int count = result.flow_count;
    given.base_left_kg_s = 5e-8;
    dw_network_report(&at, &given, &result);
    assert_int_equal(result.flow_count, count);
    assert_close(result.worst_residual_kg_s, 3e-7, 1e-12, 0.0);
    assert_close(result.closure_mass, 3e-7 / s->in_kg_s, 1e-12, 0.0);
}

static void relief_that_spills_and_a_stack_that_falls_are_hazards(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.flue[0].downstream_is_plenum = true;
    kiln.flue[0].damper.open_frac = 0.5;
    kiln.stack.present = true;
    kiln.stack.height_m = 4.0;
    kiln.stack.area_m2 = 500e-4;
    kiln.stack.base_height_m = 0.6;
    kiln.stack.relief_area_m2 = 30e-4;
    report(20.0, 5.0, false);
    assert_true(given.sums.relief_kg_s < 0.0);
    expect_line(DW_FLOW_RELIEF, -1, given.sums.relief_kg_s, 0.6, 5.0);
    expect_finding(DW_FIND_RELIEF_SPILLS, -1, -given.sums.relief_kg_s);
    assert_close(result.spill_kg_s, given.sums.out_kg_s - given.sums.relief_kg_s, 1e-14, 0.0);
    report(-15.0, 4.0, true);
    assert_true(given.stack_kg_s < 0.0);
    expect_finding(DW_FIND_STACK_REVERSED, -1, -given.stack_kg_s);
    expect_line(DW_FLOW_STACK, -1, given.stack_kg_s, 0.6, 3.21);
    kiln.stack.relief_area_m2 = 0.0;
    report(-6.0, -14.0, false);
    assert_int_equal(lines(DW_FLOW_RELIEF), 0);
}

static void what_does_not_flow_is_no_finding(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.burner_count = 2;
    kiln.burner[1] = kiln.burner[0];
    kiln.burner[1].lit = false;
    kiln.flue[0].height_m = 0.1;
    report(0.0, NAN, false); /* both at the datum */
    assert_close(line(DW_FLOW_FLUE, 0)->mass_kg_s, 0.0, 0.0, 0.0);
    assert_close(line(DW_FLOW_UNLIT_BURNER, 1)->mass_kg_s, 0.0, 0.0, 0.0);
    assert_null(finding(DW_FIND_FLUE_REVERSED));
    assert_null(finding(DW_FIND_BURNER_PUSHED_BACK));
    kiln.stack.present = true;
    kiln.stack.height_m = 4.0;
    kiln.stack.area_m2 = 500e-4;
    kiln.stack.base_height_m = 0.1;
    kiln.stack.relief_area_m2 = 30e-4;
    kiln.flue[0].downstream_is_plenum = true;
    report(5.0, 0.0, false);
    assert_close(line(DW_FLOW_RELIEF, -1)->mass_kg_s, 0.0, 0.0, 0.0);
    assert_null(finding(DW_FIND_RELIEF_SPILLS));
}

static void full_lists_keep_the_first(void **state)
{
    (void)state;
    memset(&result, 0, sizeof result);
    for (int i = 0; i < DW_FINDING_MAX + 3; i++) dw_result_find(&result, DW_FIND_SPILL, i, i);
    assert_int_equal(result.finding_count, DW_FINDING_MAX);
    assert_int_equal(result.finding[DW_FINDING_MAX - 1].index, DW_FINDING_MAX - 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(kiln_that_draws_at_every_part),
        cmocka_unit_test(neutral_plane_is_a_height_inside_and_a_word_outside),
        cmocka_unit_test(pushed_back_parts_are_hazards),
        cmocka_unit_test(blown_burner_with_a_given_flow_and_weak_gas),
        cmocka_unit_test(air_jet_choked_jet_and_closed_shutter),
        cmocka_unit_test(tall_openings_have_a_line_for_each_direction),
        cmocka_unit_test(breath_at_an_opening_is_no_finding),
        cmocka_unit_test(stack_has_lines_drafts_and_a_balance_of_its_own),
        cmocka_unit_test(relief_that_spills_and_a_stack_that_falls_are_hazards),
        cmocka_unit_test(what_does_not_flow_is_no_finding),
        cmocka_unit_test(full_lists_keep_the_first),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

/* Slopes of phi against solving at neighbouring settings. */
#include "check.h"

#include "kit.h"
#include "operating_point.h"
#include "solved_point.h"

static dw_kiln kiln;
static dw_result result;

static double phi_of(const dw_kiln *moved)
{
    static dw_result r;
    if (dw_operating_point(kit_model(), moved, &r) != DW_OK) fail_msg("%s", r.reason);
    return r.equivalence_ratio;
}

/* All dampers moved by the same amount, all lit burners' gas by another. */
static double phi_moved(double open, double gas_pa)
{
    dw_kiln moved = kiln;
    for (int i = 0; i < moved.flue_count; i++) moved.flue[i].damper.open_frac += open;
    for (int i = 0; i < moved.burner_count; i++) {
        if (moved.burner[i].gas_pressure_pa > 0.0) moved.burner[i].gas_pressure_pa += gas_pa;
    }
    return phi_of(&moved);
}

/* Five-point formula: error of the fourth power of the step. */
static double slope(double open, double gas_pa)
{
    return (8.0 * (phi_moved(open, gas_pa) - phi_moved(-open, -gas_pa)) -
            (phi_moved(2.0 * open, 2.0 * gas_pa) - phi_moved(-2.0 * open, -2.0 * gas_pa))) /
           (12.0 * (open + gas_pa));
}

static void expect_slopes(double rtol)
{
    if (dw_operating_point(kit_model(), &kiln, &result) != DW_OK) fail_msg("%s", result.reason);
    assert_close(result.dphi_ddamper, slope(1e-3, 0.0), rtol, 0.0);
    assert_close(result.dphi_dgas_pressure_per_pa, slope(0.0, 10.0), rtol, 0.0);
}

static void add_stack(void)
{
    kiln.flue[0].height_m = 0.2;
    kiln.flue[0].downstream_is_plenum = true;
    kiln.stack.present = true;
    kiln.stack.height_m = 4.0;
    kiln.stack.area_m2 = 400e-4;
    kiln.stack.base_height_m = 0.2;
}

static void kiln_without_stack(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.flue[0].damper.open_frac = 0.6;
    expect_slopes(1e-5);
    assert_true(result.dphi_ddamper < -0.01 && result.dphi_dgas_pressure_per_pa > 1e-7);
}

static void kiln_with_stack_relief_and_heat_loss(void **state)
{
    (void)state;
    for (int relief = 0; relief < 2; relief++) {
        for (int by_ua = 0; by_ua < 2; by_ua++) {
            kit_plain_kiln(&kiln);
            kiln.flue[0].damper.open_frac = 0.4;
            add_stack();
            kiln.stack.relief_area_m2 = relief ? 50e-4 : 0.0;
            if (by_ua) {
                kiln.stack.heat_loss_ntu = NAN;
                kiln.stack.heat_loss_ua_w_k = 12.0;
            }
            expect_slopes(1e-5);
        }
    }
}

/* The linear system that is handed out gives the slopes: by Cramer's rule here. */
static void the_system_behind_is_handed_out(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    add_stack();
    kiln.flue[0].damper.open_frac = 0.6;
    static dw_solved solved;
    assert_int_equal(dw_operating_point_solved(kit_model(), &kiln, &solved, &result), DW_OK);
    double(*const a)[3] = solved.slopes.by_unknown;
    const double minor0 = a[1][0] * a[2][1] - a[1][1] * a[2][0],
                 minor1 = a[0][0] * a[2][1] - a[0][1] * a[2][0],
                 minor2 = a[0][0] * a[1][1] - a[0][1] * a[1][0];
    const double whole = a[0][2] * minor0 - a[1][2] * minor1 + a[2][2] * minor2;
    const double slopes[2] = {result.dphi_ddamper, result.dphi_dgas_pressure_per_pa};
    for (int i = 0; i < 2; i++) {
        const double *b = solved.slopes.by_input[i];
        assert_true(b[0] != 0.0);
        assert_close(slopes[i], -(b[0] * minor0 - b[1] * minor1 + b[2] * minor2) / whole, 1e-9, 0.0);
    }
}

static void burners_and_flues_move_together(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.burner_count = 3;
    kiln.burner[1] = kiln.burner[2] = kiln.burner[0];
    kiln.burner[1].gas_pressure_pa = 14e3;
    kiln.burner[2].gas_pressure_pa = 0.0; /* stays off */
    kiln.flue_count = 2;
    kiln.flue[1] = kiln.flue[0];
    kiln.flue[0].damper.open_frac = 0.3;
    kiln.flue[1].damper.open_frac = 0.7;
    kiln.opening[0].area_m2 = 120e-4;
    expect_slopes(1e-5);
    /* Pressures given at the burners alone are those that move. */
    kiln.operating.gas_pressure_pa = 0.0;
    expect_slopes(1e-5);
}

static void stack_that_runs_backwards(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.flue[0].damper.open_frac = 0.5;
    add_stack();
    kiln.burner[0].kind = DW_BURNER_BLOWN; /* an induced draft would be pushed back */
    kiln.burner[0].air_flow_m3_s = 0.01;
    kiln.site.room_pressure_pa = -150.0;
    expect_slopes(2e-4);
    bool reversed = false;
    for (int i = 0; i < result.finding_count; i++) {
        reversed = reversed || result.finding[i].code == DW_FIND_STACK_REVERSED;
    }
    assert_true(reversed);
}

/* At a stop the mean slope over one per cent inwards. The entry loses most, so that phi moves little and
 * in proportion. */
static void damper_at_a_stop_looks_inwards(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.flue[0].entry_loss = 60.0;
    kiln.flue[0].damper.open_frac = 1.0;
    assert_int_equal(dw_operating_point(kit_model(), &kiln, &result), DW_OK);
    const double wide = (phi_moved(0.0, 0.0) - phi_moved(-0.01, 0.0)) / 0.01;
    assert_close(result.dphi_ddamper, wide, 5e-3, 0.0);
    kiln.flue[0].damper.open_frac = 1.0 - 0.9e-5;
    assert_int_equal(dw_operating_point(kit_model(), &kiln, &result), DW_OK);
    assert_close(result.dphi_ddamper, (phi_moved(0.0, 0.0) - phi_moved(-0.01, 0.0)) / 0.01, 5e-3,
                 0.0);

    /* Shut, with a leak so small that the first per cent matters. */
    kit_plain_kiln(&kiln);
    kiln.flue_count = 2;
    kiln.flue[1] = kiln.flue[0];
    kiln.flue[0].area_m2 = 50e-4;
    kiln.flue[0].damper.open_frac = 0.0;
    kiln.flue[0].damper.leak_frac = 0.002;
    kiln.flue[1].damper.open_frac = 0.5;
    assert_int_equal(dw_operating_point(kit_model(), &kiln, &result), DW_OK);
    const double shut = (phi_moved(0.01, 0.0) - phi_moved(0.0, 0.0)) / 0.01;
    assert_close(result.dphi_ddamper, shut, 4e-2, 0.0);
    /* One shut and one wide open: a per cent to either side as far as there is one. */
    kiln.flue[1].damper.open_frac = 1.0;
    assert_int_equal(dw_operating_point(kit_model(), &kiln, &result), DW_OK);
    dw_kiln open = kiln, closed = kiln;
    open.flue[0].damper.open_frac = 0.01;
    closed.flue[1].damper.open_frac = 0.99;
    assert_close(result.dphi_ddamper, (phi_of(&open) - phi_of(&closed)) / 0.02, 0.15, 0.0);
}

/* A stop is what lies within 1e-5 of it: there the slope is that of the next per cent, farther in the
 * one at hand, which is much larger beside a shut plate that hardly leaks and beside an open one. */
static void stops_end_where_they_are_said_to(void **state)
{
    (void)state;
    double slope_of[4];
    const double open[4] = {0.995e-5, 1.005e-5, 1.0 - 0.995e-5, 1.0 - 1.005e-5};
    for (int i = 0; i < 4; i++) {
        kit_plain_kiln(&kiln);
        kiln.flue_count = 2;
        kiln.flue[1] = kiln.flue[0];
        kiln.flue[1].damper.open_frac = 0.5;
        kiln.flue[0].damper.open_frac = open[i];
        kiln.flue[0].damper.leak_frac = 1e-6;
        assert_int_equal(dw_operating_point(kit_model(), &kiln, &result), DW_OK);
        slope_of[i] = result.dphi_ddamper;
    }
    /* The other flue moves too where there is room: the mean over 0.01 against the slope at hand. */
    assert_true(fabs(slope_of[0] / slope_of[1] - 1.0) > 1e-3);
    assert_true(fabs(slope_of[3] / slope_of[2] - 1.0) > 0.05);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(kiln_without_stack),
        cmocka_unit_test(kiln_with_stack_relief_and_heat_loss),
        cmocka_unit_test(the_system_behind_is_handed_out),
        cmocka_unit_test(burners_and_flues_move_together),
        cmocka_unit_test(stack_that_runs_backwards),
        cmocka_unit_test(damper_at_a_stop_looks_inwards),
        cmocka_unit_test(stops_end_where_they_are_said_to),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

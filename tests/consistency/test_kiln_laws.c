/* What must come out of any kiln, over random kilns. Each law is narrowed to where it is one; the
 * counter-examples outside are shown by tests of their own. */
#include "check.h"

#include <string.h>

#include "kit.h"

/* DW_KILNS in the environment makes it fewer or more. */
static int kilns(int usual)
{
    return kit_cases("DW_KILNS", usual);
}

static bool solve(const dw_kiln *kiln, dw_result *result)
{
    return dw_operating_point(kit_model(), kiln, result) == DW_OK;
}

static bool has(const dw_result *r, dw_finding_code code)
{
    for (int i = 0; i < r->finding_count; i++) {
        if (r->finding[i].code == code) return true;
    }
    return false;
}

static bool runs_forward(const dw_result *r)
{
    return !has(r, DW_FIND_STACK_REVERSED) && !has(r, DW_FIND_FLUE_REVERSED);
}

/* With a relief opening, or heat loss that depends on the flow, more gas makes a hotter stack, and that
 * can draw in more than its share of air. */
static bool stack_temperature_is_given(const dw_kiln *kiln)
{
    return !kiln->stack.present ||
           (kiln->stack.relief_area_m2 == 0.0 && !dw_stack_loses_by_ua(&kiln->stack));
}

/* Height of the neutral plane, also outside the chamber, where the report gives none. */
static double neutral_m(const dw_kiln *kiln, const dw_result *r)
{
    const double rise = (r->pressure_top_pa - r->pressure_floor_pa) / kiln->chamber.height_m;
    return -r->pressure_floor_pa / rise;
}

/* A blown burner's gas gives way to the chamber too. Where its gas pressure is below its air pressure,
 * or its air flow is given, closing the damper makes it leaner. */
static bool gas_stiffer_than_air(const dw_kiln *kiln)
{
    for (int i = 0; i < kiln->burner_count; i++) {
        const dw_burner *b = &kiln->burner[i];
        if (b->kind != DW_BURNER_BLOWN || !b->lit) continue;
        if (kiln->operating.gas_pressure_pa < 1.5 * kiln->operating.air_pressure_pa) return false;
    }
    return true;
}

static void closing_the_damper_chokes_the_kiln(void **state)
{
    (void)state;
    kit_random random = kit_seed(4410);
    const int count = kilns(1500);
    int tried = 0;
    for (int n = 0; n < count; n++) {
        dw_kiln kiln, closed;
        dw_result a, b;
        kit_random_kiln(&random, &kiln);
        closed = kiln;
        const double step = kit_between(&random, 0.01, 0.3);
        for (int i = 0; i < kiln.flue_count; i++) {
            closed.flue[i].damper.open_frac = fmax(0.0, kiln.flue[i].damper.open_frac - step);
        }
        if (!gas_stiffer_than_air(&kiln) || !solve(&kiln, &a) || !solve(&closed, &b)) continue;
        if (!runs_forward(&a) || !runs_forward(&b)) continue;
        tried++;
        const double slack = 1e-9;
        if (!(b.flue_flow_kg_s <= a.flue_flow_kg_s * (1.0 + slack)) ||
            !(b.air_ratio <= a.air_ratio * (1.0 + slack)) ||
            !(neutral_m(&closed, &b) <= neutral_m(&kiln, &a) + 1e-9)) {
            print_error("kiln %d: flue %.9g -> %.9g, air ratio %.9g -> %.9g, neutral %.9g -> %.9g\n",
                        n, a.flue_flow_kg_s, b.flue_flow_kg_s, a.air_ratio, b.air_ratio,
                        neutral_m(&kiln, &a), neutral_m(&closed, &b));
            fail();
        }
    }
    print_message("%d kilns\n", tried);
    assert_true(tried > count / 3);
}

static void more_gas_never_leans_a_kiln_that_draws_at_its_burners(void **state)
{
    (void)state;
    kit_random random = kit_seed(62);
    const int count = kilns(1500);
    int tried = 0;
    for (int n = 0; n < count; n++) {
        dw_kiln kiln, more;
        dw_result a, b;
        kit_random_kiln(&random, &kiln);
        if (!stack_temperature_is_given(&kiln)) continue;
        for (int i = 0; i < kiln.burner_count; i++) kiln.burner[i].height_m = 0.0;
        more = kiln;
        more.operating.gas_pressure_pa *= kit_between(&random, 1.01, 1.5);
        if (!solve(&kiln, &a) || !solve(&more, &b)) continue;
        if (!runs_forward(&a) || !runs_forward(&b)) continue;
        if (!(b.pressure_floor_pa <= 0.0)) continue;
        tried++;
        if (!(b.air_ratio <= a.air_ratio * (1.0 + 1e-9))) {
            print_error("kiln %d: air ratio %.9g -> %.9g, floor %.3g -> %.3g Pa\n", n, a.air_ratio,
                        b.air_ratio, a.pressure_floor_pa, b.pressure_floor_pa);
            fail();
        }
    }
    print_message("%d kilns\n", tried);
    assert_true(tried > count / 10);
}

static void hotter_chamber_has_more_theoretical_draft(void **state)
{
    (void)state;
    kit_random random = kit_seed(1955);
    const int count = kilns(1500);
    int tried = 0;
    for (int n = 0; n < count; n++) {
        dw_kiln kiln, hotter;
        dw_result a, b;
        kit_random_kiln(&random, &kiln);
        if (!kiln.stack.present) continue;
        /* Hot steel radiates: what it loses grows faster than its gas gets hotter. */
        if (kiln.stack.wall == DW_WALL_BARE_STEEL) continue;
        hotter = kiln;
        hotter.operating.chamber_temperature_k += kit_between(&random, 5.0, 150.0);
        if (!solve(&kiln, &a) || !solve(&hotter, &b)) continue;
        if (!runs_forward(&a) || !runs_forward(&b)) continue;
        tried++;
        if (!(b.draft_theoretical_pa >= a.draft_theoretical_pa * (1.0 - 1e-9))) {
            print_error("kiln %d: %.9g -> %.9g Pa\n", n, a.draft_theoretical_pa,
                        b.draft_theoretical_pa);
            fail();
        }
    }
    print_message("%d kilns\n", tried);
    assert_true(tried > count / 3);
}

static void no_spread_is_plain_equilibrium(void **state)
{
    (void)state;
    kit_random random = kit_seed(808);
    const int count = kilns(400);
    int tried = 0;
    for (int n = 0; n < count; n++) {
        dw_kiln kiln;
        dw_result r;
        kit_random_kiln(&random, &kiln);
        kiln.settings.unmixedness = 0.0;
        if (!solve(&kiln, &r)) continue;
        tried++;
        for (size_t i = 0; i < kit_data()->species.count; i++) {
            assert_true(r.gas_wet.x[i] == r.gas_mean.x[i]);
        }
        assert_true(r.gas_wet.molar_mass_kg_mol == r.gas_mean.molar_mass_kg_mol);
    }
    assert_true(tried > count / 2);
}

static void twice_the_kiln_without_stack_burns_alike(void **state)
{
    (void)state;
    kit_random random = kit_seed(31);
    const int count = kilns(1500);
    int tried = 0;
    for (int n = 0; n < count; n++) {
        dw_kiln kiln, twice;
        dw_result a, b;
        kit_random_kiln(&random, &kiln);
        kiln.stack.present = false;
        dw_kiln_resolve(&kiln);
        twice = kiln;
        for (int i = 0; i < kiln.burner_count; i++) twice.burner[i].count *= 2;
        for (int i = 0; i < kiln.opening_count; i++) twice.opening[i].count *= 2;
        for (int i = 0; i < kiln.flue_count; i++) twice.flue[i].area_m2 *= 2.0;
        twice.chamber.leak_area_m2 *= 2.0;
        /* Twice as much goes through the same setting. */
        twice.chamber.setting_loss *= 0.25;
        if (!solve(&kiln, &a) || !solve(&twice, &b)) continue;
        tried++;
        assert_close(b.air_ratio, a.air_ratio, 1e-9, 0.0);
        assert_close(b.gas_flow_kg_s, 2.0 * a.gas_flow_kg_s, 1e-9, 0.0);
        assert_close(b.pressure_floor_pa, a.pressure_floor_pa, 1e-8, 1e-8);
    }
    print_message("%d kilns\n", tried);
    assert_true(tried > count / 3);
}

static void flues_counted_are_flues_written_out(void **state)
{
    (void)state;
    kit_random random = kit_seed(17);
    const int count = kilns(300);
    int tried = 0;
    for (int n = 0; n < count; n++) {
        dw_kiln written, counted;
        dw_result a, b;
        kit_random_kiln(&random, &written);
        /* The first flue three times, once as three entries and once as a count. Where it leads to
         * is left to its area and the stack's, so that the count must enter there too. */
        written.flue[0].count = 1;
        written.flue[0].downstream_is_plenum = false;
        written.flue[0].downstream_area_m2 = NAN;
        written.flue[1] = written.flue[2] = written.flue[0];
        written.flue_count = 3;
        if (written.stack.present) written.stack.area_m2 = 5.0 * written.flue[0].area_m2;
        counted = written;
        counted.flue_count = 1;
        counted.flue[0].count = 3;
        dw_kiln_resolve(&written);
        dw_kiln_resolve(&counted);
        assert_close(dw_kiln_flue_area_m2(&counted), dw_kiln_flue_area_m2(&written), 1e-14, 0.0);
        if (!solve(&written, &a) || !solve(&counted, &b)) continue;
        tried++;
        assert_close(b.equivalence_ratio, a.equivalence_ratio, 1e-8, 0.0);
        assert_close(b.pressure_floor_pa, a.pressure_floor_pa, 1e-7, 1e-8);
        assert_close(b.flue_flow_kg_s, a.flue_flow_kg_s, 1e-8, 1e-12);
        assert_close(b.dphi_ddamper, a.dphi_ddamper, 1e-6, 1e-9);
        if (written.stack.present) {
            assert_close(b.draft_flue_exit_pa, a.draft_flue_exit_pa, 1e-7, 1e-8);
        }
    }
    print_message("%d kilns\n", tried);
    assert_true(tried > count / 3);
}

static void steepness_is_the_slope_of_solving_twice(void **state)
{
    (void)state;
    kit_random random = kit_seed(12);
    const int count = kilns(400);
    int tried = 0, close_ones = 0;
    for (int n = 0; n < count; n++) {
        dw_kiln kiln, up, down;
        dw_result r, a, b;
        kit_random_kiln(&random, &kiln);
        bool inside = true;
        for (int i = 0; i < kiln.flue_count; i++) {
            const double f = kiln.flue[i].damper.open_frac;
            inside = inside && f > 0.05 && f < 0.95;
        }
        if (!inside || !solve(&kiln, &r)) continue;
        up = down = kiln;
        for (int i = 0; i < kiln.flue_count; i++) {
            up.flue[i].damper.open_frac += 2e-4;
            down.flue[i].damper.open_frac -= 2e-4;
        }
        if (!solve(&up, &a) || !solve(&down, &b)) continue;
        tried++;
        const double twice = (a.equivalence_ratio - b.equivalence_ratio) / 4e-4;
        /* Where a port reverses within the step the two need not agree. */
        if (close_enough(r.dphi_ddamper, twice, 2e-3, 1e-6)) close_ones++;
        up = down = kiln;
        up.operating.gas_pressure_pa *= 1.0002;
        down.operating.gas_pressure_pa *= 0.9998;
        if (!solve(&up, &a) || !solve(&down, &b)) continue;
        const double by_gas = (a.equivalence_ratio - b.equivalence_ratio) /
                              (4e-4 * kiln.operating.gas_pressure_pa);
        tried++;
        if (close_enough(r.dphi_dgas_pressure_per_pa, by_gas, 2e-3, 1e-12)) close_ones++;
    }
    print_message("%d of %d slopes within 0.2 %%\n", close_ones, tried);
    assert_true(tried > count * 3 / 4);
    assert_true(close_ones >= tried * 97 / 100);
}

static void weak_blown_gas_is_leaned_by_closing_the_damper(void **state)
{
    /* The case outside the first law: gas at 1.2 kPa, fan air given as a flow. */
    (void)state;
    kit_random random = kit_seed(4410);
    dw_kiln kiln, closed;
    dw_result a, b;
    kit_random_kiln(&random, &kiln);
    kiln.burner_count = 1;
    dw_burner_init(&kiln.burner[0]);
    dw_burner *burner = &kiln.burner[0];
    (void)snprintf(burner->name, sizeof burner->name, "blower");
    burner->kind = DW_BURNER_BLOWN;
    burner->jet_diameter_m = 6.3e-3;
    burner->throat_diameter_m = 80e-3;
    burner->air_flow_m3_s = 0.031;
    burner->height_m = 0.1;
    kiln.opening_count = 0;
    kiln.chamber = (dw_chamber){.width_m = 0.9, .depth_m = 0.9, .height_m = 1.1, .packed_frac = 0.4,
                                .leak_area_m2 = 1e-5, .leak_discharge_coeff = 0.62};
    kiln.flue_count = 1;
    dw_flue_init(&kiln.flue[0]);
    (void)snprintf(kiln.flue[0].name, DW_NAME_SIZE, "flue");
    kiln.flue[0].area_m2 = 0.03;
    kiln.flue[0].height_m = 1.1;
    kiln.flue[0].damper.open_frac = 0.8;
    kiln.stack.present = false;
    kiln.operating.gas_pressure_pa = 1.2e3;
    kiln.operating.chamber_temperature_k = 1400.0;
    memset(kiln.fuel.x, 0, sizeof kiln.fuel.x);
    kiln.fuel.x[dw_species_find(&kit_data()->species, "CH4")] = 1.0;
    closed = kiln;
    closed.flue[0].damper.open_frac = 0.25;
    assert_true(solve(&kiln, &a) && solve(&closed, &b));
    assert_true(b.air_ratio > a.air_ratio);
    assert_true(b.pressure_floor_pa > a.pressure_floor_pa);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(closing_the_damper_chokes_the_kiln),
        cmocka_unit_test(more_gas_never_leans_a_kiln_that_draws_at_its_burners),
        cmocka_unit_test(hotter_chamber_has_more_theoretical_draft),
        cmocka_unit_test(no_spread_is_plain_equilibrium),
        cmocka_unit_test(twice_the_kiln_without_stack_burns_alike),
        cmocka_unit_test(flues_counted_are_flues_written_out),
        cmocka_unit_test(steepness_is_the_slope_of_solving_twice),
        cmocka_unit_test(weak_blown_gas_is_leaned_by_closing_the_damper),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

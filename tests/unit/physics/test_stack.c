/** @file test_stack.c  Unit tests of physics/stack. */

#include "check.h"

#include "stack.h"

static void draft_matches_hand_value(void **state)
{
    (void)state;
    /* (1.187 - 0.261) 9.80665 3.7 */
    assert_close(dw_draft_theoretical_pa(1.187, 0.261, 3.7), 33.59954423, 1e-12, 0.0);
    assert_close(dw_draft_theoretical_pa(0.261, 1.187, 3.7), -33.59954423, 1e-12, 0.0);
    assert_close(dw_draft_theoretical_pa(1.187, 1.187, 3.7), 0.0, 0.0, 0.0);
}

static void hot_gas_pushes_at_the_top(void **state)
{
    (void)state;
    assert_close(dw_draft_pressure_at_pa(-4.3, 1.187, 0.261, 4.2, 0.5), 33.59954423 - 4.3, 1e-12, 0.0);
    assert_close(dw_draft_pressure_at_pa(-4.3, 1.187, 0.261, -3.7, 0.0), -33.59954423 - 4.3, 1e-12, 0.0);
    assert_close(dw_draft_pressure_at_pa(-4.3, 1.187, 0.261, 0.0, 0.0), -4.3, 0.0, 0.0);
}

static void pressure_is_zero_at_the_neutral_plane(void **state)
{
    (void)state;
    const double z = dw_draft_neutral_plane_m(-4.3, 1.187, 0.261, 0.0);
    assert_close(z, 4.3 / (0.926 * 9.80665), 1e-12, 0.0);
    assert_close(dw_draft_pressure_at_pa(-4.3, 1.187, 0.261, z, 0.0), 0.0, 0.0, 1e-14);
    /* overpressure at the datum: the plane lies below it */
    assert_close(dw_draft_neutral_plane_m(-4.3, 1.187, 0.261, 0.7), z + 0.7, 1e-14, 0.0);
    assert_true(dw_draft_neutral_plane_m(2.0, 1.187, 0.261, 0.0) < 0.0);
    assert_true(isnan(dw_draft_neutral_plane_m(-4.3, 1.187, 1.187, 0.0)));
}

static void wind_adds_its_share_of_the_speed_head(void **state)
{
    (void)state;
    /* 1.2 x 5^2/2 = 15 Pa: half of it, and back */
    assert_close(dw_draft_wind_pa(1.2, 5.0, 0.5, 0.0, NULL), 7.5, 1e-14, 0.0);
    assert_close(dw_draft_wind_pa(1.2, 5.0, 0.1, -0.4, NULL), 7.5, 1e-14, 0.0);
    assert_close(dw_draft_wind_pa(1.2, 5.0, -0.2, 0.3, NULL), -7.5, 1e-14, 0.0);
    assert_close(dw_draft_wind_pa(1.2, 10.0, 0.0, -0.3, NULL), 18.0, 1e-14, 0.0);
    assert_close(dw_draft_wind_pa(1.2, 0.0, 0.5, -0.5, NULL), 0.0, 0.0, 0.0);
}

static const dw_stack_law busy = {.height_m = 4.3,
                                  .area_m2 = 0.0529,
                                  .hydraulic_diameter_m = 0.23,
                                  .roughness_m = 0.003,
                                  .loss_sum = 2.2,
                                  .ntu = 0.41,
                                  .ua_w_k = NAN,
                                  .outside_temperature_k = 287.4,
                                  .outside_density_kg_m3 = 1.183,
                                  .pressure_pa_abs = 97800.0};

#define M_GAS 0.0281
#define CP 1180.0
#define T_BASE 1016.0

static dw_stack_state up(const dw_stack_law *law, double mass_kg_s)
{
    dw_stack_state s;
    assert_int_equal(dw_stack_law_check(law), DW_OK);
    assert_int_equal(dw_stack_up(law, mass_kg_s, T_BASE, M_GAS, CP, &s), DW_OK);
    return s;
}

static void upward_flow_matches_hand_values(void **state)
{
    (void)state;
    /* The header's equations at 0.0371 kg/s, Re 4182 above the floor. */
    const dw_stack_state s = up(&busy, 0.0371);
    assert_close(s.mean_temperature_k, 885.1181164650676, 1e-12, 0.0);
    assert_close(s.top_temperature_k, 770.9355722493224, 1e-12, 0.0);
    assert_close(s.density_kg_m3, 0.37343047728755363, 1e-12, 0.0);
    assert_close(s.velocity_m_s, 1.8780557401524771, 1e-12, 0.0);
    assert_close(s.reynolds, 4182.499256985325, 1e-12, 0.0);
    assert_close(s.friction_factor, 0.05282532478488977, 1e-12, 0.0);
    assert_close(s.loss_pa, 2.0992350502395687, 1e-12, 0.0);
    assert_close(s.buoyancy_pa, 34.13840932760445, 1e-12, 0.0);
    assert_close(s.base_pa, -32.03917427736488, 1e-12, 0.0);
}

static void friction_is_never_taken_below_the_floor(void **state)
{
    (void)state;
    /* 0.02 kg/s: Re 2255, friction at Re 4000 by the header's equation */
    const dw_stack_state s = up(&busy, 0.02);
    assert_close(s.reynolds, 4182.499256985325 * 0.02 / 0.0371, 1e-12, 0.0);
    assert_close(s.friction_factor, 0.053183868121554796, 1e-12, 0.0);
    assert_close(s.loss_pa,
                 (0.053183868121554796 * 4.3 / 0.23 + 2.2) * s.density_kg_m3 * 0.5 *
                     s.velocity_m_s * s.velocity_m_s,
                 1e-12, 0.0);
}

static void downward_flow_matches_hand_values(void **state)
{
    (void)state;
    dw_stack_state s;
    assert_int_equal(dw_stack_down(&busy, 0.0371, &s), DW_OK);
    assert_close(s.reynolds, 9032.816395939506, 1e-12, 0.0);
    assert_close(s.friction_factor, 0.047589478614139015, 1e-12, 0.0);
    assert_close(s.base_pa, -0.6423035826177794, 1e-12, 0.0);
    assert_close(s.loss_pa, 0.6423035826177794, 1e-12, 0.0);
    assert_close(s.buoyancy_pa, 0.0, 0.0, 0.0);
    assert_close(s.mean_temperature_k, 287.4, 0.0, 0.0);
    assert_close(s.density_kg_m3, 1.183, 0.0, 0.0);
}

static void a_wall_is_taken_at_its_gas_temperature(void **state)
{
    (void)state;
    /* The fourth is not one of them. */
    const dw_stack_wall_point steel[4] = {{673.15, 7.7}, {973.15, 12.0}, {1273.15, 19.0}, {1500.0, 60.0}};
    /* 100 K above the first row: 7.7 + 4.3/3; 250 K above the second: 12 + 7 x 5/6 */
    assert_close(dw_stack_wall_conductance_w_m2_k(steel, 3, 773.15, NULL), 9.133333333333333, 1e-12, 0.0);
    assert_close(dw_stack_wall_conductance_w_m2_k(steel, 3, 1223.15, NULL), 17.833333333333333, 1e-12, 0.0);
    for (int i = 0; i < 3; i++) {
        assert_close(dw_stack_wall_conductance_w_m2_k(steel, 3, steel[i].temperature_k, NULL),
                     steel[i].conductance_w_m2_k, 1e-14, 0.0);
    }
    assert_close(dw_stack_wall_conductance_w_m2_k(steel, 3, 300.0, NULL), 7.7, 1e-14, 0.0);
    assert_close(dw_stack_wall_conductance_w_m2_k(steel, 3, 1700.0, NULL), 19.0, 1e-14, 0.0);
    /* One point holds at any temperature. */
    assert_close(dw_stack_wall_conductance_w_m2_k(steel, 1, 1700.0, NULL), 7.7, 0.0, 0.0);
    /* U P H: 5 x (4 x 0.0529/0.23) x 4.3, whose perimeter is four sides of 0.23 m */
    assert_close(dw_stack_wall_ua_w_k(5.0, &busy, NULL), 5.0 * 0.92 * 4.3, 1e-12, 0.0);
}

static void no_heat_loss_keeps_the_base_temperature(void **state)
{
    (void)state;
    dw_stack_law law = busy;
    law.ntu = 0.0;
    assert_close(up(&law, 0.03).mean_temperature_k, T_BASE, 0.0, 0.0);
    assert_close(up(&law, 0.03).top_temperature_k, T_BASE, 0.0, 0.0);
    /* 1 - NTU/2 for small NTU, to its last digits */
    const double small[] = {1e-15, 1e-9, 1e-5};
    for (size_t i = 0; i < 3; i++) {
        law.ntu = small[i];
        const double expected = T_BASE - 0.5 * small[i] * (T_BASE - 287.4);
        assert_close(up(&law, 0.03).mean_temperature_k, expected, 2e-10, 0.0);
    }
    /* all of it lost: (1 - e^-NTU)/NTU -> 1/NTU */
    law.ntu = 500.0;
    assert_close(up(&law, 0.03).mean_temperature_k, 287.4 + (T_BASE - 287.4) / 500.0, 1e-12, 0.0);
    assert_close(up(&law, 0.03).top_temperature_k, 287.4, 1e-12, 0.0);
}

static void ua_is_ntu_times_heat_capacity_flow(void **state)
{
    (void)state;
    dw_stack_law law = busy;
    law.ntu = NAN;
    law.ua_w_k = 0.41 * 0.0371 * CP;
    const dw_stack_state by_ua = up(&law, 0.0371);
    const dw_stack_state by_ntu = up(&busy, 0.0371);
    assert_close(by_ua.base_pa, by_ntu.base_pa, 1e-13, 0.0);
    /* half the flow cools more */
    assert_true(up(&law, 0.0186).mean_temperature_k < by_ua.mean_temperature_k - 50.0);
}

static void base_pressure_rises_with_flow_at_given_ntu(void **state)
{
    (void)state;
    const double transfer_units[] = {0.0, 0.35, 2.0};
    for (size_t i = 0; i < 3; i++) {
        dw_stack_law law = busy;
        law.ntu = transfer_units[i];
        double last = -INFINITY;
        /* from a trickle below the floor of the Reynolds number to ten times the usual flow */
        for (double m = 1e-6; m < 2.0; m *= 1.01) {
            const double base = up(&law, m).base_pa;
            assert_true(base > last);
            last = base;
        }
    }
}

static void base_pressure_falls_with_flow_downwards(void **state)
{
    (void)state;
    double last = 0.0;
    for (double m = 1e-6; m < 2.0; m *= 1.01) {
        dw_stack_state s;
        assert_int_equal(dw_stack_down(&busy, m, &s), DW_OK);
        assert_true(s.base_pa < last);
        last = s.base_pa;
    }
}

static void heat_loss_by_ua_lets_a_cold_stack_stand_still(void **state)
{
    (void)state;
    dw_stack_law law = busy;
    law.ntu = NAN;
    law.ua_w_k = 25.0;
    /* A trickle has no draft and a large flow much loss: the base pressure has a minimum. */
    const double trickle = up(&law, 1e-4).base_pa;
    const double middle = up(&law, 0.05).base_pa;
    const double flood = up(&law, 0.5).base_pa;
    assert_true(middle < trickle - 10.0);
    assert_true(middle < flood - 10.0);
}

static void gas_like_the_air_has_no_draft(void **state)
{
    (void)state;
    dw_stack_law law = busy;
    const double molar_mass = 0.02885;
    law.outside_density_kg_m3 = 97800.0 * molar_mass / (8.314462618 * 287.4);
    dw_stack_state s;
    assert_int_equal(dw_stack_up(&law, 0.0371, 287.4, molar_mass, CP, &s), DW_OK);
    assert_close(s.buoyancy_pa, 0.0, 0.0, 1e-12);
    assert_close(s.base_pa, s.loss_pa, 1e-12, 0.0);
    /* and the same flow down costs the same */
    dw_stack_state down;
    assert_int_equal(dw_stack_down(&law, 0.0371, &down), DW_OK);
    assert_close(down.base_pa, -s.base_pa, 1e-12, 0.0);
}

static void check_fails(dw_stack_law law, dw_status expected)
{
    assert_int_equal(dw_stack_law_check(&law), expected);
}

static void refuses_what_has_no_meaning(void **state)
{
    (void)state;
    dw_stack_law law = busy;
    law.height_m = 0.0;
    check_fails(law, DW_ERR_DOMAIN);
    law = busy, law.area_m2 = 0.0;
    check_fails(law, DW_ERR_DOMAIN);
    law = busy, law.hydraulic_diameter_m = 0.0;
    check_fails(law, DW_ERR_DOMAIN);
    law = busy, law.roughness_m = 0.0461;
    check_fails(law, DW_ERR_DOMAIN);
    law = busy, law.roughness_m = -1e-6;
    check_fails(law, DW_ERR_DOMAIN);
    law = busy, law.loss_sum = -0.1;
    check_fails(law, DW_ERR_DOMAIN);
    law = busy, law.ntu = -0.1;
    check_fails(law, DW_ERR_DOMAIN);
    law = busy, law.outside_temperature_k = 0.0;
    check_fails(law, DW_ERR_DOMAIN);
    law = busy, law.outside_density_kg_m3 = 0.0;
    check_fails(law, DW_ERR_DOMAIN);
    law = busy, law.pressure_pa_abs = 0.0;
    check_fails(law, DW_ERR_DOMAIN);
    law = busy, law.pressure_pa_abs = NAN;
    check_fails(law, DW_ERR_ARG);
    law = busy, law.ntu = NAN; /* neither */
    check_fails(law, DW_ERR_ARG);
    law = busy, law.ua_w_k = 3.0; /* both */
    check_fails(law, DW_ERR_ARG);
    assert_int_equal(dw_stack_law_check(NULL), DW_ERR_ARG);

    dw_stack_state s;
    assert_int_equal(dw_stack_up(&busy, 0.0, T_BASE, M_GAS, CP, &s), DW_ERR_DOMAIN);
    assert_true(isnan(s.base_pa) && isnan(s.loss_pa) && isnan(s.mean_temperature_k));
    assert_int_equal(dw_stack_up(&busy, 0.03, 0.0, M_GAS, CP, &s), DW_ERR_DOMAIN);
    assert_int_equal(dw_stack_up(&busy, 0.03, T_BASE, 0.0, CP, &s), DW_ERR_DOMAIN);
    assert_int_equal(dw_stack_up(&busy, NAN, T_BASE, M_GAS, CP, &s), DW_ERR_ARG);
    assert_int_equal(dw_stack_up(NULL, 0.03, T_BASE, M_GAS, CP, &s), DW_ERR_ARG);
    assert_int_equal(dw_stack_up(&busy, 0.03, T_BASE, M_GAS, CP, NULL), DW_ERR_ARG);
    assert_int_equal(dw_stack_up(&busy, 0.03, T_BASE, M_GAS, NAN, &s), DW_OK); /* cp unused */
    law = busy, law.ntu = NAN, law.ua_w_k = 3.0;
    assert_int_equal(dw_stack_up(&law, 0.03, T_BASE, M_GAS, NAN, &s), DW_ERR_ARG);
    assert_int_equal(dw_stack_up(&law, 0.03, T_BASE, M_GAS, 0.0, &s), DW_ERR_DOMAIN);
    assert_int_equal(dw_stack_down(&busy, -0.03, &s), DW_ERR_DOMAIN);
    assert_int_equal(dw_stack_down(&busy, INFINITY, &s), DW_ERR_ARG);
    assert_int_equal(dw_stack_down(NULL, 0.03, &s), DW_ERR_ARG);
    assert_int_equal(dw_stack_down(&busy, 0.03, NULL), DW_ERR_ARG);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(wind_adds_its_share_of_the_speed_head),
        cmocka_unit_test(draft_matches_hand_value),
        cmocka_unit_test(hot_gas_pushes_at_the_top),
        cmocka_unit_test(pressure_is_zero_at_the_neutral_plane),
        cmocka_unit_test(upward_flow_matches_hand_values),
        cmocka_unit_test(friction_is_never_taken_below_the_floor),
        cmocka_unit_test(downward_flow_matches_hand_values),
        cmocka_unit_test(a_wall_is_taken_at_its_gas_temperature),
        cmocka_unit_test(no_heat_loss_keeps_the_base_temperature),
        cmocka_unit_test(ua_is_ntu_times_heat_capacity_flow),
        cmocka_unit_test(base_pressure_rises_with_flow_at_given_ntu),
        cmocka_unit_test(base_pressure_falls_with_flow_downwards),
        cmocka_unit_test(heat_loss_by_ua_lets_a_cold_stack_stand_still),
        cmocka_unit_test(gas_like_the_air_has_no_draft),
        cmocka_unit_test(refuses_what_has_no_meaning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

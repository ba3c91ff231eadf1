/** @file test_jet.c  Unit tests of physics/jet. */

#include "check.h"

#include "jet.h"

static const dw_jet busy_jet = {1.37e-6, 0.83, 0.96};

static dw_jet_supply supply_at(double supply_pa)
{
    const dw_jet_gas gas = {0.0372, 1.17, 301.7, supply_pa};
    dw_jet_supply supply;
    assert_int_equal(dw_jet_supply_init(&busy_jet, &gas, &supply), DW_OK);
    return supply;
}

static dw_jet_flow discharge(double supply_pa, double back_pa)
{
    const dw_jet_supply supply = supply_at(supply_pa);
    dw_jet_flow flow;
    dw_jet_discharge(&supply, back_pa, &flow);
    return flow;
}

static void matches_hand_value(void **state)
{
    (void)state;
    /* The header's equations with p1 117300, p2 98700 Pa. */
    const dw_jet_flow flow = discharge(117300.0, 98700.0);
    assert_close(flow.mass_kg_s, 2.5879582664971697e-4, 1e-12, 0.0);
    assert_close(flow.velocity_m_s, 151.63985377235585, 1e-12, 0.0);
    assert_close(flow.thrust_n, 0.96 * 2.5879582664971697e-4 * 151.63985377235585, 1e-12, 0.0);
    assert_false(flow.choked);
}

static void choked_flow_is_sonic_at_the_throat(void **state)
{
    (void)state;
    /* rho* = rho1 (2/(k+1))^(1/(k-1)), T* = 2 T1/(k+1): Cd A rho* sqrt(k Rs T*) */
    const dw_jet_flow flow = discharge(263000.0, 98700.0);
    assert_true(flow.choked);
    assert_close(flow.mass_kg_s, 7.400975516690394e-4, 1e-12, 0.0);
    /* the velocity is the fully expanded one all the same */
    assert_close(flow.velocity_m_s, 350.99330781709074, 1e-12, 0.0);
    assert_close(flow.thrust_n, 0.96 * 7.400975516690394e-4 * 350.99330781709074, 1e-12, 0.0);
}

static void nothing_jumps_where_the_jet_chokes(void **state)
{
    (void)state;
    const double supply_pa = 263000.0;
    const double critical_pa = 0.5703744161166118 * supply_pa;
    assert_close(supply_at(supply_pa).critical_ratio, 0.5703744161166118, 1e-13, 0.0);
    const dw_jet_flow below = discharge(supply_pa, critical_pa * (1.0 - 1e-7));
    const dw_jet_flow above = discharge(supply_pa, critical_pa * (1.0 + 1e-7));
    assert_true(below.choked);
    assert_false(above.choked);
    assert_close(below.mass_kg_s, above.mass_kg_s, 1e-12, 0.0);
    assert_close(below.velocity_m_s, above.velocity_m_s, 1e-6, 0.0);
    /* a still lower back pressure leaves the mass alone, the jet goes on getting faster */
    const dw_jet_flow vacuum = discharge(supply_pa, 0.2 * critical_pa);
    assert_close(vacuum.mass_kg_s, below.mass_kg_s, 0.0, 0.0);
    assert_true(vacuum.velocity_m_s > 1.3 * below.velocity_m_s);
}

static void small_pressures_give_the_incompressible_law(void **state)
{
    (void)state;
    const double back = 98700.0;
    const double rho = back * 0.0372 / (8.314462618 * 301.7);
    const double pressures[] = {1e-3, 0.1, 7.0};
    for (size_t i = 0; i < 3; i++) {
        const double dp = pressures[i];
        const dw_jet_flow flow = discharge(back + dp, back);
        assert_close(flow.mass_kg_s, 0.83 * 1.37e-6 * sqrt(2.0 * rho * dp), dp / back + 1e-8, 0.0);
        assert_close(flow.thrust_n, 0.96 * 0.83 * 1.37e-6 * 2.0 * dp, dp / back + 1e-8, 0.0);
    }
}

static void flow_grows_with_supply_and_falls_with_back_pressure(void **state)
{
    (void)state;
    double last = 0.0;
    for (double supply = 98750.0; supply < 4e5; supply *= 1.07) {
        const dw_jet_flow flow = discharge(supply, 98700.0);
        assert_true(flow.mass_kg_s > last);
        last = flow.mass_kg_s;
    }
    const dw_jet_supply supply = supply_at(117300.0);
    for (double back = 70000.0; back < 117300.0; back += 500.0) {
        dw_jet_flow here, next;
        dw_jet_discharge(&supply, back, &here);
        dw_jet_discharge(&supply, back + 500.0, &next);
        assert_true(next.mass_kg_s < here.mass_kg_s);
        assert_true(next.thrust_n < here.thrust_n);
    }
}

static void never_runs_backwards(void **state)
{
    (void)state;
    const double backs[] = {117300.0, 117301.0, 3e5};
    for (size_t i = 0; i < 3; i++) {
        const dw_jet_flow flow = discharge(117300.0, backs[i]);
        assert_close(flow.mass_kg_s, 0.0, 0.0, 0.0);
        assert_close(flow.velocity_m_s, 0.0, 0.0, 0.0);
        assert_close(flow.thrust_n, 0.0, 0.0, 0.0);
        assert_false(flow.choked);
    }
    assert_true(isnan(discharge(117300.0, NAN).mass_kg_s));
}

static void refuses_what_has_no_meaning(void **state)
{
    (void)state;
    const dw_jet good_jet = {1e-6, 0.8, 0.97};
    const dw_jet_gas good_gas = {0.04, 1.2, 290.0, 1.1e5};
    const dw_jet bad_jets[] = {{0.0, 0.8, 0.97}, {1e-6, 0.0, 0.97}, {1e-6, 1.01, 0.97},
                               {1e-6, 0.8, 0.0}, {1e-6, 0.8, 1.01}, {NAN, 0.8, 0.97}};
    const dw_jet_gas bad_gases[] = {{0.0, 1.2, 290.0, 1.1e5},  {0.04, 1.0, 290.0, 1.1e5},
                                    {0.04, 1.7, 290.0, 1.1e5}, {0.04, 1.2, 0.0, 1.1e5},
                                    {0.04, 1.2, 290.0, 0.0},   {0.04, 1.2, 290.0, NAN}};
    dw_jet_supply supply;
    assert_int_equal(dw_jet_supply_init(&good_jet, &good_gas, &supply), DW_OK);
    for (size_t i = 0; i < 6; i++) {
        const dw_status expected = i == 5 ? DW_ERR_ARG : DW_ERR_DOMAIN;
        assert_int_equal(dw_jet_supply_init(&bad_jets[i], &good_gas, &supply), expected);
        assert_true(isnan(supply.mass_choked_kg_s));
        assert_int_equal(dw_jet_supply_init(&good_jet, &bad_gases[i], &supply), expected);
        assert_true(isnan(supply.velocity_max_m_s));
    }
    assert_int_equal(dw_jet_supply_init(NULL, &good_gas, &supply), DW_ERR_ARG);
    assert_int_equal(dw_jet_supply_init(&good_jet, NULL, &supply), DW_ERR_ARG);
    assert_int_equal(dw_jet_supply_init(&good_jet, &good_gas, NULL), DW_ERR_ARG);
}

/* The polynomial as it is printed, by Horner's rule in another order. */
static void a_thin_jet_passes_more_the_more_pressure_there_is(void **state)
{
    (void)state;
    assert_close(dw_jet_thin_discharge(1.0, NULL, NULL), 0.6001, 1e-12, 0.0);
    assert_close(dw_jet_thin_discharge(0.0, NULL, NULL), 0.8414, 1e-12, 0.0);
    double last = dw_jet_thin_discharge(1.0, NULL, NULL);
    for (double r = 0.99; r > 0.1; r -= 0.01) {
        const double cd = 0.8414 + r * (-0.1002 + r * (0.8415 + r * (-3.9 + r * (4.6001 - r * 1.6827))));
        assert_close(dw_jet_thin_discharge(r, NULL, NULL), cd, 1e-12, 0.0);
        assert_true(cd > last);
        last = cd;
    }
    assert_true(isnan(dw_jet_thin_discharge(1.001, NULL, NULL)));
    assert_true(isnan(dw_jet_thin_discharge(-0.001, NULL, NULL)));
    assert_true(isnan(dw_jet_thin_discharge(NAN, NULL, NULL)));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(matches_hand_value),
        cmocka_unit_test(choked_flow_is_sonic_at_the_throat),
        cmocka_unit_test(nothing_jumps_where_the_jet_chokes),
        cmocka_unit_test(small_pressures_give_the_incompressible_law),
        cmocka_unit_test(flow_grows_with_supply_and_falls_with_back_pressure),
        cmocka_unit_test(never_runs_backwards),
        cmocka_unit_test(a_thin_jet_passes_more_the_more_pressure_there_is),
        cmocka_unit_test(refuses_what_has_no_meaning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

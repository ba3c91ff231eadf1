/* The ends of the ranges of the gas and flow laws: the last value that is taken, the first that is not,
 * and every field that has to be a finite number. */
#include "check.h"

#include <string.h>

#include "carboxyhaemoglobin.h"
#include "constants.h"
#include "damper.h"
#include "friction.h"
#include "fuel_volume.h"
#include "jet.h"
#include "kit.h"
#include "moist_air.h"
#include "opening.h"
#include "stack.h"
#include "unmixedness.h"

static void jet_takes_a_monatomic_gas_and_no_stiffer_one(void **state)
{
    (void)state;
    const dw_jet sound_jet = {2e-6, 1.0, 1.0};
    const dw_jet_gas sound_gas = {0.016, 5.0 / 3.0, 290.0, 1.1e5};
    dw_jet_supply supply;
    assert_int_equal(dw_jet_supply_init(&sound_jet, &sound_gas, &supply), DW_OK);
    dw_jet_gas gas = sound_gas;
    gas.heat_capacity_ratio = 5.0 / 3.0 + 0.9e-12;
    assert_int_equal(dw_jet_supply_init(&sound_jet, &gas, &supply), DW_OK);
    gas.heat_capacity_ratio = 5.0 / 3.0 + 1e-9;
    assert_int_equal(dw_jet_supply_init(&sound_jet, &gas, &supply), DW_ERR_DOMAIN);
    gas.heat_capacity_ratio = 1.001;
    assert_int_equal(dw_jet_supply_init(&sound_jet, &gas, &supply), DW_OK);
    for (int i = 0; i < 7; i++) {
        dw_jet jet = sound_jet;
        gas = sound_gas;
        double *const field[] = {&jet.area_m2,           &jet.discharge_coeff,
                                 &jet.velocity_coeff,    &gas.molar_mass_kg_mol,
                                 &gas.heat_capacity_ratio, &gas.temperature_k,
                                 &gas.supply_pa_abs};
        *field[i] = INFINITY;
        assert_int_equal(dw_jet_supply_init(&jet, &gas, &supply), DW_ERR_ARG);
    }
    /* At the pressure behind it nothing flows; not even with a sign. */
    dw_jet_flow flow = {9.0, 9.0, 9.0, true};
    assert_int_equal(dw_jet_supply_init(&sound_jet, &sound_gas, &supply), DW_OK);
    dw_jet_discharge(&supply, 1.1e5, &flow);
    assert_true(flow.mass_kg_s == 0.0 && !signbit(flow.mass_kg_s) && flow.velocity_m_s == 0.0 &&
                flow.thrust_n == 0.0 && !flow.choked);
    /* The choked flow begins below the critical ratio, where both formulas agree. */
    const double critical = supply.critical_ratio * 1.1e5;
    dw_jet_discharge(&supply, critical * (1.0 + 1e-12), &flow);
    assert_false(flow.choked);
    assert_close(flow.mass_kg_s, supply.mass_choked_kg_s, 1e-9, 0.0);
    dw_jet_discharge(&supply, critical * (1.0 - 1e-12), &flow);
    assert_true(flow.choked);
}

static void moist_air_from_forty_below_to_boiling(void **state)
{
    (void)state;
    dw_moist_air air;
    const double low = 233.15, high = 373.15;
    assert_true(isfinite(dw_water_saturation_pressure_pa(low)));
    assert_true(isfinite(dw_water_saturation_pressure_pa(high)));
    assert_true(isnan(dw_water_saturation_pressure_pa(low - 1e-6)));
    assert_true(isnan(dw_water_saturation_pressure_pa(high + 1e-6)));
    assert_int_equal(dw_moist_air_from_humidity(low, 1e5, 1.0, NULL, &air), DW_OK);
    assert_int_equal(dw_moist_air_from_humidity(high, 1.2e5, 1.0, NULL, &air), DW_OK);
    /* Dry air has no vapour formula to leave, and is refused all the same. */
    assert_int_equal(dw_moist_air_from_humidity(low - 1e-6, 1e5, 0.0, NULL, &air), DW_ERR_DOMAIN);
    assert_int_equal(dw_moist_air_from_humidity(high + 1e-6, 1e5, 0.0, NULL, &air), DW_ERR_DOMAIN);
    /* The air is gone where the vapour reaches the pressure: bisected from both sides. */
    double gone = 90e3, there = 110e3;
    for (int i = 0; i < 60; i++) {
        const double p = 0.5 * (gone + there);
        if (dw_moist_air_from_humidity(high, p, 1.0, NULL, &air) == DW_OK) {
            there = p;
        } else {
            gone = p;
        }
    }
    assert_int_equal(dw_moist_air_from_humidity(high, there, 1.0, NULL, &air), DW_OK);
    assert_true(air.x_h2o > 0.999999 && air.x_h2o < 1.0 && air.x_n2 >= 0.0);
}

static const dw_stack_law sound_stack = {4.0, 0.05, 0.2236, 3e-3, 2.2, 0.35, NAN, 283.0, 1.247, 101325.0};

static void stack_fields_are_finite_numbers(void **state)
{
    (void)state;
    assert_int_equal(dw_stack_law_check(&sound_stack), DW_OK);
    for (int i = 0; i < 9; i++) {
        dw_stack_law law = sound_stack;
        double *const field[] = {&law.height_m,      &law.area_m2,
                                 &law.hydraulic_diameter_m, &law.roughness_m,
                                 &law.loss_sum,      &law.ntu,
                                 &law.outside_temperature_k, &law.outside_density_kg_m3,
                                 &law.pressure_pa_abs};
        *field[i] = INFINITY;
        assert_int_equal(dw_stack_law_check(&law), DW_ERR_ARG);
    }
    dw_stack_law law = sound_stack;
    law.roughness_m = law.loss_sum = law.ntu = 0.0;
    assert_int_equal(dw_stack_law_check(&law), DW_OK);
    law.roughness_m = 0.2 * law.hydraulic_diameter_m;
    assert_int_equal(dw_stack_law_check(&law), DW_OK);
    law.roughness_m *= 1.0 + 1e-9;
    assert_int_equal(dw_stack_law_check(&law), DW_ERR_DOMAIN);
    law = sound_stack;
    law.ntu = NAN;
    law.ua_w_k = 0.0;
    assert_int_equal(dw_stack_law_check(&law), DW_OK);
    law.hydraulic_diameter_m = 0.0;
    law.roughness_m = 0.0;
    assert_int_equal(dw_stack_law_check(&law), DW_ERR_DOMAIN);
}

static void failed_stack_leaves_no_number(void **state)
{
    (void)state;
    dw_stack_state s;
    memset(&s, 0, sizeof s);
    assert_int_equal(dw_stack_down(&sound_stack, -0.1, &s), DW_ERR_DOMAIN);
    assert_true(isnan(s.base_pa) && isnan(s.loss_pa) && isnan(s.buoyancy_pa) && isnan(s.reynolds));
    memset(&s, 0, sizeof s);
    assert_int_equal(dw_stack_down(&sound_stack, 0.0, &s), DW_ERR_DOMAIN);
    assert_true(isnan(s.base_pa));
    memset(&s, 0, sizeof s);
    assert_int_equal(dw_stack_up(&sound_stack, 0.0, 900.0, 0.028, 1e3, &s), DW_ERR_DOMAIN);
    assert_true(isnan(s.base_pa) && isnan(s.density_kg_m3));
    assert_int_equal(dw_stack_up(&sound_stack, 0.1, 0.0, 0.028, 1e3, &s), DW_ERR_DOMAIN);
    assert_int_equal(dw_stack_up(&sound_stack, 0.1, 900.0, 0.0, 1e3, &s), DW_ERR_DOMAIN);
    assert_int_equal(dw_stack_down(&sound_stack, 0.1, &s), DW_OK);
    assert_close(s.top_temperature_k, 283.0, 0.0, 0.0);
    assert_close(s.mean_temperature_k, 283.0, 0.0, 0.0);
    assert_close(s.density_kg_m3, 1.247, 0.0, 0.0);
    dw_stack_law law = sound_stack;
    law.ntu = NAN;
    law.ua_w_k = 10.0;
    assert_int_equal(dw_stack_up(&law, 0.1, 900.0, 0.028, 0.0, &s), DW_ERR_DOMAIN);
    assert_int_equal(dw_stack_up(&law, 0.1, 900.0, 0.028, NAN, &s), DW_ERR_ARG);
    assert_int_equal(dw_stack_up(&sound_stack, 0.1, 900.0, 0.028, NAN, &s), DW_OK);
}

static void rows_of_dampers(void **state)
{
    (void)state;
    const dw_damper_setting half = {0.5, 0.01, 1.0};
    dw_damper_loss loss;
    /* A full-open row is one; a loss of nothing is a loss; equal rows are no rows. */
    const double open[] = {0.2, 1.0}, falling[] = {9.0, 0.0}, flat[] = {9.0, 9.0}, same[] = {0.2, 0.2};
    assert_int_equal(dw_damper_table(&half, open, falling, 2, NULL, &loss), DW_OK);
    assert_int_equal(dw_damper_table(&half, open, flat, 2, NULL, &loss), DW_ERR_DOMAIN);
    assert_int_equal(dw_damper_table(&half, same, falling, 2, NULL, &loss), DW_ERR_DOMAIN);
    const double shut[] = {0.0, 1.0}, over[] = {0.2, 1.0 + 1e-9}, below[] = {9.0, -1e-9};
    assert_int_equal(dw_damper_table(&half, shut, falling, 2, NULL, &loss), DW_ERR_DOMAIN);
    assert_int_equal(dw_damper_table(&half, over, falling, 2, NULL, &loss), DW_ERR_DOMAIN);
    assert_int_equal(dw_damper_table(&half, open, below, 2, NULL, &loss), DW_ERR_DOMAIN);
    /* Outside the rows is marked, their ends are not. */
    const double rows[] = {0.5, 0.8}, losses[] = {9.0, 1.0};
    assert_int_equal(dw_damper_table(&half, rows, losses, 2, NULL, &loss), DW_OK);
    assert_false(loss.outside_published);
    const dw_damper_setting wide = {0.8, 0.01, 1.0}, wider = {0.8 + 1e-9, 0.01, 1.0},
                            less = {0.5 - 1e-9, 0.01, 1.0};
    assert_int_equal(dw_damper_table(&wide, rows, losses, 2, NULL, &loss), DW_OK);
    assert_false(loss.outside_published);
    assert_int_equal(dw_damper_table(&wider, rows, losses, 2, NULL, &loss), DW_OK);
    assert_true(loss.outside_published);
    assert_int_equal(dw_damper_table(&less, rows, losses, 2, NULL, &loss), DW_OK);
    assert_true(loss.outside_published);

    const double end = 75.0 * DW_PI / 180.0;
    const double angle[] = {0.0, end}, zeta[] = {0.2, 500.0}, none[] = {0.0, 500.0};
    assert_int_equal(dw_damper_butterfly(&half, angle, zeta, 2, NULL, &loss), DW_OK);
    assert_int_equal(dw_damper_butterfly(&half, angle, none, 2, NULL, &loss), DW_ERR_DOMAIN);
    const double before[] = {-1e-9, end}, beyond[] = {0.0, end * (1.0 + 1e-9)};
    assert_int_equal(dw_damper_butterfly(&half, before, zeta, 2, NULL, &loss), DW_ERR_DOMAIN);
    assert_int_equal(dw_damper_butterfly(&half, beyond, zeta, 2, NULL, &loss), DW_ERR_DOMAIN);
    /* An angle made from an open fraction may miss the row by rounding, not by more. */
    const double from_five[] = {0.09, 1.2};
    const dw_damper_setting at_row = {1.0 - sin(0.09), 0.01, 1.0}, past = {1.0 - sin(0.09 - 1e-7), 0.01, 1.0};
    assert_int_equal(dw_damper_butterfly(&at_row, from_five, zeta, 2, NULL, &loss), DW_OK);
    assert_false(loss.outside_published);
    assert_int_equal(dw_damper_butterfly(&past, from_five, zeta, 2, NULL, &loss), DW_OK);
    assert_true(loss.outside_published);
    const dw_damper_setting last_row = {1.0 - sin(1.2), 0.01, 1.0}, shut_more = {1.0 - sin(1.2 + 1e-7), 0.01, 1.0};
    assert_int_equal(dw_damper_butterfly(&last_row, from_five, zeta, 2, NULL, &loss), DW_OK);
    assert_false(loss.outside_published);
    assert_int_equal(dw_damper_butterfly(&shut_more, from_five, zeta, 2, NULL, &loss), DW_OK);
    assert_true(loss.outside_published);
}

static void roughest_pipe_and_widest_spread(void **state)
{
    (void)state;
    assert_true(isfinite(dw_friction_factor(1e4, 0.2, 0.0, NULL)));
    assert_true(isnan(dw_friction_factor(1e4, 0.2 + 1e-9, 0.0, NULL)));
    assert_true(isnan(dw_air_viscosity_pa_s(0.0, NULL)));
    double z[DW_PARCEL_MAX], w[DW_PARCEL_MAX];
    int count;
    assert_int_equal(dw_unmixedness_points(0.06, 0.055, 0.6, z, w, &count), DW_ERR_DOMAIN);
    assert_int_equal(dw_unmixedness_points(0.06, 0.055, 0.5999, z, w, &count), DW_OK);
    /* A mean so high that the density has no peak inside: (1 - m) (m (1 - m)/v - 1) <= 1. */
    assert_int_equal(dw_unmixedness_points(0.9, 0.055, 0.22, z, w, &count), DW_ERR_DOMAIN);
    /* b = 0.1 (0.09/v - 1) = 1 at v = 0.09/11, s = sqrt(v)/0.9. */
    const double edge = sqrt(0.09 / 11.0) / 0.9;
    assert_int_equal(dw_unmixedness_points(0.9, 0.055, edge * 1.0001, z, w, &count), DW_ERR_DOMAIN);
    assert_int_equal(dw_unmixedness_points(0.9, 0.055, edge * 0.9999, z, w, &count), DW_OK);
}

static void every_pointer_of_the_mean_is_needed(void **state)
{
    (void)state;
    const dw_gas_set *set = &kit_model()->gases;
    dw_gas_potentials at;
    assert_int_equal(dw_gas_potentials_at(set, 1400.0, &at), DW_OK);
    assert_close(at.temperature_k, 1400.0, 0.0, 0.0);
    const dw_elements fuel = {{0}, -1.0}, air = {{0}, 1.0};
    double x[DW_GAS_MAX], moles;
    assert_int_equal(dw_unmixedness_mean(NULL, &at, &at, &fuel, &air, 0.05, 0.05, 1e5, false, x, &moles, NULL), DW_ERR_ARG);
    assert_int_equal(dw_unmixedness_mean(set, NULL, &at, &fuel, &air, 0.05, 0.05, 1e5, false, x, &moles, NULL), DW_ERR_ARG);
    assert_int_equal(dw_unmixedness_mean(set, &at, &at, NULL, &air, 0.05, 0.05, 1e5, false, x, &moles, NULL), DW_ERR_ARG);
    assert_int_equal(dw_unmixedness_mean(set, &at, &at, &fuel, NULL, 0.05, 0.05, 1e5, false, x, &moles, NULL), DW_ERR_ARG);
    assert_int_equal(dw_unmixedness_mean(set, &at, &at, &fuel, &air, 0.05, 0.05, 1e5, false, NULL, &moles, NULL), DW_ERR_ARG);
    assert_true(isnan(moles));
    assert_int_equal(dw_unmixedness_mean(set, &at, &at, &fuel, &air, 0.05, 0.05, 1e5, false, x, NULL, NULL), DW_ERR_ARG);
}

static void potentials_without_graphite_say_so(void **state)
{
    (void)state;
    dw_gas_set set = kit_model()->gases;
    set.graphite = -1;
    dw_gas_potentials at;
    memset(&at, 0, sizeof at);
    assert_int_equal(dw_gas_potentials_at(&set, 1400.0, &at), DW_OK);
    assert_true(isnan(at.graphite_g_rt));
    dw_elements el = {{0}, 0.0};
    el.n[DW_C] = 1.0, el.n[DW_O] = 1.0, el.excess_o = -1.0;
    dw_equilibrium s = {.start = DW_START_COLD};
    assert_int_equal(dw_equilibrium_solve(&set, &at, &el, 1e5, true, &s), DW_ERR_DOMAIN);
    /* What the set held before is forgotten. */
    assert_int_equal(dw_gas_set_init(&set, &kit_data()->species), DW_OK);
    assert_int_equal(set.count, kit_model()->gases.count);
    assert_int_equal(dw_gas_set_init(&set, &kit_data()->species), DW_OK);
    assert_int_equal(set.count, kit_model()->gases.count);
}

static void equilibrium_wants_sound_elements(void **state)
{
    (void)state;
    const dw_gas_set *set = &kit_model()->gases;
    dw_gas_potentials at;
    assert_int_equal(dw_gas_potentials_at(set, 1400.0, &at), DW_OK);
    const dw_elements sound = {{[DW_C] = 1.0, [DW_H] = 4.0, [DW_O] = 4.2, [DW_N] = 15.0, [DW_AR] = 0.1}, 0.2};
    for (int e = 0; e < DW_ELEMENT_COUNT; e++) {
        dw_elements el = sound;
        el.n[e] = -1e-9;
        dw_equilibrium s = {.start = DW_START_COLD};
        assert_int_equal(dw_equilibrium_solve(set, &at, &el, 1e5, false, &s), DW_ERR_DOMAIN);
        el.n[e] = NAN;
        assert_int_equal(dw_equilibrium_solve(set, &at, &el, 1e5, false, &s), DW_ERR_ARG);
        assert_true(isnan(s.gas_mol) && isnan(s.x[0]) && s.start == DW_START_COLD);
    }
    /* Without nitrogen and argon, carbon or hydrogen it is a gas still; without any of the last two none. */
    dw_elements bare = {{[DW_C] = 1.0, [DW_H] = 4.0, [DW_O] = 4.2}, 0.2};
    dw_equilibrium s = {.start = DW_START_COLD};
    assert_int_equal(dw_equilibrium_solve(set, &at, &bare, 1e5, false, &s), DW_OK);
    /* 1 CO2, 2 H2O, 0.1 O2 and what little dissociates. */
    assert_close(s.gas_mol, 3.1, 1e-4, 0.0);
    bare.n[DW_C] = 0.0, bare.excess_o = 2.2;
    s.start = DW_START_COLD;
    assert_int_equal(dw_equilibrium_solve(set, &at, &bare, 1e5, false, &s), DW_OK);
    assert_close(s.carbon_activity, 0.0, 0.0, 0.0);
    bare.n[DW_H] = 0.0, bare.excess_o = 4.2;
    s.start = DW_START_COLD;
    assert_int_equal(dw_equilibrium_solve(set, &at, &bare, 1e5, false, &s), DW_ERR_DOMAIN);
}

static void openings_and_metered_gas(void **state)
{
    (void)state;
    dw_restriction_state air;
    assert_int_equal(dw_restriction_flow(0.0, 0.6, 1.2, 5.0, &air), DW_ERR_DOMAIN);
    assert_int_equal(dw_restriction_flow(1e-4, 0.0, 1.2, 5.0, &air), DW_ERR_DOMAIN);
    assert_int_equal(dw_restriction_flow(1e-4, 0.6, 0.0, 5.0, &air), DW_ERR_DOMAIN);
    assert_int_equal(dw_restriction_flow(1e-4, 0.6, 1.2, 0.0, &air), DW_OK);
    assert_true(air.reversed && air.mass_kg_s == 0.0);
    /* A neutral plane at the very end of a tall opening lies inside none. */
    dw_tall tall;
    dw_tall_flow flow;
    assert_int_equal(dw_tall_init(1e-3, 0.6, 0.0, 1.0, 1.2, 0.2, &tall), DW_OK);
    dw_tall_opening_flow(&tall, 0.0, NULL, NULL, &flow);
    assert_true(isnan(flow.neutral_m) && flow.in_kg_s == 0.0 && isnan(flow.in_height_m));
    dw_tall_opening_flow(&tall, -tall.rise_pa, NULL, NULL, &flow);
    assert_true(isnan(flow.neutral_m) && flow.out_kg_s == 0.0 && isnan(flow.out_height_m));
    dw_fuel_properties fuel = {.molar_mass_kg_mol = 0.016, .hhv_j_mol = 8.9e5, .lhv_j_mol = 8e5};
    dw_fuel_volumetric v;
    assert_int_equal(dw_fuel_volumetric_at(&fuel, 0.029, 0.0, 1e5, &v), DW_ERR_DOMAIN);
    fuel.molar_mass_kg_mol = 0.0;
    assert_int_equal(dw_fuel_volumetric_at(&fuel, 0.029, 288.0, 1e5, &v), DW_ERR_DOMAIN);
}

static void blood_and_breath(void **state)
{
    (void)state;
    assert_true(isfinite(dw_blood_volume_m3(1.0, 30.0, true, NULL)));
    assert_true(isfinite(dw_blood_volume_m3(2.2, 200.0, false, NULL)));
    assert_true(isnan(dw_blood_volume_m3(1.0 - 1e-9, 60.0, true, NULL)));
    assert_true(isnan(dw_blood_volume_m3(2.2 + 1e-9, 60.0, true, NULL)));
    assert_true(isnan(dw_blood_volume_m3(1.7, 30.0 - 1e-9, true, NULL)));
    assert_true(isnan(dw_blood_volume_m3(1.7, 200.0 + 1e-9, true, NULL)));
    /* A tenth of the reference is the least pressure: 13.3 kPa less 0.2 of the pressure that is gone. */
    assert_close(dw_capillary_o2_pa(10e3, 0.25, 65.3e3, 101.3e3, NULL), 1e3, 1e-12, 0.0);
    assert_true(isnan(dw_capillary_o2_pa(10e3, 0.25, 65.29e3, 101.3e3, NULL)));
    assert_close(dw_capillary_o2_pa(10e3, 0.25, 103e3, 101.3e3, NULL), 10e3, 0.0, 0.0);
    const dw_cohb person = {.haldane_ratio = 231.0, .endogenous_m3_s = 1.31e-10,
                            .capillary_o2_pa = 12950.0, .capacity_m3_m3 = 0.193,
                            .blood_m3 = 4.87e-3, .ventilation_m3_s = 1.83e-4,
                            .diffusing_m3_s_pa = 4.4e-9, .barometric_pa_abs = 97300.0,
                            .water_pa = 6270.0};
    dw_cohb drowned = person;
    drowned.water_pa = drowned.barometric_pa_abs;
    assert_int_equal(dw_cohb_check(&person), DW_OK);
    assert_int_equal(dw_cohb_check(&drowned), DW_ERR_DOMAIN);
    assert_true(isfinite(dw_cohb_after(&person, 0.0, 0.0, INFINITY)));
    assert_true(isfinite(dw_cohb_after(&person, 0.0, 1e6, INFINITY)));
    assert_true(isnan(dw_cohb_after(&person, 0.0, -1e-9, INFINITY)));
    assert_true(isnan(dw_cohb_after(&person, 0.0, 1e6 + 1e-3, INFINITY)));
    assert_true(isnan(dw_cohb_after(&person, 0.01, 1e6 + 1e-3, 10.0)));
    assert_true(isfinite(dw_cohb_after(&person, 0.01, 1e6, 10.0)));
    assert_true(isnan(dw_cohb_after(&person, 1.0, 50.0, 10.0)));
    assert_true(isnan(dw_cohb_after(&person, 0.01, 50.0, -1.0)));
    assert_true(isnan(dw_cohb_after(&person, 0.01, 50.0, NAN)));
    /* Already there, and never to be there. */
    assert_close(dw_cohb_time_to(&person, 0.05, 500.0, 0.05), 0.0, 0.0, 0.0);
    assert_true(isnan(dw_cohb_time_to(&person, 0.05, 500.0, NAN)));
    assert_true(isnan(dw_cohb_time_to(&person, -0.05, 500.0, 0.1)));
    const double end = dw_cohb_after(&person, 0.0, 50.0, INFINITY);
    assert_true(isinf(dw_cohb_time_to(&person, 0.01, 50.0, end)));
    assert_true(isfinite(dw_cohb_time_to(&person, 0.01, 50.0, end * (1.0 - 1e-9))));
    assert_close(dw_cohb_after(&person, end, 50.0, 3600.0), end, 0.0, 0.0);
    assert_close(dw_cohb_after(&person, 0.3, 50.0, INFINITY), end, 0.0, 0.0);
}

static void every_pointer_of_the_equilibrium_is_needed(void **state)
{
    (void)state;
    const dw_gas_set *set = &kit_model()->gases;
    dw_gas_potentials at;
    assert_int_equal(dw_gas_potentials_at(set, 1400.0, &at), DW_OK);
    const dw_elements el = {{[DW_C] = 1.0, [DW_H] = 4.0, [DW_O] = 4.2, [DW_N] = 15.0}, 0.2};
    dw_equilibrium s = {.start = DW_START_COLD};
    assert_int_equal(dw_equilibrium_solve(NULL, &at, &el, 1e5, false, &s), DW_ERR_ARG);
    assert_int_equal(dw_equilibrium_solve(set, NULL, &el, 1e5, false, &s), DW_ERR_ARG);
    assert_int_equal(dw_equilibrium_solve(set, &at, NULL, 1e5, false, &s), DW_ERR_ARG);
    assert_int_equal(dw_equilibrium_solve(set, &at, &el, 1e5, false, NULL), DW_ERR_ARG);
    assert_int_equal(dw_equilibrium_solve(set, &at, &el, 0.0, false, &s), DW_ERR_DOMAIN);
    assert_int_equal(dw_equilibrium_solve(set, &at, &el, INFINITY, false, &s), DW_ERR_DOMAIN);
    assert_int_equal(dw_gas_potentials_at(NULL, 1400.0, &at), DW_ERR_ARG);
    assert_int_equal(dw_gas_potentials_at(set, 1400.0, NULL), DW_ERR_ARG);
    assert_int_equal(dw_gas_set_init(NULL, &kit_data()->species), DW_ERR_ARG);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(jet_takes_a_monatomic_gas_and_no_stiffer_one),
        cmocka_unit_test(moist_air_from_forty_below_to_boiling),
        cmocka_unit_test(stack_fields_are_finite_numbers),
        cmocka_unit_test(failed_stack_leaves_no_number),
        cmocka_unit_test(rows_of_dampers),
        cmocka_unit_test(roughest_pipe_and_widest_spread),
        cmocka_unit_test(every_pointer_of_the_mean_is_needed),
        cmocka_unit_test(potentials_without_graphite_say_so),
        cmocka_unit_test(equilibrium_wants_sound_elements),
        cmocka_unit_test(openings_and_metered_gas),
        cmocka_unit_test(blood_and_breath),
        cmocka_unit_test(every_pointer_of_the_equilibrium_is_needed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

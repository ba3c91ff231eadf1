/* From a kiln to laws: air, burners, flues and stack by hand or by the laws of the layer below. */
#include "check.h"

#include <string.h>

#include "constants.h"
#include "damper.h"
#include "kiln_kinds.h"
#include "kit.h"
#include "network.h"

static dw_kiln kiln;
static dw_network net;
static char reason[DW_REASON_SIZE];

static double circle(double diameter_m) { return DW_PI / 4.0 * diameter_m * diameter_m; }

static void init(void)
{
    reason[0] = '\0';
    memset(&net, 0x5a, sizeof net); /* whatever was there before */
    assert_int_equal(dw_network_init(&net, kit_model(), &kiln, reason), DW_OK);
    assert_string_equal(reason, "");
}

static void refused(const char *words)
{
    reason[0] = '\0';
    assert_int_equal(dw_network_init(&net, kit_model(), &kiln, reason), DW_ERR_DOMAIN);
    if (strstr(reason, words) == NULL) fail_msg("'%s' is not in '%s'", words, reason);
}

static double share(const char *name)
{
    return net.x_air[dw_species_find(&kit_data()->species, name)];
}

static void air_is_the_same_in_the_room_and_outside_but_for_its_temperature(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.site.air_temperature_k = kiln.site.room_temperature_k = 293.15;
    kiln.site.outside_temperature_k = 278.15;
    kiln.site.pressure_pa_abs = 90000.0;
    kiln.site.relative_humidity = 0.5;
    init();
    /* 0.5 x 1.0038 x 2339.2 Pa / 90000 Pa; density 1.06426 at 20 degC (published formula). */
    assert_close(share("H2O"), 0.013045, 3e-4, 0.0);
    assert_close(share("N2"), 0.78084 * (1.0 - share("H2O")), 1e-9, 0.0);
    assert_close(share("O2"), 0.209476 * (1.0 - share("H2O")), 1e-9, 0.0);
    assert_close(share("Ar"), 0.009365 * (1.0 - share("H2O")), 1e-9, 0.0);
    assert_close(share("CO2"), 0.000319 * (1.0 - share("H2O")), 1e-9, 0.0);
    assert_close(net.pressure_pa_abs, 90000.0, 0.0, 0.0);
    assert_close(net.rho_room_kg_m3, 1.06426, 3e-5, 0.0);
    assert_close(net.rho_out_kg_m3, net.rho_room_kg_m3 * 293.15 / 278.15, 1e-12, 0.0);
    double sum = 0.0;
    for (int i = 0; i < DW_SPECIES_MAX; i++) sum += net.x_air[i];
    assert_close(sum, 1.0, 1e-12, 0.0);
}

static void room_colder_than_the_dew_point_is_marked(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.site.relative_humidity = 0.5; /* dew point 9.3 degC */
    kiln.site.room_temperature_k = 283.15;
    init();
    assert_false(net.room_saturated);
    kiln.site.room_temperature_k = 281.15;
    init();
    assert_true(net.room_saturated);
    kiln.site.relative_humidity = 0.4;
    init();
    assert_false(net.room_saturated);
    /* Just full is not too full. */
    kiln.site.relative_humidity = 1.0;
    kiln.site.room_temperature_k = kiln.site.air_temperature_k;
    init();
    assert_false(net.room_saturated);
}

static void whole_kiln_is_carried_over(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.settings.gas_minus_reading_dk = 31.0;
    init();
    assert_ptr_equal(net.kiln, &kiln);
    assert_ptr_equal(net.model, kit_model());
    assert_close(net.datum_m, 0.1, 0.0, 0.0);
    assert_close(net.gas_temperature_k, 1473.15 + 31.0, 1e-15, 0.0);
    assert_close(net.fuel_molar_mass_kg_mol, 16.0425e-3, 3e-5, 0.0);
    assert_false(net.has_stack);
    assert_close(net.rho_room_kg_m3, 101325.0 * 28.9651e-3 / (8.314462618 * 293.15), 2e-5, 0.0);
}

/* The jet of the plain kiln: k from the heat capacity of methane at 20 degC, 35.6 J/(mol K). */
static dw_jet_flow methane_jet(double supply_pa, double back_pa, double temperature_k)
{
    const dw_jet jet = {circle(2.0e-3), 0.85, 0.97};
    const double cp = dw_mixture_heat_capacity_j_mol_k(&kit_data()->species, kiln.fuel.x,
                                                       temperature_k);
    const dw_jet_gas gas = {net.fuel_molar_mass_kg_mol, cp / (cp - 8.314510), temperature_k,
                            101325.0 + supply_pa};
    dw_jet_supply ready;
    dw_jet_flow flow;
    assert_int_equal(dw_jet_supply_init(&jet, &gas, &ready), DW_OK);
    dw_jet_discharge(&ready, 101325.0 + back_pa, &flow);
    return flow;
}

static void inspirating_burner_is_a_jet_in_an_injector(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.burner[0].count = 3;
    kiln.burner[0].port_diameter_m = 52.0e-3;
    kiln.burner[0].port_temperature_ratio = 1.7;
    kiln.burner[0].shutter_open_frac = 0.6;
    kiln.operating.gas_temperature_k = 283.15;
    init();
    const dw_burner_law *law = &net.burner[0];
    const dw_jet_flow jet = methane_jet(10.0e3, 0.0, 283.15);
    assert_true(law->lit && !law->blown && !law->choked && !law->shutter_closed);
    assert_close(law->pieces, 3.0, 0.0, 0.0);
    assert_close(law->height_m, 0.1, 0.0, 0.0);
    assert_close(law->gas_kg_s, 3.0 * jet.mass_kg_s, 1e-12, 0.0);
    /* Cd A sqrt(2 rho dp) is within 2 per cent of it at 10 kPa. */
    assert_close(jet.mass_kg_s, 0.85 * circle(2e-3) * sqrt(2.0 * 0.68 * 10.0e3), 0.05, 0.0);
    assert_close(law->air_jet_kg_s, 0.0, 0.0, 0.0);

    /* Full shutter has inlet loss 0.5: A = A_t/(Cd sqrt(1.5)); at 0.6 of it 1.5/0.36 - 1. */
    const double throat = circle(40.0e-3), ratio = pow(40.0 / 52.0, 2);
    const dw_injector_input input = {
        .throat_area_m2 = throat,
        .kappa_m = dw_injector_kappa_m(0.18, 0.40, 1.6, ratio, 1.7, NULL),
        .kappa_a = (1.0 - (1.5 / 0.36 - 1.0)) / 2.0,
        .jet_mass_kg_s = jet.mass_kg_s,
        .jet_volume_m3_s = jet.mass_kg_s * 8.314462618 * 283.15 /
                           (101325.0 * net.fuel_molar_mass_kg_mol),
        .thrust_n = jet.thrust_n,
        .air_density_kg_m3 = net.rho_room_kg_m3,
    };
    dw_injector injector;
    assert_int_equal(dw_injector_init(&input, &injector), DW_OK);
    assert_close(law->injector.a, injector.a, 1e-11, 0.0);
    assert_close(law->injector.b, injector.b, 1e-11, 0.0);
    assert_close(law->injector.c0, injector.c0, 1e-11, 0.0);
    assert_close(law->injector.area_sq, throat * throat, 1e-12, 0.0);
    assert_close(law->injector.reversal_pa, injector.reversal_pa, 1e-11, 0.0);
}

static void air_jet_adds_its_mass_volume_and_thrust(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.burner[0].count = 2;
    kiln.burner[0].air_jet_diameter_m = 1.5e-3;
    kiln.burner[0].air_jet_discharge_coeff = 0.9;
    kiln.burner[0].air_pressure_pa = 4000.0;
    kiln.site.room_temperature_k = 303.15;
    init();
    const dw_burner_law *law = &net.burner[0];
    const dw_jet_flow gas = methane_jet(10.0e3, 0.0, 293.15);
    const dw_jet jet = {circle(1.5e-3), 0.9, 0.97};
    const dw_jet_gas supply = {net.air.molar_mass_kg_mol, 1.40, 303.15, 105325.0};
    dw_jet_supply ready;
    dw_jet_flow air;
    assert_int_equal(dw_jet_supply_init(&jet, &supply, &ready), DW_OK);
    dw_jet_discharge(&ready, 101325.0, &air);
    assert_close(law->air_jet_kg_s, 2.0 * air.mass_kg_s, 1e-12, 0.0);
    assert_false(law->air_jet_choked);
    const dw_injector_input input = {
        .throat_area_m2 = circle(40.0e-3),
        .kappa_m = dw_injector_kappa_m(0.18, 0.40, 1.6, 1.0, 1.0, NULL),
        .kappa_a = 0.25,
        .jet_mass_kg_s = gas.mass_kg_s + air.mass_kg_s,
        .jet_volume_m3_s = gas.mass_kg_s * 8.314462618 * 293.15 /
                               (101325.0 * net.fuel_molar_mass_kg_mol) +
                           air.mass_kg_s / net.rho_room_kg_m3,
        .thrust_n = gas.thrust_n + air.thrust_n,
        .air_density_kg_m3 = net.rho_room_kg_m3,
    };
    dw_injector injector;
    assert_int_equal(dw_injector_init(&input, &injector), DW_OK);
    assert_close(law->injector.a, injector.a, 1e-11, 0.0);
    assert_close(law->injector.b, injector.b, 1e-11, 0.0);
    assert_close(law->injector.c0, injector.c0, 1e-11, 0.0);

    kiln.burner[0].air_pressure_pa = 150.0e3;
    init();
    assert_true(net.burner[0].air_jet_choked && !net.burner[0].choked);
    kiln.burner[0].gas_pressure_pa = 150.0e3;
    kiln.burner[0].air_pressure_pa = 0.0;
    init();
    assert_true(!net.burner[0].air_jet_choked && net.burner[0].choked);
}

static void closed_shutter_lets_no_air_in(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.burner[0].shutter_open_frac = 0.0;
    init();
    assert_true(net.burner[0].shutter_closed && net.burner[0].injector.shutter_closed);
    kiln.burner[0].shutter_open_frac = 1e-3;
    init();
    assert_false(net.burner[0].shutter_closed);
}

static void blown_burner_has_a_restriction_or_a_flow(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    dw_burner *burner = &kiln.burner[0];
    burner->kind = DW_BURNER_BLOWN;
    burner->count = 2;
    burner->air_restriction_area_m2 = 3.1e-4;
    burner->air_restriction_coeff = 0.71;
    burner->air_pressure_pa = 850.0;
    init();
    const dw_burner_law *law = &net.burner[0];
    assert_true(law->lit && law->blown);
    assert_close(law->blown_area_m2, 3.1e-4, 0.0, 0.0);
    assert_close(law->blown_coeff, 0.71, 0.0, 0.0);
    assert_close(law->blown_pressure_pa, 850.0, 0.0, 0.0);
    assert_close(law->blown_flow_kg_s, 0.0, 0.0, 0.0);
    assert_close(law->gas_jet.supply_pa_abs, 111325.0, 1e-15, 0.0);
    burner->air_restriction_area_m2 = NAN;
    burner->air_flow_m3_s = 0.013;
    init();
    assert_true(isnan(law->blown_area_m2));
    assert_close(law->blown_flow_kg_s, 0.013 * 2.0 * net.rho_room_kg_m3, 1e-15, 0.0);
}

static void burner_that_is_off_is_a_hole_unless_plugged(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    dw_burner *burner = &kiln.burner[0];
    burner->lit = false;
    burner->port_temperature_ratio = 2.5; /* cold all the same */
    burner->shutter_open_frac = 0.5;
    init();
    const dw_burner_law *law = &net.burner[0];
    assert_true(!law->lit && law->open_when_unlit);
    /* Port as wide as the throat: kappa_m = 1 + (0.18 - 0.4 + 1.6)/2 = 1.69; inlet loss
     * 1.5/0.25 - 1 = 5, kappa_a = -2. A_t/sqrt(2 (1.69 + 2)). */
    assert_close(law->unlit_area_m2, circle(40.0e-3) / sqrt(2.0 * 3.69), 1e-12, 0.0);
    burner->port_diameter_m = 60.0e-3;
    init();
    const double ratio = 16.0 / 36.0;
    assert_close(law->unlit_area_m2,
                 circle(40.0e-3) /
                     sqrt(2.0 * (dw_injector_kappa_m(0.18, 0.40, 1.6, ratio, 1.0, NULL) + 2.0)),
                 1e-12, 0.0);
    burner->plugged = true;
    init();
    assert_false(law->open_when_unlit);

    burner->plugged = false;
    burner->kind = DW_BURNER_BLOWN;
    burner->air_restriction_area_m2 = 3.0e-4;
    burner->air_restriction_coeff = 0.7;
    init();
    assert_close(law->unlit_area_m2, 2.1e-4, 1e-15, 0.0);
    burner->air_restriction_area_m2 = NAN;
    burner->air_flow_m3_s = 0.01;
    init();
    assert_close(law->unlit_area_m2, 0.0, 0.0, 0.0);
}

static void lit_burner_without_gas_is_off(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.burner[0].gas_pressure_pa = 0.0;
    init();
    assert_false(net.burner[0].lit);
    assert_true(net.burner[0].open_when_unlit);
}

static void flue_is_a_hole_of_its_losses(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    /* Full open into a plenum: entry 0.5, and all of the speed is lost: 1. */
    init();
    assert_close(net.flue[0].coeff, 1.0 / sqrt(1.5), 1e-12, 0.0);
    assert_close(net.flue[0].area_m2, 200.0e-4, 0.0, 0.0);
    assert_close(net.flue[0].height_m, 0.9, 0.0, 0.0);
    assert_true(net.flue[0].outside_published && !net.flue[0].at_leak);
    assert_close(net.flue[0].open_frac, 1.0, 0.0, 0.0);

    /* Half open between equal ducts: 4.370 (Idelchik), entry 0.4, scale 1.1. */
    kiln.flue[0].downstream_is_plenum = false;
    kiln.flue[0].downstream_area_m2 = 200.0e-4;
    kiln.flue[0].entry_loss = 0.4;
    kiln.flue[0].damper.open_frac = 0.5;
    kiln.flue[0].damper.scale = 1.1;
    init();
    assert_close(net.flue[0].coeff, 1.0 / sqrt(0.4 + 1.1 * 4.370 + 1.0), 1e-4, 0.0);
    assert_false(net.flue[0].outside_published);
    /* Into twice the area first, then the room: [1/(Cc f) - 1/2]^2 with Cc 0.64718 (Idelchik), and
     * (1/2)^2 of the speed that is left. */
    kiln.flue[0].downstream_area_m2 = 400.0e-4;
    init();
    assert_close(net.flue[0].coeff,
                 1.0 / sqrt(0.4 + 1.1 * pow(1.0 / (0.64718 * 0.5) - 0.5, 2) + 0.25), 1e-4, 0.0);

    kiln.flue[0].damper.open_frac = 0.005;
    kiln.flue[0].damper.leak_frac = 0.03;
    init();
    assert_true(net.flue[0].at_leak);
    assert_close(net.flue[0].open_frac, 0.03, 0.0, 0.0);
}

static void floor_and_setting_lose_besides_the_mouth(void **state)
{
    (void)state;
    /* A plenum behind: 1. Entry 0.5, floor 2.5; 20 heads on 0.56 m2 are 20 (0.02/0.56)^2 = 0.0255102 on 0.02 m2. */
    kit_plain_kiln(&kiln);
    kiln.flue[0].floor_loss = 2.5;
    init();
    assert_close(net.flue[0].coeff, 1.0 / sqrt(0.5 + 2.5 + 1.0), 1e-12, 0.0);
    kiln.chamber.setting_loss = 20.0;
    init();
    assert_close(net.flue[0].coeff, 1.0 / sqrt(4.0255102), 1e-8, 0.0);
    kiln.flue[0].floor_loss = 0.0;
    init();
    assert_close(net.flue[0].coeff, 1.0 / sqrt(1.5255102), 1e-8, 0.0);
    /* The setting has all that leaves in it: the loss of what flows is 20 heads of that speed in the plan area. */
    const dw_chamber_gas gas = {0.028, net.x_air};
    dw_network_at at;
    dw_network_sums sums;
    assert_int_equal(dw_network_at_density(&net, gas, &at), DW_OK);
    dw_network_evaluate(&at, 9.0, NAN, &sums);
    const double in_plan = sums.flue_out_kg_s / (at.rho_kg_m3 * 0.56), in_flue = sums.flue_out_kg_s / (at.rho_kg_m3 * 0.02);
    const double at_flue = dw_network_pressure_pa(&at, 9.0, 0.9);
    assert_close(at_flue, 0.5 * at.rho_kg_m3 * (20.0 * in_plan * in_plan + 1.5 * in_flue * in_flue), 1e-6, 0.0);
    /* Two flues in place of one, of the same area together: the same setting, and the same answer. */
    kiln.flue[1] = kiln.flue[0];
    kiln.flue[0].area_m2 *= 0.25;
    kiln.flue[1].area_m2 *= 0.75;
    kiln.flue_count = 2;
    init();
    assert_close(net.flue[0].coeff, 1.0 / sqrt(1.5255102), 1e-8, 0.0);
    assert_close(net.flue[1].coeff, net.flue[0].coeff, 1e-14, 0.0);
    kiln.flue_count = 1;
    kiln.flue[0].count = 4; /* of a quarter each */
    init();
    assert_close(net.flue[0].coeff, 1.0 / sqrt(1.5255102), 1e-8, 0.0);
}

static void with_stack(void)
{
    kiln.stack.present = true;
    kiln.stack.height_m = 4.0;
    kiln.stack.area_m2 = 400.0e-4;
    kiln.stack.base_height_m = 0.6;
    kiln.flue[0].downstream_is_plenum = false;
    kiln.flue[0].downstream_area_m2 = 400.0e-4;
}

static void shelf_has_a_plenum_behind(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    with_stack();
    kiln.flue[0].damper.kind = DW_DAMPER_SHELF;
    kiln.flue[0].damper.open_frac = 0.5;
    dw_damper_take_kinds(&kiln.flue[0].damper, 0, &kit_data()->spreads);
    init();
    /* The area given behind it does not count: 0.95/(0.64718 x 0.5)^2, Cc by Idelchik. */
    const double thin = 1.0 / pow(0.64718 * 0.5, 2.0);
    assert_close(net.flue[0].coeff, 1.0 / sqrt(0.5 + 0.95 * thin), 1e-4, 0.0);
    /* 60 mm over 60 of 120 mm */
    kiln.flue[0].damper.thickness_m = 0.06;
    kiln.flue[0].damper.mouth_width_m = 0.12;
    init();
    assert_close(net.flue[0].coeff, 1.0 / sqrt(0.5 + 0.95 * 0.83 * thin), 1e-4, 0.0);
    /* into the room nothing more is lost */
    kiln.stack.present = false;
    init();
    assert_close(net.flue[0].coeff, 1.0 / sqrt(0.5 + 0.95 * 0.83 * thin), 1e-4, 0.0);
}

static void flue_into_a_stack_keeps_its_speed_and_a_butterfly_pays_the_widening(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    with_stack();
    /* Slide, wide open into twice the area: [1/(1 x 1) - 0.5]^2 = 0.25. */
    init();
    assert_close(net.flue[0].coeff, 1.0 / sqrt(0.5 + 0.25), 1e-12, 0.0);
    /* Butterfly at 60 degrees, open 1 - sin(60): row 118, and (1 - 0.5)^2. */
    kiln.flue[0].damper.kind = DW_DAMPER_BUTTERFLY;
    kiln.flue[0].damper.open_frac = 1.0 - sin(DW_PI / 3.0);
    init();
    const dw_damper_setting setting = {1.0 - sin(DW_PI / 3.0), 0.01, 1.0};
    dw_damper_loss loss;
    assert_int_equal(dw_damper_butterfly(&setting, kit_data()->butterfly_angle_rad,
                                         kit_data()->butterfly_loss,
                                         (int)kit_data()->butterfly_count, NULL, &loss),
                     DW_OK);
    assert_close(loss.loss, 118.0, 0.1, 0.0);
    assert_close(net.flue[0].coeff, 1.0 / sqrt(0.5 + loss.loss + 0.25), 1e-12, 0.0);
    kiln.stack.present = false;
    init();
    assert_close(net.flue[0].coeff, 1.0 / sqrt(0.5 + loss.loss + 1.0), 1e-12, 0.0);
    kiln.stack.present = true;
    kiln.flue[0].damper.open_frac = 0.9;
    kiln.flue[0].downstream_is_plenum = true; /* all of the speed is lost: (1 - 0)^2 */
    init();
    const dw_damper_setting wide = {0.9, 0.01, 1.0};
    assert_int_equal(dw_damper_butterfly(&wide, kit_data()->butterfly_angle_rad,
                                         kit_data()->butterfly_loss,
                                         (int)kit_data()->butterfly_count, NULL, &loss),
                     DW_OK);
    assert_close(net.flue[0].coeff, 1.0 / sqrt(0.5 + loss.loss + 1.0), 1e-12, 0.0);

    kiln.flue[0].damper = (dw_damper){.kind = DW_DAMPER_TABLE, .open_frac = 0.75, .leak_frac = 0.01,
                                      .scale = 2.0, .row_count = 2,
                                      .row_open_frac = {0.5, 0.75}, .row_loss = {9.0, 1.5}};
    init();
    assert_close(net.flue[0].coeff, 1.0 / sqrt(0.5 + 3.0), 1e-12, 0.0);
}

static void stack_is_carried_over(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    with_stack();
    kiln.site.outside_temperature_k = 273.15;
    kiln.site.room_pressure_pa = -2.0;
    kiln.stack.roughness_m = 1.3e-3;
    kiln.stack.bend_count = 2.0;
    kiln.stack.bend_loss = 1.1;
    kiln.stack.cap_loss = 0.3;
    kiln.stack.exit_loss = 0.9;
    kiln.stack.heat_loss_ntu = 0.41;
    init();
    const dw_stack_law *law = &net.stack;
    assert_true(net.has_stack);
    assert_close(net.base_height_m, 0.6, 0.0, 0.0);
    assert_close(law->height_m, 4.0, 0.0, 0.0);
    assert_close(law->area_m2, 0.04, 0.0, 0.0);
    assert_close(law->hydraulic_diameter_m, 0.2, 1e-15, 0.0);
    assert_close(law->roughness_m, 1.3e-3, 0.0, 0.0);
    assert_close(law->loss_sum, 2.0 * 1.1 + 0.3 + 0.9, 1e-15, 0.0);
    assert_close(law->ntu, 0.41, 0.0, 0.0);
    assert_true(isnan(law->ua_w_k));
    assert_close(law->outside_temperature_k, 273.15, 0.0, 0.0);
    assert_close(law->outside_density_kg_m3, net.rho_out_kg_m3, 0.0, 0.0);
    assert_close(law->pressure_pa_abs, 101325.0, 0.0, 0.0);
    assert_close(net.far_temperature_k, 273.15, 0.0, 0.0);
    /* -2 Pa at the datum of 0.1 m; half a metre higher the lighter room air has lost less. */
    assert_close(net.room_minus_far_pa,
                 -2.0 + (net.rho_out_kg_m3 - net.rho_room_kg_m3) * 9.80665 * 0.5, 1e-12, 0.0);
    assert_true(net.room_minus_far_pa > -2.0 + 0.4);

    kiln.stack.round = true;
    kiln.stack.heat_loss_ntu = NAN;
    kiln.stack.heat_loss_ua_w_k = 17.0;
    init();
    assert_close(law->hydraulic_diameter_m, sqrt(4.0 * 0.04 / DW_PI), 1e-15, 0.0);
    assert_true(isnan(law->ntu));
    assert_close(law->ua_w_k, 17.0, 0.0, 0.0);
}

static void wind_acts_on_a_stack_that_ends_outside(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    with_stack();
    init();
    assert_true(isnan(dw_network_wind_pa(&net, NULL)));
    const double still_pa = net.room_minus_far_pa;
    kiln.site.wind_speed_m_s = 6.0;
    dw_kiln given = kiln;
    dw_kiln_resolve(&kiln);
    init();
    /* 0 for the room and -0.3 for the top, where neither is given */
    const double wind_pa = 0.3 * net.rho_out_kg_m3 * 18.0;
    assert_close(dw_network_wind_pa(&net, NULL), wind_pa, 1e-14, 0.0);
    assert_close(net.room_minus_far_pa, still_pa + wind_pa, 1e-12, 0.0);
    given.room.wind_coeff = -0.4;
    given.stack.wind_coeff = 0.2;
    kiln = given;
    dw_kiln_resolve(&kiln);
    init();
    assert_close(net.room_minus_far_pa, still_pa - 0.6 * net.rho_out_kg_m3 * 18.0, 1e-12, 0.0);
    /* A gap is in the room, and without a stack there is nothing above the roof. */
    kiln.stack.hood_gap_height_m = 0.7;
    init();
    assert_true(isnan(dw_network_wind_pa(&net, NULL)));
    assert_close(net.room_minus_far_pa, 0.0, 0.0, 0.0);
    kit_plain_kiln(&kiln);
    kiln.site.wind_speed_m_s = 6.0;
    dw_kiln_resolve(&kiln);
    init();
    assert_true(isnan(dw_network_wind_pa(&net, NULL)));
}

static void a_wall_gives_the_heat_loss_of_its_inside(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    with_stack();
    kiln.stack.heat_loss_ntu = NAN;
    kiln.stack.wall = DW_WALL_DOUBLE_BRICK;
    dw_stack_take_kinds(&kiln.stack, &kit_data()->spreads);
    init();
    /* 3.1 W/(m2 K) times four sides of 0.2 m, 4 m high */
    assert_true(isnan(net.stack.ntu));
    assert_close(net.stack.ua_w_k, 3.1 * 0.8 * 4.0, 1e-12, 0.0);
    kiln.stack.round = true;
    init();
    assert_close(net.stack.ua_w_k, 3.1 * DW_PI * sqrt(4.0 * 0.04 / DW_PI) * 4.0, 1e-12, 0.0);
    /* up to the gap alone */
    kiln.stack.round = false;
    kiln.stack.hood_gap_height_m = 0.7;
    init();
    assert_close(net.stack.ua_w_k, 3.1 * 0.8 * 0.7, 1e-12, 0.0);
    /* Bare steel: outside 293.15 K, chamber's gas 1538.15 and 100 K: 830 K of the 1245 more, so 1123.15 K, half
     * way from 12 to 19. */
    kiln.stack.hood_gap_height_m = NAN;
    kiln.stack.wall = DW_WALL_BARE_STEEL;
    kiln.operating.chamber_temperature_k = 1538.15 - 100.0;
    kiln.settings.gas_minus_reading_dk = 100.0;
    dw_stack_take_kinds(&kiln.stack, &kit_data()->spreads);
    init();
    assert_close(net.stack.ua_w_k, 15.5 * 0.8 * 4.0, 1e-12, 0.0);
}

static void hood_with_a_gap_ends_there_in_the_room(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    with_stack();
    kiln.site.outside_temperature_k = 273.15;
    kiln.site.room_pressure_pa = -2.0;
    kiln.stack.hood_gap_height_m = 0.7;
    kiln.stack.cap_loss = 0.5; /* above the gap */
    init();
    assert_close(net.stack.loss_sum, 1.2 + 1.0, 1e-15, 0.0);
    assert_close(net.stack.height_m, 0.7, 0.0, 0.0);
    assert_close(net.room_minus_far_pa, 0.0, 0.0, 0.0);
    assert_close(net.far_temperature_k, 293.15, 0.0, 0.0);
    assert_close(net.far_density_kg_m3, net.rho_room_kg_m3, 0.0, 0.0);
    assert_close(net.stack.outside_density_kg_m3, net.rho_room_kg_m3, 0.0, 0.0);
    assert_close(net.stack.outside_temperature_k, 293.15, 0.0, 0.0);
}

static void what_the_check_takes_is_made_ready(void **state)
{
    (void)state;
    char message[200];
    /* A duct a rounding error narrower than the flue, and the coldest air that is allowed. */
    kit_plain_kiln(&kiln);
    kiln.stack.present = true;
    kiln.stack.height_m = 3.0;
    kiln.stack.area_m2 = 0.04;
    kiln.stack.base_height_m = 0.9;
    kiln.flue[0].downstream_is_plenum = false;
    kiln.flue[0].downstream_area_m2 = kiln.flue[0].area_m2 * (1.0 - 0.9e-12);
    kiln.site.air_temperature_k = 273.15 - 40.0;
    kiln.site.relative_humidity = 1.0;
    kiln.operating.chamber_temperature_k = 200.0;
    assert_int_equal(dw_kiln_check(&kiln, &kit_data()->species, message, sizeof message), DW_OK);
    init();
    const double coeff = net.flue[0].coeff;
    kiln.flue[0].downstream_area_m2 = kiln.flue[0].area_m2;
    init();
    assert_close(coeff, net.flue[0].coeff, 1e-9, 0.0);
}

static void what_cannot_be_is_refused_by_name(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.operating.chamber_temperature_k = 200.0;
    init();
    kiln.operating.chamber_temperature_k = 199.9;
    refused("gas temperature is 200 K, expected 200 to 2500 K");
    kiln.operating.chamber_temperature_k = 2500.0;
    init();
    kiln.operating.chamber_temperature_k = 2501.0;
    refused("2501 K");

    kit_plain_kiln(&kiln);
    kiln.site.air_temperature_k = 372.0;
    kiln.site.relative_humidity = 1.0;
    kiln.site.pressure_pa_abs = 50000.0;
    refused("more vapour than its pressure allows");

    kit_plain_kiln(&kiln);
    kiln.burner[0].port_loss = -5.0; /* loses less than nothing */
    refused("burner 'burner' cannot work");
    kiln.burner[0].lit = false;
    refused("burner 'burner' cannot work");
    kit_plain_kiln(&kiln);
    kiln.burner[0].jet_diameter_m = 0.0;
    refused("burner 'burner' cannot work");
    kit_plain_kiln(&kiln);
    kiln.burner[0].air_jet_diameter_m = 1e-3;
    kiln.burner[0].air_jet_discharge_coeff = 1.2;
    refused("burner 'burner' cannot work");

    kit_plain_kiln(&kiln);
    with_stack();
    kiln.stack.area_m2 = -1.0;
    refused("the stack cannot be");

    kit_plain_kiln(&kiln);
    kiln.flue[0].damper.leak_frac = 0.0;
    refused("flue 'flue' cannot be");
    kit_plain_kiln(&kiln);
    with_stack(); /* a full duct that loses nothing at all */
    kiln.flue[0].downstream_area_m2 = 200.0e-4;
    kiln.flue[0].entry_loss = 0.0;
    refused("flue 'flue' cannot be");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(air_is_the_same_in_the_room_and_outside_but_for_its_temperature),
        cmocka_unit_test(room_colder_than_the_dew_point_is_marked),
        cmocka_unit_test(whole_kiln_is_carried_over),
        cmocka_unit_test(inspirating_burner_is_a_jet_in_an_injector),
        cmocka_unit_test(air_jet_adds_its_mass_volume_and_thrust),
        cmocka_unit_test(closed_shutter_lets_no_air_in),
        cmocka_unit_test(blown_burner_has_a_restriction_or_a_flow),
        cmocka_unit_test(burner_that_is_off_is_a_hole_unless_plugged),
        cmocka_unit_test(lit_burner_without_gas_is_off),
        cmocka_unit_test(flue_is_a_hole_of_its_losses),
        cmocka_unit_test(floor_and_setting_lose_besides_the_mouth),
        cmocka_unit_test(flue_into_a_stack_keeps_its_speed_and_a_butterfly_pays_the_widening),
        cmocka_unit_test(stack_is_carried_over),
        cmocka_unit_test(shelf_has_a_plenum_behind),
        cmocka_unit_test(wind_acts_on_a_stack_that_ends_outside),
        cmocka_unit_test(a_wall_gives_the_heat_loss_of_its_inside),
        cmocka_unit_test(hood_with_a_gap_ends_there_in_the_room),
        cmocka_unit_test(what_the_check_takes_is_made_ready),
        cmocka_unit_test(what_cannot_be_is_refused_by_name),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

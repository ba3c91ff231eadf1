/* Flows of every part at given pressures, by hand. Pressures are large enough for the blend at zero
 * not to show, unless the slope is asked for. */
#include "check.h"

#include <string.h>

#include "constants.h"
#include "kit.h"
#include "network.h"

static dw_kiln kiln;
static dw_network net;
static dw_network_at at;
static dw_network_sums sums;

/* Laws of the kiln with a chamber gas that is air but for its molar mass. */
static void prepare(double molar_mass_kg_mol)
{
    char reason[DW_REASON_SIZE];
    assert_int_equal(dw_network_init(&net, kit_model(), &kiln, reason), DW_OK);
    const dw_chamber_gas gas = {molar_mass_kg_mol, net.x_air};
    at.down = true; /* as left by another solve */
    assert_int_equal(dw_network_at_density(&net, gas, &at), DW_OK);
    assert_false(at.down);
}

/* Only what the test adds: no burner, no opening, a flue of no area. */
static void bare_kiln(void)
{
    kit_plain_kiln(&kiln);
    kiln.burner_count = 0;
    kiln.opening_count = 0;
    kiln.flue[0].area_m2 = 0.0;
}

static double orifice(double coeff_area_m2, double rho_kg_m3, double dp_pa)
{
    return coeff_area_m2 * sqrt(2.0 * rho_kg_m3 * dp_pa);
}

static void two_openings_have_the_published_neutral_plane(void **state)
{
    (void)state;
    bare_kiln();
    kiln.opening_count = 2;
    for (int i = 0; i < 2; i++) {
        kiln.opening[i] = kiln.opening[0];
        kiln.opening[i].area_m2 = 0.01;
        kiln.opening[i].discharge_coeff = 0.6;
        kiln.opening[i].height_m = i;
    }
    char reason[DW_REASON_SIZE];
    assert_int_equal(dw_network_init(&net, kit_model(), &kiln, reason), DW_OK);
    prepare(net.air.molar_mass_kg_mol);
    double p = NAN;
    int evaluations = 0;
    assert_int_equal(dw_network_chamber(&at, NAN, &p, &sums, &evaluations), DW_OK);
    assert_close(p, -1.5698, 1e-4, 0.0);
    assert_close(dw_network_pressure_pa(&at, p, 1.0), 7.8886, 1e-4, 0.0);
    assert_close(sums.air_kg_s, 0.011666, 1e-4, 0.0);
    assert_close(sums.out_kg_s, 0.011666, 1e-4, 0.0);
    assert_close(sums.in_kg_s, sums.air_kg_s, 0.0, 0.0);
    assert_close(sums.net_kg_s, 0.0, 0.0, 1e-15);
    assert_true(evaluations > 1 && evaluations < 40);
}

static void pressure_rises_with_height_from_the_datum(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln); /* datum 0.1 m */
    prepare(0.028);
    const double rho = 101325.0 * 0.028 / (8.314462618 * 1473.15);
    assert_close(at.rho_kg_m3, rho, 1e-12, 0.0);
    assert_close(dw_network_pressure_pa(&at, -3.0, 0.1), -3.0, 0.0, 0.0);
    assert_close(dw_network_pressure_pa(&at, -3.0, 0.9),
                 -3.0 + (net.rho_room_kg_m3 - rho) * 9.80665 * 0.8, 1e-12, 0.0);
}

static void holes_and_cracks_flow_by_the_gas_that_flows(void **state)
{
    (void)state;
    bare_kiln();
    kiln.opening_count = 2;
    kiln.opening[0].count = 3;
    kiln.opening[0].open_frac = 0.4;
    kiln.opening[1] = kiln.opening[0];
    kiln.opening[1].kind = DW_OPENING_CRACK;
    kiln.opening[1].area_m2 = 7.0e-4;
    kiln.opening[1].open_frac = 0.8;
    kiln.opening[1].height_m = 0.3;
    prepare(0.028);
    const double room = net.rho_room_kg_m3, rise = (room - at.rho_kg_m3) * 9.80665 * 0.3;
    dw_network_evaluate(&at, -20.0 - rise, NAN, &sums);
    const double crack = 0.62 * 7e-4 * 0.8 * 3 * sqrt(20.0) * pow(2.0, 0.65);
    assert_close(sums.air_kg_s, orifice(0.62 * 40e-4 * 0.4 * 3, room, 20.0) + crack * sqrt(room),
                 1e-6, 0.0);
    assert_close(sums.in_kg_s, sums.air_kg_s, 0.0, 0.0);
    assert_close(sums.net_kg_s, sums.in_kg_s, 0.0, 0.0);
    assert_close(sums.out_kg_s + sums.gas_kg_s + sums.burner_air_kg_s, 0.0, 0.0, 0.0);
    dw_network_evaluate(&at, 20.0 - rise, NAN, &sums);
    assert_close(sums.out_kg_s,
                 orifice(0.62 * 40e-4 * 0.4 * 3, at.rho_kg_m3, 20.0) + crack * sqrt(at.rho_kg_m3),
                 1e-6, 0.0);
    assert_close(sums.net_kg_s, -sums.out_kg_s, 0.0, 0.0);
    assert_close(sums.air_kg_s + sums.in_kg_s, 0.0, 0.0, 0.0);
}

static void tall_opening_and_leak_are_integrated_over_their_height(void **state)
{
    (void)state;
    for (int leak = 0; leak < 2; leak++) {
        bare_kiln();
        double from = 0.2, to = 0.8, area = 30e-4 * 2 * 0.5;
        if (leak) {
            from = 0.0, to = 1.0, area = 11e-4;
            kiln.chamber.leak_area_m2 = area;
            kiln.chamber.leak_discharge_coeff = 0.7;
        } else {
            kiln.opening_count = 1;
            kiln.opening[0] = (dw_opening){.kind = DW_OPENING_TALL, .count = 2, .area_m2 = 30e-4,
                                           .open_frac = 0.5, .from_m = from, .to_m = to,
                                           .discharge_coeff = 0.7};
        }
        prepare(0.028);
        const double rise = (net.rho_room_kg_m3 - at.rho_kg_m3) * 9.80665, neutral = 0.3;
        dw_network_evaluate(&at, -rise * neutral, NAN, &sums);
        /* Integral of sqrt(rise z): (2/3) sqrt(rise) z^1.5. */
        const double width = 0.7 * area / (to - from);
        assert_close(sums.air_kg_s,
                     width * sqrt(2.0 * net.rho_room_kg_m3 * rise) * pow(neutral - from, 1.5) / 1.5,
                     1e-3, 0.0);
        assert_close(sums.out_kg_s,
                     width * sqrt(2.0 * at.rho_kg_m3 * rise) * pow(to - neutral, 1.5) / 1.5, 1e-4,
                     0.0);
        assert_close(sums.net_kg_s, sums.air_kg_s - sums.out_kg_s, 1e-14, 0.0);
    }
}

static void joints_flow_by_their_law_at_the_mean_temperature(void **state)
{
    (void)state;
    bare_kiln();
    kiln.opening_count = 2;
    dw_opening_init(&kiln.opening[0]);
    kiln.opening[0].kind = DW_OPENING_JOINT;
    kiln.opening[0].count = 3;
    kiln.opening[0].open_frac = 0.4;
    kiln.opening[0].width_m = 2e-3;
    kiln.opening[0].depth_m = 0.115;
    kiln.opening[0].length_m = 0.5;
    kiln.opening[1] = kiln.opening[0];
    kiln.opening[0].height_m = 0.3;
    kiln.opening[1].from_m = 0.2;
    kiln.opening[1].to_m = 0.8;
    kiln.opening[1].count = 0;
    prepare(0.028);
    /* Air at 883.15 K: 1.458e-6 883.15^1.5/993.55. */
    const double mu = 3.85137e-5, B = 12.0 * mu * 0.115 / 4e-6, area = 3 * 0.4 * 2e-3 * 0.5;
    const double room = net.rho_room_kg_m3, gas = at.rho_kg_m3, rise = (room - gas) * 9.80665;
    for (int out = 0; out < 2; out++) {
        const double rho = (out ? gas * 1473.15 : room * 293.15) / 883.15;
        const double v = (sqrt(B * B + 3.0 * rho * 7.0) - B) / (1.5 * rho);
        dw_network_evaluate(&at, (out ? 7.0 : -7.0) - 0.3 * rise, NAN, &sums);
        assert_close(out ? sums.out_kg_s : sums.air_kg_s, rho * area * v, 1e-5, 0.0);
        assert_close(out ? sums.air_kg_s : sums.out_kg_s, 0.0, 0.0, 0.0);
    }
    /* The upright one alone: in slow flow the inflow goes with the square of the height below the neutral
     * plane. */
    kiln.opening[0].open_frac = 0.0;
    kiln.opening[1].count = 3;
    kiln.opening[1].depth_m = 2.0;
    prepare(0.028);
    dw_network_evaluate(&at, -0.5 * rise, NAN, &sums);
    const double slow = area * rise / (2.0 * B / 0.115 * 2.0 * 0.6);
    assert_close(sums.air_kg_s, room * 293.15 / 883.15 * slow * 0.3 * 0.3, 4e-3, 0.0);
    assert_close(sums.out_kg_s, gas * 1473.15 / 883.15 * slow * 0.3 * 0.3, 4e-3, 0.0);
    assert_close(sums.net_kg_s, sums.air_kg_s - sums.out_kg_s, 1e-14, 0.0);
}

static void burner_that_is_off_is_an_opening_of_its_own(void **state)
{
    (void)state;
    bare_kiln();
    kiln.burner_count = 1;
    kiln.burner[0].lit = false;
    kiln.burner[0].count = 2;
    prepare(0.028);
    const double area = 2.0 * net.burner[0].unlit_area_m2;
    dw_network_evaluate(&at, -25.0, NAN, &sums);
    assert_close(sums.air_kg_s, orifice(area, net.rho_room_kg_m3, 25.0), 1e-6, 0.0);
    assert_close(sums.burner_air_kg_s, 0.0, 0.0, 0.0); /* it meets no gas there */
    assert_close(sums.out_kg_s, 0.0, 0.0, 0.0);
    dw_network_evaluate(&at, 25.0, NAN, &sums);
    assert_close(sums.out_kg_s, orifice(area, at.rho_kg_m3, 25.0), 1e-6, 0.0);
    assert_close(sums.air_kg_s + sums.burner_air_kg_s, 0.0, 0.0, 0.0);
    kiln.burner[0].plugged = true;
    prepare(0.028);
    dw_network_evaluate(&at, 25.0, NAN, &sums);
    assert_close(sums.out_kg_s + sums.air_kg_s, 0.0, 0.0, 0.0);
}

static void lit_burner_brings_gas_induced_air_and_its_air_jet(void **state)
{
    (void)state;
    bare_kiln();
    kiln.burner_count = 1;
    kiln.burner[0].count = 3;
    kiln.burner[0].air_jet_diameter_m = 1e-3;
    kiln.burner[0].air_pressure_pa = 3000.0;
    prepare(0.028);
    dw_injector_flow flow;
    dw_injector_air(&net.burner[0].injector, -2.0, NULL, &flow);
    dw_network_evaluate(&at, -2.0, NAN, &sums);
    assert_close(sums.gas_kg_s, net.burner[0].gas_kg_s, 0.0, 0.0);
    assert_close(sums.air_kg_s, 3.0 * flow.air_kg_s + net.burner[0].air_jet_kg_s, 1e-14, 0.0);
    assert_true(net.burner[0].air_jet_kg_s > 0.0 && flow.air_kg_s > 0.0);
    assert_close(sums.burner_air_kg_s, sums.air_kg_s, 0.0, 0.0);
    assert_close(sums.in_kg_s, sums.gas_kg_s + sums.air_kg_s, 1e-15, 0.0);
}

static void blown_burner_works_against_the_chamber(void **state)
{
    (void)state;
    bare_kiln();
    kiln.burner_count = 1;
    dw_burner *burner = &kiln.burner[0];
    burner->kind = DW_BURNER_BLOWN;
    burner->count = 2;
    burner->air_restriction_area_m2 = 3e-4;
    burner->air_restriction_coeff = 0.7;
    burner->air_pressure_pa = 500.0;
    prepare(0.028);
    dw_jet_flow jet;
    dw_jet_discharge(&net.burner[0].gas_jet, 101325.0 + 40.0, &jet);
    dw_network_evaluate(&at, 40.0, NAN, &sums);
    assert_close(sums.gas_kg_s, 2.0 * jet.mass_kg_s, 1e-14, 0.0);
    assert_close(sums.air_kg_s, 2.0 * orifice(0.7 * 3e-4, net.rho_room_kg_m3, 460.0), 1e-9, 0.0);
    assert_close(sums.burner_air_kg_s, sums.air_kg_s, 0.0, 0.0);
    dw_network_evaluate(&at, 600.0, NAN, &sums);
    assert_close(sums.air_kg_s, 0.0, 0.0, 0.0);
    burner->air_restriction_area_m2 = NAN;
    burner->air_flow_m3_s = 0.01;
    prepare(0.028);
    dw_network_evaluate(&at, 600.0, NAN, &sums);
    assert_close(sums.air_kg_s, 2.0 * 0.01 * net.rho_room_kg_m3, 1e-14, 0.0);
}

static void flue_without_stack_ends_in_the_room(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.burner_count = 0;
    kiln.opening_count = 0;
    prepare(0.028);
    const double rise = (net.rho_room_kg_m3 - at.rho_kg_m3) * 9.80665 * 0.9;
    const double area = 200e-4 / sqrt(1.5);
    double mass, drive;
    dw_network_evaluate(&at, 10.0 - rise, NAN, &sums);
    assert_close(sums.flue_out_kg_s, orifice(area, at.rho_kg_m3, 10.0), 1e-6, 0.0);
    assert_close(sums.net_kg_s, -sums.flue_out_kg_s, 0.0, 0.0);
    assert_close(sums.flue_back_kg_s + sums.air_kg_s + sums.relief_kg_s, 0.0, 0.0, 0.0);
    dw_network_flue(&at, 10.0 - rise, NAN, &sums, 0, &mass, &drive);
    assert_close(mass, sums.flue_out_kg_s, 1e-14, 0.0);
    assert_close(drive, 10.0, 1e-12, 0.0);
    assert_close(dw_network_flue_far_pa(&at, -5.0, 0, NULL), 0.0, 0.0, 0.0);

    dw_network_evaluate(&at, -10.0 - rise, NAN, &sums);
    assert_close(sums.flue_back_kg_s, orifice(area, net.rho_room_kg_m3, 10.0), 1e-6, 0.0);
    assert_close(sums.air_kg_s, sums.flue_back_kg_s, 0.0, 0.0);
    assert_close(sums.in_kg_s, sums.flue_back_kg_s, 0.0, 0.0);
    assert_close(sums.net_kg_s, sums.flue_back_kg_s, 0.0, 0.0);
    dw_network_flue(&at, -10.0 - rise, NAN, &sums, 0, &mass, &drive);
    assert_close(mass, -sums.flue_back_kg_s, 1e-14, 0.0);
    assert_close(drive, -10.0, 1e-12, 0.0);
}

/* Two flues at 0.9 and 0.2 m into a stack whose base is at 0.6 m, with a relief opening. */
static void stack_kiln(void)
{
    kit_plain_kiln(&kiln);
    kiln.burner_count = 0;
    kiln.opening_count = 0;
    kiln.flue_count = 2;
    kiln.flue[1] = kiln.flue[0];
    kiln.flue[1].height_m = 0.2;
    kiln.flue[0].area_m2 = 100e-4;
    for (int i = 0; i < 2; i++) {
        kiln.flue[i].downstream_is_plenum = true;
    }
    kiln.stack.present = true;
    kiln.stack.height_m = 4.0;
    kiln.stack.area_m2 = 500e-4;
    kiln.stack.base_height_m = 0.6;
    kiln.stack.relief_area_m2 = 30e-4;
    kiln.stack.relief_discharge_coeff = 0.7;
    kiln.site.outside_temperature_k = 273.15;
    prepare(0.028);
}

static void relief_air_mixes_with_the_gas_by_enthalpy(void **state)
{
    (void)state;
    stack_kiln();
    const double rise = (net.rho_room_kg_m3 - at.rho_kg_m3) * 9.80665;
    /* Drive of flue i: p + rise z - (p_s + rise (z - z_base)), the same at every height. */
    const double p_s = -14.0, p = -6.0, drive = p - p_s + rise * 0.6;
    assert_close(dw_network_flue_far_pa(&at, p_s, 0, NULL), p_s + rise * 0.3, 1e-12, 0.0);
    assert_close(dw_network_flue_far_pa(&at, p_s, 1, NULL), p_s - rise * 0.4, 1e-12, 0.0);
    dw_network_evaluate(&at, p, p_s, &sums);
    const double gas = orifice(300e-4 / sqrt(1.5), at.rho_kg_m3, drive);
    const double air = orifice(0.7 * 30e-4, net.rho_room_kg_m3, 14.0);
    assert_close(sums.flue_out_kg_s, gas, 1e-6, 0.0);
    assert_close(sums.relief_kg_s, air, 1e-6, 0.0);
    assert_close(sums.base_gas_frac, gas / (gas + air), 1e-6, 0.0);
    assert_close(sums.air_kg_s + sums.in_kg_s, 0.0, 0.0, 0.0); /* no air of the ware */
    /* One kilogram of the mixture has the enthalpy that its parts brought. */
    const dw_species_table *table = &kit_data()->species;
    const double t = sums.base_temperature_k, n_gas = sums.base_gas_frac / 0.028;
    const double n_air = (1.0 - sums.base_gas_frac) / net.air.molar_mass_kg_mol;
    const double h_mixed = dw_mixture_enthalpy_j_mol(table, net.x_air, t);
    const double h_gas = dw_mixture_enthalpy_j_mol(table, net.x_air, 1473.15);
    const double h_air = dw_mixture_enthalpy_j_mol(table, net.x_air, 293.15);
    assert_close(n_gas * (h_gas - h_mixed), n_air * (h_mixed - h_air), 1e-9, 0.0);
    assert_true(t > 400.0 && t < 1473.0);
    assert_close(dw_network_mixed_molar_mass(&at, sums.base_gas_frac, NULL), 1.0 / (n_gas + n_air), 1e-14,
                 0.0);

    dw_network_evaluate(&at, 20.0, 5.0, &sums);
    assert_close(sums.relief_kg_s, -orifice(0.7 * 30e-4, at.rho_kg_m3, 5.0), 1e-5, 0.0);
    assert_close(sums.base_gas_frac, 1.0, 0.0, 0.0);
    assert_close(sums.base_temperature_k, 1473.15, 0.0, 0.0);
}

static void reversed_flue_brings_what_is_at_the_stack_base(void **state)
{
    (void)state;
    stack_kiln();
    const double rise = (net.rho_room_kg_m3 - at.rho_kg_m3) * 9.80665;
    const double p_s = -14.0, p = p_s - rise * 0.6 - 3.0;
    dw_network_evaluate(&at, p, p_s, &sums);
    /* No flue runs forward: the base holds only relief air, which counts as fresh. */
    assert_close(sums.flue_out_kg_s, 0.0, 0.0, 0.0);
    assert_close(sums.base_gas_frac, 0.0, 0.0, 0.0);
    assert_close(sums.base_temperature_k, 293.15, 1e-9, 0.0);
    const double back = orifice(300e-4 / sqrt(1.5), net.rho_room_kg_m3, 3.0);
    assert_close(sums.flue_back_kg_s, back, 1e-5, 0.0);
    assert_close(sums.air_kg_s, back, 1e-5, 0.0);
    assert_close(sums.net_kg_s, back, 1e-5, 0.0);
    double mass, drive;
    dw_network_flue(&at, p, p_s, &sums, 1, &mass, &drive);
    assert_close(mass, -back * 200.0 / 300.0, 1e-5, 0.0);
    assert_close(drive, -3.0, 1e-9, 0.0);

    /* Without relief the gas that comes back is chamber gas again, no air. */
    kiln.stack.relief_area_m2 = 0.0;
    prepare(0.028);
    dw_network_evaluate(&at, p, p_s, &sums);
    assert_close(sums.flue_back_kg_s, orifice(300e-4 / sqrt(1.5), at.rho_kg_m3, 3.0), 1e-5, 0.0);
    assert_close(sums.air_kg_s, 0.0, 0.0, 0.0);
    assert_close(sums.in_kg_s, sums.flue_back_kg_s, 0.0, 0.0);
}

static void of_two_flues_without_stack_the_lower_one_may_draw_in(void **state)
{
    (void)state;
    stack_kiln();
    kiln.stack.present = false;
    prepare(0.028);
    const double rise = (net.rho_room_kg_m3 - at.rho_kg_m3) * 9.80665, p = -rise * 0.45;
    dw_network_evaluate(&at, p, NAN, &sums);
    /* Losses 0.5 and 1; flues at 0.9 and 0.2 m, neutral plane at 0.45 m. */
    assert_close(sums.flue_out_kg_s, orifice(100e-4 / sqrt(1.5), at.rho_kg_m3, rise * 0.45), 1e-5,
                 0.0);
    assert_close(sums.flue_back_kg_s, orifice(200e-4 / sqrt(1.5), net.rho_room_kg_m3, rise * 0.25),
                 1e-5, 0.0);
    assert_close(sums.net_kg_s, sums.flue_back_kg_s - sums.flue_out_kg_s, 1e-12, 0.0);
    double mass, drive;
    dw_network_flue(&at, p, NAN, &sums, 0, &mass, &drive);
    assert_close(mass, sums.flue_out_kg_s, 1e-12, 0.0);
    dw_network_flue(&at, p, NAN, &sums, 1, &mass, &drive);
    assert_close(mass, -sums.flue_back_kg_s, 1e-12, 0.0);
    assert_close(drive, -rise * 0.25, 1e-9, 0.0);
}

static void stack_full_of_outside_air_runs_down(void **state)
{
    (void)state;
    stack_kiln();
    at.down = true;
    const double rho_out = net.rho_out_kg_m3, p_s = 4.0;
    /* Between base and flue now stands outside air, heavier than the room's. */
    const double fall = (rho_out - net.rho_room_kg_m3) * 9.80665;
    assert_close(dw_network_flue_far_pa(&at, p_s, 1, NULL), p_s + fall * 0.4, 1e-12, 0.0);
    const double rise = (net.rho_room_kg_m3 - at.rho_kg_m3) * 9.80665, p = -15.0;
    dw_network_evaluate(&at, p, p_s, &sums);
    const double drive0 = p_s - fall * 0.3 - (p + rise * 0.9);
    const double drive1 = p_s + fall * 0.4 - (p + rise * 0.2);
    const double back = orifice(100e-4 / sqrt(1.5), rho_out, drive0) +
                        orifice(200e-4 / sqrt(1.5), rho_out, drive1);
    assert_close(sums.flue_back_kg_s, back, 1e-5, 0.0);
    assert_close(sums.air_kg_s, back, 1e-5, 0.0);
    assert_close(sums.base_gas_frac, 0.0, 0.0, 0.0);
    assert_close(sums.base_temperature_k, 273.15, 0.0, 0.0);
    assert_close(sums.relief_kg_s, -orifice(0.7 * 30e-4, rho_out, 4.0), 1e-5, 0.0);
}

static void slope_is_the_derivative_of_the_balance(void **state)
{
    (void)state;
    static const double at_pa[][2] = {{-8.0, -12.0}, {-5.0, -3.0}, {3.0, -9.0}, {-20.0, -2.0}};
    for (int kind = 0; kind < 3; kind++) {
        stack_kiln();
        kiln.stack.relief_area_m2 = 0.0; /* its share of the base gas is not in the slope */
        kiln.stack.present = kind != 2;
        kiln.burner_count = 3;
        kiln.burner[1] = kiln.burner[2] = kiln.burner[0];
        kiln.burner[1].lit = false;
        kiln.burner[2].kind = DW_BURNER_BLOWN;
        kiln.burner[2].count = 2;
        kiln.burner[2].air_restriction_area_m2 = kind == 1 ? NAN : 4e-4;
        kiln.burner[2].air_flow_m3_s = kind == 1 ? 0.01 : NAN;
        kiln.burner[2].air_pressure_pa = 90.0;
        kiln.opening_count = 3;
        kiln.opening[1] = kiln.opening[2] = kiln.opening[0];
        kiln.opening[1].kind = DW_OPENING_CRACK;
        kiln.opening[2].kind = DW_OPENING_TALL;
        kiln.opening[2].from_m = 0.1;
        kiln.opening[2].to_m = 0.7;
        kiln.chamber.leak_area_m2 = 20e-4;
        prepare(0.0281);
        at.down = kind == 1;
        for (int i = 0; i < 4; i++) {
            const double p = at_pa[i][0], p_s = at_pa[i][1], h = 1e-4;
            dw_network_sums high, low;
            dw_network_evaluate(&at, p, p_s, &sums);
            dw_network_evaluate(&at, p + h, p_s, &high);
            dw_network_evaluate(&at, p - h, p_s, &low);
            const double slope = (high.net_kg_s - low.net_kg_s) / (2.0 * h);
            /* The gas jet's own slope is left out: a millionth of it. */
            assert_close(sums.net_slope_kg_s_pa, slope, 1e-4, 0.0);
        }
    }
}

static void density_that_is_none_is_refused(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    prepare(0.028);
    const dw_chamber_gas gas = {-0.028, net.x_air};
    assert_int_equal(dw_network_at_density(&net, gas, &at), DW_ERR_DOMAIN);
    kiln.opening[0].discharge_coeff = NAN;
    const dw_chamber_gas sound = {0.028, net.x_air};
    assert_int_equal(dw_network_at_density(&net, sound, &at), DW_ERR_DOMAIN);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(two_openings_have_the_published_neutral_plane),
        cmocka_unit_test(pressure_rises_with_height_from_the_datum),
        cmocka_unit_test(holes_and_cracks_flow_by_the_gas_that_flows),
        cmocka_unit_test(tall_opening_and_leak_are_integrated_over_their_height),
        cmocka_unit_test(joints_flow_by_their_law_at_the_mean_temperature),
        cmocka_unit_test(burner_that_is_off_is_an_opening_of_its_own),
        cmocka_unit_test(lit_burner_brings_gas_induced_air_and_its_air_jet),
        cmocka_unit_test(blown_burner_works_against_the_chamber),
        cmocka_unit_test(flue_without_stack_ends_in_the_room),
        cmocka_unit_test(relief_air_mixes_with_the_gas_by_enthalpy),
        cmocka_unit_test(reversed_flue_brings_what_is_at_the_stack_base),
        cmocka_unit_test(of_two_flues_without_stack_the_lower_one_may_draw_in),
        cmocka_unit_test(stack_full_of_outside_air_runs_down),
        cmocka_unit_test(slope_is_the_derivative_of_the_balance),
        cmocka_unit_test(density_that_is_none_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

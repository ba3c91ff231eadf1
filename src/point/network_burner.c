/* Burners: from the description to a law, and what flows at a chamber pressure. */
#include <math.h>
#include <string.h>

#include "constants.h"
#include "fuel.h"
#include "network.h"

static double circle_m2(double diameter_m)
{
    return 0.25 * DW_PI * diameter_m * diameter_m;
}

static dw_status init_inspirating(const dw_network *net, const dw_burner *b,
                                  const dw_jet_supply *gas_jet, double rho_gas_kg_m3,
                                  dw_burner_law *law)
{
    const double p = net->pressure_pa_abs;
    dw_jet_flow gas, air = {0.0, 0.0, 0.0, false};
    dw_jet_discharge(gas_jet, p, &gas);
    law->gas_kg_s = gas.mass_kg_s * law->pieces;
    law->choked = gas.choked;

    law->air_jet = b->air_jet_diameter_m > 0.0;
    if (law->air_jet) {
        const dw_jet jet = {circle_m2(b->air_jet_diameter_m), b->air_jet_discharge_coeff,
                            b->jet_velocity_coeff};
        const dw_jet_gas supply = {net->air.molar_mass_kg_mol, DW_AIR_HEAT_CAPACITY_RATIO,
                                   net->kiln->site.room_temperature_k, p + b->air_pressure_pa};
        dw_jet_supply ready;
        const dw_status status = dw_jet_supply_init(&jet, &supply, &ready);
        if (status != DW_OK) return status;
        dw_jet_discharge(&ready, p, &air);
        law->air_jet_kg_s = air.mass_kg_s * law->pieces;
        law->air_jet_choked = air.choked;
    }

    const dw_burner_tube tube = dw_burner_tube_of(b, b, true, NULL);
    law->shutter_closed = b->shutter_open_frac == 0.0;
    const dw_injector_input input = {
        .throat_area_m2 = tube.throat_m2,
        .kappa_m = tube.kappa_m,
        .kappa_a = tube.kappa_a,
        .jet_mass_kg_s = gas.mass_kg_s + air.mass_kg_s,
        .jet_volume_m3_s = gas.mass_kg_s / rho_gas_kg_m3 + air.mass_kg_s / net->rho_room_kg_m3,
        .thrust_n = gas.thrust_n + air.thrust_n,
        .air_density_kg_m3 = net->rho_room_kg_m3,
    };
    return dw_injector_init(&input, &law->injector);
}

static const dw_law line_law = {"A_u", "opening that the unlit burners are, all of this entry", "m2",
                                "orifice-equation", "n*Cd_r*A_r"};
static const dw_law closed_law = {
    "A_u", "opening that the unlit burner is: none, because its shutter is closed", "m2",
    "momentum-balance", "0"};

double dw_network_unlit_area_m2(const dw_burner *b, const dw_burner *given, dw_working *w)
{
    if (b->kind == DW_BURNER_BLOWN) {
        /* With the fan off its line is an opening; a given flow says nothing of its size. */
        const double A_r = dw_law_given(
            w, DW_WORK_INPUT, "A_r", "area of the restriction; 0 for a given flow", "m2",
            isnan(b->air_restriction_area_m2) ? 0.0 : b->air_restriction_area_m2);
        const double Cd_r =
            dw_law_given(w, DW_WORK_INPUT, "Cd_r", "discharge coefficient of the restriction", "",
                         b->air_restriction_coeff);
        if (w != NULL) dw_law_write(w, "", NULL, NULL, &line_law, b->count * A_r * Cd_r);
        return A_r * Cd_r;
    }
    /* Cold: nothing burns in this port. */
    const dw_burner_tube tube = dw_burner_tube_of(b, given, false, w);
    const double area_m2 = dw_injector_unlit_area_m2(tube.throat_m2, tube.kappa_m, tube.kappa_a);
    if (w != NULL) {
        dw_law_write(w, "", NULL, NULL, tube.closed ? &closed_law : &dw_injector_unlit_law,
                     b->count * area_m2);
    }
    return area_m2;
}

dw_status dw_network_burner_law(const dw_network *net, const dw_burner *b, dw_burner_law *law)
{
    memset(law, 0, sizeof *law);
    law->lit = b->lit && b->gas_pressure_pa > 0.0;
    law->blown = b->kind == DW_BURNER_BLOWN;
    law->pieces = b->count;
    law->height_m = b->height_m;
    law->blown_area_m2 = NAN;
    if (!law->lit) {
        law->open_when_unlit = !b->plugged;
        law->unlit_area_m2 = dw_network_unlit_area_m2(b, b, NULL);
        return isfinite(law->unlit_area_m2) ? DW_OK : DW_ERR_DOMAIN;
    }

    const dw_kiln *kiln = net->kiln;
    const dw_species_table *table = &net->model->data->species;
    const double t_gas = kiln->operating.gas_temperature_k;
    const dw_jet jet = {circle_m2(b->jet_diameter_m),
                        dw_burner_jet_discharge(b, b->gas_pressure_pa, net->pressure_pa_abs),
                        b->jet_velocity_coeff};
    const dw_jet_gas supply = {net->fuel_molar_mass_kg_mol,
                               dw_heat_capacity_ratio(table, kiln->fuel.x, t_gas), t_gas,
                               net->pressure_pa_abs + b->gas_pressure_pa};
    law->gas_pressure_pa = b->gas_pressure_pa;
    const dw_status status = dw_jet_supply_init(&jet, &supply, &law->gas_jet);
    if (status != DW_OK) return status;

    if (law->blown) {
        law->blown_area_m2 = b->air_restriction_area_m2;
        law->blown_coeff = b->air_restriction_coeff;
        law->blown_pressure_pa = b->air_pressure_pa;
        law->blown_flow_kg_s = isnan(b->air_flow_m3_s)
                                   ? 0.0
                                   : b->air_flow_m3_s * net->rho_room_kg_m3 * law->pieces;
        return DW_OK;
    }
    const double rho_gas_kg_m3 =
        dw_ideal_gas_density_kg_m3(net->fuel_molar_mass_kg_mol, t_gas, net->pressure_pa_abs);
    return init_inspirating(net, b, &law->gas_jet, rho_gas_kg_m3, law);
}

static void blown(const dw_network *net, const dw_burner_law *b, double p, dw_burner_flow *flow)
{
    dw_jet_flow jet;
    dw_jet_discharge(&b->gas_jet, net->pressure_pa_abs + p, &jet);
    flow->gas_kg_s = jet.mass_kg_s * b->pieces;
    flow->gas_drive_pa = b->gas_pressure_pa - p;
    flow->choked = jet.choked;
    flow->reversed = !(flow->gas_kg_s > 0.0);
    flow->air_kg_s = b->blown_flow_kg_s;
    if (isnan(b->blown_area_m2)) return;
    dw_restriction_state state;
    flow->air_drive_pa = b->blown_pressure_pa - p;
    if (dw_restriction_flow(b->blown_area_m2, b->blown_coeff, net->rho_room_kg_m3,
                            flow->air_drive_pa, &state) != DW_OK) {
        return;
    }
    flow->air_kg_s = state.mass_kg_s * b->pieces;
    flow->slope_kg_s_pa = -state.slope_kg_s_pa * b->pieces;
    flow->reversed = flow->reversed || state.reversed;
}

void dw_network_burner(const dw_network_at *at, int i, double pressure_pa, dw_burner_flow *flow)
{
    const dw_burner_law *b = &at->net->burner[i];
    const double p = dw_network_pressure_pa(at, pressure_pa, b->height_m);
    *flow = (dw_burner_flow){.pressure_pa = p, .air_drive_pa = -p};
    if (!b->lit) {
        dw_opening_flow hole;
        dw_hole_flow(&at->unlit[i], p, &hole);
        flow->air_kg_s = hole.mass_kg_s;
        flow->slope_kg_s_pa = hole.slope_kg_s_pa;
    } else if (b->blown) {
        blown(at->net, b, p, flow);
    } else {
        dw_injector_flow drawn;
        dw_injector_air(&b->injector, p, NULL, &drawn);
        flow->gas_kg_s = b->gas_kg_s;
        flow->gas_drive_pa = b->gas_pressure_pa;
        flow->air_kg_s = drawn.air_kg_s * b->pieces;
        flow->air_jet_kg_s = b->air_jet_kg_s;
        flow->slope_kg_s_pa = drawn.slope_kg_s_pa * b->pieces;
        flow->reversed = drawn.reversed;
        flow->choked = b->choked || b->air_jet_choked;
    }
}

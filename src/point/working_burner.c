/* The working of the burners: what the jets bring, and the air that comes with it. */
#include <math.h>

#include "stack.h"
#include "working_steps.h"

/* How the symbols of a jet of gas (g) or compressed air (a) are called. */
static const char *jet_names(dw_working *w, char letter)
{
    return dw_work_keepf(w, "A>A_%c Cd>Cd_%c r>r_%c rc>rc_%c rm>rm_%c m>m_%c u>u_%c J>J_%c %s", letter,
                         letter, letter, letter, letter, letter, letter, letter,
                         letter == 'g' ? "k>k_f Rs>R*T_f/M_f" : "k>k_a Rs>R*T_room/M_air");
}

void dw_work_jet(const dw_work_point *p, char letter, const char *what, double diameter_m,
                 double discharge)
{
    dw_working *w = p->w;
    dw_work_put(w, DW_WORK_INPUT, dw_work_keepf(w, "d_%c", letter),
                dw_work_keepf(w, "diameter of the %s jet", what), "m", diameter_m);
    if (!isnan(discharge)) {
        dw_work_put(w, DW_WORK_INPUT, dw_work_keepf(w, "Cd_%c", letter),
                    dw_work_keepf(w, "discharge coefficient of the %s jet", what), "", discharge);
    }
    dw_work_step_is(w, "", dw_work_keepf(w, "A_%c", letter),
                    dw_work_keepf(w, "area of the %s jet", what), "m2",
                    dw_work_keepf(w, "pi*d_%c^2/4", letter), NAN, "definition");
    dw_jet_write_mass(w, jet_names(w, letter), dw_work_keepf(w, "%s through one jet", what));
}

/* The pressures on its two sides, and the jet with its speed u_ and thrust J_. */
static void put_jet(const dw_work_point *p, char letter, const char *what, double diameter_m,
                    double discharge, double velocity_coeff)
{
    dw_working *w = p->w;
    dw_work_jet(p, letter, what, diameter_m, discharge);
    dw_work_put(w, DW_WORK_INPUT, "Cv", "share of the jet's speed that counts as thrust", "",
                velocity_coeff);
    dw_jet_write_thrust(w, jet_names(w, letter));
}

static void put_defined(const dw_work_point *p, const char *symbol, const char *unit, const char *meaning,
                         const char *formula)
{
    dw_work_step_is(p->w, "", symbol, meaning, unit, formula, NAN, "definition");
}

static void put_gas_jet(const dw_work_point *p, int i)
{
    const dw_burner *b = &p->solved->kiln.burner[i];
    double discharge = b->jet_discharge_coeff;
    if (!isnan(b->jet_thin_pa)) {
        put_defined(p, "r_j", "", "pressure of the air / gas pressure before the jet, both absolute", "p_air/p_1");
        const double air_pa_abs = p->solved->net.pressure_pa_abs;
        const double jet_pa_abs = air_pa_abs + p->solved->net.burner[i].gas_pressure_pa;
        (void)dw_jet_thin_discharge(air_pa_abs / jet_pa_abs, "Cd>Cd_g r>r_j", p->w);
        discharge = NAN;
    }
    put_jet(p, 'g', "gas", b->jet_diameter_m, discharge, b->jet_velocity_coeff);
}

static void put_flow(const dw_work_point *p, dw_flow_kind kind, int i, const char *symbol,
                     const char *meaning, const char *formula, const char *source)
{
    const dw_flow *f = dw_work_flow(p, kind, i);
    dw_work_step_is(p->w, dw_work_flow_key(p, kind, i, "mass_kg_s"), symbol, meaning, "kg/s",
                    formula, f != NULL ? fabs(f->mass_kg_s) : NAN, source);
}

static void put_drive(const dw_work_point *p, dw_flow_kind kind, int i, const char *symbol,
                      const char *meaning, const char *formula, double value)
{
    dw_work_step_is(p->w, dw_work_flow_key(p, kind, i, "dp_pa"), symbol, meaning, "Pa", formula, value,
                    "definition");
}

static void put_inspirating(const dw_work_point *p, int i, const dw_burner_flow *flow)
{
    dw_working *w = p->w;
    const dw_burner *b = &p->solved->kiln.burner[i];
    const dw_burner_law *law = &p->solved->net.burner[i];
    const char *all = "gas through all burners of this entry";
    put_defined(p, "p_1", "Pa", "gas pressure before the jet, absolute", "p_air + p_g");
    put_defined(p, "p_2", "Pa", "pressure that the jet blows into, absolute", "p_air");
    put_gas_jet(p, i);
    put_flow(p, DW_FLOW_GAS_JET, i, dw_work_keepf(w, "m_gas%d", i + 1), all, "n*m_g", "definition");
    if (law->air_jet) {
        dw_work_put(w, DW_WORK_INPUT, "p_c", "pressure of the compressed air", "Pa",
                    b->air_pressure_pa);
        dw_work_put(w, DW_WORK_DATA, "k_a", "ratio of heat capacities of air", "",
                    DW_AIR_HEAT_CAPACITY_RATIO);
        put_defined(p, "p_1", "Pa", "air pressure before its jet, absolute", "p_air + p_c");
        put_jet(p, 'a', "compressed air", b->air_jet_diameter_m, b->air_jet_discharge_coeff,
                b->jet_velocity_coeff);
        put_flow(p, DW_FLOW_AIR_JET, i, dw_work_keepf(w, "m_ajet%d", i + 1),
                 "compressed air through all burners of this entry", "n*m_a", "definition");
    }
    const dw_burner_tube tube = dw_burner_tube_of(b, &p->given->burner[i], true, w);
    const char *symbol = dw_work_keepf(w, "m_pa%d", i + 1);
    put_drive(p, DW_FLOW_PRIMARY_AIR, i, "dp_b",
              "help from the chamber: its pressure with the sign reversed", "-p_b", flow->air_drive_pa);
    if (tube.closed) {
        put_flow(p, DW_FLOW_PRIMARY_AIR, i, symbol,
                 "air drawn in: none, because the shutter is closed", "0", "definition");
        return;
    }
    dw_work_step_is(w, "", "M_0", "mass that the jets bring", "kg/s",
                    law->air_jet ? "m_g + m_a" : "m_g", NAN, "momentum-balance");
    dw_work_step_is(w, "", "V_0", "volume that the jets bring", "m3/s",
                    law->air_jet ? "m_g/rho_f + m_a/rho_room" : "m_g/rho_f", NAN,
                    "momentum-balance");
    dw_work_step_is(w, "", "J", "thrust", "N", law->air_jet ? "J_g + J_a" : "J_g", NAN,
                    "momentum-balance");
    dw_injector_flow drawn;
    dw_injector_air(&law->injector, flow->pressure_pa, w, &drawn);
    if (drawn.reversed) {
        put_flow(p, DW_FLOW_PRIMARY_AIR, i, symbol,
                 "air drawn in: none; c is not negative, so the chamber pushes the air back", "0",
                 "momentum-balance");
        return;
    }
    put_flow(p, DW_FLOW_PRIMARY_AIR, i, symbol, "air drawn in by all burners of this entry", "n*m_a1",
             "definition");
}

static void put_blown_gas(const dw_work_point *p, int i, const dw_burner_flow *flow)
{
    const char *symbol = dw_work_keepf(p->w, "m_gas%d", i + 1);
    put_drive(p, DW_FLOW_GAS_JET, i, "dp_g", "pressure that drives the gas", "p_g - p_b",
              flow->gas_drive_pa);
    if (!(flow->gas_kg_s > 0.0)) {
        put_flow(p, DW_FLOW_GAS_JET, i, symbol, "gas: none, because the chamber pressure is higher", "0",
                 "isentropic-nozzle");
        return;
    }
    put_defined(p, "p_1", "Pa", "gas pressure before the jet, absolute", "p_air + p_g");
    put_defined(p, "p_2", "Pa", "pressure that the jet blows into, absolute", "p_air + p_b");
    put_gas_jet(p, i);
    put_flow(p, DW_FLOW_GAS_JET, i, symbol, "gas through all burners of this entry", "n*m_g",
             "definition");
}

static void put_blown_air(const dw_work_point *p, int i, const dw_burner_flow *flow)
{
    dw_working *w = p->w;
    const dw_burner *b = &p->solved->kiln.burner[i];
    const dw_burner_law *law = &p->solved->net.burner[i];
    const char *symbol = dw_work_keepf(w, "m_pa%d", i + 1);
    const char *all = "air through all burners of this entry";
    if (isnan(law->blown_area_m2)) {
        dw_work_put(w, DW_WORK_INPUT, "V_fan", "air flow as given, at room conditions", "m3/s",
                    law->blown_flow_kg_s > 0.0 ? b->air_flow_m3_s : 0.0);
        put_drive(p, DW_FLOW_PRIMARY_AIR, i, "dp_b", "chamber pressure with the sign reversed", "-p_b",
                  flow->air_drive_pa);
        put_flow(p, DW_FLOW_PRIMARY_AIR, i, symbol, all, "n*V_fan*rho_room", "definition");
        return;
    }
    dw_work_put(w, DW_WORK_INPUT, "p_fan", "pressure of the air before the restriction", "Pa",
                law->blown_pressure_pa);
    dw_work_put(w, DW_WORK_INPUT, "A_r", "area of the restriction", "m2", law->blown_area_m2);
    dw_work_put(w, DW_WORK_INPUT, "Cd_r", "discharge coefficient of the restriction", "",
                law->blown_coeff);
    put_drive(p, DW_FLOW_PRIMARY_AIR, i, "dp_b", "pressure that drives the air", "p_fan - p_b",
              flow->air_drive_pa);
    if (!(flow->air_kg_s > 0.0)) {
        put_flow(p, DW_FLOW_PRIMARY_AIR, i, symbol, "air: none, because the chamber pressure is higher",
                 "0", "orifice-equation");
        return;
    }
    dw_law_write(w, dw_work_flow_key(p, DW_FLOW_PRIMARY_AIR, i, "mass_kg_s"),
                 dw_work_keepf(w, "m>%s A>n*Cd_r*A_r rho>rho_room drive>dp_b dp>dp_b", symbol), all,
                 &dw_hole_law, flow->air_kg_s);
}

void dw_work_unlit_area(const dw_work_point *p, int i)
{
    (void)dw_network_unlit_area_m2(&p->solved->kiln.burner[i], &p->given->burner[i], p->w);
}

static void put_unlit(const dw_work_point *p, int i, const dw_burner_flow *flow)
{
    dw_working *w = p->w;
    dw_work_unlit_area(p, i);
    const bool in = flow->air_kg_s >= 0.0;
    put_drive(p, DW_FLOW_UNLIT_BURNER, i, "dp_u",
              in ? "pressure that draws air in" : "pressure that pushes gas out", "abs(p_b)",
              fabs(flow->pressure_pa));
    dw_law_write(w, dw_work_flow_key(p, DW_FLOW_UNLIT_BURNER, i, "mass_kg_s"),
                 dw_work_keepf(w, "m>m_un%d A>A_u rho>%s drive>dp_u dp>dp_u", i + 1,
                               in ? "rho_room" : "rho_gas"),
                 in ? "room air through the opening" : "chamber gas out of the opening", &dw_hole_law,
                 fabs(flow->air_kg_s));
}

void dw_work_burners(const dw_work_point *p)
{
    dw_working *w = p->w;
    if (p->solved->net.supply.lossy) dw_network_supply_write(&p->solved->net, w);
    for (int i = 0; i < p->solved->kiln.burner_count; i++) {
        const dw_burner *b = &p->solved->kiln.burner[i];
        const dw_burner_law *law = &p->solved->net.burner[i];
        if (!law->lit && !law->open_when_unlit) continue;
        dw_work_section(w, "Burner '%s'%s", b->name, law->lit ? "" : ", which is off");
        dw_work_put(w, DW_WORK_INPUT, "n", "pieces", "", b->count);
        dw_work_put(w, DW_WORK_INPUT, "z_b", "height of the port", "m", b->height_m);
        dw_burner_flow flow;
        dw_network_burner(&p->solved->at, i, p->solved->state.pressure_pa, &flow);
        dw_law_write(w, "", "p_z>p_b z>z_b", "pressure in the chamber at the port", dw_draft_pressure_law,
                     flow.pressure_pa);
        if (!law->lit) {
            put_unlit(p, i, &flow);
            continue;
        }
        if (p->solved->net.supply.lossy && b->gas_shared) {
            put_defined(p, "p_g", "Pa", "gas pressure at the jet", "p_jet");
        } else {
            dw_work_put(w, DW_WORK_INPUT, "p_g", "gas pressure at the jet", "Pa", b->gas_pressure_pa);
        }
        if (law->blown) {
            put_blown_gas(p, i, &flow);
            put_blown_air(p, i, &flow);
        } else {
            put_inspirating(p, i, &flow);
        }
    }
}

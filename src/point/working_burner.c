/* The working of the burners: what the jets bring, and the air that comes with it. */
#include <math.h>

#include "constants.h"
#include "working_steps.h"

void dw_work_jet(const dw_work_point *p, char letter, const char *what, double diameter_m,
                 double discharge)
{
    dw_working *w = p->w;
    const bool gas = letter == 'g';
    const char *k = gas ? "k_f" : "k_a", *rst = gas ? "R*T_f/M_f" : "R*T_room/M_air";
    dw_work_put(w, DW_WORK_INPUT, dw_work_keepf(w, "d_%c", letter),
                dw_work_keepf(w, "diameter of the %s jet", what), "m", diameter_m);
    dw_work_put(w, DW_WORK_INPUT, dw_work_keepf(w, "Cd_%c", letter),
                dw_work_keepf(w, "discharge coefficient of the %s jet", what), "", discharge);
    dw_work_step_is(w, "", dw_work_keepf(w, "A_%c", letter),
                    dw_work_keepf(w, "area of the %s jet", what), "m2",
                    dw_work_keepf(w, "pi*d_%c^2/4", letter), NAN, "definition");
    dw_work_step_is(w, "", dw_work_keepf(w, "r_%c", letter), "pressure after the jet / pressure "
                                                             "before it",
                    "", "p_2/p_1", NAN, "definition");
    dw_work_step_is(w, "", dw_work_keepf(w, "rc_%c", letter),
                    "pressure ratio below which the jet is choked, at the speed of sound", "",
                    dw_work_keepf(w, "(2/(%s + 1))^(%s/(%s - 1))", k, k, k), NAN,
                    "isentropic-nozzle");
    dw_work_step_is(w, "", dw_work_keepf(w, "rm_%c", letter), "the larger of these two ratios", "",
                    dw_work_keepf(w, "max(r_%c, rc_%c)", letter, letter), NAN, "isentropic-nozzle");
    const char *m = dw_work_keepf(
        w, "Cd_%c*A_%c*p_1*sqrt(2*%s/((%s - 1)*%s)*(rm_%c^(2/%s) - rm_%c^((%s + 1)/%s)))", letter,
        letter, k, k, rst, letter, k, letter, k, k);
    dw_work_step_is(w, "", dw_work_keepf(w, "m_%c", letter),
                    dw_work_keepf(w, "%s through one jet", what), "kg/s", m, NAN,
                    "isentropic-nozzle");
}

/* A jet of gas (g) or compressed air (a) with its speed u_ and thrust J_. */
static void put_jet(const dw_work_point *p, char letter, const char *what, double diameter_m,
                    double discharge, double velocity_coeff)
{
    dw_working *w = p->w;
    const char *k = letter == 'g' ? "k_f" : "k_a";
    const char *rst = letter == 'g' ? "R*T_f/M_f" : "R*T_room/M_air";
    dw_work_jet(p, letter, what, diameter_m, discharge);
    dw_work_put(w, DW_WORK_INPUT, "Cv", "share of the jet's speed that counts as thrust", "",
                velocity_coeff);
    dw_work_step_is(w, "", dw_work_keepf(w, "u_%c", letter), "speed of the jet", "m/s",
                    dw_work_keepf(w, "sqrt(2*%s/(%s - 1)*%s*(1 - r_%c^((%s - 1)/%s)))", k, k, rst,
                                  letter, k, k),
                    NAN, "isentropic-nozzle");
    dw_work_step_is(w, "", dw_work_keepf(w, "J_%c", letter), "thrust of the jet", "N",
                    dw_work_keepf(w, "Cv*m_%c*u_%c", letter, letter), NAN, "momentum-balance");
}

/* The losses of a mixing tube. False when the shutter is closed. */
static bool put_tube(const dw_work_point *p, int i, bool lit)
{
    dw_working *w = p->w;
    const dw_burner *b = &p->solved->kiln.burner[i];
    dw_work_put(w, DW_WORK_INPUT, "d_t", "diameter of the throat", "m", b->throat_diameter_m);
    dw_work_put(w, DW_WORK_INPUT, "d_p", "diameter of the port", "m", b->port_diameter_m);
    dw_work_put(w, DW_WORK_INPUT, "zeta_f", "friction loss in the throat", "", b->throat_friction);
    dw_work_put(w, DW_WORK_INPUT, "C_pd", "pressure recovered where the burner widens", "",
                b->diffuser_recovery);
    dw_work_put(w, DW_WORK_INPUT, "zeta_p", "loss of the port", "", b->port_loss);
    dw_work_put(w, DW_WORK_INPUT, "tau", lit ? "port temperature / room temperature"
                                             : "port temperature / room temperature, with nothing "
                                               "burning in the burner", "",
                lit ? b->port_temperature_ratio : 1.0);
    dw_work_put(w, DW_WORK_INPUT, "open_s", "open share of the shutter", "", b->shutter_open_frac);
    dw_work_put(w, DW_WORK_INPUT, "Cd_s", "discharge coefficient of the shutter", "",
                b->shutter_discharge_coeff);
    dw_work_step_is(w, "", "A_t", "area of the throat", "m2", "pi*d_t^2/4", NAN, "definition");
    (void)dw_burner_shutter_area_m2(&p->given->burner[i], 0.25 * DW_PI * b->throat_diameter_m *
                                                              b->throat_diameter_m, w);
    if (!(b->shutter_open_frac * b->shutter_area_m2 * b->shutter_discharge_coeff > 0.0)) {
        return false;
    }
    dw_work_step_is(w, "", "zeta_in", "loss of the inlet, referred to the speed in the throat", "",
                    "(A_t/(Cd_s*open_s*A_s))^2 - 1", NAN, "momentum-balance");
    dw_work_step_is(w, "", "kappa_m", "coefficient of what the mixture's speed costs", "",
                    "1 + (zeta_f - C_pd + tau*zeta_p*(d_t/d_p)^4)/2", NAN, "momentum-balance");
    dw_work_step_is(w, "", "kappa_a", "coefficient of what the air's speed gives back", "",
                    "(1 - zeta_in)/2", NAN,
                    "momentum-balance");
    return true;
}

static void put_flow(const dw_work_point *p, dw_flow_kind kind, int i, const char *symbol,
                     const char *meaning, const char *formula, const char *source)
{
    const dw_flow *f = dw_work_flow(p, kind, i);
    dw_work_step_is(p->w, dw_work_flow_key(p, kind, i, "mass_kg_s"), symbol, meaning, "kg/s",
                    formula, f != NULL ? fabs(f->mass_kg_s) : NAN, source);
}

static void put_inspirating(const dw_work_point *p, int i)
{
    dw_working *w = p->w;
    const dw_burner *b = &p->solved->kiln.burner[i];
    const bool air_jet = b->air_jet_diameter_m > 0.0;
    dw_work_step_is(w, "", "p_1", "gas pressure before the jet, absolute", "Pa", "p_air + p_g", NAN,
                    "definition");
    dw_work_step_is(w, "", "p_2", "pressure that the jet blows into, absolute", "Pa", "p_air", NAN,
                    "definition");
    put_jet(p, 'g', "gas", b->jet_diameter_m, b->jet_discharge_coeff, b->jet_velocity_coeff);
    put_flow(p, DW_FLOW_GAS_JET, i, dw_work_keepf(w, "m_gas%d", i + 1), "gas through all burners "
                                                                        "of this entry",
             "n*m_g", "definition");
    if (air_jet) {
        dw_work_put(w, DW_WORK_INPUT, "p_c", "pressure of the compressed air", "Pa",
                    b->air_pressure_pa);
        dw_work_put(w, DW_WORK_DATA, "k_a", "ratio of heat capacities of air", "", 1.40);
        dw_work_step_is(w, "", "p_1", "air pressure before its jet, absolute", "Pa", "p_air + p_c",
                        NAN,
                        "definition");
        put_jet(p, 'a', "compressed air", b->air_jet_diameter_m, b->air_jet_discharge_coeff,
                b->jet_velocity_coeff);
        put_flow(p, DW_FLOW_AIR_JET, i, dw_work_keepf(w, "m_ajet%d", i + 1),
                 "compressed air through all burners of this entry", "n*m_a", "definition");
    }
    const bool open = put_tube(p, i, true);
    const dw_flow *air = dw_work_flow(p, DW_FLOW_PRIMARY_AIR, i);
    const char *symbol = dw_work_keepf(w, "m_pa%d", i + 1);
    dw_work_step_is(w, dw_work_flow_key(p, DW_FLOW_PRIMARY_AIR, i, "dp_pa"), "dp_b",
                    "help from the chamber: its pressure with the sign reversed", "Pa", "-p_b",
                    air != NULL ? air->dp_pa : NAN, "definition");
    if (!open) {
        put_flow(p, DW_FLOW_PRIMARY_AIR, i, symbol, "air drawn in: none, because the shutter is "
                                                    "closed", "0",
                 "definition");
        return;
    }
    dw_work_step_is(w, "", "M_0", "mass that the jets bring", "kg/s",
                    air_jet ? "m_g + m_a" : "m_g", NAN,
                    "momentum-balance");
    dw_work_step_is(w, "", "V_0", "volume that the jets bring", "m3/s",
                    air_jet ? "m_g/rho_f + m_a/rho_room" : "m_g/rho_f", NAN, "momentum-balance");
    dw_work_step_is(w, "", "J", "thrust", "N", air_jet ? "J_g + J_a" : "J_g", NAN,
                    "momentum-balance");
    dw_work_step_is(w, "", "c", "thrust and chamber pressure, less what the jets' own flow costs",
                    "kg m3/s2",
                    "kappa_m*M_0*V_0 - A_t*J + A_t^2*p_b", NAN, "momentum-balance");
    if (air != NULL && !(air->mass_kg_s > 0.0)) {
        put_flow(p, DW_FLOW_PRIMARY_AIR, i, symbol,
                 "air drawn in: none; c is not negative, so the chamber pushes the air back", "0",
                 "momentum-balance");
        return;
    }
    dw_work_step_is(w, "", "a", "of the balance a*m^2 + b*m + c = 0", "m3/kg",
                    "(kappa_m - kappa_a)/rho_room", NAN, "momentum-balance");
    dw_work_step_is(w, "", "b", "of the same", "m3/s", "kappa_m*(M_0/rho_room + V_0)", NAN,
                    "momentum-balance");
    dw_work_step_is(w, "", "m_a1", "air drawn in by one burner: the root of the momentum balance",
                    "kg/s",
                    "-2*c/(b + sqrt(b^2 - 4*a*c))", NAN, "momentum-balance");
    put_flow(p, DW_FLOW_PRIMARY_AIR, i, symbol, "air drawn in by all burners of this entry",
             "n*m_a1",
             "definition");
}

static void put_blown(const dw_work_point *p, int i)
{
    dw_working *w = p->w;
    const dw_burner *b = &p->solved->kiln.burner[i];
    const dw_flow *gas = dw_work_flow(p, DW_FLOW_GAS_JET, i);
    const dw_flow *air = dw_work_flow(p, DW_FLOW_PRIMARY_AIR, i);
    const char *gas_symbol = dw_work_keepf(w, "m_gas%d", i + 1);
    const char *air_symbol = dw_work_keepf(w, "m_pa%d", i + 1);
    dw_work_step_is(w, dw_work_flow_key(p, DW_FLOW_GAS_JET, i, "dp_pa"), "dp_g",
                    "pressure that drives the gas", "Pa", "p_g - p_b",
                    gas != NULL ? gas->dp_pa : NAN,
                    "definition");
    if (gas != NULL && gas->mass_kg_s > 0.0) {
        dw_work_step_is(w, "", "p_1", "gas pressure before the jet, absolute", "Pa", "p_air + p_g",
                        NAN,
                        "definition");
        dw_work_step_is(w, "", "p_2", "pressure that the jet blows into, absolute", "Pa",
                        "p_air + p_b", NAN,
                        "definition");
        put_jet(p, 'g', "gas", b->jet_diameter_m, b->jet_discharge_coeff, b->jet_velocity_coeff);
        put_flow(p, DW_FLOW_GAS_JET, i, gas_symbol, "gas through all burners of this entry",
                 "n*m_g", "definition");
    } else {
        put_flow(p, DW_FLOW_GAS_JET, i, gas_symbol,
                 "gas: none, because the chamber pressure is higher", "0", "isentropic-nozzle");
    }
    if (isnan(b->air_restriction_area_m2)) {
        dw_work_put(w, DW_WORK_INPUT, "V_fan", "air flow as given, at room conditions", "m3/s",
                    isnan(b->air_flow_m3_s) ? 0.0 : b->air_flow_m3_s);
        dw_work_step_is(w, dw_work_flow_key(p, DW_FLOW_PRIMARY_AIR, i, "dp_pa"), "dp_b",
                        "chamber pressure with the sign reversed", "Pa", "-p_b",
                        air != NULL ? air->dp_pa : NAN, "definition");
        put_flow(p, DW_FLOW_PRIMARY_AIR, i, air_symbol, "air through all burners of this entry",
                 "n*V_fan*rho_room",
                 "definition");
        return;
    }
    dw_work_put(w, DW_WORK_INPUT, "p_fan", "pressure of the air before the restriction", "Pa",
                b->air_pressure_pa);
    dw_work_put(w, DW_WORK_INPUT, "A_r", "area of the restriction", "m2",
                b->air_restriction_area_m2);
    dw_work_put(w, DW_WORK_INPUT, "Cd_r", "discharge coefficient of the restriction", "",
                b->air_restriction_coeff);
    dw_work_step_is(w, dw_work_flow_key(p, DW_FLOW_PRIMARY_AIR, i, "dp_pa"), "dp_b",
                    "pressure that drives the air", "Pa", "p_fan - p_b",
                    air != NULL ? air->dp_pa : NAN,
                    "definition");
    if (air != NULL && !(air->mass_kg_s > 0.0)) {
        put_flow(p, DW_FLOW_PRIMARY_AIR, i, air_symbol,
                 "air: none, because the chamber pressure is higher", "0", "orifice-equation");
        return;
    }
    put_flow(p, DW_FLOW_PRIMARY_AIR, i, air_symbol, "air through all burners of this entry",
             "n*Cd_r*A_r*sqrt(2*rho_room)*dp_b/(dp_b^2 + " DW_WORK_BLEND "^2)^(1/4)",
             "orifice-equation");
}

void dw_work_unlit_area(const dw_work_point *p, int i)
{
    dw_working *w = p->w;
    const dw_burner *b = &p->solved->kiln.burner[i];
    if (b->kind == DW_BURNER_BLOWN) {
        dw_work_put(w, DW_WORK_INPUT, "A_r", "area of the restriction; 0 for a given flow", "m2",
                    isnan(b->air_restriction_area_m2) ? 0.0 : b->air_restriction_area_m2);
        dw_work_put(w, DW_WORK_INPUT, "Cd_r", "discharge coefficient of the restriction", "",
                    b->air_restriction_coeff);
        dw_work_step_is(w, "", "A_u", "opening that the unlit burners are, all of this entry",
                        "m2", "n*Cd_r*A_r", NAN,
                        "orifice-equation");
    } else if (put_tube(p, i, false)) {
        dw_work_step_is(w, "", "A_u", "opening that the unlit burners are, all of this entry", "m2",
                        "n*A_t/sqrt(2*(kappa_m - kappa_a))", NAN, "momentum-balance");
    } else {
        dw_work_step_is(w, "", "A_u", "opening that the unlit burner is: none, because its "
                                      "shutter is closed", "m2", "0",
                        NAN, "momentum-balance");
    }
}

static void put_unlit(const dw_work_point *p, int i)
{
    dw_working *w = p->w;
    const dw_flow *f = dw_work_flow(p, DW_FLOW_UNLIT_BURNER, i);
    dw_work_unlit_area(p, i);
    const bool in = f != NULL && f->mass_kg_s >= 0.0;
    dw_work_step_is(w, dw_work_flow_key(p, DW_FLOW_UNLIT_BURNER, i, "dp_pa"), "dp_u",
                    in ? "pressure that draws air in" : "pressure that pushes gas out", "Pa",
                    "abs(p_b)",
                    f != NULL ? f->dp_pa : NAN, "definition");
    put_flow(p, DW_FLOW_UNLIT_BURNER, i, dw_work_keepf(w, "m_un%d", i + 1),
             in ? "room air through the opening" : "chamber gas out of the opening",
             in ? "A_u*sqrt(2*rho_room)*dp_u/(dp_u^2 + " DW_WORK_BLEND "^2)^(1/4)"
                : "A_u*sqrt(2*rho_gas)*dp_u/(dp_u^2 + " DW_WORK_BLEND "^2)^(1/4)",
             "orifice-equation");
}

void dw_work_burners(const dw_work_point *p)
{
    dw_working *w = p->w;
    for (int i = 0; i < p->solved->kiln.burner_count; i++) {
        const dw_burner *b = &p->solved->kiln.burner[i];
        const dw_burner_law *law = &p->solved->net.burner[i];
        if (!law->lit && !law->open_when_unlit) continue;
        dw_work_section(w, "Burner '%s'%s", b->name, law->lit ? "" : ", which is off");
        dw_work_put(w, DW_WORK_INPUT, "n", "pieces", "", b->count);
        dw_work_put(w, DW_WORK_INPUT, "z_b", "height of the port", "m", b->height_m);
        dw_work_step_is(w, "", "p_b", "pressure in the chamber at the port", "Pa",
                        "p + grad*(z_b - z_0)", NAN, "draft-law");
        if (!law->lit) {
            put_unlit(p, i);
            continue;
        }
        dw_work_put(w, DW_WORK_INPUT, "p_g", "gas pressure at the jet", "Pa", b->gas_pressure_pa);
        if (law->blown) {
            put_blown(p, i);
        } else {
            put_inspirating(p, i);
        }
    }
}

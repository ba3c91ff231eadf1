/* The working of the stack: what gathers at its base, what it pulls, what it loses. */
#include <math.h>

#include "duct.h"
#include "working_steps.h"

/* The sum of the flues that go forward, as a formula. */
static const char *forward_flues(const dw_work_point *p)
{
    const char *sum = "";
    for (int i = 0; i < p->solved->kiln.flue_count; i++) {
        const dw_flow *f = dw_work_flow(p, DW_FLOW_FLUE, i);
        if (f == NULL || f->dp_pa < 0.0) continue;
        sum = dw_work_keepf(p->w, "%s%sm_f%d", sum, sum[0] == '\0' ? "" : " + ", i + 1);
    }
    return sum[0] == '\0' ? "0" : sum;
}

static void put_relief(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_stack *s = &p->solved->kiln.stack;
    const dw_flow *f = dw_work_flow(p, DW_FLOW_RELIEF, -1);
    if (f == NULL) return;
    const bool in = f->mass_kg_s >= 0.0;
    dw_work_put(w, DW_WORK_INPUT, "A_r", "area of the relief opening", "m2", s->relief_area_m2);
    dw_work_put(w, DW_WORK_INPUT, "Cd_r", "discharge coefficient of the restriction", "",
                s->relief_discharge_coeff);
    dw_work_step_is(w, dw_work_flow_key(p, DW_FLOW_RELIEF, -1, "dp_pa"), "dp_r",
                    in ? "pressure that draws room air in" : "pressure that pushes gas out", "Pa",
                    "abs(p_s)",
                    f->dp_pa, "definition");
    const char *rho = in ? "rho_room" : p->solved->at.down ? "rho_top" : "rho_gas";
    dw_work_step_is(w, dw_work_flow_key(p, DW_FLOW_RELIEF, -1, "mass_kg_s"), "m_r",
                    in ? "room air into the stack base" : "gas out of the relief opening", "kg/s",
                    dw_work_keepf(w,
                                  "Cd_r*A_r*sqrt(2*%s)*dp_r/(dp_r^2 + " DW_WORK_BLEND "^2)^(1/4)",
                                  rho),
                    fabs(f->mass_kg_s), "orifice-equation");
}

/* Molar enthalpy of chamber gas or air, as a number put in. */
static void put_enthalpy(const dw_work_point *p, const char *symbol, const char *meaning,
                         const double *x, double temperature_k)
{
    dw_work_put(p->w, DW_WORK_DATA, symbol, meaning, "J/mol",
                dw_mixture_enthalpy_j_mol(&p->model->data->species, x, temperature_k));
}

/* Leaves y, M_b, T_b. */
static void put_mixture(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_network_sums *s = &p->solved->state.sums;
    const double *x_gas = p->solved->at.gas.x, *x_air = p->solved->net.x_air;
    const bool mixed = s->base_gas_frac < 1.0;
    dw_work_step_is(w, "", "m_fl", "chamber gas out of all flues", "kg/s", forward_flues(p),
                    s->flue_out_kg_s, "definition");
    if (!mixed) {
        dw_work_put(w, DW_WORK_CONSTANT, "y", "share of chamber gas at the stack base: all of it",
                    "",
                    1.0);
        dw_work_step_is(w, "", "M_b", "molar mass of the gas at the stack base", "kg/mol", "M_gas",
                        NAN, "definition");
        dw_work_step_is(w, "stack_base_temperature_k", "T_b", "temperature there", "K", "T_gas",
                        s->base_temperature_k, "definition");
        return;
    }
    dw_work_step_is(w, "", "y", "share of chamber gas at the stack base, by mass", "",
                    "m_fl/(m_fl + m_r)", s->base_gas_frac, "definition");
    dw_work_step_is(w, "", "M_b", "molar mass of the gas at the stack base", "kg/mol",
                    "1/(y/M_gas + (1 - y)/M_air)", NAN,
                    "definition");
    dw_work_put(w, DW_WORK_SOLVED, "T_b", "temperature there", "K", s->base_temperature_k);
    put_enthalpy(p, "h_g", "enthalpy of the chamber gas at T_gas", x_gas,
                 p->solved->net.gas_temperature_k);
    put_enthalpy(p, "h_a", "enthalpy of air at T_room", x_air,
                 p->solved->kiln.site.room_temperature_k);
    put_enthalpy(p, "hb_g", "enthalpy of the chamber gas at T_b", x_gas, s->base_temperature_k);
    put_enthalpy(p, "hb_a", "enthalpy of air at T_b", x_air, s->base_temperature_k);
    dw_work_balance(w, "stack_base_temperature_k", "T_b",
                    "mixing loses no heat: the enthalpy of a kilogram is the same before and after",
                    "y/M_gas*h_g + (1 - y)/M_air*h_a = y/M_gas*hb_g + (1 - y)/M_air*hb_a",
                    "nasa9");
}

/* Flues through which gas comes back from the stack base. */
static void put_reversed(const dw_work_point *p)
{
    dw_working *w = p->w;
    const bool stack = p->solved->net.has_stack, down = p->solved->at.down;
    bool said = false;
    for (int i = 0; i < p->solved->kiln.flue_count; i++) {
        const dw_flow *f = dw_work_flow(p, DW_FLOW_FLUE, i);
        if (f == NULL || !(f->dp_pa < 0.0)) continue;
        if (!said) dw_work_section(w, "What comes back through a flue");
        if (!said && stack && !down) {
            dw_work_step_is(w, "", "rho_b", "density of the gas at the stack base", "kg/m3",
                            "p_air*M_b/(R*T_b)", NAN, "definition");
        }
        said = true;
        const char *rho = !stack ? "rho_room" : down ? "rho_top" : "rho_b";
        dw_work_step_is(w, dw_work_flow_key(p, DW_FLOW_FLUE, i, "mass_kg_s"),
                        dw_work_keepf(w, "m_f%d", i + 1),
                        dw_work_keepf(w, "back through '%.40s'", p->solved->kiln.flue[i].name),
                        "kg/s",
                        dw_work_keepf(w,
                                      "az_f%d*sqrt(2*%s)*abs(dp_f%d)/(dp_f%d^2 + " DW_WORK_BLEND
                                      "^2)^(1/4)",
                                      i + 1, rho, i + 1, i + 1),
                        fabs(f->mass_kg_s), "orifice-equation");
    }
}

/* Flow in the stack, as a formula: flues and relief with their signs. */
static const char *stack_flow(const dw_work_point *p)
{
    const char *sum = "";
    const double turn = p->solved->state.down ? -1.0 : 1.0;
    for (int i = 0; i < p->solved->kiln.flue_count; i++) {
        const dw_flow *f = dw_work_flow(p, DW_FLOW_FLUE, i);
        if (f == NULL) continue;
        const bool plus = turn * (f->dp_pa < 0.0 ? -1.0 : 1.0) > 0.0;
        sum = dw_work_keepf(p->w, "%s%sm_f%d", sum, sum[0] == '\0' ? plus ? "" : "-"
                                                              : plus ? " + " : " - ", i + 1);
    }
    const dw_flow *r = dw_work_flow(p, DW_FLOW_RELIEF, -1);
    if (r != NULL) {
        const bool plus = turn * r->mass_kg_s >= 0.0;
        sum = dw_work_keepf(p->w, "%s%sm_r", sum, sum[0] == '\0' ? plus ? "" : "-"
                                                         : plus ? " + " : " - ");
    }
    return sum;
}

static void put_friction(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_stack *s = &p->solved->kiln.stack;
    const dw_stack_law *law = &p->solved->net.stack;
    const dw_stack_state *state = &p->solved->state.stack;
    dw_work_put(w, DW_WORK_INPUT, "A_st", "area of the stack", "m2", law->area_m2);
    dw_work_step_is(w, "", "D_h", "diameter, or side of a square stack", "m",
                    s->round ? "sqrt(4*A_st/pi)" : "sqrt(A_st)", law->hydraulic_diameter_m,
                    "definition");
    dw_work_step_is(w, "", "v", "speed in the stack", "m/s", "m_st/(rho_st*A_st)",
                    state->velocity_m_s, "definition");
    dw_work_step_is(w, "", "mu", "viscosity, as of air", "Pa s",
                    "1.458e-6*T_m^1.5/(T_m + 110.4)",
                    dw_air_viscosity_pa_s(state->mean_temperature_k), "us1976");
    dw_work_step_is(w, "", "Re", "Reynolds number", "", "rho_st*v*D_h/mu", state->reynolds,
                    "definition");
    dw_work_step_is(w, "", "Re_4", "Reynolds number, at least 4000 since the flow comes in "
                                   "disturbed", "",
                    "max(Re, 4000)", NAN, "assumption");
    dw_work_put(w, DW_WORK_INPUT, "rough", "roughness of the lining", "m", law->roughness_m);
    dw_work_step_is(w, "", "F_1", "intermediate number of the friction formula", "",
                    "(2.457*ln(1/((7/Re_4)^0.9 + 0.27*rough/D_h)))^16", NAN, "churchill1977");
    dw_work_step_is(w, "", "F_2", "of the same", "", "(37530/Re_4)^16", NAN, "churchill1977");
    dw_work_step_is(w, "", "fric", "friction factor", "",
                    "8*((8/Re_4)^12 + (F_1 + F_2)^(-1.5))^(1/12)", state->friction_factor,
                    "churchill1977");
    dw_work_put(w, DW_WORK_INPUT, "n_b", "bends", "", s->bend_count);
    dw_work_put(w, DW_WORK_INPUT, "zeta_b", "loss of a bend", "", s->bend_loss);
    const bool hood = !isnan(s->hood_gap_height_m);
    dw_work_put(w, DW_WORK_INPUT, "zeta_c",
                hood ? "loss of the cap: none, since the hood gap is below it" : "loss of the cap",
                "",
                hood ? 0.0 : s->cap_loss);
    dw_work_put(w, DW_WORK_INPUT, "zeta_x", "loss at the exit", "", s->exit_loss);
    dw_work_step_is(w, dw_work_flow_key(p, DW_FLOW_STACK, -1, "dp_pa"), "dp_st",
                    "pressure that the stack loses", "Pa",
                    "(fric*H_st/D_h + n_b*zeta_b + zeta_c + zeta_x)*rho_st*v^2/2", state->loss_pa,
                    "stack-balance");
}

static void put_temperature(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_stack_law *law = &p->solved->net.stack;
    const dw_stack_state *state = &p->solved->state.stack;
    if (p->solved->state.down) {
        dw_work_step_is(w, "stack_base_temperature_k", "T_b",
                        "temperature at the stack base, where air comes down", "K", "T_top",
                        p->result->stack_base_temperature_k, "definition");
        dw_work_step_is(w, "stack_mean_temperature_k", "T_m",
                        "temperature in the stack, which is full of air", "K", "T_top",
                        state->mean_temperature_k, "definition");
        dw_work_step_is(w, "", "rho_st", "density of the gas in the stack", "kg/m3", "rho_top",
                        state->density_kg_m3, "definition");
        return;
    }
    if (isnan(law->ntu)) {
        const dw_network_sums *s = &p->solved->state.sums;
        const dw_species_table *table = &p->model->data->species;
        const double frac = s->base_gas_frac;
        dw_work_put(w, DW_WORK_INPUT, "UA", "heat that the stack loses for each kelvin", "W/K",
                    law->ua_w_k);
        dw_work_put(w, DW_WORK_DATA, "cp_b", "heat capacity of the gas at the base", "J/(kg K)",
                    frac / p->solved->at.gas.molar_mass_kg_mol *
                            dw_mixture_heat_capacity_j_mol_k(table, p->solved->at.gas.x,
                                                             s->base_temperature_k) +
                        (1.0 - frac) / p->solved->net.air.molar_mass_kg_mol *
                            dw_mixture_heat_capacity_j_mol_k(table, p->solved->net.x_air,
                                                             s->base_temperature_k));
        dw_work_step_is(w, "", "NTU", "cooling of the stack", "", "UA/(m_st*cp_b)", NAN,
                        "exchanger-law");
    } else {
        dw_work_put(w, DW_WORK_INPUT, "NTU", "cooling of the stack", "", law->ntu);
    }
    const bool cools = isnan(law->ntu) ? law->ua_w_k > 0.0 : law->ntu > 0.0;
    dw_work_step_is(w, "stack_mean_temperature_k", "T_m", "mean temperature in the stack", "K",
                    cools ? "T_top + (T_b - T_top)*(1 - exp(-NTU))/NTU" : "T_b",
                    state->mean_temperature_k, "exchanger-law");
    dw_work_step_is(w, "", "rho_st", "density of the gas in the stack", "kg/m3",
                    "p_air*M_b/(R*T_m)",
                    state->density_kg_m3, "definition");
}

void dw_work_stack(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_network *net = &p->solved->net;
    const dw_kiln *kiln = &p->solved->kiln;
    const dw_network_state *state = &p->solved->state;
    if (!net->has_stack) {
        put_reversed(p);
        dw_work_section(w, "Without a stack");
        dw_work_step_is(w, "draft_theoretical_pa", "D_th",
                        "theoretical draft: none, since there is no column of hot gas above the "
                        "kiln", "Pa", "0",
                        p->result->draft_theoretical_pa, "draft-law");
        return;
    }
    dw_work_section(w, "What comes together at the stack base");
    put_relief(p);
    if (!state->down) put_mixture(p);
    put_reversed(p);
    dw_work_section(w, "The stack");
    const dw_flow *f = dw_work_flow(p, DW_FLOW_STACK, -1);
    dw_work_step_is(w, dw_work_flow_key(p, DW_FLOW_STACK, -1, "mass_kg_s"), "m_st",
                    state->down ? "air down the stack" : "gas up the stack", "kg/s", stack_flow(p),
                    f != NULL ? fabs(f->mass_kg_s) : NAN, "definition");
    dw_work_step_is(w, "stack_flow_kg_s", "m_up", "flow in the stack, positive upwards", "kg/s",
                    state->down ? "-m_st" : "m_st", p->result->stack_flow_kg_s, "definition");
    put_temperature(p);
    const bool hood = !isnan(kiln->stack.hood_gap_height_m);
    dw_work_put(w, DW_WORK_INPUT, "H_st", hood ? "height from the stack base to the open gap"
                                               : "height of the stack above its base",
                "m", net->stack.height_m);
    put_friction(p);
    if (state->down) {
        dw_work_step_is(w, "draft_theoretical_pa", "D_th",
                        "theoretical draft: none, since the stack is as cold as outside", "Pa",
                        "(rho_top - rho_st)*g*H_st", p->result->draft_theoretical_pa, "draft-law");
    } else {
        dw_work_step_is(w, "draft_theoretical_pa", "D_th",
                        "theoretical draft: weight of the column outside less that of the column "
                        "in the stack", "Pa",
                        "(rho_top - rho_st)*g*H_st", p->result->draft_theoretical_pa, "draft-law");
    }
    if (hood) {
        dw_work_put(w, DW_WORK_CONSTANT, "dp_room", "room pressure relative to what is at the "
                                                    "gap: the same",
                    "Pa", 0.0);
    } else {
        dw_work_put(w, DW_WORK_INPUT, "p_room", "room pressure relative to outside at the datum",
                    "Pa",
                    kiln->site.room_pressure_pa);
        dw_work_step_is(w, "", "dp_room", "room pressure relative to outside at the height of the "
                                          "stack base", "Pa",
                        "p_room + (rho_out - rho_room)*g*(z_s - z_0)", net->room_minus_far_pa,
                        "draft-law");
    }
    dw_work_balance(w, "", "p_s",
                    state->down ? "the pressure at the base is what the air coming down loses"
                                : "the stack's pull at its base is its draft less its losses",
                    state->down ? "p_s + dp_room = -dp_st" : "p_s + dp_room = dp_st - D_th",
                    "stack-balance");
}

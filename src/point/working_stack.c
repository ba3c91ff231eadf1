/* The working of the stack: what gathers at its base, what it pulls, what it loses. */
#include <math.h>

#include "stack.h"
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
    dw_law_write(w, dw_work_flow_key(p, DW_FLOW_RELIEF, -1, "mass_kg_s"),
                 dw_work_keepf(w, "m>m_r A>Cd_r*A_r rho>%s drive>dp_r dp>dp_r", rho),
                 in ? "room air into the stack base" : "gas out of the relief opening", &dw_hole_law,
                 fabs(f->mass_kg_s));
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
    (void)dw_network_mixed_molar_mass(&p->solved->at, s->base_gas_frac, w);
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
    const char *rho = NULL;
    for (int i = 0; i < p->solved->kiln.flue_count; i++) {
        const dw_flow *f = dw_work_flow(p, DW_FLOW_FLUE, i);
        if (f == NULL || !(f->dp_pa < 0.0)) continue;
        if (rho == NULL) {
            dw_work_section(w, "What comes back through a flue");
            (void)dw_network_far_density_kg_m3(&p->solved->at, &p->solved->state.sums, &rho, w);
        }
        dw_law_write(w, dw_work_flow_key(p, DW_FLOW_FLUE, i, "mass_kg_s"),
                     dw_work_keepf(w, "m>m_f%d A>az_f%d rho>%s drive>abs(dp_f%d) dp>dp_f%d", i + 1,
                                   i + 1, rho, i + 1, i + 1),
                     dw_work_keepf(w, "back through '%.40s'", p->solved->kiln.flue[i].name),
                     &dw_hole_law, fabs(f->mass_kg_s));
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

/* The heat loss goes by the wall, and so by the size of the stack. */
static bool wall_counts(const dw_work_point *p)
{
    return !p->solved->state.down && p->solved->kiln.stack.wall != DW_WALL_UNKNOWN;
}

static void put_size(const dw_work_point *p)
{
    (void)dw_network_stack_height_m(&p->solved->net, p->w);
    (void)dw_network_stack_diameter_m(&p->solved->kiln.stack, p->w);
}

/* What fills the stack. */
static void put_gas(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_network_at *at = &p->solved->at;
    const dw_network_state *s = &p->solved->state;
    if (s->down) {
        dw_work_step_is(w, "stack_base_temperature_k", "T_b",
                        "temperature at the stack base, where air comes down", "K", "T_top",
                        p->result->stack_base_temperature_k, "definition");
        dw_work_step_is(w, "stack_mean_temperature_k", "T_m",
                        "temperature in the stack, which is full of air", "K", "T_top",
                        s->stack.mean_temperature_k, "definition");
        dw_work_step_is(w, "", "rho_st", "density of the gas in the stack", "kg/m3", "rho_top",
                        s->stack.density_kg_m3, "definition");
        return;
    }
    if (wall_counts(p)) put_size(p);
    if (!isnan(at->net->stack.ua_w_k)) (void)dw_network_stack_ua_w_k(at->net, &at->net->stack, w);
    dw_stack_state state;
    dw_stack_gas(&at->net->stack, s->stack_kg_s, s->sums.base_temperature_k,
                 dw_network_mixed_molar_mass(at, s->sums.base_gas_frac, NULL),
                 dw_network_base_heat_capacity_j_kg_k(at, &s->sums), "stack_mean_temperature_k", w,
                 &state);
}

/* What it loses. */
static void put_losses(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_network *net = &p->solved->net;
    dw_stack_state state = p->solved->state.stack;
    if (!wall_counts(p)) put_size(p);
    dw_work_put(w, DW_WORK_INPUT, "rough", "roughness of the lining", "m", net->stack.roughness_m);
    (void)dw_network_stack_losses(net, w);
    dw_stack_flow(&net->stack, fabs(p->solved->state.stack_kg_s),
                  dw_work_flow_key(p, DW_FLOW_STACK, -1, "dp_pa"), w, &state);
}

void dw_work_stack(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_network *net = &p->solved->net;
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
    put_gas(p);
    put_losses(p);
    dw_law_write(w, "draft_theoretical_pa", NULL,
                 state->down ? "theoretical draft: none, since the stack is as cold as outside"
                             : "theoretical draft: weight of the column outside less that of the "
                               "column in the stack",
                 dw_draft_theoretical_law, p->result->draft_theoretical_pa);
    (void)dw_network_room_minus_far_pa(net, w);
    dw_work_balance(w, "", "p_s",
                    state->down ? "the pressure at the base is what the air coming down loses"
                                : "the stack's pull at its base is its draft less its losses",
                    state->down ? "p_s + dp_room = -dp_st" : "p_s + dp_room = dp_st - D_th",
                    "stack-balance");
}

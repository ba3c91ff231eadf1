/* From the description of a stack to its law: what does not depend on the flow. */
#include <math.h>

#include "constants.h"
#include "stack.h"
#include "network.h"

void dw_network_far_air(const dw_network *net, dw_working *w, double *temperature_k,
                        double *density_kg_m3)
{
    const dw_site *site = &net->kiln->site;
    const bool room = net->hood_gap;
    *temperature_k =
        dw_law_given(w, DW_WORK_INPUT, "T_top",
                     room ? "temperature beside the stack, which is the room's"
                          : "temperature outside the stack",
                     "K", room ? site->room_temperature_k : site->outside_temperature_k);
    *density_kg_m3 =
        dw_law_step(w, "", "rho>rho_top M>M_air T>T_top", "density of the air beside the stack",
                    dw_ideal_gas_density_law, room ? net->rho_room_kg_m3 : net->rho_out_kg_m3);
}

double dw_network_stack_height_m(const dw_network *net, dw_working *w)
{
    const dw_stack *s = &net->kiln->stack;
    const bool gap = net->hood_gap;
    return dw_law_given(w, DW_WORK_INPUT, "H_st",
                        gap ? "height from the stack base to the open gap"
                            : "height of the stack above its base",
                        "m", gap ? s->hood_gap_height_m : s->height_m);
}

static const char width_meaning[] = "diameter, or side of a square stack";
DW_LAW(round_width, "D_h", width_meaning, "m", "definition", (double A_st, double pi),
       sqrt(4.0 * A_st / pi))
DW_LAW(square_width, "D_h", width_meaning, "m", "definition", (double A_st), sqrt(A_st))

double dw_network_stack_diameter_m(const dw_stack *s, dw_working *w)
{
    const double A_st =
        dw_law_given(w, DW_WORK_INPUT, "A_st", "area of the stack", "m2", s->area_m2);
    return s->round ? DW_STEP(w, round_width, (A_st, DW_PI)) : DW_STEP(w, square_width, (A_st));
}

double dw_network_stack_losses(const dw_network *net, dw_working *w)
{
    const dw_stack *s = &net->kiln->stack;
    /* A hood gap ends the stack below its cap. */
    const bool gap = net->hood_gap;
    const double n_b = dw_law_given(w, DW_WORK_INPUT, "n_b", "bends", "", s->bend_count);
    const double zeta_b = dw_law_given(w, DW_WORK_INPUT, "zeta_b", "loss of a bend", "", s->bend_loss);
    const double zeta_c = dw_law_given(
        w, DW_WORK_INPUT, "zeta_c",
        gap ? "loss of the cap: none, since the hood gap is below it" : "loss of the cap", "",
        gap ? 0.0 : s->cap_loss);
    const double zeta_x =
        dw_law_given(w, DW_WORK_INPUT, "zeta_x", "loss at the exit", "", s->exit_loss);
    return n_b * zeta_b + zeta_c + zeta_x;
}

DW_LAW(wall_gas, "T_w", "gas beside the wall, about: between the air outside and the chamber's gas", "K", "assumption",
       (double T_top, double T_gas), T_top + 2.0 / 3.0 * (T_gas - T_top))

double dw_network_stack_ua_w_k(const dw_network *net, const dw_stack_law *law, dw_working *w)
{
    const dw_stack *s = &net->kiln->stack;
    if (!dw_stack_loses_by_ua(s)) return NAN;
    if (s->wall == DW_WALL_UNKNOWN) {
        return dw_law_given(w, DW_WORK_INPUT, "UA", "heat that the stack loses for each kelvin", "W/K",
                            s->heat_loss_ua_w_k);
    }
    const double T_w = s->wall_point_count > 1
                           ? DW_STEP(w, wall_gas, (law->outside_temperature_k, net->gas_temperature_k))
                           : NAN;
    return dw_stack_wall_ua_w_k(
        dw_stack_wall_conductance_w_m2_k(s->wall_point, s->wall_point_count, T_w, w), law, w);
}

double dw_network_wind_pa(const dw_network *net, dw_working *w)
{
    const dw_kiln *kiln = net->kiln;
    if (isnan(kiln->site.wind_speed_m_s) || !dw_kiln_ends_outside(kiln)) return NAN;
    const double v_w =
        dw_law_given(w, DW_WORK_INPUT, "v_w", "speed of the wind", "m/s", kiln->site.wind_speed_m_s);
    const double Cp_r = dw_law_given(w, DW_WORK_INPUT, "Cp_r", "wind coefficient of the room", "",
                                     kiln->room.wind_coeff);
    const double Cp_s = dw_law_given(w, DW_WORK_INPUT, "Cp_s", "wind coefficient of the top of the stack", "",
                                     kiln->stack.wind_coeff);
    return dw_draft_wind_pa(net->rho_out_kg_m3, v_w, Cp_r, Cp_s, w);
}

DW_LAW(in_wind, "dp_room", "the same with the wind on the room and on the top of the stack", "Pa", "definition",
       (double dp_still, double p_wind), dp_still + p_wind)

double dw_network_room_minus_far_pa(const dw_network *net, dw_working *w)
{
    if (net->hood_gap) {
        return dw_law_given(w, DW_WORK_CONSTANT, "dp_room",
                            "room pressure relative to what is at the gap: the same", "Pa", 0.0);
    }
    const double p_room =
        dw_law_given(w, DW_WORK_INPUT, "p_room", "room pressure relative to outside at the datum", "Pa",
                     net->kiln->site.room_pressure_pa);
    const bool windy = !isnan(dw_network_wind_pa(net, NULL));
    const double dp_still = dw_draft_pressure_beside_pa(
        p_room, net->rho_out_kg_m3, net->rho_room_kg_m3, net->base_height_m, net->datum_m,
        windy ? "p_z>dp_still p>p_room rho_1>rho_out rho_2>rho_room z>z_s"
              : "p_z>dp_room p>p_room rho_1>rho_out rho_2>rho_room z>z_s",
        "room pressure relative to outside at the height of the stack base", w);
    if (!windy) return dp_still;
    const double p_wind = dw_network_wind_pa(net, w);
    return DW_STEP(w, in_wind, (dp_still, p_wind));
}

dw_status dw_network_take_stack(dw_network *net)
{
    const dw_stack *s = &net->kiln->stack;
    net->hood_gap = !dw_kiln_ends_outside(net->kiln);
    net->base_height_m = s->base_height_m;
    dw_network_far_air(net, NULL, &net->far_temperature_k, &net->far_density_kg_m3);
    net->room_minus_far_pa = dw_network_room_minus_far_pa(net, NULL);
    net->stack = (dw_stack_law){
        .height_m = dw_network_stack_height_m(net, NULL),
        .area_m2 = s->area_m2,
        .hydraulic_diameter_m = dw_network_stack_diameter_m(s, NULL),
        .roughness_m = s->roughness_m,
        .loss_sum = dw_network_stack_losses(net, NULL),
        .ntu = dw_stack_loses_by_ua(s) ? NAN : s->heat_loss_ntu,
        .outside_temperature_k = net->far_temperature_k,
        .outside_density_kg_m3 = net->far_density_kg_m3,
        .pressure_pa_abs = net->pressure_pa_abs,
    };
    net->stack.ua_w_k = dw_network_stack_ua_w_k(net, &net->stack, NULL);
    return dw_stack_law_check(&net->stack);
}

void dw_network_report_stack(const dw_network_at *at, const dw_network_state *state, dw_result *r)
{
    r->draft_theoretical_pa = 0.0;
    r->draft_stack_base_pa = r->draft_flue_exit_pa = r->stack_flow_kg_s = NAN;
    r->stack_mean_temperature_k = r->stack_base_temperature_k = NAN;
    r->wind_pressure_pa = dw_network_wind_pa(at->net, NULL);
    if (!at->net->has_stack) return;
    r->draft_theoretical_pa = state->stack.buoyancy_pa;
    r->draft_stack_base_pa = -state->stack_base_pa;
    r->draft_flue_exit_pa = -dw_network_flue_far_pa(at, state->stack_base_pa, 0, NULL);
    r->stack_flow_kg_s = state->stack_kg_s;
    r->stack_mean_temperature_k = state->stack.mean_temperature_k;
    r->stack_base_temperature_k = state->sums.base_temperature_k;
}

#include "stack.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

#include "constants.h"
#include "friction.h"
#include "moist_air.h"

DW_LAW(column_pull, "D_th", "theoretical draft", "Pa", "draft-law",
       (double rho_top, double rho_st, double g, double H_st), (rho_top - rho_st) * g * H_st)
DW_LAW(gradient, "grad", "rise of chamber pressure with height, relative to the room", "Pa/m",
       "draft-law", (double rho_room, double rho_gas, double g), (rho_room - rho_gas) * g)
DW_LAW(pressure_at, "p_z", "pressure at a height", "Pa", "draft-law",
       (double p, double grad, double z, double z_0), p + grad * (z - z_0))
DW_LAW(pressure_beside, "p_z", "pressure at a height", "Pa", "draft-law",
       (double p, double rho_1, double rho_2, double g, double z, double z_0),
       p + (rho_1 - rho_2) * g * (z - z_0))

DW_LAW(wind_push, "p_wind", "how much more the wind presses on the room than on the top of the stack", "Pa",
       "wind-head", (double Cp_r, double Cp_s, double rho_out, double v_w),
       (Cp_r - Cp_s) * rho_out * pow(v_w, 2.0) / 2.0)

DW_LAW(neutral_height, "z_n", "height where the pressure is zero", "m", "neutral-plane",
       (double z_0, double p, double grad), z_0 - p / grad)

const dw_law *const dw_draft_theoretical_law = &column_pull_law;
const dw_law *const dw_draft_pressure_law = &pressure_at_law;
const dw_law *const dw_draft_neutral_law = &neutral_height_law;

double dw_draft_theoretical_pa(double rho_out_kg_m3, double rho_gas_kg_m3, double height_m)
{
    return column_pull(rho_out_kg_m3, rho_gas_kg_m3, DW_G_M_S2, height_m);
}

double dw_draft_wind_pa(double rho_out_kg_m3, double speed_m_s, double room_coeff, double stack_coeff,
                        dw_working *w)
{
    return DW_STEP_FOR(w, "wind_pressure_pa", wind_push, (room_coeff, stack_coeff, rho_out_kg_m3, speed_m_s));
}

double dw_draft_gradient_pa_m(double rho_room_kg_m3, double rho_gas_kg_m3, dw_working *w)
{
    return DW_STEP(w, gradient, (rho_room_kg_m3, rho_gas_kg_m3, DW_G_M_S2));
}

double dw_draft_pressure_at_pa(double pressure_datum_pa, double rho_room_kg_m3,
                               double rho_gas_kg_m3, double height_m, double datum_m)
{
    return pressure_at(pressure_datum_pa, gradient(rho_room_kg_m3, rho_gas_kg_m3, DW_G_M_S2),
                       height_m, datum_m);
}

double dw_draft_pressure_beside_pa(double pressure_datum_pa, double rho_1_kg_m3, double rho_2_kg_m3,
                                   double height_m, double datum_m, const char *names,
                                   const char *meaning, dw_working *w)
{
    return DW_STEP_AS(w, "", names, meaning, pressure_beside,
                      (pressure_datum_pa, rho_1_kg_m3, rho_2_kg_m3, DW_G_M_S2, height_m, datum_m));
}

double dw_draft_neutral_plane_m(double pressure_datum_pa, double rho_room_kg_m3,
                                double rho_gas_kg_m3, double datum_m)
{
    const double gradient_pa_m = gradient(rho_room_kg_m3, rho_gas_kg_m3, DW_G_M_S2);
    if (gradient_pa_m == 0.0) return NAN;
    return neutral_height(datum_m, pressure_datum_pa, gradient_pa_m);
}

/* ---- the stack ----------------------------------------------------------------------- */

dw_status dw_stack_law_check(const dw_stack_law *law)
{
    if (law == NULL) return DW_ERR_ARG;
    const bool by_ntu = !isnan(law->ntu);
    const bool by_ua = !isnan(law->ua_w_k);
    const double heat_loss = by_ntu ? law->ntu : law->ua_w_k;
    if (by_ntu == by_ua || !isfinite(heat_loss) || !isfinite(law->height_m) ||
        !isfinite(law->area_m2) || !isfinite(law->hydraulic_diameter_m) ||
        !isfinite(law->roughness_m) || !isfinite(law->loss_sum) ||
        !isfinite(law->outside_temperature_k) || !isfinite(law->outside_density_kg_m3) ||
        !isfinite(law->pressure_pa_abs)) {
        return DW_ERR_ARG;
    }
    const bool in_domain = heat_loss >= 0.0 && law->height_m > 0.0 && law->area_m2 > 0.0 &&
                           law->hydraulic_diameter_m > 0.0 && law->roughness_m >= 0.0 &&
                           law->roughness_m <= 0.2 * law->hydraulic_diameter_m &&
                           law->loss_sum >= 0.0 && law->outside_temperature_k > 0.0 &&
                           law->outside_density_kg_m3 > 0.0 && law->pressure_pa_abs > 0.0;
    return in_domain ? DW_OK : DW_ERR_DOMAIN;
}

static void set_nan(dw_stack_state *state)
{
    *state = (dw_stack_state){NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
}

DW_LAW(cooling, "NTU", "cooling of the stack", "", "exchanger-law",
       (double UA, double m_st, double cp_b), UA / (m_st * cp_b))
DW_LAW(wall_between, "U", "heat through the wall for each m2 and kelvin, in a straight line between the two",
       "W/(m2 K)", "stack-walls", (double U_1, double U_2, double T_w, double t_1, double t_2),
       U_1 + (U_2 - U_1) * fmin(fmax((T_w - t_1) / (t_2 - t_1), 0.0), 1.0))
DW_LAW(wall_loss, "UA", "heat that the stack loses for each kelvin: that of its inside surface", "W/K",
       "exchanger-law", (double U, double A_st, double D_h, double H_st), U * (4.0 * A_st / D_h) * H_st)
/* As they are shown; worked out without loss of digits where a stack hardly cools, and with the mass flow of
 * a square metre. */
static const dw_law mean_temperature_law = {
    "T_m", "mean temperature in the stack", "K", "exchanger-law",
    "T_top + (T_b - T_top)*(1.0 - exp(-NTU))/NTU"};
static const dw_law uncooled_law = {"T_m", "mean temperature in the stack", "K", "exchanger-law", "T_b"};
static const dw_law velocity_law = {"v", "speed in the stack", "m/s", "definition",
                                    "m_st/(rho_st*A_st)"};
static const dw_law reynolds_law = {"Re", "Reynolds number", "", "definition", "rho_st*v*D_h/mu"};
static const dw_law loss_law = {
    "dp_st", "pressure that the stack loses", "Pa", "stack-balance",
    "(fric*H_st/D_h + n_b*zeta_b + zeta_c + zeta_x)*rho_st*pow(v, 2.0)/2.0"};

static double ntu_of(const dw_stack_law *law, double mass_kg_s, double cp_j_kg_k, dw_working *w)
{
    if (!isnan(law->ntu)) {
        return dw_law_given(w, DW_WORK_INPUT, "NTU", "cooling of the stack", "", law->ntu);
    }
    const double cp_b = dw_law_given(w, DW_WORK_DATA, "cp_b", "heat capacity of the gas at the base",
                                     "J/(kg K)", cp_j_kg_k);
    return DW_STEP(w, cooling, (law->ua_w_k, mass_kg_s, cp_b));
}

double dw_stack_wall_conductance_w_m2_k(const dw_stack_wall_point *point, int count,
                                        double gas_temperature_k, dw_working *w)
{
    if (count == 1) {
        return dw_law_given(w, DW_WORK_DATA, "U", "heat through the wall for each m2 and kelvin", "W/(m2 K)",
                            point[0].conductance_w_m2_k);
    }
    int i = 1;
    while (i < count - 1 && gas_temperature_k > point[i].temperature_k) i++;
    const double t_1 = dw_law_given(w, DW_WORK_DATA, "t_1", "gas temperature in the row before", "K",
                                    point[i - 1].temperature_k);
    const double U_1 = dw_law_given(w, DW_WORK_DATA, "U_1", "heat through the wall there", "W/(m2 K)",
                                    point[i - 1].conductance_w_m2_k);
    const double t_2 =
        dw_law_given(w, DW_WORK_DATA, "t_2", "gas temperature in the row after", "K", point[i].temperature_k);
    const double U_2 = dw_law_given(w, DW_WORK_DATA, "U_2", "heat through the wall there", "W/(m2 K)",
                                    point[i].conductance_w_m2_k);
    return DW_STEP(w, wall_between, (U_1, U_2, gas_temperature_k, t_1, t_2));
}

double dw_stack_wall_ua_w_k(double conductance_w_m2_k, const dw_stack_law *law, dw_working *w)
{
    return DW_STEP(w, wall_loss,
                   (conductance_w_m2_k, law->area_m2, law->hydraulic_diameter_m, law->height_m));
}

void dw_stack_gas(const dw_stack_law *law, double mass_kg_s, double base_temperature_k,
                  double molar_mass_kg_mol, double cp_j_kg_k, const char *keys, dw_working *w,
                  dw_stack_state *state)
{
    const double ntu = ntu_of(law, mass_kg_s, cp_j_kg_k, w);
    const double drop = -expm1(-ntu); /* share of the excess temperature lost up the stack */
    const bool cools = ntu > 0.0;
    const double excess = base_temperature_k - law->outside_temperature_k;
    state->mean_temperature_k =
        dw_law_step(w, keys, NULL, NULL, cools ? &mean_temperature_law : &uncooled_law,
                    law->outside_temperature_k + excess * (cools ? drop / ntu : 1.0));
    state->top_temperature_k = law->outside_temperature_k + excess * (1.0 - drop);
    state->density_kg_m3 =
        dw_law_step(w, "", "rho>rho_st M>M_b T>T_m", "density of the gas in the stack",
                    dw_ideal_gas_density_law,
                    dw_ideal_gas_density_kg_m3(molar_mass_kg_mol, state->mean_temperature_k,
                                               law->pressure_pa_abs));
}

void dw_stack_flow(const dw_stack_law *law, double mass_kg_s, const char *keys, dw_working *w,
                   dw_stack_state *state)
{
    const double flux = mass_kg_s / law->area_m2;
    const double length_ratio = law->height_m / law->hydraulic_diameter_m;
    state->velocity_m_s =
        dw_law_step(w, "", NULL, NULL, &velocity_law, flux / state->density_kg_m3);
    state->reynolds = dw_law_step(w, "", NULL, NULL, &reynolds_law,
                                  flux * law->hydraulic_diameter_m /
                                      dw_air_viscosity_pa_s(state->mean_temperature_k, w));
    state->friction_factor = dw_friction_factor(
        state->reynolds, law->roughness_m / law->hydraulic_diameter_m, DW_STACK_RE_FLOOR, w);
    state->loss_pa = dw_law_step(
        w, keys, NULL, NULL, &loss_law,
        (state->friction_factor * length_ratio + law->loss_sum) * 0.5 * flux * state->velocity_m_s);
}

dw_status dw_stack_up(const dw_stack_law *law, double mass_kg_s, double base_temperature_k,
                      double molar_mass_kg_mol, double cp_j_kg_k, dw_stack_state *state)
{
    if (state == NULL) return DW_ERR_ARG;
    set_nan(state);
    const bool by_ua = law != NULL && isnan(law->ntu);
    if (law == NULL || !isfinite(mass_kg_s) || !isfinite(base_temperature_k) ||
        !isfinite(molar_mass_kg_mol) || (by_ua && !isfinite(cp_j_kg_k))) {
        return DW_ERR_ARG;
    }
    if (!(mass_kg_s > 0.0 && base_temperature_k > 0.0 && molar_mass_kg_mol > 0.0) ||
        (by_ua && !(cp_j_kg_k > 0.0))) {
        return DW_ERR_DOMAIN;
    }
    dw_stack_gas(law, mass_kg_s, base_temperature_k, molar_mass_kg_mol, cp_j_kg_k, "", NULL, state);
    dw_stack_flow(law, mass_kg_s, "", NULL, state);
    state->buoyancy_pa =
        dw_draft_theoretical_pa(law->outside_density_kg_m3, state->density_kg_m3, law->height_m);
    state->base_pa = state->loss_pa - state->buoyancy_pa;
    return DW_OK;
}

dw_status dw_stack_down(const dw_stack_law *law, double mass_kg_s, dw_stack_state *state)
{
    if (state == NULL) return DW_ERR_ARG;
    set_nan(state);
    if (law == NULL || !isfinite(mass_kg_s)) return DW_ERR_ARG;
    if (!(mass_kg_s > 0.0)) return DW_ERR_DOMAIN;
    state->mean_temperature_k = law->outside_temperature_k;
    state->top_temperature_k = law->outside_temperature_k;
    state->density_kg_m3 = law->outside_density_kg_m3;
    dw_stack_flow(law, mass_kg_s, "", NULL, state);
    state->buoyancy_pa = 0.0;
    state->base_pa = -state->loss_pa;
    return DW_OK;
}

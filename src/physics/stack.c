#include "stack.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

#include "draft.h"
#include "duct.h"
#include "moist_air.h"

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

/** Velocity, friction and loss of a flow whose temperature and density are in the state. */
static void add_flow(const dw_stack_law *law, double mass_kg_s, dw_stack_state *state)
{
    const double flux = mass_kg_s / law->area_m2;
    const double length_ratio = law->height_m / law->hydraulic_diameter_m;
    state->velocity_m_s = flux / state->density_kg_m3;
    state->reynolds =
        flux * law->hydraulic_diameter_m / dw_air_viscosity_pa_s(state->mean_temperature_k);
    state->friction_factor = dw_friction_factor(
        state->reynolds, law->roughness_m / law->hydraulic_diameter_m, DW_STACK_RE_FLOOR);
    state->loss_pa =
        (state->friction_factor * length_ratio + law->loss_sum) * 0.5 * flux * state->velocity_m_s;
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

    const double ntu = by_ua ? law->ua_w_k / (mass_kg_s * cp_j_kg_k) : law->ntu;
    const double drop = -expm1(-ntu); /* share of the excess temperature lost up the stack */
    const double mean_share = ntu > 0.0 ? drop / ntu : 1.0;
    const double excess = base_temperature_k - law->outside_temperature_k;
    state->mean_temperature_k = law->outside_temperature_k + excess * mean_share;
    state->top_temperature_k = law->outside_temperature_k + excess * (1.0 - drop);
    state->density_kg_m3 = dw_ideal_gas_density_kg_m3(molar_mass_kg_mol, state->mean_temperature_k,
                                                      law->pressure_pa_abs);
    add_flow(law, mass_kg_s, state);
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
    add_flow(law, mass_kg_s, state);
    state->buoyancy_pa = 0.0;
    state->base_pa = -state->loss_pa;
    return DW_OK;
}

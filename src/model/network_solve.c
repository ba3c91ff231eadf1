/* The two nested balances: chamber pressure inside, stack-base pressure outside. */
#include "network.h"

#include <float.h>
#include <math.h>
#include <stdio.h>

#include "constants.h"
#include "root1d.h"

/* Widest pressures that are looked at [Pa]: far beyond any kiln. */
static const double pressure_limit_pa = 2.0e4;

static dw_status find_chamber(const dw_network_at *at, double stack_base_pa, double *pressure_pa,
                              dw_network_sums *sums, int *evaluations)
{
    /* Newton inside a bracket that only ever shrinks. The slope jumps where a port reverses, so a step
     * that does not help is replaced by halving. */
    double low = -INFINITY, high = INFINITY, p = isfinite(*pressure_pa) ? *pressure_pa : 0.0;
    double reach = 1.0, last = INFINITY;
    for (int i = 0; i < 200; i++) {
        dw_network_flows(at, p, stack_base_pa, sums);
        *evaluations += 1;
        const double f = sums->net_kg_s;
        if (isnan(f) || fabs(p) > pressure_limit_pa) return DW_ERR_NO_CONVERGE;
        *pressure_pa = p;
        if (fabs(f) <= 8.0 * DBL_EPSILON * sums->in_kg_s) return DW_OK;
        if (f > 0.0) {
            low = p;
        } else {
            high = p;
        }
        double next = p - f / sums->net_slope_kg_s_pa;
        const bool slow = fabs(f) > 0.5 * last;
        /* Down in the rounding of the sums: no step will help. */
        if (slow && fabs(f) <= 200.0 * DBL_EPSILON * sums->in_kg_s) return DW_OK;
        last = fabs(f);
        if (isinf(low) || isinf(high)) {
            /* No bracket yet: follow Newton, but reach out ever further. */
            const double step = next - p;
            if (!(fabs(step) <= reach)) next = p + copysign(reach, f);
            reach *= 4.0;
        } else if (!(next > low && next < high) || slow) {
            next = 0.5 * (low + high);
            if (!(next > low && next < high)) return DW_OK; /* neighbouring numbers */
        }
        if (fabs(next - p) <= 2.0 * DBL_EPSILON * fabs(p)) return DW_OK;
        p = next;
    }
    return DW_ERR_NO_CONVERGE;
}

dw_status dw_network_chamber(const dw_network_at *at, double stack_base_pa, double *pressure_pa,
                             dw_network_sums *sums, int *evaluations)
{
    const dw_status status = find_chamber(at, stack_base_pa, pressure_pa, sums, evaluations);
    if (status == DW_OK) dw_network_mix(at, sums);
    return status;
}

double dw_network_stack_gap_pa(const dw_network_at *at, const dw_network_sums *sums,
                               double stack_base_pa, dw_stack_state *stack)
{
    const dw_network *net = at->net;
    const double up_kg_s = sums->flue_out_kg_s - sums->flue_back_kg_s + sums->relief_kg_s;
    /* The other direction is carried on steadily, so that the root may be seen from both sides. */
    const double tiny_kg_s = 1e-12, flow_kg_s = fmax(fabs(up_kg_s), tiny_kg_s);
    dw_stack_state state, other;
    double base_pa = NAN;
    if (at->down) {
        if (dw_stack_down(&net->stack, flow_kg_s, &state) != DW_OK) return NAN;
        base_pa = up_kg_s < 0.0 ? state.base_pa : -state.base_pa;
    } else {
        const double frac = sums->base_gas_frac;
        const double molar_mass = dw_network_mixed_molar_mass(at, frac);
        double cp_j_kg_k = 1.0;
        if (!isnan(net->stack.ua_w_k)) {
            const dw_species_table *table = &net->model->data->species;
            cp_j_kg_k =
                frac / at->gas.molar_mass_kg_mol *
                    dw_mixture_heat_capacity_j_mol_k(table, at->gas.x, sums->base_temperature_k) +
                (1.0 - frac) / net->air.molar_mass_kg_mol *
                    dw_mixture_heat_capacity_j_mol_k(table, net->x_air, sums->base_temperature_k);
        }
        if (dw_stack_up(&net->stack, up_kg_s > 0.0 ? flow_kg_s : tiny_kg_s,
                        sums->base_temperature_k, molar_mass, cp_j_kg_k, &state) != DW_OK) {
            return NAN;
        }
        base_pa = state.base_pa;
        if (up_kg_s <= 0.0) {
            if (dw_stack_down(&net->stack, flow_kg_s, &other) != DW_OK) return NAN;
            base_pa += other.base_pa;
        }
    }
    if (stack != NULL) *stack = state;
    return base_pa - net->room_minus_far_pa - stack_base_pa;
}

/* The outer function of the stack-base pressure. */
typedef struct outer {
    const dw_network_at *at;
    dw_network_state *state;
} outer;

static double gap_at(double stack_base_pa, void *context)
{
    outer *o = context;
    dw_network_state *s = o->state;
    s->stack_base_pa = stack_base_pa;
    if (dw_network_chamber(o->at, stack_base_pa, &s->pressure_pa, &s->sums, &s->evaluations) !=
        DW_OK) {
        return NAN;
    }
    return dw_network_stack_gap_pa(o->at, &s->sums, stack_base_pa, &s->stack);
}

/* Bracket from below: at `low` the stack needs more than it gets. With NTU given the gap falls steadily
 * and any bracket does, so the guess is used; with UA the first crossing is the largest flow. */
static dw_status solve_branch(const dw_network_at *at, dw_network_state *state, double guess_pa)
{
    const dw_network *net = at->net;
    outer o = {at, state};
    const double rho_min = fmin(at->rho_kg_m3, net->far_density_kg_m3);
    const double pull_pa = (net->far_density_kg_m3 - rho_min) * DW_G_M_S2 * net->stack.height_m;
    double low = -pull_pa - net->room_minus_far_pa - 1e-6 - 1e-9 * pull_pa, high = NAN;
    const bool several = !isnan(net->stack.ua_w_k) && !at->down;

    if (isfinite(guess_pa) && !several) {
        double step = 1e-3 * (1.0 + fabs(guess_pa));
        double x = guess_pa, f = gap_at(x, &o);
        for (int i = 0; i < 60 && isfinite(f); i++) {
            const double next = f > 0.0 ? x + step : x - step;
            const double f_next = gap_at(next, &o);
            if ((f > 0.0) != (f_next > 0.0)) {
                low = fmin(x, next);
                high = fmax(x, next);
                break;
            }
            x = next;
            f = f_next;
            step *= 8.0;
        }
    } else {
        double step = several ? 0.02 * (1.0 + pull_pa) : 0.25 * (1.0 + pull_pa);
        if (at->down) {
            /* Going down the base lies below; the bracket is sought both ways. */
            while (gap_at(low, &o) <= 0.0 && low > -pressure_limit_pa) low -= 4.0 * fabs(low) + 1.0;
        }
        double x = low;
        for (int i = 0; i < 400 && x < pressure_limit_pa; i++) {
            x += step;
            const double f = gap_at(x, &o);
            if (isnan(f)) return DW_ERR_NO_CONVERGE;
            if (f <= 0.0) {
                high = x;
                break;
            }
            low = x;
            if (!several || i > 120) step *= 2.0;
        }
    }
    if (isnan(high)) return DW_ERR_NO_CONVERGE;
    dw_root root;
    const double x_tol = 1e-14 * (1.0 + pull_pa);
    const dw_status status = dw_root_find(gap_at, &o, low, high, x_tol, 0.0, &root);
    if (status != DW_OK) return DW_ERR_NO_CONVERGE;
    state->base_residual_pa = gap_at(root.x, &o);
    return isnan(state->base_residual_pa) ? DW_ERR_NO_CONVERGE : DW_OK;
}

dw_status dw_network_solve(dw_network_at *at, dw_network_state *state, char *reason)
{
    const double guess_pa = state->stack_base_pa;
    const bool was_down = state->down;
    state->evaluations = 0;
    state->down = false;
    at->down = false;
    if (!at->net->has_stack) {
        state->stack_base_pa = NAN;
        state->stack_kg_s = 0.0;
        state->base_residual_pa = 0.0;
        state->base_slope_pa_s_kg = 1.0;
        const dw_status status = dw_network_chamber(at, 0.0, &state->pressure_pa, &state->sums,
                                                    &state->evaluations);
        if (status != DW_OK) {
            (void)snprintf(reason, DW_REASON_SIZE, "no chamber pressure within 20 kPa balances the flows");
        }
        return status;
    }
    for (int branch = 0; branch < 2; branch++) {
        at->down = branch == 1;
        const dw_status status =
            solve_branch(at, state, was_down == at->down ? guess_pa : NAN);
        const dw_network_sums *s = &state->sums;
        const double up_kg_s = s->flue_out_kg_s - s->flue_back_kg_s + s->relief_kg_s;
        if (status != DW_OK || (at->down ? up_kg_s >= 0.0 : up_kg_s <= 0.0)) continue;
        state->down = at->down;
        state->stack_kg_s = up_kg_s;
        /* For the closure: how far the flow is from the one that this base pressure drives. */
        state->base_slope_pa_s_kg = 2.0 * state->stack.loss_pa / fabs(up_kg_s);
        return DW_OK;
    }
    (void)snprintf(reason, DW_REASON_SIZE,
                   "the stack stalls: no flow up or down balances its draft");
    return DW_ERR_NO_CONVERGE;
}

#include "steepness.h"

#include <math.h>
#include <string.h>

enum { P, P_S, PHI, VALUES };

/* The two balances, and the richness of what then flows. */
typedef struct values {
    double f[VALUES];
} values;

static values evaluate(const dw_network_at *at, const dw_reactants *reactants, double pressure_pa,
                       double stack_base_pa)
{
    dw_network_sums sums;
    dw_network_evaluate(at, pressure_pa, stack_base_pa, &sums);
    values v;
    v.f[P] = sums.net_kg_s;
    v.f[P_S] =
        at->net->has_stack ? dw_network_stack_gap_pa(at, &sums, stack_base_pa, NULL) : 0.0;
    v.f[PHI] = sums.air_kg_s > 0.0
                   ? reactants->stoichiometric_kg_kg * sums.gas_kg_s / sums.air_kg_s
                   : NAN;
    return v;
}

static values difference(values high, values low, double width)
{
    values d;
    for (int i = 0; i < VALUES; i++) d.f[i] = (high.f[i] - low.f[i]) / width;
    return d;
}

static const values not_known = {{NAN, NAN, NAN}};

/* What belongs to the solution and not to the density. */
static void keep(const dw_network_at *at, dw_network_at *moved)
{
    moved->down = at->down;
    moved->fine_pa = at->fine_pa;
    moved->base_fine_pa = at->base_fine_pa;
}

/* By the richness that the chamber gas is made with: its density, and what it brings to the stack. */
static values by_composition(const dw_network_at *at, const dw_reactants *reactants,
                             const dw_network_state *state, const dw_equilibrium *mean, double phi)
{
    const dw_gas_set *gases = &at->net->model->gases;
    const double h = 1e-5 * phi;
    values v[2];
    for (int i = 0; i < 2; i++) {
        dw_equilibrium made = *mean;
        dw_gas gas;
        dw_network_at moved;
        const double air_kg_kg = reactants->stoichiometric_kg_kg / (i == 0 ? phi - h : phi + h);
        if (dw_reactants_mean(reactants, gases, air_kg_kg, &made, &gas.molar_mass_kg_mol) !=
            DW_OK) {
            return not_known;
        }
        dw_gas_from_set(gases, made.x, &gas);
        if (dw_network_at_density(at->net, (dw_chamber_gas){gas.molar_mass_kg_mol, gas.x},
                                  &moved) != DW_OK) {
            return not_known;
        }
        keep(at, &moved);
        v[i] = evaluate(&moved, reactants, state->pressure_pa, state->stack_base_pa);
    }
    return difference(v[1], v[0], 2.0 * h);
}

/* Partial derivative by an input: which 0 moves the dampers, 1 the gas pressure. */
static values by_input(const dw_network *net, const dw_reactants *reactants,
                       const dw_network_at *at, const dw_network_state *state, int which)
{
    const dw_kiln *kiln = net->kiln;
    dw_kiln moved = *kiln;
    dw_network moved_net = *net;
    dw_network_at moved_at;
    values v[2];
    double step[2];
    if (which == 0) {
        double least = 1.0, most = 0.0;
        for (int i = 0; i < kiln->flue_count; i++) {
            least = fmin(least, kiln->flue[i].damper.open_frac);
            most = fmax(most, kiln->flue[i].damper.open_frac);
        }
        /* At a stop, one per cent inwards: the slide's formula has an infinite slope just there. */
        step[0] = -1e-5;
        step[1] = 1e-5;
        const bool shut = least < 1e-5, wide = most > 1.0 - 1e-5;
        if (shut || wide) {
            step[0] = wide ? -0.01 : 0.0;
            step[1] = shut ? 0.01 : 0.0;
        }
    } else {
        step[1] = 1e-5 * kiln->operating.gas_pressure_pa;
        for (int i = 0; i < kiln->burner_count; i++) {
            step[1] = fmax(step[1], 1e-5 * kiln->burner[i].gas_pressure_pa);
        }
        step[0] = -step[1];
    }
    for (int i = 0; i < 2; i++) {
        for (int k = 0; k < kiln->flue_count && which == 0; k++) {
            moved.flue[k].damper.open_frac =
                fmin(fmax(kiln->flue[k].damper.open_frac + step[i], 0.0), 1.0);
        }
        for (int k = 0; k < kiln->burner_count && which == 1; k++) {
            const double given_pa = kiln->burner[k].gas_pressure_pa;
            if (given_pa > 0.0) moved.burner[k].gas_pressure_pa = given_pa + step[i];
        }
        char reason[DW_REASON_SIZE];
        moved_net.kiln = &moved;
        if ((which == 0 ? dw_network_take_dampers(&moved_net, reason)
                        : dw_network_take_supply(&moved_net, reason)) != DW_OK ||
            dw_network_at_density(&moved_net, at->gas, &moved_at) != DW_OK) {
            return not_known;
        }
        keep(at, &moved_at);
        v[i] = evaluate(&moved_at, reactants, state->pressure_pa, state->stack_base_pa);
    }
    return difference(v[1], v[0], step[1] - step[0]);
}

/* The third unknown of a 3x3 system, by elimination with row pivoting; NaN when singular. */
static double third_unknown(double a[3][4])
{
    for (int k = 0; k < 2; k++) {
        int pivot = k;
        for (int i = k + 1; i < 3; i++) {
            if (fabs(a[i][k]) > fabs(a[pivot][k])) pivot = i;
        }
        for (int j = 0; j < 4; j++) {
            const double t = a[k][j];
            a[k][j] = a[pivot][j];
            a[pivot][j] = t;
        }
        if (a[k][k] == 0.0) return NAN;
        for (int i = k + 1; i < 3; i++) {
            const double factor = a[i][k] / a[k][k];
            for (int j = k; j < 4; j++) a[i][j] -= factor * a[k][j];
        }
    }
    return a[2][2] != 0.0 ? a[2][3] / a[2][2] : NAN;
}

void dw_steepness(const dw_network *net, const dw_reactants *reactants, const dw_network_at *at,
                  const dw_network_state *state, const dw_equilibrium *mean, bool damper_alone,
                  dw_result *result, dw_slopes *slopes)
{
    const double h = 1e-5 * (1.0 + fabs(state->pressure_pa));
    const values by_p = difference(
        evaluate(at, reactants, state->pressure_pa + h, state->stack_base_pa),
        evaluate(at, reactants, state->pressure_pa - h, state->stack_base_pa), 2.0 * h);
    values by_p_s = {{0.0, 1.0, 0.0}};
    if (net->has_stack) {
        const double h_s = 1e-5 * (1.0 + fabs(state->stack_base_pa));
        by_p_s = difference(evaluate(at, reactants, state->pressure_pa, state->stack_base_pa + h_s),
                            evaluate(at, reactants, state->pressure_pa, state->stack_base_pa - h_s),
                            2.0 * h_s);
    }
    const values by_gas =
        by_composition(at, reactants, state, mean, result->equivalence_ratio);

    for (int which = 0; which < (damper_alone ? 1 : 2); which++) {
        const values by_theta = by_input(net, reactants, at, state, which);
        const values *column[3] = {&by_p, &by_p_s, &by_gas};
        double a[3][4];
        for (int i = 0; i < 3; i++) {
            for (int j = 0; j < 3; j++) a[i][j] = column[j]->f[i];
            a[i][3] = -by_theta.f[i];
        }
        /* Third balance: the richness that flows less the one the gas was made with. */
        a[2][2] -= 1.0;
        for (int i = 0; i < 3 && slopes != NULL; i++) {
            for (int j = 0; j < 3; j++) slopes->by_unknown[i][j] = a[i][j];
            slopes->by_input[which][i] = by_theta.f[i];
        }
        /* So its change is the third unknown itself. */
        double *slope = which == 0 ? &result->dphi_ddamper : &result->dphi_dgas_pressure_per_pa;
        *slope = third_unknown(a);
    }
}

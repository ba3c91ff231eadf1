#include "density.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "format.h"
#include "root1d.h"

/* The loop around the density: molar mass in, molar mass of the gas that then burns out. */
static const double molar_mass_low = 0.012, molar_mass_high = 0.040;
static const double molar_mass_rtol = 1e-13;
/* What the rounding of the two balances inside may leave of it where that cannot be reached. */
static const double molar_mass_noise = 1e-9;
enum { MAX_ROUNDS = 150, MAX_REOPENED = 4 };

static const char no_density[] = "the density of the chamber gas does not settle";
static const char turns[] =
    "the stack keeps turning round: the gas that it makes drawing up sends it down, and the other way about";
static const char jumps[] =
    "the draft jumps: with the gas of a strong draft it is weak, with that of a weak one it is strong";

/* Of what flows: its equivalence ratio. */
static double richness(const dw_density *d)
{
    const dw_network_sums *s = &d->state.sums;
    return s->air_kg_s > 0.0 ? d->reactants->stoichiometric_kg_kg * s->gas_kg_s / s->air_kg_s
                             : INFINITY;
}

/* One round: solve the network at this molar mass, burn what meets; the new molar mass. */
static dw_status burn(dw_density *d, double molar_mass, double *next, char *reason)
{
    const dw_chamber_gas gas = {molar_mass, d->gas.x};
    dw_status status = dw_network_at_density(d->net, gas, &d->at);
    if (status != DW_OK) {
        (void)snprintf(reason, DW_REASON_SIZE, "an opening cannot be worked out");
        return DW_ERR_NO_CONVERGE;
    }
    status = dw_network_solve(&d->at, &d->state, reason);
    d->rounds++;
    d->steps += d->state.evaluations;
    if (status != DW_OK) return status;
    const dw_network_sums *s = &d->state.sums;
    if (!(s->gas_kg_s > 0.0)) {
        (void)snprintf(reason, DW_REASON_SIZE,
                       "no gas flows: every burner is off or pushed back by the chamber");
        return DW_ERR_NO_CONVERGE;
    }
    status = dw_reactants_mean(d->reactants, &d->net->model->gases, s->air_kg_s / s->gas_kg_s,
                               &d->mean, next);
    if (status != DW_OK) {
        (void)dw_print(reason, DW_REASON_SIZE, "the chamber gas has no equilibrium at phi %.3g",
                       richness(d));
        return DW_ERR_NO_CONVERGE;
    }
    dw_gas_from_set(&d->net->model->gases, d->mean.x, &d->gas);
    return DW_OK;
}

/* Secant inside a bracket: the new molar mass less the old is above zero at the low end and below at
 * the high end. Plain substitution diverges in a cool chamber: richer is lighter, pulls harder, gets
 * leaner. What the stack base mixes with is the gas of the round before, so an early round may put its
 * end on the wrong side: a bracket that is narrow beside what is left is opened again. Where it shuts
 * again and again the molar mass jumps, as a stack does that turns round, and there is no such state. */
static dw_status by_molar_mass(dw_density *d, char *reason)
{
    double low = molar_mass_low, high = molar_mass_high;
    double m = 0.0282, previous = NAN, previous_gap = NAN;
    int reopened = 0;
    for (int i = 0; i < MAX_ROUNDS; i++) {
        double next;
        const dw_status status = burn(d, m, &next, reason);
        if (status != DW_OK) return status;
        const double gap = next - m;
        if (fabs(gap) <= molar_mass_rtol * m) return DW_OK;
        if (gap > 0.0) {
            low = m;
        } else {
            high = m;
        }
        const bool near = fabs(gap) <= molar_mass_noise * m;
        if (!near && high - low < 0.01 * fabs(gap)) {
            if (++reopened > MAX_REOPENED) break;
            low = molar_mass_low;
            high = molar_mass_high;
            previous = NAN;
            m = next;
            continue;
        }
        double guess = next;
        if (!isnan(previous) && gap != previous_gap) {
            guess = m - gap * (m - previous) / (gap - previous_gap);
        }
        if (!(guess > low && guess < high)) guess = 0.5 * (low + high);
        if (near && fabs(guess - m) <= 1e-15 * m) return DW_OK;
        previous = m;
        previous_gap = gap;
        m = guess;
    }
    (void)snprintf(reason, DW_REASON_SIZE, "%s", no_density);
    return DW_ERR_NO_CONVERGE;
}

/* ---- by richness ----------------------------------------------------------------------------- */

/* From the richest gas there is to nearly plain air. */
static const double leanest_phi = 1e-6, step_down = 0.87;
enum { RICH_STEPS = 48 };

/* ln of the richness that flows over the one that the gas was made with. */
typedef struct by_richness {
    dw_density *d;
    bool down_above, down_below;   /* the stack's direction where that was last above and below zero */
    char reason[DW_REASON_SIZE];
} by_richness;

static dw_status make_gas(dw_density *d, double phi, double *molar_mass)
{
    dw_equilibrium made = {.start = DW_START_COLD};
    const dw_gas_set *gases = &d->net->model->gases;
    const dw_status status = dw_reactants_mean(
        d->reactants, gases, d->reactants->stoichiometric_kg_kg / phi, &made, molar_mass);
    if (status == DW_OK) dw_gas_from_set(gases, made.x, &d->gas);
    return status;
}

static double richness_gap(double ln_phi, void *context)
{
    by_richness *b = context;
    dw_density *d = b->d;
    double molar_mass, next;
    if (make_gas(d, exp(ln_phi), &molar_mass) != DW_OK) return NAN;
    const dw_gas gas = d->gas;
    d->state.stack_base_pa = NAN;
    d->state.pressure_pa = 0.0;
    d->mean.start = DW_START_COLD;
    if (burn(d, molar_mass, &next, b->reason) != DW_OK) return NAN;
    d->gas = gas;
    const double gap = log(fmin(richness(d), DW_PHI_LIMIT)) - ln_phi;
    if (gap > 0.0) {
        b->down_above = d->state.down;
    } else {
        b->down_below = d->state.down;
    }
    return gap;
}

/* The richest gas first: of several steady states the one that is not made to look harmless. The gas is
 * richer than what flows at the rich end and leaner at the lean one. But a stack that can draw is taken to
 * draw, as it is by the secant: otherwise a setting would run backwards between two that do not. */
static dw_status by_richness_from_the_top(dw_density *d, bool backwards_too, bool *backwards, char *reason)
{
    by_richness b = {.d = d};
    bool turned = false, jumped = false;
    dw_root_end high = {NAN, NAN};
    for (int i = 0; i <= RICH_STEPS; i++) {
        const double ln_phi = i < RICH_STEPS ? log(DW_PHI_LIMIT) + i * log(step_down)
                                             : log(leanest_phi);
        const dw_root_end low = {ln_phi, richness_gap(ln_phi, &b)};
        const dw_root_end from = high;
        high = low;
        if (!(low.f > 0.0) || !(from.f <= 0.0)) continue;
        dw_root root;
        if (dw_root_between(richness_gap, &b, low, from, 0.0, 0.0, &root) != DW_OK) continue;
        double molar_mass, next;
        if (make_gas(d, exp(root.x), &molar_mass) == DW_OK &&
            burn(d, molar_mass, &next, b.reason) == DW_OK &&
            fabs(next - molar_mass) <= molar_mass_noise * molar_mass) {
            *backwards = d->state.down;
            if (backwards_too || !*backwards) return DW_OK;
            continue;
        }
        turned = turned || b.down_above != b.down_below;
        jumped = true;
    }
    if (jumped) (void)snprintf(reason, DW_REASON_SIZE, "%s", turned ? turns : jumps);
    return DW_ERR_NO_CONVERGE;
}

dw_status dw_density_solve(dw_density *d, char *reason)
{
    d->rounds = d->steps = 0;
    d->state = (dw_network_state){.pressure_pa = 0.0, .stack_base_pa = NAN};
    d->mean.start = DW_START_COLD;
    memcpy(d->gas.x, d->net->x_air, sizeof d->gas.x);
    dw_status status = by_molar_mass(d, reason);
    bool backwards = false;
    if (status != DW_OK) status = by_richness_from_the_top(d, false, &backwards, reason);
    if (status != DW_OK && backwards) status = by_richness_from_the_top(d, true, &backwards, reason);
    return status;
}

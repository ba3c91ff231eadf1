/* The two nested balances: chamber pressure inside, stack-base pressure outside. */
#include "network.h"

#include <float.h>
#include <math.h>
#include <stdio.h>

#include "constants.h"
#include "root1d.h"

/* Widest pressures that are looked at [Pa]: far beyond any kiln. */
static const double pressure_limit_pa = 2.0e4;

/* What is left of a balance beside what flows, above which the pressures are refined: a hundredth of what
 * an operating point promises. Few settings need it. */
static const double fine_enough = 1e-12;

/* More than this is no root but a jump: where the last chamber gas leaves the stack base its draft is gone at
 * once, and the gap goes over zero without being zero. */
static const double jump_from = 1e-6;

/* A search for the chamber pressure that balances the flows. */
typedef struct chamber_search {
    const dw_network_at *at;
    dw_network_at *fine;      /* the same, when its fine part is sought; else NULL */
    double pressure_pa;       /* then: the pressure itself                         */
    double stack_base_pa;
    int *evaluations;
} chamber_search;

static void evaluate(const chamber_search *c, double x, dw_network_sums *sums)
{
    *c->evaluations += 1;
    if (c->fine != NULL) c->fine->fine_pa = x;
    dw_network_flows(c->at, c->fine != NULL ? c->pressure_pa : x, c->stack_base_pa, sums);
}

/* Newton inside a bracket that only ever shrinks. The slope jumps where a port reverses, so a step that
 * does not help is replaced by halving. */
static dw_status balance_chamber(const chamber_search *c, double *root, dw_network_sums *sums)
{
    double low = -INFINITY, high = INFINITY, p = isfinite(*root) ? *root : 0.0;
    double reach = c->fine != NULL ? 1e-15 * (1.0 + fabs(c->pressure_pa)) : 1.0, last = INFINITY;
    for (int i = 0; i < 200; i++) {
        evaluate(c, p, sums);
        const double f = sums->net_kg_s;
        if (isnan(f)) return DW_ERR_NO_CONVERGE;
        if (fabs(p) > pressure_limit_pa) return DW_ERR_DOMAIN;
        *root = p;
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

static dw_status solve_chamber(const chamber_search *c, double *root, dw_network_sums *sums)
{
    const dw_status status = balance_chamber(c, root, sums);
    if (status == DW_OK) dw_network_mix(c->at, sums);
    return status;
}

dw_status dw_network_chamber(const dw_network_at *at, double stack_base_pa, double *pressure_pa,
                             dw_network_sums *sums, int *evaluations)
{
    const chamber_search c = {at, NULL, 0.0, stack_base_pa, evaluations};
    return solve_chamber(&c, pressure_pa, sums);
}

static double up_kg_s_of(const dw_network_sums *s)
{
    return s->flue_out_kg_s - s->flue_back_kg_s + s->relief_kg_s;
}

double dw_network_stack_gap_pa(const dw_network_at *at, const dw_network_sums *sums,
                               double stack_base_pa, dw_stack_state *stack)
{
    const dw_network *net = at->net;
    const double up_kg_s = up_kg_s_of(sums);
    /* The other direction is carried on steadily, so that the root may be seen from both sides. */
    const double tiny_kg_s = 1e-12, flow_kg_s = fmax(fabs(up_kg_s), tiny_kg_s);
    dw_stack_state state, other;
    double loss_pa = NAN, buoyancy_pa = 0.0;
    if (at->down) {
        if (dw_stack_down(&net->stack, flow_kg_s, &state) != DW_OK) return NAN;
        loss_pa = up_kg_s < 0.0 ? -state.loss_pa : state.loss_pa;
    } else {
        const double molar_mass = dw_network_mixed_molar_mass(at, sums->base_gas_frac, NULL);
        const double cp_j_kg_k =
            isnan(net->stack.ua_w_k) ? NAN : dw_network_base_heat_capacity_j_kg_k(at, sums);
        if (dw_stack_up(&net->stack, up_kg_s > 0.0 ? flow_kg_s : tiny_kg_s,
                        sums->base_temperature_k, molar_mass, cp_j_kg_k, &state) != DW_OK) {
            return NAN;
        }
        loss_pa = state.loss_pa;
        buoyancy_pa = state.buoyancy_pa;
        if (up_kg_s <= 0.0) {
            if (dw_stack_down(&net->stack, flow_kg_s, &other) != DW_OK) return NAN;
            loss_pa -= other.loss_pa;
        }
    }
    if (stack != NULL) *stack = state;
    /* What nearly cancels first, without rounding: what little the stack may lose is added to the rest. */
    return (-buoyancy_pa - net->room_minus_far_pa - stack_base_pa) + (loss_pa - at->base_fine_pa);
}

/* The outer function of the stack-base pressure. */
typedef struct outer {
    const dw_network_at *at;
    dw_network_at *fine;        /* the same, when fine parts are sought; else NULL */
    dw_network_state *state;
    dw_status status;           /* of the chamber, last                            */
} outer;

/* x is the stack-base pressure, or its fine part. Begins the chamber where the last one ended: asked twice
 * at one place it may come out a rounding error apart. */
static double gap_at(double x, void *context)
{
    outer *o = context;
    dw_network_state *s = o->state;
    if (o->fine != NULL) {
        o->fine->base_fine_pa = x;
    } else {
        s->stack_base_pa = x;
    }
    const chamber_search c = {o->at, o->fine, s->pressure_pa, s->stack_base_pa, &s->evaluations};
    o->status = solve_chamber(&c, o->fine != NULL ? &o->fine->fine_pa : &s->pressure_pa, &s->sums);
    if (o->status != DW_OK) return NAN;
    const double gap_pa = dw_network_stack_gap_pa(o->at, &s->sums, s->stack_base_pa, &s->stack);
    if (isnan(gap_pa)) o->status = DW_ERR_NO_CONVERGE;
    return gap_pa;
}

/* A bracket by steps from a guess that grow until the sign changes: for a gap that falls steadily. The first
 * goes a little beyond where the slope of the last solve puts the root. */
static bool bracket_from(outer *o, double guess_pa, dw_root_end *low, dw_root_end *high)
{
    dw_root_end a = {guess_pa, gap_at(guess_pa, o)};
    const double slope = o->state->gap_slope, least_pa = 1e-12 * (1.0 + fabs(guess_pa));
    double step = slope < 0.0 ? fmax(-1.1 * fabs(a.f) / slope, least_pa) : 1e-3 * (1.0 + fabs(guess_pa));
    for (int i = 0; i < 60 && isfinite(a.f); i++) {
        const double next = a.f > 0.0 ? a.x + step : a.x - step;
        const dw_root_end b = {next, gap_at(next, o)};
        if (!isfinite(b.f)) return false;
        if ((a.f > 0.0) != (b.f > 0.0)) {
            *low = a.f > 0.0 ? a : b;
            *high = a.f > 0.0 ? b : a;
            return true;
        }
        a = b;
        step *= 8.0;
    }
    return false;
}

/* Steps in which several crossings are looked for [Pa]. */
static double fine_step_pa(double pull_pa)
{
    return 0.02 * (1.0 + pull_pa);
}

/* A bracket of one such step on each side of a guess, falling as the wanted crossing does. */
static bool bracket_beside(outer *o, double guess_pa, double pull_pa, dw_root_end *low, dw_root_end *high)
{
    const double step = fine_step_pa(pull_pa);
    low->x = guess_pa - step;
    low->f = gap_at(low->x, o);
    high->x = guess_pa + step;
    high->f = gap_at(high->x, o);
    return low->f > 0.0 && high->f <= 0.0;
}

/* A bracket from below: at the strongest pull there is, the stack needs more than it gets. */
static bool bracket_upwards(outer *o, double pull_pa, bool several, dw_root_end *low, dw_root_end *high)
{
    double step = several ? fine_step_pa(pull_pa) : 0.25 * (1.0 + pull_pa);
    low->x = -pull_pa - o->at->net->room_minus_far_pa - 1e-6 - 1e-9 * pull_pa;
    low->f = gap_at(low->x, o);
    /* Going down the base lies below; the bracket is sought both ways. */
    while (o->at->down && low->f <= 0.0 && low->x > -pressure_limit_pa) {
        low->x -= 4.0 * fabs(low->x) + 1.0;
        low->f = gap_at(low->x, o);
    }
    if (!(low->f > 0.0)) return false;
    double x = low->x;
    for (int i = 0; i < 400 && x < pressure_limit_pa; i++) {
        x += step;
        const dw_root_end next = {x, gap_at(x, o)};
        if (isnan(next.f)) return false;
        if (next.f <= 0.0) {
            *high = next;
            return true;
        }
        *low = next;
        if (!several || i > 120) step *= 2.0;
    }
    return false;
}

/* What is left of the stack's balance as a flow: the loss grows with the square of the flow. */
static void measure(dw_network_state *s)
{
    s->stack_kg_s = up_kg_s_of(&s->sums);
    s->base_left_kg_s = s->base_residual_pa * fabs(s->stack_kg_s) / (2.0 * s->stack.loss_pa);
}

/* ---- fine parts ------------------------------------------------------------------------------ */

static double base_enters_kg_s(const dw_network_state *s)
{
    return s->sums.flue_out_kg_s + fmax(s->sums.relief_kg_s, 0.0) + fmax(-s->stack_kg_s, 0.0);
}

static bool closes_finely(const dw_network_at *at, const dw_network_state *s)
{
    return fabs(s->sums.net_kg_s) <= fine_enough * s->sums.in_kg_s &&
           (!at->net->has_stack ||
            fabs(s->base_left_kg_s) <= fine_enough * base_enters_kg_s(s));
}

/* Moves the base's fine part to what the stack needs for the flow it was given, so that the pressures fit
 * exactly and what enters the base differs from what the stack carries. Where the stack hardly loses
 * anything, a rounding error of the pressure is far more flow in the stack than in the flues. */
static void leave_it_to_the_flow(outer *o)
{
    dw_network_state *s = o->state, before = *s;
    const double fine_pa = o->fine->fine_pa, base_fine_pa = o->fine->base_fine_pa;
    (void)gap_at(base_fine_pa + s->base_residual_pa, o);
    s->stack = before.stack;
    s->base_residual_pa = 0.0;
    s->base_left_kg_s = up_kg_s_of(&s->sums) - s->stack_kg_s;
    if (o->status == DW_OK && fabs(s->base_left_kg_s) < fabs(before.base_left_kg_s)) return;
    before.evaluations = s->evaluations;
    *s = before;
    o->fine->fine_pa = fine_pa;
    o->fine->base_fine_pa = base_fine_pa;
}

/* The root of the base's fine part. False: there is none near, or the search failed. */
static bool refine_base(outer *o)
{
    dw_network_state *s = o->state;
    const double scale_pa = 1.0 + fabs(s->stack_base_pa);
    dw_root_end a = {0.0, gap_at(0.0, o)};
    dw_root_end b = {copysign(1e-16 * scale_pa, a.f), NAN};
    dw_root root = {0.0, 0.0, 0};
    while (o->status == DW_OK && a.f != 0.0) {
        b.f = gap_at(b.x, o);
        if ((a.f > 0.0) != (b.f > 0.0)) break;
        b.x *= 8.0;
        if (fabs(b.x) > 1e-9 * scale_pa) return false; /* not near at all: it was no root */
    }
    if (o->status != DW_OK) return false;
    const double x_tol = 1e-9 * DBL_EPSILON * scale_pa;
    const bool rising = a.x < b.x;
    if (a.f != 0.0 && dw_root_between(gap_at, o, rising ? a : b, rising ? b : a, x_tol, 0.0,
                                      &root) != DW_OK) {
        return false;
    }
    s->base_residual_pa = gap_at(root.x, o);
    if (o->status != DW_OK) return false;
    measure(s);
    return true;
}

/* Both pressures once more, about the place that was found. A pressure of 50 Pa has steps of 7e-15 Pa; where
 * only 1e-6 Pa drive a flue, one such step is 7e-9 of its flow, and no pair of numbers balances better. The
 * fine part is a number of its own with steps of its own. */
static void refine(dw_network_at *at, dw_network_state *s)
{
    outer o = {at, at, s, DW_OK};
    const dw_network_state before = *s;
    bool done;
    if (!at->net->has_stack) {
        const chamber_search c = {at, at, s->pressure_pa, s->stack_base_pa, &s->evaluations};
        done = solve_chamber(&c, &at->fine_pa, &s->sums) == DW_OK;
    } else {
        done = refine_base(&o);
        if (done && !closes_finely(at, s)) leave_it_to_the_flow(&o);
    }
    if (done) return;
    const int evaluations = s->evaluations;
    *s = before;
    s->evaluations = evaluations;
    at->fine_pa = at->base_fine_pa = 0.0;
}

/* ---- both balances --------------------------------------------------------------------------- */

/* How a search along one branch ended. */
typedef enum branch_end {
    FLOWS,        /* solved, and in the branch's direction                              */
    NO_FLOW,      /* solved: nothing flows in its direction                             */
    BEYOND,       /* a pressure would leave 20 kPa                                      */
    FAILED        /* the search itself: no statement about the kiln                     */
} branch_end;

static branch_end failed(const outer *o)
{
    return o->status == DW_ERR_DOMAIN ? BEYOND : FAILED;
}

/* No gas in the stack is lighter: its molar mass lies between those of chamber gas and air, and it takes up
 * heat where the air outside is the hottest of all. */
static double lightest_kg_m3(const dw_network_at *at)
{
    const dw_network *net = at->net;
    const double hottest_k = fmax(fmax(net->gas_temperature_k, net->kiln->site.room_temperature_k),
                                  net->far_temperature_k);
    return dw_ideal_gas_density_kg_m3(fmin(at->gas.molar_mass_kg_mol, net->air.molar_mass_kg_mol),
                                      hottest_k, net->pressure_pa_abs);
}

/* With `several` crossings the first from below is the largest flow. It moves steadily with the gas, so from
 * one round to the next it is looked for beside the guess, and only then from below. */
static branch_end search_branch(dw_network_at *at, dw_network_state *state, double guess_pa, bool several)
{
    const dw_network *net = at->net;
    outer o = {at, NULL, state, DW_OK};
    const double rho_min = lightest_kg_m3(at);
    const double pull_pa = (net->far_density_kg_m3 - rho_min) * DW_G_M_S2 * net->stack.height_m;
    dw_root_end low = {NAN, NAN}, high = {NAN, NAN};
    const bool near = isfinite(guess_pa) && (several ? bracket_beside(&o, guess_pa, pull_pa, &low, &high)
                                                     : bracket_from(&o, guess_pa, &low, &high));
    if (!near) {
        if (!bracket_upwards(&o, pull_pa, several, &low, &high)) {
            if (o.status != DW_OK) return failed(&o);
            /* An upward flow needs no less than the strongest pull: there is none. */
            return low.f > 0.0 || at->down ? BEYOND : NO_FLOW;
        }
    }
    dw_root root;
    const double x_tol = 1e-14 * (1.0 + pull_pa);
    if (dw_root_between(gap_at, &o, low, high, x_tol, 0.0, &root) != DW_OK) return failed(&o);
    state->base_residual_pa = gap_at(root.x, &o);
    if (o.status != DW_OK) return failed(&o);
    state->gap_slope = fmin((high.f - low.f) / (high.x - low.x), 0.0);
    measure(state);
    if (at->down ? state->stack_kg_s >= 0.0 : state->stack_kg_s <= 0.0) return NO_FLOW;
    if (!closes_finely(at, state)) refine(at, state);
    return fabs(state->base_left_kg_s) <= jump_from * base_enters_kg_s(state) ? FLOWS : NO_FLOW;
}

/* With NTU given and no relief opening the gap falls steadily, and any bracket does. With UA it may cross
 * zero several times; with a relief opening too, since the air that it lets in cools the stack. */
static branch_end solve_branch(dw_network_at *at, dw_network_state *state, double guess_pa)
{
    const dw_network *net = at->net;
    const bool several = !isnan(net->stack.ua_w_k) || net->kiln->stack.relief_area_m2 > 0.0;
    return search_branch(at, state, guess_pa, several && !at->down);
}

static const char beyond_reason[] = "no chamber pressure within 20 kPa balances the flows";
static const char failed_reason[] =
    "the search for the pressures failed, which says nothing about the kiln";

static dw_status give_up(branch_end how, char *reason)
{
    (void)snprintf(reason, DW_REASON_SIZE, "%s",
                   how == NO_FLOW  ? "the stack stalls: no flow up or down balances its draft"
                   : how == BEYOND ? beyond_reason
                                   : failed_reason);
    return DW_ERR_NO_CONVERGE;
}

static branch_end solve_without_stack(dw_network_at *at, dw_network_state *state)
{
    state->stack_base_pa = NAN;
    state->stack_kg_s = 0.0;
    state->base_residual_pa = state->base_left_kg_s = 0.0;
    const dw_status status = dw_network_chamber(at, 0.0, &state->pressure_pa, &state->sums,
                                                &state->evaluations);
    if (status != DW_OK) return status == DW_ERR_DOMAIN ? BEYOND : FAILED;
    if (!closes_finely(at, state)) refine(at, state);
    return FLOWS;
}

dw_status dw_network_solve(dw_network_at *at, dw_network_state *state, char *reason)
{
    const double guess_pa = state->stack_base_pa;
    const bool was_down = state->down;
    state->evaluations = 0;
    state->down = at->down = false;
    at->fine_pa = at->base_fine_pa = 0.0;
    branch_end up = NO_FLOW, down = NO_FLOW;
    if (!at->net->has_stack) {
        up = solve_without_stack(at, state);
    } else {
        up = solve_branch(at, state, was_down ? NAN : guess_pa);
        at->down = up != FLOWS;
        if (at->down) down = solve_branch(at, state, was_down ? guess_pa : NAN);
    }
    /* No flow is a statement about the kiln: both directions must have been solved. */
    if (up != FLOWS && down != FLOWS) return give_up(up > down ? up : down, reason);
    state->down = at->down;
    return DW_OK;
}

#include "equilibrium.h"

#include <float.h>
#include <math.h>
#include <string.h>

#include "constants.h"

/* Unknowns: one potential each for carbon as CO2, hydrogen as H2O, the oxygen excess and nitrogen,
 * and the logarithm of the moles of gas. In this basis (C, H, E, N) the two gases that hold nearly
 * everything, CO2 and H2O, have no E at all, so the balance of E is a sum of small terms of its
 * own size and keeps its digits where a balance of O would lose them. */
enum { K_C, K_H, K_E, K_N, K_COUNT };

enum { MAX_ITERATIONS = 80 };

/* No gas moves by more than 0.1 in ln x by a step of this size. */
#define SMALL_STEP 0.01
/* Convergence is quadratic: such a step leaves some 1e-12 behind. */
#define TINY_STEP 1e-6

/* Sums over the gases that a Newton step needs: of the basis, then of its products, [k][m] with m <= k
 * row by row. As one run of numbers, compilers turn them into vector instructions. */
enum { SUM_COUNT = DW_GAS_WEIGHT_COUNT };

/* A problem for the Newton iteration: ln x = offset + basis . potential, totals to meet. */
typedef struct problem {
    int count;
    const double (*weight)[SUM_COUNT]; /* of each gas: basis, products                   */
    double offset[DW_GAS_MAX];         /* -g/RT - ln p; -inf: holds an absent element    */
    double total[K_COUNT];             /* wanted                                         */
    bool active[K_COUNT];              /* an absent element takes no part                */
    double argon;                      /* moles of the inert gas                         */
} problem;

/* Where the product of two members of the basis stands among the sums. */
static inline int product_at(int k, int m)
{
    return k >= m ? K_COUNT + k * (k + 1) / 2 + m : K_COUNT + m * (m + 1) / 2 + k;
}

/* Solves the 5x5 symmetric Newton system: L D L' on the potentials (positive definite, graded, the
 * excess last so that its small pivot keeps its digits), then the moles. 0 when not definite. */
static int newton_step(const double sums[SUM_COUNT], double corner, const double r[K_COUNT],
                       double r_gas, const bool active[K_COUNT], double step[K_COUNT],
                       double *step_gas)
{
    static const int order[K_COUNT] = {K_N, K_C, K_H, K_E};
    double l[K_COUNT][K_COUNT], inverse[K_COUNT], y[K_COUNT], z[K_COUNT];
    double zz = 0.0, zy = 0.0;
    for (int i = 0; i < K_COUNT; i++) {
        const int row = order[i];
        double v[K_COUNT]; /* row i of L D */
        double pivot = sums[product_at(row, row)];
        y[i] = r[row];
        z[i] = sums[row];
        for (int j = 0; j < i; j++) {
            v[j] = sums[product_at(row, order[j])];
            for (int k = 0; k < j; k++) v[j] -= v[k] * l[j][k];
        }
        for (int j = 0; j < i; j++) {
            l[i][j] = v[j] * inverse[j];
            pivot -= v[j] * l[i][j];
            y[i] -= l[i][j] * y[j];
            z[i] -= l[i][j] * z[j];
        }
        if (!active[row]) { /* its sums are zero: nothing moves */
            pivot = 1.0;
            y[i] = z[i] = 0.0;
        }
        if (!(pivot > 0.0)) return 0;
        inverse[i] = 1.0 / pivot;
        zz += z[i] * z[i] * inverse[i];
        zy += z[i] * y[i] * inverse[i];
    }
    const double schur = corner - zz;
    if (!(fabs(schur) > 0.0)) return 0;
    *step_gas = (r_gas - zy) / schur;
    for (int i = K_COUNT - 1; i >= 0; i--) {
        y[i] = (y[i] - z[i] * *step_gas) * inverse[i];
        for (int k = i + 1; k < K_COUNT; k++) y[i] -= l[k][i] * y[k];
        step[order[i]] = y[i];
    }
    return 1;
}

/* Do the totals come out? Guards against a standstill far from the solution. */
static bool closes(const problem *p, const double *x, double gas)
{
    double all = 0.0, s[K_COUNT] = {0.0};
    for (int j = 0; j < p->count; j++) {
        all += x[j];
        for (int k = 0; k < K_COUNT; k++) s[k] += p->weight[j][k] * x[j];
    }
    const double oxygen = fabs(p->total[K_E]) + 2.0 * p->total[K_C] + 0.5 * p->total[K_H];
    const double scale[K_COUNT] = {p->total[K_C], p->total[K_H], oxygen, p->total[K_N]};
    for (int k = 0; k < K_COUNT; k++) {
        if (p->active[k] && !(fabs(s[k] * gas - p->total[k]) <= 1e-12 * scale[k])) return false;
    }
    return fabs(all + p->argon / gas - 1.0) <= 1e-12;
}

/* How far the damping lets a step go [rp1311]: a gas that matters moves by a factor e^2 at most, and one
 * that does not may not grow past x = 1e-4 in one step. */
static double damping(const problem *p, const double *ln_x, const double step[K_COUNT],
                      double step_gas)
{
    double factor = 5.0 * fabs(step_gas) > 2.0 ? 2.0 / (5.0 * fabs(step_gas)) : 1.0;
    for (int j = 0; j < p->count; j++) {
        double d = 0.0;
        for (int k = 0; k < K_COUNT; k++) d += p->weight[j][k] * step[k];
        if (ln_x[j] > -18.4206807) { /* 1e-8 */
            if (factor * fabs(d) > 2.0) factor = 2.0 / fabs(d);
        } else if (d > 0.0) {
            const double room = -9.2103404 - ln_x[j]; /* 1e-4 */
            if (factor * d > room) factor = fmax(room, 1.0) / d;
        }
    }
    return factor;
}

/* How far ln x of each gas moves by a step. */
static void moves(const problem *p, const double step[K_COUNT], double *restrict d)
{
    const double c = step[K_C], h = step[K_H], e = step[K_E], n = step[K_N];
    for (int j = 0; j < p->count; j++) {
        const double *w = p->weight[j];
        d[j] = (w[K_C] * c + w[K_H] * h) + (w[K_E] * e + w[K_N] * n);
    }
}

/* Moves the gases by a small step, |d ln x| < 0.1 each: its series instead of another exponential. To
 * d^7 it leaves 3e-13 of x at most; after a tiny step d^3 is nothing. */
static void move_a_little(const problem *p, const double step[K_COUNT], bool tiny,
                          double *restrict x)
{
    double d[DW_GAS_MAX];
    moves(p, step, d);
    if (tiny) {
        for (int j = 0; j < p->count; j++) x[j] += x[j] * d[j] * (1.0 + 0.5 * d[j]);
    } else {
        for (int j = 0; j < p->count; j++) {
            const double e = d[j], e2 = e * e;
            const double odd = 1.0 / 6.0 + e2 * (1.0 / 120.0 + e2 / 5040.0);
            const double even = 0.5 + e2 * (1.0 / 24.0 + e2 / 720.0);
            x[j] += x[j] * (e + e2 * (even + e * odd));
        }
    }
}

static void gases_at(const problem *p, const double potential[K_COUNT], double *ln_x, double *x)
{
    for (int j = 0; j < p->count; j++) {
        const double *w = p->weight[j];
        ln_x[j] = p->offset[j] + w[K_C] * potential[K_C] + w[K_H] * potential[K_H] +
                  w[K_E] * potential[K_E] + w[K_N] * potential[K_N];
        x[j] = exp(ln_x[j]);
    }
}

static void sum_up(const problem *p, const double *x, double sums[SUM_COUNT], double *all)
{
    double total = 0.0, s[SUM_COUNT] = {0.0};
    for (int j = 0; j < p->count; j++) {
        total += x[j];
        for (int m = 0; m < SUM_COUNT; m++) s[m] += p->weight[j][m] * x[j];
    }
    memcpy(sums, s, sizeof s);
    *all = total;
}

/* Damped Newton. potential and ln_gas hold the guess and receive the solution; x per gas. */
static dw_status iterate(const problem *p, double potential[K_COUNT], double *ln_gas, double *x,
                         int *iterations)
{
    double ln_x[DW_GAS_MAX]; /* as of the last step that was not small: the damping needs no more */
    double sums[SUM_COUNT], all;
    double gas = exp(*ln_gas);
    gases_at(p, potential, ln_x, x);
    for (int iteration = 0; iteration < MAX_ITERATIONS; iteration++) {
        sum_up(p, x, sums, &all);
        if (!(all < 1e80)) return DW_ERR_NO_CONVERGE;
        *iterations += 1;
        const double each = 1.0 / gas; /* of a mole, as a share */
        double r[K_COUNT], step[K_COUNT], step_gas;
        for (int k = 0; k < K_COUNT; k++) r[k] = p->total[k] * each - sums[k];
        if (!newton_step(sums, all - 1.0, r, 1.0 - all - p->argon * each, p->active, step,
                         &step_gas)) {
            return DW_ERR_NO_CONVERGE;
        }
        double largest = fabs(step_gas);
        for (int k = 0; k < K_COUNT; k++) largest = fmax(largest, fabs(step[k]));
        if (!(largest < DBL_MAX)) return DW_ERR_NO_CONVERGE;
        const double factor = largest > 0.1 ? damping(p, ln_x, step, step_gas) : 1.0;
        for (int k = 0; k < K_COUNT; k++) potential[k] += factor * step[k];
        *ln_gas += factor * step_gas;
        gas = exp(*ln_gas);
        if (largest < SMALL_STEP) {
            move_a_little(p, step, largest < TINY_STEP, x);
        } else {
            gases_at(p, potential, ln_x, x);
        }
        if (largest < TINY_STEP && closes(p, x, gas)) return DW_OK;
    }
    return DW_ERR_NO_CONVERGE;
}

/* Guess from the seven gases that hold nearly everything. With u = sqrt(x_O2) the dissociation of
 * CO2 and H2O gives CO = C k1/(k1+u), H2 = h k2/(k2+u), and one equation remains for u. */
static double guess_root_o2(double c, double h, double excess, double gas, double k1, double k2)
{
    double ln_low, ln_high;
    const double ln_min = -150.0;
    if (excess > 0.0) {
        const double u0 = sqrt(excess / (2.0 * gas));
        ln_low = log(u0);
        /* u is below u0 and the cube root of the dissociation together, so below twice the larger. */
        ln_high = fmax(ln_low, log((c * k1 + h * k2) / gas) / 3.0) + 1.0;
        ln_low -= 1e-3;
    } else {
        ln_low = ln_min;
        ln_high = log((c * k1 + h * k2) / (2.0 * gas)) / 3.0 + 1.0;
    }
    double y = ln_high;
    if (excess < 0.0) {
        /* Rich and far from the stoichiometric point: the quadratic without free oxygen. */
        const double m = fmin(-excess, 0.98 * (c + h));
        const double b = m * (k1 + k2) - c * k1 - h * k2, q = (m - c - h) * k1 * k2;
        const double root = sqrt(fmax(b * b - 4.0 * m * q, 0.0));
        const double u = b > 0.0 ? -2.0 * q / (b + root) : (root - b) / (2.0 * m);
        if (u > 0.0) y = fmin(log(u), ln_high);
    } else if (excess > 0.0) {
        y = ln_low + 1e-3;
    }
    for (int i = 0; i < 60; i++) {
        const double u = exp(y);
        const double co = c * k1 / (k1 + u), h2 = h * k2 / (k2 + u);
        const double f = 2.0 * gas * u * u - co - h2 - excess;
        const double slope = 4.0 * gas * u * u + co * u / (k1 + u) + h2 * u / (k2 + u);
        if (f > 0.0) {
            ln_high = y;
        } else {
            ln_low = y;
        }
        double next = y - f / slope;
        if (!(next > ln_low && next < ln_high)) next = 0.5 * (ln_low + ln_high);
        if (fabs(next - y) < 1e-3) return next;
        y = next;
    }
    return y;
}

static void first_guess(const dw_gas_set *set, const dw_gas_potentials *at, double ln_p,
                        const dw_elements *el, double potential[K_COUNT], double *ln_gas)
{
    const double *g = at->g_rt;
    const int *role = set->role;
    const double c = el->n[DW_C], h = 0.5 * el->n[DW_H], n2 = 0.5 * el->n[DW_N];
    const double gas = c + h + n2 + el->n[DW_AR] + fmax(0.5 * el->excess_o, 0.0);
    /* x_CO sqrt(x_O2)/x_CO2 and x_H2 sqrt(x_O2)/x_H2O at this pressure. */
    const double ln_k1 = g[role[DW_ROLE_CO2]] - g[role[DW_ROLE_CO]] - 0.5 * g[role[DW_ROLE_O2]] - 0.5 * ln_p;
    const double ln_k2 = g[role[DW_ROLE_H2O]] - g[role[DW_ROLE_H2]] - 0.5 * g[role[DW_ROLE_O2]] - 0.5 * ln_p;
    const double k1 = exp(ln_k1), k2 = exp(ln_k2);
    const double ln_u = guess_root_o2(c, h, el->excess_o, gas, k1, k2);
    const double u = exp(ln_u);

    potential[K_E] = 0.5 * (2.0 * ln_u + g[role[DW_ROLE_O2]] + ln_p);
    potential[K_C] = c > 0.0 ? log(c * u / (k1 + u) / gas) + g[role[DW_ROLE_CO2]] + ln_p : 0.0;
    potential[K_H] = h > 0.0 ? 0.5 * (log(h * u / (k2 + u) / gas) + g[role[DW_ROLE_H2O]] + ln_p) : 0.0;
    potential[K_N] = n2 > 0.0 ? 0.5 * (log(n2 / gas) + g[role[DW_ROLE_N2]] + ln_p) : 0.0;
    *ln_gas = log(gas);
}

/* Guess beside solid carbon for a gas with hardly any oxygen: CO holds it, H2 the hydrogen. */
static void starved_guess(const dw_gas_set *set, const dw_gas_potentials *at, double ln_p,
                          const dw_elements *el, double potential[K_COUNT], double *ln_gas)
{
    const double *g = at->g_rt;
    const int *role = set->role;
    const double h2 = fmax(0.5 * el->n[DW_H], 1e-6 * el->n[DW_O]), n2 = 0.5 * el->n[DW_N];
    const double gas = el->n[DW_O] + h2 + n2 + el->n[DW_AR];
    potential[K_C] = 0.0;
    potential[K_E] = log(el->n[DW_O] / gas) + g[role[DW_ROLE_CO]] + ln_p - at->graphite_g_rt;
    potential[K_H] = 0.5 * (log(h2 / gas) + g[role[DW_ROLE_H2]] + ln_p + potential[K_E]);
    potential[K_N] = n2 > 0.0 ? 0.5 * (log(n2 / gas) + g[role[DW_ROLE_N2]] + ln_p) : 0.0;
    *ln_gas = log(gas);
}

/* The same gas reached from a leaner one in steps: for cool rich gases, full of CH4, that the guess
 * misses. The oxygen excess is the only total that moves. Where a step is too long a shorter one is too:
 * of 3 million random gases none was found that it would have helped. */
static dw_status approach(problem *p, double potential[K_COUNT], double *ln_gas, double *x,
                          int *iterations)
{
    const double excess = p->total[K_E];
    double done = 0.0, step = 0.25;
    dw_status status = DW_OK;
    while (status == DW_OK && done < 1.0) {
        done = fmin(done + step, 1.0);
        step *= 1.5;
        p->total[K_E] = done * excess;
        status = iterate(p, potential, ln_gas, x, iterations);
    }
    return status;
}

static void set_up(const dw_gas_set *set, const dw_gas_potentials *at, double ln_p,
                   const dw_elements *el, problem *p)
{
    p->total[K_C] = el->n[DW_C];
    p->total[K_H] = el->n[DW_H];
    p->total[K_E] = el->excess_o;
    p->total[K_N] = el->n[DW_N];
    p->argon = el->n[DW_AR];
    p->count = set->count;
    p->weight = set->weight;
    for (int j = 0; j < set->count; j++) p->offset[j] = -at->g_rt[j] - ln_p;
    p->offset[set->role[DW_ROLE_AR]] = -INFINITY;
    for (int k = 0; k < K_COUNT; k++) {
        p->active[k] = k == K_E || p->total[k] > 0.0;
        for (int j = 0; j < set->count && !p->active[k]; j++) {
            if (set->weight[j][k] != 0.0) p->offset[j] = -INFINITY;
        }
    }
}

/* Turns the problem into the one beside solid carbon. The potential of carbon is then known,
 * mu_C = g(graphite), which fixes the CO2 potential as g + 2 E, and C has no balance to meet:
 * the excess becomes O - H/2. */
static void add_graphite(problem *p, double graphite_g_rt, double (*weight)[SUM_COUNT])
{
    for (int j = 0; j < p->count; j++) {
        double basis[K_COUNT];
        memcpy(basis, p->weight[j], sizeof basis);
        p->offset[j] += basis[K_C] * graphite_g_rt;
        basis[K_E] += 2.0 * basis[K_C];
        basis[K_C] = 0.0;
        dw_gas_weigh(basis, weight[j]);
    }
    p->weight = (const double (*)[SUM_COUNT])weight;
    p->total[K_E] += 2.0 * p->total[K_C];
    p->active[K_C] = false;
}

static dw_status solve_beside_graphite(const dw_gas_set *set, const dw_gas_potentials *at,
                                       const dw_elements *el, problem *p, double potential[K_COUNT],
                                       double *ln_gas, double *x, double *graphite_mol,
                                       int *iterations)
{
    double weight[DW_GAS_MAX][SUM_COUNT];
    add_graphite(p, at->graphite_g_rt, weight);
    const dw_status status = iterate(p, potential, ln_gas, x, iterations);
    if (status != DW_OK) return status;
    potential[K_C] = at->graphite_g_rt + 2.0 * potential[K_E];
    double in_gas = 0.0;
    for (int j = 0; j < set->count; j++) in_gas += set->weight[j][K_C] * x[j];
    *graphite_mol = el->n[DW_C] - in_gas * exp(*ln_gas);
    return *graphite_mol >= 0.0 ? DW_OK : DW_ERR_NO_CONVERGE;
}

/* From the first guess, moved by `off`, which then tells how far the guess was off. */
static dw_status solve_from_guess(const dw_gas_set *set, const dw_gas_potentials *at, double ln_p,
                                  const dw_elements *el, const problem *p, double off[DW_GUESS_COUNT],
                                  double potential[K_COUNT], double *ln_gas, double *x, int *iterations)
{
    double guess[K_COUNT], ln_guess;
    first_guess(set, at, ln_p, el, guess, &ln_guess);
    for (int k = 0; k < K_COUNT; k++) potential[k] = guess[k] + off[k];
    *ln_gas = ln_guess + off[K_COUNT];
    const dw_status status = iterate(p, potential, ln_gas, x, iterations);
    const bool solved = status == DW_OK;
    for (int k = 0; k < K_COUNT; k++) off[k] = solved ? potential[k] - guess[k] : 0.0;
    off[K_COUNT] = solved ? *ln_gas - ln_guess : 0.0;
    return status;
}

static void clear_solution(const dw_gas_set *set, dw_equilibrium *state)
{
    for (int j = 0; j < set->count; j++) state->x[j] = NAN;
    state->gas_mol = state->graphite_mol = state->carbon_activity = state->log10_po2_bar = NAN;
    state->start = DW_START_COLD;
}

dw_status dw_equilibrium_solve(const dw_gas_set *set, const dw_gas_potentials *potentials,
                               const dw_elements *elements, double pressure_pa_abs, bool graphite,
                               dw_equilibrium *state)
{
    if (set == NULL || potentials == NULL || elements == NULL || state == NULL) return DW_ERR_ARG;
    double potential[K_COUNT], ln_gas = 0.0, x[DW_GAS_MAX];
    double off[DW_GUESS_COUNT] = {0.0}; /* added to the first guess, then how far that was off */
    const bool warm = state->start == DW_START_WARM;
    if (state->start == DW_START_BESIDE) memcpy(off, state->off, sizeof off);
    if (warm) {
        memcpy(potential, state->potential, sizeof potential);
        ln_gas = log(state->gas_mol);
    }
    clear_solution(set, state);
    state->iterations = 0;
    const double *n = elements->n;
    if (!isfinite(n[DW_C] + n[DW_H] + n[DW_O] + n[DW_N] + n[DW_AR] + elements->excess_o)) {
        return DW_ERR_ARG;
    }
    if (!(pressure_pa_abs > 0.0 && isfinite(pressure_pa_abs)) || !(n[DW_O] > 0.0) ||
        !(n[DW_C] >= 0.0 && n[DW_H] >= 0.0 && n[DW_N] >= 0.0 && n[DW_AR] >= 0.0) ||
        !(n[DW_C] + n[DW_H] > 0.0) || (graphite && set->graphite < 0)) {
        return DW_ERR_DOMAIN;
    }
    const double ln_p = log(pressure_pa_abs / DW_BAR_PA);

    problem p;
    dw_status status = DW_ERR_NO_CONVERGE;
    double graphite_mol = 0.0;
    bool solid = false;
    /* With less oxygen than carbon the gas alone is a strange place: look beside the carbon first. */
    if (graphite && n[DW_O] < 1.02 * n[DW_C]) {
        set_up(set, potentials, ln_p, elements, &p);
        starved_guess(set, potentials, ln_p, elements, potential, &ln_gas);
        status = solve_beside_graphite(set, potentials, elements, &p, potential, &ln_gas, x,
                                       &graphite_mol, &state->iterations);
        solid = status == DW_OK;
        if (!solid) graphite_mol = 0.0;
    }
    double ln_activity = 0.0;
    if (!solid) {
        set_up(set, potentials, ln_p, elements, &p);
        if (warm) status = iterate(&p, potential, &ln_gas, x, &state->iterations);
        if (status != DW_OK) {
            status = solve_from_guess(set, potentials, ln_p, elements, &p, off, potential, &ln_gas, x,
                                      &state->iterations);
        }
        if (status != DW_OK && elements->excess_o < 0.0) {
            dw_elements leaner = *elements;
            leaner.excess_o *= 0.25;
            first_guess(set, potentials, ln_p, &leaner, potential, &ln_gas);
            status = approach(&p, potential, &ln_gas, x, &state->iterations);
        }
        if (status != DW_OK) return status;
        ln_activity = potential[K_C] - 2.0 * potential[K_E] - potentials->graphite_g_rt;
        if (graphite && n[DW_C] > 0.0 && ln_activity > 0.0) {
            status = solve_beside_graphite(set, potentials, elements, &p, potential, &ln_gas, x,
                                           &graphite_mol, &state->iterations);
            if (status != DW_OK) return status;
            ln_activity = 0.0;
        }
    }

    const double gas = exp(ln_gas);
    memcpy(state->x, x, sizeof x[0] * (size_t)set->count);
    state->x[set->role[DW_ROLE_AR]] = n[DW_AR] / gas;
    memcpy(state->potential, potential, sizeof potential);
    memcpy(state->off, off, sizeof off);
    state->gas_mol = gas;
    state->graphite_mol = graphite_mol;
    state->carbon_activity = n[DW_C] > 0.0 ? exp(ln_activity) : 0.0;
    state->log10_po2_bar =
        (2.0 * potential[K_E] - potentials->g_rt[set->role[DW_ROLE_O2]]) / 2.302585092994046;
    state->start = graphite_mol == 0.0 ? DW_START_WARM : DW_START_COLD;
    return DW_OK;
}

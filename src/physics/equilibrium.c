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

/* A problem for the Newton iteration: species rows (basis and -g/RT - ln p), totals to meet. */
typedef struct problem {
    int count;
    int gas[DW_GAS_MAX];              /* index in the set                         */
    double row[DW_GAS_MAX][K_COUNT];
    double offset[DW_GAS_MAX];        /* ln x = offset + row . potential          */
    double total[K_COUNT];            /* wanted                                   */
    bool active[K_COUNT];             /* an absent element takes no part          */
    double argon;                     /* moles of the inert gas                   */
    double trace_ln_x;                /* a rarer gas takes no part in the balances and is
                                         worked out at the end                     */
} problem;

/* Solves the 5x5 symmetric Newton system: L D L' on the potentials (positive definite, graded, the
 * excess last so that its small pivot keeps its digits), then the moles. 0 when not definite. */
static int newton_step(double a[K_COUNT][K_COUNT], const double s[K_COUNT], double corner,
                       const double r[K_COUNT], double r_gas, const bool active[K_COUNT],
                       double step[K_COUNT], double *step_gas)
{
    static const int order[K_COUNT] = {K_N, K_C, K_H, K_E};
    double l[K_COUNT][K_COUNT], inverse[K_COUNT], y[K_COUNT], z[K_COUNT];
    int index[K_COUNT], n = 0;
    for (int k = 0; k < K_COUNT; k++) {
        step[k] = 0.0;
        if (active[order[k]]) index[n++] = order[k];
    }
    double zz = 0.0, zy = 0.0;
    for (int i = 0; i < n; i++) {
        /* v = row i of L D, then of L. */
        double v[K_COUNT], pivot = a[index[i]][index[i]];
        y[i] = r[index[i]];
        z[i] = s[index[i]];
        for (int j = 0; j < i; j++) {
            v[j] = a[index[i]][index[j]];
            for (int k = 0; k < j; k++) v[j] -= v[k] * l[j][k];
        }
        for (int j = 0; j < i; j++) {
            l[i][j] = v[j] * inverse[j];
            pivot -= v[j] * l[i][j];
            y[i] -= l[i][j] * y[j];
            z[i] -= l[i][j] * z[j];
        }
        if (!(pivot > 0.0)) return 0;
        inverse[i] = 1.0 / pivot;
        zz += z[i] * z[i] * inverse[i];
        zy += z[i] * y[i] * inverse[i];
    }
    const double schur = corner - zz;
    if (!(fabs(schur) > 0.0)) return 0;
    *step_gas = (r_gas - zy) / schur;
    for (int i = n - 1; i >= 0; i--) {
        y[i] = (y[i] - z[i] * *step_gas) * inverse[i];
        for (int k = i + 1; k < n; k++) y[i] -= l[k][i] * y[k];
        step[index[i]] = y[i];
    }
    return 1;
}

/* Do the totals come out? Guards against a standstill far from the solution. */
static bool closes(const problem *p, const double s[K_COUNT], double sum, double gas)
{
    const double oxygen = fabs(p->total[K_E]) + 2.0 * p->total[K_C] + 0.5 * p->total[K_H];
    const double scale[K_COUNT] = {p->total[K_C], p->total[K_H], oxygen, p->total[K_N]};
    for (int k = 0; k < K_COUNT; k++) {
        if (p->active[k] && !(fabs(s[k] * gas - p->total[k]) <= 1e-12 * scale[k])) return false;
    }
    return fabs(sum + p->argon / gas - 1.0) <= 1e-12;
}

/* How far the damping lets a step go [rp1311]: a gas that matters moves by a factor e^2 at most, and one
 * that does not may not grow past x = 1e-4 in one step. */
static double damping(const problem *p, const double *ln_x, const double step[K_COUNT],
                      double step_gas)
{
    double factor = 5.0 * fabs(step_gas) > 2.0 ? 2.0 / (5.0 * fabs(step_gas)) : 1.0;
    for (int j = 0; j < p->count; j++) {
        double d = 0.0;
        for (int k = 0; k < K_COUNT; k++) d += p->row[j][k] * step[k];
        if (ln_x[j] > -18.4206807) { /* 1e-8 */
            if (factor * fabs(d) > 2.0) factor = 2.0 / fabs(d);
        } else if (d > 0.0) {
            const double room = -9.2103404 - ln_x[j]; /* 1e-4 */
            if (factor * d > room) factor = fmax(room, 1.0) / d;
        }
    }
    return factor;
}

/* The last, tiny step: the gases follow it by their series instead of another exponential. */
static dw_status finish(const problem *p, const double *ln_x, const double step[K_COUNT],
                        double gas, double *x)
{
    double s[K_COUNT] = {0.0}, sum = 0.0;
    for (int j = 0; j < p->count; j++) {
        const double *row = p->row[j];
        double d = 0.0;
        for (int k = 0; k < K_COUNT; k++) d += row[k] * step[k];
        x[j] = ln_x[j] < p->trace_ln_x ? exp(ln_x[j] + d) : x[j] * (1.0 + d * (1.0 + 0.5 * d));
        sum += x[j];
        for (int k = 0; k < K_COUNT; k++) s[k] += row[k] * x[j];
    }
    return closes(p, s, sum, gas) ? DW_OK : DW_ERR_NO_CONVERGE;
}

/* Damped Newton. potential and ln_gas hold the guess and receive the solution; x per problem row. */
static dw_status iterate(const problem *p, double potential[K_COUNT], double *ln_gas, double *x,
                         int *iterations)
{
    double ln_x[DW_GAS_MAX];
    for (int iteration = 0; iteration < MAX_ITERATIONS; iteration++) {
        double a[K_COUNT][K_COUNT] = {{0.0}}, s[K_COUNT] = {0.0}, sum = 0.0;
        for (int j = 0; j < p->count; j++) {
            const double *row = p->row[j];
            ln_x[j] = p->offset[j] + row[K_C] * potential[K_C] + row[K_H] * potential[K_H] +
                      row[K_E] * potential[K_E] + row[K_N] * potential[K_N];
            if (ln_x[j] < p->trace_ln_x) continue;
            if (!(ln_x[j] < 200.0)) return DW_ERR_NO_CONVERGE;
            x[j] = exp(ln_x[j]);
            sum += x[j];
            for (int k = 0; k < K_COUNT; k++) {
                const double t = row[k] * x[j];
                s[k] += t;
                for (int m = 0; m <= k; m++) a[k][m] += t * row[m];
            }
        }
        *iterations += 1;
        const double gas = exp(*ln_gas);
        double r[K_COUNT], step[K_COUNT], step_gas;
        for (int k = 0; k < K_COUNT; k++) {
            r[k] = p->total[k] / gas - s[k];
            for (int m = 0; m < k; m++) a[m][k] = a[k][m];
        }
        if (!newton_step(a, s, sum - 1.0, r, 1.0 - sum - p->argon / gas, p->active, step,
                         &step_gas)) {
            return DW_ERR_NO_CONVERGE;
        }
        double largest = fabs(step_gas);
        for (int k = 0; k < K_COUNT; k++) largest = fmax(largest, fabs(step[k]));
        if (!(largest < DBL_MAX)) return DW_ERR_NO_CONVERGE;
        const double factor = largest > 0.1 ? damping(p, ln_x, step, step_gas) : 1.0;
        for (int k = 0; k < K_COUNT; k++) potential[k] += factor * step[k];
        *ln_gas += factor * step_gas;
        /* Convergence is quadratic: a step of 1e-8 leaves 1e-16 behind. */
        if (factor == 1.0 && largest < 1e-8) return finish(p, ln_x, step, exp(*ln_gas), x);
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
        ln_high = fmax(ln_low, log(cbrt((c * k1 + h * k2) / gas) + u0)) + 1.0;
        ln_low -= 1e-3;
    } else {
        ln_low = ln_min;
        ln_high = log(cbrt((c * k1 + h * k2) / (2.0 * gas))) + 1.0;
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
 * misses. The oxygen excess is the only total that moves. */
static dw_status approach(problem *p, double potential[K_COUNT], double *ln_gas, double *x,
                          int *iterations)
{
    const double excess = p->total[K_E];
    double done = 0.0, step = 0.25, start[K_COUNT + 1];
    dw_status status = DW_ERR_NO_CONVERGE;
    while (done < 1.0 && step > 1e-4) {
        memcpy(start, potential, sizeof potential[0] * K_COUNT);
        start[K_COUNT] = *ln_gas;
        const double next = fmin(done + step, 1.0);
        p->total[K_E] = next * excess;
        status = iterate(p, potential, ln_gas, x, iterations);
        if (status == DW_OK) {
            done = next;
            step *= 1.5;
        } else {
            memcpy(potential, start, sizeof potential[0] * K_COUNT);
            *ln_gas = start[K_COUNT];
            step *= 0.5;
        }
    }
    p->total[K_E] = excess;
    return done < 1.0 ? DW_ERR_NO_CONVERGE : status;
}

static void set_up(const dw_gas_set *set, const dw_gas_potentials *at, double ln_p,
                   const dw_elements *el, problem *p)
{
    p->total[K_C] = el->n[DW_C];
    p->total[K_H] = el->n[DW_H];
    p->total[K_E] = el->excess_o;
    p->total[K_N] = el->n[DW_N];
    p->argon = el->n[DW_AR];
    /* 1e-20; in the cold the balance of the excess itself is made of gases rarer than that. */
    p->trace_ln_x = at->temperature_k > 700.0 ? -46.0 : -1e4;
    for (int k = 0; k < K_COUNT; k++) p->active[k] = k == K_E || p->total[k] > 0.0;
    p->count = 0;
    for (int j = 0; j < set->count; j++) {
        if (j == set->role[DW_ROLE_AR]) continue;
        const double *basis = set->basis[j];
        bool possible = true;
        for (int k = 0; k < K_COUNT; k++) possible &= p->active[k] || basis[k] == 0.0;
        if (!possible) continue;
        const int n = p->count++;
        p->gas[n] = j;
        memcpy(p->row[n], basis, sizeof p->row[n]);
        p->offset[n] = -at->g_rt[j] - ln_p;
    }
}

/* Turns the problem into the one beside solid carbon. The potential of carbon is then known,
 * mu_C = g(graphite), which fixes the CO2 potential as g + 2 E, and C has no balance to meet:
 * the excess becomes O - H/2. */
static void add_graphite(problem *p, double graphite_g_rt)
{
    for (int n = 0; n < p->count; n++) {
        const double c = p->row[n][K_C];
        p->offset[n] += c * graphite_g_rt;
        p->row[n][K_E] += 2.0 * c;
        p->row[n][K_C] = 0.0;
    }
    p->total[K_E] += 2.0 * p->total[K_C];
    p->active[K_C] = false;
}

static dw_status solve_beside_graphite(const dw_gas_set *set, const dw_gas_potentials *at,
                                       const dw_elements *el, problem *p, double potential[K_COUNT],
                                       double *ln_gas, double *x, double *graphite_mol,
                                       int *iterations)
{
    add_graphite(p, at->graphite_g_rt);
    const dw_status status = iterate(p, potential, ln_gas, x, iterations);
    if (status != DW_OK) return status;
    potential[K_C] = at->graphite_g_rt + 2.0 * potential[K_E];
    double in_gas = 0.0;
    for (int i = 0; i < p->count; i++) in_gas += set->basis[p->gas[i]][K_C] * x[i];
    *graphite_mol = el->n[DW_C] - in_gas * exp(*ln_gas);
    return *graphite_mol >= 0.0 ? DW_OK : DW_ERR_NO_CONVERGE;
}

static void clear_solution(const dw_gas_set *set, dw_equilibrium *state)
{
    for (int j = 0; j < set->count; j++) state->x[j] = NAN;
    state->gas_mol = state->graphite_mol = state->carbon_activity = state->log10_po2_bar = NAN;
    state->started = false;
}

dw_status dw_equilibrium_solve(const dw_gas_set *set, const dw_gas_potentials *potentials,
                               const dw_elements *elements, double pressure_pa_abs, bool graphite,
                               dw_equilibrium *state)
{
    if (set == NULL || potentials == NULL || elements == NULL || state == NULL) return DW_ERR_ARG;
    double potential[K_COUNT], ln_gas = 0.0, x[DW_GAS_MAX];
    const bool warm = state->started;
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
            first_guess(set, potentials, ln_p, elements, potential, &ln_gas);
            status = iterate(&p, potential, &ln_gas, x, &state->iterations);
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
    for (int j = 0; j < set->count; j++) state->x[j] = 0.0;
    for (int i = 0; i < p.count; i++) state->x[p.gas[i]] = x[i];
    state->x[set->role[DW_ROLE_AR]] = n[DW_AR] / gas;
    memcpy(state->potential, potential, sizeof potential);
    state->gas_mol = gas;
    state->graphite_mol = graphite_mol;
    state->carbon_activity = n[DW_C] > 0.0 ? exp(ln_activity) : 0.0;
    state->log10_po2_bar =
        (2.0 * potential[K_E] - potentials->g_rt[set->role[DW_ROLE_O2]]) / 2.302585092994046;
    state->started = graphite_mol == 0.0;
    return DW_OK;
}

#include "unmixedness.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

#include <gsl/gsl_cdf.h>

#include "beta_share.h"
#include "root1d.h"

/* Gauss-Legendre, 14 points on [-1, 1]: positive half, abscissa and weight (computed; the unit test
 * checks them against gsl_integration_glfixed). */
enum { HALF = 7 };
static const double gauss[HALF][2] = {
    {0.10805494870734367, 0.21526385346315766}, {0.31911236892788974, 0.20519846372129555},
    {0.5152486363581541, 0.18553839747793763},  {0.68729290481168548, 0.15720316715819341},
    {0.82720131506976502, 0.12151857068790296}, {0.92843488366357352, 0.080158087159760305},
    {0.98628380869681231, 0.035119460331752374},
};

/* The density is followed down to e^-DROP of its peak; points below LEAST_WEIGHT are left out. */
static const double drop = 30.0;
static const double least_weight = 1e-11;

/* ln of the beta density against its peak. */
typedef struct peaked {
    double a, b, mode, ln_peak;
} peaked;

static double ln_density(const peaked *d, double z)
{
    return (d->a - 1.0) * log(z) + (d->b - 1.0) * log1p(-z) - d->ln_peak;
}

/* Where the density has fallen by `drop`, on the side that step points to. */
static double edge(const peaked *d, double step)
{
    double inside = d->mode, z = d->mode + step;
    while (z > 0.0 && z < 1.0 && ln_density(d, z) > -drop) {
        inside = z;
        z += step;
    }
    double outside = z <= 0.0 ? 0.0 : z >= 1.0 ? 1.0 : z;
    for (int i = 0; i < 12; i++) {
        const double middle = 0.5 * (inside + outside);
        if (ln_density(d, middle) > -drop) {
            inside = middle;
        } else {
            outside = middle;
        }
    }
    return inside;
}

dw_status dw_unmixedness_points(double z_mean, double z_stoich, double spread, double *z,
                                double *weight, int *count)
{
    if (z == NULL || weight == NULL || count == NULL) return DW_ERR_ARG;
    *count = 0;
    if (!(z_mean > 0.0 && z_mean < 1.0) || !(z_stoich > 0.0 && z_stoich < 1.0) ||
        !(spread >= 0.0 && spread < 0.6)) {
        return DW_ERR_DOMAIN;
    }
    if (spread < DW_NO_SPREAD) {
        z[0] = z_mean;
        weight[0] = 1.0;
        *count = 1;
        return DW_OK;
    }
    peaked d = {0.0, 0.0, 0.0, 0.0};
    dw_mixture_beta(z_mean, spread * spread * z_mean * z_mean, &d.a, &d.b);
    if (!(d.a > 1.0 && d.b > 1.0)) return DW_ERR_DOMAIN;
    d.mode = (d.a - 1.0) / (d.a + d.b - 2.0);
    d.ln_peak = ln_density(&d, d.mode);

    const double sigma = spread * z_mean;
    const double low = edge(&d, -sigma), high = edge(&d, sigma);
    /* Cut where the compositions have their kink, and at the peak unless the kink is near it. */
    double cut[4] = {low, d.mode, high, high};
    int pieces = 2;
    if (z_stoich > low && z_stoich < high) {
        if (fabs(z_stoich - d.mode) < 0.7 * sigma) {
            cut[1] = z_stoich;
        } else {
            cut[1] = fmin(d.mode, z_stoich);
            cut[2] = fmax(d.mode, z_stoich);
            pieces = 3;
        }
    }

    double sum = 0.0;
    int n = 0;
    for (int i = 0; i < pieces; i++) {
        const double middle = 0.5 * (cut[i] + cut[i + 1]), half = 0.5 * (cut[i + 1] - cut[i]);
        for (int k = -HALF; k < HALF; k++) {
            const double *g = gauss[k < 0 ? -k - 1 : k];
            z[n] = middle + (k < 0 ? -half : half) * g[0];
            weight[n] = half * g[1] * exp(ln_density(&d, z[n]));
            sum += weight[n];
            n++;
        }
    }
    /* Leave out what cannot matter, normalise, and tilt the weights so that the mean is exact. */
    int kept = 0;
    double kept_sum = 0.0;
    for (int i = 0; i < n; i++) {
        if (weight[i] < least_weight * sum) continue;
        z[kept] = z[i];
        weight[kept] = weight[i];
        kept_sum += weight[i];
        kept++;
    }
    double mean = 0.0, square = 0.0;
    for (int i = 0; i < kept; i++) {
        weight[i] /= kept_sum;
        mean += weight[i] * z[i];
    }
    for (int i = 0; i < kept; i++) square += weight[i] * (z[i] - mean) * (z[i] - mean);
    const double tilt = (z_mean - mean) / square;
    for (int i = 0; i < kept; i++) weight[i] *= 1.0 + tilt * (z[i] - mean);
    *count = kept;
    return DW_OK;
}

/* What the first guess of parcel i will be off by: that of its neighbours, which grows with the nearness of the
 * stoichiometric point, continued. false: there is no neighbour on this side of that point. */
static bool hint(const double *z, double z_stoich, int i, double off[2][DW_GUESS_COUNT],
                 double next[DW_GUESS_COUNT])
{
    if (i < 1 || !((z[i] - z_stoich) * (z[i - 1] - z_stoich) > 0.0)) return false;
    memcpy(next, off[0], sizeof off[0]);
    if (i < 2 || !((z[i] - z_stoich) * (z[i - 2] - z_stoich) > 0.0)) return true;
    const double near = 1.0 / (z[i] - z_stoich);
    const double last = 1.0 / (z[i - 1] - z_stoich), before = 1.0 / (z[i - 2] - z_stoich);
    const double on = (near - last) / (last - before);
    for (int k = 0; k < DW_GUESS_COUNT; k++) next[k] += on * (off[0][k] - off[1][k]);
    return true;
}

dw_status dw_unmixedness_mean(const dw_gas_set *set, const dw_gas_potentials *lean,
                              const dw_gas_potentials *rich, const dw_elements *fuel, const dw_elements *air, double z_mean,
                              double spread, double pressure_pa_abs, bool graphite,
                              double x[DW_GAS_MAX], double *gas_mol_kg, dw_parcels *kept)
{
    if (gas_mol_kg != NULL) *gas_mol_kg = NAN;
    if (set == NULL || lean == NULL || rich == NULL || fuel == NULL || air == NULL || x == NULL ||
        gas_mol_kg == NULL) {
        return DW_ERR_ARG;
    }
    for (int j = 0; j < set->count; j++) x[j] = NAN;
    if (!(air->excess_o > 0.0 && fuel->excess_o < 0.0)) return DW_ERR_DOMAIN;

    const double z_stoich = air->excess_o / (air->excess_o - fuel->excess_o);
    double z[DW_PARCEL_MAX], weight[DW_PARCEL_MAX];
    int count;
    dw_status status = dw_unmixedness_points(z_mean, z_stoich, spread, z, weight, &count);
    if (status != DW_OK) return status;
    if (kept != NULL) kept->count = count;

    double sum[DW_GAS_MAX] = {0.0}, moles = 0.0;
    double off[2][DW_GUESS_COUNT] = {{0.0}}; /* of the last parcel and of the one before */
    dw_equilibrium state;
    for (int i = 0; i < count; i++) {
        const dw_elements parcel = dw_elements_combine(z[i], *fuel, 1.0 - z[i], *air);
        state.start = hint(z, z_stoich, i, off, state.off) ? DW_START_BESIDE : DW_START_COLD;
        status =
            dw_equilibrium_solve(set, z[i] > z_stoich ? rich : lean, &parcel, pressure_pa_abs, graphite, &state);
        if (status != DW_OK) return status;
        memcpy(off[1], off[0], sizeof off[0]);
        memcpy(off[0], state.off, sizeof off[0]);
        const double w = weight[i] * state.gas_mol;
        if (kept != NULL) {
            kept->z[i] = z[i];
            kept->weight[i] = weight[i];
            kept->gas_mol[i] = state.gas_mol;
            for (int j = 0; j < set->count; j++) kept->x[j][i] = state.x[j];
        }
        for (int j = 0; j < set->count; j++) sum[j] += w * state.x[j];
        moles += w;
    }
    for (int j = 0; j < set->count; j++) x[j] = sum[j] / moles;
    *gas_mol_kg = moles;
    return DW_OK;
}

/* ---- leaner and richer parcels --------------------------------------------------------------- */

/* Shown so, worked out from the variance: quantiles are found to the last bits, and a parcel near the even
 * mixture moves a hundredfold with them. */
static const dw_law alpha_law = {"alpha", "first parameter of the beta distribution", "", "beta_mixing",
                                 "z*((1.0 - z)/(z*pow(s, 2.0)) - 1.0)"};
static const dw_law beta_law = {"beta", "second number", "", "beta_mixing",
                                "(1.0 - z)*((1.0 - z)/(z*pow(s, 2.0)) - 1.0)"};

const dw_law *const dw_mixture_alpha_law = &alpha_law, *const dw_mixture_beta_law = &beta_law;

void dw_mixture_beta(double z_mean, double variance, double *alpha, double *beta)
{
    const double total = z_mean * (1.0 - z_mean) / variance - 1.0;
    *alpha = z_mean * total;
    *beta = (1.0 - z_mean) * total;
}

/* A distribution, and the share of it that is asked about. */
typedef struct tail {
    double a, b, share;
} tail;

static dw_status distribution_of(double z_mean, double spread, double share, tail *d)
{
    if (!isfinite(z_mean) || !isfinite(spread) || !isfinite(share)) return DW_ERR_ARG;
    if (!(z_mean > 0.0 && z_mean < 1.0) || !(spread >= 0.0 && spread < 0.6) ||
        !(share > 0.0 && share < 1.0)) {
        return DW_ERR_DOMAIN;
    }
    const double sigma = fmax(spread, DW_NO_SPREAD) * z_mean;
    d->share = share;
    dw_mixture_beta(z_mean, sigma * sigma, &d->a, &d->b);
    return d->a > 1.0 && d->b > 1.0 ? DW_OK : DW_ERR_DOMAIN;
}

/* The library's function loses digits as the distribution narrows, and gives up where the spread is some
 * thousandth of the mean. */
static const double narrow_from = 1e5;

static double share_below(double z, double a, double b)
{
    return a + b > narrow_from ? dw_beta_share(z, a, b) : gsl_cdf_beta_P(z, a, b);
}

static double excess(double z, void *context)
{
    const tail *d = context;
    return share_below(z, d->a, d->b) - d->share;
}

static dw_status quantile(tail *d, double z_mean, double spread, double *z)
{
    /* Chebyshev's inequality: no quantile from 0.1 % to 99.9 % is further off than 32 sigma. */
    const double far = 32.0 * spread * z_mean;
    const double low = fmax(z_mean - far, 0.0), high = fmin(z_mean + far, 1.0);
    /* Beside the spread, so that hardly any is resolved too. */
    const double x_tol = fmin(1e-14, 1e-9 * spread * z_mean);
    dw_root root;
    const dw_status status = dw_root_find(excess, d, low, high, x_tol, 0.0, &root);
    *z = status == DW_OK ? root.x : NAN;
    return status;
}

dw_status dw_mixture_quantile(double z_mean, double spread, double share, double *z)
{
    if (z == NULL) return DW_ERR_ARG;
    *z = NAN;
    tail d;
    const dw_status status = distribution_of(z_mean, spread, share, &d);
    if (status != DW_OK) return status;
    if (spread < DW_NO_SPREAD) {
        *z = z_mean;
        return DW_OK;
    }
    return quantile(&d, z_mean, spread, z);
}

dw_status dw_mixture_richest(double z_mean, double spread, double share, double *from, double *z)
{
    double q = NAN;
    if (from != NULL) *from = NAN;
    if (z == NULL) return DW_ERR_ARG;
    *z = NAN;
    tail d;
    dw_status status = distribution_of(z_mean, spread, 1.0 - share, &d);
    if (status != DW_OK) return status;
    if (spread < DW_NO_SPREAD) {
        *z = z_mean;
        if (from != NULL) *from = z_mean;
        return DW_OK;
    }
    status = quantile(&d, z_mean, spread, &q);
    if (status != DW_OK) return status;
    if (from != NULL) *from = q;
    *z = d.a + d.b > narrow_from
             ? z_mean * (1.0 + dw_beta_kernel(q, d.a, d.b) / (d.a * share))
             : z_mean * gsl_cdf_beta_Q(q, d.a + 1.0, d.b) / gsl_cdf_beta_Q(q, d.a, d.b);
    return DW_OK;
}

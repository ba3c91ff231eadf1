#include "mixture_spread.h"

#include <math.h>
#include <stddef.h>

#include <gsl/gsl_cdf.h>

#include "beta_share.h"
#include "root1d.h"

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

typedef struct beta {
    double a, b, share;
} beta;

static dw_status distribution_of(double z_mean, double spread, double share, beta *d)
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
    const beta *d = context;
    return share_below(z, d->a, d->b) - d->share;
}

static dw_status quantile(beta *d, double z_mean, double spread, double *z)
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
    beta d;
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
    beta d;
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

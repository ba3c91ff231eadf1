#ifndef DW_MIXTURE_SPREAD_H
#define DW_MIXTURE_SPREAD_H

/**
 * @file mixture_spread.h
 * How rich the leaner and the richer parcels of an imperfectly mixed gas are.
 *
 * Layer: physics. Pure functions, no state. The mixture fraction has the beta distribution of
 * unmixedness.h.
 */

#include "law.h"

/** A smaller spread is none: the distribution is a point. */
#define DW_NO_SPREAD 1e-6

/** The two parameters of the beta distribution of a mean and a variance: Z t and (1-Z) t with
 *  t = Z (1-Z)/variance - 1. */
void dw_mixture_beta(double z_mean, double variance, double *alpha, double *beta);

/** The same for a working, from z and s. */
extern const dw_law *const dw_mixture_alpha_law, *const dw_mixture_beta_law;

/**
 * Mixture fraction that a given share of the gas stays below.
 *
 *     I_z(a, b) = share
 *
 * I is the regularised incomplete beta function, inverted by a bracketed root. Of a narrow distribution
 * (a + b above 1e5) it is dw_beta_share(), else the library's.
 *
 * @param[in]  z_mean  kg fuel per kg mixture, 0 < z < 1.
 * @param[in]  spread  s, 0 <= s < 0.6; 0 gives the mean.
 * @param[in]  share   0 < share < 1; 0.1 is the leaner tenth's richest parcel.
 * @param[out] z       NaN on failure.
 * @retval DW_OK, DW_ERR_ARG, DW_ERR_DOMAIN, DW_ERR_NO_CONVERGE
 *
 * @par Source      [beta_mixing]
 * @par Checked by  tests/unit/physics/test_mixture_spread.c
 */
DW_MUST_CHECK
dw_status dw_mixture_quantile(double z_mean, double spread, double share, double *z);

/**
 * Mean mixture fraction of the richest parcels that make up a given share of the gas.
 *
 *     Z [1 - I_q(a+1, b)] / [1 - I_q(a, b)],   I_q(a, b) = 1 - share
 *
 * The two shares differ by dw_beta_kernel()/a, from which a narrow distribution is worked out.
 *
 * Arguments and errors as above.
 *
 * @param[out] from  q, where those parcels begin; may be NULL.
 */
DW_MUST_CHECK
dw_status dw_mixture_richest(double z_mean, double spread, double share, double *from, double *z);

#endif

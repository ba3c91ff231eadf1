#ifndef DW_UNMIXEDNESS_H
#define DW_UNMIXEDNESS_H

/**
 * @file unmixedness.h
 * Gas of an imperfectly mixed chamber: the mean of equilibrium parcels of different richness.
 *
 * Layer: physics. No allocation, no state.
 */

#include "equilibrium.h"

enum { DW_PARCEL_MAX = 64 };

/**
 * Points and weights that integrate over a beta-distributed mixture fraction.
 *
 * The weights sum to 1 and the points keep the mean exactly. The range is cut at the
 * stoichiometric mixture fraction, where compositions have a kink.
 *
 * @param[in]  z_mean   mean mixture fraction, kg fuel per kg mixture, 0 < z < 1.
 * @param[in]  z_stoich where the kink is, 0 < z < 1.
 * @param[in]  spread   s = standard deviation / mean, 0 <= s < 0.6.
 * @param[out] z, weight  DW_PARCEL_MAX each; count used in *count. s = 0 gives one point.
 * @retval DW_OK, DW_ERR_ARG, DW_ERR_DOMAIN
 */
DW_MUST_CHECK
dw_status dw_unmixedness_points(double z_mean, double z_stoich, double spread, double *z,
                                double *weight, int *count);

/** All parcels of a mean, for those who show them. */
typedef struct dw_parcels {
    int count;
    double z[DW_PARCEL_MAX], weight[DW_PARCEL_MAX];
    double gas_mol[DW_PARCEL_MAX];            /**< moles of gas per kilogram                 */
    double x[DW_GAS_MAX][DW_PARCEL_MAX];      /**< mole fractions, order of the set          */
} dw_parcels;

/**
 * Mean composition over the parcels, each at equilibrium at the same temperature.
 *
 * @param[in]  fuel, air       elements per kilogram of fuel and of (moist) air.
 * @param[in]  z_mean          kg fuel per kg mixture.
 * @param[out] x               mole fractions over the set's gases (mean moles per kg, normalised).
 * @param[out] gas_mol_kg      moles of gas per kilogram.
 * @param[out] kept            the parcels; means nothing unless DW_OK; may be NULL.
 * @retval DW_OK, DW_ERR_ARG, DW_ERR_DOMAIN, DW_ERR_NO_CONVERGE
 * @par Checked by  tests/reference/unmixedness.csv
 */
DW_MUST_CHECK
dw_status dw_unmixedness_mean(const dw_gas_set *set, const dw_gas_potentials *potentials,
                              const dw_elements *fuel, const dw_elements *air, double z_mean,
                              double spread, double pressure_pa_abs, bool graphite,
                              double x[DW_GAS_MAX], double *gas_mol_kg, dw_parcels *kept);

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
 * @par Checked by  tests/unit/physics/test_unmixedness.c
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

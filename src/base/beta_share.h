#ifndef DW_BETA_SHARE_H
#define DW_BETA_SHARE_H

/**
 * @file beta_share.h
 * The regularised incomplete beta function, for formulas.
 *
 * Layer: base. Pure function, no state.
 */

/**
 * Share of a beta distribution below x.
 *
 *     I_x(a, b) = integral of t^(a-1) (1-t)^(b-1) from 0 to x, over the same from 0 to 1
 *
 * By its continued fraction; written anew, so that it is a second opinion on the library's function
 * that physics/unmixedness.c inverts. Narrow distributions (a + b above 1e5, a and b above 400), where the
 * fraction is long and the library's function loses its digits, are integrated over their density.
 *
 * @param[in] x     0..1.
 * @param[in] a, b  > 0.
 * @return NaN outside, and where a million terms of the fraction are not enough.
 * @par Source      [beta_mixing]
 * @par Checked by  tests/unit/base/test_beta_share.c
 */
double dw_beta_share(double x, double a, double b);

/**
 * x^a (1-x)^b / B(a, b): the density times x (1-x), and what two neighbouring shares differ by:
 *
 *     I_x(a, b) - I_x(a+1, b) = x^a (1-x)^b / (a B(a, b))
 *
 * @param[in] x     0 < x < 1.
 * @param[in] a, b  > 0.
 */
double dw_beta_kernel(double x, double a, double b);

#endif

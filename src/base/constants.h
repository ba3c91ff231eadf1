#ifndef DW_CONSTANTS_H
#define DW_CONSTANTS_H

/**
 * @file constants.h
 * Physical constants and reference states, each with its source.
 *
 * Layer: base. Macros only.
 */

/** Gas constant that goes with the NASA-9 coefficients [J/(mol K)] (NASA/TP-2002-211556). */
#define DW_R_NASA_J_MOL_K 8.314510

/** Gas constant, exact since the 2019 SI [J/(mol K)]. Used by the flow laws and the probe. */
#define DW_R_J_MOL_K 8.314462618

/** Faraday constant, exact since the 2019 SI [C/mol]. */
#define DW_FARADAY_C_MOL 96485.33212

/** Standard acceleration of free fall, exact by definition [m/s2]. */
#define DW_G_M_S2 9.80665

/** Standard atmosphere, exact by definition [Pa]. */
#define DW_ATM_PA 101325.0

/** Standard pressure of the NASA-9 entropies [Pa]. */
#define DW_BAR_PA 1.0e5

/** Ice point on the kelvin scale, exact by definition [K]. */
#define DW_ICE_POINT_K 273.15

/** Reference temperature of heating values and formation enthalpies [K]. */
#define DW_T_REFERENCE_K 298.15

#define DW_PI 3.14159265358979323846

#endif

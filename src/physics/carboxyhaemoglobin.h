#ifndef DW_CARBOXYHAEMOGLOBIN_H
#define DW_CARBOXYHAEMOGLOBIN_H

/**
 * @file carboxyhaemoglobin.h
 * How much of a person's haemoglobin carbon monoxide takes: Coburn, Forster and Kane.
 *
 * Layer: physics. Pure functions, no state, no allocation. SI throughout; a saturation is a share
 * 0..1 of all haemoglobin. A mean adult: nobody's own number, and no diagnosis.
 */

#include <stdbool.h>

#include "dw_status.h"
#include "law.h"

/** A person at some activity, and the air pressure. */
typedef struct dw_cohb {
    double haldane_ratio;          /**< M: CO against O2 at haemoglobin, 218                  */
    double endogenous_m3_s;        /**< VCO: CO the body makes itself                         */
    double capillary_o2_pa;        /**< PcO2: oxygen in the lung's capillaries                */
    double capacity_m3_m3;         /**< [Hb]max: CO that a volume of blood can hold, 0.20     */
    double blood_m3;               /**< Vb                                                    */
    double ventilation_m3_s;       /**< VA: alveolar ventilation                              */
    double diffusing_m3_s_pa;      /**< DL: diffusing capacity of the lung for CO             */
    double barometric_pa_abs;      /**< PB                                                    */
    double water_pa;               /**< PH2O: saturated at 37 degC, 47 mmHg                   */
} dw_cohb;

/** @retval DW_OK, DW_ERR_ARG (NULL, not finite), DW_ERR_DOMAIN (not above 0, PB not above PH2O;
 *          endogenous production may be 0) */
DW_MUST_CHECK
dw_status dw_cohb_check(const dw_cohb *person);

/**
 * Saturation after a time in air of constant CO.
 *
 *     d[COHb]/dt = VCO/Vb + (PICO - [COHb] PcO2/(M ([Hb]max - [COHb])))/(Vb B)
 *     B = 1/DL + (PB - PH2O)/VA,   PICO = ppm 1e-6 (PB - PH2O)
 *
 * The full, non-linear equation. At constant ppm it separates, so no step size enters: with
 * c* = a H/(a + b), a = VCO B + PICO, b = PcO2/M, H = [Hb]max, u = c* - c and D = H - c*,
 *
 *     u/D + ln(u/D) = u0/D + ln(u0/D) - (a + b) t/(Vb B D)
 *
 * which a few Newton steps solve (Lambert's W).
 *
 * @param[in] person      checked; not NULL.
 * @param[in] start_frac  0 <= start < 1.
 * @param[in] co_ppm      of the air breathed, >= 0.
 * @param[in] time_s      >= 0; infinite gives the equilibrium.
 * @return share 0..1; NaN when an input is outside these.
 *
 * @par Holds when  a healthy adult of ordinary size, not pregnant, at steady activity. A child, a
 *                  smaller, pregnant, anaemic or ill person takes CO up faster, or is hurt at less.
 * @par Source      [cfk1965]; parameters [cfk-parameters], [niosh1972].
 * @par Checked by  tests/reference/cfk.csv, tests/unit/physics/test_carboxyhaemoglobin.c
 */
double dw_cohb_after(const dw_cohb *person, double start_frac, double co_ppm, double time_s);

/**
 * The same in its own measures: y = (c* - c)/D, how far the saturation is from its end, after a time.
 *
 *     y e^y = y0 e^(y0 - tau),   tau = (a + b) t/(Vb B D)
 *
 * @param[in] left_at_start  y0, above -1; negative when the saturation falls.
 * @param[in] passed         tau >= 0.
 * @par Source      [cfk1965]
 */
double dw_cohb_left(double left_at_start, double passed);

/** The same of a person in air of constant CO: y after a time. */
double dw_cohb_left_after(const dw_cohb *person, double start_frac, double co_ppm, double time_s);

/** B [Pa s/m3] and b [Pa] of the equation above. */
double dw_cohb_resistance(const dw_cohb *person, dw_working *w);
double dw_cohb_affinity_pa(const dw_cohb *person, dw_working *w);

/** Laws that a working shows for many stretches of time in a table. */
typedef enum dw_cohb_term {
    DW_COHB_OFFERED,    /**< a, of V_CO B C_m P_B P_W                  */
    DW_COHB_FINAL,      /**< c_e = c*, of a b                          */
    DW_COHB_UNBOUND,    /**< f = D, of a b                             */
    DW_COHB_DISTANCE,   /**< y_0, of c_e c_0 f                         */
    DW_COHB_OWN_TIME,   /**< tau, of a b t_0 t_1 V_b B H_b f           */
    DW_COHB_AFTER,      /**< c, of c_e f y                             */
    DW_COHB_REACHED     /**< t_l, of s_l V_b B H_b f_l a_l b y_b y_l   */
} dw_cohb_term;
const dw_law *dw_cohb_law(dw_cohb_term term);

/** Time [s] until the saturation reaches level_frac: 0 when it is there, infinite when never. */
double dw_cohb_time_to(const dw_cohb *person, double start_frac, double co_ppm,
                       double level_frac);

/**
 * Blood volume [m3] of an adult.
 *
 *     male 366.9 H^3 + 32.19 W + 604.1 mL,  female 356.1 H^3 + 33.08 W + 183.3 mL
 *
 * @param[in] height_m  1.0..2.2.
 * @param[in] mass_kg   30..200.
 * @return NaN outside.
 * @par Source [cfk-parameters]
 */
double dw_blood_volume_m3(double height_m, double mass_kg, bool female, dw_working *w);

/**
 * Oxygen pressure [Pa] in the lung's capillaries at a barometric pressure.
 *
 *     PcO2 = reference + x_O2 (PB - PB reference)
 *
 * The reference holds at 760 mmHg; above that pressure it is kept, which gives more CO. High up the body
 * breathes faster and the true value is above this one: an estimate on the careful side.
 *
 * @return NaN when it comes out below a tenth of the reference.
 * @par Source derived from PcO2 = PIO2 - 49 mmHg [cfk-parameters]
 */
double dw_capillary_o2_pa(double reference_pa, double x_o2, double barometric_pa_abs,
                          double barometric_reference_pa_abs, dw_working *w);

#endif

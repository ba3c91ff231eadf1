#ifndef DW_GLAZE_IRON_H
#define DW_GLAZE_IRON_H

/**
 * @file glaze_iron.h
 * How much of the iron in a silicate melt is ferrous, by two published formulas side by side.
 *
 * Layer: physics. No state; pure functions but for those that add to a working.
 */

#include "law.h"

/** Oxides that both formulas were made with; all iron counts as FeO. */
typedef enum dw_melt_oxide {
    DW_MELT_SIO2, DW_MELT_TIO2, DW_MELT_AL2O3, DW_MELT_FEO, DW_MELT_MNO, DW_MELT_MGO,
    DW_MELT_CAO, DW_MELT_NA2O, DW_MELT_K2O, DW_MELT_P2O5,
    DW_MELT_OXIDE_COUNT
} dw_melt_oxide;

/** A melt by mole fractions of its oxides, sum 1. */
typedef struct dw_melt {
    double x[DW_MELT_OXIDE_COUNT];
} dw_melt;

/** Formula of an oxide: "SiO2" ... */
const char *dw_melt_oxide_name(dw_melt_oxide oxide);

/** FeO [kg] that holds the iron of one kilogram of Fe2O3. */
#define DW_FEO_PER_FE2O3 (2.0 * 0.071844 / 0.159687)

/** Mole fractions from masses (any scale). @retval DW_ERR_DOMAIN a mass below 0, or none above. */
DW_MUST_CHECK
dw_status dw_melt_from_mass(const double mass[DW_MELT_OXIDE_COUNT], dw_melt *melt);

/** Range of both formulas: natural silicate melts, about 1200 to 1630 degC. */
#define DW_GLAZE_IRON_FROM_K (1200.0 + 273.15)
#define DW_GLAZE_IRON_TO_K (1630.0 + 273.15)

/** The two formulas differ by up to 0.06 in the ferrous share: each is given with this spread. */
#define DW_GLAZE_IRON_SPREAD 0.05

/**
 * Ferric to ferrous iron of a melt, X(Fe2O3)/X(FeO), by Kress and Carmichael.
 *
 *     ln(X_Fe2O3/X_FeO) = 0.196 ln fO2 + 11492/T - 6.675 - 2.243 Al2O3 - 1.828 FeO + 3.201 CaO
 *                         + 5.854 Na2O + 6.215 K2O - 3.36 [1 - T0/T - ln(T/T0)]
 *                         - 7.01e-7 P/T - 1.54e-10 (T - T0) P/T + 3.85e-17 P^2/T
 *
 * T0 = 1673 K; oxides as mole fractions with all iron as FeO. At kiln pressure the last three terms
 * stay below 1e-4.
 *
 * @param[in] temperature_k    > 0; see DW_GLAZE_IRON_FROM_K.
 * @param[in] log10_po2_bar    oxygen around the melt.
 * @param[in] pressure_pa_abs  >= 0.
 * @return NaN when melt is NULL or the temperature is not above 0. The range is not looked at.
 *
 * @par Source      [kress1991] equation 7, read in four public codes.
 * @par Checked by  tests/reference/glaze_iron.csv
 */
double dw_kress_ferric_ratio(const dw_melt *melt, double temperature_k, double log10_po2_bar,
                             double pressure_pa_abs);

/**
 * Ferric to ferrous iron of a melt, X(FeO1.5)/X(FeO), by Borisov and others.
 *
 *     log10(X_FeO1.5/X_FeO) = 0.207 log10 fO2 + 4633.3/T - 0.445 SiO2 - 0.900 TiO2 + 1.532 MgO
 *                             + 0.314 CaO + 2.030 Na2O + 3.355 K2O - 4.851 P2O5
 *                             - 3.081 SiO2 Al2O3 - 4.370 SiO2 MgO - 1.852
 *
 * @return NaN as above.
 * @par Source      [borisov2018] equation 4, read in three public codes, which agree.
 * @par Checked by  tests/reference/glaze_iron.csv
 */
double dw_borisov_ferric_ratio(const dw_melt *melt, double temperature_k, double log10_po2_bar);

/** Both answers and how far apart they are. */
typedef struct dw_glaze_iron {
    double kress_ratio, borisov_ratio;  /**< ferric / ferrous, as each formula counts         */
    double kress_share, borisov_share;  /**< ferrous / all iron: 1/(1 + 2 r) and 1/(1 + r)    */
    double low_share, high_share;       /**< both, each with its spread, within 0..1          */
} dw_glaze_iron;

/**
 * Ferrous share of the iron in a melt by both formulas.
 *
 * @param[out] iron  all NaN on failure.
 * @retval DW_OK, DW_ERR_ARG
 * @retval DW_ERR_DOMAIN  the temperature is outside 1200..1630 degC or the melt holds no iron.
 *
 * @par Holds when  the glaze is molten through and has had time to come to rest with the gas: a skin
 *                  of 0.3 mm takes about half an hour [redox-diffusion]. Without boron, lead, zinc or
 *                  lithium, which the caller refuses.
 * @par Accuracy    +-0.05 in the share.
 */
DW_MUST_CHECK
dw_status dw_glaze_iron_at(const dw_melt *melt, double temperature_k, double log10_po2_bar,
                           double pressure_pa_abs, dw_glaze_iron *iron);

/** Writes down a melt: the table of its oxides, x_SiO2, x_Al2O3 and x_MgO. mass as given, melt as found. */
void dw_melt_write(dw_working *w, const char *title, const double mass[DW_MELT_OXIDE_COUNT],
                   const dw_melt *melt);

/** How the steps of one gas are shown. */
typedef struct dw_glaze_iron_shown {
    const char *oxygen;                     /**< symbol of its oxygen                         */
    const char *where;                      /**< goes behind the meanings: ", leaner parcel"  */
    const char *kress_keys, *borisov_keys;
    const char *low_keys, *low;             /**< keys and meaning of that end; keys NULL: not shown */
    const char *high_keys, *high;           /**< meaning NULL: the law's own                  */
} dw_glaze_iron_shown;

/** Writes down the steps of a result; after dw_melt_write(). Needs T_gas and p_air. */
void dw_glaze_iron_write(dw_working *w, const dw_glaze_iron *iron, const dw_glaze_iron_shown *shown);

#endif

#ifndef DW_GAS_MATCH_H
#define DW_GAS_MATCH_H

/**
 * @file gas_match.h
 * The burnt gas of one fuel and dry air that holds a given oxygen pressure at a given temperature.
 *
 * Layer: ware. No allocation, no state but what the caller holds.
 *
 * An oxygen pressure belongs to one temperature. What a gas keeps on its way to another temperature is
 * its mixture of fuel and air, the oxygen or the fuel left over: that is found here, and from it the
 * oxygen pressure anywhere else.
 */

#include "operating_point.h"
#include "quench.h"

/** What an oxygen pressure can be. */
typedef enum dw_match_found {
    DW_MATCH_NONE,         /**< not looked for                                               */
    DW_MATCH_GAS,          /**< a mixture of fuel and air                                    */
    DW_MATCH_AIR,          /**< that of air, as near as a sensor can tell: hardly any fuel   */
    DW_MATCH_ABOVE_AIR,    /**< more than air holds                                          */
    DW_MATCH_TOO_RICH      /**< less than any mixture up to DW_MATCH_RICHEST                 */
} dw_match_found;

/** Mixtures that are looked at: equivalence ratios. */
#define DW_MATCH_LEANEST 0.01
#define DW_MATCH_RICHEST 3.0

/** So much above air [log10] is still taken for air: about 7 mV at 1200 degC. */
#define DW_MATCH_AIR_LOG10 0.1

typedef struct dw_match_mixtures {
    const dw_model *model;           /**< borrowed                                            */
    const dw_fuel *fuel;             /**< borrowed                                            */
    dw_elements fuel_kg, air_kg;     /**< elements per kilogram                               */
    double stoichiometric_kg_kg;
    double pressure_pa_abs;
} dw_match_mixtures;

/** NaN where there is no mixture. */
typedef struct dw_matched_gas {
    dw_match_found found;
    double equivalence_ratio;
    double z;                           /**< kg of fuel per kg of mixture                     */
    int band;                           /**< of the data: the word; -1 without a word         */
    double composition_temperature_k;   /**< the shares are those at it                       */
    double o2_wet, o2_dry, co_dry;      /**< mixed evenly; air has its oxygen from the start   */
} dw_matched_gas;

/** @retval DW_OK, DW_ERR_ARG, DW_ERR_DOMAIN (the fuel needs no air) */
DW_MUST_CHECK
dw_status dw_match_mixtures_init(dw_match_mixtures *mixtures, const dw_model *model,
                                 const dw_fuel *fuel, double pressure_pa_abs);

/** The law of o2_wet of DW_MATCH_AIR for a working: o2_w from lg_pO2 and p_air. */
extern const dw_law *const dw_match_air_law;

/**
 * The mixture with an oxygen pressure at a temperature, in equilibrium there.
 *
 * @param[out] gas  its composition is not filled yet.
 * @retval DW_OK whatever was found; DW_ERR_ARG, DW_ERR_DOMAIN (a temperature outside 200..6000 K),
 *         DW_ERR_NO_CONVERGE
 * @par Checked by  tests/unit/ware/test_gas_match.c
 */
DW_MUST_CHECK
dw_status dw_match_oxygen(const dw_match_mixtures *mixtures, double temperature_k,
                          double log10_po2_bar, dw_matched_gas *gas);

/** Oxygen, log10 of bar, that a mixture has in equilibrium at a temperature; NaN on failure. */
DW_MUST_CHECK
dw_status dw_match_oxygen_at(const dw_match_mixtures *mixtures, const dw_matched_gas *gas,
                             double temperature_k, double *log10_po2_bar);

/** Quench temperatures that a kiln has by default: a gas keeps the composition it has there. */
dw_quench dw_match_quench(void);

/** Fills the composition of a mixture: in equilibrium at the temperature of the ware, but no colder than
 *  dw_match_quench(). What is not a mixture is left alone. */
DW_MUST_CHECK
dw_status dw_match_composition(const dw_match_mixtures *mixtures, double temperature_k,
                               dw_matched_gas *gas);

#endif

#ifndef DW_WARE_GAS_H
#define DW_WARE_GAS_H

/**
 * @file ware_gas.h
 * The gas that ware meets, for mixtures of one fuel and one air of any richness.
 *
 * Layer: ware. No allocation, no state but what the caller holds.
 */

#include "chamber_gas.h"
#include "ware.h"

/** Fuel, air, and the gas at one temperature. */
typedef struct dw_ware_mixer {
    const dw_gas_set *gases;         /**< borrowed                                            */
    dw_elements fuel_kg, air_kg;     /**< elements per kilogram                               */
    double stoichiometric_kg_kg;
    double pressure_pa_abs;
    double spread;                   /**< unmixedness                                         */
    bool graphite;
    dw_gas_potentials potentials;    /**< at the temperature of the ware                      */
} dw_ware_mixer;

/** From the fuel and the air of a kiln. @retval DW_OK, DW_ERR_DOMAIN */
DW_MUST_CHECK
dw_status dw_ware_mixer_init(dw_ware_mixer *mixer, const dw_model *model,
                             const dw_reactants *reactants, double temperature_k, double spread);

/** Whether the gas is unevenly mixed: without a spread every parcel is the mean. */
bool dw_mixer_uneven(const dw_ware_mixer *mixer);

/** Whether solid carbon is let form in a mixture: where the kiln says so, and richer than phi 3. */
bool dw_ware_lets_carbon(bool graphite, double equivalence_ratio);

/**
 * Gas with a given kilograms of fuel per kilogram of mixture.
 *
 * Richer than phi 3 solid carbon is let form, since the gas alone has no sensible equilibrium; richer
 * than DW_PHI_LIMIT there is no gas: NaN, and DW_OK.
 */
DW_MUST_CHECK
dw_status dw_ware_gas_at(const dw_ware_mixer *mixer, double z, dw_ware_gas *gas);

/** The leaner and the richer parcel of a mean gas, when its richness lies between 0.95 and 1.05 and
 *  it is unmixed; has_parcels says so. */
DW_MUST_CHECK
dw_status dw_ware_parcels(const dw_ware_mixer *mixer, double z_mean, dw_ware *ware);

#endif

#ifndef DW_TEST_FUEL_VOLUME_H
#define DW_TEST_FUEL_VOLUME_H

/**
 * @file fuel_volume.h
 * Heating values by volume and the air need by volume, as tables of fuels print them. The program counts by
 * mass.
 */

#include "fuel.h"

/** Properties per volume, of the ideal gas at stated metering conditions. */
typedef struct dw_fuel_volumetric {
    double hhv_j_m3, lhv_j_m3;
    double relative_density;        /**< molar mass / molar mass of air                      */
    double wobbe_gross_j_m3;        /**< heating value / sqrt(relative density)              */
    double wobbe_net_j_m3;
} dw_fuel_volumetric;

/**
 * Heating values and Wobbe indices per cubic metre [J/m3] as metered, ideal gas.
 *
 *     H_v = H p / (R T),   d = M / M_air,   W = H_v / sqrt(d)
 *
 * @param[in]  fuel               not NULL.
 * @param[in]  air_molar_mass_kg_mol  of the dry air that d compares with, > 0.
 * @param[in]  metering_temperature_k, metering_pressure_pa_abs  conditions of the volume, > 0.
 *             The heat is that of combustion at 25 degC whatever the metering conditions.
 * @param[out] out                all NaN on failure; not NULL.
 *
 * @retval DW_OK, DW_ERR_ARG (NULL or not finite), DW_ERR_DOMAIN (not above 0)
 *
 * @par Holds when   the gas is ideal: real propane at 15 degC holds 1.8 % more per volume,
 *                   methane 0.2 % (iso6976.h).
 * @par Source       [iso6976] for the definitions.
 * @par Checked by   tests/reference/fuel.csv
 */
DW_MUST_CHECK
dw_status dw_fuel_volumetric_at(const dw_fuel_properties *fuel, double air_molar_mass_kg_mol,
                                double metering_temperature_k, double metering_pressure_pa_abs,
                                dw_fuel_volumetric *out);

/**
 * Air that just burns a mole of fuel gas [mol/mol, equal to m3/m3 for ideal gases].
 *
 *     air = O2 needed / x_O2
 *
 * @param[in] oxygen_mol_mol  from dw_fuel_properties.
 * @param[in] x_o2_air        mole fraction of O2 in the air as it is: moist air gives moles of
 *                            moist air; > 0.
 * @return NaN when x_o2_air is not in (0, 1] or the gas needs no oxygen.
 *
 * @par Source       [definition]
 * @par Checked by   tests/reference/fuel.csv
 */
double dw_fuel_stoichiometric_air_mol_mol(double oxygen_mol_mol, double x_o2_air);

#endif

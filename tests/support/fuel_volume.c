#include "fuel_volume.h"

#include <math.h>

#include "constants.h"

dw_status dw_fuel_volumetric_at(const dw_fuel_properties *fuel, double air_molar_mass_kg_mol,
                                double metering_temperature_k, double metering_pressure_pa_abs,
                                dw_fuel_volumetric *out)
{
    if (out == NULL) return DW_ERR_ARG;
    *out = (dw_fuel_volumetric){NAN, NAN, NAN, NAN, NAN};
    if (fuel == NULL || !isfinite(fuel->molar_mass_kg_mol) || !isfinite(fuel->hhv_j_mol) ||
        !isfinite(fuel->lhv_j_mol) || !isfinite(air_molar_mass_kg_mol) ||
        !isfinite(metering_temperature_k) || !isfinite(metering_pressure_pa_abs)) {
        return DW_ERR_ARG;
    }
    if (!(fuel->molar_mass_kg_mol > 0.0) || !(air_molar_mass_kg_mol > 0.0) ||
        !(metering_temperature_k > 0.0) || !(metering_pressure_pa_abs > 0.0)) {
        return DW_ERR_DOMAIN;
    }
    const double mol_m3 = metering_pressure_pa_abs / (DW_R_J_MOL_K * metering_temperature_k);
    const double density = fuel->molar_mass_kg_mol / air_molar_mass_kg_mol;
    out->hhv_j_m3 = fuel->hhv_j_mol * mol_m3;
    out->lhv_j_m3 = fuel->lhv_j_mol * mol_m3;
    out->relative_density = density;
    out->wobbe_gross_j_m3 = out->hhv_j_m3 / sqrt(density);
    out->wobbe_net_j_m3 = out->lhv_j_m3 / sqrt(density);
    return DW_OK;
}

double dw_fuel_stoichiometric_air_mol_mol(double oxygen_mol_mol, double x_o2_air)
{
    if (!(oxygen_mol_mol > 0.0) || !(x_o2_air > 0.0 && x_o2_air <= 1.0)) return NAN;
    return oxygen_mol_mol / x_o2_air;
}

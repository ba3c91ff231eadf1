#include "ware_gas.h"

#include <math.h>

#include "unmixedness.h"

/* The ends of a range belong outside it, however they were come by. */
static const double rounding = 1e-9;

dw_status dw_ware_mixer_init(dw_ware_mixer *mixer, const dw_model *model,
                             const dw_reactants *reactants, double temperature_k, double spread)
{
    mixer->gases = &model->gases;
    mixer->fuel_kg = reactants->fuel_kg;
    mixer->air_kg = reactants->air_kg;
    mixer->stoichiometric_kg_kg = reactants->stoichiometric_kg_kg;
    mixer->pressure_pa_abs = reactants->pressure_pa_abs;
    mixer->spread = spread;
    mixer->graphite = reactants->graphite;
    return dw_gas_potentials_at(&model->gases, temperature_k, &mixer->potentials);
}

bool dw_mixer_uneven(const dw_ware_mixer *mixer) { return mixer->spread > 0.0; }

bool dw_ware_lets_carbon(bool graphite, double equivalence_ratio)
{
    return graphite || equivalence_ratio > DW_PHI_WITHOUT_CARBON;
}

dw_status dw_ware_gas_at(const dw_ware_mixer *mixer, double z, dw_ware_gas *gas)
{
    *gas = (dw_ware_gas){NAN, NAN, NAN, NAN};
    if (!(z > 0.0 && z < 1.0)) return DW_ERR_DOMAIN;
    const double phi = dw_equivalence_ratio(z, mixer->stoichiometric_kg_kg);
    gas->z = z;
    gas->equivalence_ratio = phi;
    if (phi > DW_PHI_LIMIT) return DW_OK;
    const dw_elements mix = dw_elements_combine(z, mixer->fuel_kg, 1.0 - z, mixer->air_kg);
    dw_equilibrium state;
    state.start = DW_START_COLD;
    const dw_status status =
        dw_equilibrium_solve(mixer->gases, &mixer->potentials, &mix, mixer->pressure_pa_abs,
                             dw_ware_lets_carbon(mixer->graphite, phi), &state);
    if (status != DW_OK) return status;
    gas->log10_po2_bar = state.log10_po2_bar;
    gas->carbon_activity = state.carbon_activity;
    return DW_OK;
}

dw_status dw_ware_parcels(const dw_ware_mixer *mixer, double z_mean, dw_ware *ware)
{
    const dw_ware_gas none = {NAN, NAN, NAN, NAN};
    ware->lean = ware->rich = none;
    const double phi = dw_equivalence_ratio(z_mean, mixer->stoichiometric_kg_kg);
    ware->has_parcels =
        dw_mixer_uneven(mixer) && phi > DW_WARE_PARCELS_FROM + rounding &&
        phi < DW_WARE_PARCELS_TO - rounding;
    if (!ware->has_parcels) return DW_OK;
    const double share[2] = {DW_WARE_PARCEL_SHARE, 1.0 - DW_WARE_PARCEL_SHARE};
    dw_ware_gas *gas[2] = {&ware->lean, &ware->rich};
    for (int i = 0; i < 2; i++) {
        double z;
        dw_status status = dw_mixture_quantile(z_mean, mixer->spread, share[i], &z);
        if (status == DW_OK) status = dw_ware_gas_at(mixer, z, gas[i]);
        if (status != DW_OK) return status;
    }
    return DW_OK;
}

#include "ladder.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "unmixedness.h"

const double dw_ladder_ratio[DW_LADDER_RUNG_COUNT] = {
    0.80,  0.90, 0.95, 0.98, 0.99,  1.00, 1.005, 1.01, 1.02,
    1.03, 1.05, 1.075, 1.10, 1.15, 1.20,  1.25, 1.30, 1.40};

dw_status dw_ladder_init(dw_ladder *ladder, const dw_model *model, const dw_kiln *kiln,
                         char *reason)
{
    if (ladder == NULL || model == NULL || kiln == NULL || reason == NULL) return DW_ERR_ARG;
    reason[0] = '\0';
    dw_kiln resolved = *kiln;
    dw_kiln_resolve(&resolved);
    dw_status status =
        dw_kiln_check(&resolved, &model->data->species, reason, DW_REASON_SIZE);
    if (status != DW_OK) return status;
    dw_network net;
    dw_reactants reactants;
    status = dw_network_init(&net, model, &resolved, reason);
    if (status != DW_OK) return DW_ERR_DOMAIN;
    if (dw_reactants_init(&reactants, &net) != DW_OK) {
        (void)snprintf(reason, DW_REASON_SIZE, "the fuel does not burn");
        return DW_ERR_DOMAIN;
    }
    if (net.gas_temperature_k < DW_OXYGEN_FROM_K) {
        (void)snprintf(reason, DW_REASON_SIZE,
                       "the gas is below 500 degC, where no oxygen figures are given");
        return DW_ERR_DOMAIN;
    }
    ladder->model = model;
    ladder->composition = reactants.potentials;
    ladder->composition_temperature_k = reactants.composition_temperature_k;
    return dw_ware_mixer_init(&ladder->mixer, model, &reactants, net.gas_temperature_k,
                              resolved.settings.unmixedness);
}

DW_LAW(dry_part, "d", "share in the dry gas, evenly mixed", "", "definition", (double x, double x_H2O),
       x / (1.0 - x_H2O))

const dw_law *const dw_rung_dry_law = &dry_part_law;

static dw_rung_gas dry(const dw_gas_set *gases, const double *x)
{
    const int *role = gases->role;
    const double water = x[role[DW_ROLE_H2O]];
    return (dw_rung_gas){dry_part(x[role[DW_ROLE_CO]], water), dry_part(x[role[DW_ROLE_CO2]], water),
                         dry_part(x[role[DW_ROLE_H2]], water), dry_part(x[role[DW_ROLE_O2]], water)};
}

static dw_status compositions(const dw_ladder *ladder, double z, dw_rung *rung)
{
    const dw_ware_mixer *m = &ladder->mixer;
    const dw_elements mix = dw_elements_combine(z, m->fuel_kg, 1.0 - z, m->air_kg);
    dw_equilibrium state;
    state.start = DW_START_COLD;
    dw_status status = dw_equilibrium_solve(m->gases, &ladder->composition, &mix,
                                            m->pressure_pa_abs, m->graphite, &state);
    if (status != DW_OK) return status;
    rung->mixed = rung->unmixed = dry(m->gases, state.x);
    if (!dw_mixer_uneven(m)) return DW_OK;
    double x[DW_GAS_MAX], gas_mol_kg;
    status = dw_unmixedness_mean(m->gases, &ladder->composition, &m->fuel_kg, &m->air_kg, z,
                                 m->spread, m->pressure_pa_abs, m->graphite, x, &gas_mol_kg, NULL);
    if (status != DW_OK) return status;
    rung->unmixed = dry(m->gases, x);
    return DW_OK;
}

dw_status dw_ladder_rung(const dw_ladder *ladder, double equivalence_ratio, dw_rung *rung)
{
    if (rung == NULL) return DW_ERR_ARG;
    memset(rung, 0, sizeof *rung);
    if (ladder == NULL || !isfinite(equivalence_ratio)) return DW_ERR_ARG;
    if (!(equivalence_ratio >= 0.05 && equivalence_ratio <= 3.0)) return DW_ERR_DOMAIN;
    const dw_ware_mixer *m = &ladder->mixer;
    const double z = dw_fuel_share(equivalence_ratio, m->stoichiometric_kg_kg);
    dw_ware_gas mean;
    dw_status status = dw_ware_gas_at(m, z, &mean);
    if (status != DW_OK) return status;
    dw_ware *ware = &rung->ware;
    status = dw_ware_at(ladder->model, m->potentials.temperature_k, m->pressure_pa_abs,
                        mean.log10_po2_bar, ware);
    if (status != DW_OK) return status;
    ware->mean = mean;
    status = dw_ware_parcels(m, z, ware);
    if (status != DW_OK) return status;
    dw_ware_states(ladder->model->data, -1, ware);
    rung->equivalence_ratio = equivalence_ratio;
    return compositions(ladder, z, rung);
}

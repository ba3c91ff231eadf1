#include "chamber_gas.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "chamber_heat.h"
#include "format.h"
#include "oxygen.h"
#include "unmixedness.h"

DW_LAW(frozen_at, "T_c", "temperature at which the composition is worked out", "K", "assumption",
       (double T_gas, double T_q), fmax(T_gas, T_q))
DW_LAW(mixture_share, "z", "share of fuel in what burns, by mass", "", "definition",
       (double m_gas, double m_air), m_gas / (m_gas + m_air))
DW_LAW(reducing, "red", "reducing fraction", "", "definition",
       (double x_CO, double x_H2, double x_CO2, double x_H2O),
       (x_CO + x_H2) / (x_CO + x_H2 + x_CO2 + x_H2O))
DW_LAW(co_ratio, "CO_CO2", "CO / CO2", "", "definition", (double x_CO, double x_CO2), x_CO / x_CO2)
DW_LAW(h2_ratio, "H2_H2O", "H2 / H2O", "", "definition", (double x_H2, double x_H2O), x_H2 / x_H2O)
DW_LAW(dry_share, "x_dry", "share in the dry gas, without the water", "", "definition",
       (double x, double wet, double x_H2O), (1.0 - wet) * x / (1.0 - x_H2O))

const dw_law *const dw_frozen_at_law = &frozen_at_law, *const dw_mixture_share_law = &mixture_share_law,
             *const dw_reducing_law = &reducing_law, *const dw_co_ratio_law = &co_ratio_law,
             *const dw_h2_ratio_law = &h2_ratio_law, *const dw_dry_share_law = &dry_share_law;

double dw_composition_temperature_k(double gas_temperature_k, double quench_temperature_k)
{
    return frozen_at(gas_temperature_k, quench_temperature_k);
}

double dw_result_fuel_share(const dw_result *r)
{
    return mixture_share(r->gas_flow_kg_s, r->air_flow_kg_s);
}

dw_status dw_reactants_init(dw_reactants *reactants, const dw_network *net)
{
    const dw_species_table *table = &net->model->data->species;
    const dw_kiln *kiln = net->kiln;
    reactants->fuel_kg = dw_elements_per_kg(table, kiln->fuel.x);
    reactants->air_kg = dw_elements_per_kg(table, net->x_air);
    reactants->stoichiometric_kg_kg =
        dw_air_need_kg_kg(&reactants->fuel_kg, &reactants->air_kg);
    if (!(reactants->stoichiometric_kg_kg > 0.0)) return DW_ERR_DOMAIN;
    reactants->pressure_pa_abs = net->pressure_pa_abs;
    reactants->composition_temperature_k =
        dw_composition_temperature_k(net->gas_temperature_k, kiln->settings.quench_temperature_k);
    reactants->graphite = kiln->settings.graphite;
    return dw_gas_potentials_at(&net->model->gases, reactants->composition_temperature_k,
                                &reactants->potentials);
}

dw_status dw_reactants_mean(const dw_reactants *reactants, const dw_gas_set *gases,
                            double air_kg_per_fuel_kg, dw_equilibrium *state,
                            double *molar_mass_kg_mol)
{
    const double least = reactants->stoichiometric_kg_kg / DW_PHI_LIMIT;
    const double z = 1.0 / (1.0 + fmax(air_kg_per_fuel_kg, least));
    const dw_elements mix =
        dw_elements_combine(z, reactants->fuel_kg, 1.0 - z, reactants->air_kg);
    const dw_status status = dw_equilibrium_solve(gases, &reactants->potentials, &mix,
                                                  reactants->pressure_pa_abs,
                                                  reactants->graphite, state);
    *molar_mass_kg_mol = NAN;
    if (status != DW_OK) return status;
    double mass = 0.0;
    for (int j = 0; j < gases->count; j++) {
        mass += state->x[j] * gases->table->species[gases->species[j]].molar_mass_kg_mol;
    }
    *molar_mass_kg_mol = mass;
    return DW_OK;
}

void dw_gas_from_set(const dw_gas_set *gases, const double *x_set, dw_gas *gas)
{
    memset(gas->x, 0, sizeof gas->x);
    for (int j = 0; j < gases->count; j++) gas->x[gases->species[j]] = x_set[j];
    gas->molar_mass_kg_mol = dw_mixture_molar_mass(gases->table, gas->x);
}

static double fraction_of(const dw_species_table *table, const dw_gas *gas, const char *name)
{
    const int i = dw_species_find(table, name);
    return i < 0 ? 0.0 : gas->x[i];
}

static void report_compositions(const dw_species_table *table, dw_result *r)
{
    const double x_co = fraction_of(table, &r->gas_wet, "CO");
    const double x_co2 = fraction_of(table, &r->gas_wet, "CO2");
    const double x_h2 = fraction_of(table, &r->gas_wet, "H2");
    const double x_h2o = fraction_of(table, &r->gas_wet, "H2O");
    r->reducing_frac = reducing(x_co, x_h2, x_co2, x_h2o);
    r->co_co2_ratio = co_ratio(x_co, x_co2);
    r->h2_h2o_ratio = h2_ratio(x_h2, x_h2o);

    r->gas_dry = r->gas_wet;
    const int water = dw_species_find(table, "H2O");
    for (size_t i = 0; i < table->count; i++) {
        r->gas_dry.x[i] = dry_share(r->gas_wet.x[i], (int)i == water ? 1.0 : 0.0, x_h2o);
    }
    r->gas_dry.molar_mass_kg_mol = dw_mixture_molar_mass(table, r->gas_dry.x);
}

/* Oxygen as ware and probe meet it: the mean elements brought to equilibrium at the temperature of
 * the gas, never averaged partial pressures. */
static dw_status report_oxygen(const dw_network *net, const dw_reactants *reactants,
                               const dw_equilibrium *mean, dw_gas_inside *inside, dw_result *r)
{
    r->log10_po2_bar = r->probe_emf_v = r->carbon_activity = NAN;
    inside->frozen = reactants->composition_temperature_k != net->gas_temperature_k;
    if (net->gas_temperature_k < DW_OXYGEN_FROM_K) return DW_OK;
    dw_equilibrium *here = &inside->here;
    *here = *mean;
    if (inside->frozen) {
        dw_status status =
            dw_gas_potentials_at(&net->model->gases, net->gas_temperature_k, &inside->at);
        if (status != DW_OK) return status;
        here->start = DW_START_COLD;
        status = dw_equilibrium_solve(&net->model->gases, &inside->at, &inside->mix,
                                      net->pressure_pa_abs, reactants->graphite, here);
        if (status != DW_OK) return status;
    }
    r->log10_po2_bar = here->log10_po2_bar;
    r->carbon_activity = here->carbon_activity;
    r->probe_emf_v =
        dw_probe_emf_v(here->log10_po2_bar, net->gas_temperature_k, net->pressure_pa_abs);
    return DW_OK;
}

int dw_band_of(const dw_data *data, double phi)
{
    int band = 0;
    while (band + 1 < (int)data->band_count && !(phi < data->band[band].phi_below)) band++;
    return band;
}

static void report_words(const dw_network *net, dw_result *r)
{
    const dw_data *data = net->model->data;
    r->band = dw_band_of(data, r->equivalence_ratio);
    const dw_sooting *s = &data->sooting;
    r->sooting = r->gas_temperature_k > s->chamber_temperature_above_k &&
                 ((r->equivalence_ratio >= s->phi_at_least &&
                   r->primary_aeration < s->primary_aeration_below) ||
                  r->equivalence_ratio >= s->phi_always);
    if (r->sooting) dw_result_find(r, DW_FIND_SOOTING, -1, r->equivalence_ratio);
}

static void close_elements(const dw_reactants *reactants, const double *x, double gas_mol_kg,
                           double solid_mol_kg, const dw_species_table *table, dw_result *r)
{
    const dw_elements out = dw_elements_from_moles(table, x);
    const dw_elements in = dw_elements_combine(r->gas_flow_kg_s, reactants->fuel_kg,
                                               r->air_flow_kg_s, reactants->air_kg);
    const double kg_s = r->gas_flow_kg_s + r->air_flow_kg_s;
    for (int e = 0; e < DW_ELEMENT_COUNT; e++) {
        double left = out.n[e] * gas_mol_kg * kg_s;
        if (e == DW_C) left += solid_mol_kg * kg_s;
        const double residual = in.n[e] > 0.0 ? (in.n[e] - left) / in.n[e] : 0.0;
        if (fabs(residual) > fabs(r->closure_element[e])) r->closure_element[e] = residual;
    }
}

dw_status dw_chamber_gas_report(const dw_network *net, const dw_reactants *reactants,
                                const dw_equilibrium *mean, dw_gas_inside *inside, dw_result *r)
{
    const dw_gas_set *gases = &net->model->gases;
    const dw_species_table *table = &net->model->data->species;
    r->gas_temperature_k = net->gas_temperature_k;
    r->composition_temperature_k = reactants->composition_temperature_k;
    r->unmixedness = net->kiln->settings.unmixedness;

    const double z = dw_result_fuel_share(r);
    inside->mix = dw_elements_combine(z, reactants->fuel_kg, 1.0 - z, reactants->air_kg);
    inside->uneven = r->unmixedness > 0.0;
    dw_gas_from_set(gases, mean->x, &r->gas_mean);
    close_elements(reactants, r->gas_mean.x, mean->gas_mol, mean->graphite_mol, table, r);

    double x[DW_GAS_MAX], gas_mol_kg = mean->gas_mol, solid_mol_kg = mean->graphite_mol;
    if (inside->uneven) {
        const dw_status status = dw_unmixedness_mean(
            gases, &reactants->potentials, &reactants->fuel_kg, &reactants->air_kg, z,
            r->unmixedness, net->pressure_pa_abs, reactants->graphite, x, &gas_mol_kg, NULL);
        if (status != DW_OK) {
            (void)dw_print(r->reason, sizeof r->reason,
                           "the unevenly mixed gas has no equilibrium at phi %.3g",
                           r->equivalence_ratio);
            return DW_ERR_NO_CONVERGE;
        }
        dw_gas_from_set(gases, x, &r->gas_wet);
        const dw_elements gas = dw_elements_from_moles(table, r->gas_wet.x);
        solid_mol_kg = fmax(inside->mix.n[DW_C] - gas.n[DW_C] * gas_mol_kg, 0.0);
        if (!reactants->graphite) solid_mol_kg = 0.0;
        close_elements(reactants, r->gas_wet.x, gas_mol_kg, solid_mol_kg, table, r);
    } else {
        r->gas_wet = r->gas_mean;
    }
    if (mean->graphite_mol > 0.0) {
        dw_result_find(r, DW_FIND_GRAPHITE, -1, mean->graphite_mol);
    }
    report_compositions(table, r);
    if (report_oxygen(net, reactants, mean, inside, r) != DW_OK) {
        (void)dw_print(r->reason, sizeof r->reason,
                       "the gas has no equilibrium at %.0f K and phi %.3g", net->gas_temperature_k,
                       r->equivalence_ratio);
        return DW_ERR_NO_CONVERGE;
    }
    report_words(net, r);
    inside->solid_mol_kg = solid_mol_kg;
    dw_chamber_heat(net, solid_mol_kg, NULL, r);
    return DW_OK;
}

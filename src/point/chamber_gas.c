#include "chamber_gas.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "constants.h"
#include "format.h"
#include "fuel.h"
#include "probe.h"
#include "unmixedness.h"

/* Below this no probe conducts and no reaction gets anywhere: oxygen figures are not given. */
static const double oxygen_from_k = 773.15;

dw_status dw_reactants_init(dw_reactants *reactants, const dw_network *net)
{
    const dw_species_table *table = &net->model->data->species;
    const dw_kiln *kiln = net->kiln;
    const dw_elements fuel = dw_elements_from_moles(table, kiln->fuel.x);
    const dw_elements air = dw_elements_from_moles(table, net->x_air);
    const double fuel_kg = dw_elements_mass_kg(&fuel), air_kg = dw_elements_mass_kg(&air);
    reactants->fuel_kg = dw_elements_combine(1.0 / fuel_kg, fuel, 0.0, fuel);
    reactants->air_kg = dw_elements_combine(1.0 / air_kg, air, 0.0, air);
    reactants->stoichiometric_kg_kg = -reactants->fuel_kg.excess_o / reactants->air_kg.excess_o;
    if (!(reactants->stoichiometric_kg_kg > 0.0)) return DW_ERR_DOMAIN;
    reactants->pressure_pa_abs = net->pressure_pa_abs;
    reactants->composition_temperature_k =
        fmax(net->gas_temperature_k, kiln->settings.quench_temperature_k);
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
    r->reducing_frac = (x_co + x_h2) / (x_co + x_h2 + x_co2 + x_h2o);
    r->co_co2_ratio = x_co / x_co2;
    r->h2_h2o_ratio = x_h2 / x_h2o;

    r->gas_dry = r->gas_wet;
    const int water = dw_species_find(table, "H2O");
    if (water >= 0) {
        r->gas_dry.x[water] = 0.0;
        for (size_t i = 0; i < table->count; i++) r->gas_dry.x[i] /= 1.0 - x_h2o;
    }
    r->gas_dry.molar_mass_kg_mol = dw_mixture_molar_mass(table, r->gas_dry.x);
}

/* Oxygen as ware and probe meet it: the mean elements brought to equilibrium at the temperature of
 * the gas, never averaged partial pressures. */
static dw_status report_oxygen(const dw_network *net, const dw_reactants *reactants,
                               const dw_equilibrium *mean, const dw_elements *mix, dw_result *r)
{
    r->log10_po2_bar = r->probe_emf_v = r->carbon_activity = NAN;
    if (net->gas_temperature_k < oxygen_from_k) return DW_OK;
    dw_equilibrium here = *mean;
    if (reactants->composition_temperature_k != net->gas_temperature_k) {
        dw_gas_potentials at;
        dw_status status = dw_gas_potentials_at(&net->model->gases, net->gas_temperature_k, &at);
        if (status != DW_OK) return status;
        here.started = false;
        status = dw_equilibrium_solve(&net->model->gases, &at, mix, net->pressure_pa_abs,
                                      reactants->graphite, &here);
        if (status != DW_OK) return status;
    }
    r->log10_po2_bar = here.log10_po2_bar;
    r->carbon_activity = here.carbon_activity;
    r->probe_emf_v =
        dw_probe_emf_v(here.log10_po2_bar, net->gas_temperature_k, net->pressure_pa_abs);
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

/* Enthalpy [W] of a gas flow at a temperature, formation included. */
static double enthalpy_w(const dw_species_table *table, const double *x, double molar_mass_kg_mol,
                         double mass_kg_s, double temperature_k)
{
    return mass_kg_s / molar_mass_kg_mol * dw_mixture_enthalpy_j_mol(table, x, temperature_k);
}

static void report_heat(const dw_network *net, double solid_carbon_mol_s, dw_result *r)
{
    const dw_species_table *table = &net->model->data->species;
    const dw_kiln *kiln = net->kiln;
    const double t0 = DW_T_REFERENCE_K, t_fuel = kiln->operating.gas_temperature_k;
    const double t_air = kiln->site.room_temperature_k, t_gas = net->gas_temperature_k;
    const double m_fuel = net->fuel_molar_mass_kg_mol, m_air = net->air.molar_mass_kg_mol;
    /* Solid carbon leaves with the gas and counts with the enthalpy of graphite. */
    const double gas_out_kg_s = r->gas_flow_kg_s + r->air_flow_kg_s -
                                solid_carbon_mol_s * dw_atomic_mass_kg_mol(DW_C);
    const double m_gas = r->gas_wet.molar_mass_kg_mol;

    double solid_w = 0.0, solid_reference_w = 0.0;
    const int graphite = net->model->gases.graphite;
    if (solid_carbon_mol_s > 0.0 && graphite >= 0) {
        double h, h0;
        if (dw_species_standard_state(&table->species[graphite], t_gas, NULL, &h, NULL) == DW_OK &&
            dw_species_standard_state(&table->species[graphite], t0, NULL, &h0, NULL) == DW_OK) {
            solid_w = solid_carbon_mol_s * h;
            solid_reference_w = solid_carbon_mol_s * h0;
        }
    }
    const double out_w = enthalpy_w(table, r->gas_wet.x, m_gas, gas_out_kg_s, t_gas) + solid_w;
    const double out_reference_w =
        enthalpy_w(table, r->gas_wet.x, m_gas, gas_out_kg_s, t0) + solid_reference_w;

    /* Fully burnt: the same elements as CO2, H2O, N2 and what oxygen is left (enthalpy 0 at 298 K). */
    const dw_elements gas = dw_elements_from_moles(table, r->gas_wet.x);
    const double moles_s = gas_out_kg_s / m_gas;
    const double carbon_mol_s = gas.n[DW_C] * moles_s + solid_carbon_mol_s;
    double h_co2 = NAN, h_h2o = NAN;
    const int co2 = dw_species_find(table, "CO2"), h2o = dw_species_find(table, "H2O");
    if (co2 >= 0 && h2o >= 0) {
        h_co2 = table->species[co2].h_formation_j_mol;
        h_h2o = table->species[h2o].h_formation_j_mol;
    }
    const double burnt_w = carbon_mol_s * h_co2 + 0.5 * gas.n[DW_H] * moles_s * h_h2o;

    r->heat_unburnt_w = out_reference_w - burnt_w;
    r->heat_sensible_w = out_w - out_reference_w;
    const double fuel_w = enthalpy_w(table, kiln->fuel.x, m_fuel, r->gas_flow_kg_s, t_fuel);
    const double air_w = enthalpy_w(table, net->x_air, m_air, r->air_flow_kg_s, t_air);
    const double brought_w =
        fuel_w - enthalpy_w(table, kiln->fuel.x, m_fuel, r->gas_flow_kg_s, t0) + air_w -
        enthalpy_w(table, net->x_air, m_air, r->air_flow_kg_s, t0);
    r->heat_released_w = r->heat_input_net_w - r->heat_unburnt_w;
    r->heat_to_kiln_w = r->heat_released_w + brought_w - r->heat_sensible_w;
    /* The same by total enthalpies: the two agree only when heating values and formation enthalpies
     * belong together. Where a thousand times the air that burns is warmed, its heat is what flows. */
    r->closure_energy = (fuel_w + air_w - out_w - r->heat_to_kiln_w) /
                        fmax(r->heat_input_net_w, fabs(r->heat_sensible_w));
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
                                const dw_equilibrium *mean, dw_result *r)
{
    const dw_gas_set *gases = &net->model->gases;
    const dw_species_table *table = &net->model->data->species;
    r->gas_temperature_k = net->gas_temperature_k;
    r->composition_temperature_k = reactants->composition_temperature_k;
    r->unmixedness = net->kiln->settings.unmixedness;

    const double z = r->gas_flow_kg_s / (r->gas_flow_kg_s + r->air_flow_kg_s);
    const dw_elements mix =
        dw_elements_combine(z, reactants->fuel_kg, 1.0 - z, reactants->air_kg);
    dw_gas_from_set(gases, mean->x, &r->gas_mean);
    close_elements(reactants, r->gas_mean.x, mean->gas_mol, mean->graphite_mol, table, r);

    double x[DW_GAS_MAX], gas_mol_kg = mean->gas_mol, solid_mol_kg = mean->graphite_mol;
    if (r->unmixedness > 0.0) {
        const dw_status status = dw_unmixedness_mean(
            gases, &reactants->potentials, &reactants->fuel_kg, &reactants->air_kg, z,
            r->unmixedness, net->pressure_pa_abs, reactants->graphite, x, &gas_mol_kg);
        if (status != DW_OK) {
            (void)dw_print(r->reason, sizeof r->reason,
                           "the unevenly mixed gas has no equilibrium at phi %.3g",
                           r->equivalence_ratio);
            return DW_ERR_NO_CONVERGE;
        }
        dw_gas_from_set(gases, x, &r->gas_wet);
        const dw_elements gas = dw_elements_from_moles(table, r->gas_wet.x);
        solid_mol_kg = fmax(mix.n[DW_C] - gas.n[DW_C] * gas_mol_kg, 0.0);
        if (!reactants->graphite) solid_mol_kg = 0.0;
        close_elements(reactants, r->gas_wet.x, gas_mol_kg, solid_mol_kg, table, r);
    } else {
        r->gas_wet = r->gas_mean;
    }
    if (mean->graphite_mol > 0.0) {
        dw_result_find(r, DW_FIND_GRAPHITE, -1, mean->graphite_mol);
    }
    report_compositions(table, r);
    if (report_oxygen(net, reactants, mean, &mix, r) != DW_OK) {
        (void)dw_print(r->reason, sizeof r->reason,
                       "the gas has no equilibrium at %.0f K and phi %.3g", net->gas_temperature_k,
                       r->equivalence_ratio);
        return DW_ERR_NO_CONVERGE;
    }
    report_words(net, r);
    report_heat(net, solid_mol_kg * (r->gas_flow_kg_s + r->air_flow_kg_s), r);
    return DW_OK;
}

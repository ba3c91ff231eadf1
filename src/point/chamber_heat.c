#include "chamber_heat.h"

#include <math.h>

#include "constants.h"

DW_LAW(solid_out, "N_sol", "solid carbon that leaves the chamber", "mol/s", "definition",
       (double n_sol, double m_gas, double m_air), n_sol * (m_gas + m_air))
DW_LAW(gas_out, "n_out", "gas that leaves the chamber", "mol/s", "definition",
       (double m_gas, double m_air, double M_wet), (m_gas + m_air) / M_wet)
DW_LAW(gas_beside_solid, "n_out", "gas that leaves the chamber", "mol/s", "definition",
       (double m_gas, double m_air, double N_sol, double M_wet),
       (m_gas + m_air - N_sol * 0.0120107) / M_wet)
DW_LAW(gas_enthalpy, "H_T", "enthalpy that leaves with the gas", "W", "nasa9",
       (double n_out, double h_T), n_out * h_T)
DW_LAW(enthalpy_with_solid, "H_T", "enthalpy that leaves with the gas", "W", "nasa9",
       (double n_out, double h_T, double N_sol, double hs_T), n_out * h_T + N_sol * hs_T)
DW_LAW(unburnt, "Q_un", "heat that leaves unburnt", "W", "definition", (double H_0, double H_burnt),
       H_0 - H_burnt)
DW_LAW(sensible, "Q_hot", "heat that leaves with the hot gas", "W", "definition",
       (double H_T, double H_0), H_T - H_0)
DW_LAW(released, "Q_rel", "heat released in the chamber", "W", "definition",
       (double Q_net, double Q_un), Q_net - Q_un)
DW_LAW(brought, "Q_in", "heat that gas and air bring in, above 25 degC", "W", "nasa9",
       (double m_gas, double M_f, double hf_in, double hf_0, double m_air, double M_air, double ha_in,
        double ha_0),
       m_gas / M_f * (hf_in - hf_0) + m_air / M_air * (ha_in - ha_0))
DW_LAW(stays, "Q_kiln", "heat that stays, in ware, shelves and walls", "W", "definition",
       (double Q_rel, double Q_in, double Q_hot), Q_rel + Q_in - Q_hot)

/* A step of a sum over a table: its value stands beside its formula. */
static double sum_of(dw_working *w, const char *symbol, const char *meaning, const char *unit,
                     const char *formula, double value, const char *source)
{
    if (w != NULL) dw_work_step_is(w, "", symbol, meaning, unit, formula, value, source);
    return value;
}

static double formation_j_mol(const dw_species_table *table, const char *name)
{
    const int i = dw_species_find(table, name);
    return i < 0 ? NAN : table->species[i].h_formation_j_mol;
}

static double graphite_j_mol(const dw_network *net, double temperature_k)
{
    const int graphite = net->model->gases.graphite;
    double h;
    return graphite >= 0 &&
                   dw_species_standard_state(&net->model->data->species.species[graphite],
                                             temperature_k, NULL, &h, NULL) == DW_OK
               ? h
               : NAN;
}

void dw_chamber_heat(const dw_network *net, double solid_mol_kg, dw_working *w, dw_result *r)
{
    const dw_species_table *table = &net->model->data->species;
    const dw_kiln *kiln = net->kiln;
    const double t0 = DW_T_REFERENCE_K, t_gas = net->gas_temperature_k;
    const double m_gas = r->gas_flow_kg_s, m_air = r->air_flow_kg_s;
    const double *x = r->gas_wet.x;
    const bool solid = solid_mol_kg > 0.0;
    double N_sol = 0.0, hs_T = NAN, hs_0 = NAN;
    if (solid) {
        (void)dw_law_given(w, DW_WORK_SOLVED, "n_sol",
                           "solid carbon in a kilogram: the carbon that is not in the gas", "mol/kg",
                           solid_mol_kg);
        hs_T = dw_law_given(w, DW_WORK_DATA, "hs_T", "enthalpy of graphite at T_gas", "J/mol",
                            graphite_j_mol(net, t_gas));
        hs_0 = dw_law_given(w, DW_WORK_DATA, "hs_0", "enthalpy of the gas at 25 degC", "J/mol",
                            graphite_j_mol(net, t0));
        N_sol = DW_STEP(w, solid_out, (solid_mol_kg, m_gas, m_air));
    }
    const double M_wet = sum_of(w, "M_wet", "molar mass of the gas that leaves", "kg/mol", "sum(x*M)",
                                r->gas_wet.molar_mass_kg_mol, "definition");
    const double n_out = solid ? DW_STEP(w, gas_beside_solid, (m_gas, m_air, N_sol, M_wet))
                               : DW_STEP(w, gas_out, (m_gas, m_air, M_wet));
    const double h_T = dw_mixture_enthalpy_j_mol(table, x, t_gas);
    const double h_0 = dw_mixture_enthalpy_j_mol(table, x, t0);
    const double H_T =
        solid ? DW_STEP_AS(w, "", "h_T>sum(x*h_T)", NULL, enthalpy_with_solid, (n_out, h_T, N_sol, hs_T))
              : DW_STEP_AS(w, "", "h_T>sum(x*h_T)", NULL, gas_enthalpy, (n_out, h_T));
    const char *cold = "enthalpy of that gas, cooled to 25 degC";
    const double H_0 =
        solid ? DW_STEP_AS(w, "", "H_T>H_0 h_T>sum(x*h_0) hs_T>hs_0", cold, enthalpy_with_solid,
                           (n_out, h_0, N_sol, hs_0))
              : DW_STEP_AS(w, "", "H_T>H_0 h_T>sum(x*h_0)", cold, gas_enthalpy, (n_out, h_0));

    /* Fully burnt: the same elements as CO2, H2O, N2 and what oxygen is left (enthalpy 0 at 298 K). */
    const dw_elements gas = dw_elements_from_moles(table, x);
    const double h_co2 = dw_law_given(w, DW_WORK_DATA, "hf_CO2", "enthalpy of forming CO2", "J/mol",
                                      formation_j_mol(table, "CO2"));
    const double h_h2o = dw_law_given(w, DW_WORK_DATA, "hf_H2O", "enthalpy of forming H2O", "J/mol",
                                      formation_j_mol(table, "H2O"));
    const double H_burnt =
        sum_of(w, "H_burnt", "enthalpy of that gas at 25 degC, burnt completely", "W",
               solid ? "(n_out*sum(x*C) + N_sol)*hf_CO2 + n_out*sum(x*H)/2*hf_H2O"
                     : "n_out*(sum(x*C)*hf_CO2 + sum(x*H)/2*hf_H2O)",
               (gas.n[DW_C] * n_out + N_sol) * h_co2 + 0.5 * gas.n[DW_H] * n_out * h_h2o, "nasa9");

    r->heat_unburnt_w = DW_STEP_FOR(w, "heat_unburnt_w", unburnt, (H_0, H_burnt));
    r->heat_sensible_w = DW_STEP_FOR(w, "heat_sensible_w", sensible, (H_T, H_0));
    r->heat_released_w =
        DW_STEP_FOR(w, "heat_released_w", released, (r->heat_input_net_w, r->heat_unburnt_w));
    const double t_fuel = kiln->operating.gas_temperature_k, t_air = kiln->site.room_temperature_k;
    const double hf_in =
        sum_of(w, "hf_in", "enthalpy of the fuel as it comes in", "J/mol", "sum(x_f*hT_i)",
               dw_mixture_enthalpy_j_mol(table, kiln->fuel.x, t_fuel), "nasa9");
    const double hf_0 = sum_of(w, "hf_0", "enthalpy of the gas at 25 degC", "J/mol", "sum(x_f*h_i)",
                               dw_mixture_enthalpy_j_mol(table, kiln->fuel.x, t0), "nasa9");
    const double ha_in = sum_of(w, "ha_in", "enthalpy of the air as it comes in", "J/mol",
                                "(1 - x_w)*sum(x_da*hR_da) + x_w*hR_w",
                                dw_mixture_enthalpy_j_mol(table, net->x_air, t_air), "nasa9");
    const double ha_0 = sum_of(w, "ha_0", "enthalpy of the gas at 25 degC", "J/mol",
                               "(1 - x_w)*sum(x_da*h_da) + x_w*h_H2O",
                               dw_mixture_enthalpy_j_mol(table, net->x_air, t0), "nasa9");
    const double M_f = net->fuel_molar_mass_kg_mol, M_air = net->air.molar_mass_kg_mol;
    const double Q_in = DW_STEP(w, brought, (m_gas, M_f, hf_in, hf_0, m_air, M_air, ha_in, ha_0));
    r->heat_to_kiln_w =
        DW_STEP_FOR(w, "heat_to_kiln_w", stays, (r->heat_released_w, Q_in, r->heat_sensible_w));
    /* The same by total enthalpies: the two agree only when heating values and formation enthalpies
     * belong together. Where a thousand times the air that burns is warmed, its heat is what flows. */
    r->closure_energy =
        (m_gas / M_f * hf_in + m_air / M_air * ha_in - H_T - r->heat_to_kiln_w) /
        fmax(r->heat_input_net_w, fabs(r->heat_sensible_w));
    if (w != NULL) {
        dw_work_balance(w, "closure.energy", NULL,
                        "by total enthalpies: what comes in either leaves or stays",
                        "m_gas/M_f*hf_in + m_air/M_air*ha_in - H_T = Q_kiln", "nasa9");
    }
}

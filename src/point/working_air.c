/* The working of room air, fuel and chamber gas: what is so before any flow is known. */
#include <math.h>

#include "constants.h"
#include "stack.h"
#include "fuel.h"
#include "working_steps.h"

void dw_work_air(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_site *site = &p->solved->kiln.site;
    const dw_network *net = &p->solved->net;
    dw_work_section(w, "The air");
    (void)dw_kiln_pressure_pa_abs(p->given, "setting.site_pressure_pa_abs", w);
    dw_moist_air air;
    if (dw_moist_air_from_humidity(site->air_temperature_k, site->pressure_pa_abs,
                                   site->relative_humidity, w, &air) != DW_OK) {
        return;
    }

    static const char *const gas[4] = {"N2", "O2", "Ar", "CO2"};
    const double share[4] = {DW_DRY_AIR_X_N2, DW_DRY_AIR_X_O2, DW_DRY_AIR_X_AR, DW_DRY_AIR_X_CO2};
    double mass[4], cold[4], room[4];
    const dw_species_table *table = &p->model->data->species;
    dw_work_table_begin(w, "Dry air", "gas", 4);
    for (size_t i = 0; i < 4; i++) {
        const int s = dw_species_find(table, gas[i]);
        mass[i] = s < 0 ? NAN : table->species[s].molar_mass_kg_mol;
        cold[i] = dw_work_enthalpy_j_mol(p, s, DW_T_REFERENCE_K);
        room[i] = dw_work_enthalpy_j_mol(p, s, site->room_temperature_k);
        dw_work_row(w, i, "%s", gas[i]);
    }
    dw_work_column(w, DW_WORK_DATA, "x_da", "share, by moles", "", share);
    dw_work_column(w, DW_WORK_DATA, "M_da", "molar mass", "kg/mol", mass);
    dw_work_column(w, DW_WORK_DATA, "h_da", "enthalpy at 25 degC, from the elements", "J/mol",
                   cold);
    dw_work_column(w, DW_WORK_DATA, "hR_da", "enthalpy at the room's temperature", "J/mol", room);
    dw_work_step_is(w, "", "M_dry", "molar mass of dry air", "kg/mol", "sum(x_da*M_da)", NAN,
                    "rp1311");
    const int water = dw_species_find(table, "H2O");
    dw_work_put(w, DW_WORK_DATA, "M_w", "molar mass of water", "kg/mol", 0.01801528);
    dw_work_put(w, DW_WORK_DATA, "hR_w", "enthalpy of water vapour at the room's temperature",
                "J/mol", dw_work_enthalpy_j_mol(p, water, site->room_temperature_k));
    dw_work_step_is(w, "", "M_air", "molar mass of the air", "kg/mol", "(1 - x_w)*M_dry + x_w*M_w",
                    net->air.molar_mass_kg_mol, "definition");
    dw_work_put(w, DW_WORK_CONSTANT, "R", "gas constant", "J/(mol K)", DW_R_J_MOL_K);
    dw_work_put(w, DW_WORK_CONSTANT, "g", "acceleration of free fall", "m/s2", DW_G_M_S2);
    dw_work_put(w, DW_WORK_INPUT, "T_room", "temperature of the room", "K",
                site->room_temperature_k);
    dw_work_put(w, DW_WORK_INPUT, "T_out", "temperature outside", "K",
                site->outside_temperature_k);
    dw_law_write(w, "", "rho>rho_room M>M_air T>T_room", "density of room air",
                 dw_ideal_gas_density_law, net->rho_room_kg_m3);
    dw_law_write(w, "", "rho>rho_out M>M_air T>T_out", "density of outside air",
                 dw_ideal_gas_density_law, net->rho_out_kg_m3);
}

enum { FUEL_ROWS = DW_SPECIES_MAX };

static void put_fuel_table(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_species_table *table = &p->model->data->species;
    const dw_kiln *kiln = &p->solved->kiln;
    double x[FUEL_ROWS], mass[FUEL_ROWS], atoms[4][FUEL_ROWS], h[FUEL_ROWS], h_t[FUEL_ROWS],
        cp[FUEL_ROWS];
    static const dw_element element[4] = {DW_C, DW_H, DW_O, DW_N};
    size_t rows = 0;
    for (size_t i = 0; i < table->count; i++) rows += kiln->fuel.x[i] > 0.0;
    dw_work_table_begin(w, "The fuel gas", "gas", rows);
    rows = 0;
    for (size_t i = 0; i < table->count; i++) {
        if (!(kiln->fuel.x[i] > 0.0)) continue;
        const dw_species *s = &table->species[i];
        dw_work_row(w, rows, "%s", s->name);
        x[rows] = kiln->fuel.x[i];
        mass[rows] = s->molar_mass_kg_mol;
        for (int e = 0; e < 4; e++) atoms[e][rows] = s->atoms[element[e]];
        h[rows] = dw_work_enthalpy_j_mol(p, (int)i, DW_T_REFERENCE_K);
        h_t[rows] = dw_work_enthalpy_j_mol(p, (int)i, kiln->operating.gas_temperature_k);
        if (dw_species_standard_state(s, kiln->operating.gas_temperature_k, &cp[rows], NULL,
                                      NULL) != DW_OK) {
            cp[rows] = NAN;
        }
        rows++;
    }
    dw_work_column(w, DW_WORK_INPUT, "x_f", "share, by moles", "", x);
    dw_work_column(w, DW_WORK_DATA, "M_i", "molar mass", "kg/mol", mass);
    dw_work_column(w, DW_WORK_DATA, "C_i", "atoms of carbon", "", atoms[0]);
    dw_work_column(w, DW_WORK_DATA, "H_i", "atoms of hydrogen", "", atoms[1]);
    dw_work_column(w, DW_WORK_DATA, "O_i", "atoms of oxygen", "", atoms[2]);
    dw_work_column(w, DW_WORK_DATA, "N_i", "atoms of nitrogen", "", atoms[3]);
    dw_work_column(w, DW_WORK_DATA, "h_i", "enthalpy at 25 degC", "J/mol", h);
    dw_work_column(w, DW_WORK_DATA, "hT_i", "enthalpy at the gas line's temperature", "J/mol", h_t);
    dw_work_column(w, DW_WORK_DATA, "cp_i", "heat capacity at that temperature", "J/(mol K)", cp);
}

static void put_heating_value(const dw_work_point *p, const dw_fuel_properties *fuel)
{
    dw_working *w = p->w;
    const dw_species_table *table = &p->model->data->species;
    static const char *const gas[4] = {"O2", "CO2", "H2O", "N2"};
    for (int i = 0; i < 4; i++) {
        dw_work_put(w, DW_WORK_DATA, dw_work_keepf(w, "h_%s", gas[i]),
                    dw_work_keepf(w, "enthalpy of %s at 25 degC", gas[i]), "J/mol",
                    dw_work_enthalpy_j_mol(p, dw_species_find(table, gas[i]), DW_T_REFERENCE_K));
    }
    dw_work_step_is(w, "", "lhv", "net heating value at 25 degC: enthalpy of what goes in, less "
                                  "that of what comes out",
                    "J/mol",
                    "sum(x_f*h_i) + n_O2*h_O2 - C_f*h_CO2 - H_f/2*h_H2O - N_f/2*h_N2",
                    fuel->lhv_j_mol, "nasa9");
    dw_fuel_write(w, fuel);
    dw_work_step_is(w, "", "d", "relative density: gas against dry air", "", "M_f/M_dry", NAN,
                    "iso6976");
    dw_work_step_is(w, "", "hhv_m3", "gross heating value of the ideal gas at 15 degC, 101325 Pa",
                    "J/m3", "hhv*101325/(R*288.15)", NAN, "iso6976");
    dw_work_step_is(w, "", "wobbe", "Wobbe index, gross, 15 degC: a measure of the heat from one "
                                    "jet",
                    "J/m3", "hhv_m3/sqrt(d)", NAN, "iso6976");
}

void dw_work_fuel(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_network *net = &p->solved->net;
    const dw_kiln *kiln = &p->solved->kiln;
    dw_fuel_properties fuel;
    if (dw_fuel_properties_from_moles(&p->model->data->species, kiln->fuel.x, &fuel) != DW_OK) {
        fuel = (dw_fuel_properties){NAN, NAN, NAN, NAN, NAN, NAN};
    }
    dw_work_section(w, "The fuel");
    put_fuel_table(p);
    dw_work_step_is(w, "", "M_f", "molar mass of the fuel", "kg/mol", "sum(x_f*M_i)",
                    net->fuel_molar_mass_kg_mol, "definition");
    dw_work_step_is(w, "", "C_f", "carbon atoms in one mole of fuel", "mol/mol", "sum(x_f*C_i)",
                    NAN,
                    "definition");
    dw_work_step_is(w, "", "H_f", "hydrogen atoms in one mole of fuel", "mol/mol", "sum(x_f*H_i)",
                    NAN,
                    "definition");
    dw_work_step_is(w, "", "N_f", "nitrogen atoms in one mole of fuel", "mol/mol", "sum(x_f*N_i)",
                    NAN,
                    "definition");
    dw_work_step_is(w, "", "n_O2", "oxygen needed to burn one mole of fuel to CO2 and H2O",
                    "mol/mol",
                    "sum(x_f*(C_i + H_i/4 - O_i/2))", fuel.oxygen_mol_mol, "definition");
    dw_work_step_is(w, "stoichiometric_air_kg_kg", "need",
                    "air needed to just burn the gas, by mass", "kg/kg",
                    "n_O2/(0.209476*(1 - x_w))*M_air/M_f", p->result->stoichiometric_air_kg_kg,
                    "definition");
    put_heating_value(p, &fuel);

    dw_work_put(w, DW_WORK_INPUT, "T_f", "temperature of the gas at the jets", "K",
                kiln->operating.gas_temperature_k);
    dw_work_put(w, DW_WORK_CONSTANT, "R_9", "gas constant used in the tables of gases", "J/(mol K)",
                DW_R_NASA_J_MOL_K);
    dw_work_step_is(w, "", "cp_f", "heat capacity of the fuel", "J/(mol K)", "sum(x_f*cp_i)", NAN,
                    "nasa9");
    dw_law_write(w, "", NULL, NULL, dw_heat_ratio_law,
                 dw_heat_capacity_ratio(&p->model->data->species, kiln->fuel.x,
                                        kiln->operating.gas_temperature_k));
    dw_law_write(w, "", "rho>rho_f M>M_f T>T_f", "density of the fuel at air pressure",
                 dw_ideal_gas_density_law, NAN);
}

void dw_work_chamber(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_kiln *kiln = &p->solved->kiln;
    const dw_network *net = &p->solved->net;
    const dw_result *r = p->result;
    dw_work_section(w, "The gas in the chamber and its pressure");
    dw_work_put(w, DW_WORK_INPUT, "T_tc", "thermocouple reading", "K",
                kiln->operating.chamber_temperature_k);
    dw_work_put(w, DW_WORK_INPUT, "dT", "how much hotter the gas is than the reading", "K",
                kiln->settings.gas_minus_reading_dk);
    dw_work_step_is(w, "gas_temperature_k", "T_gas", "temperature of the gas", "K", "T_tc + dT",
                    net->gas_temperature_k, "definition");
    dw_work_put(w, DW_WORK_SOLVED, "M_gas", "molar mass of the chamber gas", "kg/mol",
                p->solved->at.gas.molar_mass_kg_mol);
    dw_law_write(w, "", "rho>rho_gas M>M_gas T>T_gas", "density of the chamber gas",
                 dw_ideal_gas_density_law, p->solved->at.rho_kg_m3);
    (void)dw_draft_gradient_pa_m(net->rho_room_kg_m3, p->solved->at.rho_kg_m3, w);
    dw_work_put(w, DW_WORK_SOLVED, "p", "pressure in the chamber at the datum", "Pa",
                r->pressure_datum_pa);
    dw_work_put(w, DW_WORK_INPUT, "z_0", "height of the datum, which is the lowest burner", "m",
                r->datum_height_m);
    dw_work_put(w, DW_WORK_INPUT, "z_top", "height of the chamber", "m", kiln->chamber.height_m);
    dw_work_step_is(w, "pressure_floor_pa", "p_floor", "pressure at the floor", "Pa",
                    "p - grad*z_0", r->pressure_floor_pa, "draft-law");
    dw_law_write(w, "pressure_top_pa", "p_z>p_top z>z_top", "pressure at the top",
                 dw_draft_pressure_law, r->pressure_top_pa);
    dw_work_step_is(w, "draft_floor_pa", "D_floor", "draft at the floor", "Pa", "-p_floor",
                    r->draft_floor_pa, "definition");
    dw_work_step_is(w, "draft_top_pa", "D_top", "draft at the top", "Pa", "-p_top", r->draft_top_pa,
                    "definition");
    const bool inside = r->neutral == DW_NEUTRAL_INSIDE;
    dw_law_write(w, inside ? "neutral_plane_m" : "", NULL,
                 inside ? "neutral plane: the height where the pressure is zero"
                        : "height where the pressure would be zero; it is outside the chamber",
                 dw_draft_neutral_law, inside ? r->neutral_plane_m : NAN);
}

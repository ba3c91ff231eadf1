/* The working of oxygen, heat and steepness. */
#include <math.h>

#include "chamber_heat.h"
#include "constants.h"
#include "oxygen.h"
#include "working_mixtures.h"
#include "working_steps.h"

/* ---- oxygen ------------------------------------------------------------------------------- */

void dw_work_oxygen(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_result *r = p->result;
    const dw_network *net = &p->solved->net;
    if (!isfinite(r->log10_po2_bar)) return;
    dw_work_section(w, "The oxygen that the ware and the probe meet");
    dw_oxygen_ratio constants;
    if (dw_oxygen_ratio_at(&p->model->gases, net->gas_temperature_k, &constants) != DW_OK) return;
    const bool frozen = p->solved->inside.frozen;
    const dw_equilibrium *here = &p->solved->inside.here;
    const dw_gas_potentials *at =
        frozen ? &p->solved->inside.at : &p->solved->reactants.potentials;
    if (frozen) {
        dw_work_text(w, "Here the same atoms are brought to equilibrium at the temperature of the "
                        "gas itself, T_gas.");
    } else {
        dw_work_text(w, "Here the mean gas is used, not the mean over the parcels.");
    }
    static const struct {
        dw_role role;
        const char *name;
    } gas[5] = {{DW_ROLE_CO, "CO"}, {DW_ROLE_CO2, "CO2"}, {DW_ROLE_H2, "H2"}, {DW_ROLE_H2O, "H2O"},
                {DW_ROLE_O2, "O2"}};
    for (int i = 0; i < 5; i++) {
        const int j = p->model->gases.role[gas[i].role];
        if (i < 4) {
            dw_work_put(w, frozen ? DW_WORK_SOLVED : DW_WORK_STEP,
                        dw_work_keepf(w, "e_%s", gas[i].name),
                        dw_work_keepf(w, "share of %s in equilibrium at T_gas", gas[i].name), "",
                        here->x[j]);
        }
        dw_work_put(w, DW_WORK_DATA, dw_work_keepf(w, "gT_%s", gas[i].name),
                    dw_work_keepf(w, "free enthalpy of %s / (R T) at T_gas", gas[i].name), "",
                    at->g_rt[j]);
    }
    dw_law_write(w, "", NULL, NULL, dw_splits_co2_law, constants.k_co2);
    dw_law_write(w, "log10_po2_bar", NULL, NULL, dw_equilibrium_oxygen_law, r->log10_po2_bar);
    dw_law_write(w, "", NULL, NULL, dw_splits_h2o_law, constants.k_h2o);
    dw_work_balance(w, "", NULL, "hydrogen and water give the same oxygen pressure",
                    "10^(lg_pO2/2) = K_2*e_H2O/e_H2", "nasa9");
    dw_work_put(w, DW_WORK_CONSTANT, "F", "Faraday constant", "C/mol", DW_FARADAY_C_MOL);
    dw_law_write(w, "probe_emf_v", NULL, NULL, dw_probe_emf_law, r->probe_emf_v);
    if (isfinite(r->carbon_activity) && p->model->gases.graphite >= 0) {
        dw_work_put(w, DW_WORK_DATA, "gT_C", "free enthalpy of graphite / (R T) at T_gas", "",
                    at->graphite_g_rt);
        dw_law_write(w, "carbon_activity", NULL, NULL, dw_equilibrium_carbon_law, r->carbon_activity);
    }
}

/* ---- heat --------------------------------------------------------------------------------- */

/* Enthalpies of the gases in the report's order as columns of a table of their own. */
static void put_enthalpies(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_species_table *table = &p->model->data->species;
    double x[DW_SPECIES_MAX], mass[DW_SPECIES_MAX], hot[DW_SPECIES_MAX], cold[DW_SPECIES_MAX],
        carbon[DW_SPECIES_MAX], hydrogen[DW_SPECIES_MAX];
    size_t rows = 0;
    for (size_t s = 0; s < table->count; s++) rows += p->result->gas_wet.x[s] > 0.0;
    dw_work_table_begin(w, "Heat in the gas", "gas", rows);
    rows = 0;
    for (size_t s = 0; s < table->count; s++) {
        if (!(p->result->gas_wet.x[s] > 0.0)) continue;
        dw_work_row(w, rows, "%s", table->species[s].name);
        x[rows] = p->result->gas_wet.x[s];
        mass[rows] = table->species[s].molar_mass_kg_mol;
        hot[rows] = dw_work_enthalpy_j_mol(p, (int)s, p->solved->net.gas_temperature_k);
        cold[rows] = dw_work_enthalpy_j_mol(p, (int)s, DW_T_REFERENCE_K);
        carbon[rows] = table->species[s].atoms[DW_C];
        hydrogen[rows] = table->species[s].atoms[DW_H];
        rows++;
    }
    dw_work_column(w, DW_WORK_STEP, "x", "share, wet", "", x);
    dw_work_column(w, DW_WORK_DATA, "M", "molar mass", "kg/mol", mass);
    dw_work_column(w, DW_WORK_DATA, "h_T", "enthalpy at T_gas, from the elements at 25 degC",
                   "J/mol", hot);
    dw_work_column(w, DW_WORK_DATA, "h_0", "enthalpy of the gas at 25 degC", "J/mol", cold);
    dw_work_column(w, DW_WORK_DATA, "C", "atoms of carbon", "", carbon);
    dw_work_column(w, DW_WORK_DATA, "H", "atoms of hydrogen", "", hydrogen);
}

void dw_work_heat(const dw_work_point *p)
{
    dw_work_section(p->w, "Where the heat goes");
    put_enthalpies(p);
    dw_result again = *p->result;
    dw_chamber_heat(&p->solved->net, p->solved->inside.solid_mol_kg, p->w, &again);
}

/* ---- steepness ---------------------------------------------------------------------------- */

static void put_slope(const dw_work_point *p, const char *letter, const char *keys,
                      const char *symbol, const char *meaning, const char *unit, double value)
{
    const dw_slopes *s = &p->solved->slopes;
    const int which = letter[0] == 'd' ? 0 : 1;
    static const char *const row[3] = {"of the chamber's balance", "of the stack's balance",
                                       "of the richness"};
    for (int i = 0; i < 3; i++) {
        dw_work_put(p->w, DW_WORK_DATA, dw_work_keepf(p->w, "%s_%d", letter, i + 1),
                    dw_work_keepf(p->w, "slope of %s by this input", row[i]), "",
                    s->by_input[which][i]);
    }
    dw_work_step_is(p->w, keys, symbol, meaning, unit,
                    dw_work_keepf(p->w,
                                  "-(s_11*(s_22*%s_3 - s_32*%s_2) - s_12*(s_21*%s_3 - s_31*%s_2) + "
                                  "%s_1*(s_21*s_32 - s_22*s_31))/det",
                                  letter, letter, letter, letter, letter),
                    value, "definition");
}

void dw_work_slopes(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_result *r = p->result;
    if (!isfinite(r->dphi_ddamper) || !isfinite(r->dphi_dgas_pressure_per_pa)) return;
    dw_work_section(w, "How steep it is");
    dw_work_text(w, "Three balances hold: in the chamber (1), in the stack (2), and the richness "
                    "of what flows in is that of the gas (3). When an input moves a little, p, "
                    "p_s and phi shift so that all three still hold. The slopes come from moving "
                    "each of them a little and working out the balances again; the shift of phi "
                    "is the solution of three linear equations%s.",
                 p->solved->net.has_stack ? "" : " (without a stack the second drops out)");
    static const char *const by[3] = {"p", "p_s", "phi"};
    for (int i = 0; i < 3; i++) {
        for (int j = 0; j < 3; j++) {
            dw_work_put(w, DW_WORK_DATA, dw_work_keepf(w, "s_%d%d", i + 1, j + 1),
                        dw_work_keepf(w, "slope of balance %d by %s", i + 1, by[j]), "",
                        p->solved->slopes.by_unknown[i][j]);
        }
    }
    dw_work_step_is(w, "", "det", "determinant of the slopes", "",
                    "s_11*(s_22*s_33 - s_23*s_32) - s_12*(s_21*s_33 - s_23*s_31) + "
                    "s_13*(s_21*s_32 - s_22*s_31)",
                    NAN, "definition");
    put_slope(p, "d", "dphi_ddamper", "D_d", "slope of phi by the open share of the dampers", "",
              r->dphi_ddamper);
    put_slope(p, "q", "dphi_dgas_pressure_per_pa", "D_g", "slope of phi by the gas pressure",
              "1/Pa", r->dphi_dgas_pressure_per_pa);
    dw_work_step_is(w, "", "phi_1", "change of phi for 1 % of damper", "", "0.01*D_d", NAN,
                    "definition");
    dw_work_step_is(w, "", "phi_2", "change of phi for 1 kPa of gas pressure", "", "1000*D_g", NAN,
                    "definition");
    double low = NAN, high = NAN;
    for (int i = 0; i < p->solved->kiln.burner_count; i++) {
        const dw_burner *b = &p->solved->kiln.burner[i];
        if (!b->lit) continue;
        low = fmin(low, b->gas_pressure_pa);
        high = fmax(high, b->gas_pressure_pa);
    }
    dw_work_put(w, DW_WORK_INPUT, "pg_1", "lowest gas pressure of the lit burners", "Pa", low);
    dw_work_put(w, DW_WORK_INPUT, "pg_2", "highest", "Pa", high);
    dw_work_step_is(w, "", "phi_3", "change of phi for 10 % of gas pressure", "",
                    "0.1*(pg_1 + pg_2)/2*D_g", NAN, "definition");
}

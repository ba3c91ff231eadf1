#include "working_mixtures.h"

#include <math.h>
#include <stdlib.h>

static const dw_law oxygen_law = {"lg_pO2", "logarithm of the oxygen pressure in bar", "", "nasa9",
                                  "2.0*log10(K_1*e_CO2/e_CO)"};
static const dw_law carbon_law = {
    "a_C", "carbon activity, from 2 CO = C + CO2", "", "nasa9",
    "exp(2.0*gT_CO - gT_CO2 - gT_C)*pow(e_CO, 2.0)/e_CO2*p_air/100000.0"};

const dw_law *const dw_equilibrium_oxygen_law = &oxygen_law,
             *const dw_equilibrium_carbon_law = &carbon_law;

static const char *const element_name[DW_ELEMENT_COUNT] = {"C", "H", "O", "N", "Ar"};

/** One row solved. */
typedef struct solved_row {
    double potential[4], gas_mol, graphite_mol, x[DW_GAS_MAX];
} solved_row;

static dw_status solve(const dw_work_mixtures *m, solved_row *row)
{
    for (size_t i = 0; i < m->rows; i++) {
        const dw_elements mix =
            dw_elements_combine(m->z[i], *m->fuel_kg, 1.0 - m->z[i], *m->air_kg);
        dw_equilibrium state;
        state.start = DW_START_COLD;
        const dw_status status =
            dw_equilibrium_solve(m->gases, m->potentials, &mix, m->pressure_pa_abs,
                                 m->graphite != NULL && m->graphite[i], &state);
        if (status != DW_OK) return status;
        for (int k = 0; k < 4; k++) row[i].potential[k] = state.potential[k];
        row[i].gas_mol = state.gas_mol;
        row[i].graphite_mol = state.graphite_mol;
        for (int j = 0; j < m->gases->count; j++) row[i].x[j] = state.x[j];
    }
    return DW_OK;
}

/* A column of one number of every row: a potential, then moles of gas, then of solid carbon. */
static void put_column(dw_working *w, const dw_work_mixtures *m, const solved_row *row, int which,
                       const char *symbol, const char *meaning, const char *unit, double *scratch)
{
    for (size_t i = 0; i < m->rows; i++) {
        scratch[i] = which < 4    ? row[i].potential[which]
                     : which == 4 ? row[i].gas_mol
                                  : row[i].graphite_mol;
    }
    dw_work_column(w, DW_WORK_SOLVED, symbol, meaning, unit, scratch);
}

static void put_atoms(dw_working *w, const dw_work_mixtures *m)
{
    for (int e = 0; e < DW_ELEMENT_COUNT; e++) {
        const char *name = element_name[e];
        dw_work_put(w, DW_WORK_DATA, dw_work_keepf(w, "bf_%s", name),
                    dw_work_keepf(w, "%s in a kilogram of fuel", name), "mol/kg",
                    m->fuel_kg->n[e]);
        dw_work_put(w, DW_WORK_DATA, dw_work_keepf(w, "ba_%s", name),
                    dw_work_keepf(w, "%s in a kilogram of air", name), "mol/kg", m->air_kg->n[e]);
        dw_work_column_is(w, "", dw_work_keepf(w, "b_%s", name),
                          dw_work_keepf(w, "%s in a kilogram of the mixture", name), "mol/kg",
                          dw_work_keepf(w, "%s*bf_%s + (1 - %s)*ba_%s", m->z_symbol, name,
                                        m->z_symbol, name),
                          NULL, "definition");
    }
}

/* " + 2*pi_C": a number of atoms with what it counts; nothing for none. */
static const char *term(dw_working *w, const char *before, double count, const char *symbol)
{
    if (count == 0.0) return before;
    const char *sign = count < 0.0 ? before[0] == '\0' ? "-" : " - " : before[0] == '\0' ? "" : " + ";
    const double size = fabs(count);
    return size == 1.0 ? dw_work_keepf(w, "%s%s%s", before, sign, symbol)
                       : dw_work_keepf(w, "%s%s%g*%s", before, sign, size, symbol);
}

static const dw_species *gas_of(const dw_work_mixtures *m, int j)
{
    return &m->gases->table->species[m->gases->species[j]];
}

static void put_share(dw_working *w, const dw_work_mixtures *m, int j, const double *x)
{
    const dw_species *s = gas_of(m, j);
    const char *symbol = dw_work_keepf(w, "%s_%s", m->x, s->name);
    const char *meaning = dw_work_keepf(w, "share of %s in equilibrium at %s", s->name,
                                        m->temperature);
    if (j == m->gases->role[DW_ROLE_AR]) {
        dw_work_column_is(w, "", symbol, meaning, "", "b_Ar/n", x, "definition");
        return;
    }
    dw_work_put(w, DW_WORK_DATA, dw_work_keepf(w, "%s_%s", m->g, s->name),
                dw_work_keepf(w, "free enthalpy of %s / (R %s) at 1 bar", s->name, m->temperature),
                "", m->potentials->g_rt[j]);
    const double c = s->atoms[DW_C], h = s->atoms[DW_H];
    const char *sum = term(w, "", c, "pi_C");
    sum = term(w, sum, h, "pi_H");
    sum = term(w, sum, s->atoms[DW_O] - 2.0 * c - 0.5 * h, "pi_E");
    sum = term(w, sum, s->atoms[DW_N], "pi_N");
    dw_work_column_is(w, "", symbol, meaning, "",
                      dw_work_keepf(w, "exp(%s - %s_%s - ln_p)", sum, m->g, s->name), x, "rp1311");
}

/* The shares, weighted by atoms of an element; all of them for element -1. */
static const char *sum_of_shares(dw_working *w, const dw_work_mixtures *m, int element)
{
    const char *sum = "";
    for (int j = 0; j < m->gases->count; j++) {
        const dw_species *s = gas_of(m, j);
        sum = term(w, sum, element < 0 ? 1.0 : s->atoms[element],
                   dw_work_keepf(w, "%s_%s", m->x, s->name));
    }
    return sum;
}

static void put_balances(dw_working *w, const dw_work_mixtures *m, bool solid)
{
    static const char *const solved_for[4] = {"pi_C", "pi_H", "pi_E", "pi_N"};
    dw_work_balance(w, "", "n", "all shares add up to one", dw_work_keepf(w, "%s = 1",
                                                                     sum_of_shares(w, m, -1)),
                    "definition");
    for (int e = 0; e < 4; e++) {
        const char *name = element_name[e];
        dw_work_balance(w, "", solved_for[e],
                        dw_work_keepf(w, "atoms of %s: as many in the gas as were put in", name),
                        dw_work_keepf(w, "n*(%s)%s = b_%s", sum_of_shares(w, m, e),
                                      solid && e == DW_C ? " + n_solid" : "", name),
                        "definition");
    }
}

static void put_all(dw_working *w, const dw_work_mixtures *m, const solved_row *row,
                    double *scratch)
{
    static const char *const symbol[4] = {"pi_C", "pi_H", "pi_E", "pi_N"};
    static const char *const meaning[4] = {"potential of carbon (as in CO2)",
                                           "potential of hydrogen (as in H2O)",
                                           "potential of the surplus oxygen",
                                           "potential of nitrogen"};
    bool solid = false;
    for (size_t i = 0; i < m->rows; i++) solid = solid || row[i].graphite_mol > 0.0;
    put_atoms(w, m);
    for (int k = 0; k < 4; k++) {
        put_column(w, m, row, k, symbol[k], meaning[k], "", scratch);
    }
    put_column(w, m, row, 4, "n", "moles of gas in a kilogram", "mol/kg", scratch);
    if (solid) {
        put_column(w, m, row, 5, "n_solid", "moles of solid carbon in a kilogram", "mol/kg",
                   scratch);
    }
    dw_work_step_is(w, "", "ln_p", "logarithm of the pressure in bar", "", "ln(p_air/100000)", NAN,
                    "definition");
    for (int j = 0; j < m->gases->count; j++) {
        for (size_t i = 0; i < m->rows; i++) scratch[i] = row[i].x[j];
        put_share(w, m, j, scratch);
    }
    if (m->gases->graphite >= 0) {
        dw_work_put(w, DW_WORK_DATA, dw_work_keepf(w, "%s_C", m->g),
                    dw_work_keepf(w, "free enthalpy of graphite / (R %s)", m->temperature), "",
                    m->potentials->graphite_g_rt);
    }
    put_balances(w, m, solid);
}

dw_status dw_work_mixtures_put(dw_working *w, const dw_work_mixtures *m)
{
    if (m->rows == 0) return DW_ERR_ARG;
    solved_row *row = calloc(m->rows, sizeof *row);
    double *scratch = calloc(m->rows, sizeof *scratch);
    dw_status status = row != NULL && scratch != NULL ? DW_OK : DW_ERR_NOMEM;
    if (status == DW_OK) status = solve(m, row);
    if (status == DW_OK) put_all(w, m, row, scratch);
    free(scratch);
    free(row);
    return status;
}

/* Equilibrium at given enthalpy and pressure. */
#include "flame_temp.h"

#include <math.h>

#include "root1d.h"

double dw_equilibrium_enthalpy_j(const dw_gas_set *set, double temperature_k,
                                 const dw_equilibrium *state)
{
    double sum = 0.0;
    for (int j = -1; j < set->count; j++) {
        const double moles = j < 0 ? state->graphite_mol : state->x[j] * state->gas_mol;
        if (moles == 0.0) continue;
        const int i = j < 0 ? set->graphite : set->species[j];
        double h;
        if (dw_species_standard_state(&set->table->species[i], temperature_k, NULL, &h, NULL) !=
            DW_OK) {
            return NAN;
        }
        sum += moles * h;
    }
    return sum;
}

typedef struct flame {
    const dw_gas_set *set;
    const dw_elements *elements;
    double pressure_pa_abs, enthalpy_j;
    bool graphite;
    dw_equilibrium *state;
} flame;

/* Enthalpy at a temperature less the one there is. */
static double enthalpy_gap(double temperature_k, void *context)
{
    flame *f = context;
    dw_gas_potentials at;
    if (dw_gas_potentials_at(f->set, temperature_k, &at) != DW_OK) return NAN;
    if (dw_equilibrium_solve(f->set, &at, f->elements, f->pressure_pa_abs, f->graphite,
                             f->state) != DW_OK) {
        return NAN;
    }
    return dw_equilibrium_enthalpy_j(f->set, temperature_k, f->state) - f->enthalpy_j;
}

dw_status dw_flame_temperature(const dw_gas_set *set, const dw_elements *elements,
                               double pressure_pa_abs, double enthalpy_j, bool graphite,
                               double *temperature_k, dw_equilibrium *state)
{
    if (temperature_k != NULL) *temperature_k = NAN;
    if (set == NULL || elements == NULL || temperature_k == NULL || state == NULL ||
        !isfinite(enthalpy_j)) {
        return DW_ERR_ARG;
    }
    flame f = {set, elements, pressure_pa_abs, enthalpy_j, graphite, state};
    state->start = DW_START_COLD;

    /* Flames lie between 1000 and 3000 K; widen only when this one does not. */
    double low = 1000.0, high = 3000.0;
    double f_low = enthalpy_gap(low, &f);
    while (f_low > 0.0 && low > 300.0) f_low = enthalpy_gap(low = fmax(low - 200.0, 300.0), &f);
    double f_high = enthalpy_gap(high, &f);
    while (f_high < 0.0 && high < 5000.0) f_high = enthalpy_gap(high += 500.0, &f);
    if (isnan(f_low) || isnan(f_high)) {
        return pressure_pa_abs > 0.0 ? DW_ERR_NO_CONVERGE : DW_ERR_DOMAIN;
    }

    dw_root root;
    const dw_status status = dw_root_find(enthalpy_gap, &f, low, high, 1e-6, 0.0, &root);
    if (status != DW_OK) return DW_ERR_NO_CONVERGE;
    if (isnan(enthalpy_gap(root.x, &f))) return DW_ERR_NO_CONVERGE;
    *temperature_k = root.x;
    return DW_OK;
}

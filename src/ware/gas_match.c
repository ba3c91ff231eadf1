#include "gas_match.h"

#include <math.h>
#include <string.h>

#include "chamber_gas.h"
#include "constants.h"
#include "moist_air.h"
#include "root1d.h"

double dw_match_quench_k(void)
{
    dw_kiln usual;
    dw_kiln_init(&usual);
    return usual.settings.quench_temperature_k;
}

dw_status dw_match_mixtures_init(dw_match_mixtures *m, const dw_model *model, const dw_fuel *fuel,
                                 double pressure_pa_abs)
{
    if (m == NULL || model == NULL || fuel == NULL || !(pressure_pa_abs > 0.0)) return DW_ERR_ARG;
    const dw_species_table *table = &model->data->species;
    static const char *const name[4] = {"N2", "O2", "Ar", "CO2"};
    static const double share[4] = {DW_DRY_AIR_X_N2, DW_DRY_AIR_X_O2, DW_DRY_AIR_X_AR,
                                    DW_DRY_AIR_X_CO2};
    double x_air[DW_SPECIES_MAX] = {0.0};
    for (int i = 0; i < 4; i++) {
        const int s = dw_species_find(table, name[i]);
        if (s < 0) return DW_ERR_DOMAIN;
        x_air[s] = share[i];
    }
    *m = (dw_match_mixtures){.model = model, .fuel = fuel, .pressure_pa_abs = pressure_pa_abs};
    m->fuel_kg = dw_elements_per_kg(table, fuel->x);
    m->air_kg = dw_elements_per_kg(table, x_air);
    m->stoichiometric_kg_kg = dw_air_need_kg_kg(&m->fuel_kg, &m->air_kg);
    return m->stoichiometric_kg_kg > 0.0 ? DW_OK : DW_ERR_DOMAIN;
}

static dw_status equilibrium(const dw_match_mixtures *m, const dw_gas_potentials *at, double z,
                             dw_equilibrium *state)
{
    const dw_elements mix = dw_elements_combine(z, m->fuel_kg, 1.0 - z, m->air_kg);
    state->start = DW_START_COLD;
    return dw_equilibrium_solve(&m->model->gases, at, &mix, m->pressure_pa_abs, false, state);
}

typedef struct search {
    const dw_match_mixtures *mixtures;
    dw_gas_potentials at;
    double log10_po2_bar;
} search;

/* How much more oxygen a mixture has than is looked for: falls as the mixture gets richer. */
static double oxygen_left(double phi, void *context)
{
    const search *s = context;
    dw_equilibrium state;
    const double z = dw_fuel_share(phi, s->mixtures->stoichiometric_kg_kg);
    if (equilibrium(s->mixtures, &s->at, z, &state) != DW_OK) return NAN;
    return state.log10_po2_bar - s->log10_po2_bar;
}

DW_LAW(air_oxygen, "o2_w", "share of O2: air with hardly any burnt gas", "", "definition",
       (double lg_pO2, double p_air), pow(10.0, lg_pO2) * 100000.0 / p_air)

const dw_law *const dw_match_air_law = &air_oxygen_law;

static double air_log10_po2_bar(const dw_match_mixtures *m)
{
    return log10(DW_DRY_AIR_X_O2 * m->pressure_pa_abs / DW_BAR_PA);
}

dw_status dw_match_oxygen(const dw_match_mixtures *m, double temperature_k, double log10_po2_bar,
                          dw_matched_gas *gas)
{
    if (gas == NULL) return DW_ERR_ARG;
    *gas = (dw_matched_gas){DW_MATCH_NONE, NAN, NAN, -1, NAN, NAN, NAN, NAN};
    if (m == NULL || !isfinite(log10_po2_bar)) return DW_ERR_ARG;
    search s = {.mixtures = m, .log10_po2_bar = log10_po2_bar};
    dw_status status = dw_gas_potentials_at(&m->model->gases, temperature_k, &s.at);
    if (status != DW_OK) return status;
    const double lean = oxygen_left(DW_MATCH_LEANEST, &s), rich = oxygen_left(DW_MATCH_RICHEST, &s);
    if (!isfinite(lean) || !isfinite(rich)) return DW_ERR_NO_CONVERGE;
    if (lean < 0.0) {
        const bool air = log10_po2_bar <= air_log10_po2_bar(m) + DW_MATCH_AIR_LOG10;
        gas->found = air ? DW_MATCH_AIR : DW_MATCH_ABOVE_AIR;
        if (!air) return DW_OK;
        gas->band = dw_band_of(m->model->data, 0.0);
        gas->o2_wet = gas->o2_dry = air_oxygen(log10_po2_bar, m->pressure_pa_abs);
        return DW_OK;
    }
    if (rich > 0.0) {
        gas->found = DW_MATCH_TOO_RICH;
        gas->band = dw_band_of(m->model->data, DW_MATCH_RICHEST);
        return DW_OK;
    }
    dw_root root;
    status = dw_root_find(oxygen_left, &s, DW_MATCH_LEANEST, DW_MATCH_RICHEST, 0.0, 1e-13, &root);
    if (status != DW_OK) return DW_ERR_NO_CONVERGE;
    gas->found = DW_MATCH_GAS;
    gas->equivalence_ratio = root.x;
    gas->z = dw_fuel_share(root.x, m->stoichiometric_kg_kg);
    gas->band = dw_band_of(m->model->data, root.x);
    return DW_OK;
}

dw_status dw_match_oxygen_at(const dw_match_mixtures *m, const dw_matched_gas *gas,
                             double temperature_k, double *log10_po2_bar)
{
    if (log10_po2_bar == NULL) return DW_ERR_ARG;
    *log10_po2_bar = NAN;
    if (m == NULL || gas == NULL || gas->found != DW_MATCH_GAS) return DW_ERR_ARG;
    dw_gas_potentials at;
    dw_equilibrium state;
    dw_status status = dw_gas_potentials_at(&m->model->gases, temperature_k, &at);
    if (status == DW_OK) status = equilibrium(m, &at, gas->z, &state);
    if (status == DW_OK) *log10_po2_bar = state.log10_po2_bar;
    return status;
}

dw_status dw_match_composition(const dw_match_mixtures *m, double temperature_k,
                               dw_matched_gas *gas)
{
    if (m == NULL || gas == NULL) return DW_ERR_ARG;
    if (gas->found != DW_MATCH_GAS) return DW_OK;
    gas->composition_temperature_k = dw_composition_temperature_k(temperature_k, dw_match_quench_k());
    const dw_gas_set *set = &m->model->gases;
    dw_gas_potentials at;
    dw_equilibrium state;
    dw_status status = dw_gas_potentials_at(set, gas->composition_temperature_k, &at);
    if (status == DW_OK) status = equilibrium(m, &at, gas->z, &state);
    if (status != DW_OK) return status;
    const double dry = 1.0 - state.x[set->role[DW_ROLE_H2O]];
    gas->o2_wet = state.x[set->role[DW_ROLE_O2]];
    gas->o2_dry = gas->o2_wet / dry;
    gas->co_dry = state.x[set->role[DW_ROLE_CO]] / dry;
    return DW_OK;
}

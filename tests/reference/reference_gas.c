/* What the rows about species, equilibrium and unmixed gas are computed with. Fuels are the names
 * of tests/support/test_data.h, or `shares` with mole fractions as inputs (`CH4=0.9;N2=0.1`); the
 * air is the program's dry air. */

#include "reference_gas.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "constants.h"
#include "flame_temp.h"
#include "moist_air.h"
#include "oxygen.h"
#include "test_data.h"
#include "unmixedness.h"

static const double ln_10 = 2.302585092994046;

/* Read once; the rows only look at it. */
static const dw_data *shared_data(void)
{
    static dw_data *data = NULL;
    if (data == NULL) data = test_data_load();
    return data;
}

/* Species. */

typedef enum property { CP, H, S } property;

static double standard_value(const char *name, double temperature_k, property which)
{
    const dw_data *data = shared_data();
    const int i = data == NULL || name == NULL ? -1 : dw_species_find(&data->species, name);
    double value[3];
    if (i < 0 || dw_species_standard_state(&data->species.species[i], temperature_k, &value[CP],
                                           &value[H], &value[S]) != DW_OK) {
        return NAN;
    }
    return value[which];
}

static double species_cp(const ref_row *row)
{
    return standard_value(ref_word(row, "species", NULL), ref_number(row, "temperature_k"), CP);
}

static double species_h(const ref_row *row)
{
    return standard_value(ref_word(row, "species", NULL), ref_number(row, "temperature_k"), H);
}

static double species_s(const ref_row *row)
{
    return standard_value(ref_word(row, "species", NULL), ref_number(row, "temperature_k"), S);
}

static double species_h_rise(const ref_row *row)
{
    const char *name = ref_word(row, "species", NULL);
    return standard_value(name, ref_number(row, "temperature_k"), H) -
           standard_value(name, DW_T_REFERENCE_K, H);
}

/* Reactions, standard state 1 bar. */

typedef struct reaction {
    const char *name;
    struct {
        const char *species;
        double nu; /* > 0 for what forms */
    } part[4];
} reaction;

static const reaction reactions[] = {
    {"water_gas_shift", {{"CO", -1.0}, {"H2O", -1.0}, {"CO2", 1.0}, {"H2", 1.0}}},
    {"boudouard", {{"CO2", -1.0}, {"C(gr)", -1.0}, {"CO", 2.0}}},
    {"co2_splitting", {{"CO2", -1.0}, {"CO", 1.0}, {"O2", 0.5}}},
    {"h2o_splitting", {{"H2O", -1.0}, {"H2", 1.0}, {"O2", 0.5}}},
    {"co_formation", {{"C(gr)", -1.0}, {"O2", -0.5}, {"CO", 1.0}}},
    {"co2_formation", {{"C(gr)", -1.0}, {"O2", -1.0}, {"CO2", 1.0}}},
    {"h2o_formation", {{"H2", -1.0}, {"O2", -0.5}, {"H2O", 1.0}}},
};

static double reaction_gibbs(const char *name, double temperature_k)
{
    for (size_t i = 0; name != NULL && i < sizeof reactions / sizeof reactions[0]; i++) {
        if (strcmp(reactions[i].name, name) != 0) continue;
        double sum = 0.0;
        for (int k = 0; k < 4 && reactions[i].part[k].species != NULL; k++) {
            const char *species = reactions[i].part[k].species;
            sum += reactions[i].part[k].nu *
                   (standard_value(species, temperature_k, H) -
                    temperature_k * standard_value(species, temperature_k, S));
        }
        return sum;
    }
    return NAN;
}

static double log10_k(const char *name, double temperature_k)
{
    return -reaction_gibbs(name, temperature_k) / (DW_R_NASA_J_MOL_K * temperature_k * ln_10);
}

static double reaction_gibbs_j_mol(const ref_row *row)
{
    return reaction_gibbs(ref_word(row, "reaction", NULL), ref_number(row, "temperature_k"));
}

static double reaction_log10_k(const ref_row *row)
{
    return log10_k(ref_word(row, "reaction", NULL), ref_number(row, "temperature_k"));
}

static double reaction_k(const ref_row *row) { return pow(10.0, reaction_log10_k(row)); }

/* CO share of a gas of CO and CO2 beside carbon: x^2/(1 - x) p = K. */
static double boudouard_co_fraction(const ref_row *row)
{
    const double k = pow(10.0, log10_k("boudouard", ref_number(row, "temperature_k"))) /
                     (ref_number(row, "pressure_pa_abs") / DW_BAR_PA);
    return 2.0 * k / (k + sqrt(k * k + 4.0 * k));
}

/* Oxygen that goes with a ratio CO/CO2 or H2/H2O: K = ratio sqrt(pO2). */
static double ratio_log10_po2_bar(const ref_row *row)
{
    const double t_k = ref_number(row, "temperature_k");
    const double co = ref_number_or(row, "co_co2_ratio", NAN);
    const double h2 = ref_number_or(row, "h2_h2o_ratio", NAN);
    return isnan(h2) ? 2.0 * (log10_k("co2_splitting", t_k) - log10(co))
                     : 2.0 * (log10_k("h2o_splitting", t_k) - log10(h2));
}

static double ratio_emf_v(const ref_row *row)
{
    return dw_probe_emf_v(ratio_log10_po2_bar(row), ref_number(row, "temperature_k"),
                          ref_number(row, "pressure_pa_abs"));
}

/* Mixtures of a fuel and air. */

typedef struct mixture {
    const dw_species_table *table;
    double fuel_x[DW_SPECIES_MAX], air_x[DW_SPECIES_MAX];
    dw_elements fuel, air; /* per mole                       */
    double fuel_kg_mol, air_kg_mol;
    double stoich_air_mol; /* per mole of fuel               */
    double air_mol;        /* per mole of fuel, as asked for */
    dw_elements total;     /* per mole of fuel               */
} mixture;

/* Nitrogen with the oxygen in the ratio of textbooks. */
static const test_recipe simple_air = {"simple", {{"O2", 1.0 / 4.76}, {"N2", 3.76 / 4.76}}};

static bool fuel_fractions(const ref_row *row, const dw_species_table *table, double *x)
{
    const char *name = ref_word(row, "fuel", "");
    const test_recipe *fuel = test_fuel(name);
    if (fuel != NULL) return test_fractions(table, fuel, x);
    for (size_t i = 0; i < table->count; i++)
        x[i] = ref_number_or(row, table->species[i].name, 0.0);
    return strcmp(name, "shares") == 0;
}

/* Air by air_ratio, or by air_fuel_kg_kg. */
static bool mix_with(const ref_row *row, const test_recipe *air, mixture *m)
{
    const dw_data *data = shared_data();
    if (data == NULL) return false;
    m->table = &data->species;
    if (!fuel_fractions(row, m->table, m->fuel_x) || !test_fractions(m->table, air, m->air_x)) {
        return false;
    }
    m->fuel = dw_elements_from_moles(m->table, m->fuel_x);
    m->air = dw_elements_from_moles(m->table, m->air_x);
    m->fuel_kg_mol = dw_mixture_molar_mass(m->table, m->fuel_x);
    m->air_kg_mol = dw_mixture_molar_mass(m->table, m->air_x);
    m->stoich_air_mol = -m->fuel.excess_o / m->air.excess_o;
    const double by_mass = ref_number_or(row, "air_fuel_kg_kg", NAN);
    m->air_mol = isnan(by_mass) ? ref_number_or(row, "air_ratio", 1.0) * m->stoich_air_mol
                                : by_mass * m->fuel_kg_mol / m->air_kg_mol;
    m->total = dw_elements_combine(1.0, m->fuel, m->air_mol, m->air);
    return true;
}

static bool mix(const ref_row *row, mixture *m) { return mix_with(row, &test_air, m); }

static int position(const dw_gas_set *set, const char *name)
{
    for (int j = 0; name != NULL && j < set->count; j++) {
        if (strcmp(set->table->species[set->species[j]].name, name) == 0) return j;
    }
    return -1;
}

static double dry_fraction(const dw_gas_set *set, const double *x, const char *name)
{
    const int j = position(set, name), water = position(set, "H2O");
    return j < 0 || water < 0 ? NAN : x[j] / (1.0 - x[water]);
}

static bool gas_of(const ref_row *row, dw_gas_set *set, dw_equilibrium *state)
{
    mixture m;
    dw_gas_potentials at;
    state->start = DW_START_COLD;
    return mix(row, &m) && dw_gas_set_init(set, m.table) == DW_OK &&
           dw_gas_potentials_at(set, ref_number(row, "temperature_k"), &at) == DW_OK &&
           dw_equilibrium_solve(set, &at, &m.total, ref_number(row, "pressure_pa_abs"),
                                strcmp(ref_word(row, "graphite", "no"), "yes") == 0,
                                state) == DW_OK;
}

bool ref_print_equilibrium(const ref_row *row, FILE *out)
{
    dw_gas_set set;
    dw_equilibrium state;
    if (!gas_of(row, &set, &state)) return false;
    const double t_k = ref_number(row, "temperature_k");
    double x[DW_SPECIES_MAX] = {0.0};
    for (int j = 0; j < set.count; j++) {
        x[set.species[j]] = state.x[j];
        (void)fprintf(out, "%s=%.17g;", set.table->species[set.species[j]].name, state.x[j]);
    }
    const double gas_kg_mol = dw_mixture_molar_mass(set.table, x);
    (void)fprintf(
        out,
        "graphite_mol_mol=%.17g;h_j_kg=%.17g;cp_j_kg_k=%.17g;density_kg_m3=%.17g;"
        "molar_mass_kg_mol=%.17g;carbon_activity=%.17g;log10_po2_bar=%.17g\n",
        state.graphite_mol / state.gas_mol,
        dw_mixture_enthalpy_j_mol(set.table, x, t_k) / gas_kg_mol,
        dw_mixture_heat_capacity_j_mol_k(set.table, x, t_k) / gas_kg_mol,
        dw_ideal_gas_density_kg_m3(gas_kg_mol, t_k, ref_number(row, "pressure_pa_abs")),
        gas_kg_mol, state.carbon_activity, state.log10_po2_bar);
    return true;
}

double ref_equilibrium_seconds(const ref_row *row)
{
    mixture m;
    dw_gas_set set;
    if (!mix(row, &m) || dw_gas_set_init(&set, m.table) != DW_OK) return NAN;
    const double lean = ref_number(row, "lean"), rich = ref_number(row, "rich");
    const double cold_k = ref_number(row, "cold_k"), hot_k = ref_number(row, "hot_k");
    const double pressure_pa = ref_number(row, "pressure_pa_abs");
    const int states = (int)ref_number(row, "states"), rounds = (int)ref_number(row, "rounds");
    double best = INFINITY;
    for (int round = 0; round < rounds; round++) {
        const clock_t start = clock();
        for (int i = 0; i < states; i++) {
            dw_gas_potentials at;
            dw_equilibrium state = {.start = DW_START_COLD};
            const double phi = lean + (rich - lean) * (i % 997) / 997.0;
            const double t_k = cold_k + (hot_k - cold_k) * (i % 89) / 89.0;
            const dw_elements total =
                dw_elements_combine(1.0, m.fuel, m.stoich_air_mol / phi, m.air);
            if (dw_gas_potentials_at(&set, t_k, &at) != DW_OK ||
                dw_equilibrium_solve(&set, &at, &total, pressure_pa, false, &state) != DW_OK) {
                return NAN;
            }
        }
        best = fmin(best, (double)(clock() - start) / (double)CLOCKS_PER_SEC / states);
    }
    return best;
}

static double gas_x(const ref_row *row)
{
    dw_gas_set set;
    dw_equilibrium state;
    if (!gas_of(row, &set, &state)) return NAN;
    const int j = position(&set, ref_word(row, "species", NULL));
    return j < 0 ? NAN : state.x[j];
}

static double gas_x_dry(const ref_row *row)
{
    dw_gas_set set;
    dw_equilibrium state;
    if (!gas_of(row, &set, &state)) return NAN;
    return dry_fraction(&set, state.x, ref_word(row, "species", NULL));
}

static double gas_log10_po2_atm(const ref_row *row)
{
    dw_gas_set set;
    dw_equilibrium state;
    if (!gas_of(row, &set, &state)) return NAN;
    return state.log10_po2_bar - log10(DW_ATM_PA / DW_BAR_PA);
}

static double gas_emf_v(const ref_row *row)
{
    dw_gas_set set;
    dw_equilibrium state;
    if (!gas_of(row, &set, &state)) return NAN;
    return dw_probe_emf_v(state.log10_po2_bar, ref_number(row, "temperature_k"),
                          ref_number(row, "pressure_pa_abs"));
}

/* The solver's carbon activity over the one that CO and CO2 tell. */
static double carbon_activity_ratio(const ref_row *row)
{
    dw_gas_set set;
    dw_equilibrium state;
    if (!gas_of(row, &set, &state)) return NAN;
    const double p_bar = ref_number(row, "pressure_pa_abs") / DW_BAR_PA;
    const double co = state.x[position(&set, "CO")], co2 = state.x[position(&set, "CO2")];
    const double k = pow(10.0, log10_k("boudouard", ref_number(row, "temperature_k")));
    return state.carbon_activity / (co * co * p_bar / (co2 * k));
}

static double stoich_air_fuel(const ref_row *row)
{
    mixture m;
    return mix(row, &m) ? m.stoich_air_mol * m.air_kg_mol / m.fuel_kg_mol : NAN;
}

static double stoich_mixture_fraction(const ref_row *row)
{
    return 1.0 / (1.0 + stoich_air_fuel(row));
}

/* Flames: fuel and air at 25 degC where nothing else is said. */

static double reactants_j(const ref_row *row, const mixture *m)
{
    const double fuel_k = ref_number_or(row, "fuel_temperature_k", DW_T_REFERENCE_K);
    const double air_k = ref_number_or(row, "air_temperature_k", DW_T_REFERENCE_K);
    return dw_mixture_enthalpy_j_mol(m->table, m->fuel_x, fuel_k) +
           m->air_mol * dw_mixture_enthalpy_j_mol(m->table, m->air_x, air_k);
}

static double flame_in(const ref_row *row, const test_recipe *air)
{
    mixture m;
    dw_gas_set set;
    dw_equilibrium state;
    double temperature_k;
    if (!mix_with(row, air, &m) || dw_gas_set_init(&set, m.table) != DW_OK) return NAN;
    if (dw_flame_temperature(&set, &m.total, ref_number(row, "pressure_pa_abs"),
                             reactants_j(row, &m), false, &temperature_k, &state) != DW_OK) {
        return NAN;
    }
    return temperature_k;
}

static double flame_temperature(const ref_row *row) { return flame_in(row, &test_air); }

static double flame_simple_air_shift(const ref_row *row)
{
    return flame_in(row, &simple_air) - flame_in(row, &test_air);
}

/* Products held at CO2, H2O, N2, Ar: by bisection on the enthalpy. */
static double flame_undissociated(const ref_row *row)
{
    mixture m;
    if (!mix(row, &m) || fabs(m.total.excess_o) > 1e-9) return NAN;
    const double co2 = m.total.n[DW_C], h2o = 0.5 * m.total.n[DW_H], n2 = 0.5 * m.total.n[DW_N],
                 ar = m.total.n[DW_AR], all = co2 + h2o + n2 + ar;
    const test_recipe burnt = {
        "burnt", {{"CO2", co2 / all}, {"H2O", h2o / all}, {"N2", n2 / all}, {"Ar", ar / all}}};
    double x[DW_SPECIES_MAX];
    if (!test_fractions(m.table, &burnt, x)) return NAN;
    const double heat_j = reactants_j(row, &m);
    double low = 1000.0, high = 4000.0;
    while (high - low > 1e-6) {
        const double middle = 0.5 * (low + high);
        if (all * dw_mixture_enthalpy_j_mol(m.table, x, middle) > heat_j) {
            high = middle;
        } else {
            low = middle;
        }
    }
    return low;
}

/* Unmixed gas: the mean of parcels, dry. */
static double unmixed_x_dry(const ref_row *row)
{
    mixture m;
    dw_gas_set set;
    dw_gas_potentials at;
    double x[DW_GAS_MAX], gas_mol_kg;
    if (!mix(row, &m) || dw_gas_set_init(&set, m.table) != DW_OK ||
        dw_gas_potentials_at(&set, ref_number(row, "temperature_k"), &at) != DW_OK) {
        return NAN;
    }
    const dw_elements none = {{0.0}, 0.0};
    const dw_elements fuel = dw_elements_combine(1.0 / m.fuel_kg_mol, m.fuel, 0.0, none);
    const dw_elements air = dw_elements_combine(1.0 / m.air_kg_mol, m.air, 0.0, none);
    const double z_mean = m.fuel_kg_mol / (m.fuel_kg_mol + m.air_mol * m.air_kg_mol);
    if (dw_unmixedness_mean(&set, &at, &fuel, &air, z_mean, ref_number(row, "spread"),
                            ref_number(row, "pressure_pa_abs"), false, x, &gas_mol_kg, NULL) != DW_OK) {
        return NAN;
    }
    return dry_fraction(&set, x, ref_word(row, "species", NULL));
}

const ref_quantity ref_gas_quantities[] = {
    {"species_cp_j_mol_k", species_cp},
    {"species_h_j_mol", species_h},
    {"species_s_j_mol_k", species_s},
    {"species_h_rise_j_mol", species_h_rise},
    {"reaction_gibbs_j_mol", reaction_gibbs_j_mol},
    {"reaction_log10_k", reaction_log10_k},
    {"reaction_k", reaction_k},
    {"boudouard_co_fraction", boudouard_co_fraction},
    {"ratio_log10_po2_bar", ratio_log10_po2_bar},
    {"ratio_emf_v", ratio_emf_v},
    {"gas_x", gas_x},
    {"gas_x_dry", gas_x_dry},
    {"gas_log10_po2_atm", gas_log10_po2_atm},
    {"gas_emf_v", gas_emf_v},
    {"carbon_activity_ratio", carbon_activity_ratio},
    {"stoich_air_fuel_kg_kg", stoich_air_fuel},
    {"stoich_mixture_fraction", stoich_mixture_fraction},
    {"flame_temperature_k", flame_temperature},
    {"flame_simple_air_shift_k", flame_simple_air_shift},
    {"flame_undissociated_k", flame_undissociated},
    {"unmixed_x_dry", unmixed_x_dry},
    {NULL, NULL},
};

#include "iso6976.h"

#include <math.h>
#include <stddef.h>

#include "constants.h"

/* Constants of ISO 6976:2016 itself, so that its own numbers come out [iso6976]. */
static const double gas_constant_j_mol_k = 8.3144621;
static const double air_molar_mass_kg_mol = 28.96546e-3;

enum { HEAT_COUNT = 4, VOLUME_COUNT = 3 };
static const double grid_k[HEAT_COUNT] = {273.15, 288.15, 293.15, 298.15};

/* Condensation of water at 0, 15, 20, 25 degC [J/mol], the same table [iso6976]. */
static const double condensation_j_mol[HEAT_COUNT] = {45064.0, 44431.0, 44222.0, 44013.0};

/* Compression factor of air at 0, 15, 20 degC and 101325 Pa; the last one [iso6976-recalled]. */
static const double air_compression_factor[VOLUME_COUNT] = {0.999419, 0.999595, 0.999645};

static const double sum_tolerance = 1.0e-6;

/* Weights of two neighbouring grid temperatures. */
typedef struct grid_point {
    int lower;
    double share_of_upper;
} grid_point;

static grid_point place_on_grid(double temperature_k, int count)
{
    int i = 0;
    while (i + 2 < count && temperature_k > grid_k[i + 1])
        i++;
    return (grid_point){i, (temperature_k - grid_k[i]) / (grid_k[i + 1] - grid_k[i])};
}

static double interpolate(const double *values, grid_point at)
{
    return values[at.lower] + at.share_of_upper * (values[at.lower + 1] - values[at.lower]);
}

static dw_status check_conditions(const dw_iso6976_conditions *c)
{
    if (!isfinite(c->combustion_temperature_k) || !isfinite(c->metering_temperature_k) ||
        !isfinite(c->metering_pressure_pa_abs)) {
        return DW_ERR_ARG;
    }
    const bool in_range = c->combustion_temperature_k >= grid_k[0] &&
                          c->combustion_temperature_k <= grid_k[HEAT_COUNT - 1] &&
                          c->metering_temperature_k >= grid_k[0] &&
                          c->metering_temperature_k <= grid_k[VOLUME_COUNT - 1] &&
                          c->metering_pressure_pa_abs >= 90.0e3 &&
                          c->metering_pressure_pa_abs <= 110.0e3;
    return in_range ? DW_OK : DW_ERR_DOMAIN;
}

/* Mole-fraction sums over the mixture. */
typedef struct sums {
    double x, molar_mass_kg_mol, hydrogen_atoms, hhv_j_mol, summation_factor;
} sums;

static dw_status add_up(const dw_species_table *table, const double *x,
                        const dw_iso6976_conditions *c, sums *out)
{
    const grid_point heat = place_on_grid(c->combustion_temperature_k, HEAT_COUNT);
    const grid_point volume = place_on_grid(c->metering_temperature_k, VOLUME_COUNT);
    *out = (sums){0.0, 0.0, 0.0, 0.0, 0.0};
    for (size_t i = 0; i < table->count; i++) {
        if (!isfinite(x[i])) return DW_ERR_ARG;
        if (x[i] < 0.0) return DW_ERR_DOMAIN;
        if (x[i] == 0.0) continue;
        const dw_species *s = &table->species[i];
        if (!s->iso.present) return DW_ERR_DOMAIN;
        out->x += x[i];
        out->molar_mass_kg_mol += x[i] * s->molar_mass_kg_mol;
        out->hydrogen_atoms += x[i] * s->atoms[DW_H];
        out->hhv_j_mol += x[i] * interpolate(s->iso.hhv_j_mol, heat);
        out->summation_factor += x[i] * interpolate(s->iso.summation_factor, volume);
    }
    return fabs(out->x - 1.0) <= sum_tolerance ? DW_OK : DW_ERR_DOMAIN;
}

dw_status dw_iso6976_from_moles(const dw_species_table *table, const double *x,
                                const dw_iso6976_conditions *conditions, dw_iso6976_result *out)
{
    if (out == NULL) return DW_ERR_ARG;
    *out = (dw_iso6976_result){NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    if (table == NULL || x == NULL || conditions == NULL) return DW_ERR_ARG;
    dw_status status = check_conditions(conditions);
    if (status != DW_OK) return status;
    sums mixture;
    status = add_up(table, x, conditions, &mixture);
    if (status != DW_OK) return status;

    const double p_ratio = conditions->metering_pressure_pa_abs / DW_ATM_PA;
    double z = 1.0, z_air = 1.0;
    if (conditions->real_gas) {
        const grid_point volume = place_on_grid(conditions->metering_temperature_k, VOLUME_COUNT);
        z = 1.0 - p_ratio * mixture.summation_factor * mixture.summation_factor;
        z_air = 1.0 - p_ratio * (1.0 - interpolate(air_compression_factor, volume));
    }
    if (!(z > 0.9)) return DW_ERR_DOMAIN;

    const double condensation = interpolate(
        condensation_j_mol, place_on_grid(conditions->combustion_temperature_k, HEAT_COUNT));
    const double mol_m3 = conditions->metering_pressure_pa_abs /
                          (z * gas_constant_j_mol_k * conditions->metering_temperature_k);
    const double hhv = mixture.hhv_j_mol;
    const double lhv = hhv - 0.5 * mixture.hydrogen_atoms * condensation;
    const double density = mixture.molar_mass_kg_mol / air_molar_mass_kg_mol * z_air / z;

    out->molar_mass_kg_mol = mixture.molar_mass_kg_mol;
    out->compression_factor = z;
    out->hhv_j_mol = hhv;
    out->lhv_j_mol = lhv;
    out->hhv_j_m3 = hhv * mol_m3;
    out->lhv_j_m3 = lhv * mol_m3;
    out->relative_density = density;
    out->wobbe_gross_j_m3 = hhv * mol_m3 / sqrt(density);
    out->wobbe_net_j_m3 = lhv * mol_m3 / sqrt(density);
    return DW_OK;
}

/* What the rows of fuel.csv and drills.csv are computed with. A mixture is given by its mole
 * fractions, `CH4=0.93;N2=0.07`; temperatures in K, pressures in Pa. */

#include "reference.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "fuel_volume.h"
#include "iso6976.h"
#include "read_data.h"

static const double normal_pressure_pa = 101325.0;

/* The built-in data, read afresh for every row; NULL when it cannot be. */
static dw_data *create_data(void)
{
    dw_data *data = malloc(sizeof *data);
    if (data != NULL && dw_read_data(NULL, NULL, data) == DW_OK) return data;
    free(data);
    return NULL;
}

static void mole_fractions(const ref_row *row, const dw_species_table *table, double *x)
{
    for (size_t i = 0; i < table->count; i++)
        x[i] = ref_number_or(row, table->species[i].name, 0.0);
}

/* By composition, NASA-9. */

static int composition(const ref_row *row, dw_fuel_properties *properties)
{
    dw_data *data = create_data();
    if (data == NULL) return 0;
    double x[DW_SPECIES_MAX];
    mole_fractions(row, &data->species, x);
    const dw_status status = dw_fuel_properties_from_moles(&data->species, x, properties);
    free(data);
    return status == DW_OK;
}

static double fuel_molar_mass(const ref_row *row)
{
    dw_fuel_properties p;
    return composition(row, &p) ? p.molar_mass_kg_mol : NAN;
}

static double fuel_hhv_j_mol(const ref_row *row)
{
    dw_fuel_properties p;
    return composition(row, &p) ? p.hhv_j_mol : NAN;
}

static double fuel_lhv_j_mol(const ref_row *row)
{
    dw_fuel_properties p;
    return composition(row, &p) ? p.lhv_j_mol : NAN;
}

static double fuel_hhv_j_kg(const ref_row *row)
{
    dw_fuel_properties p;
    return composition(row, &p) ? p.hhv_j_kg : NAN;
}

static double fuel_lhv_j_kg(const ref_row *row)
{
    dw_fuel_properties p;
    return composition(row, &p) ? p.lhv_j_kg : NAN;
}

static double fuel_air_mol_mol(const ref_row *row)
{
    dw_fuel_properties p;
    if (!composition(row, &p)) return NAN;
    return dw_fuel_stoichiometric_air_mol_mol(p.oxygen_mol_mol, ref_number(row, "x_o2"));
}

static double fuel_heat_capacity_ratio(const ref_row *row)
{
    dw_data *data = create_data();
    if (data == NULL) return NAN;
    double x[DW_SPECIES_MAX];
    mole_fractions(row, &data->species, x);
    const double ratio =
        dw_heat_capacity_ratio(&data->species, x, ref_number(row, "temperature_k"));
    free(data);
    return ratio;
}

static int volumetric(const ref_row *row, dw_fuel_volumetric *v)
{
    dw_fuel_properties p;
    return composition(row, &p) &&
           dw_fuel_volumetric_at(&p, ref_number(row, "m_air"), ref_number(row, "t_metering"),
                                 ref_number_or(row, "p_metering", normal_pressure_pa), v) == DW_OK;
}

static double fuel_hhv_j_m3(const ref_row *row)
{
    dw_fuel_volumetric v;
    return volumetric(row, &v) ? v.hhv_j_m3 : NAN;
}

static double fuel_lhv_j_m3(const ref_row *row)
{
    dw_fuel_volumetric v;
    return volumetric(row, &v) ? v.lhv_j_m3 : NAN;
}

/* By ISO 6976. */

static int by_iso(const ref_row *row, dw_iso6976_result *result)
{
    dw_data *data = create_data();
    if (data == NULL) return 0;
    double x[DW_SPECIES_MAX];
    mole_fractions(row, &data->species, x);
    const dw_iso6976_conditions conditions = {ref_number(row, "t_combustion"),
                                              ref_number_or(row, "t_metering", 288.15),
                                              ref_number_or(row, "p_metering", normal_pressure_pa),
                                              strcmp(ref_word(row, "gas", "real"), "real") == 0};
    const dw_status status = dw_iso6976_from_moles(&data->species, x, &conditions, result);
    free(data);
    return status == DW_OK;
}

static double iso_hhv_j_mol(const ref_row *row)
{
    dw_iso6976_result r;
    return by_iso(row, &r) ? r.hhv_j_mol : NAN;
}

static double iso_lhv_j_mol(const ref_row *row)
{
    dw_iso6976_result r;
    return by_iso(row, &r) ? r.lhv_j_mol : NAN;
}

static double iso_hhv_j_kg(const ref_row *row)
{
    dw_iso6976_result r;
    return by_iso(row, &r) ? r.hhv_j_mol / r.molar_mass_kg_mol : NAN;
}

static double iso_lhv_j_kg(const ref_row *row)
{
    dw_iso6976_result r;
    return by_iso(row, &r) ? r.lhv_j_mol / r.molar_mass_kg_mol : NAN;
}

static double iso_hhv_j_m3(const ref_row *row)
{
    dw_iso6976_result r;
    return by_iso(row, &r) ? r.hhv_j_m3 : NAN;
}

static double iso_lhv_j_m3(const ref_row *row)
{
    dw_iso6976_result r;
    return by_iso(row, &r) ? r.lhv_j_m3 : NAN;
}

static double iso_molar_mass(const ref_row *row)
{
    dw_iso6976_result r;
    return by_iso(row, &r) ? r.molar_mass_kg_mol : NAN;
}

static double iso_compression_factor(const ref_row *row)
{
    dw_iso6976_result r;
    return by_iso(row, &r) ? r.compression_factor : NAN;
}

static double iso_relative_density(const ref_row *row)
{
    dw_iso6976_result r;
    return by_iso(row, &r) ? r.relative_density : NAN;
}

static double iso_wobbe_gross_j_m3(const ref_row *row)
{
    dw_iso6976_result r;
    return by_iso(row, &r) ? r.wobbe_gross_j_m3 : NAN;
}

static double iso_wobbe_net_j_m3(const ref_row *row)
{
    dw_iso6976_result r;
    return by_iso(row, &r) ? r.wobbe_net_j_m3 : NAN;
}

/* Drill table. */

static double drill_diameter_m(const ref_row *row)
{
    dw_data *data = create_data();
    if (data == NULL) return NAN;
    const char *size = ref_word(row, "size", "");
    double diameter_m = NAN;
    for (size_t i = 0; i < data->drill_count; i++) {
        if (strcmp(data->drill[i].size, size) == 0) diameter_m = data->drill[i].diameter_m;
    }
    free(data);
    return diameter_m;
}

const ref_quantity ref_fuel_quantities[] = {
    {"fuel_molar_mass", fuel_molar_mass},
    {"fuel_hhv_j_mol", fuel_hhv_j_mol},
    {"fuel_lhv_j_mol", fuel_lhv_j_mol},
    {"fuel_hhv_j_kg", fuel_hhv_j_kg},
    {"fuel_lhv_j_kg", fuel_lhv_j_kg},
    {"fuel_air_mol_mol", fuel_air_mol_mol},
    {"fuel_heat_capacity_ratio", fuel_heat_capacity_ratio},
    {"fuel_hhv_j_m3", fuel_hhv_j_m3},
    {"fuel_lhv_j_m3", fuel_lhv_j_m3},
    {"iso_molar_mass", iso_molar_mass},
    {"iso_hhv_j_mol", iso_hhv_j_mol},
    {"iso_lhv_j_mol", iso_lhv_j_mol},
    {"iso_hhv_j_kg", iso_hhv_j_kg},
    {"iso_lhv_j_kg", iso_lhv_j_kg},
    {"iso_hhv_j_m3", iso_hhv_j_m3},
    {"iso_lhv_j_m3", iso_lhv_j_m3},
    {"iso_compression_factor", iso_compression_factor},
    {"iso_relative_density", iso_relative_density},
    {"iso_wobbe_gross_j_m3", iso_wobbe_gross_j_m3},
    {"iso_wobbe_net_j_m3", iso_wobbe_net_j_m3},
    {"drill_diameter_m", drill_diameter_m},
    {NULL, NULL},
};

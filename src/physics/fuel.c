#include "fuel.h"

#include <math.h>
#include <stddef.h>

#include "constants.h"

static const double sum_tolerance = 1.0e-6;

/* The products into which a fuel burns completely, by name in the table. */
typedef struct products {
    const dw_species *co2, *h2o, *o2, *n2;
} products;

static const dw_species *find(const dw_species_table *table, const char *name)
{
    const int i = dw_species_find(table, name);
    return i < 0 ? NULL : &table->species[i];
}

static dw_status check_mixture(const dw_species_table *table, const double *x)
{
    double sum = 0.0;
    for (size_t i = 0; i < table->count; i++) {
        if (!isfinite(x[i])) return DW_ERR_ARG;
        if (x[i] < 0.0 || (x[i] > 0.0 && table->species[i].condensed)) return DW_ERR_DOMAIN;
        sum += x[i];
    }
    return fabs(sum - 1.0) <= sum_tolerance ? DW_OK : DW_ERR_DOMAIN;
}

/* Molar enthalpy at 298.15 K; NaN if the polynomial does not reach it. */
static double h_298(const dw_species *species)
{
    double h_j_mol;
    const dw_status status =
        dw_species_standard_state(species, DW_T_REFERENCE_K, NULL, &h_j_mol, NULL);
    return status == DW_OK ? h_j_mol : NAN;
}

DW_LAW(gross, "hhv", "gross heating value: the water condenses", "J/mol", "nasa9",
       (double lhv, double H_f, double L_w), lhv + H_f / 2.0 * L_w)
DW_LAW(by_mass, "lhv_kg", "net heating value", "J/kg", "definition", (double lhv, double M_f), lhv / M_f)
DW_LAW(heat_ratio, "k_f", "ratio of the fuel's heat capacities", "", "nasa9", (double cp_f, double R_9),
       cp_f / (cp_f - R_9))

const dw_law *const dw_heat_ratio_law = &heat_ratio_law;

void dw_fuel_write(dw_working *w, const dw_fuel_properties *fuel)
{
    dw_work_put(w, DW_WORK_DATA, "L_w", "heat given up when water condenses at 25 degC", "J/mol",
                DW_WATER_VAPORIZATION_298_J_MOL);
    dw_law_write(w, "", NULL, NULL, &gross_law, fuel->hhv_j_mol);
    dw_law_write(w, "", NULL, NULL, &by_mass_law, fuel->lhv_j_kg);
    dw_law_write(w, "", "lhv_kg>hhv_kg lhv>hhv", "gross heating value", &by_mass_law, fuel->hhv_j_kg);
}

dw_status dw_fuel_properties_from_moles(const dw_species_table *table, const double *x,
                                        dw_fuel_properties *out)
{
    if (out == NULL) return DW_ERR_ARG;
    *out = (dw_fuel_properties){NAN, NAN, NAN, NAN, NAN, NAN};
    if (table == NULL || x == NULL) return DW_ERR_ARG;
    const dw_status status = check_mixture(table, x);
    if (status != DW_OK) return status;
    const products p = {find(table, "CO2"), find(table, "H2O"), find(table, "O2"),
                        find(table, "N2")};
    if (p.co2 == NULL || p.h2o == NULL || p.o2 == NULL || p.n2 == NULL) return DW_ERR_DOMAIN;

    /* Argon is in the mixture's enthalpy and, unchanged, in the products': it drops out. */
    const dw_elements e = dw_elements_from_moles(table, x);
    const int argon = dw_species_find(table, "Ar");
    const double h_argon = e.n[DW_AR] > 0.0 && argon >= 0 ? h_298(&table->species[argon]) : 0.0;
    const double oxygen = -0.5 * e.excess_o;
    const double lhv = dw_mixture_enthalpy_j_mol(table, x, DW_T_REFERENCE_K) +
                       oxygen * h_298(p.o2) - e.n[DW_C] * h_298(p.co2) -
                       0.5 * e.n[DW_H] * h_298(p.h2o) - 0.5 * e.n[DW_N] * h_298(p.n2) -
                       e.n[DW_AR] * h_argon;
    const double hhv = gross(lhv, e.n[DW_H], DW_WATER_VAPORIZATION_298_J_MOL);
    const double molar_mass = dw_mixture_molar_mass(table, x);

    out->molar_mass_kg_mol = molar_mass;
    out->hhv_j_mol = hhv;
    out->lhv_j_mol = lhv;
    out->hhv_j_kg = by_mass(hhv, molar_mass);
    out->lhv_j_kg = by_mass(lhv, molar_mass);
    out->oxygen_mol_mol = oxygen;
    return DW_OK;
}

double dw_heat_capacity_ratio(const dw_species_table *table, const double *x, double temperature_k)
{
    const double cp = dw_mixture_heat_capacity_j_mol_k(table, x, temperature_k);
    return heat_ratio(cp, DW_R_NASA_J_MOL_K);
}

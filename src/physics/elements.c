#include "elements.h"

#include <math.h>

#include "constants.h"

dw_elements dw_elements_from_moles(const dw_species_table *table, const double *x)
{
    dw_elements sum = {{0.0}, 0.0};
    for (size_t i = 0; i < table->count; i++) {
        if (x[i] == 0.0) continue;
        const double *atoms = table->species[i].atoms;
        for (int e = 0; e < DW_ELEMENT_COUNT; e++) sum.n[e] += x[i] * atoms[e];
        /* Per molecule this is exact: whole and half numbers. */
        sum.excess_o += x[i] * (atoms[DW_O] - 2.0 * atoms[DW_C] - 0.5 * atoms[DW_H]);
    }
    return sum;
}

dw_elements dw_elements_combine(double a, dw_elements x, double b, dw_elements y)
{
    dw_elements sum;
    for (int e = 0; e < DW_ELEMENT_COUNT; e++) sum.n[e] = a * x.n[e] + b * y.n[e];
    sum.excess_o = a * x.excess_o + b * y.excess_o;
    return sum;
}

double dw_elements_mass_kg(const dw_elements *elements)
{
    double mass = 0.0;
    for (int e = 0; e < DW_ELEMENT_COUNT; e++) {
        mass += elements->n[e] * dw_atomic_mass_kg_mol((dw_element)e);
    }
    return mass;
}

dw_elements dw_elements_per_kg(const dw_species_table *table, const double *x)
{
    const dw_elements moles = dw_elements_from_moles(table, x);
    return dw_elements_combine(1.0 / dw_elements_mass_kg(&moles), moles, 0.0, moles);
}

DW_LAW(air_need, "need", "air that burns a kilogram of fuel", "kg/kg", "definition",
       (double Ef, double Ea), -Ef / Ea)
DW_LAW(fuel_share, "z", "share of fuel, by mass", "", "definition", (double phi, double need),
       phi / (phi + need))
DW_LAW(richness, "phi", "equivalence ratio", "", "definition", (double need, double z),
       need * z / (1.0 - z))

const dw_law *const dw_air_need_law = &air_need_law, *const dw_fuel_share_law = &fuel_share_law,
             *const dw_equivalence_ratio_law = &richness_law;

double dw_air_need_kg_kg(const dw_elements *fuel_kg, const dw_elements *air_kg)
{
    return air_need(fuel_kg->excess_o, air_kg->excess_o);
}

double dw_fuel_share(double equivalence_ratio, double air_need_kg_kg)
{
    return fuel_share(equivalence_ratio, air_need_kg_kg);
}

double dw_equivalence_ratio(double share, double air_need_kg_kg)
{
    return richness(air_need_kg_kg, share);
}

double dw_mixture_molar_mass(const dw_species_table *table, const double *x)
{
    double mass = 0.0;
    for (size_t i = 0; i < table->count; i++) mass += x[i] * table->species[i].molar_mass_kg_mol;
    return mass;
}

void dw_mixture_heat(const dw_species_table *table, const double *n, double temperature_k,
                     double *h_j, double *cp_j_k)
{
    *h_j = *cp_j_k = NAN;
    if (!dw_species_in_range(temperature_k)) return;
    const double ln_t = log(temperature_k);
    double h = 0.0, cp = 0.0;
    for (size_t i = 0; i < table->count; i++) {
        if (n[i] == 0.0) continue;
        double cp_r, h_rt;
        dw_species_heat(&table->species[i], temperature_k, ln_t, &cp_r, &h_rt);
        h += n[i] * h_rt;
        cp += n[i] * cp_r;
    }
    *h_j = DW_R_NASA_J_MOL_K * temperature_k * h;
    *cp_j_k = DW_R_NASA_J_MOL_K * cp;
}

double dw_mixture_enthalpy_j_mol(const dw_species_table *table, const double *x,
                                 double temperature_k)
{
    double h, cp;
    dw_mixture_heat(table, x, temperature_k, &h, &cp);
    return h;
}

double dw_mixture_heat_capacity_j_mol_k(const dw_species_table *table, const double *x,
                                        double temperature_k)
{
    double h, cp;
    dw_mixture_heat(table, x, temperature_k, &h, &cp);
    return cp;
}

#include "elements.h"

#include <math.h>

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

double dw_mixture_molar_mass(const dw_species_table *table, const double *x)
{
    double mass = 0.0;
    for (size_t i = 0; i < table->count; i++) mass += x[i] * table->species[i].molar_mass_kg_mol;
    return mass;
}

double dw_mixture_enthalpy_j_mol(const dw_species_table *table, const double *x,
                                 double temperature_k)
{
    double sum = 0.0;
    for (size_t i = 0; i < table->count; i++) {
        if (x[i] == 0.0) continue;
        double h;
        if (dw_species_standard_state(&table->species[i], temperature_k, NULL, &h, NULL) != DW_OK) {
            return NAN;
        }
        sum += x[i] * h;
    }
    return sum;
}

double dw_mixture_heat_capacity_j_mol_k(const dw_species_table *table, const double *x,
                                        double temperature_k)
{
    double sum = 0.0;
    for (size_t i = 0; i < table->count; i++) {
        if (x[i] == 0.0) continue;
        double cp;
        if (dw_species_standard_state(&table->species[i], temperature_k, &cp, NULL, NULL) !=
            DW_OK) {
            return NAN;
        }
        sum += x[i] * cp;
    }
    return sum;
}

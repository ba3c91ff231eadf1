#include "species.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "constants.h"
#include "format.h"

/* Atomic masses that the NASA-9 molar masses were made with [nasa9], kg/mol. */
static const double atomic_mass_kg_mol[DW_ELEMENT_COUNT] = {12.0107e-3, 1.00794e-3, 15.9994e-3,
                                                            14.0067e-3, 39.948e-3};

double dw_atomic_mass_kg_mol(dw_element element)
{
    return atomic_mass_kg_mol[element];
}

enum { T_MIN_K = 200, T_MAX_K = 6000 };

int dw_species_find(const dw_species_table *table, const char *name)
{
    for (size_t i = 0; i < table->count; i++) {
        if (strcmp(table->species[i].name, name) == 0) return (int)i;
    }
    return -1;
}

static const dw_nasa9_range *range_at(const dw_species *species, double t)
{
    int i = 0;
    while (i + 1 < species->range_count && t > species->range[i].t_high_k) i++;
    return &species->range[i];
}

/* cp/R, h/(RT) and s/R of one range; no checks. */
static void evaluate(const dw_nasa9_range *range, double t, double ln_t, double *cp_r,
                     double *h_rt, double *s_r)
{
    const double *a = range->coeff;
    const double i1 = 1.0 / t, i2 = i1 * i1, t2 = t * t, t3 = t2 * t, t4 = t3 * t;
    *cp_r = a[0] * i2 + a[1] * i1 + a[2] + a[3] * t + a[4] * t2 + a[5] * t3 + a[6] * t4;
    *h_rt = -a[0] * i2 + a[1] * ln_t * i1 + a[2] + a[3] * t / 2.0 + a[4] * t2 / 3.0 +
            a[5] * t3 / 4.0 + a[6] * t4 / 5.0 + a[7] * i1;
    *s_r = -a[0] * i2 / 2.0 - a[1] * i1 + a[2] * ln_t + a[3] * t + a[4] * t2 / 2.0 +
           a[5] * t3 / 3.0 + a[6] * t4 / 4.0 + a[8];
}

dw_status dw_species_standard_state(const dw_species *species, double temperature_k,
                                    double *cp_j_mol_k, double *h_j_mol, double *s_j_mol_k)
{
    if (cp_j_mol_k != NULL) *cp_j_mol_k = NAN;
    if (h_j_mol != NULL) *h_j_mol = NAN;
    if (s_j_mol_k != NULL) *s_j_mol_k = NAN;
    if (species == NULL) return DW_ERR_ARG;
    if (!(temperature_k >= T_MIN_K && temperature_k <= T_MAX_K)) return DW_ERR_DOMAIN;

    double cp_r, h_rt, s_r;
    evaluate(range_at(species, temperature_k), temperature_k, log(temperature_k), &cp_r, &h_rt,
             &s_r);
    if (cp_j_mol_k != NULL) *cp_j_mol_k = DW_R_NASA_J_MOL_K * cp_r;
    if (h_j_mol != NULL) *h_j_mol = DW_R_NASA_J_MOL_K * temperature_k * h_rt;
    if (s_j_mol_k != NULL) *s_j_mol_k = DW_R_NASA_J_MOL_K * s_r;
    return DW_OK;
}

void dw_species_gibbs_terms(double temperature_k, double terms[DW_NASA9_COEFF_COUNT])
{
    const double t = temperature_k, i1 = 1.0 / t, ln_t = log(t), t2 = t * t;
    terms[0] = -0.5 * i1 * i1;
    terms[1] = (ln_t + 1.0) * i1;
    terms[2] = 1.0 - ln_t;
    terms[3] = -t / 2.0;
    terms[4] = -t2 / 6.0;
    terms[5] = -t2 * t / 12.0;
    terms[6] = -t2 * t2 / 20.0;
    terms[7] = i1;
    terms[8] = -1.0;
}

double dw_species_gibbs_rt(const dw_species *species, double temperature_k,
                           const double terms[DW_NASA9_COEFF_COUNT])
{
    const double *a = range_at(species, temperature_k)->coeff;
    double even = 0.0, odd = 0.0; /* two sums side by side: half the wait for the additions */
    for (int i = 0; i + 1 < DW_NASA9_COEFF_COUNT; i += 2) {
        even += a[i] * terms[i];
        odd += a[i + 1] * terms[i + 1];
    }
    return even + odd + a[DW_NASA9_COEFF_COUNT - 1] * terms[DW_NASA9_COEFF_COUNT - 1];
}

/* The first fault of one species as text; 0 when it is sound. */
static int fault_of(const dw_species *s, char *message, size_t size)
{
    double mass = 0.0;
    for (int e = 0; e < DW_ELEMENT_COUNT; e++) {
        if (!(s->atoms[e] >= 0.0)) {
            return snprintf(message, size, "species %s: negative number of atoms", s->name);
        }
        mass += s->atoms[e] * atomic_mass_kg_mol[e];
    }
    /* 1e-4 relative: the tables round atomic masses to six digits. */
    if (!(fabs(mass - s->molar_mass_kg_mol) <= 1e-4 * mass)) {
        return dw_print(message, size, "species %s: molar mass is %.6g g/mol, its atoms weigh %.6g",
                        s->name, 1e3 * s->molar_mass_kg_mol, 1e3 * mass);
    }
    if (s->range_count < 1 || s->range_count > DW_NASA9_RANGE_MAX) {
        return snprintf(message, size, "species %s: %d temperature ranges, expected 1 to %d",
                        s->name, s->range_count, DW_NASA9_RANGE_MAX);
    }
    for (int i = 0; i < s->range_count; i++) {
        const dw_nasa9_range *r = &s->range[i];
        if (!(r->t_low_k < r->t_high_k) || (i > 0 && r->t_low_k != s->range[i - 1].t_high_k)) {
            return snprintf(message, size, "species %s: temperature range %d does not follow",
                            s->name, i + 1);
        }
        double lower[3], upper[3];
        evaluate(r, r->t_low_k, log(r->t_low_k), &upper[0], &upper[1], &upper[2]);
        if (!(upper[0] > 0.0)) {
            return dw_print(message, size, "species %s: heat capacity is not positive at %g K",
                            s->name, r->t_low_k);
        }
        if (i == 0) continue;
        evaluate(&s->range[i - 1], r->t_low_k, log(r->t_low_k), &lower[0], &lower[1], &lower[2]);
        for (int k = 0; k < 3; k++) {
            /* The published fits join to 5e-6; 1e-4 lets other tables in and a slip out. */
            if (!(fabs(lower[k] - upper[k]) <= 1e-4 * fmax(1.0, fabs(upper[k])))) {
                static const char *const what[3] = {"heat capacity", "enthalpy", "entropy"};
                return dw_print(message, size, "species %s: %s jumps at %g K", s->name, what[k],
                                r->t_low_k);
            }
        }
    }
    double h_j_mol;
    const dw_status status =
        dw_species_standard_state(s, DW_T_REFERENCE_K, NULL, &h_j_mol, NULL);
    if (status != DW_OK || !(fabs(h_j_mol - s->h_formation_j_mol) <= 1.0)) {
        return dw_print(message, size,
                        "species %s: enthalpy at 298.15 K is %.1f J/mol, formation enthalpy is "
                        "stated as %.1f",
                        s->name, h_j_mol, s->h_formation_j_mol);
    }
    return 0;
}

dw_status dw_species_table_check(const dw_species_table *table, char *message, size_t size)
{
    if (table == NULL || message == NULL || size == 0) return DW_ERR_ARG;
    message[0] = '\0';
    if (table->count == 0 || table->count > DW_SPECIES_MAX) {
        (void)snprintf(message, size, "%zu species, expected 1 to %d", table->count,
                       DW_SPECIES_MAX);
        return DW_ERR_INPUT;
    }
    for (size_t i = 0; i < table->count; i++) {
        if (fault_of(&table->species[i], message, size) != 0) return DW_ERR_INPUT;
        if (dw_species_find(table, table->species[i].name) != (int)i) {
            (void)snprintf(message, size, "species %s: listed twice", table->species[i].name);
            return DW_ERR_INPUT;
        }
    }
    return DW_OK;
}

/* Which gases may form, and their standard potentials at a temperature. */
#include "equilibrium.h"

#include <math.h>
#include <string.h>

void dw_gas_weigh(const double basis[DW_GAS_BASIS_COUNT], double weight[DW_GAS_WEIGHT_COUNT])
{
    int n = 0;
    for (int k = 0; k < DW_GAS_BASIS_COUNT; k++) weight[n++] = basis[k];
    for (int k = 0; k < DW_GAS_BASIS_COUNT; k++) {
        for (int m = 0; m <= k; m++) weight[n++] = basis[k] * basis[m];
    }
}

/* The polynomials once more, gases side by side, where all of them change at one temperature: compilers
 * then work out several at once. */
static void align_polynomials(dw_gas_set *set)
{
    const dw_species *all = set->table->species;
    set->split_k = all[set->species[0]].range[0].t_high_k;
    for (int j = 0; j < set->count; j++) {
        const dw_species *s = &all[set->species[j]];
        if (s->range_count != 2 || s->range[0].t_high_k != set->split_k) {
            set->split_k = NAN;
            return;
        }
        for (int side = 0; side < 2; side++) {
            for (int k = 0; k < DW_NASA9_COEFF_COUNT; k++) {
                set->coeff[side][k][j] = s->range[side].coeff[k];
            }
        }
    }
}

_Static_assert(DW_NASA9_COEFF_COUNT == 9, "gibbs_of_all() names each of them");

/* dw_species_gibbs_rt() of every gas, in the same order of additions. */
static void gibbs_of_all(const dw_gas_set *set, double temperature_k,
                         const double t[DW_NASA9_COEFF_COUNT], double *restrict g_rt)
{
    const double(*a)[DW_GAS_MAX] = set->coeff[temperature_k > set->split_k ? 1 : 0];
    for (int j = 0; j < set->count; j++) {
        const double even = a[0][j] * t[0] + a[2][j] * t[2] + a[4][j] * t[4] + a[6][j] * t[6];
        const double odd = a[1][j] * t[1] + a[3][j] * t[3] + a[5][j] * t[5] + a[7][j] * t[7];
        g_rt[j] = even + odd + a[8][j] * t[8];
    }
}

dw_status dw_gas_set_init(dw_gas_set *set, const dw_species_table *table)
{
    static const char *const role_name[DW_ROLE_COUNT] = {"CO2", "H2O", "CO", "H2",
                                                         "O2",  "N2",  "Ar"};
    if (set == NULL || table == NULL) return DW_ERR_ARG;
    memset(set, 0, sizeof *set);
    set->table = table;
    set->graphite = -1;
    for (int r = 0; r < DW_ROLE_COUNT; r++) set->role[r] = -1;

    for (size_t i = 0; i < table->count; i++) {
        const dw_species *s = &table->species[i];
        if (s->condensed) {
            if (strcmp(s->name, "C(gr)") == 0) set->graphite = (int)i;
            continue;
        }
        if (!s->in_equilibrium) continue;
        const int j = set->count++;
        set->species[j] = (int)i;
        const double basis[DW_GAS_BASIS_COUNT] = {
            s->atoms[DW_C], s->atoms[DW_H],
            s->atoms[DW_O] - 2.0 * s->atoms[DW_C] - 0.5 * s->atoms[DW_H], s->atoms[DW_N]};
        dw_gas_weigh(basis, set->weight[j]);
        for (int r = 0; r < DW_ROLE_COUNT; r++) {
            if (strcmp(s->name, role_name[r]) == 0) set->role[r] = j;
        }
    }
    for (int r = 0; r < DW_ROLE_COUNT; r++) {
        if (set->role[r] < 0) return DW_ERR_INPUT;
    }
    align_polynomials(set);
    return DW_OK;
}

dw_status dw_gas_potentials_at(const dw_gas_set *set, double temperature_k,
                               dw_gas_potentials *potentials)
{
    if (set == NULL || potentials == NULL) return DW_ERR_ARG;
    potentials->temperature_k = temperature_k;
    potentials->graphite_g_rt = NAN;
    if (!(temperature_k >= 200.0 && temperature_k <= 6000.0)) return DW_ERR_DOMAIN;
    double terms[DW_NASA9_COEFF_COUNT];
    dw_species_gibbs_terms(temperature_k, terms);
    if (isnan(set->split_k)) {
        for (int j = 0; j < set->count; j++) {
            potentials->g_rt[j] = dw_species_gibbs_rt(&set->table->species[set->species[j]],
                                                      temperature_k, terms);
        }
    } else {
        gibbs_of_all(set, temperature_k, terms, potentials->g_rt);
    }
    if (set->graphite >= 0) {
        potentials->graphite_g_rt =
            dw_species_gibbs_rt(&set->table->species[set->graphite], temperature_k, terms);
    }
    return DW_OK;
}

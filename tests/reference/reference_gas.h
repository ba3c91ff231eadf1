#ifndef DW_TEST_REFERENCE_GAS_H
#define DW_TEST_REFERENCE_GAS_H

/**
 * @file reference_gas.h
 * A whole state of the gas at once, for comparisons of thousands of states.
 */

#include <stdbool.h>
#include <stdio.h>

#include "reference.h"

/** Prints `CO2=0.09;H2O=0.18;...` with every gas that may form, then what belongs to the state:
 *  graphite_mol_mol, h_j_kg, cp_j_kg_k (frozen), density_kg_m3, molar_mass_kg_mol, carbon_activity,
 *  log10_po2_bar. false when there is no such state: then nothing is printed. */
bool ref_print_equilibrium(const ref_row *row, FILE *out);

/** Seconds of processor time that one equilibrium takes, the potentials of its temperature
 *  included: mean of `states` states spread over the inputs' air ratios `lean`..`rich` and
 *  temperatures `cold_k`..`hot_k`, each solved from nothing; the best of `rounds`. */
double ref_equilibrium_seconds(const ref_row *row);

#endif

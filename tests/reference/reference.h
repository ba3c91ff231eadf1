#ifndef DW_TEST_REFERENCE_H
#define DW_TEST_REFERENCE_H

/**
 * @file reference.h
 * Check values as data. Each row of tests/reference/<table>.csv is one check:
 *
 *     id,quantity,inputs,expected,unit,rtol,atol,source,where,provenance,status,reason
 *
 * inputs is `name=value;name=value`, numbers in SI or words. source is a key of
 * config/sources.yaml, where the table or equation in it. provenance is read, recalled,
 * computed, derived or practice. status is ok, fails (an error is expected) or known-failure (with a reason;
 * passing is then an error). `#` starts a comment line. Fields with a comma stand in double quotes.
 */

#include <stddef.h>

/** A row being checked. Missing inputs end the test with a message. */
typedef struct ref_row ref_row;

/** Number given for an input. */
double ref_number(const ref_row *row, const char *name);
/** Number given, or the fallback when the row has no such input. */
double ref_number_or(const ref_row *row, const char *name, double fallback);
/** Word given for an input; fallback (may be NULL) when absent. Valid while the row is. */
const char *ref_word(const ref_row *row, const char *name, const char *fallback);

/** Computes the quantity from the inputs; NaN when the law answers with an error. */
typedef double (*ref_function)(const ref_row *row);

/** Quantity name -> function. Tables end with a NULL name. */
typedef struct ref_quantity {
    const char *name;
    ref_function compute;
} ref_quantity;

/** Quantities by subject; each lives in its own file beside the runner. */
extern const ref_quantity ref_flow_quantities[];   /* reference_flow.c: air, jets, dampers, stack, openings, burners, probe */
extern const ref_quantity ref_gas_quantities[];    /* reference_gas.c: species, equilibrium, unmixedness                    */
extern const ref_quantity ref_fuel_quantities[];   /* reference_fuel.c: fuels, ISO 6976, drill sizes                         */
extern const ref_quantity ref_ware_quantities[];   /* reference_ware.c: oxides, iron in glazes, the reduction ladder          */
extern const ref_quantity ref_people_quantities[]; /* reference_people.c: CO in rooms and people, limits, when gas burns     */

#endif

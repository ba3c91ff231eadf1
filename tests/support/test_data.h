#ifndef DW_TEST_DATA_H
#define DW_TEST_DATA_H

/**
 * @file test_data.h
 * The built-in data for a test, and mixtures over its species.
 */

#include <stdbool.h>

#include "data.h"
#include "elements.h"

/** Loads the built-in data; on failure says why on stderr and gives NULL. Free with free(). */
dw_data *test_data_load(void);

/** One gas of a mixture. */
typedef struct test_share {
    const char *species;
    double x;
} test_share;

/** Most gases in a recipe; a list ends early with a NULL name. */
enum { TEST_SHARE_MAX = 8 };

typedef struct test_recipe {
    const char *name;
    test_share share[TEST_SHARE_MAX];
} test_recipe;

/** The one dry air of the program: N2 0.78084, O2 0.209476, Ar 0.009365, CO2 0.000319. */
extern const test_recipe test_air;

/** methane, ethane, propane, n-butane, i-butane, natural_gas, hydrogen; NULL when unknown. */
const test_recipe *test_fuel(const char *name);

/** Mole fractions over the table; false when the table lacks a species. */
bool test_fractions(const dw_species_table *table, const test_recipe *recipe,
                    double x[DW_SPECIES_MAX]);

#endif

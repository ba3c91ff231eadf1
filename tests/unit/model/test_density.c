/** @file test_density.c  Whatever is solved has the density of the gas that it says burns out. */

#include "check.h"

#include <string.h>

#include "kit.h"
#include "operating_point.h"
#include "solved_point.h"

static dw_solved solved;
static dw_result result;

/* Molar mass of the gas by its own shares, over the one the flows were worked out with, less 1. */
static double gap(void)
{
    const dw_species_table *table = &kit_data()->species;
    double molar_mass = 0.0;
    for (size_t i = 0; i < table->count; i++) {
        molar_mass += solved.gas.x[i] * table->species[i].molar_mass_kg_mol;
    }
    return molar_mass / solved.at.gas.molar_mass_kg_mol - 1.0;
}

/* In rooms at all sorts of pressure, where stacks and burners turn round. */
static void random_kilns_have_one_density(void **state)
{
    (void)state;
    kit_random random = kit_seed(9103);
    const int cases = kit_cases("DW_KILNS", 4000);
    int count = 0, jumps = 0, bad = 0;
    for (int i = 0; i < cases; i++) {
        dw_kiln kiln;
        kit_random_kiln(&random, &kiln);
        kiln.site.room_pressure_pa = kit_between(&random, -40.0, 25.0);
        const dw_status status = dw_operating_point_solved(kit_model(), &kiln, &solved, &result);
        if (status != DW_OK) {
            jumps += strstr(result.reason, "does not settle") != NULL;
            continue;
        }
        count++;
        if (fabs(gap()) <= 2e-9) continue;
        print_error("kiln %d: off by %.3g after %d rounds\n", i, gap(), result.density_rounds);
        bad++;
    }
    print_message("%d of %d solved, %d without a density\n", count, cases, jumps);
    assert_int_equal(bad, 0);
    assert_true(count > cases / 2 && jumps <= 1 + cases / 100);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(random_kilns_have_one_density)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}

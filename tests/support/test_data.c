#include "test_data.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "read_data.h"

dw_data *test_data_load(void)
{
    dw_data *data = calloc(1, sizeof *data);
    dw_diag_list *diag = dw_diag_list_create();
    if (data != NULL && dw_read_data(NULL, diag, data) != DW_OK) {
        for (size_t i = 0; i < dw_diag_count(diag); i++) {
            char line[400];
            (void)dw_diag_format(dw_diag_get(diag, i), line, sizeof line);
            (void)fprintf(stderr, "%s\n", line);
        }
        free(data);
        data = NULL;
    }
    dw_diag_list_destroy(diag);
    return data;
}

const test_recipe test_air = {
    "air", {{"N2", 0.78084}, {"O2", 0.209476}, {"Ar", 0.009365}, {"CO2", 0.000319}}};

const test_recipe *test_fuel(const char *name)
{
    static const test_recipe fuels[] = {
        {"methane", {{"CH4", 1.0}}},
        {"ethane", {{"C2H6", 1.0}}},
        {"propane", {{"C3H8", 1.0}}},
        {"n-butane", {{"n-C4H10", 1.0}}},
        {"i-butane", {{"i-C4H10", 1.0}}},
        {"hydrogen", {{"H2", 1.0}}},
        {"natural_gas",
         {{"CH4", 0.93}, {"C2H6", 0.04}, {"C3H8", 0.01}, {"N2", 0.01}, {"CO2", 0.01}}},
    };
    for (size_t i = 0; i < sizeof fuels / sizeof fuels[0]; i++) {
        if (strcmp(fuels[i].name, name) == 0) return &fuels[i];
    }
    return NULL;
}

bool test_fractions(const dw_species_table *table, const test_recipe *recipe,
                    double x[DW_SPECIES_MAX])
{
    memset(x, 0, DW_SPECIES_MAX * sizeof *x);
    for (size_t i = 0; i < TEST_SHARE_MAX && recipe->share[i].species != NULL; i++) {
        const int at = dw_species_find(table, recipe->share[i].species);
        if (at < 0) return false;
        x[at] = recipe->share[i].x;
    }
    return true;
}

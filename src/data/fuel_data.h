#ifndef DW_FUEL_DATA_H
#define DW_FUEL_DATA_H

/**
 * @file fuel_data.h
 * A fuel gas with its name, as config/fuels.yaml or a kiln gives it.
 *
 * Layer: data. Plain values.
 */

#include "species.h"

enum { DW_NAME_SIZE = 64 /**< bytes of a name with its NUL */ };

/** A fuel gas by mole fractions over the species table. */
typedef struct dw_fuel {
    char name[DW_NAME_SIZE];
    double x[DW_SPECIES_MAX]; /**< mole fractions, sum 1 */
} dw_fuel;

#endif

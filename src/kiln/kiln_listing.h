#ifndef DW_KILN_LISTING_H
#define DW_KILN_LISTING_H

/**
 * @file kiln_listing.h
 * A resolved kiln as rows, each with where its value came from; and the list of all keys.
 *
 * Layer: kiln. No allocation, no state. Rows go to a callback, so that writers decide how they look.
 */

#include <stdbool.h>

#include "kiln_schema.h"

/** Where a value came from. */
typedef enum dw_origin {
    DW_ORIGIN_GIVEN,
    DW_ORIGIN_DEFAULT, /**< a fixed value of the program            */
    DW_ORIGIN_DERIVED  /**< worked out from other inputs            */
} dw_origin;

/** "given", "default" or "derived". */
const char *dw_origin_text(dw_origin origin);

/** One row. Texts are borrowed for the duration of the call. */
typedef struct dw_listing_row {
    const char *path; /**< as --set takes it: kiln.burners.left pair.jet.diameter              */
    bool is_number;   /**< the value is si, else text                                          */
    dw_dim dim;       /**< of si; counts are DW_DIM_NUMBER; DW_DIM_NUMBER for texts            */
    double si;        /**< NaN for texts                                                       */
    const char *text; /**< word, name, yes or no, or YAML flow text of a table; NULL: a number */
    dw_origin origin;
    const char *help;
    dw_object object; /**< whose key this is                                                    */
    int index;        /**< of the burner, opening or flue it is or belongs to; else 0           */
    int row;          /**< of the object's key table; DW_NO_ROW for the gases of a fuel         */
} dw_listing_row;

/** Takes a row. Return non-zero to stop. */
typedef int (*dw_listing_take)(void *user, const dw_listing_row *row);

/**
 * Hands over every input that matters to this kiln, in the order of the tables.
 *
 * Left out: keys that have no effect with the kind of their burner, opening or damper, optional
 * ones that are absent, and those whose place another key has taken. What was given in another
 * form (drill size, diameter, lining, cap, angle) appears as the quantity it stands for.
 * Setting the path of every row that is not derived to its value (--set) gives the same kiln again.
 * The fuel has one row with its name, or the word mixture, and one row per gas with its share: only
 * one of the two can be set.
 *
 * @param[in] resolved  after dw_kiln_resolve(); not NULL.
 * @param[in] given     from dw_read_kiln(); not NULL.
 *
 * @par Checked by tests/unit/kiln/test_kiln_listing.c
 */
void dw_kiln_listing(const dw_kiln *resolved, const dw_kiln_given *given,
                     const dw_species_table *species, dw_listing_take take, void *user);

/** One key as documentation. Texts are borrowed for the duration of the call. */
typedef struct dw_key_row {
    const char *path;     /**< kiln.burners.<name>.jet.diameter                             */
    const char *expected; /**< "0.1 mm to 20 mm", "inspirating or blown", ...               */
    dw_need need;
    const char *fallback; /**< the default's value with its unit; NULL unless DW_NEED_DEFAULT */
    const char *help;
} dw_key_row;

/** Takes a key. Return non-zero to stop. */
typedef int (*dw_key_take)(void *user, const dw_key_row *row);

/** Hands over every key there is, in the order of the tables. data names the fuels, linings and
 *  caps. */
void dw_kiln_keys(const dw_data *data, dw_key_take take, void *user);

/** "required", "default", "derived" or "optional". */
const char *dw_need_text(dw_need need);

#endif

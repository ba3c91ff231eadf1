#ifndef DW_KILN_TYPED_H
#define DW_KILN_TYPED_H

/**
 * @file kiln_typed.h
 * How the inputs of a kiln were typed: their units, and the keys that stand for others.
 *
 * Layer: kiln. Pure. dw_read_kiln() fills dw_kiln_file.typed; see read_kiln.h for dw_typed_unit().
 *
 * @par Checked by tests/unit/kiln/test_kiln_typed.c
 */

#include "kiln_schema.h"

/** Longest text of dw_typed_as() with its NUL. */
enum { DW_TYPED_AS_SIZE = 80 };

/** Path of a key of an object, as --set takes it: kiln.burners.left pair.jet.diameter. */
void dw_typed_path(const dw_kiln *kiln, dw_object object, int index, const dw_key *key,
                   char out[DW_PATH_SIZE]);

/**
 * The other form in which a number was given: "diameter 4 in" for an area, "lining brick" for a
 * roughness.
 *
 * @return false when it was given as it is, or not at all.
 */
bool dw_typed_as(const dw_kiln_file *file, dw_object object, int index, int row,
                 char out[DW_TYPED_AS_SIZE]);

/** Takes over the unit of a field that was varied, for every place of it. */
void dw_typed_put(dw_kiln_file *file, const dw_kiln_field *field);

#endif

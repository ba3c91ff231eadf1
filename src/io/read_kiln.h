#ifndef DW_READ_KILN_H
#define DW_READ_KILN_H

/**
 * @file read_kiln.h
 * A kiln description from YAML: every key checked, every fault with its place.
 *
 * Layer: io. One table of keys (io/kiln_schema.c) drives reading, the resolved listing and the
 * paths that sweeps vary.
 */

#include "damperwise.h"
#include "data.h"
#include "diag.h"
#include "kiln.h"
#include "units.h"

/** Which keys of each object were given, by row of its key table (bit i: row i). */
typedef struct dw_kiln_given {
    unsigned long long site, chamber, stack, operating, settings, fuel, room;
    unsigned long long burner[DW_BURNER_MAX];
    unsigned long long opening[DW_OPENING_MAX];
    unsigned long long flue[DW_FLUE_MAX];
    unsigned long long damper[DW_FLUE_MAX];
} dw_kiln_given;

/** A kiln as read: values in SI, NaN for what dw_kiln_resolve() derives. */
typedef struct dw_kiln_file {
    dw_kiln kiln;         /**< as read, not resolved */
    dw_kiln_given given;
} dw_kiln_file;

/**
 * Reads, checks and applies overrides.
 *
 * Errors go to diag (at most 20, then a count). After reading, the resolved copy is passed to
 * dw_kiln_check(), whose message becomes an error too.
 *
 * @param[out] out  set on success only.
 * @retval DW_OK, DW_ERR_INPUT, DW_ERR_NOMEM, DW_ERR_ARG
 */
DW_MUST_CHECK
dw_status dw_read_kiln(const dw_data *data, const char *file, const char *text, size_t length,
                       const dw_setting *settings, size_t setting_count, dw_diag_list *diag,
                       dw_kiln_file *out);

enum { DW_FIELD_PLACE_MAX = 64 };

/** A numeric input, or the same input of several objects moved together. */
typedef struct dw_kiln_field {
    char path[128];                      /**< as asked for                                  */
    dw_dim dim;
    double low, high;                    /**< allowed, SI                                   */
    int place_count;
    size_t offset[DW_FIELD_PLACE_MAX];   /**< of the doubles in dw_kiln                     */
} dw_kiln_field;

/**
 * Finds a numeric input by path, as in --set, or by a short name: `damper` (all flues),
 * `gas_pressure`, `air_pressure`, `temperature`.
 *
 * @retval DW_OK, DW_ERR_INPUT (diag says why, with a suggestion), DW_ERR_ARG
 */
DW_MUST_CHECK
dw_status dw_kiln_field_find(const dw_kiln *kiln, const char *path, dw_diag_list *diag,
                             dw_kiln_field *field);

/** Writes an SI value into every place of the field. The value must be within low..high. */
void dw_kiln_field_put(const dw_kiln_field *field, dw_kiln *kiln, double si);

#endif

#ifndef DW_READ_KILN_H
#define DW_READ_KILN_H

/**
 * @file read_kiln.h
 * A kiln description from YAML: every key checked, every fault with its place.
 *
 * Layer: kiln. One table of keys (kiln/kiln_schema.c) drives reading, the resolved listing and the
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

/** Room for every key of every object. */
enum { DW_TYPED_MAX = 27 * DW_BURNER_MAX + 15 * DW_OPENING_MAX + 19 * DW_FLUE_MAX + 120 };

/** How one key was given. */
typedef struct dw_typed {
    unsigned char object; /**< dw_object                                                   */
    short index;          /**< of the burner, opening or flue; else 0                      */
    short row;            /**< of the object's key table                                   */
    short setting;        /**< 0: in the file; n: by the nth override                      */
    bool repeated;        /**< an override by what holds without it, in the file or by default */
    const char *unit;     /**< unit that a number was typed in, see dw_quantity_unit(); the
                             *   word of a drill, lining or cap; NULL for all else. Static, or
                             *   of the data                                                 */
} dw_typed;

/** A kiln as read: values in SI, NaN for what dw_kiln_resolve() derives. */
typedef struct dw_kiln_file {
    dw_kiln kiln;         /**< as read, not resolved */
    dw_kiln_given given;
    int typed_count;
    dw_typed typed[DW_TYPED_MAX];
} dw_kiln_file;

/** The unit that the number at an offset of dw_kiln was typed in, or the one it was taken over from
 *  (a burner's pressure from operating, a room's temperature from the air's); NULL when it was not
 *  given, or given in another form (a diameter for an area). */
const char *dw_typed_unit(const dw_kiln_file *file, size_t offset);

/**
 * Looks for overrides that change nothing, such as an air pressure where no burner takes air under
 * pressure. One that says what holds anyway, in the file or by default, is not a slip.
 *
 * @param[in] variants, count  kilns as read, not resolved: an override is only refused when it
 *                             changes nothing in any of them.
 * @retval DW_OK, DW_ERR_INPUT (diag says which and why)
 */
DW_MUST_CHECK
dw_status dw_kiln_overrides(const dw_kiln_file *file, const dw_kiln *const *variants, size_t count,
                            dw_diag_list *diag);

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
    int object, row;                     /**< dw_object and row of its key table            */
    int place_count;
    int index[DW_FIELD_PLACE_MAX];       /**< of the burner, opening or flue; else 0        */
    size_t offset[DW_FIELD_PLACE_MAX];   /**< of the doubles in dw_kiln                     */
    const char *unit;                    /**< that the values were typed in; NULL: unknown  */
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

/** Looks whether moving the field changes nothing in all of these kilns (as read, not resolved);
 *  then diag says why, and the answer is DW_ERR_INPUT. */
DW_MUST_CHECK
dw_status dw_kiln_field_reaches(const dw_kiln_field *field, const dw_kiln *const *variants,
                                size_t count, dw_diag_list *diag);

/** Writes an SI value into every place of the field. The value must be within low..high. */
void dw_kiln_field_put(const dw_kiln_field *field, dw_kiln *kiln, double si);

#endif

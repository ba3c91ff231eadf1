#ifndef DW_GLAZE_READER_H
#define DW_GLAZE_READER_H

/**
 * @file glaze_reader.h
 * A glaze from a map of oxides with their shares by weight.
 *
 * Layer: data, shared by data_glazes.c and those who read a glaze that a person typed.
 */

#include "data_reader.h"
#include "ware_data.h"

/**
 * Reads `{SiO2: 66 %, ...}` into the shares of a glaze; name, note and source are left alone.
 *
 * Fe2O3 is turned into the FeO that holds as much iron. An oxide that glazes may hold but the
 * formulas do not know is named in glaze->outside. Shares are scaled to sum 1 from at most 3 % off.
 *
 * @return false after a fault, which is in the reader's list.
 */
bool dw_glaze_read_oxides(dw_data_reader *reader, const dw_node *map, dw_glaze *glaze);

/**
 * Reads a glaze that a person names or writes out.
 *
 * @param[in]  text   the name of a glaze in the data, or a map of oxides in YAML flow form.
 * @param[in]  diag   receives faults; may be NULL.
 * @param[out] glaze  empty on failure; one that was written out is named "glaze".
 * @retval DW_OK, DW_ERR_INPUT, DW_ERR_NOMEM, DW_ERR_ARG
 */
DW_MUST_CHECK
dw_status dw_glaze_from_text(const dw_data *data, const char *text, dw_diag_list *diag,
                             dw_glaze *glaze);

#endif

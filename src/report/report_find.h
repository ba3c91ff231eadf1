#ifndef DW_REPORT_FIND_H
#define DW_REPORT_FIND_H

/**
 * @file report_find.h
 * One value of a report by its JSON path.
 *
 * Layer: report. Reads the tree; no state, no allocation.
 */

#include "report_tree.h"

/** What stands at a path. Texts are borrowed from the tree. */
typedef struct dw_found {
    bool is_number;       /**< number is set                                              */
    dw_number number;
    const char *text;     /**< a text, or the reason of a null; NULL for numbers           */
    bool is_null;
    const char *label;    /**< what people call it; NULL when it is not in the text        */
} dw_found;

/**
 * Looks up a path such as "gas_dry.CO", "setting.dampers.0.open_frac" or "flows.3.mass_kg_s".
 *
 * Lists and tables are counted from 0. Groups without a key are looked through, as in the JSON.
 *
 * @return false, with found all zero, when nothing with a value stands there.
 * @par Checked by tests/unit/report/test_report_find.c
 */
bool dw_report_find(const dw_report *report, const char *path, dw_found *found);

#endif

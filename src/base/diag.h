#ifndef DW_BASE_DIAG_H
#define DW_BASE_DIAG_H

/**
 * @file diag.h
 * Adding to a diagnostic list (the reading side is api/dw_diag.h).
 *
 * Layer: base. Allocates; no global state.
 */

#include "dw_diag.h"

/** A place in an input text. Counts from 1; zeros mean unknown. */
typedef struct dw_place {
    const char *file; /**< borrowed; NULL means none */
    int line;
    int column;
} dw_place;

/** Most entries a list keeps; later ones are counted and summed up in one last note. */
enum { DW_DIAG_MAX = 100 };

/**
 * Adds an entry; code, file and text are copied.
 *
 * A NULL list is allowed and drops the entry. Running out of memory drops it too and is
 * remembered: dw_diag_lost() is then true.
 */
void dw_diag_add(dw_diag_list *list, dw_grade grade, const char *code, dw_place place,
                 const char *format, ...) DW_PRINTF(5, 6);

/** True when an entry could not be stored for want of memory. */
int dw_diag_lost(const dw_diag_list *list);

#endif

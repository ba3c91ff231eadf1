#ifndef DW_DIAG_H
#define DW_DIAG_H

/**
 * @file dw_diag.h
 * What the user must know: notes, warnings, hazards and errors, collected in a list.
 *
 * Layer: api (implemented in base/diag.c). The list owns every string in it. A list must not be
 * shared between threads. Nothing here prints. Control characters and bytes that are not UTF-8 are
 * escapes in all texts, so that any terminal may be given them.
 */

#include <stddef.h>

#include "dw_status.h"

#ifdef __cplusplus
extern "C" {
#endif

/** How grave. A hazard is a physical state that can hurt someone; an error stops the work. */
typedef enum dw_grade { DW_NOTE, DW_WARNING, DW_HAZARD, DW_ERROR } dw_grade;

/** One entry. Borrowed from the list; valid until the list is destroyed or cleared. */
typedef struct dw_diag {
    dw_grade grade;
    const char *code;  /**< short stable word-with-hyphens, e.g. "unknown-key"; never NULL   */
    const char *file;  /**< file name or "--set"; "" when the entry has no place             */
    int line;          /**< from 1; 0 when unknown                                           */
    int column;        /**< from 1; 0 when unknown                                           */
    const char *text;  /**< lower case, no full stop, what was read and what is allowed      */
} dw_diag;

typedef struct dw_diag_list dw_diag_list;

/** A new empty list, or NULL when out of memory. Free with dw_diag_list_destroy(). */
dw_diag_list *dw_diag_list_create(void);

/** Frees the list and all strings in it; NULL is allowed. */
void dw_diag_list_destroy(dw_diag_list *list);

/** Empties the list. */
void dw_diag_list_clear(dw_diag_list *list);

/** Number of entries in the list. A list keeps 100; when more are added, the least grave are left
 *  out, latest first, and a last note says how many. */
size_t dw_diag_count(const dw_diag_list *list);

/** Number of entries added with exactly this grade, including those left out. */
size_t dw_diag_count_grade(const dw_diag_list *list, dw_grade grade);

/** Entry number i from 0, in the order added; NULL when out of range. */
const dw_diag *dw_diag_get(const dw_diag_list *list, size_t i);

/** "note", "warning", "hazard" or "error". */
const char *dw_grade_text(dw_grade grade);

/** The whole entry as one line, `file:line:column: grade: text [code]`, without what is not known.
 *  Writes at most size bytes including the final NUL; returns the length that was needed. */
size_t dw_diag_format(const dw_diag *diag, char *out, size_t size);

#ifdef __cplusplus
}
#endif

#endif

#ifndef DW_NOT_WORKED_H
#define DW_NOT_WORKED_H

/**
 * @file not_worked.h
 * Keys of the report of `estimate` that need no working, and why not.
 *
 * Layer: io. Constants only.
 */

/** A key; `*` stands for one step of its path. */
typedef struct dw_unworked {
    const char *path, *reason;
} dw_unworked;

/** Ended by a path of NULL. @par Checked by tests/golden/test_working.py */
extern const dw_unworked dw_not_worked[];

#endif

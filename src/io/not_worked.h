#ifndef DW_NOT_WORKED_H
#define DW_NOT_WORKED_H

/**
 * @file not_worked.h
 * Keys of a report that need no working, and why not.
 *
 * Layer: io. Constants only.
 */

/** A key; `*` stands for one step of its path. */
typedef struct dw_unworked {
    const char *path, *reason;
} dw_unworked;

/** The keys of the report of a command, ended by a path of NULL; empty for a command without a list.
 *  @par Checked by tests/golden/test_working.py, test_working_commands.py */
const dw_unworked *dw_not_worked(const char *command);

#endif

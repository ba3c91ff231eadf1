#ifndef DW_NOT_WORKED_H
#define DW_NOT_WORKED_H

/**
 * @file not_worked.h
 * Keys of a report that need no working, and why not.
 *
 * Layer: report. Constants only.
 */

/** A key; `*` stands for one step of its path. */
typedef struct dw_unworked {
    const char *path, *reason;
} dw_unworked;

enum { DW_UNWORKED_MAX = 5 };

/** The keys of the report of a command: lists, each ended by a path of NULL, and NULL after the last; none
 *  for a command that has none.
 *  @par Checked by tests/golden/test_working.py, test_working_commands.py */
void dw_not_worked(const char *command, const dw_unworked *lists[DW_UNWORKED_MAX]);

#endif

#ifndef DW_KEY_PATH_H
#define DW_KEY_PATH_H

/**
 * @file key_path.h
 * Key paths as a person writes them: `kiln.flues."no. 2".damper.open`.
 *
 * Layer: base. Pure functions, no state, no allocation.
 *
 * Steps are joined by dots. A step with a dot in it, or one that begins with a single quote,
 * stands in double quotes; when it has double quotes itself, in single ones.
 */

#include <stdbool.h>
#include <stddef.h>

/** Bytes of a path with its NUL that hold every path of a kiln. */
enum { DW_PATH_SIZE = 192 };

/**
 * Writes path and step joined by a dot; an empty path gives the step alone.
 *
 * @param[out] out   cut off when size is too small; always ended by a NUL when size > 0.
 * @return the length needed, without the NUL.
 *
 * @par Checked by tests/unit/base/test_key_path.c
 */
size_t dw_path_join(char *out, size_t size, const char *path, const char *step);

/** Writes path and keys joined by a dot, where keys are steps already: `jet.diameter`. Otherwise
 *  like dw_path_join(). */
size_t dw_path_join_keys(char *out, size_t size, const char *path, const char *keys);

/**
 * Takes the next step off a path.
 *
 * @param[in,out] path    moved behind the step and its dot.
 * @param[out]    step    the step without its quotes.
 * @param[in]     size    of step.
 * @param[out]    quoted  whether it stood in quotes; may be NULL.
 * @return false at the end of the path, and for what is no step: an empty one, one longer than
 *         size, a quote that is not closed or followed by more than a dot. step is then "".
 *
 * @par Checked by tests/unit/base/test_key_path.c
 */
bool dw_path_next(const char **path, char *step, size_t size, bool *quoted);

#endif

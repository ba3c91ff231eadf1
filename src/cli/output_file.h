#ifndef DW_OUTPUT_FILE_H
#define DW_OUTPUT_FILE_H

/**
 * @file output_file.h
 * Results to a file, whole or not at all, or to standard output.
 *
 * Layer: cli. POSIX.
 */

#include <stddef.h>

#include "dw_status.h"

/**
 * Writes a text to a file: into a new file in the same directory first, synced, then renamed over
 * the old one. On failure the old file is as it was and nothing new is left.
 *
 * A link is followed. What is no regular file (a device, a pipe) is written to directly. A
 * directory is refused, and so is the file that the kiln was read from.
 *
 * @param[in]  path     not empty.
 * @param[in]  input    path of the kiln description, "-" or NULL: not looked at.
 * @param[out] message  why not; static storage or strerror(); "" on success.
 * @retval DW_OK, DW_ERR_IO, DW_ERR_NOMEM
 */
DW_MUST_CHECK
dw_status dw_output_write(const char *path, const char *input, const char *text, size_t length,
                          const char **message);

/** Writes a text to standard output and closes it, so that a full disk or a closed pipe shows. */
DW_MUST_CHECK
dw_status dw_output_print(const char *text, size_t length, const char **message);

#endif

#ifndef DW_INPUT_FILE_H
#define DW_INPUT_FILE_H

/**
 * @file input_file.h
 * A whole file, or standard input, as text.
 *
 * Layer: cli.
 */

#include <stddef.h>

#include "dw_status.h"

/** Larger files are refused: no description of a kiln is anywhere near. */
enum { DW_INPUT_BYTES_MAX = 4 * 1024 * 1024 };

/**
 * Reads a file.
 *
 * @param[in]  path     "-" for standard input.
 * @param[out] text     owned by the caller, ended by a NUL that is not counted; NULL on failure.
 * @param[out] message  why not, static storage or strerror(); "" on success.
 * @retval DW_OK, DW_ERR_IO, DW_ERR_NOMEM
 */
DW_MUST_CHECK
dw_status dw_input_read(const char *path, char **text, size_t *length, const char **message);

#endif

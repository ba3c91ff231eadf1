#ifndef DW_OUTPUT_FILE_H
#define DW_OUTPUT_FILE_H

/**
 * @file output_file.h
 * Results to a file, whole or not at all, or to standard output.
 *
 * Layer: cli. POSIX.
 *
 * Results go into a new file in the same directory, which is synced and renamed over the old one at the end. On
 * failure the old file is as it was and nothing new is left. The new file has the mode, the owner and the group of
 * the one it replaces. A link is followed. What is not a regular file (a device, a pipe) is written to directly.
 *
 * Refused before anything is written: a directory; a link that leads nowhere or round in a circle; a file that the
 * user may not write to, or whose owner or group the new file could not have; and any file that is being read (see
 * dw_output_kept).
 */

#include <stdbool.h>
#include <stddef.h>

#include "dw_status.h"

/** What must not be overwritten, whatever name the output gives it. */
typedef struct dw_output_kept {
    const char *input;    /**< path of the description or the series; "-": standard input; NULL: none */
    const char *config;   /**< directory; no .yaml file in it is overwritten; NULL: none              */
} dw_output_kept;

/** A file that is being written. */
typedef struct dw_output_file {
    int fd;               /**< -1: none is open                                          */
    char *target;         /**< where the results go in the end; owned                    */
    char *temporary;      /**< the new file until then; owned; NULL: written to directly */
} dw_output_file;

/**
 * Opens a file for writing, or says why not.
 *
 * @param[in]  path     not empty.
 * @param[in]  kept     may be NULL.
 * @param[out] message  why not; static storage or strerror(); "" on success.
 * @retval DW_OK        to be closed with dw_output_end() or dw_output_abandon().
 * @retval DW_ERR_IO, DW_ERR_NOMEM
 */
DW_MUST_CHECK
dw_status dw_output_begin(dw_output_file *file, const char *path, const dw_output_kept *kept,
                          const char **message);

/** Adds to it. After a failure only dw_output_abandon() is left. @retval DW_OK, DW_ERR_IO */
DW_MUST_CHECK
dw_status dw_output_add(dw_output_file *file, const char *text, size_t length,
                        const char **message);

/** Puts the results in their place and closes the file. @retval DW_OK, DW_ERR_IO (all is as it was) */
DW_MUST_CHECK
dw_status dw_output_end(dw_output_file *file, const char **message);

/** Gives up: the old file stays. Does nothing when none is open. */
void dw_output_abandon(dw_output_file *file);

/** All of it at once. An interrupt waits meanwhile. @retval as dw_output_begin() */
DW_MUST_CHECK
dw_status dw_output_write(const char *path, const dw_output_kept *kept, const char *text,
                          size_t length, const char **message);

/** Adds to standard output. @retval DW_OK, DW_ERR_IO */
DW_MUST_CHECK
dw_status dw_output_put(const char *text, size_t length, const char **message);

/** Closes standard output, so that a full disk or a closed pipe shows. @retval DW_OK, DW_ERR_IO */
DW_MUST_CHECK
dw_status dw_output_close(const char **message);

#endif

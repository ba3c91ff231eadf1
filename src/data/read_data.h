#ifndef DW_READ_DATA_H
#define DW_READ_DATA_H

/**
 * @file read_data.h
 * The data of config/: built in, or replaced file by file from a directory.
 *
 * Layer: data. Every file is checked on load (see species.h, fuel sums, rising tables, known
 * source keys); a fault stops loading with file:line:column.
 */

#include "data.h"
#include "diag.h"

/** A text built into the binary at build time (generated from config/ by CMake). */
typedef struct dw_embedded {
    const char *name;            /**< file name, "species.yaml"          */
    const unsigned char *bytes;  /**< followed by a NUL that is not counted */
    size_t length;
} dw_embedded;

/** All built-in texts, ended by an entry with name NULL. */
extern const dw_embedded dw_embedded_files[];

/**
 * Fills the data.
 *
 * @param[in]  config_dir  directory whose files replace built-in ones of the same name; NULL: none.
 * @param[in]  diag        receives faults; may be NULL.
 * @param[out] data        filled on success.
 * @retval DW_OK, DW_ERR_INPUT, DW_ERR_IO, DW_ERR_NOMEM
 */
DW_MUST_CHECK
dw_status dw_read_data(const char *config_dir, dw_diag_list *diag, dw_data *data);

#endif

#ifndef DW_READ_SERIES_H
#define DW_READ_SERIES_H

/**
 * @file read_series.h
 * A recorded series of carbon monoxide readings from CSV.
 *
 * Layer: room. Bytes by libcsv (RFC 4180 quoting); the series is owned by the caller.
 *
 *     time_min,ppm          the first line names the columns; others are left alone
 *     0,12
 *     5.5,48
 *
 * Time: a column time_s, time_min, time_h, or clock (15:04 or 15:04:30; a clock that jumps back has
 * passed midnight). Level: a column ppm or co_ppm. `#` begins a comment line.
 */

#include <stddef.h>

#include "dw_diag.h"
#include "exposure.h"

/** Most readings of a series. */
enum { DW_SERIES_MAX = 500000 };

typedef struct dw_series {
    size_t step_count;
    dw_exposure_step *step;    /**< owned; the first reading is at time 0                     */
    size_t reading_count;
    double longest_gap_s;      /**< between two readings                                      */
} dw_series;

/**
 * Reads a series. Between two readings the higher of the two holds.
 *
 * @param[in]  file          name shown in messages.
 * @param[in]  text, length  bytes.
 * @param[in]  diag          receives what is wrong, with file:line; may be NULL.
 * @param[out] series        freed with dw_series_free(); empty on failure.
 * @retval DW_OK, DW_ERR_INPUT, DW_ERR_NOMEM, DW_ERR_ARG
 *
 * @par Checked by  tests/unit/room/test_read_series.c
 */
DW_MUST_CHECK
dw_status dw_read_series(const char *file, const char *text, size_t length, dw_diag_list *diag,
                         dw_series *series);

void dw_series_free(dw_series *series);

#endif

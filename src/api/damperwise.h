#ifndef DAMPERWISE_H
#define DAMPERWISE_H

/**
 * @file damperwise.h
 * The library: read a kiln, ask about it, get text, JSON or CSV.
 *
 * Layer: api. An engine holds the built-in data and is read-only after creation: any number of
 * threads may share it. A kiln case is read-only after reading, likewise. Nothing is printed,
 * the process is never ended, no file is opened but those of a config directory when one is
 * named, no state is global. Every text handed out is freed by the caller with dw_text_free().
 */

#include <stddef.h>

#include "dw_diag.h"
#include "dw_status.h"

#ifdef __cplusplus
extern "C" {
#endif

/** Version of the library and the program, "major.minor.patch". */
const char *dw_version(void);

typedef struct dw_engine dw_engine;
typedef struct dw_case dw_case;

typedef enum dw_format { DW_FORMAT_TEXT, DW_FORMAT_JSON, DW_FORMAT_CSV } dw_format;

/** Units of text and CSV output. JSON is always SI. */
typedef enum dw_units { DW_SHOW_METRIC, DW_SHOW_US } dw_units;

typedef struct dw_output {
    dw_format format;
    dw_units units;
} dw_output;

/** An override of one key, as in `--set path=value`. Strings are borrowed for the call. */
typedef struct dw_setting {
    const char *path;
    const char *value;
} dw_setting;

/** A quantity to vary: path (or short name: damper, gas_pressure, air_pressure, temperature) and
 *  range, `0..100%:5%`, `1 kPa..20 kPa:1 kPa`, or a list `0 %, 30 %, 100 %`. */
typedef struct dw_vary {
    const char *path;
    const char *range;
} dw_vary;

/** Called now and then by long work: done of total points. Return non-zero to stop the work. */
typedef int (*dw_progress)(void *user, size_t done, size_t total);

/**
 * Loads the built-in data, or each file of it that config_dir holds in its place.
 *
 * @param[in]  config_dir  directory, or NULL.
 * @param[in]  diag        receives what is wrong with the data; may be NULL.
 * @param[out] engine      owned by the caller; NULL on failure.
 * @retval DW_OK, DW_ERR_INPUT, DW_ERR_IO, DW_ERR_NOMEM, DW_ERR_ARG
 */
DW_MUST_CHECK
dw_status dw_engine_create(const char *config_dir, dw_diag_list *diag, dw_engine **engine);
void dw_engine_destroy(dw_engine *engine);

/**
 * Reads a kiln description with overrides.
 *
 * @param[in]  engine        not NULL; must outlive the case.
 * @param[in]  file          name shown in messages.
 * @param[in]  text, length  YAML bytes.
 * @param[in]  settings, setting_count  overrides, applied in order; NULL with 0.
 * @param[in]  diag          receives errors (up to 20 and a count) and warnings; may be NULL.
 * @param[out] kiln          owned by the caller; NULL on failure.
 * @retval DW_OK, DW_ERR_INPUT, DW_ERR_NOMEM, DW_ERR_ARG
 */
DW_MUST_CHECK
dw_status dw_case_read(const dw_engine *engine, const char *file, const char *text, size_t length,
                       const dw_setting *settings, size_t setting_count, dw_diag_list *diag,
                       dw_case **kiln);
void dw_case_destroy(dw_case *kiln);

/**
 * One operating point, written out.
 *
 * @param[out] text, text_length  the report, freed with dw_text_free(); NULL on failure other
 *                                than DW_ERR_NO_CONVERGE.
 * @retval DW_OK               solved.
 * @retval DW_ERR_NO_CONVERGE  not solved: text says why and holds no numbers of it.
 * @retval DW_ERR_ARG, DW_ERR_NOMEM, DW_ERR_BUG
 */
DW_MUST_CHECK
dw_status dw_case_estimate(const dw_engine *engine, const dw_case *kiln, dw_output output,
                           dw_diag_list *diag, char **text, size_t *text_length);

/** Many operating points along one or two quantities. Points without a solution stay in the
 *  table with the reason; DW_ERR_NO_CONVERGE only when no point at all was solved. */
DW_MUST_CHECK
dw_status dw_case_sweep(const dw_engine *engine, const dw_case *kiln, const dw_vary *vary,
                        size_t vary_count, dw_output output, dw_progress progress, void *user,
                        dw_diag_list *diag, char **text, size_t *text_length);

/** The resolved description with defaults marked, and warnings against rules of thumb. */
DW_MUST_CHECK
dw_status dw_case_check(const dw_engine *engine, const dw_case *kiln, dw_output output,
                        dw_diag_list *diag, char **text, size_t *text_length);

/** Every key that a kiln description may have: what is allowed, its default, one line of help. */
DW_MUST_CHECK
dw_status dw_keys_write(dw_output output, char **text, size_t *text_length);

/** Frees a text handed out by this library; NULL is allowed. */
void dw_text_free(char *text);

#ifdef __cplusplus
}
#endif

#endif

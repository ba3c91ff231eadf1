#ifndef DAMPERWISE_H
#define DAMPERWISE_H

/**
 * @file damperwise.h
 * The library: read a kiln, ask about it, get text, JSON, CSV or HTML.
 *
 * Layer: api. An engine holds the built-in data. It is read-only once it is created, and so is a
 * kiln case once it is read: any number of threads may share them. The library never prints, never
 * ends the process, follows no locale and has no global state; the only files it opens are those of
 * a config directory, when one is named. The caller frees every text with dw_text_free().
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

typedef enum dw_format {
    DW_FORMAT_TEXT,
    DW_FORMAT_JSON,
    DW_FORMAT_CSV,   /**< a text that a spreadsheet would take for a formula has a ' before it */
    DW_FORMAT_HTML   /**< one page that needs nothing else */
} dw_format;

/** Units of text, HTML and CSV output. JSON is always SI. */
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

/** Called now and then during long work: so many of all points are done. Return non-zero to stop. */
typedef int (*dw_progress)(void *user, size_t done, size_t total);

/** Takes the next piece of a long text, in order. Return non-zero to stop. For tables with so many
 *  rows that they should not be held: JSON and CSV then need no memory for the rows. */
typedef struct dw_sink {
    int (*take)(void *user, const char *piece, size_t length);
    void *user;
} dw_sink;

/** An option of a question. Strings are borrowed for the call. Of two with one name the last counts. */
typedef struct dw_option {
    const char *name;
    const char *value;   /**< NULL: as if it were not given                                  */
    size_t length;       /**< of a series, its bytes; else, and with 0, value ends at its NUL */
} dw_option;

/**
 * A question, and how it is asked. All is borrowed for the call; what is zero is not asked for.
 *
 *     name      kiln        what is answered
 *     estimate  yes         one operating point: atmosphere, draft, heat, hazards
 *     check     yes         every input and where it came from, and rules of thumb
 *     room      yes, with a room   carbon monoxide in the air, against limits and in the blood,
 *                           the pressure of the room, alarms, lighting and purging
 *     ladder    yes         equivalence ratio, CO, oxygen, probe volts and oxides side by side for
 *                           the kiln's fuel, air and temperature; HTML has a chart too
 *     oxides    yes or no   which oxides of iron, copper, manganese and nickel are stable, how much
 *                           of the iron in glazes is ferrous, what potters look for
 *     why       yes or no   what a term means, with the numbers of the kiln if there is one
 *     exposure  no          a person in air with carbon monoxide
 *     keys      no          every key that a description can have
 *
 * Options, as texts with their units, as on the command line:
 *
 *     oxides    glaze: name of a glaze in the data or a map of oxides by weight, `{SiO2: 66 %, ...}`;
 *               without it all glazes of the data. Without a kiln: at, a temperature ("1240 degC") or
 *               a range of them ("1250 degC..700 degC:50 degC", one row each); one of log_po2 (log10
 *               of the oxygen pressure in bar), co_co2, h2_h2o (ratios of the gas at equilibrium) and
 *               volts (bare cell, "0.61" or "610 mV"); of volts sensor, "zirconia" (as hot as the
 *               kiln) or "heated" (by itself) with sensor_temperature; fuel, a name of the data.
 *     why       term; without it all terms are listed.
 *     exposure  ppm and hours ("3", "45 min"; a bare number is hours), or series, the bytes of a CSV
 *               file with a column time_s, time_min, time_h or clock and a column ppm, and
 *               series_name, what messages call it; activity: rest, light or heavy, else the worst is
 *               assumed; height and mass of the person, together; sex: male or female; pressure of
 *               the air, else that at sea level; smoker, symptoms (somebody feels ill or an alarm
 *               sounded: what to do comes first): "yes" or "no".
 */
typedef struct dw_question {
    const char *name;
    const dw_option *option;
    size_t option_count;
    const dw_vary *vary;     /**< estimate, room, oxides: a row for each setting; the last moves fastest */
    size_t vary_count;       /**< at most 2                                                  */
    size_t at_point;         /**< of the rows, by vary or by a range of `at`, this one alone and in
                                  full; from 1; 0: all                                       */
    int working;             /**< all but why and keys: not the answer, but how each of its numbers
                                  is worked out, step by step: symbol, meaning, formula, the numbers
                                  put in, result, source. SI, with the answer's unit beside it */
    dw_progress progress;    /**< of rows; NULL: none                                        */
    void *user;              /**< handed to progress                                         */
    dw_sink sink;            /**< takes the text piece by piece; take NULL: it is handed over whole */
} dw_question;

/**
 * Loads the built-in data. A file of the same name in config_dir is used instead of a built-in one.
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
 * Looks for settings of dw_case_read() that change nothing in this kiln, such as an air pressure
 * where no burner takes air under pressure. A setting counts as long as it changes something at
 * one end of what is varied.
 *
 * @param[in] vary, vary_count  what the question will vary; NULL with 0. What is wrong with it is
 *                              not said here.
 * @param[in] diag              receives an error for each such setting; may be NULL.
 * @retval DW_OK, DW_ERR_INPUT, DW_ERR_NOMEM, DW_ERR_ARG
 */
DW_MUST_CHECK
dw_status dw_case_overrides(const dw_case *kiln, const dw_vary *vary, size_t vary_count,
                            dw_diag_list *diag);

/**
 * Answers a question in writing.
 *
 *     const dw_vary damper = {"damper", "20..60%:5%"};
 *     const dw_question question = {.name = "estimate", .vary = &damper, .vary_count = 1};
 *     char *text;
 *     size_t length;
 *     status = dw_ask(engine, kiln, &question, (dw_output){DW_FORMAT_CSV, DW_SHOW_METRIC}, diag,
 *                     &text, &length);
 *
 * A point without a solution keeps its row, with the reason. Text and HTML take at most 100,000 rows,
 * JSON and CSV ten million.
 *
 * @param[in]  kiln   NULL where a question needs none; exposure and keys do not look at it.
 * @param[in]  diag   receives what is found (hazards, warnings) and what is wrong; may be NULL.
 * @param[out] text, text_length  freed with dw_text_free(); NULL and 0 on failure other than
 *                    DW_ERR_NO_CONVERGE. With a sink they stay NULL and 0, and may be NULL.
 * @retval DW_OK               answered. A check is, whether or not the kiln is solved.
 * @retval DW_ERR_NO_CONVERGE  the kiln is not solved, or no row is: the text says why and holds no
 *                             numbers of it; of why, the words alone.
 * @retval DW_ERR_INPUT        the question, an option, a range or a point is wrong: diag says so, with
 *                             the nearest name of a misspelt one.
 * @retval DW_ERR_IO           the sink stopped: what it has is not complete.
 * @retval DW_ERR_ARG          a pointer that is needed is NULL, more than two quantities are varied,
 *                             or format is none.
 * @retval DW_ERR_NOMEM, DW_ERR_BUG
 */
DW_MUST_CHECK
dw_status dw_ask(const dw_engine *engine, const dw_case *kiln, const dw_question *question,
                 dw_output output, dw_diag_list *diag, char **text, size_t *text_length);

/**
 * One number of an answer, without any text.
 *
 *     double draft_pa;
 *     status = dw_ask_number(engine, kiln, &(dw_question){.name = "estimate"}, "draft_stack_base_pa",
 *                            diag, &draft_pa, NULL);
 *
 * @param[in]  question  of one point: with vary, at_point is needed. working must be 0.
 * @param[in]  key       path in the JSON of dw_ask(), items of lists counted from 0: "air_ratio",
 *                       "gas_dry.CO", "flows.2.mass_kg_s".
 * @param[out] value     in SI, as in the JSON but with all its digits; NaN on failure, and where the
 *                       number has no value at this setting: diag then has a note that says why.
 * @param[out] unit      "Pa", "K", "1" ..., "ppm" where JSON has ppm; static storage; "" on failure.
 *                       May be NULL.
 * @retval as dw_ask()
 * @retval DW_ERR_NO_CONVERGE  the kiln is not solved; diag says why.
 * @retval DW_ERR_INPUT        no number has this key; diag says which is near.
 */
DW_MUST_CHECK
dw_status dw_ask_number(const dw_engine *engine, const dw_case *kiln, const dw_question *question,
                        const char *key, dw_diag_list *diag, double *value, const char **unit);

/** Frees a text that came from this library; NULL is allowed. */
void dw_text_free(char *text);

#ifdef __cplusplus
}
#endif

#endif

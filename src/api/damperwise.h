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

/** Many operating points along one or two quantities, one row each. A point without a solution keeps
 *  its row, with the reason. DW_ERR_NO_CONVERGE means that no point at all was solved. Text and HTML
 *  take at most 100,000 rows (DW_ERR_INPUT, with a diagnostic). */
DW_MUST_CHECK
dw_status dw_case_sweep(const dw_engine *engine, const dw_case *kiln, const dw_vary *vary,
                        size_t vary_count, dw_output output, dw_progress progress, void *user,
                        dw_diag_list *diag, char **text, size_t *text_length);

/** The same, handed over piece by piece. After a failure the text is not complete.
 *  @retval as dw_case_sweep(), and DW_ERR_IO (the sink stopped) */
DW_MUST_CHECK
dw_status dw_case_sweep_to(const dw_engine *engine, const dw_case *kiln, const dw_vary *vary,
                           size_t vary_count, dw_output output, dw_progress progress, void *user,
                           dw_diag_list *diag, dw_sink sink);

/** Every input with where it came from, and the kiln compared with rules of thumb. */
DW_MUST_CHECK
dw_status dw_case_check(const dw_engine *engine, const dw_case *kiln, dw_output output,
                        dw_diag_list *diag, char **text, size_t *text_length);

/**
 * How each number of dw_case_estimate() is worked out, step by step: symbol, meaning, formula, the
 * numbers put in, result and source. Numbers are in SI, with the report's unit beside the result.
 *
 * Errors are those of dw_case_estimate(). A kiln that is not solved has no steps.
 */
DW_MUST_CHECK
dw_status dw_case_working(const dw_engine *engine, const dw_case *kiln, dw_output output,
                          dw_diag_list *diag, char **text, size_t *text_length);

/** The same for the ratios of dw_case_check(). @retval as dw_case_check() */
DW_MUST_CHECK
dw_status dw_case_check_working(const dw_engine *engine, const dw_case *kiln, dw_output output,
                                char **text, size_t *text_length);

/**
 * One point of a sweep as a case of its own.
 *
 * @param[in]  vary, vary_count  as for dw_case_sweep().
 * @param[in]  point             from 1, in the order of the sweep's rows.
 * @param[out] at                owned by the caller; NULL on failure.
 * @retval DW_OK, DW_ERR_INPUT (said in diag: a bad range, or no such point), DW_ERR_NOMEM, DW_ERR_ARG
 */
DW_MUST_CHECK
dw_status dw_case_at_point(const dw_engine *engine, const dw_case *kiln, const dw_vary *vary,
                           size_t vary_count, size_t point, dw_diag_list *diag, dw_case **at);

/**
 * What a term means in plain words, with the kiln's numbers when there is a kiln.
 *
 * @param[in] term  NULL: a list of all terms.
 * @param[in] kiln  NULL: no numbers.
 * @retval DW_OK, DW_ERR_ARG, DW_ERR_NOMEM
 * @retval DW_ERR_INPUT        no such term; diag says which is near.
 * @retval DW_ERR_NO_CONVERGE  the kiln is not solved: the words alone, diag says why.
 */
DW_MUST_CHECK
dw_status dw_why_write(const dw_engine *engine, const dw_case *kiln, const char *term,
                       dw_output output, dw_diag_list *diag, char **text, size_t *text_length);

/**
 * A kiln in its room (the description's `room`): carbon monoxide in the air, against limits and in the
 * blood, the room's pressure, alarms, lighting and purging.
 *
 * @retval DW_OK, DW_ERR_NO_CONVERGE (text says why), DW_ERR_INPUT (no room), DW_ERR_ARG,
 *         DW_ERR_NOMEM, DW_ERR_BUG
 */
DW_MUST_CHECK
dw_status dw_case_room(const dw_engine *engine, const dw_case *kiln, dw_output output,
                       dw_diag_list *diag, char **text, size_t *text_length);

/** How each number of dw_case_room() is worked out. Errors are the same; a room that is not solved
 *  has no steps. */
DW_MUST_CHECK
dw_status dw_case_room_working(const dw_engine *engine, const dw_case *kiln, dw_output output,
                               dw_diag_list *diag, char **text, size_t *text_length);

/** The same for many settings, one row each. */
DW_MUST_CHECK
dw_status dw_case_room_sweep(const dw_engine *engine, const dw_case *kiln, const dw_vary *vary,
                             size_t vary_count, dw_output output, dw_progress progress,
                             void *user, dw_diag_list *diag, char **text, size_t *text_length);

/** The same, handed over piece by piece. @retval as there, and DW_ERR_IO (the sink stopped) */
DW_MUST_CHECK
dw_status dw_case_room_sweep_to(const dw_engine *engine, const dw_case *kiln, const dw_vary *vary,
                                size_t vary_count, dw_output output, dw_progress progress,
                                void *user, dw_diag_list *diag, dw_sink sink);

/** A person in air with carbon monoxide, without a kiln. Texts are borrowed for the call; NULL
 *  where nothing is known. */
typedef struct dw_exposure_request {
    const char *ppm;          /**< "150"; NULL with a series                              */
    const char *hours;        /**< "3", "45 min"; a bare number is hours; NULL with a series */
    const char *activity;     /**< rest, light, heavy; NULL: the worst is assumed         */
    const char *height;       /**< "1.72 m"; together with the mass                       */
    const char *mass;         /**< "68 kg"                                                */
    const char *sex;          /**< male or female, for the volume of blood                */
    const char *pressure;     /**< air pressure, "84 kPa"; NULL: sea level                */
    int smoker;
    int symptoms;             /**< somebody feels ill or an alarm sounded: what to do comes first */
    const char *series_name;  /**< what messages call it                                  */
    const char *series;       /**< bytes of a CSV file: a column time_s, time_min, time_h or clock,
                                   and a column ppm                                        */
    size_t series_length;
} dw_exposure_request;

/** @retval DW_OK, DW_ERR_INPUT (said in diag), DW_ERR_ARG, DW_ERR_NOMEM */
DW_MUST_CHECK
dw_status dw_exposure_write(const dw_engine *engine, const dw_exposure_request *request,
                            dw_output output, dw_diag_list *diag, char **text,
                            size_t *text_length);

/** How each number of dw_exposure_write() is worked out. @retval as there */
DW_MUST_CHECK
dw_status dw_exposure_working(const dw_engine *engine, const dw_exposure_request *request,
                              dw_output output, dw_diag_list *diag, char **text,
                              size_t *text_length);

/**
 * What the gas means for the ware: which oxides of iron, copper, manganese and nickel are stable,
 * how much of the iron in glazes is ferrous, and what potters look for at this temperature.
 *
 * @param[in] glaze  name of a glaze in the data or a map of oxides by weight,
 *                   `{SiO2: 66 %, ...}`; NULL: all glazes of the data.
 * @retval DW_OK, DW_ERR_NO_CONVERGE (text says why), DW_ERR_INPUT (the glaze; diag says why),
 *         DW_ERR_ARG, DW_ERR_NOMEM, DW_ERR_BUG
 */
DW_MUST_CHECK
dw_status dw_case_oxides(const dw_engine *engine, const dw_case *kiln, const char *glaze,
                         dw_output output, dw_diag_list *diag, char **text, size_t *text_length);

/** The same for many settings, one row each. Without a glaze (NULL) there are no columns for one. */
DW_MUST_CHECK
dw_status dw_case_oxides_sweep(const dw_engine *engine, const dw_case *kiln, const dw_vary *vary,
                               size_t vary_count, const char *glaze, dw_output output,
                               dw_progress progress, void *user, dw_diag_list *diag, char **text,
                               size_t *text_length);

/** The same, handed over piece by piece. @retval as there, and DW_ERR_IO (the sink stopped) */
DW_MUST_CHECK
dw_status dw_case_oxides_sweep_to(const dw_engine *engine, const dw_case *kiln,
                                  const dw_vary *vary, size_t vary_count, const char *glaze,
                                  dw_output output, dw_progress progress, void *user,
                                  dw_diag_list *diag, dw_sink sink);

/** Ware in a known gas, without a kiln. Texts are borrowed for the call. Exactly one of log_po2,
 *  co_co2, volts and h2_h2o says how much oxygen there is; the others are NULL. */
typedef struct dw_oxides_request {
    const char *at;        /**< "1240 degC", or a range "1250 degC..700 degC:50 degC": one row each */
    const char *log_po2;   /**< "-8.2", log10 of the oxygen pressure in bar                      */
    const char *co_co2;    /**< "0.12", of the gas at equilibrium                                */
    const char *volts;     /**< "0.61" or "610 mV", bare cell against air at sea level; needs sensor */
    const char *h2_h2o;    /**< "0.1"                                                            */
    const char *glaze;     /**< as for dw_case_oxides()                                          */
    size_t at_point;       /**< of a range: this row alone, from 1; 0: all                       */
    const char *sensor;    /**< of volts: "zirconia", as hot as the kiln, or "heated", by itself  */
    const char *sensor_temperature;   /**< of a heated one: "700 degC"                            */
    const char *fuel;      /**< a name of config/fuels.yaml; NULL: the first there               */
} dw_oxides_request;

/** @retval DW_OK, DW_ERR_INPUT (said in diag), DW_ERR_ARG, DW_ERR_NOMEM */
DW_MUST_CHECK
dw_status dw_oxides_write(const dw_engine *engine, const dw_oxides_request *request,
                          dw_output output, dw_diag_list *diag, char **text, size_t *text_length);

/** The same, handed over piece by piece. @retval as there, and DW_ERR_IO (the sink stopped) */
DW_MUST_CHECK
dw_status dw_oxides_write_to(const dw_engine *engine, const dw_oxides_request *request,
                             dw_output output, dw_diag_list *diag, dw_sink sink);

/** How each number of dw_case_oxides() is worked out. Errors are the same; a kiln that is not
 *  solved has no steps. */
DW_MUST_CHECK
dw_status dw_case_oxides_working(const dw_engine *engine, const dw_case *kiln, const char *glaze,
                                 dw_output output, dw_diag_list *diag, char **text,
                                 size_t *text_length);

/** The same for dw_oxides_write(), for one temperature: a range needs at_point. @retval as there */
DW_MUST_CHECK
dw_status dw_oxides_working(const dw_engine *engine, const dw_oxides_request *request,
                            dw_output output, dw_diag_list *diag, char **text,
                            size_t *text_length);

/**
 * The reduction ladder for a kiln's fuel and air at its temperature: equivalence ratio, CO, oxygen,
 * probe volts and oxides side by side. HTML has a chart too.
 *
 * @retval DW_OK, DW_ERR_NO_CONVERGE (no ladder: text says why), DW_ERR_ARG, DW_ERR_NOMEM
 */
DW_MUST_CHECK
dw_status dw_case_ladder(const dw_engine *engine, const dw_case *kiln, dw_output output,
                         dw_diag_list *diag, char **text, size_t *text_length);

/** How each number of dw_case_ladder() is worked out, all rungs side by side. @retval as there */
DW_MUST_CHECK
dw_status dw_case_ladder_working(const dw_engine *engine, const dw_case *kiln, dw_output output,
                                 dw_diag_list *diag, char **text, size_t *text_length);

/** Every key that a kiln description can have: what is allowed, its default, one line of help. */
DW_MUST_CHECK
dw_status dw_keys_write(dw_output output, char **text, size_t *text_length);

/** The same with the fuels, linings and caps of an engine, which may have data files of its own. */
DW_MUST_CHECK
dw_status dw_engine_keys_write(const dw_engine *engine, dw_output output, char **text,
                               size_t *text_length);

/** Frees a text that came from this library; NULL is allowed. */
void dw_text_free(char *text);

#ifdef __cplusplus
}
#endif

#endif

#ifndef DW_OPTIONS_H
#define DW_OPTIONS_H

/**
 * @file options.h
 * The command line, read and checked.
 *
 * Layer: cli. Uses getopt_long and so its global state: called once, from main().
 */

#include <stdbool.h>
#include <stddef.h>

#include "damperwise.h"

/** Exit codes of the program. */
typedef enum dw_exit {
    DW_EXIT_OK = 0,
    DW_EXIT_USAGE = 2,
    DW_EXIT_INPUT = 3,       /**< also warnings with --strict                     */
    DW_EXIT_NOT_SOLVED = 4,
    DW_EXIT_INTERNAL = 5     /**< out of memory, a bug, or results not written    */
} dw_exit;

typedef enum dw_command {
    DW_COMMAND_ESTIMATE, DW_COMMAND_SWEEP, DW_COMMAND_CHECK, DW_COMMAND_ROOM,
    DW_COMMAND_EXPOSURE,
    DW_COMMAND_WHY,
    DW_COMMAND_OXIDES,
    DW_COMMAND_LADDER
} dw_command;

enum { DW_SWEEP_AXES = 2 };

typedef struct dw_options {
    dw_command command;
    const char *kiln;              /**< path, or "-"; NULL with keys                 */
    dw_setting *setting;           /**< owned; texts point into argv, changed there  */
    size_t setting_count;
    dw_vary vary[DW_SWEEP_AXES];
    size_t vary_count;
    dw_output show;
    const char *output;            /**< path; NULL: standard output                  */
    const char *config;            /**< directory; NULL: built-in data               */
    bool strict, keys;
    bool working;                  /**< show the steps instead of the report         */
    size_t at_point;               /**< sweep, room, oxides: this row alone; 0: all  */
    char term[80];                 /**< why: "" for the list of terms                */
    dw_exposure_request exposure;  /**< exposure; its series is read later           */
    const char *series;            /**< exposure: path of a CSV file; NULL           */
    dw_oxides_request oxides;      /**< oxides; only its glaze with a kiln           */
    const char *oxides_option;     /**< the first option given that only oxides has  */
    const char *exposure_option;   /**< the first option given that only exposure has */
} dw_options;

/** What to do after reading the command line. */
typedef enum dw_options_next { DW_NEXT_RUN, DW_NEXT_EXIT } dw_options_next;

/**
 * Reads the command line. Help and version go to standard output, what is wrong to standard error.
 *
 * @param[in]  argc, argv  of main(); argv is reordered, and `=` in --set and --vary is cut.
 * @param[out] options     freed with dw_options_free().
 * @param[out] code        exit code when the answer is DW_NEXT_EXIT.
 */
dw_options_next dw_options_read(int argc, char **argv, dw_options *options, dw_exit *code);

void dw_options_free(dw_options *options);

#endif

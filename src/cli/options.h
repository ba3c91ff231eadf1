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

#include "commands.h"
#include "damperwise.h"

/** Exit codes of the program. */
typedef enum dw_exit {
    DW_EXIT_OK = 0,
    DW_EXIT_USAGE = 2,
    DW_EXIT_INPUT = 3,       /**< also warnings with --strict                     */
    DW_EXIT_NOT_SOLVED = 4,
    DW_EXIT_INTERNAL = 5     /**< out of memory, a bug, or results not written    */
} dw_exit;

enum { DW_SWEEP_AXES = 2 };

typedef struct dw_options {
    const dw_cli_command *command;
    const char *kiln;              /**< path, or "-"; NULL: there is none            */
    dw_setting *setting;           /**< owned; texts point into argv, changed there  */
    size_t setting_count;
    dw_vary vary[DW_SWEEP_AXES];
    size_t vary_count;
    dw_option *asked;              /**< owned; options of the question, with room for three more */
    size_t asked_count;
    dw_output show;
    const char *output;            /**< path; NULL: standard output                  */
    const char *config;            /**< directory; NULL: built-in data               */
    bool strict, keys;
    bool working;                  /**< show the steps instead of the report         */
    size_t at_point;               /**< of rows this one alone; 0: all               */
    char term[80];                 /**< why: "" for the list of terms                */
    const char *series;            /**< exposure: path of a CSV file, read later; NULL */
    int given[DW_OPT_COUNT];       /**< every option that was given, once            */
    size_t given_count;
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

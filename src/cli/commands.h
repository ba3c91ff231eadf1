#ifndef DW_COMMANDS_H
#define DW_COMMANDS_H

/**
 * @file commands.h
 * The tables of options and commands: reading, the rules of what goes with what, and help all come from them.
 *
 * Layer: cli. Constant tables.
 */

#include <stdbool.h>

/** What giving an option does. */
typedef enum dw_apply {
    DW_APPLY_SET,       /**< PATH=VALUE changes the description                        */
    DW_APPLY_SETTING,   /**< the value changes the input named by key                  */
    DW_APPLY_VARY,
    DW_APPLY_FORMAT,
    DW_APPLY_UNITS,
    DW_APPLY_OUTPUT,
    DW_APPLY_CONFIG,
    DW_APPLY_STRICT,
    DW_APPLY_KEYS,
    DW_APPLY_WORKING,
    DW_APPLY_AT_POINT,
    DW_APPLY_ASKED,     /**< the value, "yes" where there is none, is the question's option key */
    DW_APPLY_SERIES,
    DW_APPLY_HELP,
    DW_APPLY_VERSION
} dw_apply;

/** What an option makes no sense without. */
typedef enum dw_needs { DW_NEEDS_NOTHING, DW_NEEDS_KILN, DW_NEEDS_AT } dw_needs;

typedef struct dw_cli_option {
    const char *name;       /**< without its hyphens                                    */
    const char *argument;   /**< what help calls its value; NULL: it takes none         */
    dw_apply apply;
    const char *key;
    dw_needs needs;
    const char *help;       /**< lines                                                  */
} dw_cli_option;

/** Options by their place in the table. */
enum {
    DW_OPT_SET, DW_OPT_DAMPER, DW_OPT_GAS_PRESSURE, DW_OPT_AIR_PRESSURE, DW_OPT_TEMPERATURE, DW_OPT_VARY,
    DW_OPT_FORMAT, DW_OPT_UNITS, DW_OPT_OUTPUT, DW_OPT_CONFIG, DW_OPT_STRICT, DW_OPT_KEYS, DW_OPT_WORKING,
    DW_OPT_AT_POINT, DW_OPT_PPM, DW_OPT_HOURS, DW_OPT_ACTIVITY, DW_OPT_HEIGHT, DW_OPT_MASS, DW_OPT_SEX,
    DW_OPT_PRESSURE, DW_OPT_SERIES, DW_OPT_SMOKER, DW_OPT_SYMPTOMS, DW_OPT_AT, DW_OPT_LOG_PO2,
    DW_OPT_CO_CO2, DW_OPT_VOLTS, DW_OPT_H2_H2O, DW_OPT_GLAZE, DW_OPT_SENSOR, DW_OPT_SENSOR_TEMPERATURE,
    DW_OPT_FUEL, DW_OPT_HELP, DW_OPT_VERSION,
    DW_OPT_COUNT,
    DW_OPT_LINE,            /**< in a command's list: a line of help that is no option  */
    DW_OPT_END              /**< closes a command's list                                */
};

extern const dw_cli_option dw_cli_options[DW_OPT_COUNT];

/** An option in the list of a command, in the order of its help. */
typedef struct dw_cli_taken {
    int option;
    int indent;             /**< further in by so many columns                          */
    const char *left;       /**< in place of name and argument; "": taken, not shown    */
    const char *text;       /**< in place of the option's help                          */
} dw_cli_taken;

/** The words after a command. */
typedef enum dw_cli_words { DW_WORDS_KILN, DW_WORDS_NONE, DW_WORDS_TERM } dw_cli_words;

typedef struct dw_cli_command {
    const char *name;
    const char *summary;          /**< a line in the list of commands                         */
    const char *question;         /**< what it asks the library                               */
    dw_cli_words words;
    bool needs_vary;
    bool tells_findings;          /**< its text has what diagnostics say of a point           */
    const dw_cli_taken *taken;    /**< the options that it takes                              */
    const char *usage;            /**< first lines of its help                                */
    const char *examples;
    const char *end;              /**< last words of its help; NULL: none                     */
} dw_cli_command;

enum { DW_COMMAND_COUNT = 8 };
extern const dw_cli_command dw_cli_commands[DW_COMMAND_COUNT];

/** Help of the program; examples are none, and the commands are listed before the options. */
extern const dw_cli_command dw_cli_program;

/** True when the option is in the list of the command. */
bool dw_cli_takes(const dw_cli_command *command, int option);

/** Index of the command of that name; -1, and that has been said, when there is none. */
int dw_cli_command_find(const char *name);

#endif

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
    DW_APPLY_VARY, DW_APPLY_FORMAT, DW_APPLY_UNITS, DW_APPLY_OUTPUT, DW_APPLY_CONFIG, DW_APPLY_STRICT,
    DW_APPLY_KEYS, DW_APPLY_WORKING, DW_APPLY_AT_POINT, DW_APPLY_SERIES, DW_APPLY_HELP, DW_APPLY_VERSION,
    DW_APPLY_ASKED,     /**< the value, "yes" where there is none, is the question's option key */
    DW_APPLY_GAS        /**< the same, and only of a gas without a kiln                */
} dw_apply;

typedef struct dw_cli_option {
    const char *name;       /**< without its hyphens                                    */
    const char *argument;   /**< what help calls its value; NULL: it takes none         */
    dw_apply apply;
    const char *key;
    const char *help;       /**< lines                                                  */
} dw_cli_option;

/** All options: id, name, argument, apply, key, help. */
#define DW_CLI_OPTIONS(X)                                                                                         \
    X(SET, "set", "PATH=VALUE", SET, NULL, "change one input of the description; can be repeated")                \
    X(DAMPER, "damper", "SHARE", SETTING, "damper", "set every damper to this opening, such as 35%")              \
    X(GAS_PRESSURE, "gas-pressure", "P", SETTING, "gas_pressure",                                                 \
      "gas pressure at the jets, such as '2.5 kPa' or '10 inH2O'")                                                \
    X(AIR_PRESSURE, "air-pressure", "P", SETTING, "air_pressure", "air pressure at blown burners and air jets")   \
    X(TEMPERATURE, "temperature", "T", SETTING, "temperature",                                                    \
      "thermocouple reading, such as '1180 degC' or '2150 degF'")                                                 \
    X(VARY, "vary", "PATH=RANGE", VARY, NULL, "the input to vary and its values; once or twice")                  \
    X(FORMAT, "format", "FORMAT", FORMAT, NULL, "text (default), json, csv or html; json is in SI units")         \
    X(UNITS, "units", "SYSTEM", UNITS, NULL, "metric (default) or us, for text, html and csv")                    \
    X(OUTPUT, "output", "FILE", OUTPUT, NULL, "write the results to FILE instead of to standard output")          \
    X(CONFIG, "config", "DIR", CONFIG, NULL, "use the data files in DIR instead of the built-in ones")            \
    X(STRICT, "strict", NULL, STRICT, NULL, "exit with code 3 when there are warnings")                           \
    X(KEYS, "keys", NULL, KEYS, NULL, "list every key that a description can have")                               \
    X(WORKING, "working", NULL, WORKING, NULL, "show how each number is worked out: formula, inputs, source")     \
    X(AT_POINT, "at-point", "N", AT_POINT, NULL, "show only row N, in full")                                      \
    X(PPM, "ppm", "P", ASKED, "ppm", "carbon monoxide in the air, parts per million")                             \
    X(HOURS, "hours", "H", ASKED, "hours", "for how long; a number without a unit is hours, or '45 min'")         \
    X(ACTIVITY, "activity", "WORD", ASKED, "activity",                                                            \
      "rest, light or heavy (work); the worst is assumed if not given")                                           \
    X(HEIGHT, "height", "H", ASKED, "height", "size of the person, such as '1.62 m' and '58 kg'")                 \
    X(MASS, "mass", "M", ASKED, "mass", "")                                                                       \
    X(SEX, "sex", "WORD", ASKED, "sex", "male or female, for the volume of blood")                                \
    X(PRESSURE, "pressure", "P", ASKED, "pressure", "air pressure at the place; sea level if not given")          \
    X(SERIES, "series", "FILE.csv", SERIES, NULL,                                                                 \
      "a recorded series: a column time_min (or time_s, time_h, clock)\n"                                         \
      "and a column ppm")                                                                                         \
    X(SMOKER, "smoker", NULL, ASKED, "smoker", "the person smokes")                                               \
    X(SYMPTOMS, "symptoms", NULL, ASKED, "symptoms",                                                              \
      "somebody feels ill or an alarm sounded: what to do comes first")                                           \
    X(AT, "at", "T", ASKED, "at", "without a kiln: a temperature, or a range with one row each")                  \
    X(LOG_PO2, "log-po2", "X", GAS, "log_po2", "log10 of the oxygen pressure in bar (air: -0.68)")                \
    X(CO_CO2, "co-co2", "R", GAS, "co_co2", "CO/CO2 of the gas")                                                  \
    X(VOLTS, "volts", "V", GAS, "volts",                                                                          \
      "volts at the wires of an oxygen sensor, not of its controller,\n"                                          \
      "together with")                                                                                            \
    X(H2_H2O, "h2-h2o", "R", GAS, "h2_h2o", "H2/H2O of the gas")                                                  \
    X(GLAZE, "glaze", "GLAZE", ASKED, "glaze", "a glaze of config/glazes.yaml, or its oxides by weight")          \
    X(SENSOR, "sensor", "KIND", GAS, "sensor",                                                                    \
      "zirconia: a probe as hot as the kiln, with air on its other side;\n"                                       \
      "heated: a sensor that heats itself, such as a car's, with")                                                \
    X(SENSOR_TEMPERATURE, "sensor-temperature", "T", GAS, "sensor_temperature",                                   \
      "its temperature, from the data sheet")                                                                     \
    X(FUEL, "fuel", "NAME", GAS, "fuel", "with --at: the fuel, by its name in config/fuels.yaml")                 \
    X(HELP, "help", NULL, HELP, NULL, "show this help")                                                           \
    X(VERSION, "version", NULL, VERSION, NULL, "show the version")

#define DW_CLI_ID(id, name, argument, apply, key, help) DW_OPT_##id,
enum {
    DW_CLI_OPTIONS(DW_CLI_ID)
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

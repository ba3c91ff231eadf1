#include "options.h"

#include <getopt.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "nearest.h"
#include "option_rules.h"
#include "say.h"
#include "usage.h"
#include "words.h"

enum {
    OPT_SET = 256,
    OPT_DAMPER,
    OPT_GAS_PRESSURE,
    OPT_AIR_PRESSURE,
    OPT_TEMPERATURE,
    OPT_VARY,
    OPT_FORMAT,
    OPT_UNITS,
    OPT_OUTPUT,
    OPT_CONFIG,
    OPT_STRICT,
    OPT_KEYS,
    OPT_WORKING,
    OPT_AT_POINT,
    OPT_PPM,
    OPT_HOURS,
    OPT_ACTIVITY,
    OPT_HEIGHT,
    OPT_MASS,
    OPT_SEX,
    OPT_PRESSURE,
    OPT_SERIES,
    OPT_SMOKER,
    OPT_SYMPTOMS,
    OPT_AT,
    OPT_LOG_PO2,
    OPT_CO_CO2,
    OPT_VOLTS,
    OPT_H2_H2O,
    OPT_GLAZE,
    OPT_HELP,
    OPT_VERSION
};

static const struct option long_options[] = {
    {"set", required_argument, NULL, OPT_SET},
    {"damper", required_argument, NULL, OPT_DAMPER},
    {"gas-pressure", required_argument, NULL, OPT_GAS_PRESSURE},
    {"air-pressure", required_argument, NULL, OPT_AIR_PRESSURE},
    {"temperature", required_argument, NULL, OPT_TEMPERATURE},
    {"vary", required_argument, NULL, OPT_VARY},
    {"format", required_argument, NULL, OPT_FORMAT},
    {"units", required_argument, NULL, OPT_UNITS},
    {"output", required_argument, NULL, OPT_OUTPUT},
    {"config", required_argument, NULL, OPT_CONFIG},
    {"strict", no_argument, NULL, OPT_STRICT},
    {"keys", no_argument, NULL, OPT_KEYS},
    {"working", no_argument, NULL, OPT_WORKING},
    {"at-point", required_argument, NULL, OPT_AT_POINT},
    {"ppm", required_argument, NULL, OPT_PPM},
    {"hours", required_argument, NULL, OPT_HOURS},
    {"activity", required_argument, NULL, OPT_ACTIVITY},
    {"height", required_argument, NULL, OPT_HEIGHT},
    {"mass", required_argument, NULL, OPT_MASS},
    {"sex", required_argument, NULL, OPT_SEX},
    {"pressure", required_argument, NULL, OPT_PRESSURE},
    {"series", required_argument, NULL, OPT_SERIES},
    {"smoker", no_argument, NULL, OPT_SMOKER},
    {"symptoms", no_argument, NULL, OPT_SYMPTOMS},
    {"at", required_argument, NULL, OPT_AT},
    {"log-po2", required_argument, NULL, OPT_LOG_PO2},
    {"co-co2", required_argument, NULL, OPT_CO_CO2},
    {"volts", required_argument, NULL, OPT_VOLTS},
    {"h2-h2o", required_argument, NULL, OPT_H2_H2O},
    {"glaze", required_argument, NULL, OPT_GLAZE},
    {"help", no_argument, NULL, OPT_HELP},
    {"version", no_argument, NULL, OPT_VERSION},
    {NULL, 0, NULL, 0}};

enum { OPTION_COUNT = sizeof long_options / sizeof long_options[0] - 1 };

/* In the order of their enums. */
static const char *const formats[] = {"text", "json", "csv", "html", NULL};
static const char *const systems[] = {"metric", "us", NULL};

/* Cuts `path=value` in two. */
static bool split(const char *option, char *text, const char **path, const char **value)
{
    char *equals = strchr(text, '=');
    if (equals == NULL || equals == text || equals[1] == '\0') {
        const bool vary = strcmp(option, "--vary") == 0;
        dw_say("%s needs PATH=%s, such as %s, but was given '%s'", option,
               vary ? "RANGE" : "VALUE", vary ? "damper=0..100%:5%" : "damper=35%", text);
        return false;
    }
    *equals = '\0';
    *path = text;
    *value = equals + 1;
    return true;
}

static void add_setting(dw_options *o, const char *path, const char *value)
{
    o->setting[o->setting_count++] = (dw_setting){path, value};
}

static bool add_vary(dw_options *o, char *text)
{
    if (o->vary_count == DW_SWEEP_AXES) {
        dw_say("--vary can be given once or twice, not more often");
        return false;
    }
    dw_vary *vary = &o->vary[o->vary_count];
    if (!split("--vary", text, &vary->path, &vary->range)) return false;
    ++o->vary_count;
    return true;
}

static bool take_path(const char *option, const char *text, const char **path)
{
    *path = text;
    if (text[0] != '\0') return true;
    dw_say("%s needs a name, and the one given is empty", option);
    return false;
}

/* Options that only exposure has. */
static bool take_exposure_option(dw_options *o, int option)
{
    static const struct {
        int option;
        const char *name;
    } names[] = {{OPT_PPM, "--ppm"},           {OPT_HOURS, "--hours"},
                 {OPT_ACTIVITY, "--activity"}, {OPT_HEIGHT, "--height"},
                 {OPT_MASS, "--mass"},         {OPT_SEX, "--sex"},
                 {OPT_PRESSURE, "--pressure"}, {OPT_SERIES, "--series"},
                 {OPT_SMOKER, "--smoker"},     {OPT_SYMPTOMS, "--symptoms"}};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; ++i) {
        if (names[i].option == option && o->exposure_option == NULL) {
            o->exposure_option = names[i].name;
        }
    }
    switch (option) {
    case OPT_PPM: o->exposure.ppm = optarg; break;
    case OPT_HOURS: o->exposure.hours = optarg; break;
    case OPT_ACTIVITY: o->exposure.activity = optarg; break;
    case OPT_HEIGHT: o->exposure.height = optarg; break;
    case OPT_MASS: o->exposure.mass = optarg; break;
    case OPT_SEX: o->exposure.sex = optarg; break;
    case OPT_PRESSURE: o->exposure.pressure = optarg; break;
    case OPT_SMOKER: o->exposure.smoker = 1; break;
    case OPT_SYMPTOMS: o->exposure.symptoms = 1; break;
    case OPT_SERIES: return take_path("--series", optarg, &o->series);
    default: break;
    }
    return true;
}

/* Options that only oxides has. */
static bool take_oxides_option(dw_options *o, int option)
{
    static const struct {
        int option;
        const char *name;
    } names[] = {{OPT_AT, "--at"},       {OPT_LOG_PO2, "--log-po2"}, {OPT_CO_CO2, "--co-co2"},
                 {OPT_VOLTS, "--volts"}, {OPT_H2_H2O, "--h2-h2o"},   {OPT_GLAZE, "--glaze"}};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; ++i) {
        if (names[i].option == option && o->oxides_option == NULL) {
            o->oxides_option = names[i].name;
        }
    }
    switch (option) {
    case OPT_AT: o->oxides.at = optarg; break;
    case OPT_LOG_PO2: o->oxides.log_po2 = optarg; break;
    case OPT_CO_CO2: o->oxides.co_co2 = optarg; break;
    case OPT_VOLTS: o->oxides.volts = optarg; break;
    case OPT_H2_H2O: o->oxides.h2_h2o = optarg; break;
    default: o->oxides.glaze = optarg; break;
    }
    return true;
}

static bool take_point(dw_options *o, const char *text)
{
    const size_t length = strlen(text);
    if (length > 0 && length < 9 && strspn(text, "0123456789") == length) {
        o->at_point = (size_t)strtoul(text, NULL, 10);
    }
    if (o->at_point > 0) return true;
    dw_say("--at-point needs the number of a row, from 1, but was given '%s'", text);
    return false;
}

/* One option. False when it is wrong and that has been said. */
static bool take_option(dw_options *o, int option)
{
    const char *path, *value;
    int index;
    switch (option) {
    case OPT_SET:
        if (!split("--set", optarg, &path, &value)) return false;
        add_setting(o, path, value);
        return true;
    case OPT_DAMPER: add_setting(o, "damper", optarg); return true;
    case OPT_GAS_PRESSURE: add_setting(o, "gas_pressure", optarg); return true;
    case OPT_AIR_PRESSURE: add_setting(o, "air_pressure", optarg); return true;
    case OPT_TEMPERATURE: add_setting(o, "temperature", optarg); return true;
    case OPT_VARY: return add_vary(o, optarg);
    case OPT_FORMAT:
        if (!dw_word_choose("format", optarg, formats, &index)) return false;
        o->show.format = (dw_format)index;
        return true;
    case OPT_UNITS:
        if (!dw_word_choose("system of units", optarg, systems, &index)) return false;
        o->show.units = (dw_units)index;
        return true;
    case OPT_OUTPUT: return take_path("--output", optarg, &o->output);
    case OPT_CONFIG: return take_path("--config", optarg, &o->config);
    case OPT_STRICT: o->strict = true; return true;
    case OPT_KEYS: o->keys = true; return true;
    case OPT_WORKING: o->working = true; return true;
    case OPT_AT_POINT: return take_point(o, optarg);
    case OPT_AT:
    case OPT_LOG_PO2:
    case OPT_CO_CO2:
    case OPT_VOLTS:
    case OPT_H2_H2O:
    case OPT_GLAZE: return take_oxides_option(o, option);
    default: return take_exposure_option(o, option);
    }
}

/* The word with a single hyphen that getopt_long() takes for a row of letters. It stays at that word until the last
 * letter is read. */
static const char *short_word(char **argv)
{
    const char *last = argv[optind - 1];
    const bool whole = last[0] == '-' && last[1] == optopt && last[2] == '\0';
    return whole ? last : argv[optind];
}

static void say_short_option(const char *text, const char *const *names)
{
    char word[40];
    (void)snprintf(word, sizeof word, "%.*s", (int)strcspn(text + 1, "="), text + 1);
    const char *near = dw_nearest_word(word, names, OPTION_COUNT);
    if (near != NULL) {
        dw_say("unknown option '%s', did you mean '--%s', with two hyphens?", text, near);
        return;
    }
    dw_say("unknown option '%s'; options begin with two hyphens and a whole word, such as --damper",
           text);
}

/* getopt_long() answered '?' or ':'. */
static void say_bad_option(int answer, char **argv)
{
    const char *text = argv[optind - 1];
    if (answer == ':') {
        dw_say("option '%s' needs a value", text);
        return;
    }
    const char *names[OPTION_COUNT + 1] = {NULL};
    for (size_t i = 0; i < OPTION_COUNT; ++i) names[i] = long_options[i].name;
    if (optopt > 0 && optopt < OPT_SET) {
        say_short_option(short_word(argv), names);
        return;
    }
    char word[40];
    (void)snprintf(word, sizeof word, "%.*s", (int)strcspn(text + 2, "="), text + 2);
    if (dw_word_index(word, names) >= 0) {
        dw_say("option '--%s' takes no value", word);
    } else {
        dw_word_unknown("option", word, names, "--");
    }
}

static dw_options_next finish(dw_exit *code, dw_exit value)
{
    if (value == DW_EXIT_USAGE) (void)fputs("Try 'damperwise --help'.\n", stderr);
    *code = value;
    return DW_NEXT_EXIT;
}

static dw_options_next show(dw_exit *code, const char *first, const char *second)
{
    const bool written = fputs(first, stdout) >= 0 && fputs(second, stdout) >= 0 &&
                         fflush(stdout) == 0;
    if (!written) perror("damperwise: cannot write to standard output");
    return finish(code, written ? DW_EXIT_OK : DW_EXIT_INTERNAL);
}

dw_options_next dw_options_read(int argc, char **argv, dw_options *options, dw_exit *code)
{
    *options = (dw_options){.setting_count = 0};
    /* No more settings than words. */
    options->setting = calloc((size_t)argc + 1, sizeof *options->setting);
    if (options->setting == NULL) {
        dw_say("out of memory");
        return finish(code, DW_EXIT_INTERNAL);
    }
    bool help = false, version = false;
    opterr = 0;
    for (;;) {
        const int option = getopt_long(argc, argv, ":", long_options, NULL);
        if (option == -1) break;
        if (option == '?' || option == ':') {
            say_bad_option(option, argv);
            return finish(code, DW_EXIT_USAGE);
        }
        help = help || option == OPT_HELP;
        version = version || option == OPT_VERSION;
        if (!take_option(options, option)) return finish(code, DW_EXIT_USAGE);
    }
    if (help) {
        if (optind == argc) return show(code, dw_usage_general, "");
        int index;
        if (!dw_word_choose("command", argv[optind], dw_command_names, &index)) {
            return finish(code, DW_EXIT_USAGE);
        }
        return show(code, dw_usage_command[index], "");
    }
    if (version) {
        char first[80];
        (void)snprintf(first, sizeof first, "damperwise %s\n", dw_version());
        return show(code, first, dw_usage_licence);
    }
    if (!dw_options_words(options, argc - optind, argv + optind)) return finish(code, DW_EXIT_USAGE);
    return DW_NEXT_RUN;
}

void dw_options_free(dw_options *options)
{
    free(options->setting);
    *options = (dw_options){.setting_count = 0};
}

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

/* What getopt_long() calls the options of the table; below are its letters. */
enum { FIRST_OPTION = 256 };

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

static bool add_setting(dw_options *o, const char *path, const char *value)
{
    o->setting[o->setting_count++] = (dw_setting){path, value};
    return true;
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

static void note_given(dw_options *o, int option)
{
    for (size_t i = 0; i < o->given_count; ++i) {
        if (o->given[i] == option) return;
    }
    o->given[o->given_count++] = option;
}

/* One option. False when it is wrong and that has been said. */
static bool take_option(dw_options *o, int index)
{
    const dw_cli_option *option = &dw_cli_options[index];
    const char *path, *value;
    int word;
    note_given(o, index);
    switch (option->apply) {
    case DW_APPLY_SET: return split("--set", optarg, &path, &value) && add_setting(o, path, value);
    case DW_APPLY_SETTING: return add_setting(o, option->key, optarg);
    case DW_APPLY_VARY: return add_vary(o, optarg);
    case DW_APPLY_FORMAT:
        if (!dw_word_choose("format", optarg, formats, &word)) return false;
        o->show.format = (dw_format)word;
        return true;
    case DW_APPLY_UNITS:
        if (!dw_word_choose("system of units", optarg, systems, &word)) return false;
        o->show.units = (dw_units)word;
        return true;
    case DW_APPLY_OUTPUT: return take_path("--output", optarg, &o->output);
    case DW_APPLY_CONFIG: return take_path("--config", optarg, &o->config);
    case DW_APPLY_STRICT: o->strict = true; return true;
    case DW_APPLY_KEYS: o->keys = true; return true;
    case DW_APPLY_WORKING: o->working = true; return true;
    case DW_APPLY_AT_POINT: return take_point(o, optarg);
    case DW_APPLY_SERIES: return take_path("--series", optarg, &o->series);
    case DW_APPLY_ASKED:
    case DW_APPLY_GAS:
        o->asked[o->asked_count++] = (dw_option){
            .name = option->key, .value = option->argument != NULL ? optarg : "yes"};
        return true;
    case DW_APPLY_HELP:
    case DW_APPLY_VERSION: break;
    }
    return true;
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
    const char *near = dw_nearest_word(word, names, DW_OPT_COUNT);
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
    const char *names[DW_OPT_COUNT + 1] = {NULL};
    for (size_t i = 0; i < DW_OPT_COUNT; ++i) names[i] = dw_cli_options[i].name;
    if (optopt > 0 && optopt < FIRST_OPTION) {
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

/* After a text has been written to standard output. */
static dw_options_next finish_shown(dw_exit *code)
{
    const bool written = fflush(stdout) == 0 && ferror(stdout) == 0;
    if (!written) perror("damperwise: cannot write to standard output");
    return finish(code, written ? DW_EXIT_OK : DW_EXIT_INTERNAL);
}

/* Help of the first command of the words, or of the program. */
static dw_options_next show_help(int count, char **words, dw_exit *code)
{
    const int index = count > 0 ? dw_cli_command_find(words[0]) : 0;
    if (index < 0) return finish(code, DW_EXIT_USAGE);
    dw_usage_show(count > 0 ? &dw_cli_commands[index] : &dw_cli_program);
    return finish_shown(code);
}

static bool allocate(dw_options *o, int argc)
{
    /* No more of either than words. */
    o->setting = calloc((size_t)argc + 1, sizeof *o->setting);
    o->asked = calloc((size_t)argc + 3, sizeof *o->asked);
    return o->setting != NULL && o->asked != NULL;
}

dw_options_next dw_options_read(int argc, char **argv, dw_options *options, dw_exit *code)
{
    *options = (dw_options){.setting_count = 0};
    if (!allocate(options, argc)) {
        dw_say("out of memory");
        return finish(code, DW_EXIT_INTERNAL);
    }
    struct option long_options[DW_OPT_COUNT + 1] = {{NULL, 0, NULL, 0}};
    for (int i = 0; i < DW_OPT_COUNT; ++i) {
        const dw_cli_option *o = &dw_cli_options[i];
        long_options[i] = (struct option){
            o->name, o->argument != NULL ? required_argument : no_argument, NULL, FIRST_OPTION + i};
    }
    bool help = false, version = false;
    opterr = 0;
    for (;;) {
        const int option = getopt_long(argc, argv, ":", long_options, NULL);
        if (option == -1) break;
        if (option < FIRST_OPTION) {
            say_bad_option(option, argv);
            return finish(code, DW_EXIT_USAGE);
        }
        help = help || option == FIRST_OPTION + DW_OPT_HELP;
        version = version || option == FIRST_OPTION + DW_OPT_VERSION;
        if (!take_option(options, option - FIRST_OPTION)) return finish(code, DW_EXIT_USAGE);
    }
    if (help) return show_help(argc - optind, argv + optind, code);
    if (version) {
        dw_usage_version();
        return finish_shown(code);
    }
    if (!dw_options_words(options, argc - optind, argv + optind)) return finish(code, DW_EXIT_USAGE);
    return DW_NEXT_RUN;
}

void dw_options_free(dw_options *options)
{
    free(options->setting);
    free(options->asked);
    *options = (dw_options){.setting_count = 0};
}

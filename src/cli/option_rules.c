#include "option_rules.h"

#include <stdio.h>
#include <string.h>

#include "words.h"

const char *const dw_command_names[] = {"estimate", "sweep", "check",  "room", "exposure",
                                        "why",      "oxides", "ladder", NULL};

/* oxides either has a kiln or is told temperature and oxygen. */
static bool check_oxides(const dw_options *o, const char *command, int word_count)
{
    if (o->command != DW_COMMAND_OXIDES) {
        if (o->oxides_option == NULL) return true;
        (void)fprintf(stderr, "damperwise: %s belongs to oxides, not to %s\n", o->oxides_option,
                      command);
        return false;
    }
    const bool oxygen_given = o->oxides.log_po2 != NULL || o->oxides.co_co2 != NULL ||
                              o->oxides.volts != NULL || o->oxides.h2_h2o != NULL ||
                              o->oxides.sensor != NULL || o->oxides.sensor_temperature != NULL ||
                              o->oxides.fuel != NULL;
    if (o->oxides.at == NULL) {
        if (!oxygen_given) return true;
        (void)fputs("damperwise: --log-po2, --co-co2, --volts, --h2-h2o, --sensor, --sensor-temperature "
                    "and --fuel go with --at TEMPERATURE, without a kiln\n", stderr);
        return false;
    }
    if (word_count > 1 || o->setting_count > 0 || o->vary_count > 0) {
        (void)fputs("damperwise: oxides --at takes no description and no settings of one\n", stderr);
        return false;
    }
    return true;
}

/* --at-point with the commands that have rows. */
static bool check_point(const dw_options *o, const char *command)
{
    if (o->at_point == 0) return true;
    if (o->command != DW_COMMAND_SWEEP && o->command != DW_COMMAND_ROOM &&
        o->command != DW_COMMAND_OXIDES) {
        (void)fprintf(stderr,
                      "damperwise: --at-point belongs to sweep, room and oxides, not to %s\n",
                      command);
        return false;
    }
    if (o->command == DW_COMMAND_SWEEP || o->vary_count > 0 || o->oxides.at != NULL) return true;
    (void)fprintf(stderr, "damperwise: %s --at-point needs --vary PATH=RANGE: one row for each "
                          "setting\n", command);
    return false;
}

/* --working with the commands it belongs to, and of one row. */
static bool check_working(const dw_options *o, const char *command)
{
    if (!o->working) return true;
    if ((o->command == DW_COMMAND_SWEEP || o->vary_count > 0) && o->at_point == 0) {
        (void)fprintf(stderr, "damperwise: %s --working needs --at-point N, the row to show the "
                              "working of\n", command);
        return false;
    }
    if (o->keys || o->command == DW_COMMAND_WHY) {
        (void)fprintf(stderr,
                      "damperwise: --working belongs to estimate, sweep, check, room, exposure, "
                      "oxides and ladder, not to %s\n", o->keys ? "--keys" : command);
        return false;
    }
    return true;
}

static bool is_file(const char *word)
{
    return strcmp(word, "-") == 0 || strchr(word, '/') != NULL || strchr(word, '.') != NULL;
}

/* A term of any number of words, then perhaps a description. */
static bool take_why_words(dw_options *o, int count, char **words)
{
    if (count > 0 && is_file(words[count - 1])) o->kiln = words[--count];
    size_t used = 0;
    for (int i = 0; i < count; ++i) {
        const size_t length = strlen(words[i]);
        if (used + length + 2 > sizeof o->term) {
            (void)fputs("damperwise: that is too long for a term\n", stderr);
            return false;
        }
        if (i > 0) o->term[used++] = ' ';
        memcpy(o->term + used, words[i], length + 1);
        used += length;
    }
    if (o->kiln == NULL && o->setting_count > 0) {
        (void)fputs("damperwise: settings need a kiln description\n", stderr);
        return false;
    }
    return true;
}

bool dw_options_words(dw_options *o, int count, char **words)
{
    if (count == 0) {
        (void)fputs("damperwise: a command is missing; allowed: estimate, sweep, check, room, "
                    "exposure, why, oxides, ladder\n", stderr);
        return false;
    }
    int index;
    if (!dw_word_choose("command", words[0], dw_command_names, &index)) return false;
    o->command = (dw_command)index;
    const char *command = dw_command_names[index];
    if (o->vary_count > 0 && o->command != DW_COMMAND_SWEEP && o->command != DW_COMMAND_ROOM &&
        o->command != DW_COMMAND_OXIDES) {
        (void)fprintf(stderr, "damperwise: --vary belongs to sweep, room and oxides, not to %s\n",
                      command);
        return false;
    }
    if (o->keys && o->command != DW_COMMAND_CHECK) {
        (void)fprintf(stderr, "damperwise: --keys belongs to check, not to %s\n", command);
        return false;
    }
    if (o->exposure_option != NULL && o->command != DW_COMMAND_EXPOSURE) {
        (void)fprintf(stderr, "damperwise: %s belongs to exposure, not to %s\n",
                      o->exposure_option, command);
        return false;
    }
    if (o->command == DW_COMMAND_EXPOSURE && o->setting_count > 0) {
        (void)fputs("damperwise: exposure has no kiln; it takes no settings of one\n", stderr);
        return false;
    }
    if (!check_point(o, command) || !check_working(o, command)) return false;
    if (!check_oxides(o, command, count)) return false;
    if (o->command == DW_COMMAND_WHY) return take_why_words(o, count - 1, words + 1);
    const bool alone = o->keys || o->command == DW_COMMAND_EXPOSURE || o->oxides.at != NULL;
    const int wanted = alone ? 0 : 1;
    if (count - 1 < wanted) {
        (void)fprintf(stderr, "damperwise: %s needs a kiln description, or - for standard input\n",
                      command);
        return false;
    }
    if (count - 1 > wanted) {
        (void)fprintf(stderr, "damperwise: '%s' is one word too many%s\n", words[1 + wanted],
                      o->keys ? "; check --keys takes no description"
                      : alone ? "; exposure takes no description"
                              : "");
        return false;
    }
    o->kiln = alone ? NULL : words[1];
    if (o->command == DW_COMMAND_SWEEP && o->vary_count == 0) {
        (void)fputs("damperwise: sweep needs --vary PATH=RANGE, such as --vary damper=0..100%:5%\n",
                    stderr);
        return false;
    }
    return true;
}

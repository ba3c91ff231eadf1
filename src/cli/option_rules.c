#include "option_rules.h"

#include <string.h>

#include "say.h"
#include "words.h"

const char *const dw_command_names[] = {"estimate", "sweep", "check",  "room", "exposure",
                                        "why",      "oxides", "ladder", NULL};

/* oxides either has a kiln or is told temperature and oxygen. */
static bool check_oxides(const dw_options *o, const char *command, int word_count)
{
    if (o->command != DW_COMMAND_OXIDES) {
        if (o->oxides_option == NULL) return true;
        dw_say("%s is an option of oxides, not of %s", o->oxides_option, command);
        return false;
    }
    const bool oxygen_given = o->oxides.log_po2 != NULL || o->oxides.co_co2 != NULL ||
                              o->oxides.volts != NULL || o->oxides.h2_h2o != NULL;
    if (o->oxides.at == NULL) {
        if (!oxygen_given) return true;
        dw_say("--log-po2, --co-co2, --volts and --h2-h2o need --at TEMPERATURE, and no kiln "
               "description");
        return false;
    }
    if (word_count > 1 || o->setting_count > 0 || o->vary_count > 0) {
        dw_say("oxides --at has no kiln: leave out the description and the options that change "
               "one");
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
        dw_say("--at-point is an option of sweep, room and oxides, not of %s", command);
        return false;
    }
    if (o->command == DW_COMMAND_SWEEP || o->vary_count > 0 || o->oxides.at != NULL) return true;
    dw_say("%s --at-point needs --vary PATH=RANGE, which makes the rows", command);
    return false;
}

/* --working with the commands it belongs to, and of one row. */
static bool check_working(const dw_options *o, const char *command)
{
    if (!o->working) return true;
    if ((o->command == DW_COMMAND_SWEEP || o->vary_count > 0) && o->at_point == 0) {
        dw_say("%s --working needs --at-point N, the row whose working you want", command);
        return false;
    }
    if (o->keys || o->command == DW_COMMAND_WHY) {
        dw_say("--working is an option of estimate, sweep, check, room, exposure, oxides and "
               "ladder, not of %s", o->keys ? "--keys" : command);
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
            dw_say("no term is that long; 'damperwise why' lists them all");
            return false;
        }
        if (i > 0) o->term[used++] = ' ';
        memcpy(o->term + used, words[i], length + 1);
        used += length;
    }
    if (o->kiln == NULL && o->setting_count > 0) {
        dw_say("--set, --damper, --gas-pressure, --air-pressure and --temperature need a kiln "
               "description to change");
        return false;
    }
    return true;
}

bool dw_options_words(dw_options *o, int count, char **words)
{
    if (count == 0) {
        dw_say("a command is missing; allowed: estimate, sweep, check, room, exposure, why, oxides, "
               "ladder");
        return false;
    }
    int index;
    if (!dw_word_choose("command", words[0], dw_command_names, &index)) return false;
    o->command = (dw_command)index;
    const char *command = dw_command_names[index];
    if (o->vary_count > 0 && o->command != DW_COMMAND_SWEEP && o->command != DW_COMMAND_ROOM &&
        o->command != DW_COMMAND_OXIDES) {
        dw_say("--vary is an option of sweep, room and oxides, not of %s", command);
        return false;
    }
    if (o->keys && o->command != DW_COMMAND_CHECK) {
        dw_say("--keys is an option of check, not of %s", command);
        return false;
    }
    if (o->exposure_option != NULL && o->command != DW_COMMAND_EXPOSURE) {
        dw_say("%s is an option of exposure, not of %s", o->exposure_option, command);
        return false;
    }
    if (o->command == DW_COMMAND_EXPOSURE && o->setting_count > 0) {
        dw_say("exposure has no kiln, so there is nothing that --set, --damper, --gas-pressure, "
               "--air-pressure or --temperature could change");
        return false;
    }
    if (!check_point(o, command) || !check_working(o, command)) return false;
    if (!check_oxides(o, command, count)) return false;
    if (o->command == DW_COMMAND_WHY) return take_why_words(o, count - 1, words + 1);
    const bool alone = o->keys || o->command == DW_COMMAND_EXPOSURE || o->oxides.at != NULL;
    const int wanted = alone ? 0 : 1;
    if (count - 1 < wanted) {
        dw_say("%s needs the file of a kiln description, or - for standard input", command);
        return false;
    }
    if (count - 1 > wanted) {
        dw_say("'%s' is one word too many: %s", words[1 + wanted],
               o->keys ? "check --keys takes no description"
               : alone ? "exposure takes no description"
                       : "there can be one description; a value with a space in it needs quotes, "
                         "such as --temperature '1180 degC'");
        return false;
    }
    o->kiln = alone ? NULL : words[1];
    if (o->command == DW_COMMAND_SWEEP && o->vary_count == 0) {
        dw_say("sweep needs --vary PATH=RANGE, such as --vary damper=0..100%%:5%%");
        return false;
    }
    return true;
}

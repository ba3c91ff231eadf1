#include "option_rules.h"

#include <string.h>

#include "say.h"
#include "words.h"

static bool needs_kiln(int option)
{
    const dw_apply apply = dw_cli_options[option].apply;
    return apply == DW_APPLY_SET || apply == DW_APPLY_SETTING;
}

static bool needs_at(int option)
{
    return dw_cli_options[option].apply == DW_APPLY_GAS;
}

static void join_options(bool (*belongs)(int option), const char *last, char list[DW_WORD_LIST_SIZE])
{
    const char *names[DW_OPT_COUNT];
    size_t count = 0;
    for (int i = 0; i < DW_OPT_COUNT; ++i) {
        if (belongs(i)) names[count++] = dw_cli_options[i].name;
    }
    dw_word_list(names, count, "--", last, list);
}

/* "--x is an option of a, b and c, not of d". */
static bool refuse(int option, const char *command)
{
    const char *names[DW_COMMAND_COUNT];
    size_t count = 0;
    char list[DW_WORD_LIST_SIZE];
    for (int i = 0; i < DW_COMMAND_COUNT; ++i) {
        const dw_cli_command *c = &dw_cli_commands[i];
        if (dw_cli_takes(c, option)) names[count++] = c->name;
    }
    dw_word_list(names, count, "", " and ", list);
    dw_say("--%s is an option of %s, not of %s", dw_cli_options[option].name, list, command);
    return false;
}

static bool check_taken(const dw_options *o)
{
    char list[DW_WORD_LIST_SIZE];
    for (size_t i = 0; i < o->given_count; ++i) {
        const int option = o->given[i];
        if (dw_cli_takes(o->command, option)) continue;
        if (!needs_kiln(option)) return refuse(option, o->command->name);
        join_options(needs_kiln, " or ", list);
        dw_say("%s has no kiln, so there is nothing that %s could change", o->command->name, list);
        return false;
    }
    return true;
}

static bool has_given(const dw_options *o, int option)
{
    for (size_t i = 0; i < o->given_count; ++i) {
        if (o->given[i] == option) return true;
    }
    return false;
}

/* One row, and the working of one row, where there are many. */
static bool check_rows(const dw_options *o)
{
    const char *command = o->command->name;
    const bool rows = o->command->needs_vary || o->vary_count > 0;
    if (o->at_point > 0 && !rows && !has_given(o, DW_OPT_AT)) {
        dw_say("%s --at-point needs --vary PATH=RANGE, which makes the rows", command);
        return false;
    }
    if (o->working && rows && o->at_point == 0) {
        dw_say("%s --working needs --at-point N, the row whose working you want", command);
        return false;
    }
    return !(o->working && o->keys) || refuse(DW_OPT_WORKING, "--keys");
}

/* Either there is a kiln, or temperature and oxygen are given. */
static bool check_known_gas(const dw_options *o, int word_count)
{
    char list[DW_WORD_LIST_SIZE];
    if (!has_given(o, DW_OPT_AT)) {
        size_t i = 0;
        while (i < o->given_count && !needs_at(o->given[i])) ++i;
        if (i == o->given_count) return true;
        join_options(needs_at, " and ", list);
        dw_say("%s need --at TEMPERATURE, and no kiln description", list);
        return false;
    }
    if (word_count > 1 || o->setting_count > 0 || o->vary_count > 0) {
        dw_say("%s --at has no kiln: leave out the description and the options that change one",
               o->command->name);
        return false;
    }
    return true;
}

static bool is_file(const char *word)
{
    return strcmp(word, "-") == 0 || strchr(word, '/') != NULL || strchr(word, '.') != NULL;
}

/* A term of any number of words, then perhaps a description. */
static bool take_term(dw_options *o, int count, char **words)
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
        char list[DW_WORD_LIST_SIZE];
        join_options(needs_kiln, " and ", list);
        dw_say("%s need a kiln description to change", list);
        return false;
    }
    return true;
}

static bool take_file(dw_options *o, int count, char **words)
{
    const char *command = o->command->name;
    const bool alone = o->keys || o->command->words == DW_WORDS_NONE || has_given(o, DW_OPT_AT);
    const int wanted = alone ? 0 : 1;
    if (count < wanted) {
        dw_say("%s needs the file of a kiln description, or - for standard input", command);
        return false;
    }
    if (count > wanted && alone) {
        dw_say("'%s' is one word too many: %s%s takes no description", words[0], command,
               o->keys ? " --keys" : "");
        return false;
    }
    if (count > wanted) {
        dw_say("'%s' is one word too many: there can be one description; a value with a space in it "
               "needs quotes, such as --temperature '1180 degC'", words[1]);
        return false;
    }
    if (!alone) o->kiln = words[0];
    return true;
}

bool dw_options_words(dw_options *o, int count, char **words)
{
    if (count == 0) {
        const char *names[DW_COMMAND_COUNT];
        char list[DW_WORD_LIST_SIZE];
        for (int i = 0; i < DW_COMMAND_COUNT; ++i) names[i] = dw_cli_commands[i].name;
        dw_word_list(names, DW_COMMAND_COUNT, "", NULL, list);
        dw_say("a command is missing; allowed: %s", list);
        return false;
    }
    const int index = dw_cli_command_find(words[0]);
    if (index < 0) return false;
    o->command = &dw_cli_commands[index];
    if (!check_taken(o) || !check_rows(o) || !check_known_gas(o, count)) return false;
    if (o->command->words == DW_WORDS_TERM) return take_term(o, count - 1, words + 1);
    if (!take_file(o, count - 1, words + 1)) return false;
    if (o->command->needs_vary && o->vary_count == 0) {
        dw_say("%s needs --vary PATH=RANGE, such as --vary damper=0..100%%:5%%", o->command->name);
        return false;
    }
    return true;
}

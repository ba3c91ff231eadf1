#include "usage.h"

#include <stdio.h>
#include <string.h>

#include "damperwise.h"

enum { LEFT_WIDTH = 25, LEFT_SIZE = 120 };

/* What is at the left, then lines of text in a column of their own. */
static void put_entry(const char *left, const char *text)
{
    const int gap = strlen(left) < LEFT_WIDTH ? LEFT_WIDTH : (int)strlen(left) + 3;
    if (text[0] == '\0') {
        (void)printf("%s\n", left);
        return;
    }
    (void)printf("%-*s", gap, left);
    for (const char *line = text; *line != '\0';) {
        const int length = (int)strcspn(line, "\n");
        (void)printf("%.*s\n", length, line);
        line += length + (line[length] == '\n');
        if (*line != '\0') (void)printf("%*s", LEFT_WIDTH, "");
    }
}

static void put_option(const dw_cli_taken *t)
{
    const dw_cli_option *o = t->option < DW_OPT_COUNT ? &dw_cli_options[t->option] : NULL;
    char left[LEFT_SIZE];
    if (t->left != NULL && t->left[0] == '\0') return;
    if (t->left != NULL || o == NULL) {
        (void)snprintf(left, sizeof left, "  %s", t->left != NULL ? t->left : "");
    } else {
        (void)snprintf(left, sizeof left, "%*s--%s%s%s", 2 + t->indent, "", o->name,
                       o->argument != NULL ? " " : "", o->argument != NULL ? o->argument : "");
    }
    const char *help = o != NULL ? o->help : "";
    put_entry(left, t->text != NULL ? t->text : help);
}

static void put_commands(void)
{
    (void)fputs("\nCommands:\n", stdout);
    for (int i = 0; i < DW_COMMAND_COUNT; ++i) {
        char left[LEFT_SIZE];
        (void)snprintf(left, sizeof left, "  %s", dw_cli_commands[i].name);
        put_entry(left, dw_cli_commands[i].summary);
    }
}

void dw_usage_show(const dw_cli_command *command)
{
    (void)fputs(command->usage, stdout);
    if (command->examples == NULL) put_commands();
    (void)fputs("\nOptions:\n", stdout);
    for (const dw_cli_taken *t = command->taken; t->option != DW_OPT_END; ++t) put_option(t);
    if (command->examples != NULL) (void)printf("\nExamples:\n%s", command->examples);
    if (command->end != NULL) (void)printf("\n%s", command->end);
    (void)fputs("\n"
                "Every result is an estimate, not a measurement. Keep a carbon monoxide alarm and the\n"
                "ventilation working. Local codes and a licensed gas fitter decide. See SAFETY.md.\n",
                stdout);
}

void dw_usage_version(void)
{
    (void)printf("damperwise %s\n", dw_version());
    (void)fputs("Copyright (C) the damperwise authors\n"
                "License GPLv3+: GNU GPL version 3 or later <https://gnu.org/licenses/gpl.html>.\n"
                "This is free software: you are free to change and redistribute it.\n"
                "There is NO WARRANTY, to the extent permitted by law.\n",
                stdout);
}

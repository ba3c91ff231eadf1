/*
 * A program that links the library may have set any locale. Every question, in every format, is asked under the C
 * locale and again under one whose decimal mark is a comma, one whose mark has two bytes and one in which the small
 * letter of I is no i: every answer and every message is the same to the byte.
 *
 * The locales are made by the build, in the folder that LOCPATH names.
 */

#include <dirent.h>
#include <locale.h>
#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "damperwise.h"
#include "kit.h"
#include "question.h"

enum { ANSWER_MAX = 1200, NAME_LENGTH = 120 };

typedef struct answer {
    char name[NAME_LENGTH];
    char *text;
} answer;

typedef struct book {
    answer list[ANSWER_MAX];
    size_t count;
} book;

static book first, again;
static book *now;   /* the one being written */

static void keep(const char *name, char *text)
{
    assert_true(now->count < ANSWER_MAX);
    answer *a = &now->list[now->count++];
    (void)snprintf(a->name, sizeof a->name, "%s", name);
    a->text = text;
}

static void keep_diag(const char *name, const dw_diag_list *diag)
{
    for (size_t i = 0; i < dw_diag_count(diag); i++) {
        const size_t size = dw_diag_format(dw_diag_get(diag, i), NULL, 0) + 1;
        char *line = malloc(size);
        assert_non_null(line);
        (void)dw_diag_format(dw_diag_get(diag, i), line, size);
        keep(name, line);
    }
}

static void empty(book *b)
{
    for (size_t i = 0; i < b->count; i++) free(b->list[i].text);
    b->count = 0;
}

static const dw_output outputs[] = {{DW_FORMAT_TEXT, DW_SHOW_METRIC}, {DW_FORMAT_TEXT, DW_SHOW_US},
                                    {DW_FORMAT_JSON, DW_SHOW_METRIC}, {DW_FORMAT_CSV, DW_SHOW_US},
                                    {DW_FORMAT_HTML, DW_SHOW_METRIC}};

/* One question in the first so many formats; a status is part of the answer. A working is long and asked once: its
 * numbers are texts by then, the same in every format. */
static void ask_in(size_t formats, const char *name, const dw_engine *engine, const dw_case *kiln,
                   dw_question question)
{
    for (size_t o = 0; o < formats; o++) {
        char *text = NULL, title[NAME_LENGTH];
        size_t length = 0;
        dw_diag_list *diag = dw_diag_list_create();
        assert_non_null(diag);
        const dw_status status = dw_ask(engine, kiln, &question, outputs[o], diag, &text, &length);
        (void)snprintf(title, sizeof title, "%s, format %d, units %d, status %d", name,
                       (int)outputs[o].format, (int)outputs[o].units, (int)status);
        if (text != NULL) keep(title, text);
        keep_diag(title, diag);
        dw_diag_list_destroy(diag);
    }
}

enum { ALL = sizeof outputs / sizeof outputs[0] };

static void ask_of_a_kiln(const dw_engine *engine, const char *name)
{
    const dw_setting settings[] = {{"damper", "37.5 %"}, {"temperature", "1187.25 degC"},
                                   {"room.volume", "61.5 m3"}, {"room.air_changes_per_hour", "2.5"}};
    const dw_vary vary[] = {{"damper", "20.5%..60.5%:20%"}, {"temperature", "900.5 degC, 1250.5 degC"}};
    char path[200];
    size_t size;
    (void)snprintf(path, sizeof path, "examples/%s.yaml", name);
    char *yaml = kit_read_file(path, &size);
    dw_case *kiln = NULL;
    assert_int_equal(dw_case_read(engine, path, yaml, size, settings, 4, NULL, &kiln), DW_OK);
    free(yaml);
    static const char *const worked[] = {"estimate", "check", "room", "oxides", "ladder"};
    for (size_t i = 0; i < sizeof worked / sizeof worked[0]; i++) {
        ask_in(ALL, worked[i], engine, kiln, (dw_question){.name = worked[i]});
        ask_in(1, worked[i], engine, kiln, (dw_question){.name = worked[i], .working = 1});
    }
    const dw_question sweep = {.name = "estimate", .vary = vary, .vary_count = 2};
    const dw_question rooms = {.name = "room", .vary = vary, .vary_count = 1};
    const dw_question oxides = {.name = "oxides", .vary = vary, .vary_count = 2};
    ask_in(ALL, "sweep", engine, kiln, sweep);
    ask_in(1, "room sweep", engine, kiln, rooms);
    ask_in(1, "oxides sweep", engine, kiln, oxides);
    const kit_options plane = {{"term", "neutral plane", 0}};
    ask_in(ALL, "why", engine, kiln, kit_question("why", plane));
    dw_case_destroy(kiln);
}

static void ask_without_a_kiln(const dw_engine *engine)
{
    const char series[] = "time_min,ppm\n0,10.5\n7.5,200.25\n60,35.125\n";
    const struct {
        const char *name, *question;
        kit_options options;
        bool is_worked;
    } questions[] = {
        {"exposure", "exposure", {{"ppm", "62.5", 0}, {"hours", "3.5", 0}, {"height", "1.625 m", 0},
                                  {"mass", "58.5 kg", 0}}, true},
        {"a series", "exposure", {{"series", series, sizeof series - 1}, {"series_name", "m.csv", 0}}, true},
        {"a decimal comma", "exposure", {{"ppm", "62,5", 0}, {"hours", "3.5", 0}}, false},
        {"a gas", "oxides", {{"at", "1240.5 degC", 0}, {"volts", "0.615", 0}}, true},
        {"a range of temperatures", "oxides", {{"at", "1250.5 degC..700.5 degC:50 degC", 0},
                                               {"log_po2", "-8.25", 0}}, false},
        {"a glaze that does not sum", "oxides",
         {{"at", "1240 degC", 0}, {"co_co2", "0.125", 0},
          {"glaze", "{SiO2: 69.5 %, Al2O3: 14.5 %, CaO: 12 %, K2O: 3 %, Fe2O3: 1.5 %}", 0}}, false},
        {"all terms", "why", {{NULL, NULL, 0}}, false},
        {"keys", "keys", {{NULL, NULL, 0}}, false}};
    for (size_t i = 0; i < sizeof questions / sizeof questions[0]; i++) {
        dw_question question = kit_question(questions[i].question, questions[i].options);
        ask_in(ALL, questions[i].name, engine, NULL, question);
        question.working = 1;
        if (questions[i].is_worked) ask_in(1, questions[i].name, engine, NULL, question);
    }
}

/* What is wrong with every file of tests/bad_input. */
static void read_the_bad(const dw_engine *engine)
{
    DIR *dir = opendir(DW_BAD_INPUT_DIR);
    assert_non_null(dir);
    for (const struct dirent *entry; (entry = readdir(dir)) != NULL;) {
        const size_t own = strlen(entry->d_name);
        if (own < 6 || own > 100 || strcmp(entry->d_name + own - 5, ".yaml") != 0) continue;
        char path[sizeof entry->d_name + sizeof "tests/bad_input/"];
        size_t size;
        (void)snprintf(path, sizeof path, "tests/bad_input/%s", entry->d_name);
        char *yaml = kit_read_file(path, &size);
        dw_case *kiln = NULL;
        dw_diag_list *diag = dw_diag_list_create();
        (void)!dw_case_read(engine, entry->d_name, yaml, size, NULL, 0, diag, &kiln);
        keep_diag(entry->d_name, diag);
        dw_diag_list_destroy(diag);
        dw_case_destroy(kiln);
        free(yaml);
    }
    (void)closedir(dir);
}

static void ask_everything(book *into)
{
    dw_engine *engine = NULL;
    now = into;
    assert_int_equal(dw_engine_create(NULL, NULL, &engine), DW_OK);
    ask_of_a_kiln(engine, "juniper-flat");
    ask_without_a_kiln(engine);
    read_the_bad(engine);
    dw_engine_destroy(engine);
}

static void the_answers_follow_no_locale(void **state)
{
    (void)state;
    static const char *const names[] = {"de_DE.UTF-8", "ps_AF.UTF-8", "tr_TR.UTF-8"};
    ask_everything(&first);
    print_message("%zu answers and messages\n", first.count);
    assert_true(first.count > 150);
    int other = 0;
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        if (setlocale(LC_ALL, names[i]) == NULL) fail_msg("there is no locale %s", names[i]);
        char library[20];
        (void)snprintf(library, sizeof library, "%.1f", 0.5);
        ask_everything(&again);
        (void)setlocale(LC_ALL, "C");
        if (strcmp(library, "0.5") == 0) fail_msg("%s has a decimal point", names[i]);
        assert_int_equal(again.count, first.count);
        for (size_t k = 0; k < first.count; k++) {
            if (strcmp(first.list[k].name, again.list[k].name) != 0 ||
                strcmp(first.list[k].text, again.list[k].text) != 0) {
                print_error("%s: %s differs from '%s' under C\n", names[i], again.list[k].name, first.list[k].name);
                ++other;
            }
        }
        empty(&again);
    }
    empty(&first);
    assert_int_equal(other, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(the_answers_follow_no_locale)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}

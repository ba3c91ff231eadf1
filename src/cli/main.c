/* For clock_gettime, isatty and sigaction. */
/* NOLINTNEXTLINE(bugprone-reserved-identifier,cert-dcl37-c,cert-dcl51-cpp) */
#define _POSIX_C_SOURCE 200809L

#include <signal.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "damperwise.h"
#include "input_file.h"
#include "options.h"
#include "output_file.h"
#include "say.h"

/* ---- talking ------------------------------------------------------------------------------ */

static void print_diag(const dw_diag *diag)
{
    char line[1200];
    (void)dw_diag_format(diag, line, sizeof line);
    if (diag->file[0] == '\0') {
        dw_say("%s", line);
    } else {
        dw_say_line(line);
    }
}

static void print_diags(const dw_diag_list *list, dw_grade least)
{
    for (size_t i = 0; i < dw_diag_count(list); ++i) {
        const dw_diag *diag = dw_diag_get(list, i);
        if (diag->grade >= least) print_diag(diag);
    }
}

/* ---- interrupts --------------------------------------------------------------------------- */

static const int interrupts[] = {SIGINT, SIGTERM, SIGHUP};

/* The one that came while rows were going into a file. */
static volatile sig_atomic_t interrupt = 0;

static void note_interrupt(int number)
{
    interrupt = number;
}

/* Interrupts that the caller of the program has set to be ignored stay so. */
static void handle_interrupts(void (*handler)(int))
{
    for (size_t i = 0; i < sizeof interrupts / sizeof interrupts[0]; ++i) {
        struct sigaction action;
        if (sigaction(interrupts[i], NULL, &action) != 0 || action.sa_handler == SIG_IGN) continue;
        action.sa_handler = handler;
        action.sa_flags = SA_RESTART;
        (void)sigaction(interrupts[i], &action, NULL);
    }
}

/* From now on an interrupt ends the rows first, so that the file they go into can be taken away. */
static void catch_interrupts(void)
{
    handle_interrupts(note_interrupt);
}

/* As if it had not been caught. */
static void let_interrupts_through(void)
{
    handle_interrupts(SIG_DFL);
    if (interrupt != 0) (void)raise(interrupt);
}

/* ---- progress ----------------------------------------------------------------------------- */

typedef struct meter {
    double start_s, last_s;
    int is_terminal, was_shown;
    int is_quiet;            /* rows are coming to the same terminal */
} meter;

static double now_s(void)
{
    struct timespec t;
    if (clock_gettime(CLOCK_MONOTONIC, &t) != 0) return 0.0;
    return (double)t.tv_sec + 1.0e-9 * (double)t.tv_nsec;
}

/* Quiet in the first second; then in place on a terminal, else a line every five seconds. */
static int show_progress(void *user, size_t done, size_t total)
{
    meter *m = user;
    if (interrupt != 0) return 1;
    const double now = now_s();
    if (m->is_quiet || now - m->start_s < 1.0 ||
        now - m->last_s < (m->is_terminal ? 0.2 : 5.0)) {
        return 0;
    }
    m->last_s = now;
    m->was_shown = 1;
    (void)fprintf(stderr, "%sdamperwise: %zu of %zu points%s", m->is_terminal ? "\r" : "", done,
                  total, m->is_terminal ? "" : "\n");
    (void)fflush(stderr);
    return 0;
}

static void end_progress(const meter *m)
{
    if (m->was_shown && m->is_terminal) (void)fputs("\r\033[K", stderr);
}

/* ---- the work ----------------------------------------------------------------------------- */

/** What one run owns. */
typedef struct session {
    const dw_options *options;
    dw_diag_list *reading;    /* about the description */
    dw_diag_list *running;    /* about the results */
    dw_engine *engine;
    dw_case *kiln;
    char *input;
    char *text;
    size_t length;
    dw_output_file file;      /* what rows go into as they come    */
    bool has_rows;            /* the results are handed on in pieces, not in text */
    bool cannot_write;        /* that has been said                */
} session;

static dw_exit exit_code(dw_status status)
{
    switch (status) {
    case DW_OK: return DW_EXIT_OK;
    case DW_ERR_INPUT:
    case DW_ERR_IO:
    case DW_ERR_DOMAIN: return DW_EXIT_INPUT;
    case DW_ERR_NO_CONVERGE: return DW_EXIT_NOT_SOLVED;
    default: return DW_EXIT_INTERNAL;
    }
}

/* A failure that no diagnostic speaks of still needs a line. */
static dw_exit fail(const dw_diag_list *list, dw_status status)
{
    if (dw_diag_count_grade(list, DW_ERROR) == 0) {
        dw_say("error: %s", dw_status_text(status));
    }
    return exit_code(status);
}

static dw_exit create_engine(session *s)
{
    const dw_status status = dw_engine_create(s->options->config, s->reading, &s->engine);
    if (status == DW_OK) return DW_EXIT_OK;
    print_diags(s->reading, DW_NOTE);
    return fail(s->reading, status);
}

static const char *shown_name(const char *path)
{
    return strcmp(path, "-") == 0 ? "<stdin>" : path;
}

/* A whole file into the session's input. */
static dw_exit read_input(session *s, const char *path, size_t *length)
{
    const char *why = "";
    const dw_status status = dw_input_read(path, &s->input, length, &why);
    if (status == DW_OK) return DW_EXIT_OK;
    dw_say("error: cannot read '%s': %s", path, why);
    return exit_code(status);
}

static dw_exit read_kiln(session *s)
{
    const dw_options *o = s->options;
    size_t length = 0;
    const dw_exit code = read_input(s, o->kiln, &length);
    if (code != DW_EXIT_OK) return code;
    dw_status status = dw_case_read(s->engine, shown_name(o->kiln), s->input, length, o->setting,
                                    o->setting_count, s->reading, &s->kiln);
    if (status == DW_OK) status = dw_case_overrides(s->kiln, o->vary, o->vary_count, s->reading);
    print_diags(s->reading, DW_NOTE);
    return status == DW_OK ? DW_EXIT_OK : fail(s->reading, status);
}

/* ---- writing ------------------------------------------------------------------------------ */

static dw_exit say_cannot_write(session *s, const char *why)
{
    s->cannot_write = true;
    if (s->options->output != NULL) {
        dw_say("error: cannot write '%s': %s", s->options->output, why);
    } else {
        dw_say("error: cannot write to standard output: %s", why);
    }
    return DW_EXIT_INTERNAL;
}

static dw_output_kept kept_files(const dw_options *o)
{
    return (dw_output_kept){.input = o->kiln != NULL ? o->kiln : o->series, .config = o->config};
}

/* A sink for rows: the file that was opened for them, or standard output. */
static int take_rows(void *user, const char *piece, size_t length)
{
    session *s = user;
    const char *why = "";
    if (interrupt != 0) return 1;
    const dw_status status = s->options->output != NULL
                                 ? dw_output_add(&s->file, piece, length, &why)
                                 : dw_output_put(piece, length, &why);
    if (status != DW_OK) (void)say_cannot_write(s, why);
    return status != DW_OK;
}

/* Opens the file for rows, if they are to go into one. */
static dw_exit begin_rows(session *s)
{
    const char *why = "";
    s->has_rows = true;
    if (s->options->output == NULL) return DW_EXIT_OK;
    const dw_output_kept kept = kept_files(s->options);
    catch_interrupts();
    if (dw_output_begin(&s->file, s->options->output, &kept, &why) == DW_OK) return DW_EXIT_OK;
    return say_cannot_write(s, why);
}

/* Puts the rows in their place when they are results, else takes them away. */
static dw_exit end_rows(session *s, dw_status status)
{
    const char *why = "";
    const bool results = (status == DW_OK || status == DW_ERR_NO_CONVERGE) && interrupt == 0;
    if (s->options->output == NULL) {
        if (!results || s->cannot_write || dw_output_close(&why) == DW_OK) return DW_EXIT_OK;
        return say_cannot_write(s, why);
    }
    dw_exit code = DW_EXIT_OK;
    if (!results) {
        dw_output_abandon(&s->file);
    } else if (dw_output_end(&s->file, &why) != DW_OK) {
        code = say_cannot_write(s, why);
    }
    let_interrupts_through();
    return code;
}

/* ---- the question ------------------------------------------------------------------------- */

/* Options of the question that are no options of the command line. */
static dw_exit add_options(session *s, dw_question *question)
{
    const dw_options *o = s->options;
    dw_option *next = o->asked + o->asked_count;
    if (o->term[0] != '\0') *next++ = (dw_option){.name = "term", .value = o->term};
    if (o->series != NULL) {
        size_t length = 0;
        const dw_exit code = read_input(s, o->series, &length);
        if (code != DW_EXIT_OK) return code;
        *next++ = (dw_option){.name = "series", .value = s->input, .length = length};
        *next++ = (dw_option){.name = "series_name", .value = shown_name(o->series)};
    }
    question->option = o->asked;
    question->option_count = (size_t)(next - o->asked);
    return DW_EXIT_OK;
}

/* Without a kiln there are as many rows as temperatures, which nobody has counted yet. */
static bool may_have_rows(const dw_options *o)
{
    if (o->vary_count > 0) return o->at_point == 0;
    return o->kiln == NULL && o->command->words == DW_WORDS_KILN && !o->keys && !o->working;
}

static dw_status ask(session *s, const dw_question *with_options)
{
    const dw_options *o = s->options;
    dw_question question = *with_options;
    meter m = {.start_s = now_s(), .is_terminal = isatty(STDERR_FILENO)};
    m.last_s = m.start_s;
    m.is_quiet = m.is_terminal && o->output == NULL && isatty(STDOUT_FILENO);
    question.name = o->keys ? "keys" : o->command->question;
    question.vary = o->vary;
    question.vary_count = o->vary_count;
    question.at_point = o->at_point;
    question.working = o->working;
    question.progress = show_progress;
    question.user = &m;
    if (may_have_rows(o)) {
        if (begin_rows(s) != DW_EXIT_OK) return DW_ERR_IO;
        question.sink = (dw_sink){take_rows, s};
    }
    const dw_status status =
        dw_ask(s->engine, s->kiln, &question, o->show, s->running, &s->text, &s->length);
    end_progress(&m);
    return status;
}

/* What the results themselves do not say on the screen. */
static void print_findings(const session *s, dw_status status)
{
    const dw_options *o = s->options;
    const bool one_point = o->vary_count == 0 || o->at_point > 0;
    const bool seen_anyway = one_point && !o->working && o->command->tells_findings &&
                             o->output == NULL && o->show.format != DW_FORMAT_CSV &&
                             s->text != NULL;
    print_diags(s->running, seen_anyway ? DW_ERROR : DW_WARNING);
    if (status != DW_OK && dw_diag_count_grade(s->running, DW_ERROR) == 0) {
        dw_say("error: %s", status == DW_ERR_NO_CONVERGE ? "no point has a solution"
                                                         : dw_status_text(status));
    }
}

static dw_exit write_results(session *s)
{
    const dw_options *o = s->options;
    const char *why = "";
    if (o->output != NULL) {
        const dw_output_kept kept = kept_files(o);
        return dw_output_write(o->output, &kept, s->text, s->length, &why) == DW_OK
                   ? DW_EXIT_OK
                   : say_cannot_write(s, why);
    }
    const bool good = dw_output_put(s->text, s->length, &why) == DW_OK;
    const char *why_closed = "";
    if (dw_output_close(&why_closed) == DW_OK && good) return DW_EXIT_OK;
    return say_cannot_write(s, good ? why_closed : why);
}

static dw_exit run(session *s)
{
    const dw_options *o = s->options;
    dw_question question = {.name = NULL};
    dw_exit code = create_engine(s);
    if (code == DW_EXIT_OK && o->kiln != NULL) code = read_kiln(s);
    if (code == DW_EXIT_OK) code = add_options(s, &question);
    if (code != DW_EXIT_OK) return code;
    const dw_status status = ask(s, &question);
    if (interrupt == 0 && !s->cannot_write) print_findings(s, status);
    if (s->has_rows || s->text != NULL) {
        code = s->has_rows ? end_rows(s, status) : write_results(s);
        if (code != DW_EXIT_OK) return code;
    }
    if (s->cannot_write) return DW_EXIT_INTERNAL;
    if (status != DW_OK) return exit_code(status);
    /* Hazards do not count: they say what the kiln does, and hardly a kiln has none; warnings say
     * that input or numbers are doubtful. */
    const size_t warnings = dw_diag_count_grade(s->reading, DW_WARNING) +
                            dw_diag_count_grade(s->running, DW_WARNING);
    if (o->strict && warnings > 0) {
        dw_say("error: %zu warning%s, and --strict is set", warnings, warnings == 1 ? "" : "s");
        return DW_EXIT_INPUT;
    }
    return DW_EXIT_OK;
}

int main(int argc, char **argv)
{
    /* A reader that closes the pipe is then a write error with a message, not a silent death. */
    (void)signal(SIGPIPE, SIG_IGN);
#ifdef SIGXFSZ
    /* So is a file that grows over the user's limit. */
    (void)signal(SIGXFSZ, SIG_IGN);
#endif
    dw_options options;
    dw_exit code = DW_EXIT_INTERNAL;
    if (dw_options_read(argc, argv, &options, &code) == DW_NEXT_RUN) {
        session s = {.options = &options,
                     .file = {.fd = -1},
                     .reading = dw_diag_list_create(),
                     .running = dw_diag_list_create()};
        if (s.reading != NULL && s.running != NULL) {
            code = run(&s);
        } else {
            dw_say("error: out of memory");
        }
        dw_text_free(s.text);
        dw_case_destroy(s.kiln);
        dw_engine_destroy(s.engine);
        dw_diag_list_destroy(s.running);
        dw_diag_list_destroy(s.reading);
        free(s.input);
    }
    dw_options_free(&options);
    return (int)code;
}

/**
 * @file test_bad_input.c
 * One file per mistake. Every NN-name.yaml of the folder must be refused, and each line of its
 * NN-name.expect must be part of one of the messages. Lines `# set: path=value` at the start of the
 * YAML are overrides.
 *
 * The folder is the first argument, or DW_BAD_INPUT_DIR.
 */

#include <dirent.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "read_data.h"
#include "read_kiln.h"

#ifndef DW_BAD_INPUT_DIR
#define DW_BAD_INPUT_DIR "tests/bad_input"
#endif

enum { TEXT_MAX = 64 * 1024, SETTING_MAX = 8, LINE_SIZE = 600, NAME_LENGTH = 100 };

static const char *folder = DW_BAD_INPUT_DIR;

/* The bytes of a file, NUL-terminated, freed by the caller. */
static char *read_text(const char *name)
{
    char path[1024];
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *file = fopen(path, "rb");
    if (file == NULL) {
        print_error("cannot open %s\n", path);
        fail();
        return NULL;
    }
    char *text = malloc(TEXT_MAX + 1);
    assert_non_null(text);
    const size_t length = fread(text, 1, TEXT_MAX, file);
    (void)fclose(file);
    text[length] = '\0';
    return text;
}

/* Splits the `# set:` lines off; the strings live in buffer. */
static size_t read_settings(const char *text, dw_setting *settings, char *buffer)
{
    static const char mark[] = "# set: ";
    size_t count = 0;
    while (strncmp(text, mark, sizeof mark - 1) == 0) {
        text += sizeof mark - 1;
        const size_t length = strcspn(text, "\n");
        assert_true(count < SETTING_MAX && length < LINE_SIZE);
        char *copy = buffer + count * LINE_SIZE;
        memcpy(copy, text, length);
        copy[length] = '\0';
        char *equals = strchr(copy, '=');
        assert_non_null(equals);
        *equals = '\0';
        settings[count++] = (dw_setting){copy, equals + 1};
        text += length + (text[length] == '\n');
    }
    return count;
}

static bool is_said(const dw_diag_list *diag, const char *line)
{
    for (size_t i = 0; i < dw_diag_count(diag); i++) {
        char text[2 * LINE_SIZE];
        (void)dw_diag_format(dw_diag_get(diag, i), text, sizeof text);
        if (strstr(text, line) != NULL) return true;
    }
    return false;
}

static void show(const char *name, const dw_diag_list *diag)
{
    print_error("%s says:\n", name);
    for (size_t i = 0; i < dw_diag_count(diag); i++) {
        char text[2 * LINE_SIZE];
        (void)dw_diag_format(dw_diag_get(diag, i), text, sizeof text);
        print_error("    %s\n", text);
    }
}

/* Number of lines that were not said; 1 when the file was not refused. */
static int run_file(const dw_data *data, const char *name)
{
    dw_setting settings[SETTING_MAX];
    char buffer[SETTING_MAX * LINE_SIZE], expect_name[NAME_LENGTH + 8];
    char *text = read_text(name);
    (void)snprintf(expect_name, sizeof expect_name, "%.*s.expect", (int)(strlen(name) - 5), name);
    char *expect = read_text(expect_name);
    const size_t setting_count = read_settings(text, settings, buffer);

    dw_diag_list *diag = dw_diag_list_create();
    dw_kiln_file *kiln = malloc(sizeof *kiln);
    assert_non_null(diag);
    assert_non_null(kiln);
    const dw_status status =
        dw_read_kiln(data, name, text, strlen(text), settings, setting_count, diag, kiln);
    int faults = 0, lines = 0;
    if (status != DW_ERR_INPUT || dw_diag_count_grade(diag, DW_ERROR) == 0) {
        print_error("%s was answered with '%s'\n", name, dw_status_text(status));
        faults++;
    }
    for (char *line = strtok(expect, "\n"); line != NULL; line = strtok(NULL, "\n"), lines++) {
        if (is_said(diag, line)) continue;
        print_error("%s: not said: %s\n", name, line);
        faults++;
    }
    if (lines == 0) {
        print_error("%s expects nothing\n", expect_name);
        faults++;
    }
    if (faults > 0) show(name, diag);
    dw_diag_list_destroy(diag);
    free(kiln);
    free(expect);
    free(text);
    return faults;
}

static void every_mistake_is_named(void **state)
{
    (void)state;
    static dw_data data;
    assert_int_equal(dw_read_data(NULL, NULL, &data), DW_OK);
    DIR *dir = opendir(folder);
    if (dir == NULL) {
        print_error("cannot open the folder %s\n", folder);
        fail();
        return;
    }
    int files = 0, faults = 0;
    for (const struct dirent *entry; (entry = readdir(dir)) != NULL;) {
        const size_t length = strlen(entry->d_name);
        if (length < 6 || length > NAME_LENGTH ||
            strcmp(entry->d_name + length - 5, ".yaml") != 0) {
            continue;
        }
        files++;
        faults += run_file(&data, entry->d_name);
    }
    (void)closedir(dir);
    print_message("%d files\n", files);
    assert_true(files >= 40);
    assert_int_equal(faults, 0);
}

int main(int argc, char **argv)
{
    if (argc > 1) folder = argv[1];
    const struct CMUnitTest tests[] = {cmocka_unit_test(every_mistake_is_named)};
    return cmocka_run_group_tests_name("bad_input", tests, NULL, NULL);
}

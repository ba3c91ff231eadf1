/* Results to files: whole or not at all, links followed, nothing left behind. */

#define _XOPEN_SOURCE 700

#include <dirent.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "check.h"
#include "output_file.h"

static char folder[] = "/tmp/dw-output-XXXXXX";
static const char *message;

static int setup(void **state)
{
    (void)state;
    strcpy(folder, "/tmp/dw-output-XXXXXX");
    return mkdtemp(folder) != NULL && chdir(folder) == 0 ? 0 : -1;
}

static int count_entries(void)
{
    int count = 0;
    DIR *dir = opendir(".");
    for (const struct dirent *e = readdir(dir); e != NULL; e = readdir(dir)) {
        count += e->d_name[0] != '.' || strlen(e->d_name) > 2;
    }
    (void)closedir(dir);
    return count;
}

static int teardown(void **state)
{
    (void)state;
    DIR *dir = opendir(".");
    for (const struct dirent *e = readdir(dir); e != NULL; e = readdir(dir)) {
        if (strcmp(e->d_name, ".") != 0 && strcmp(e->d_name, "..") != 0) (void)remove(e->d_name);
    }
    (void)closedir(dir);
    return chdir("/") == 0 && rmdir(folder) == 0 ? 0 : -1;
}

static dw_status put(const char *path, const char *text)
{
    return dw_output_write(path, NULL, text, strlen(text), &message);
}

static void assert_holds(const char *path, const char *expected)
{
    char text[100] = "";
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    const size_t length = fread(text, 1, sizeof text - 1, file);
    (void)fclose(file);
    text[length] = '\0';
    assert_string_equal(text, expected);
}

static void a_file_is_written_and_replaced_with_its_mode_kept(void **state)
{
    (void)state;
    (void)umask(027);
    assert_int_equal(put("a.txt", "first"), DW_OK);
    assert_holds("a.txt", "first");
    struct stat info;
    assert_int_equal(stat("a.txt", &info), 0);
    assert_int_equal(info.st_mode & 0777, 0640);
    assert_int_equal(chmod("a.txt", 0604), 0);
    assert_int_equal(put("a.txt", "second one"), DW_OK);
    assert_holds("a.txt", "second one");
    assert_int_equal(stat("a.txt", &info), 0);
    assert_int_equal(info.st_mode & 0777, 0604);
    assert_int_equal(count_entries(), 1);
    assert_string_equal(message, "");
}

static void a_link_is_followed_and_stays_a_link(void **state)
{
    (void)state;
    assert_int_equal(put("real.txt", "old"), DW_OK);
    assert_int_equal(symlink("real.txt", "link.txt"), 0);
    assert_int_equal(put("link.txt", "new"), DW_OK);
    assert_holds("real.txt", "new");
    struct stat info;
    assert_int_equal(lstat("link.txt", &info), 0);
    assert_true(S_ISLNK(info.st_mode));
    assert_int_equal(count_entries(), 2);
}

static void directories_and_missing_folders_are_refused(void **state)
{
    (void)state;
    assert_int_equal(mkdir("sub", 0755), 0);
    assert_int_equal(put("sub", "x"), DW_ERR_IO);
    assert_non_null(strstr(message, "directory"));
    assert_int_equal(put("nowhere/a.txt", "x"), DW_ERR_IO);
    assert_true(message[0] != '\0');
    assert_int_equal(count_entries(), 1);
}

static void the_description_itself_is_never_overwritten(void **state)
{
    (void)state;
    assert_int_equal(put("kiln.yaml", "precious"), DW_OK);
    assert_int_equal(symlink("kiln.yaml", "alias"), 0);
    const dw_output_kept kept = {.input = "./kiln.yaml"};
    assert_int_equal(dw_output_write("alias", &kept, "x", 1, &message), DW_ERR_IO);
    assert_non_null(strstr(message, "the input"));
    assert_holds("kiln.yaml", "precious");
    assert_int_equal(dw_output_write("other", &kept, "x", 1, &message), DW_OK);
}

/* Standard input is whatever it was opened on. */
static void what_comes_by_standard_input_is_never_overwritten(void **state)
{
    (void)state;
    assert_int_equal(put("kiln.yaml", "precious"), DW_OK);
    assert_int_equal(link("kiln.yaml", "alias"), 0);
    assert_non_null(freopen("kiln.yaml", "rb", stdin));
    const dw_output_kept read = {.input = "-"}, not_read = {.input = "else.yaml"};
    assert_int_equal(dw_output_write("kiln.yaml", &read, "x", 1, &message), DW_ERR_IO);
    assert_non_null(strstr(message, "the input"));
    assert_int_equal(dw_output_write("alias", &read, "x", 1, &message), DW_ERR_IO);
    assert_holds("kiln.yaml", "precious");
    assert_int_equal(dw_output_write("other", &read, "x", 1, &message), DW_OK);
    assert_int_equal(dw_output_write("kiln.yaml", &not_read, "x", 1, &message), DW_OK);
    assert_non_null(freopen("/dev/null", "rb", stdin));
    assert_int_equal(dw_output_write("kiln.yaml", &read, "y", 1, &message), DW_OK);
}

static void a_data_file_is_never_overwritten(void **state)
{
    (void)state;
    assert_int_equal(put("bands.yaml", "precious"), DW_OK);
    assert_int_equal(put("notes.txt", "notes"), DW_OK);
    assert_int_equal(symlink("bands.yaml", "alias"), 0);
    const dw_output_kept kept = {.config = "."};
    assert_int_equal(dw_output_write("bands.yaml", &kept, "x", 1, &message), DW_ERR_IO);
    assert_non_null(strstr(message, "--config"));
    assert_int_equal(dw_output_write("alias", &kept, "x", 1, &message), DW_ERR_IO);
    assert_holds("bands.yaml", "precious");
    assert_int_equal(dw_output_write("notes.txt", &kept, "x", 1, &message), DW_OK);
    assert_int_equal(dw_output_write("new.txt", &kept, "x", 1, &message), DW_OK);
}

static void a_link_to_nothing_or_in_a_circle_is_refused(void **state)
{
    (void)state;
    assert_int_equal(symlink("nothing", "dangling"), 0);
    assert_int_equal(symlink("there", "here"), 0);
    assert_int_equal(symlink("here", "there"), 0);
    assert_int_equal(put("dangling", "x"), DW_ERR_IO);
    assert_non_null(strstr(message, "link to a file that does not exist"));
    assert_int_equal(put("here", "x"), DW_ERR_IO);
    assert_non_null(strstr(message, "link that leads back to itself"));
    struct stat info;
    assert_int_equal(lstat("dangling", &info), 0);
    assert_true(S_ISLNK(info.st_mode));
    assert_int_equal(count_entries(), 3);
}

/* Another user than root, who may do all: in a process of its own, since there is no way back. */
static int as_nobody(dw_status wanted, const char *words)
{
    const pid_t child = fork();
    if (child == 0) {
        if (setgid(65534) != 0 || setuid(65534) != 0) _exit(3);
        const dw_status status = put("a.txt", "new");
        _exit(status != wanted ? 1 : strstr(message, words) == NULL ? 2 : 0);
    }
    int status = 0;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFEXITED(status));
    return WEXITSTATUS(status);
}

static void owner_and_permissions_are_minded(void **state)
{
    (void)state;
    if (geteuid() != 0) {
        print_message("SKIPPED: only root can make files of another owner\n");
        skip();
    }
    assert_int_equal(chmod(".", 0777), 0);
    struct stat info;
    /* Of root, read-only: the folder alone would let it be replaced. */
    assert_int_equal(put("a.txt", "old"), DW_OK);
    assert_int_equal(chmod("a.txt", 0444), 0);
    assert_int_equal(as_nobody(DW_ERR_IO, "Permission denied"), 0);
    /* Of root, writable by all: it would change hands. */
    assert_int_equal(chmod("a.txt", 0666), 0);
    assert_int_equal(as_nobody(DW_ERR_IO, "belongs to another user"), 0);
    assert_holds("a.txt", "old");
    /* The user's own, and read-only. */
    assert_int_equal(chown("a.txt", 65534, 65534), 0);
    assert_int_equal(chmod("a.txt", 0444), 0);
    assert_int_equal(as_nobody(DW_ERR_IO, "Permission denied"), 0);
    assert_int_equal(chmod("a.txt", 0640), 0);
    assert_int_equal(as_nobody(DW_OK, ""), 0);
    assert_holds("a.txt", "new");
    /* Root replaces it, and it stays the user's. */
    assert_int_equal(put("a.txt", "root's"), DW_OK);
    assert_int_equal(stat("a.txt", &info), 0);
    assert_int_equal(info.st_uid, 65534);
    assert_int_equal(info.st_gid, 65534);
    assert_int_equal(info.st_mode & 07777, 0640);
    assert_int_equal(count_entries(), 1);
}

static void what_is_given_up_leaves_nothing(void **state)
{
    (void)state;
    dw_output_file file;
    assert_int_equal(put("a.txt", "old"), DW_OK);
    assert_int_equal(dw_output_begin(&file, "a.txt", NULL, &message), DW_OK);
    assert_int_equal(dw_output_add(&file, "half", 4, &message), DW_OK);
    assert_int_equal(count_entries(), 2);
    dw_output_abandon(&file);
    dw_output_abandon(&file);
    assert_holds("a.txt", "old");
    assert_int_equal(count_entries(), 1);
    assert_int_equal(dw_output_begin(&file, "a.txt", NULL, &message), DW_OK);
    assert_int_equal(dw_output_add(&file, "wh", 2, &message), DW_OK);
    assert_int_equal(dw_output_add(&file, "ole", 3, &message), DW_OK);
    assert_int_equal(dw_output_end(&file, &message), DW_OK);
    assert_holds("a.txt", "whole");
    assert_int_equal(count_entries(), 1);
}

static void a_name_of_any_length_can_be_replaced(void **state)
{
    (void)state;
    char name[256];
    memset(name, 'n', sizeof name);
    name[255] = '\0';
    assert_int_equal(put(name, "first"), DW_OK);
    assert_int_equal(put(name, "second"), DW_OK);
    assert_holds(name, "second");
}

static void a_full_disk_leaves_the_old_file_and_nothing_else(void **state)
{
    (void)state;
    assert_int_equal(put("a.txt", "old"), DW_OK);
    /* A limit on the size of files stands for the full disk. */
    struct rlimit before;
    assert_int_equal(getrlimit(RLIMIT_FSIZE, &before), 0);
    const struct rlimit small = {.rlim_cur = 10, .rlim_max = before.rlim_max};
    (void)signal(SIGXFSZ, SIG_IGN);
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &small), 0);
    const dw_status status = put("a.txt", "a text of more than ten bytes");
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &before), 0);
    (void)signal(SIGXFSZ, SIG_DFL);
    assert_int_equal(status, DW_ERR_IO);
    assert_true(message[0] != '\0');
    assert_holds("a.txt", "old");
    assert_int_equal(count_entries(), 1);
}

static void a_device_is_written_to_and_its_refusal_is_said(void **state)
{
    (void)state;
    assert_int_equal(put("/dev/null", "x"), DW_OK);
    struct stat info;
    assert_int_equal(stat("/dev/null", &info), 0);
    assert_true(S_ISCHR(info.st_mode));
    assert_int_equal(put("/dev/full", "x"), DW_ERR_IO);
    assert_true(message[0] != '\0');
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(a_file_is_written_and_replaced_with_its_mode_kept, setup,
                                        teardown),
        cmocka_unit_test_setup_teardown(a_link_is_followed_and_stays_a_link, setup, teardown),
        cmocka_unit_test_setup_teardown(directories_and_missing_folders_are_refused, setup,
                                        teardown),
        cmocka_unit_test_setup_teardown(the_description_itself_is_never_overwritten, setup,
                                        teardown),
        cmocka_unit_test_setup_teardown(what_comes_by_standard_input_is_never_overwritten, setup,
                                        teardown),
        cmocka_unit_test_setup_teardown(a_data_file_is_never_overwritten, setup, teardown),
        cmocka_unit_test_setup_teardown(a_link_to_nothing_or_in_a_circle_is_refused, setup,
                                        teardown),
        cmocka_unit_test_setup_teardown(owner_and_permissions_are_minded, setup, teardown),
        cmocka_unit_test_setup_teardown(what_is_given_up_leaves_nothing, setup, teardown),
        cmocka_unit_test_setup_teardown(a_name_of_any_length_can_be_replaced, setup, teardown),
        cmocka_unit_test_setup_teardown(a_full_disk_leaves_the_old_file_and_nothing_else, setup,
                                        teardown),
        cmocka_unit_test_setup_teardown(a_device_is_written_to_and_its_refusal_is_said, setup,
                                        teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

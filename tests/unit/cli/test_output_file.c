/* Results to files: whole or not at all, links followed, nothing left behind. */

#define _XOPEN_SOURCE 700

#include <dirent.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
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
    assert_int_equal(dw_output_write("alias", "./kiln.yaml", "x", 1, &message), DW_ERR_IO);
    assert_non_null(strstr(message, "description"));
    assert_holds("kiln.yaml", "precious");
    assert_int_equal(dw_output_write("other", "-", "x", 1, &message), DW_OK);
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
        cmocka_unit_test_setup_teardown(a_full_disk_leaves_the_old_file_and_nothing_else, setup,
                                        teardown),
        cmocka_unit_test_setup_teardown(a_device_is_written_to_and_its_refusal_is_said, setup,
                                        teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

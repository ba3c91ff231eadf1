/* For mkstemp, fsync, fchmod, realpath and the signal masks. */
/* NOLINTNEXTLINE(bugprone-reserved-identifier,cert-dcl37-c,cert-dcl51-cpp) */
#define _XOPEN_SOURCE 700

#include "output_file.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static bool write_all(int fd, const char *text, size_t length)
{
    while (length > 0) {
        const ssize_t done = write(fd, text, length);
        if (done < 0 && errno == EINTR) continue;
        if (done < 0) return false;
        text += done;
        length -= (size_t)done;
    }
    return true;
}

/* Mode of a new file: that of the one it replaces, else what the user's mask leaves of 0666. */
static mode_t wanted_mode(const struct stat *old)
{
    if (old != NULL) return old->st_mode & 07777;
    const mode_t mask = umask(0);
    (void)umask(mask);
    return 0666 & ~mask;
}

/* Writes a new file beside path and renames it over path. errno says why not. */
static bool replace(const char *path, const struct stat *old, const char *text, size_t length)
{
    static const char ending[] = ".XXXXXX";
    const size_t own = strlen(path);
    char *name = malloc(own + sizeof ending);
    if (name == NULL) {
        errno = ENOMEM;
        return false;
    }
    memcpy(name, path, own);
    memcpy(name + own, ending, sizeof ending);
    const int fd = mkstemp(name);
    if (fd < 0) {
        const int why = errno;
        free(name);
        errno = why;
        return false;
    }
    bool good = write_all(fd, text, length) && fchmod(fd, wanted_mode(old)) == 0 && fsync(fd) == 0;
    int why = errno;
    if (close(fd) != 0 && good) {
        good = false;
        why = errno;
    }
    if (good && rename(name, path) != 0) {
        good = false;
        why = errno;
    }
    if (!good) (void)unlink(name);
    free(name);
    errno = why;
    return good;
}

static bool write_direct(const char *path, const char *text, size_t length)
{
    const int fd = open(path, O_WRONLY | O_NOCTTY);
    if (fd < 0) return false;
    bool good = write_all(fd, text, length);
    int why = errno;
    if (close(fd) != 0 && good) {
        good = false;
        why = errno;
    }
    errno = why;
    return good;
}

static bool is_input(const struct stat *target, const char *input)
{
    struct stat other;
    if (input == NULL || strcmp(input, "-") == 0 || stat(input, &other) != 0) return false;
    return other.st_dev == target->st_dev && other.st_ino == target->st_ino;
}

dw_status dw_output_write(const char *path, const char *input, const char *text, size_t length,
                          const char **message)
{
    *message = "";
    struct stat old;
    const bool exists = stat(path, &old) == 0;
    if (exists && S_ISDIR(old.st_mode)) {
        *message = "it is a directory";
        return DW_ERR_IO;
    }
    if (exists && is_input(&old, input)) {
        *message = "it is the description of the kiln";
        return DW_ERR_IO;
    }
    if (exists && !S_ISREG(old.st_mode)) {
        if (write_direct(path, text, length)) return DW_OK;
        *message = strerror(errno);
        return DW_ERR_IO;
    }
    /* Renaming over a link would put a file in the link's place. */
    char *target = exists ? realpath(path, NULL) : NULL;
    if (exists && target == NULL) {
        *message = strerror(errno);
        return DW_ERR_IO;
    }
    /* An interrupt waits until the new file is in its place or gone. */
    sigset_t block, before;
    (void)sigemptyset(&block);
    (void)sigaddset(&block, SIGINT);
    (void)sigaddset(&block, SIGTERM);
    (void)sigaddset(&block, SIGHUP);
    (void)sigprocmask(SIG_BLOCK, &block, &before);
    const bool good = replace(target != NULL ? target : path, exists ? &old : NULL, text, length);
    const int why = errno;
    (void)sigprocmask(SIG_SETMASK, &before, NULL);
    free(target);
    if (good) return DW_OK;
    *message = strerror(why);
    return why == ENOMEM ? DW_ERR_NOMEM : DW_ERR_IO;
}

dw_status dw_output_print(const char *text, size_t length, const char **message)
{
    *message = "";
    errno = 0;
    const bool good = fwrite(text, 1, length, stdout) == length && fflush(stdout) == 0;
    const int why = errno;
    const bool closed = fclose(stdout) == 0;
    if (good && closed) return DW_OK;
    *message = strerror(good ? errno : why);
    return DW_ERR_IO;
}

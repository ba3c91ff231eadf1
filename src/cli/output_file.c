/* For mkstemp, fsync, fchmod, fchown, realpath, lstat and the signal masks. */
/* NOLINTNEXTLINE(bugprone-reserved-identifier,cert-dcl37-c,cert-dcl51-cpp) */
#define _XOPEN_SOURCE 700

#include "output_file.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static dw_status refuse(const char **message, const char *why)
{
    *message = why;
    return DW_ERR_IO;
}

static dw_status refuse_errno(const char **message, int why)
{
    *message = strerror(why);
    return why == ENOMEM ? DW_ERR_NOMEM : DW_ERR_IO;
}

/* ---- what must stay ----------------------------------------------------------------------- */

static bool is_same(const struct stat *a, const struct stat *b)
{
    return a->st_dev == b->st_dev && a->st_ino == b->st_ino;
}

static bool is_input(const struct stat *target, const char *input)
{
    struct stat other;
    if (input == NULL) return false;
    const int got = strcmp(input, "-") == 0 ? fstat(STDIN_FILENO, &other) : stat(input, &other);
    return got == 0 && is_same(target, &other);
}

/* By what the files are and not by their names: one may be a link to the other. */
static bool is_in_config(const struct stat *target, const char *config)
{
    static const char ending[] = ".yaml";
    DIR *dir = config != NULL ? opendir(config) : NULL;
    if (dir == NULL) return false;
    bool found = false;
    for (const struct dirent *entry; !found && (entry = readdir(dir)) != NULL;) {
        const size_t length = strlen(entry->d_name);
        if (length < sizeof ending || strcmp(entry->d_name + length - (sizeof ending - 1), ending) != 0) continue;
        struct stat other;
        found = fstatat(dirfd(dir), entry->d_name, &other, 0) == 0 && is_same(target, &other);
    }
    (void)closedir(dir);
    return found;
}

/* ---- opening ------------------------------------------------------------------------------ */

/* Mode of a new file: what the user's mask leaves of 0666. */
static mode_t usual_mode(void)
{
    const mode_t mask = umask(0);
    (void)umask(mask);
    return 0666 & ~mask;
}

/* Beside the target, so that it can be renamed there; of the target's name only the directory is used, since a long
 * name has no room for an ending. NULL when out of memory. */
static char *temporary_name(const char *target)
{
    static const char own[] = "damperwise.XXXXXX";
    const char *slash = strrchr(target, '/');
    const size_t before = slash != NULL ? (size_t)(slash - target) + 1 : 0;
    char *name = malloc(before + sizeof own);
    if (name == NULL) return NULL;
    memcpy(name, target, before);
    memcpy(name + before, own, sizeof own);
    return name;
}

/* Owner and group first: changing them may take bits from the mode. */
static dw_status take_over(int fd, const struct stat *old, const char **message)
{
    struct stat now;
    if (fstat(fd, &now) != 0) return refuse_errno(message, errno);
    const bool same = now.st_uid == old->st_uid && now.st_gid == old->st_gid;
    if (!same && fchown(fd, old->st_uid, old->st_gid) != 0) {
        return refuse(message, "it belongs to another user or group, and would not after being replaced");
    }
    return fchmod(fd, old->st_mode & 07777) == 0 ? DW_OK : refuse_errno(message, errno);
}

/* Renaming does not ask whether the old file may be written to; writing does. */
static bool may_write(const char *path)
{
    const int fd = open(path, O_WRONLY | O_NOCTTY);
    if (fd >= 0) (void)close(fd);
    return fd >= 0;
}

/* old: NULL for a new file. */
static dw_status open_beside(dw_output_file *file, const struct stat *old, const char **message)
{
    if (old != NULL && !may_write(file->target)) return refuse_errno(message, errno);
    char *name = temporary_name(file->target);
    if (name == NULL) return refuse_errno(message, ENOMEM);
    file->fd = mkstemp(name);
    if (file->fd < 0) {
        const int why = errno;
        free(name);
        return refuse_errno(message, why);
    }
    file->temporary = name;
    if (old != NULL) return take_over(file->fd, old, message);
    return fchmod(file->fd, usual_mode()) == 0 ? DW_OK : refuse_errno(message, errno);
}

/* What is at the path, links followed. *exists is false where a new file can be made. */
static dw_status look(const char *path, const dw_output_kept *kept, struct stat *old, bool *exists,
                      const char **message)
{
    struct stat link;
    *exists = stat(path, old) == 0;
    if (!*exists) {
        const int why = errno;
        if (lstat(path, &link) == 0 && S_ISLNK(link.st_mode)) {
            if (why == ENOENT) return refuse(message, "it is a link to a file that does not exist");
            if (why == ELOOP) return refuse(message, "it is a link that leads back to itself");
        }
        return why == ENOENT ? DW_OK : refuse_errno(message, why);
    }
    if (S_ISDIR(old->st_mode)) return refuse(message, "it is a directory");
    if (!S_ISREG(old->st_mode) || kept == NULL) return DW_OK;
    if (is_input(old, kept->input)) return refuse(message, "it is the input, which would be lost");
    if (is_in_config(old, kept->config)) {
        return refuse(message, "it is a data file of --config, which would be lost");
    }
    return DW_OK;
}

dw_status dw_output_begin(dw_output_file *file, const char *path, const dw_output_kept *kept,
                          const char **message)
{
    *file = (dw_output_file){.fd = -1};
    *message = "";
    struct stat old;
    bool exists;
    dw_status status = look(path, kept, &old, &exists, message);
    if (status != DW_OK) return status;
    if (exists && !S_ISREG(old.st_mode)) {
        file->fd = open(path, O_WRONLY | O_NOCTTY);
        return file->fd >= 0 ? DW_OK : refuse_errno(message, errno);
    }
    /* Renaming over a link would put a file in the link's place. */
    file->target = exists ? realpath(path, NULL) : strdup(path);
    if (file->target == NULL) return refuse_errno(message, errno);
    status = open_beside(file, exists ? &old : NULL, message);
    if (status != DW_OK) dw_output_abandon(file);
    return status;
}

/* ---- writing ------------------------------------------------------------------------------ */

dw_status dw_output_add(dw_output_file *file, const char *text, size_t length,
                        const char **message)
{
    while (length > 0) {
        const ssize_t done = write(file->fd, text, length);
        if (done < 0 && errno == EINTR) continue;
        if (done < 0) return refuse_errno(message, errno);
        text += done;
        length -= (size_t)done;
    }
    return DW_OK;
}

dw_status dw_output_end(dw_output_file *file, const char **message)
{
    *message = "";
    bool good = file->temporary == NULL || fsync(file->fd) == 0;
    int why = errno;
    if (close(file->fd) != 0 && good) {
        good = false;
        why = errno;
    }
    file->fd = -1;
    if (good && file->temporary != NULL) {
        good = rename(file->temporary, file->target) == 0;
        why = errno;
        if (good) file->temporary[0] = '\0';
    }
    dw_output_abandon(file);
    return good ? DW_OK : refuse_errno(message, why);
}

void dw_output_abandon(dw_output_file *file)
{
    if (file->fd >= 0) (void)close(file->fd);
    if (file->temporary != NULL && file->temporary[0] != '\0') (void)unlink(file->temporary);
    free(file->temporary);
    free(file->target);
    *file = (dw_output_file){.fd = -1};
}

dw_status dw_output_write(const char *path, const dw_output_kept *kept, const char *text,
                          size_t length, const char **message)
{
    /* An interrupt waits until the new file is in its place or gone. */
    sigset_t block, before;
    (void)sigemptyset(&block);
    (void)sigaddset(&block, SIGINT);
    (void)sigaddset(&block, SIGTERM);
    (void)sigaddset(&block, SIGHUP);
    (void)sigprocmask(SIG_BLOCK, &block, &before);
    dw_output_file file;
    dw_status status = dw_output_begin(&file, path, kept, message);
    if (status == DW_OK) status = dw_output_add(&file, text, length, message);
    if (status == DW_OK) {
        status = dw_output_end(&file, message);
    } else {
        dw_output_abandon(&file);
    }
    (void)sigprocmask(SIG_SETMASK, &before, NULL);
    return status;
}

dw_status dw_output_put(const char *text, size_t length, const char **message)
{
    *message = "";
    errno = 0;
    if (fwrite(text, 1, length, stdout) == length) return DW_OK;
    return refuse_errno(message, errno);
}

dw_status dw_output_close(const char **message)
{
    *message = "";
    errno = 0;
    const bool good = fflush(stdout) == 0;
    const int why = errno;
    const bool closed = fclose(stdout) == 0;
    if (good && closed) return DW_OK;
    return refuse_errno(message, good ? errno : why);
}

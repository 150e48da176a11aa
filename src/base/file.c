/*
 * file.c: whole files, read with a limit and written by a temporary file and rename, so that a
 * reader of the file sees the old text or the new one and never a part.
 */
#define _XOPEN_SOURCE 700 /* realpath */

#include "base/file.h"

#include "base/alloc.h"
#include "base/number.h"
#include "base/text.h"
#include "base/try.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define CHUNK          (64u * 1024)
#define TEMPORARY_MOST 100 /* names tried for a temporary file */

/* What an errno means to a person with a file in mind. */
static const struct {
    int code;
    const char *text;
} reason_row[] = {
    {ENOENT, "there is no such file or folder"},
    {ENOTDIR, "a part of its path is not a folder"},
    {EISDIR, "it is a folder; give a file"},
    {EACCES, "there is no permission"},
    {EPERM, "there is no permission"},
    {EROFS, "the file system is read-only"},
    {ENOSPC, "the disk is full"},
    {EFBIG, "it would be larger than the system allows"},
    {ENAMETOOLONG, "its name is too long"},
    {ELOOP, "its symbolic links go round in a circle"},
};

enum wf_status wf_file_fail(struct wf_error *e, const char *path, const char *deed, int code)
{
    for (size_t i = 0; i < WF_COUNT_OF(reason_row); i++)
        if (reason_row[i].code == code)
            return wf_error_add(e, WF_FILE, "%s: cannot %s it: %s", path, deed, reason_row[i].text);
    return wf_error_add(e, WF_FILE, "%s: cannot %s it: system error %d", path, deed, code);
}

static enum wf_status out_of_memory(struct wf_error *e, const char *path)
{
    return wf_error_add(e, WF_MEMORY, "%s: out of memory", path);
}

/* ---- Reading --------------------------------------------------------------------------------- */

/* read(2) again after a signal. */
static ssize_t read_some(int fd, char *to, size_t size)
{
    ssize_t n;
    do
        n = read(fd, to, size);
    while (n < 0 && errno == EINTR);
    return n;
}

static enum wf_status read_all(int fd, const char *path, struct wf_text *t, struct wf_error *e)
{
    char *chunk = wf_alloc(CHUNK, 1);
    enum wf_status status = WF_OK;
    ssize_t n = 1;
    if (!chunk)
        return out_of_memory(e, path);
    wf_text_append(t, "", 0); /* so that an empty file is "" */
    while (!t->failed && t->length <= WF_FILE_MOST && (n = read_some(fd, chunk, CHUNK)) > 0)
        wf_text_append(t, chunk, (size_t)n);
    int code = errno; /* of read_some, where it failed */
    if (t->failed)
        status = out_of_memory(e, path);
    else if (n < 0)
        status = wf_file_fail(e, path, "read", code);
    else if (t->length > WF_FILE_MOST)
        status = wf_error_add(e, WF_FILE, "%s: it is larger than %u MiB, the most that is read",
                              path, WF_FILE_MOST / (1024 * 1024));
    wf_free(chunk);
    return status;
}

enum wf_status wf_file_read(const char *path, char **text, size_t *length, struct wf_error *e)
{
    bool standard = strcmp(path, "-") == 0;
    const char *name = standard ? "standard input" : path;
    struct wf_text t = {0};
    int fd = standard ? STDIN_FILENO : open(path, O_RDONLY | O_CLOEXEC);
    if (fd < 0)
        return wf_file_fail(e, name, "read", errno);
    enum wf_status status = read_all(fd, name, &t, e);
    if (!standard)
        close(fd);
    if (status != WF_OK) {
        wf_text_free(&t);
        return status;
    }
    *text = t.data;
    *length = t.length;
    return WF_OK;
}

/* ---- Writing --------------------------------------------------------------------------------- */

static bool write_all(int fd, const char *text, size_t length)
{
    while (length > 0) {
        ssize_t n = write(fd, text, length);
        if (n < 0 && errno == EINTR)
            continue;
        if (n < 0)
            return false;
        text += n;
        length -= (size_t)n;
    }
    return true;
}

/* Opens a new file beside `path`, with the permissions that the umask gives, and leaves its name in
 * `name`. */
static int open_temporary(const char *path, char *name, size_t size)
{
    int fd = -1;
    for (int i = 0; i < TEMPORARY_MOST; i++) {
        wf_snprintf(name, size, "%s.%ld-%d.tmp", path, (long)getpid(), i);
        fd = open(name, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        if (fd >= 0 || errno != EEXIST)
            break;
    }
    return fd;
}

/* A device or a pipe is no file to replace: what is written to it cannot be taken back. (A folder
 * comes here too, and cannot be opened.) */
static enum wf_status write_to_device(const char *path, const char *text, size_t length,
                                      struct wf_error *e)
{
    int fd = open(path, O_WRONLY | O_CLOEXEC);
    if (fd < 0)
        return wf_file_fail(e, path, "write", errno);
    bool good = write_all(fd, text, length);
    int code = errno;
    if (close(fd) != 0 && good) {
        good = false;
        code = errno;
    }
    return good ? WF_OK : wf_file_fail(e, path, "write", code);
}

/* A name is on the disk once its folder is. Where a file system cannot do that for a folder there
 * is nothing more to be done. */
static void keep_name(const char *path)
{
    char folder[PATH_MAX];
    const char *slash = strrchr(path, '/');
    size_t length = slash ? (size_t)(slash - path) : 0;
    if (length >= sizeof folder)
        return;
    memcpy(folder, path, length);
    folder[length] = '\0';
    int fd = open(length > 0 ? folder : slash ? "/" : ".", O_RDONLY | O_CLOEXEC);
    if (fd < 0)
        return;
    (void)fsync(fd);
    close(fd);
}

/* The temporary file's life: filled, on the disk, then renamed over `path`, or gone. */
static enum wf_status replace(const char *path, const struct stat *old, char *name, size_t size,
                              const char *text, size_t length, struct wf_error *e)
{
    int fd = open_temporary(path, name, size);
    if (fd < 0)
        return wf_file_fail(e, path, "write", errno);
    bool good = (!old || fchmod(fd, old->st_mode & 07777) == 0) && write_all(fd, text, length) &&
                fsync(fd) == 0;
    int code = errno;
    if (close(fd) != 0 && good) {
        good = false;
        code = errno;
    }
    if (good && rename(name, path) != 0) {
        good = false;
        code = errno;
    }
    if (good)
        return WF_OK;
    unlink(name);
    return wf_file_fail(e, path, "write", code);
}

enum wf_status wf_file_write(const char *path, const char *text, size_t length, struct wf_error *e)
{
    struct stat old;
    bool exists = stat(path, &old) == 0;
    if (exists && !S_ISREG(old.st_mode))
        return write_to_device(path, text, length, e);

    /* A symbolic link stays: the file that it points to is replaced. */
    char target[PATH_MAX];
    if (exists && realpath(path, target))
        path = target;
    size_t size = strlen(path) + 64;
    char *name = wf_alloc(size, 1);
    if (!name)
        return out_of_memory(e, path);
    enum wf_status status = replace(path, exists ? &old : NULL, name, size, text, length, e);
    wf_free(name);
    return status;
}

enum wf_status wf_file_write_beside(const char *path, const char *like, const char *text,
                                    size_t length, struct wf_error *e)
{
    struct stat old;
    bool exists = stat(like, &old) == 0;
    size_t size = strlen(path) + 64;
    char *name = wf_alloc(size, 1);
    if (!name)
        return out_of_memory(e, path);
    enum wf_status status = replace(path, exists ? &old : NULL, name, size, text, length, e);
    if (status == WF_OK)
        keep_name(path);
    wf_free(name);
    return status;
}

enum wf_status wf_file_move(const char *from, const char *to, struct wf_error *e)
{
    if (rename(from, to) != 0)
        return wf_file_fail(e, to, "write", errno);
    keep_name(to);
    return WF_OK;
}

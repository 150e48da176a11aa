/*
 * file.c: whole files, read with a limit and written by a temporary file and rename, so that a
 * reader of the file sees the old text or the new one and never a part.
 */
#define _XOPEN_SOURCE 700 /* realpath */

#include "base/file.h"

#include "base/alloc.h"
#include "base/temporary.h"
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

#define CHUNK ((size_t)64 * 1024)

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
        status = wf_error_add(e, WF_FILE, "%s: it is larger than %zu MiB, the most that is read",
                              path, WF_FILE_MOST / ((size_t)1024 * 1024));
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

/* Whose the old file is, and who may read it, before the new one holds anything. Where its group
 * cannot be given on, that group's leave is not given to another. */
static bool take_after(int fd, const struct stat *old)
{
    struct stat made;
    mode_t mode = old->st_mode & 07777;
    if (fstat(fd, &made) != 0)
        return false;
    bool same = made.st_uid == old->st_uid && made.st_gid == old->st_gid;
    if (!same && fchown(fd, old->st_uid, old->st_gid) != 0 && made.st_gid != old->st_gid)
        mode &= ~(mode_t)(S_ISUID | S_ISGID | S_IRWXG);
    return fchmod(fd, mode) == 0;
}

/* Fills a temporary file and puts it in the place of `path`, or takes it away. Once it is on the
 * disk, closing it can bring no more errors; it is closed last since its lock goes with it. */
static enum wf_status replace(const char *path, const struct stat *old, const char *text,
                              size_t length, struct wf_error *e)
{
    struct wf_temporary t;
    int code = wf_temporary_begin(path, old ? 0600 : 0666, &t);
    if (code == ENOMEM)
        return out_of_memory(e, path);
    if (code != 0)
        return wf_file_fail(e, path, "write", code);
    bool good = (!old || take_after(t.fd, old)) && write_all(t.fd, text, length) &&
                fsync(t.fd) == 0 && rename(t.name, path) == 0;
    code = errno;
    wf_temporary_end(&t, good);
    return good ? WF_OK : wf_file_fail(e, path, "write", code);
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
    return replace(path, exists ? &old : NULL, text, length, e);
}

enum wf_status wf_file_write_beside(const char *path, const char *like, const char *text,
                                    size_t length, struct wf_error *e)
{
    struct stat old;
    bool exists = stat(like, &old) == 0;
    enum wf_status status = replace(path, exists ? &old : NULL, text, length, e);
    if (status == WF_OK)
        keep_name(path);
    return status;
}

enum wf_status wf_file_move(const char *from, const char *to, struct wf_error *e)
{
    if (rename(from, to) != 0)
        return wf_file_fail(e, to, "write", errno);
    keep_name(to);
    return WF_OK;
}

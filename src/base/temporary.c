/* temporary.c: see temporary.h. */
#define _DEFAULT_SOURCE /* flock */

#include "base/temporary.h"

#include "base/alloc.h"
#include "base/number.h"
#include "base/try.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#define NAMES_TRIED 100
#define NAME_MORE   64 /* bytes that a temporary file's name is longer */
#define ENDING      ".wortfit-new"

/* ---- Signals --------------------------------------------------------------------------------- */

/* Those that end a process from outside, and those of a limit that writing may meet. */
static const int held[] = {SIGINT, SIGTERM, SIGHUP, SIGQUIT, SIGPIPE, SIGALRM, SIGXCPU, SIGXFSZ};

static void hold_signals(sigset_t *before)
{
    sigset_t set;
    sigemptyset(&set);
    for (size_t i = 0; i < WF_COUNT_OF(held); i++)
        sigaddset(&set, held[i]);
    pthread_sigmask(SIG_BLOCK, &set, before);
}

/* ---- What others left ------------------------------------------------------------------------ */

/* Whether the open file still has that name. */
static bool is_still_there(int fd, const char *name)
{
    struct stat open_one, there;
    return fstat(fd, &open_one) == 0 && lstat(name, &there) == 0 &&
           open_one.st_dev == there.st_dev && open_one.st_ino == there.st_ino;
}

/* Whether the name in a folder is `base`, ".PID-NUMBER.wortfit-new". */
static bool is_temporary_of(const char *name, const char *base)
{
    static const char digits[] = "0123456789";
    size_t length = strlen(base);
    if (strncmp(name, base, length) != 0 || name[length] != '.')
        return false;
    name += length + 1;
    size_t pid = strspn(name, digits);
    if (pid == 0 || name[pid] != '-')
        return false;
    name += pid + 1;
    size_t number = strspn(name, digits);
    return number > 0 && strcmp(name + number, ENDING) == 0;
}

/* Takes the file away if it is ours and nobody holds it. */
static void remove_if_left(const char *name)
{
    struct stat info;
    int fd = open(name, O_RDWR | O_NOFOLLOW | O_NONBLOCK | O_NOCTTY | O_CLOEXEC);
    if (fd < 0)
        return;
    if (fstat(fd, &info) == 0 && S_ISREG(info.st_mode) && info.st_uid == geteuid() &&
        flock(fd, LOCK_EX | LOCK_NB) == 0 && is_still_there(fd, name))
        (void)unlink(name);
    close(fd);
}

/* `name` has room for any temporary file of the path. Where the folder cannot be read they stay. */
static void remove_left(const char *path, char *name, size_t size)
{
    const char *slash = strrchr(path, '/');
    const char *base = slash ? slash + 1 : path;
    int folder = (int)(base - path);
    wf_snprintf(name, size, "%.*s.", folder, path);
    DIR *d = opendir(name);
    if (!d)
        return;
    for (const struct dirent *f = readdir(d); f; f = readdir(d)) {
        if (!is_temporary_of(f->d_name, base) || (size_t)folder + strlen(f->d_name) >= size)
            continue;
        wf_snprintf(name, size, "%.*s%s", folder, path, f->d_name);
        remove_if_left(name);
    }
    closedir(d);
}

/* ---- One's own ------------------------------------------------------------------------------- */

/* Opens a new file, and locks it; another may have taken it for left before that. Where there are
 * no locks there is nobody who takes it. */
static int open_locked(const char *path, mode_t mode, char *name, size_t size)
{
    int fd = -1;
    for (int i = 0; i < NAMES_TRIED; i++) {
        struct timespec t;
        clock_gettime(CLOCK_MONOTONIC, &t);
        wf_snprintf(name, size, "%s.%ld-%ld" ENDING, path, (long)getpid(), t.tv_nsec);
        fd = open(name, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, mode);
        if (fd < 0 && errno != EEXIST)
            break;
        if (fd < 0)
            continue;
        while (flock(fd, LOCK_EX) != 0 && errno == EINTR)
            ;
        if (is_still_there(fd, name))
            break;
        close(fd);
        fd = -1;
        errno = EEXIST;
    }
    return fd;
}

int wf_temporary_begin(const char *path, mode_t mode, struct wf_temporary *out)
{
    size_t size = strlen(path) + NAME_MORE;
    out->name = wf_alloc(size, 1);
    if (!out->name)
        return ENOMEM;
    hold_signals(&out->before);
    remove_left(path, out->name, size);
    out->fd = open_locked(path, mode, out->name, size);
    if (out->fd >= 0)
        return 0;
    int code = errno;
    pthread_sigmask(SIG_SETMASK, &out->before, NULL);
    wf_free(out->name);
    return code;
}

void wf_temporary_end(struct wf_temporary *t, bool renamed)
{
    if (!renamed)
        (void)unlink(t->name);
    close(t->fd);
    pthread_sigmask(SIG_SETMASK, &t->before, NULL);
    wf_free(t->name);
}

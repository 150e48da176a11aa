/* lock.c: see lock.h. By flock(2), which belongs to the open file and not, as the locks of fcntl(2)
 * do, to the process, which would lose them as soon as any part of it closes the same file. */
#define _DEFAULT_SOURCE /* flock */

#include "base/lock.h"

#include "base/file.h"

#include <errno.h>
#include <fcntl.h>
#include <stdbool.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#define PAUSE_NANOSECONDS 5000000L

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* Waits until the lock is had. 0, or an errno: EWOULDBLOCK once the time is over. */
static int wait_for(int fd, double end)
{
    const struct timespec pause = {.tv_nsec = PAUSE_NANOSECONDS};
    while (flock(fd, LOCK_EX | LOCK_NB) != 0) {
        if (errno != EWOULDBLOCK && errno != EINTR)
            return errno;
        if (now() >= end)
            return EWOULDBLOCK;
        nanosleep(&pause, NULL);
    }
    return 0;
}

/* Whether the path still leads to the open file: it may have been replaced meanwhile. */
static bool is_still_there(int fd, const char *path)
{
    struct stat locked, there;
    return fstat(fd, &locked) == 0 && stat(path, &there) == 0 && locked.st_dev == there.st_dev &&
           locked.st_ino == there.st_ino;
}

static enum wf_status open_ordinary(const char *path, int *fd, struct wf_error *e)
{
    struct stat info;
    *fd = open(path, O_RDWR | O_CLOEXEC | O_NONBLOCK | O_NOCTTY);
    if (*fd < 0)
        return wf_file_fail(e, path, "change", errno);
    if (fstat(*fd, &info) == 0 && S_ISREG(info.st_mode))
        return WF_OK;
    close(*fd);
    return wf_error_add(e, WF_FILE, "%s: cannot change it: it is no ordinary file", path);
}

enum wf_status wf_lock_take(const char *path, double seconds, struct wf_lock *out,
                            struct wf_error *e)
{
    double end = now() + seconds;
    for (;;) {
        enum wf_status status = open_ordinary(path, &out->fd, e);
        if (status != WF_OK)
            return status;
        int code = wait_for(out->fd, end);
        if (code == 0 && is_still_there(out->fd, path))
            return WF_OK;
        close(out->fd);
        if (code == EWOULDBLOCK)
            return wf_error_add(e, WF_FILE,
                                "%s: cannot change it: another process is at it, and was not done "
                                "after %g s; try again",
                                path, seconds);
        if (code != 0)
            return wf_file_fail(e, path, "lock", code);
    }
}

void wf_lock_release(struct wf_lock *l)
{
    flock(l->fd, LOCK_UN); /* also where a child process has inherited the open file */
    close(l->fd);
    l->fd = -1;
}

/*
 * lock.h: one at a time: a file that is read, changed and written back by several processes.
 */
#ifndef WF_LOCK_H
#define WF_LOCK_H

#include "wortfit/status.h"

struct wf_lock {
    int fd;
};

/*
 * Locks the ordinary file at `path`, which may be written to, against all others who lock it here,
 * and waits up to so many seconds for one who has. The file itself is locked: nothing is left
 * behind, and a process that is killed lets go. While the lock is held the file may be replaced by
 * wf_file_write; who waited then locks the new one. Threads of one process exclude each other too.
 */
enum wf_status wf_lock_take(const char *path, double seconds, struct wf_lock *out,
                            struct wf_error *e) WF_MUST_USE;
void wf_lock_release(struct wf_lock *l);

#endif

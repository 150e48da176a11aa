/*
 * temporary.h: the new text of a file, while it is written beside it.
 *
 * `cellar.json` is written as `cellar.json.PID-NUMBER.wortfit-new`, by its id and the nanosecond.
 * From begin to end the signals that would end the process wait, so that it leaves no temporary
 * file; what a kill or a power cut leaves is taken away by the next who writes that file. A
 * temporary file is locked as long as someone writes it: what can be locked is nobody's.
 */
#ifndef WF_TEMPORARY_H
#define WF_TEMPORARY_H

#include <signal.h>
#include <stdbool.h>
#include <sys/types.h>

struct wf_temporary {
    int fd;
    char *name;
    sigset_t before; /* signals that waited already */
};

/* Opens a new file, with that mode less the umask. 0, or an errno and nothing to end. */
int wf_temporary_begin(const char *path, mode_t mode, struct wf_temporary *out);
/* Closes it, and unless it was renamed takes it away. */
void wf_temporary_end(struct wf_temporary *t, bool renamed);

#endif

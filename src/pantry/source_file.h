/* source_file.h: a file's text with the name that messages give it. */
#ifndef WF_SOURCE_FILE_H
#define WF_SOURCE_FILE_H

#include "wortfit/status.h"

#include <stddef.h>

struct wf_source_file {
    const char *name; /* the path, or "standard input" for "-" */
    char *text;
    size_t length;
};

/* On failure there is nothing to close. */
enum wf_status wf_source_file_open(const char *path, struct wf_source_file *out,
                                   struct wf_error *e) WF_MUST_USE;
void wf_source_file_close(struct wf_source_file *f);

#endif

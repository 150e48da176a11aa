/*
 * file.h: whole files in and out. A file is written whole or not at all.
 */
#ifndef WF_FILE_H
#define WF_FILE_H

#include "wortfit/status.h"

#include <stddef.h>

#define WF_FILE_MOST ((size_t)16 * 1024 * 1024) /* bytes; a larger input file is refused */

/* Reads a regular file ("-" is standard input). *text is the caller's to wf_free, with a NUL after
 * its *length bytes. Errors name the file and say what would be right: missing, a directory, not
 * readable, larger than WF_FILE_MOST. */
enum wf_status wf_file_read(const char *path, char **text, size_t *length,
                            struct wf_error *e) WF_MUST_USE;

/* Writes by a temporary file in the same folder, fsync and rename; on any failure the old file is
 * untouched and the temporary one is gone. */
enum wf_status wf_file_write(const char *path, const char *text, size_t length,
                             struct wf_error *e) WF_MUST_USE;

/* The same for a file that will take the place of another, `like`, whose permissions it gets; where
 * `path` is a symbolic link, the link itself is replaced. On WF_OK the name, too, is on the disk.
 */
enum wf_status wf_file_write_beside(const char *path, const char *like, const char *text,
                                    size_t length, struct wf_error *e) WF_MUST_USE;

/* Gives a file another name in its folder, whole or not at all; on WF_OK that is on the disk. */
enum wf_status wf_file_move(const char *from, const char *to, struct wf_error *e) WF_MUST_USE;

/* WF_FILE with what the errno `code` means to a person: "<path>: cannot <deed> it: <why>". */
enum wf_status wf_file_fail(struct wf_error *e, const char *path, const char *deed, int code);

#endif

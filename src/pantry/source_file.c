/* source_file.c: see source_file.h. */
#include "pantry/source_file.h"

#include "base/alloc.h"
#include "base/file.h"

#include <string.h>

enum wf_status wf_source_file_open(const char *path, struct wf_source_file *out, struct wf_error *e)
{
    out->name = strcmp(path, "-") == 0 ? "standard input" : path;
    return wf_file_read(path, &out->text, &out->length, e);
}

void wf_source_file_close(struct wf_source_file *f)
{
    wf_free(f->text);
    f->text = NULL;
}

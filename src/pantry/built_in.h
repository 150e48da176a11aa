/* built_in.h: the embedded files as sources for the reader. */
#ifndef WF_BUILT_IN_H
#define WF_BUILT_IN_H

#include "catalogue/embedded.h"
#include "pantry/json_read.h"

struct wf_json_source wf_built_in_source(const struct wf_embedded *file);
/* The file of the name; WF_INTERNAL if the build left it out. */
enum wf_status wf_built_in_find(const struct wf_embedded *table, const char *name,
                                struct wf_json_source *out, struct wf_error *e) WF_MUST_USE;

#endif

/* built_in.c: see built_in.h. */
#include "pantry/built_in.h"

#include <string.h>

struct wf_json_source wf_built_in_source(const struct wf_embedded *file)
{
    return (struct wf_json_source){
        .name = file->name, .text = (const char *)file->text, .length = file->length};
}

enum wf_status wf_built_in_find(const struct wf_embedded *table, const char *name,
                                struct wf_json_source *out, struct wf_error *e)
{
    for (; table->name; table++)
        if (strcmp(table->name, name) == 0) {
            *out = wf_built_in_source(table);
            return WF_OK;
        }
    return wf_error_add(e, WF_INTERNAL, "no embedded file \"%s\"", name);
}

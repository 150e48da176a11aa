/* Files embedded at build time: see src/cmake/Embed.cmake. */
#ifndef WF_EMBEDDED_H
#define WF_EMBEDDED_H

#include <stddef.h>

struct wf_embedded {
    const char *name;          /* the file's name without its ending; NULL ends the table */
    const unsigned char *text; /* the file's bytes, followed by one NUL */
    size_t length;             /* in bytes, without that NUL */
};

extern const struct wf_embedded wf_embedded_catalogue[]; /* malts, hops, yeasts, sample shop */
extern const struct wf_embedded wf_embedded_targets[];   /* one a built-in beer */

#endif

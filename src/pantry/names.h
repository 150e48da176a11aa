/*
 * names.h: a set of names, each with a number, found in constant time.
 *
 * A name lives in a scope: the keys of one JSON object, the ids of one kind. The texts are the
 * caller's and must outlive the set. A zeroed struct is an empty set.
 */
#ifndef WF_NAMES_H
#define WF_NAMES_H

#include "wortfit/status.h"

#include <stddef.h>

struct wf_name {
    const char *text; /* not NUL-terminated: length counts */
    size_t length;
    size_t scope;
    size_t value; /* what the caller wants to find again */
};

struct wf_names {
    struct wf_name *slots; /* open addressing; a free slot has no text */
    size_t capacity;       /* a power of two, or 0 */
    size_t count;
};

/* Adds a name. Where it is already there nothing changes and *old is that one, else NULL. */
enum wf_status wf_names_add(struct wf_names *n, struct wf_name name,
                            const struct wf_name **old) WF_MUST_USE;
/* The name, or NULL. */
const struct wf_name *wf_names_find(const struct wf_names *n, size_t scope, const char *text,
                                    size_t length);
void wf_names_free(struct wf_names *n); /* and makes it empty again */

#endif

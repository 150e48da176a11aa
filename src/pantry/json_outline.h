/*
 * json_outline.h: where every value of an accepted text stands, as a tree.
 *
 * What json_locate.h finds anew for one message, this keeps for many edits.
 */
#ifndef WF_JSON_OUTLINE_H
#define WF_JSON_OUTLINE_H

#include "wortfit/status.h"

#include <stddef.h>

/* Offsets in the text: a key with its quotes is [key, key_end), a value [value, end). What has no
 * key (items of lists, the root) has key = key_end = value. */
struct wf_json_node {
    size_t key, key_end, value, end;
    size_t parent, child, next; /* nodes, children in their order; 0, the root: there is none */
    size_t count;               /* children */
};

struct wf_json_outline {
    struct wf_json_node *nodes; /* the root first, each before its children */
    size_t count, capacity;
};

/* text[0, length) is what wf_json_scan accepted and left. On failure there is nothing to free. */
enum wf_status wf_json_outline_make(const char *text, size_t length,
                                    struct wf_json_outline *out) WF_MUST_USE;
void wf_json_outline_free(struct wf_json_outline *o);

/* The child of an object with the key, or of a list at the index; 0: there is none. */
size_t wf_json_outline_member(const struct wf_json_outline *o, const char *text, size_t object,
                              const char *key);
size_t wf_json_outline_item(const struct wf_json_outline *o, size_t list, size_t index);

#endif

/*
 * json_locate.h: where a value of an accepted text stands.
 *
 * Nodes of the tree carry no place. It is found again only when there is something to say: by the
 * child indexes that lead to the value, skipping through the text.
 */
#ifndef WF_JSON_LOCATE_H
#define WF_JSON_LOCATE_H

#include "pantry/json_scan.h" /* WF_JSON_DEPTH_MOST */

/* The way from the root to a value: which child at each level, from 0. Depth 0 is the root. */
struct wf_json_way {
    size_t depth;
    size_t child[WF_JSON_DEPTH_MOST];
};

struct wf_json_spot {
    size_t key;        /* offset of the member's key, quote included; of the value if it has none */
    size_t value, end; /* offsets of the value: [value, end) */
};

/* text[0, length) is what wf_json_scan accepted and left; the way must lead to a value. */
struct wf_json_spot wf_json_locate(const char *text, size_t length, const struct wf_json_way *way);

#endif

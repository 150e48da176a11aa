/*
 * json_reading.h: what the parts of the table-driven reader share: json_read.c (files, objects),
 * json_value.c (values) and json_refuse.c (messages).
 */
#ifndef WF_JSON_READING_H
#define WF_JSON_READING_H

#include "pantry/json_read.h"

struct wf_json {
    struct wf_json_source source;
    size_t lines_before;                 /* in the file that the source is a line of */
    const struct wf_json_teller *teller; /* may be NULL */
    char *blanked; /* the text without its comments, offsets kept; for locating */
    const struct cJSON *root;
    struct wf_arena *arena;
    void *user;
    struct wf_error *error; /* may be NULL */
    size_t refused;         /* messages */
    bool no_memory;
};

/* The same as wf_json_refuse, at the member's key instead of its value. */
void wf_json_refuse_key(struct wf_json *j, const struct cJSON *node, const char *format, ...)
    WF_PRINTF(3, 4);

/* Reads an object's members by a table. */
void wf_json_read_object(struct wf_json *j, const struct wf_json_table *table,
                         const struct cJSON *node, void *at);

/* Whether a list's length is within its row's low..high; refuses it if not. */
bool wf_json_check_count(struct wf_json *j, const struct wf_json_field *f, const struct cJSON *node,
                         size_t count);

#endif

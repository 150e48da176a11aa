/*
 * json_put.h: writes indented JSON straight into a text: a machine's copy of a finished result
 * needs no tree. Numbers are the shortest text that reads back identical (number.h); one that is
 * not finite is left out together with its key, since JSON has no word for it. Small objects go on
 * one line.
 */
#ifndef WF_JSON_PUT_H
#define WF_JSON_PUT_H

#include "base/text.h"

#include <stdbool.h>

#define WF_JSON_DEPTH_MOST 16

/* Begin with {.out = &text}. Every open has its close; nesting is at most WF_JSON_DEPTH_MOST. */
struct wf_json_put {
    struct wf_text *out;
    int depth;
    bool begun[WF_JSON_DEPTH_MOST]; /* something stands in the object or list of this depth */
    bool flat[WF_JSON_DEPTH_MOST];  /* on one line */
};

/* `key` is NULL in a list and at the top. `bracket` is '{' or '['. */
void wf_put_open(struct wf_json_put *j, const char *key, char bracket, bool flat);
void wf_put_close(struct wf_json_put *j, char bracket);                        /* '}' or ']' */
void wf_put_string(struct wf_json_put *j, const char *key, const char *value); /* NULL: left out */
void wf_put_number(struct wf_json_put *j, const char *key, double value);
void wf_put_count(struct wf_json_put *j, const char *key, size_t value);
void wf_put_bool(struct wf_json_put *j, const char *key, bool value);

#endif

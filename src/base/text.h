/*
 * text.h: a string that grows. Failure is sticky: after memory runs out every add does nothing and
 * `failed` is set, so that a writer checks once, at its end. Numbers are written in the C locale
 * whatever locale the program has set.
 */
#ifndef WF_TEXT_H
#define WF_TEXT_H

#include <stdbool.h>
#include <stddef.h>

struct wf_text {
    char *data; /* NUL-terminated, or NULL while empty; freed by wf_text_free */
    size_t length, capacity;
    bool failed;
};

void wf_text_add(struct wf_text *t, const char *format, ...) __attribute__((format(printf, 2, 3)));
void wf_text_append(struct wf_text *t, const char *bytes, size_t length);
void wf_text_free(struct wf_text *t); /* and makes it empty again */

#endif

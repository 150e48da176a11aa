/*
 * json_place.h: from a byte of a text to the line and column that a person counts.
 */
#ifndef WF_JSON_PLACE_H
#define WF_JSON_PLACE_H

#include <stddef.h>

/* Both count from 1; columns are code points, and a byte order mark takes none. */
struct wf_json_place {
    size_t line, column;
};

struct wf_json_place wf_json_place(const char *text, size_t length, size_t offset);

#define WF_JSON_CARET_MAX 640 /* bytes, NUL included */

/*
 * Writes the line of `offset` and under it carets below its `span` bytes, each line indented by
 * four spaces, without a newline at the end. A long line is cut to what lies round the place.
 * Returns out.
 */
char *wf_json_caret(const char *text, size_t length, size_t offset, size_t span,
                    char out[WF_JSON_CARET_MAX]);

#endif

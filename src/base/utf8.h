/*
 * utf8.h: validity and width of UTF-8, and text made safe for a terminal.
 */
#ifndef WF_UTF8_H
#define WF_UTF8_H

#include <stdbool.h>
#include <stddef.h>

/* Length of the well-formed sequence at text (no overlong forms, no surrogates, at most U+10FFFF),
 * or 0. */
size_t wf_utf8_sequence(const unsigned char *text, size_t length);
/* Offset of the first byte that is not well-formed UTF-8, or length. */
size_t wf_utf8_first_bad(const char *text, size_t length);
/* Code points, for columns. */
size_t wf_utf8_count(const char *text, size_t length);

/* Copies text of any origin into out (size > 0, always NUL-terminated) as it may be shown on a
 * terminal: control characters, marks that change the direction of writing and bytes that are not
 * UTF-8 become '?'. What finds no room is cut between characters, with "..." at its end. Returns
 * out. */
char *wf_utf8_safe(const char *text, size_t length, char *out, size_t size);

#endif

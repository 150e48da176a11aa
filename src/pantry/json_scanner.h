/*
 * json_scanner.h: what the parts of the strict scan share: json_scan.c (structure and comments) and
 * json_token.c (strings, numbers, words). Each part returns false once the scan has failed.
 */
#ifndef WF_JSON_SCANNER_H
#define WF_JSON_SCANNER_H

#include "pantry/json_scan.h"
#include "pantry/names.h"

#include <stdbool.h>

struct wf_arena;

struct wf_json_scanner {
    char *text;
    size_t at, end;
    size_t depth, values, objects; /* open now; seen so far; seen so far */
    struct wf_names keys;          /* scope: the object's number; value: the key's offset */
    struct wf_arena *arena;        /* keys that are written with escapes; made when needed */
    struct wf_json_fault *fault;
    enum wf_status status;
};

struct wf_json_span {
    size_t offset, length;
};

/* The byte at the scan's place, or -1 at the end. */
int wf_json_peek(const struct wf_json_scanner *s);

/* Fails the scan at a place. Always false. */
bool wf_json_fail(struct wf_json_scanner *s, size_t offset, size_t span, const char *format, ...)
    WF_PRINTF(4, 5);
/* Fails at the scan's place: "found 'x' where <wanted> is wanted", with a hint if the character is
 * a usual slip. Always false. */
bool wf_json_fail_found(struct wf_json_scanner *s, const char *wanted);

/* A string, its quotes included; *inside is what lies between them. */
bool wf_json_scan_string(struct wf_json_scanner *s, struct wf_json_span *inside);
bool wf_json_scan_number(struct wf_json_scanner *s);
/* true, false or null. */
bool wf_json_scan_word(struct wf_json_scanner *s);

/* Decodes the escapes of a string that has been scanned into out (as long as the text); returns the
 * length, which is never more. */
size_t wf_json_unescape(const char *text, size_t length, char *out);

#endif

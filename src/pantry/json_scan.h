/*
 * json_scan.h: a strict reading of JSON text before a tree is built from it.
 *
 * It takes what RFC 8259 allows, in UTF-8, and comments of both C forms besides; no key twice in an
 * object, no text that a C string cannot hold, and the limits below. It finds the first error with
 * its place, which the tree library cannot tell. Text that passes is valid JSON.
 */
#ifndef WF_JSON_SCAN_H
#define WF_JSON_SCAN_H

#include "wortfit/quantity.h" /* WF_REASON_MAX */
#include "wortfit/status.h"

#include <stddef.h>

/* The size of the whole is limited to WF_FILE_MOST bytes. */
#define WF_JSON_DEPTH_MOST  64u      /* objects and lists in each other */
#define WF_JSON_STRING_MOST 4096u    /* bytes between the quotes, as written */
#define WF_JSON_NUMBER_MOST 60u      /* characters: trees before cJSON 1.7.19 cut longer ones */
#define WF_JSON_VALUES_MOST 1000000u /* values in all: each takes memory in the tree */

struct wf_json_fault {
    size_t offset, span; /* bytes: the place to point at */
    char reason[WF_REASON_MAX];
};

/*
 * Scans text[0, length). Comments and a byte order mark are overwritten with blanks, newlines kept,
 * so that an offset in the text stays an offset in the file. WF_OK; WF_BAD_INPUT with *fault
 * filled; or WF_MEMORY.
 */
enum wf_status wf_json_scan(char *text, size_t length, struct wf_json_fault *fault) WF_MUST_USE;

#endif

/*
 * json_edit.h: changes to a JSON text that leave every byte of the rest as it is: comments, order,
 * layout. What is added looks like what stands beside it.
 *
 * Values are found in the text as it was opened, by nodes (json_outline.h). Changes are noted and
 * made all at once by wf_json_edit_finish; what memory they take is the edit's, and running out of
 * it is told there too. A value or key is given as JSON: "\"4.5 kg\"", "true".
 */
#ifndef WF_JSON_EDIT_H
#define WF_JSON_EDIT_H

#include "pantry/json_outline.h"
#include "pantry/json_read.h"

struct wf_json_edit;

/* A new member of an object. */
struct wf_json_member {
    const char *key;   /* plain text, without quotes */
    const char *value; /* JSON */
};

/* The source's text must outlive the edit. WF_BAD_INPUT without a message: it is no JSON (whoever
 * edits a file has read it before). */
enum wf_status wf_json_edit_open(const struct wf_json_source *source, struct wf_json_edit **out,
                                 struct wf_error *e) WF_MUST_USE;
void wf_json_edit_free(struct wf_json_edit *e); /* NULL allowed */

const struct wf_json_node *wf_json_edit_node(const struct wf_json_edit *e, size_t node);
size_t wf_json_edit_member(const struct wf_json_edit *e, size_t object, const char *key);
size_t wf_json_edit_item(const struct wf_json_edit *e, size_t list, size_t index);
/* Whether the value at the node is written so. */
bool wf_json_edit_is(const struct wf_json_edit *e, size_t node, const char *value);
/* The text between the quotes of a string, decoded, or the value as it is written; cut at size. */
char *wf_json_edit_plain(const struct wf_json_edit *e, size_t node, char *out, size_t size);

/* The value at the node becomes another. */
void wf_json_edit_replace(struct wf_json_edit *e, size_t node, const char *value);
/* A member or an item goes, with its comma, and with its lines where it has them for itself. */
void wf_json_edit_remove(struct wf_json_edit *e, size_t node);
/* A member comes behind the last one of an object. */
void wf_json_edit_add(struct wf_json_edit *e, size_t object, struct wf_json_member member);
/* An object of these members comes behind the last one of the list under `key` in an object; a list
 * that is not there comes too. */
void wf_json_edit_append(struct wf_json_edit *e, size_t object, const char *key,
                         const struct wf_json_member *members, size_t count);

/* The text with all changes made, with a NUL behind its *length bytes; the caller's to wf_free. */
enum wf_status wf_json_edit_finish(struct wf_json_edit *e, char **text, size_t *length,
                                   struct wf_error *error) WF_MUST_USE;

#endif

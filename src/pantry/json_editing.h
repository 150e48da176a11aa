/*
 * json_editing.h: what the parts of the editor share: json_edit.c (changes noted and made),
 * json_settle.c (commas, blanks and lines round what comes and goes) and json_layout.c (how the
 * text is laid out, and what is added to it).
 */
#ifndef WF_JSON_EDITING_H
#define WF_JSON_EDITING_H

#include "pantry/json_edit.h"

#include "base/text.h"

struct wf_arena;

/* Something that comes behind the last child of a container. */
struct wf_json_addition {
    const char *text; /* key and value, or the item */
    struct wf_json_addition *next;
};

struct wf_json_additions {
    struct wf_json_addition *first, *last;
};

/* What happens to a node. */
struct wf_json_fate {
    bool removed;       /* itself */
    bool child_removed; /* of its children, one at least */
    struct wf_json_additions added;
};

/* A list that is to come into an object, with what comes into it. */
struct wf_json_new_list {
    size_t object;
    const char *key;
    struct wf_json_additions items;
    struct wf_json_new_list *next;
};

/* text[at, at + cut) becomes other text. */
struct wf_json_piece {
    size_t at, cut;
    const char *text;
    size_t length;
    size_t order; /* of those at one place */
};

struct wf_json_edit {
    struct wf_json_source source;
    char *blanked; /* the text without its comments, offsets kept */
    struct wf_json_outline outline;
    struct wf_json_fate *fates; /* by node */
    struct wf_json_new_list *new_lists;
    struct wf_json_piece *pieces;
    size_t piece_count, piece_capacity;
    struct wf_arena *arena;
    bool no_memory;
};

/* Notes a piece. */
void wf_json_piece(struct wf_json_edit *e, size_t at, size_t cut, const char *text);
/* The text as a string in the arena, or "" where memory ran out, which is noted. Frees t. */
const char *wf_json_keep(struct wf_json_edit *e, struct wf_text *t);

/* json_settle.c: the pieces that a container's changes come to. */
void wf_json_settle(struct wf_json_edit *e, size_t container);

/* ---- Layout (json_layout.c) ------------------------------------------------------------------ */

struct wf_json_slice {
    const char *text;
    size_t length;
};

/* Blanks that the line of an offset begins with, and whether nothing else stands before it. */
struct wf_json_slice wf_json_indent(const struct wf_json_edit *e, size_t offset);
bool wf_json_begins_line(const struct wf_json_edit *e, size_t offset);
/* Where the line ends (its newline, or the carriage return before that), if from the offset on
 * nothing but blanks and comments that end on it is in it; else WF_JSON_NO_END. */
#define WF_JSON_NO_END ((size_t)-1)
size_t wf_json_line_tail(const struct wf_json_edit *e, size_t offset);
/* Where the line before that of the offset ends; the offset's is not the first. */
size_t wf_json_line_before(const struct wf_json_edit *e, size_t offset);
/* Code points from the line's start to the offset. */
size_t wf_json_column(const struct wf_json_edit *e, size_t offset);
const char *wf_json_newline(const struct wf_json_edit *e); /* "\n" or "\r\n" */
/* What one level of the text is indented by. */
struct wf_json_slice wf_json_indent_unit(const struct wf_json_edit *e);
/* Whether each child begins a line. */
bool wf_json_in_lines(const struct wf_json_edit *e, size_t container);

#define WF_JSON_WIDTH 100u /* code points, past which a line that is added to is broken */

/* What stands between two children of a container in one line, behind the comma: " " or "". */
const char *wf_json_gap(const struct wf_json_edit *e, size_t container);
/* Adds "key": value as the members of an object are written. */
void wf_json_add_member_text(const struct wf_json_edit *e, size_t model,
                             const struct wf_json_member *m, struct wf_text *out);
/* Adds an object that comes behind the last one of a list (0: a new one). */
void wf_json_add_object_text(const struct wf_json_edit *e, size_t list,
                             const struct wf_json_member *members, size_t count,
                             struct wf_text *out);

#endif

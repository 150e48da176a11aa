/*
 * json_read.h: JSON files read by tables.
 *
 * A table says what an object may hold, a row a key: how its value is read, in which dimension,
 * where it is stored and within which limits. The reader knows no key by name. Values that are not
 * in the file leave the struct as it was, so defaults are set before.
 *
 * All errors of a file are told, each with file, line, column and path:
 *     store.json:5:28: malts[3].have: read "-1 kg"; a weight cannot be negative, ...
 */
#ifndef WF_JSON_READ_H
#define WF_JSON_READ_H

#include "wortfit/quantity.h"
#include "wortfit/status.h"

#include <stdbool.h>
#include <stddef.h>

struct wf_arena;
struct wf_json; /* a file being read */
struct cJSON;   /* a value in it; only json_*.c look inside */
struct wf_json_field;

/* Reads a value by its row into the struct at `at`, or refuses it. */
typedef void wf_json_reader(struct wf_json *j, const struct wf_json_field *f,
                            const struct cJSON *node, void *at);

struct wf_json_field {
    const char *key;
    wf_json_reader *read;
    size_t offset; /* of the member; see WF_JSON_AT */
    enum wf_dimension dimension;
    double low, high; /* of a figure, in its dimension's unit; of a list or text, its length */
    double scale;     /* what is stored is the figure x scale; 0 stands for 1 */
    double tolerance; /* of a bare aim; see wf_range_parse */
    bool required;
    bool plain;               /* a number without a unit is right too: it is what will be stored */
    const char *const *words; /* NULL-terminated */
    const struct wf_json_table *table; /* of an object, or of the items of a list */
};

#define WF_JSON_FIELDS_MOST 64

/* What an object may hold. `before` sets defaults, `after` makes the checks that need more than one
 * field; either may be NULL. */
struct wf_json_table {
    const struct wf_json_field *fields;
    size_t field_count;
    size_t size; /* bytes of the struct: what an item of a list takes */
    void (*before)(struct wf_json *j, const struct cJSON *node, void *at);
    void (*after)(struct wf_json *j, const struct cJSON *node, void *at);
};

/* The offset of a member that must be of the type: a table that mixes them up does not compile. */
#define WF_JSON_AT(struct_type, member, type)                                                      \
    (offsetof(struct_type, member) + 0 * sizeof(_Generic(((struct_type *)0)->member, type : 0)))

/* ---- Readers of values ----------------------------------------------------------------------- */

struct wf_json_list {
    void *items; /* in the arena */
    size_t count;
};

wf_json_reader wf_json_text;     /* const char *; at most `high` bytes */
wf_json_reader wf_json_id;       /* const char *: small letters, digits, single hyphens */
wf_json_reader wf_json_ids;      /* const char *const *, NULL-terminated; low..high of them. One
                                    text alone stands for a list of one */
wf_json_reader wf_json_texts;    /* the same of any text */
wf_json_reader wf_json_word;     /* int: the index in words */
wf_json_reader wf_json_bool;     /* bool */
wf_json_reader wf_json_date;     /* long, days since 1970-01-01 */
wf_json_reader wf_json_count;    /* int */
wf_json_reader wf_json_quantity; /* double */
wf_json_reader wf_json_range;    /* struct wf_range; limits hold for the aim, else for both ends */
wf_json_reader wf_json_object;   /* a struct, by `table` */
wf_json_reader wf_json_list;     /* struct wf_json_list of structs, by `table`; low..high of them */

/* ---- Reading a file -------------------------------------------------------------------------- */

struct wf_json_source {
    const char *name; /* in messages */
    const char *text;
    size_t length;
};

/*
 * Reads an object by its table into `at`; texts and lists go to the arena. `user` is for the
 * table's own functions. WF_OK only if nothing was refused.
 */
enum wf_status wf_json_read(const struct wf_json_source *source, const struct wf_json_table *table,
                            void *user, struct wf_arena *arena, void *at,
                            struct wf_error *e) WF_MUST_USE;

/*
 * For a text that was made from something else: a value of it is told where that stands. `tell`
 * gets the value's path ("malts[3].have") and writes what a message begins with; false: it knows
 * nothing of this value, which is told by file, line, column and path as always.
 */
#define WF_JSON_TOLD_MAX 1200
struct wf_json_teller {
    bool (*tell)(const void *data, const char *path, char out[WF_JSON_TOLD_MAX]);
    const void *data;
};

/* As wf_json_read; `teller` may be NULL. */
enum wf_status wf_json_read_told(const struct wf_json_source *source,
                                 const struct wf_json_teller *teller,
                                 const struct wf_json_table *table, void *user,
                                 struct wf_arena *arena, void *at, struct wf_error *e) WF_MUST_USE;

/* As wf_json_read, of one line of a file; so many stand before it. */
enum wf_status wf_json_read_line(const struct wf_json_source *source, size_t lines_before,
                                 const struct wf_json_table *table, void *user,
                                 struct wf_arena *arena, void *at, struct wf_error *e) WF_MUST_USE;

/* WF_MEMORY, said of the source. */
enum wf_status wf_json_out_of_memory(const struct wf_json_source *source, struct wf_error *e);

/* ---- For before, after and readers of one's own ---------------------------------------------- */

void *wf_json_user(const struct wf_json *j);
struct wf_arena *wf_json_arena(const struct wf_json *j);

const struct cJSON *wf_json_member(const struct cJSON *object, const char *key); /* or NULL */
const struct cJSON *wf_json_item(const struct cJSON *list, size_t index);        /* or NULL */
bool wf_json_has(const struct cJSON *object, const char *key);
const char *wf_json_string(const struct cJSON *node); /* its text, or NULL if it is not one */

/* Small letters, digits, single hyphens between them; not too long. */
bool wf_json_is_id(const char *text);

/* Adds a message about a value: "place: path: <message>". */
void wf_json_refuse(struct wf_json *j, const struct cJSON *node, const char *format, ...)
    WF_PRINTF(3, 4);
/* The same with what was read: "place: path: read "..."; <message>". */
void wf_json_refuse_read(struct wf_json *j, const struct cJSON *node, const char *format, ...)
    WF_PRINTF(3, 4);
/* The same where the message speaks of what was read: "place: path: read "...", which <why>". */
void wf_json_refuse_which(struct wf_json *j, const struct cJSON *node, const char *why);
/* Notes that memory ran out, which ends in WF_MEMORY. */
void wf_json_no_memory(struct wf_json *j);

/* `; the nearest is "..."`, or "" where no word is near. Returns out. */
char *wf_json_nearest(const char *word, const char *const *words, size_t count,
                      char out[WF_REASON_MAX]);
/* "base, caramel, roast"; what finds no room is told by "...". Returns out. */
char *wf_json_join(const char *const *words, size_t count, char out[WF_REASON_MAX]);

#endif

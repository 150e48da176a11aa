/*
 * report_list.h: malts, hops, yeasts and beers as lists and one by one. A kind of thing is a table
 * of fields (list_kinds.c); the same table gives the columns of the list, the lines of the page
 * about one and the keys of the JSON.
 */
#ifndef WF_REPORT_LIST_H
#define WF_REPORT_LIST_H

#include "report/style.h"

#include <stdbool.h>
#include <stddef.h>

enum wf_field_kind {
    WF_FIELD_TEXT,   /* const char *; NULL or "": nothing */
    WF_FIELD_TEXTS,  /* const char *const *, NULL-terminated; NULL: nothing */
    WF_FIELD_FIGURE, /* double; NaN: nothing */
    WF_FIELD_SPAN,   /* two doubles, low at `offset` and high at `high` */
    WF_FIELD_RANGE,  /* struct wf_range; any: nothing */
    WF_FIELD_CLASS,  /* enum wf_malt_class */
    WF_FIELD_YES,    /* bool */
    WF_FIELD_SCORES, /* doubles, `count` of them, of the words from `first` on */
    WF_FIELD_KIND_COUNT
};

struct wf_field {
    const char *key;   /* in JSON; NULL ends the table */
    const char *label; /* for people */
    enum wf_field_kind kind;
    enum wf_dimension dimension;
    size_t offset, high; /* of the member in the thing's struct */
    int first, count;    /* scores */
    bool listed;         /* a column of the list */
    bool elsewhere;      /* on the page about one thing, `more` shows it */
    size_t most;         /* widest that column gets, in code points; 0: any */
    const char *column;  /* its title where the unit stands there and not in each cell; or NULL */
};

struct wf_item_kind {
    const char *plural;            /* "malts": for messages, and the key of the JSON list */
    const struct wf_field *fields; /* id first, then name */
    /* Adds to the page about one what fields cannot say; or NULL. */
    void (*more)(struct wf_text *out, const void *item, const struct wf_report_style *s);
};

extern const struct wf_item_kind wf_kind_malt, wf_kind_hop, wf_kind_yeast, wf_kind_beer;

/* A list, a line each; the page about one thing; either as JSON. Items are pointers to structs of
 * the kind. *out is the caller's to free with wf_text_release(). */
enum wf_status wf_report_list_text(const struct wf_item_kind *kind, const void *const *items,
                                   size_t count, const struct wf_report_style *s, char **out,
                                   struct wf_error *e) WF_MUST_USE;
enum wf_status wf_report_item_text(const struct wf_item_kind *kind, const void *item,
                                   const struct wf_report_style *s, char **out,
                                   struct wf_error *e) WF_MUST_USE;
enum wf_status wf_report_list_json(const struct wf_item_kind *kind, const void *const *items,
                                   size_t count, char **out, struct wf_error *e) WF_MUST_USE;

/* The words of character, those of malts then those of hops. */
enum wf_status wf_report_words_text(const struct wf_report_style *s, char **out,
                                    struct wf_error *e) WF_MUST_USE;
enum wf_status wf_report_words_json(char **out, struct wf_error *e) WF_MUST_USE;

#endif

/*
 * stock.h: changes to the lots of a store file.
 *
 * A store file is a brewer's own: its comments, its order and its layout stay, and what no change
 * speaks of keeps every byte. All changes of a call are made, or none: what they come to is read as
 * a store before it is written, everything that is wrong is told at once, and the file is replaced
 * whole. Two processes that change one file do so one after the other.
 */
#ifndef WORTFIT_STOCK_H
#define WORTFIT_STOCK_H

#include "wortfit/pantry.h"

enum wf_stock_deed {
    WF_STOCK_ADD,    /* a new lot */
    WF_STOCK_SET,    /* what is written of a lot */
    WF_STOCK_PUT,    /* set where the lot is there, else add */
    WF_STOCK_USE,    /* take an amount out: what is left is written, "0 kg" where that is nothing */
    WF_STOCK_REMOVE, /* the lot goes out of the file */
};

/* One key of a lot. */
struct wf_stock_field {
    const char *key;   /* as in a store file: "have", "colour"; or "kind": malt, hop or yeast */
    const char *text;  /* as a brewer writes it: "85 g", "yes", "caramel 4, body 1"; "": the key is
                          taken out */
    const char *place; /* what a message about it begins with: "spring.csv:3:12: have" */
};

struct wf_stock_change {
    enum wf_stock_deed deed;
    enum wf_kind kind; /* WF_KIND_COUNT: that of the lot, or of the catalogue's entry, of the id */
    const char *id;
    const char *place; /* as in a field, of the lot as a whole */
    const struct wf_stock_field *fields;
    size_t field_count;
    const char *take;       /* to use: a weight, or a number of packs of yeast */
    const char *take_place; /* as in a field */
};

/* What became of a change. */
struct wf_stock_outcome {
    enum wf_kind kind;
    size_t index; /* the lot's place in its list, afterwards (before, of one removed) */
    bool added;
    bool same; /* all that was asked for stood there already */
};

/* The text of a store, changed. *out is the caller's to wf_text_release (solve.h). `outcomes` has
 * room for one a change, or is NULL. */
enum wf_status wf_stock_edit(const char *name, const char *text, size_t length,
                             const struct wf_catalogue *c, const struct wf_stock_change *changes,
                             size_t count, char **out, size_t *out_length,
                             struct wf_stock_outcome *outcomes, struct wf_error *e) WF_MUST_USE;

/* A store file, changed in place; a symbolic link stays one. *after (NULL: not wanted) is the store
 * as it is now, the caller's to wf_store_free. Waits up to ten seconds for another process. */
enum wf_status wf_stock_change_file(const char *path, const struct wf_catalogue *c,
                                    const struct wf_stock_change *changes, size_t count,
                                    struct wf_stock_outcome *outcomes, struct wf_store **after,
                                    struct wf_error *e) WF_MUST_USE;

/* Changes that were made from something else, and what they live in. */
struct wf_stock_changes {
    struct wf_arena *arena;
    const struct wf_stock_change *changes;
    size_t count;
};
void wf_stock_changes_free(struct wf_stock_changes *s); /* NULL allowed */

/*
 * A table of lots (RFC 4180, UTF-8; parted by commas, semicolons or tabs) as lots to put. The first
 * line names the columns by the keys of a store file, `id` always among them, and `kind` (malt, hop
 * or yeast) where the id alone does not tell. An empty cell says nothing of its key.
 */
enum wf_status wf_stock_read_csv(const char *name, const char *text, size_t length,
                                 struct wf_stock_changes **out, struct wf_error *e) WF_MUST_USE;

/* What a recipe takes out of the store, lot by lot; sugar that primes bottles is no part of it. */
enum wf_status wf_stock_use_recipe(const struct wf_recipe *r, struct wf_stock_changes **out,
                                   struct wf_error *e) WF_MUST_USE;

#endif

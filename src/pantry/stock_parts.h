/*
 * stock_parts.h: what the parts of stock.h share: stock.c (changes made to a text), stock_lots.c
 * (which lot a change means), stock_value.c (a brewer's words as JSON), stock_take.c (what is
 * left), stock_file.c, stock_csv.c and stock_recipe.c.
 */
#ifndef WF_STOCK_PARTS_H
#define WF_STOCK_PARTS_H

#include "pantry/json_edit.h"
#include "pantry/names.h"
#include "wortfit/stock.h"

#include "base/text.h"

/* ---- Keys and values (stock_value.c) --------------------------------------------------------- */

const char *wf_stock_list_key(enum wf_kind kind); /* "malts" */
const struct wf_json_table *wf_stock_table(enum wf_kind kind);
/* The row of a lot's key; NULL: this kind has none. */
const struct wf_json_field *wf_stock_row(enum wf_kind kind, const char *key);
/* "a malt has no \"alpha\"; the nearest is ..." */
void wf_stock_refuse_key(enum wf_kind kind, const char *key, char why[WF_REASON_MAX]);
/* The kinds' keys together, each once; returns how many. */
#define WF_STOCK_KEYS_MOST (WF_KIND_COUNT * WF_JSON_FIELDS_MOST)
size_t wf_stock_keys(const char *keys[WF_STOCK_KEYS_MOST]);

/* A key that no lot has, and that tells its kind. */
extern const char wf_stock_kind_key[];
/* The kind that a word names ("malt", "malts"); WF_KIND_COUNT: none. */
enum wf_kind wf_stock_kind_of(const char *word);

/* Adds what a brewer wrote of a key as JSON; false: it cannot be, and why. Whether it is right is
 * the reader's to say. */
bool wf_stock_value(const struct wf_json_field *row, const char *text, struct wf_text *out,
                    char why[WF_REASON_MAX]);

/* ---- Amounts (stock_take.c) ------------------------------------------------------------------ */

#define WF_STOCK_AMOUNT_MAX 64
/*
 * What is left of an amount in the unit that it is written in, exact to the milligram: "14.2 kg"
 * less "350 g" is "13.85 kg". Of a number (of packs) likewise. False: more is wanted than there is,
 * or one of the two is no amount.
 */
bool wf_stock_left(enum wf_dimension d, const char *there, const char *taken,
                   char left[WF_STOCK_AMOUNT_MAX], char why[WF_REASON_MAX]);

/* ---- Lots (stock_lots.c) --------------------------------------------------------------------- */

/* The lots of a store, those that changes add included, by id. */
struct wf_stock_lots {
    const struct wf_store *store;
    const struct wf_catalogue *catalogue;
    struct wf_names names;       /* scope: the kind; value: the place in its list */
    size_t count[WF_KIND_COUNT]; /* so far */
    struct wf_names changed;     /* likewise; value: the change */
};

/* The lot that a change means. */
struct wf_stock_lot {
    bool known; /* else the change was refused */
    bool there; /* in the store already; else it is added */
    enum wf_kind kind;
    size_t index; /* in its list, before anything is removed */
    bool changed; /* something of it is written anew */
};

enum wf_status wf_stock_lots_open(struct wf_stock_lots *l, const struct wf_store *s,
                                  const struct wf_catalogue *c) WF_MUST_USE;
void wf_stock_lots_close(struct wf_stock_lots *l);
/* Finds the lot of changes[n] or refuses it; WF_MEMORY, or WF_OK with out->known. */
enum wf_status wf_stock_lots_find(struct wf_stock_lots *l, const struct wf_stock_change *changes,
                                  size_t n, struct wf_stock_lot *out,
                                  struct wf_error *e) WF_MUST_USE;

/* An empty set of changes (stock_recipe.c); NULL: out of memory. */
struct wf_stock_changes *wf_stock_changes_new(void);

/* What a change says of a key, or NULL. */
const struct wf_stock_field *wf_stock_field_of(const struct wf_stock_change *c, const char *key);

#endif

/*
 * refit.h: a recipe's hops made right again for its bitterness, with as little changed as can be.
 *
 * The grist stays as it is, and with it the gravity. Without a schedule the additions are the
 * recipe's: early ones (before the last WF_LATE_HOP_MINUTES of the boil, and first wort) may change
 * their weight, late ones, stands and dry hops keep theirs. A schedule says for each place what is
 * fixed and what is free: its dose, its hop, and its time out of a list.
 *
 * First as few additions as possible change; then the change is as small as possible: the distance
 * of the bitterness from its aim, in IBU, and what each weight changes by, in units of
 * WF_SCALE_DOSE g/L. Both are proved. What stays, stays to the gram; what changes is in whole steps
 * of the scale.
 */
#ifndef WORTFIT_REFIT_H
#define WORTFIT_REFIT_H

#include "wortfit/pantry.h"

#include <stdint.h>

/* An aim is met to this, or to half of what one step of the scale gives where that is more. */
#define WF_REFIT_TOLERANCE 1.0 /* IBU */

/* A place in a schedule. */
struct wf_refit_slot {
    enum wf_hop_use use;
    const double *minutes; /* boil: before its end, one or several to choose from; stand: length */
    size_t minute_count;   /* at least 1; first wort and dry hops have one, 0 */
    double celsius, days;
    const char *hop;    /* id or full name; NULL: any of the recipe's; or, where it has none,
                           of the store's */
    double grams, dose; /* fixed, g or g/L; NaN: not */
    bool keep;          /* the weight that the recipe has here stays */
    const char *text;   /* as written */
};

struct wf_refit_slots {
    struct wf_arena *arena;
    struct wf_refit_slot *list;
    size_t count;
};

/* Reads a schedule as a brewer writes it: places parted by commas, each a time, or several parted
 * by '|', then a hop and a dose where they are fixed, or "keep":
 * "60|45|30 min magnum, 10 min cascade 20 g, stand 20 min 80 C, dry 4 days keep". */
enum wf_status wf_refit_slots_parse(const char *text, struct wf_refit_slots **out,
                                    struct wf_error *e) WF_MUST_USE;
void wf_refit_slots_free(struct wf_refit_slots *s); /* NULL allowed */

/* The alpha acid on a bag. */
struct wf_refit_alpha {
    const char *hop; /* id in the recipe, or of the catalogue's entry */
    double alpha;    /* fraction */
};

struct wf_refit_options {
    struct wf_range ratio, bitterness; /* one of them; both any: the recipe's own bitterness */
    const struct wf_refit_alpha *alphas;
    size_t alpha_count;
    const struct wf_refit_slots *slots; /* NULL: the recipe's */
    bool all;                           /* without slots: late additions may change too */
    /* Lots of the store, by id, give alpha acid (as it is in the store: see wf_store_age), stock
     * and prices; NULL: none. */
    const struct wf_store *store;
    const struct wf_catalogue *catalogue; /* for hops that neither has; NULL: none */
    const struct wf_brewhouse *brewhouse; /* its scale */
};

#define WF_NO_LINE SIZE_MAX

/* What became of one addition. */
struct wf_refit_line {
    size_t before, after; /* in the recipe's hops, and in the new one's; WF_NO_LINE: not there */
    bool fixed;           /* was not free to change */
};

struct wf_refit {
    struct wf_arena *arena;
    struct wf_recipe *recipe; /* the new one, with wishes and proofs */
    struct wf_refit_line *lines;
    size_t line_count;
    double untouched_ibu; /* with the new alpha acid and nothing changed */
    size_t changed;       /* additions */
};

/* WF_NO_RECIPE: the bitterness cannot be had with what is free; the error says what can. `r` must
 * outlive nothing. *out is the caller's to free. */
enum wf_status wf_recipe_refit(const struct wf_recipe *r, const struct wf_refit_options *o,
                               struct wf_refit **out, struct wf_error *e) WF_MUST_USE;
void wf_refit_free(struct wf_refit *f); /* NULL allowed */

#endif

/*
 * loosen.h: a problem with some things made easier: ends of wishes moved outwards, more of a lot, a
 * lot from a shop. Whatever was a recipe before still is.
 */
#ifndef WF_LOOSEN_H
#define WF_LOOSEN_H

#include "wortfit/worth.h"

/* One thing that can be made easier. */
struct wf_ease {
    struct wf_lean lean; /* but for what it saves */
    bool tight;          /* the recipe is at this end, or has all but used up the lot */
    /* Of a wish: where it stands in the target, and as it was judged. */
    enum wf_wish_kind wish;
    size_t index, part;
    struct wf_range wanted;
    /* Of a lot: its place among the store's malts or hops; from a shop: among the shop's. */
    bool hop;
    size_t lot;
};

struct wf_loose {
    const struct wf_target *t;
    const struct wf_store *s, *shop; /* shop: NULL if no ease is of one */
    /* What is made of these: */
    struct wf_arena *arena;
    struct wf_target target;
    struct wf_store store;
};

/* From l->t, s and shop; to be freed in any case. */
enum wf_status wf_loose_make(struct wf_loose *l, const struct wf_ease *eases, size_t count,
                             struct wf_error *e) WF_MUST_USE;
void wf_loose_free(struct wf_loose *l);

#endif

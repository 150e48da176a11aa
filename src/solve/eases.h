/* eases.h: all that could be made easier for a recipe. */
#ifndef WF_EASES_H
#define WF_EASES_H

#include "solve/loosen.h"

struct wf_ease_list {
    struct wf_ease *items; /* in the arena */
    /* In this order: what the recipe leans on at first sight, other wishes and lots of the store,
     * the shop's malts, its hops. */
    size_t tight, others, shop_malts, shop_hops;
};

/* For the first of the goals. Names are in the recipe's arena or copied there. */
enum wf_status wf_eases_list(struct wf_recipe *r, const struct wf_target *t,
                             const struct wf_store *s, const struct wf_brewhouse *b, long today,
                             enum wf_goal goal, const struct wf_store *shop, struct wf_arena *arena,
                             struct wf_ease_list *out, struct wf_error *e) WF_MUST_USE;

#endif

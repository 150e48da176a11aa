/*
 * region.h: a part of all recipes of a problem, those that keep to conditions on kinds of malt and
 * hop, and how it is cut up around a recipe, as in the ranking methods of Murty (Operations
 * Research 16, 1968) and Lawler (Management Science 18, 1972).
 *
 * What differs from a recipe lacks something that is noticed in it, or has something, in an amount
 * that is noticed, which it lacks. That gives at most four regions: not all of its malts; all of
 * them but not all of its hops; all of both and one more malt; all of both and one more hop. (Malts
 * or hops of which the store has several lots get a region each.) Each is the problem with a few
 * rows more. "One more malt" is one row, that the amounts of all that may come add up to what is
 * noticed; where the best recipe reaches that only in sum, the region is cut in two.
 */
#ifndef WF_REGION_H
#define WF_REGION_H

#include "solve/kinds.h"

#include <stdint.h>

enum wf_fate { WF_FATE_OPEN, WF_FATE_IN, WF_FATE_OUT };

/* A condition on several kinds, all of malt or all of hop. */
struct wf_set {
    const struct wf_set *next;
    const bool *in; /* one a kind */
    size_t count;   /* of those in it */
    bool of_hops;
    bool not_all; /* at least one of them is absent; else: at least one is noticed */
    size_t apart; /* from which recipe it tells these */
};

struct wf_region {
    struct wf_region *next;
    const enum wf_fate *fate; /* one a kind: IN means present */
    const struct wf_set *sets;
    uint64_t apart;          /* bit i: cut up around recipe i, and so apart from it but for sums */
    int tries;               /* that ended before the search did */
    bool cut_off;            /* the last search looked only below a cutoff */
    bool done;               /* nothing more can be learned */
    struct wf_answer answer; /* the best recipe known of it; its bound is not used */
    double bound[WF_GOAL_COUNT]; /* as an answer's, for all recipes in it */
};

/* All recipes: the only region that conditions nothing. NULL: out of memory. All is in the arena
 * but for answers' arrays. */
struct wf_region *wf_region_whole(const struct wf_kinds *k, struct wf_arena *arena);

/* The problem with the region's conditions; its lists are in the arena, so it is not to be freed.
 * False: out of memory. */
bool wf_region_problem(const struct wf_region *r, const struct wf_kinds *k,
                       const struct wf_problem *p, struct wf_arena *arena, struct wf_problem *out);

/* What of the region differs from recipe number `recipe`, whose amounts these are, as regions put
 * before *list. False: out of memory. */
bool wf_region_cut(const struct wf_region *r, const struct wf_kinds *k, struct wf_arena *arena,
                   size_t recipe, const double *amount, struct wf_region **list);

/* The same for a region that was cut around that recipe already, and of which the best recipe
 * reaches what is noticed only in sum, by its amounts `found`. *cut false: there is no such sum. */
bool wf_region_cut_sum(const struct wf_region *r, const struct wf_kinds *k, struct wf_arena *arena,
                       size_t recipe, const double *found, struct wf_region **list, bool *cut);

#endif

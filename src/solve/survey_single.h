/*
 * survey_single.h: which lots of a shop, bought alone, make a beer.
 *
 * For malts, then hops: a recipe that uses at most one of the shop's lots is looked for; the lot it
 * uses is noted and taken out; and so on until it is proved that no other will do. Yeasts are tried
 * one by one.
 */
#ifndef WF_SURVEY_SINGLE_H
#define WF_SURVEY_SINGLE_H

#include "solve/joint.h"
#include "wortfit/survey.h"

/* The store with the shop's lots of each kind alone, as wf_buy_join gives it. */
struct wf_singles {
    const struct wf_store *store;
    struct wf_store joined[WF_KIND_COUNT];
};

/* False: out of memory. */
bool wf_singles_join(const struct wf_store *s, const struct wf_store *shop, struct wf_arena *arena,
                     struct wf_singles *out);
/* Lots of a kind that the shop sells. */
size_t wf_singles_count(const struct wf_singles *s, enum wf_kind kind);

/* makes[kind][lot] is set where the lot alone makes the beer, which the store does not; *open where
 * a search came to no end. */
enum wf_status wf_singles_find(const struct wf_singles *s, const struct wf_target *t,
                               const struct wf_brewhouse *b, const struct wf_solve_options *o,
                               bool *const makes[WF_KIND_COUNT], bool *open,
                               struct wf_error *e) WF_MUST_USE;

#endif

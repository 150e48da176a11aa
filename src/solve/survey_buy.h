/*
 * survey_buy.h: the store and a shop as one store, and what of a recipe from it is bought.
 */
#ifndef WF_SURVEY_BUY_H
#define WF_SURVEY_BUY_H

#include "solve/joint.h"
#include "wortfit/survey.h"

/* Lots in hand, for nothing, and after them the shop's that have a price; all in the arena, texts
 * those of the two. *unpriced: lots of the shop that were left out. False: out of memory. */
bool wf_buy_join(const struct wf_store *s, const struct wf_store *shop, struct wf_arena *arena,
                 struct wf_store *out, size_t *unpriced);

/* Puts the yeasts of a problem in the order of what they cost here, whatever their place in the
 * target's list, and makes them all alike to the search. */
void wf_buy_level_yeasts(struct wf_problem *p);

/* What of the answer, to a problem of such a store, is not of the first `s`. *out is wf_alloc'ed;
 * NULL where nothing is bought. */
enum wf_status wf_buy_basket(const struct wf_problem *p, const struct wf_answer *a,
                             const struct wf_store *s, struct wf_purchase **out, size_t *count,
                             struct wf_error *e) WF_MUST_USE;

#endif

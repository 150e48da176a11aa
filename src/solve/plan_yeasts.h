/*
 * plan_yeasts.h: which place in its target's list each beer's yeast is of.
 *
 * A target lists its yeasts in order of preference; a plan keeps to it as far as there are packs:
 * the sum of the places over the beers is made least.
 */
#ifndef WF_PLAN_YEASTS_H
#define WF_PLAN_YEASTS_H

#include "solve/plan_column.h"

/* Sets the subs' places. barred[b]: bit r: place r of beer b gives no recipe. *found false: there
 * are not enough packs, and all places are left open. */
enum wf_status wf_plan_yeasts(struct wf_plan_sub *subs, size_t beers, const unsigned long *barred,
                              bool *found, struct wf_error *e) WF_MUST_USE;

#endif

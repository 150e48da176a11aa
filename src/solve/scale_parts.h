/*
 * scale_parts.h: what scaling a recipe (scale.c) and telling what became of it (scale_wishes.c)
 * have in common.
 */
#ifndef WF_SCALE_PARTS_H
#define WF_SCALE_PARTS_H

#include "wortfit/scale.h"

/* Dose that counts as much as 1 IBU, or 1 % of the grist. */
#define WF_SCALE_DOSE 0.1 /* g/L */

/* Whether an addition keeps its grams in a litre rather than its bitterness. */
bool wf_scale_keeps_dose(const struct wf_recipe_hop *h);

/* Fills to->wishes: the figures of `from` as aims, and lots that the store has too little of. The
 * lines of `to` are those of `from` that weigh anything, in their order. */
enum wf_status wf_scale_wishes(struct wf_recipe *to, const struct wf_recipe *from,
                               const struct wf_store *s, struct wf_error *e) WF_MUST_USE;

#endif

/*
 * wishes.h: what was wanted against what a recipe gives. The recipe must have been predicted; every
 * figure comes from that, or is a plain sum over the recipe.
 */
#ifndef WF_WISHES_H
#define WF_WISHES_H

#include "wortfit/pantry.h"

/* How far past its wish a figure may be and still meet it: a hundred-thousandth of what a brewer
 * could measure of it. */
double wf_wish_slack(enum wf_dimension d, double got);

/* Whether an addition is made when the slot says. */
bool wf_slot_has(const struct wf_slot *s, const struct wf_addition *a, const struct wf_kettle *k);

/* Fills r->wishes from the target. `need_yeast`: the store has yeasts, so that their figures are
 * wished too. */
enum wf_status wf_wishes_fill(struct wf_recipe *r, const struct wf_target *t, double hop_step_g,
                              bool need_yeast, struct wf_error *e) WF_MUST_USE;
/* The first wish that is missed, or NULL. */
const struct wf_wish_result *wf_wishes_missed(const struct wf_recipe *r);

#endif

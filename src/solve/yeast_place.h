/* yeast_place.h: which of the target's yeasts a recipe's is. A proof is for yeasts of one place. */
#ifndef WF_YEAST_PLACE_H
#define WF_YEAST_PLACE_H

#include "wortfit/pantry.h"

/* The place in the target's list; -1: the recipe has none, or the list does not name it. */
long wf_yeast_place(const struct wf_target *t, const struct wf_recipe *r);

#endif

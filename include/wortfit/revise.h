/*
 * revise.h: from a recipe to the nearest other one: what stays of it as a target, and how far one
 * recipe is from another.
 *
 *     wf_recipe_target(recipe, &holds, &target, &error);      what the recipe is
 *     ... change the target's wishes, or the store ...
 *     options.goals[0] = WF_GOAL_CHANGE; options.from = recipe;
 *     wf_solve(target, store, brewhouse, &options, &revised, &error);
 */
#ifndef WORTFIT_REVISE_H
#define WORTFIT_REVISE_H

#include "wortfit/pantry.h"

/* ---- How far one recipe is from another ------------------------------------------------------ */

/*
 * The sum of the changes in weight, in steps that weigh about the same with a brewer (the project's
 * own measure): 1 % of the recipe's grist, 0.1 g/L of a late hop; of an early hop the dose counts
 * for WF_CHANGE_EARLY, since what it leaves is its bitterness. An ingredient that comes or goes is
 * WF_CHANGE_INGREDIENT more, so that nobody gets a pinch of six new malts; of hops each addition is
 * one. Another yeast is WF_CHANGE_YEAST, the difference of the attenuations in per cent, and
 * WF_CHANGE_FAMILY if it is of another family.
 *
 * Lots of the same catalogue entry, or with the same figures, are one ingredient, whatever their
 * ids. The recipe's weights are taken at the other one's batch.
 */
#define WF_CHANGE_SHARE      0.01 /* of the grist */
#define WF_CHANGE_DOSE       0.1  /* g/L */
#define WF_CHANGE_EARLY      0.3
#define WF_CHANGE_INGREDIENT 3.0
#define WF_CHANGE_YEAST      5.0
#define WF_CHANGE_FAMILY     10.0
double wf_recipe_change(const struct wf_recipe *from, const struct wf_recipe *to);

#endif

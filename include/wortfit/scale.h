/*
 * scale.h: the same beer in another amount, on another system, or as much of it as a store makes.
 */
#ifndef WORTFIT_SCALE_H
#define WORTFIT_SCALE_H

#include "wortfit/solve.h"

/*
 * Scales a recipe to `batch_l` on a brewhouse.
 *
 * Kept: the shares of the grist, the original gravity, the bitterness of each early addition, and
 * grams in a litre of each late one (the last WF_LATE_HOP_MINUTES of the boil, stands, dry hops) or
 * one without bitterness. Efficiency, evaporation and the boil's length, where the file gives it,
 * are the brewhouse's, and so are the steps of its scale. The law of utilisation stays the
 * recipe's: figures by two laws cannot be compared.
 *
 * That fixes the exact weights. Of the whole steps next to them, below and above, an integer model
 * takes those for which the sum of deviations is least: of each weight (in units of 1 % of the
 * grist), gravity (0.001), colour (1 SRM), each addition (1 IBU, or 0.1 g/L) and bitterness in all
 * (1 IBU). So no weight is a whole step from its exact one, unless that is less than one step,
 * which is then taken; and a recipe that is scaled there and back is off by less than a step of
 * each scale. Where the efficiency differs, so does the malt in a litre, and with it the colour:
 * shares and gravity go before it.
 *
 * Lots of the store (NULL allowed) take the place of the recipe's by id, with their figures, steps
 * and prices. Without a store costs go by weight.
 *
 * (*out)->wishes tells what was to be kept, as aims with the default tolerances, and what became of
 * it; also, last, each lot that the store has too little of. *out is yours to wf_recipe_free.
 */
struct wf_scale_options {
    double batch_l;
    const struct wf_brewhouse *brewhouse;
    const struct wf_store *store;
};
enum wf_status wf_recipe_scale(const struct wf_recipe *r, const struct wf_scale_options *o,
                               struct wf_recipe **out, struct wf_error *e) WF_MUST_USE;

/*
 * The largest batch of a beer that a store makes, in whole steps of `step_l`. It is bounded by the
 * relaxation of the model; below that, a search that halves looks for the greatest batch with a
 * recipe. It takes for granted that where a batch has none, no larger one has; one that is not
 * decided within the time given counts as one without.
 *
 * *litres is NaN where no batch has a recipe: wf_solve says why. WF_BAD_INPUT: the stock sets no
 * bound below WF_LARGEST_BATCH_L.
 */
#define WF_LARGEST_BATCH_L 10000.0
enum wf_status wf_solve_largest(const struct wf_target *t, const struct wf_store *s,
                                const struct wf_brewhouse *b, const struct wf_solve_options *o,
                                double step_l, double *litres, struct wf_error *e) WF_MUST_USE;

#endif

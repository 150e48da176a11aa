/*
 * brute.h: the best recipes of a tiny generated problem, by trying every weight on the scale and
 * judging each recipe by the forward path.
 *
 * Each figure is given twice: over the recipes that surely meet every wish, and over those that do
 * so to a solver's tolerance (see JUDGE_UNSURE). Where they differ, a solver may take either.
 */
#ifndef WF_BRUTE_H
#define WF_BRUTE_H

#include "support/judge.h"

enum brute_sure { BRUTE_SURE, BRUTE_PERHAPS, BRUTE_SURE_COUNT };

struct brute {
    size_t tried;   /* recipes judged, whole or without hops */
    size_t recipes; /* that perhaps meet every wish */
    /* Least value of each goal, among recipes with a yeast of the first place in the target's list
     * that gives any; +inf: there is no recipe. */
    double best[WF_GOAL_COUNT][BRUTE_SURE_COUNT];
    /* Least cost of those with the fewest ingredients. */
    double fewest_cost[BRUTE_SURE_COUNT];
};

void brute_search(struct gen *g, struct brute *out);

/* Told of each recipe that perhaps meets every wish, and whether it surely does; `rank` is its
 * yeast's place in the target's list. */
typedef void brute_visit(void *data, const struct gen_recipe *r, const struct verdict *v, bool sure,
                         size_t rank);
void brute_each(struct gen *g, brute_visit *visit, void *data);

#endif

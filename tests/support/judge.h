/*
 * judge.h: whether weights are a recipe for a generated problem, and what they are worth: by the
 * forward path and by what pantry.h says of each wish. It shares no code with the search, its
 * models, or the checks that the library makes of its own recipes.
 *
 * Weights, counts and places either keep to the rules or do not. The other wishes have a margin:
 * how far inside its bounds the nearest figure is, in units of max(1, |the bound|); below 0 it
 * misses. A solver works to a tolerance, so recipes with |margin| <= JUDGE_UNSURE may be taken
 * either way.
 */
#ifndef WF_JUDGE_H
#define WF_JUDGE_H

#include "support/generate.h"
#include "wortfit/solve.h"

#define JUDGE_UNSURE 5e-6

struct verdict {
    bool allowed;       /* stock, scale, counts, doses, lists, yeast */
    double margin;      /* of the wish that is nearest to being missed */
    const char *reason; /* what is not allowed, or which wish has that margin */
    struct wf_beer beer;
    /* Cost, fewest and closest as solve.h names them; use-up is not judged. */
    double value[WF_GOAL_COUNT];
};

void judge(const struct gen *g, const struct gen_recipe *r, struct verdict *v);

/* The wishes of the grist alone, without hops and yeast: what no hops can mend. */
void judge_grist(const struct gen *g, const struct gen_recipe *r, struct verdict *v);

/* Stock, whole steps and least weights alone: what even a recipe that misses wishes must keep to.
 */
bool judge_weights(const struct gen *g, const struct gen_recipe *r);

/* Weights of a solved recipe, by ids and places. False: it names a lot or a place that is not
 * there. */
bool judge_read(const struct gen *g, const struct wf_recipe *from, struct gen_recipe *to);

#endif

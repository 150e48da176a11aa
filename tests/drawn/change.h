/*
 * change.h: a generated problem made into another of which something is known: that it allows all
 * the recipes of the first, or also no others. What is known is said in terms of recipes; what they
 * are worth in either problem is the judge's to say (judge.h).
 */
#ifndef WF_DRAWN_CHANGE_H
#define WF_DRAWN_CHANGE_H

#include "support/dice.h"
#include "support/generate.h"

#include <stdbool.h>

#define CHANGE_NO_LOT SIZE_MAX

struct changed {
    struct gen g;               /* shares the base's arena */
    size_t *malt, *hop, *yeast; /* lot i was the base's lot malt[i]; CHANGE_NO_LOT: it is new */
    double factor;              /* of weights: a recipe of the base times this is one here */
    bool both;                  /* and one of these divided by it is one of the base's */
};

/* *c is a copy of the base, and is changed. False: does not apply to this problem. */
typedef bool change_make(struct gen *base, struct dice *d, struct changed *c);

struct change {
    const char *name;
    change_make *make;
    bool never_more; /* a recipe costs no more in the changed problem than in the base */
};

/* Ended by a row without a name. */
extern const struct change wish_changes[]; /* change_wishes.c: wishes loosened */
extern const struct change
    lot_changes[]; /* change_lots.c: more lots, and the same in other words */
extern const struct change scale_changes[]; /* change_scale.c: batch, scale, prices */

/* A copy of the base with its own lists, to be changed. */
void change_start(struct gen *base, struct changed *c);
/* A copy in the arena with room for `more` items behind. */
void *change_copy(struct gen *g, const void *list, size_t count, size_t size, size_t more);

/* The weights of a recipe of the base in the changed problem, and back. */
struct gen_recipe change_forth(struct changed *c, const struct gen_recipe *base);
struct gen_recipe change_back(struct gen *base, const struct changed *c,
                              const struct gen_recipe *changed);

/* Whether some slot's dose is narrower than a step, so that the nearest one will do. */
bool change_exact_dose(const struct gen *g);

#endif

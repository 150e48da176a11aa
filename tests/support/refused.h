/*
 * refused.h: generated problems that are spoilt until they have no recipe, and demands given way by
 * the test's own hand, so that what reasons.h tells can be tried.
 */
#ifndef WF_REFUSED_H
#define WF_REFUSED_H

#include "support/generate.h"
#include "wortfit/reasons.h"
#include "wortfit/solve.h"

struct refused {
    struct gen *g;    /* spoilt; its target and store are free to be written to */
    struct gen *shop; /* g's shop: another generated store, of other lots */
    uint64_t seed;
    bool tiny;
};

/* The same from the same seed, so that a change is tried on one of its own. It may have a recipe.
 */
struct refused refused_make(uint64_t seed, bool tiny);
void refused_free(struct refused *r);

/* All demands of wishes and shares, in any order; those of the store are WF_DEMAND_MALTS and on. */
size_t refused_demands(const struct refused *r, struct wf_demand *list, size_t room);

/* Whether both are the same demand. */
bool refused_same(const struct wf_demand *a, const struct wf_demand *b);

/* The demand is left out, or its end moved; of the store: all that the shop sells, without end. */
void refused_drop(struct refused *r, const struct wf_demand *d);
void refused_move(struct refused *r, const struct wf_demand *d, double to);

/* As the shift says; `to` and `more` in place of its own. */
void refused_shift(struct refused *r, const struct wf_shift *s, double to, double more);

/* The same problem with the remedy made: figures as they are read once they are written in these
 * units. Of shift `less` (SIZE_MAX: of none) the last digit written is one less. (remedied.c) */
struct refused refused_remedied(const struct refused *r, const struct wf_remedy *m,
                                enum wf_units units, size_t less);

/* Whether there is a recipe: WF_OK or WF_NO_RECIPE, or what else wf_solve returns. */
enum wf_status refused_solve(const struct refused *r);

#endif

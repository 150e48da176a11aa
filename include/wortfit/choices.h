/*
 * choices.h: more than one recipe: the next best ones that a drinker could tell apart, and what
 * fewer ingredients cost.
 */
#ifndef WORTFIT_CHOICES_H
#define WORTFIT_CHOICES_H

#include "wortfit/solve.h"

/* ---- Alternatives ---------------------------------------------------------------------------- */

/*
 * What a drinker notices (common practice): from this share of the grist on a malt of this class,
 * and from this many grams in a litre on a hop that is added late. Roast speaks at the least share
 * and caramel soon; base and kilned malts are the bread that others are laid on. An early hop
 * leaves its bitterness, which the target sets whatever the variety, and little of its aroma: its
 * weight counts for this part.
 *
 * Lots that are the same catalogue entry are one malt, or one hop. Two recipes differ where one has
 * something in an amount that is noticed which the other lacks altogether. So recipes that differ
 * by a gram, by the lot of a malt or by the yeast are one.
 */
double wf_noticed_share(enum wf_malt_class c);
#define WF_NOTICED_HOP_DOSE  0.3 /* g/L */
#define WF_NOTICED_OF_EARLY  0.3
#define WF_NOTICED_ROOM      1e-4 /* as a part of the amount: less short of it passes for it */
#define WF_ALTERNATIVES_MOST 50

/* Something that only one of two recipes has. */
struct wf_change {
    const char *name;
    bool hop;     /* else a malt */
    bool comes;   /* this recipe has it; else the other one, and this one none of it */
    double share; /* of the grist; of a malt that comes */
    double grams; /* over all additions; of a hop that comes */
};

struct wf_choice {
    struct wf_recipe *recipe; /* its bounds are of all that differ from those before it */
    /* Against the first recipe, and against any other that would read the same: what comes, then
     * what goes. None for the first. */
    const struct wf_change *changes;
    size_t change_count;
};

struct wf_alternatives {
    struct wf_choice *list; /* the first is wf_solve's recipe; each differs from all before it */
    size_t count, wanted;   /* wanted: with the first */
    bool complete;          /* as many as wanted, in order, or no other differs; else the time was
                               up before either was sure */
    struct wf_arena *arena; /* holds the lists and changes */
};

/*
 * The best recipe and up to `wanted` (at most WF_ALTERNATIVES_MOST) further ones, in order of the
 * goals: each is the best of those that differ from all before it, to the gap that its proof tells;
 * where the time is up, the best that is known. The yeast is chosen anew for each, out of the place
 * in the target's list that the first one's is of. `o->seconds` is for all of them together.
 *
 * WF_NO_RECIPE: none exists; *out then holds the nearest as its only member, or is NULL, as for
 * wf_solve. Anything else that failed: *out is NULL. *out is yours to wf_alternatives_free.
 */
enum wf_status wf_solve_alternatives(const struct wf_target *t, const struct wf_store *s,
                                     const struct wf_brewhouse *b, const struct wf_solve_options *o,
                                     size_t wanted, struct wf_alternatives **out,
                                     struct wf_error *e) WF_MUST_USE;
void wf_alternatives_free(struct wf_alternatives *a); /* and its recipes; NULL allowed */

/* ---- Cost against number of ingredients ------------------------------------------------------ */

struct wf_trade_point {
    size_t ingredients;       /* that the recipe has: malts, hops and the yeast */
    double cost, bound;       /* no recipe of so many ingredients or fewer costs less than bound */
    struct wf_recipe *recipe; /* its one proof tells the same */
};

struct wf_trade {
    struct wf_trade_point *points; /* from the fewest ingredients to the lowest cost of all; each
                                      costs less than the one before */
    size_t count;
    bool complete;             /* else a point may be missing: the time was up */
    struct wf_recipe *nearest; /* if no recipe exists */
    struct wf_arena *arena;
};

/*
 * The least cost for each number of ingredients, as far as one more saves anything. The goals in
 * the options are not looked at. Yeasts and time as for wf_solve_alternatives.
 *
 * WF_NO_RECIPE: *out holds no point, and the nearest recipe or NULL. Anything else that failed:
 * *out is NULL. *out is yours to wf_trade_free.
 */
enum wf_status wf_solve_trade(const struct wf_target *t, const struct wf_store *s,
                              const struct wf_brewhouse *b, const struct wf_solve_options *o,
                              struct wf_trade **out, struct wf_error *e) WF_MUST_USE;
void wf_trade_free(struct wf_trade *t); /* and its recipes; NULL allowed */

#endif

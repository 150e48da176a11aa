/*
 * plan.h: several beers from one store at once: what goes where, and what to buy.
 *
 * The beers share the lots: what one takes, no other has. Two things are made small, in this order:
 * the money still to spend, then the worth of all that goes into the kettles, at the prices of the
 * store and the shop. What is in hand is paid for already; what is short is bought, by weight or in
 * whole packs, from lots of the store whose `have` is left out and from those the shop has a price
 * for. So one beer from a store that sells everything by weight is planned as wf_solve solves it,
 * and one from a store that holds everything costs no money and is solved by worth.
 *
 * Or the most beers that the stock allows: nothing is bought, and some of the beers may be left
 * out.
 */
#ifndef WORTFIT_PLAN_H
#define WORTFIT_PLAN_H

#include "wortfit/solve.h"

#define WF_PLAN_BEERS_MOST 20

/* One batch of one beer; neither is changed, and both outlive the call only. */
struct wf_plan_beer {
    const struct wf_target *target;
    const struct wf_brewhouse *brewhouse; /* with the batch that is wanted */
};

struct wf_plan_options {
    struct wf_solve_options search; /* goals are not looked at */
    bool as_many;                   /* the most beers, from stock alone */
};

/* A lot that is used. Amounts in kg of malt, g of hops, packs of yeast. */
struct wf_plan_lot {
    enum wf_kind kind;
    const char *id, *name;
    bool new_lot;          /* only the shop has it */
    double hand, used;     /* in the store before; over all beers */
    double buy;            /* so much; whole packs where it is sold so */
    double pack, packs;    /* NaN: bought by weight, or not bought */
    double price;          /* an amount bought; NaN: not priced */
    double money;          /* for what is bought */
    const double *by_beer; /* one a beer */
};

/* What keeps the beers from being brewed all. */
struct wf_plan_lack {
    enum wf_kind kind;
    const char *id, *name;
    double amount; /* more of it, at least where each lack alone is looked at */
};

struct wf_plan_place {
    const char *name;         /* of the beer */
    double batch_l;           /* of the brewhouse or the target */
    struct wf_recipe *recipe; /* NULL: not brewed; its cost is the worth of what goes into it */
    bool possible;            /* there is a recipe where it is brewed alone */
};

struct wf_plan {
    struct wf_arena *arena;
    enum wf_recipe_status status; /* of the whole */
    bool as_many;
    struct wf_plan_place *beers; /* in the order given */
    size_t beer_count, brewed;
    const struct wf_plan_lot *lots; /* malts, hops, yeasts; in each, what is bought last */
    size_t lot_count;
    double money, worth;
    size_t unpriced; /* lots used that have no price and count as 0 */
    const char *currency, *price_note, *shop_note;
    /* "beers left out" (as_many only), "money", "worth", in the order in which they were made
     * small. Each bound speaks of plans no worse in those before it, and of yeasts of the same
     * places in their targets' lists. */
    struct wf_proof proofs[3];
    size_t proof_count;
    const struct wf_plan_lack *lacks; /* of a plan that is none */
    size_t lack_count;
    double seconds;
};

/*
 * WF_NO_RECIPE: the beers cannot all be brewed. *out then is a plan of status WF_RECIPE_NONE that
 * tells which of them cannot even alone, or else what the stock lacks. WF_UNDECIDED: none was
 * found, and none ruled out. Then, and for anything else, *out is NULL.
 *
 * `shop` NULL: nothing but what the store has or sells. *out is yours to wf_plan_free.
 */
enum wf_status wf_plan_make(const struct wf_plan_beer *beers, size_t count,
                            const struct wf_store *store, const struct wf_store *shop,
                            const struct wf_plan_options *o, struct wf_plan **out,
                            struct wf_error *e) WF_MUST_USE;
void wf_plan_free(struct wf_plan *p); /* and its recipes; NULL allowed */

/* Writes the integer model of the whole plan, with the yeasts that the plan chose, as CPLEX LP
 * text: of the money to spend; where that is nothing, of the worth. *text is yours to
 * wf_text_release. */
enum wf_status wf_plan_model_text(const struct wf_plan_beer *beers, size_t count,
                                  const struct wf_store *store, const struct wf_store *shop,
                                  const struct wf_plan *p, long today, char **text,
                                  struct wf_error *e) WF_MUST_USE;

#endif

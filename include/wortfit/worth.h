/*
 * worth.h: what binds a recipe: what it would save to have one wish a notch looser, more of a lot,
 * or a malt or hop that the store has not.
 *
 * Each figure is the difference of two searches: the problem as it is, and the same with that one
 * thing made easier. Both are proved to a gap, so that the saving is known to lie between `least`
 * and `most`. Savings that the gaps could hide, or too small to matter, are not told.
 *
 * A notch: 1 gravity point, 1 SRM, 1 IBU, 0.02 of the ratio, 0.2 % of alcohol, 5 Lintner, 1 % of
 * the grist, 1 malt of a count, 0.25 of an index, 0.1 g/L of a dose, 1 of a hop's score; a thing
 * that must be in it: that it need not be. Of a lot: 1 kg of malt or 100 g of hops more, or 1 % of
 * the grist past its greatest share. Under the goal `closest` a figure with an aim is left as it
 * is, since its window is what closeness is measured by. All with yeasts of the recipe's place in
 * the target's list.
 *
 * Wishes whose figure is within a notch of its end, and lots that are all but used up, are tried
 * one by one; all others together, and one by one only if together they save something.
 */
#ifndef WORTFIT_WORTH_H
#define WORTFIT_WORTH_H

#include "wortfit/pantry.h"
#include "wortfit/solve.h"

/* id, word in files */
#define WF_LEAN_LIST(X)                                                                            \
    X(WISH, "wish")   /* one end of a wish of the target */                                        \
    X(SHARE, "share") /* the greatest share of one lot */                                          \
    X(STOCK, "stock") /* how much there is of a lot */                                             \
    X(SHOP, "shop")   /* a lot that the store has not */

enum wf_lean_kind {
#define WF_X(id, word) WF_LEAN_##id,
    WF_LEAN_LIST(WF_X)
#undef WF_X
        WF_LEAN_KIND_COUNT
};
const char *wf_lean_word(enum wf_lean_kind k);

/* Something that the recipe leans on. */
struct wf_lean {
    enum wf_lean_kind kind;
    const char *what; /* the wish as in wf_wish_result, or the lot's name */
    const char *id;   /* of the lot; NULL: a wish */
    enum wf_dimension dimension;
    bool high;       /* wish: its high end was moved, else the low one */
    double from, to; /* that end; or the share; or what there is of the lot, kg */
    double price;    /* shop: by kg; NaN: not priced */
    /* Of the first goal, in its own unit: the difference of the two values found, and what it is
     * proved to be at least and at most. */
    double saves, least, most;
};

#define WF_SHOP_LEANS_MOST 3 /* of malts, and of hops, that a store has not */

struct wf_worth {
    enum wf_goal goal;
    const struct wf_lean *leans; /* greatest saving first */
    size_t lean_count;
    size_t tried;          /* searches made */
    size_t untried;        /* things that there was no time to look at */
    bool shopped;          /* a shop was looked into */
    const char *shop_note; /* said beside the shop's prices, or NULL */
};

/*
 * Looks into what binds `r`, which wf_solve() found for the same target, store, brewhouse and
 * options, and sets r->worth (in the recipe's arena). `shop` sells what the store may lack; NULL:
 * none. o->seconds bounds all of it; 0: work does, at some 10 s. A recipe that misses wishes is
 * WF_BAD_INPUT.
 */
enum wf_status wf_recipe_add_worth(struct wf_recipe *r, const struct wf_target *t,
                                   const struct wf_store *s, const struct wf_brewhouse *b,
                                   const struct wf_solve_options *o, const struct wf_store *shop,
                                   struct wf_error *e) WF_MUST_USE;

#endif

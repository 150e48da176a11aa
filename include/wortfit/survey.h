/*
 * survey.h: many beers against one store: which can be brewed from it, what is the least to buy for
 * the others, and what stands in the way of the rest.
 *
 * A beer that can be brewed has the recipe that wf_solve() finds. For the others the store and a
 * shop are searched together, every yeast that the target allows alike: what is in the store costs
 * nothing, since it is paid for, and what the shop sells costs its price, by weight or in whole
 * packs. So the recipe of least cost is the one for which least money is spent, and its proof is
 * that of the spending. A lot that is bought is a lot of its own beside those of the store, with
 * the shop's figures. What the shop gives no price for is not for sale. As in a solve, a store that
 * lists no yeast is not asked for one, and then none is bought either.
 *
 * Beers are looked at by several threads. Each beer's answer depends on nothing but its own input,
 * as long as options.solve.seconds is 0: searches end by work, not by time.
 */
#ifndef WORTFIT_SURVEY_H
#define WORTFIT_SURVEY_H

#include "wortfit/pantry.h"
#include "wortfit/solve.h"

/* id, word in files, text */
#define WF_VERDICT_LIST(X)                                                                         \
    X(NOW, "now", "can be brewed now")                                                             \
    X(BUY, "buy", "can be brewed if something is bought")                                          \
    X(NOT, "not", "cannot be brewed")                                                              \
    X(OPEN, "open", "not decided")

enum wf_verdict {
#define WF_X(id, word, text) WF_VERDICT_##id,
    WF_VERDICT_LIST(WF_X)
#undef WF_X
        WF_VERDICT_COUNT
};
const char *wf_verdict_word(enum wf_verdict v);
const char *wf_verdict_text(enum wf_verdict v);

/* Something to buy. Texts belong to the shop. */
struct wf_purchase {
    enum wf_kind kind;
    const char *id, *name;
    double amount; /* kg of malt, g of hops, packs of yeast: what is paid for, whole packs */
    double used;   /* of it, in the recipe */
    double pack;   /* of malt or hops, kg or g; NaN: sold by weight */
    double cost;
};

struct wf_surveyed {
    const struct wf_target *target; /* the caller's */
    enum wf_verdict verdict;
    /* now: as wf_solve() gives it. buy: with what is bought, its cost being what is spent. not: the
     * nearest recipe, or NULL. open: NULL. */
    struct wf_recipe *recipe;
    struct wf_purchase *basket; /* malts, then hops, then yeast */
    size_t basket_count;
    double off_aims; /* as the goal `closest` measures it: gravity, colour and bitterness, each in
                        parts of what is allowed to its side, summed; NaN: no recipe */
};

/* The one lot of the shop that, bought alone, makes the most beers that cannot be brewed now. */
struct wf_best_buy {
    enum wf_kind kind;
    const char *id, *name;          /* the shop's; NULL: no lot makes any alone */
    const struct wf_target **beers; /* that it makes */
    size_t count;
    bool at_least; /* some searches came to no end: it may make more, or another as many */
};

struct wf_survey {
    struct wf_arena *arena;
    const char *store, *shop; /* names, in the arena; shop NULL: nothing was to be bought */
    const char *currency, *shop_currency, *note, *shop_note;
    double batch_l;      /* of the brewhouse; a beer's own is in its recipe */
    size_t not_for_sale; /* lots of the shop without a price */
    bool no_yeasts;      /* the store lists none */
    struct wf_surveyed *beers;
    size_t count; /* may be lowered after beers that are not wanted were moved to the end */
    size_t all;   /* beers that are freed */
    struct wf_best_buy best_buy; /* of all beers */
    double seconds;
};

struct wf_survey_options {
    struct wf_solve_options solve; /* of each beer; progress: is called by one thread at a time */
    size_t threads;                /* 0: as many as there are processors */
};

#define WF_SURVEY_THREADS_MOST 64

/* `shop` NULL: nothing is bought, and a beer that cannot be brewed is `not`. *out is the caller's
 * to free, before targets and shop are. */
enum wf_status wf_survey_make(const struct wf_target *const *targets, size_t count,
                              const struct wf_store *s, const struct wf_store *shop,
                              const struct wf_brewhouse *b, const struct wf_survey_options *o,
                              struct wf_survey **out, struct wf_error *e) WF_MUST_USE;
void wf_survey_free(struct wf_survey *s); /* NULL allowed */

/* Within each verdict; id, word */
#define WF_SURVEY_ORDER_LIST(X)                                                                    \
    X(COST, "cost")     /* of the recipe, or what is spent: least first */                         \
    X(AIMS, "aims")     /* nearest the aims first */                                               \
    X(NAME, "name")     /* by id */                                                                \
    X(GROUP, "group")   /* by group, then id */                                                    \
    X(FEWEST, "fewest") /* fewest things to buy first, then by cost */

enum wf_survey_order {
#define WF_X(id, word) WF_SURVEY_BY_##id,
    WF_SURVEY_ORDER_LIST(WF_X)
#undef WF_X
        WF_SURVEY_ORDER_COUNT
};

/* Sorts what can be brewed first, then what can with something bought, then the rest. */
void wf_survey_sort(struct wf_survey *s, enum wf_survey_order by);

#endif

/*
 * plan_market.h: a store and a shop as one store, and of each of its lots what is in hand and what
 * more of it costs.
 */
#ifndef WF_PLAN_MARKET_H
#define WF_PLAN_MARKET_H

#include "wortfit/pantry.h"

/* Amounts in kg of malt, g of hops, packs of yeast; prices for one of them. */
struct wf_market_lot {
    enum wf_kind kind;
    const char *id, *name;
    bool new_lot;    /* only the shop has it */
    double hand;     /* paid for already */
    double buy_most; /* more of it; +inf: as much as is wanted */
    double pack;     /* bought in whole packs of this; NaN: by weight */
    double price;    /* of what is bought; 0 where not priced */
    double worth;    /* of what is used; 0 where not priced */
    bool unpriced;
};

struct wf_market {
    struct wf_arena *arena;
    struct wf_store store; /* each lot has what may be had; its price is its worth, by weight */
    struct wf_market_lot *lots; /* malts, hops, yeasts, each in the store's order */
    size_t count;
};

/* Lots of the shop that are the same in every figure as one in the store are that lot; others stand
 * beside it, under an id of their own. `stock_only`: what the store has, and nothing is bought. */
enum wf_status wf_market_open(struct wf_market *m, const struct wf_store *store,
                              const struct wf_store *shop, bool stock_only,
                              struct wf_error *e) WF_MUST_USE;
void wf_market_close(struct wf_market *m); /* a zeroed one is allowed */

size_t wf_market_malt(const struct wf_market *m, const struct wf_malt *lot); /* its number */
size_t wf_market_hop(const struct wf_market *m, const struct wf_hop *lot);
size_t wf_market_yeast(const struct wf_market *m, const struct wf_yeast *lot);

#endif

/*
 * kitchen.h: a small problem put together by hand, on a scale so fine that weights come out as they
 * are worked out on paper.
 */
#ifndef WF_KITCHEN_H
#define WF_KITCHEN_H

#include "wortfit/pantry.h"

#define KITCHEN_MALTS_MOST 8

struct kitchen {
    struct wf_malt malts[KITCHEN_MALTS_MOST];
    struct wf_hop hops[2];
    struct wf_rule rules[KITCHEN_MALTS_MOST];
    const char *ids[KITCHEN_MALTS_MOST][2];
    struct wf_slot slot;
    struct wf_store store;
    struct wf_brewhouse brewhouse;
    struct wf_target target;
};

/* An empty store and a target without wishes; malts are weighed to 1 g in 20 L, hops to 0.1 g. */
void kitchen_set_up(struct kitchen *k, double batch_l, double efficiency);

struct wf_range kitchen_around(double aim, double half);

/* As much as is wanted, at a price of 1 a kg. */
void kitchen_add_malt(struct kitchen *k, const char *id, double yield, bool mashed);
/* A wish: the malt's share of the grist. */
void kitchen_add_share(struct kitchen *k, const char *id, double share, double half);
void kitchen_add_hop(struct kitchen *k, const char *id, double alpha);
/* The one slot, of the boil; what goes in is the solver's to find. */
void kitchen_add_slot(struct kitchen *k, double minutes);

#endif

/* wares.h: what can be got for a store: more of its lots, and what the shop sells and it has not.
 */
#ifndef WF_WARES_H
#define WF_WARES_H

#include "solve/remedy.h"

struct wf_ware {
    struct wf_give give; /* `to`: as much of it as there is in the store, kg or packs */
    enum wf_lot_kind kind;
    double step;     /* kg; 1 pack */
    double price;    /* of a kg or a pack of yeast; NaN: not priced */
    double pack;     /* kg; NaN: by weight */
    double most;     /* that can be of use */
    bool shop_price; /* the price is the shop's */
};

struct wf_wares {
    struct wf_ware *items; /* cheapest first by the kg; those without a price last */
    size_t count;
};

/* Of one part of the store. To be freed by wf_wares_free in any case. */
enum wf_status wf_wares_list(struct wf_inquiry *q, size_t demand, struct wf_wares *out) WF_MUST_USE;
void wf_wares_free(struct wf_wares *w);

/* What so much more of it costs, as it is sold. */
double wf_ware_cost(const struct wf_ware *w, double more);
struct wf_stair wf_ware_stair(const struct wf_ware *w, double most);
struct wf_shift wf_ware_shift(const struct wf_inquiry *q, const struct wf_ware *w, double to,
                              bool least);
/* A remedy of things to get; `shop_price`: some prices are the shop's. */
enum wf_status wf_wares_remedy(struct wf_inquiry *q, const struct wf_shift *shifts, size_t count,
                               bool shop_price, struct wf_remedies *out) WF_MUST_USE;

#endif

#include "solve/wares.h"

#include "base/alloc.h"
#include "base/try.h"
#include "model/problem.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Of one thing no more than this is got: kg, kg, packs. */
static const double amount_most[WF_LOT_KINDS] = {10000, 100, 1};

struct list {
    struct wf_inquiry *q;
    size_t demand;
    struct wf_wares *out;
};

/* ---- One ware -------------------------------------------------------------------------------- */

static double price_of(const struct wf_store *s, enum wf_lot_kind kind, size_t i)
{
    return kind == WF_LOT_MALT  ? s->malts[i].price_per_kg
           : kind == WF_LOT_HOP ? s->hops[i].price_per_kg
                                : s->yeasts[i].price;
}

/* A lot without a price is taken to cost what the shop's of the same entry does. */
static double shop_price(const struct wf_inquiry *q, enum wf_lot_kind kind, struct wf_lot_ids lot)
{
    const struct wf_store *shop = q->relax.shop;
    const char *entry = lot.of != NULL ? lot.of : lot.id;
    for (size_t i = 0; shop != NULL && i < wf_lots(shop, kind); i++)
        if (strcmp(wf_lot_ids(shop, kind, i).id, entry) == 0)
            return price_of(shop, kind, i);
    return NAN;
}

/* A lot of the problem, by its place in the store with that part open. */
static void add(struct list *l, const struct wf_store *s, struct wf_ware w, size_t lot)
{
    const struct wf_store *own = l->q->relax.s;
    w.give = (struct wf_give){l->demand, lot, 0};
    if (lot < wf_lots(own, w.kind))
        w.give.to = w.kind == WF_LOT_MALT  ? own->malts[lot].have_kg
                    : w.kind == WF_LOT_HOP ? own->hops[lot].have_g / 1000
                                           : own->yeasts[lot].have;
    w.price = price_of(s, w.kind, lot);
    w.shop_price = lot >= wf_lots(own, w.kind) || !isfinite(w.price);
    if (!isfinite(w.price))
        w.price = shop_price(l->q, w.kind, wf_lot_ids(s, w.kind, lot));
    w.most = fmin(w.most, amount_most[w.kind]);
    if (w.give.to < w.most)
        l->out->items[l->out->count++] = w;
}

static void add_malts(struct list *l, const struct wf_problem *p)
{
    for (size_t i = 0; i < p->malt_count; i++) {
        const struct wf_pick_malt *m = &p->malts[i];
        const struct wf_ware w = {
            .kind = WF_LOT_MALT, .step = m->step_kg, .pack = m->lot->pack_kg, .most = m->most_kg};
        add(l, p->store, w, (size_t)(m->lot - p->store->malts));
    }
}

static void add_hops(struct list *l, const struct wf_problem *p)
{
    for (size_t i = 0; i < p->hop_count; i++) {
        const struct wf_pick_hop *h = &p->hops[i];
        const struct wf_ware w = {.kind = WF_LOT_HOP,
                                  .step = h->step_g / 1000,
                                  .pack = h->lot->pack_kg,
                                  .most = h->most_g / 1000};
        add(l, p->store, w, (size_t)(h->lot - p->store->hops));
    }
}

static void add_yeasts(struct list *l, const struct wf_problem *p)
{
    for (size_t i = 0; i < p->yeast_count; i++) {
        const struct wf_ware w = {.kind = WF_LOT_YEAST, .step = 1, .pack = NAN, .most = 1};
        add(l, p->store, w, (size_t)(p->yeasts[i].lot - p->store->yeasts));
    }
}

/* ---- The list -------------------------------------------------------------------------------- */

static double price_rank(const struct wf_ware *w)
{
    return isfinite(w->price) ? w->price : HUGE_VAL;
}

static int cheapest_first(const void *a, const void *b)
{
    const struct wf_ware *x = a, *y = b;
    if (price_rank(x) < price_rank(y) || price_rank(x) > price_rank(y))
        return price_rank(x) < price_rank(y) ? -1 : 1;
    return x->give.lot < y->give.lot ? -1 : 1;
}

/* As the problem sees it with that part of the store open. */
enum wf_status wf_wares_list(struct wf_inquiry *q, size_t demand, struct wf_wares *out)
{
    static void (*const add_lots[WF_LOT_KINDS])(struct list *, const struct wf_problem *) = {
        add_malts, add_hops, add_yeasts};
    const struct wf_give open = {demand, WF_GIVE_ALL, NAN};
    enum wf_lot_kind kind = wf_relax_part(&q->relax, demand);
    struct list l = {q, demand, out};
    struct wf_relaxed relaxed = {0};
    struct wf_problem p = {0};
    enum wf_status status;
    *out = (struct wf_wares){0};
    WF_TRY_GOTO(wf_relaxed_make(&q->relax, &open, 1, &relaxed, q->e));
    WF_TRY_GOTO(wf_problem_make(&relaxed.target, &relaxed.store, q->b, q->o->today, &p, q->e));
    out->items = wf_alloc(wf_lots(&relaxed.store, kind), sizeof *out->items);
    if (out->items == NULL) {
        status = wf_error_add(q->e, WF_MEMORY, "out of memory");
        goto done;
    }
    add_lots[kind](&l, &p);
    if (out->count > 1)
        qsort(out->items, out->count, sizeof *out->items, cheapest_first);
done:
    wf_problem_free(&p);
    wf_relaxed_free(&relaxed);
    return status;
}

void wf_wares_free(struct wf_wares *w)
{
    wf_free(w->items);
    *w = (struct wf_wares){0};
}

/* ---- What it comes to ------------------------------------------------------------------------ */

double wf_ware_cost(const struct wf_ware *w, double more)
{
    bool packed = isfinite(w->pack) && w->pack > 0;
    return w->price * (packed ? ceil(more / w->pack - 1e-9) * w->pack : more);
}

struct wf_stair wf_ware_stair(const struct wf_ware *w, double most)
{
    double steps = ceil((most - w->give.to) / w->step - 1e-6);
    return (struct wf_stair){.from = w->give.to, .step = w->step, .most = (size_t)fmax(0, steps)};
}

/* The least weight that can be written, in these units, and is no less than that: on the first of
 * these steps, from fine to coarse, that its size is written to. */
static double written_up(double kg, enum wf_units units)
{
    static const double steps[][3] = {
        [WF_UNITS_METRIC] = {1e-5, 1e-4, 1e-3},
        [WF_UNITS_US] = {0.01 * WF_KG_PER_OZ, 0.1 * WF_KG_PER_OZ, 0.1 * WF_KG_PER_OZ}};
    for (size_t i = 0; i < WF_COUNT_OF(steps[0]); i++) {
        char text[64], why[WF_REASON_MAX];
        double read, up = ceil(kg / steps[units][i] - 1e-6) * steps[units][i];
        wf_quantity_print(WF_DIM_MASS, up, units, text, sizeof text);
        if (wf_quantity_parse(WF_DIM_MASS, text, &read, why) && fabs(read - up) < 1e-9)
            return read;
    }
    return kg;
}

struct wf_shift wf_ware_shift(const struct wf_inquiry *q, const struct wf_ware *w, double to,
                              bool least)
{
    size_t own = wf_lots(q->relax.s, w->kind), lot = w->give.lot;
    bool shop = lot >= own;
    if (shop)
        lot = q->relax.lacking[w->kind][lot - own];
    const struct wf_store *seller =
        w->shop_price && q->relax.shop != NULL ? q->relax.shop : q->relax.s;
    struct wf_lot_ids ids = wf_lot_ids(shop ? q->relax.shop : q->relax.s, w->kind, lot);
    double more = to - w->give.to;
    if (w->kind != WF_LOT_YEAST)
        more = written_up(more, q->units);
    return (struct wf_shift){.demand = q->relax.demands[w->give.demand],
                             .id = ids.id,
                             .name = ids.name,
                             .shop = shop,
                             .lot = lot,
                             .to = w->give.to + more,
                             .more = more,
                             .cost = wf_ware_cost(w, more),
                             .currency = seller->currency != NULL ? seller->currency : "",
                             .least = least};
}

enum wf_status wf_wares_remedy(struct wf_inquiry *q, const struct wf_shift *shifts, size_t count,
                               bool shop_price, struct wf_remedies *out)
{
    const struct wf_store *seller =
        shop_price && q->relax.shop != NULL ? q->relax.shop : q->relax.s;
    struct wf_remedy r = {.shifts = shifts,
                          .shift_count = count,
                          .bought = true,
                          .currency = seller->currency != NULL ? seller->currency : "",
                          .note = seller->note};
    for (size_t i = 0; i < count; i++)
        r.cost += strcmp(shifts[i].currency, r.currency) == 0 ? shifts[i].cost : (double)NAN;
    return wf_remedies_add(q, out, &r);
}

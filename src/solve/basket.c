/*
 * What to get where no one thing is enough: a store in which the brewer's own lots are free, as far
 * as they go, and all that can be got is on offer at its price. The cheapest recipe from it tells
 * what to get; then each amount is made as small as it can be.
 */
#include "solve/wares.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>
#include <string.h>

struct basket {
    struct wf_inquiry *q;
    struct wf_wares wares[WF_LOT_KINDS];
    struct wf_relaxed market;
    struct wf_ware *got; /* what the recipe takes */
    struct wf_give *gives;
    size_t count;
};

/* ---- The market ------------------------------------------------------------------------------ */

/* Lots with a price, of all that the relaxed store holds, after the own ones. */
static enum wf_status lay_out_malts(struct basket *b)
{
    const struct wf_store *own = b->q->relax.s;
    const struct wf_wares *w = &b->wares[WF_LOT_MALT];
    struct wf_store *s = &b->market.store;
    struct wf_malt *all = wf_arena_alloc(b->market.arena, own->malt_count + w->count, sizeof *all);
    if (all == NULL)
        return wf_error_add(b->q->e, WF_MEMORY, "out of memory");
    for (size_t i = 0; i < own->malt_count; i++) {
        all[i] = own->malts[i];
        all[i].price_per_kg = 0;
    }
    size_t n = own->malt_count;
    for (size_t i = 0; i < w->count; i++) {
        if (isnan(w->items[i].price))
            continue;
        all[n] = s->malts[w->items[i].give.lot];
        all[n].have_kg = w->items[i].most - w->items[i].give.to;
        all[n++].price_per_kg = w->items[i].price;
    }
    s->malts = all;
    s->malt_count = n;
    return WF_OK;
}

static enum wf_status lay_out_hops(struct basket *b)
{
    const struct wf_store *own = b->q->relax.s;
    const struct wf_wares *w = &b->wares[WF_LOT_HOP];
    struct wf_store *s = &b->market.store;
    struct wf_hop *all = wf_arena_alloc(b->market.arena, own->hop_count + w->count, sizeof *all);
    if (all == NULL)
        return wf_error_add(b->q->e, WF_MEMORY, "out of memory");
    for (size_t i = 0; i < own->hop_count; i++) {
        all[i] = own->hops[i];
        all[i].price_per_kg = 0;
    }
    size_t n = own->hop_count;
    for (size_t i = 0; i < w->count; i++) {
        if (isnan(w->items[i].price))
            continue;
        all[n] = s->hops[w->items[i].give.lot];
        all[n].have_g = 1000 * (w->items[i].most - w->items[i].give.to);
        all[n++].price_per_kg = w->items[i].price;
    }
    s->hops = all;
    s->hop_count = n;
    return WF_OK;
}

static enum wf_status lay_out_yeasts(struct basket *b)
{
    const struct wf_store *own = b->q->relax.s;
    const struct wf_wares *w = &b->wares[WF_LOT_YEAST];
    struct wf_store *s = &b->market.store;
    struct wf_yeast *all =
        wf_arena_alloc(b->market.arena, own->yeast_count + w->count, sizeof *all);
    if (all == NULL)
        return wf_error_add(b->q->e, WF_MEMORY, "out of memory");
    for (size_t i = 0; i < own->yeast_count; i++) {
        all[i] = own->yeasts[i];
        all[i].price = 0;
    }
    size_t n = own->yeast_count;
    for (size_t i = 0; i < w->count; i++) {
        if (isnan(w->items[i].price))
            continue;
        all[n] = s->yeasts[w->items[i].give.lot];
        all[n].have = 1;
        all[n++].price = w->items[i].price;
    }
    s->yeasts = all;
    s->yeast_count = n;
    return WF_OK;
}

static enum wf_status lay_out(struct basket *b)
{
    const struct wf_relax *relax = &b->q->relax;
    struct wf_give open[WF_LOT_KINDS];
    size_t count = 0, room = 0;
    for (size_t i = relax->stock; i < relax->count; i++) {
        struct wf_wares *w = &b->wares[wf_relax_part(relax, i)];
        open[count++] = (struct wf_give){i, WF_GIVE_ALL, NAN};
        WF_TRY(wf_wares_list(b->q, i, w));
        room += w->count;
    }
    b->got = wf_alloc(room, sizeof *b->got);
    b->gives = wf_alloc(room, sizeof *b->gives);
    if (b->got == NULL || b->gives == NULL)
        return wf_error_add(b->q->e, WF_MEMORY, "out of memory");
    WF_TRY(wf_relaxed_make(relax, open, count, &b->market, b->q->e));
    WF_TRY(lay_out_malts(b));
    WF_TRY(lay_out_hops(b));
    return lay_out_yeasts(b);
}

/* ---- What the recipe takes ------------------------------------------------------------------- */

static double amount_in(const struct wf_recipe *r, enum wf_lot_kind kind, const char *id)
{
    double kg = 0;
    for (size_t i = 0; kind == WF_LOT_MALT && i < r->malt_count; i++)
        kg += strcmp(r->malts[i].id, id) == 0 ? r->malts[i].kg : 0;
    for (size_t i = 0; kind == WF_LOT_HOP && i < r->hop_count; i++)
        kg += strcmp(r->hops[i].id, id) == 0 ? r->hops[i].grams / 1000 : 0;
    if (kind == WF_LOT_YEAST)
        return r->yeast.id != NULL && strcmp(r->yeast.id, id) == 0 ? 1 : 0;
    return kg;
}

static void fill(struct basket *b, const struct wf_recipe *r)
{
    for (int kind = 0; kind < WF_LOT_KINDS; kind++)
        for (size_t i = 0; i < b->wares[kind].count; i++) {
            const struct wf_ware *w = &b->wares[kind].items[i];
            struct wf_shift s = wf_ware_shift(b->q, w, w->give.to, false);
            double used = amount_in(r, w->kind, s.id);
            if (used <= w->give.to + 1e-9)
                continue;
            b->got[b->count] = *w;
            b->gives[b->count] = w->give;
            b->gives[b->count++].to = used;
        }
}

/* ---- The basket ------------------------------------------------------------------------------ */

static const struct wf_ware *ware_of(const struct basket *b, const struct wf_give *g)
{
    const struct wf_ware *w = b->got;
    while (w->give.demand != g->demand || w->give.lot != g->lot)
        w++;
    return w;
}

static enum wf_status make_small(struct basket *b, struct wf_remedies *out)
{
    bool shop_price = false;
    struct wf_shift *shifts = wf_alloc(b->count, sizeof *shifts);
    enum wf_status status = WF_OK;
    if (shifts == NULL)
        return wf_error_add(b->q->e, WF_MEMORY, "out of memory");
    for (size_t i = 0; i < b->count; i++) {
        const struct wf_ware *w = ware_of(b, &b->gives[i]);
        double whole = b->gives[i].to;
        struct wf_stair stair = wf_ware_stair(w, whole);
        bool found, least;
        WF_TRY_GOTO(wf_remedy_least(b->q, b->gives, b->count, i, &stair, &found, &least));
        if (!found)
            b->gives[i].to = whole;
        shifts[i] = wf_ware_shift(b->q, w, b->gives[i].to, found && least);
        shop_price |= w->shop_price;
    }
    status = wf_wares_remedy(b->q, shifts, b->count, shop_price, out);
done:
    wf_free(shifts);
    return status;
}

static enum wf_status fill_and_check(struct basket *b, struct wf_remedies *out)
{
    struct wf_recipe *r = NULL;
    enum wf_exists exists;
    if (wf_inquiry_out_of_time(b->q))
        return WF_OK;
    WF_TRY(wf_inquiry_search(b->q, &b->market, true, &exists, &r));
    if (r == NULL)
        return WF_OK;
    fill(b, r);
    wf_recipe_free(r);
    WF_TRY(wf_inquiry_ask(b->q, b->gives, b->count, &exists));
    if (exists != WF_EXISTS_YES)
        return WF_OK;
    WF_TRY(wf_remedy_take_back(b->q, b->gives, &b->count));
    return b->count > 0 ? make_small(b, out) : WF_OK;
}

enum wf_status wf_remedy_of_basket(struct wf_inquiry *q, struct wf_remedies *out)
{
    struct basket b = {.q = q};
    enum wf_status status = lay_out(&b);
    if (status == WF_OK)
        status = fill_and_check(&b, out);
    for (int kind = 0; kind < WF_LOT_KINDS; kind++)
        wf_wares_free(&b.wares[kind]);
    wf_free(b.got);
    wf_free(b.gives);
    wf_relaxed_free(&b.market);
    return status;
}

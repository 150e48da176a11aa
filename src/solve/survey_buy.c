#include "solve/survey_buy.h"

#include "base/alloc.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- One store of two ------------------------------------------------------------------------ */

static void join_malts(const struct wf_store *s, const struct wf_store *shop, struct wf_store *out)
{
    for (size_t i = 0; i < s->malt_count; i++) {
        struct wf_malt *m = &out->malts[out->malt_count++];
        *m = s->malts[i];
        m->price_per_kg = 0;
        m->pack_kg = NAN; /* whole packs matter only to what is paid */
    }
    for (size_t i = 0; i < shop->malt_count; i++)
        if (isfinite(shop->malts[i].price_per_kg))
            out->malts[out->malt_count++] = shop->malts[i];
}

static void join_hops(const struct wf_store *s, const struct wf_store *shop, struct wf_store *out)
{
    for (size_t i = 0; i < s->hop_count; i++) {
        struct wf_hop *h = &out->hops[out->hop_count++];
        *h = s->hops[i];
        h->price_per_kg = 0;
        h->pack_kg = NAN;
    }
    for (size_t i = 0; i < shop->hop_count; i++)
        if (isfinite(shop->hops[i].price_per_kg))
            out->hops[out->hop_count++] = shop->hops[i];
}

/* A store that lists no yeast is not asked for one: as in a solve from it. */
static void join_yeasts(const struct wf_store *s, const struct wf_store *shop, struct wf_store *out)
{
    for (size_t i = 0; i < s->yeast_count; i++) {
        out->yeasts[out->yeast_count] = s->yeasts[i];
        out->yeasts[out->yeast_count++].price = 0;
    }
    for (size_t i = 0; s->yeast_count > 0 && i < shop->yeast_count; i++)
        if (isfinite(shop->yeasts[i].price))
            out->yeasts[out->yeast_count++] = shop->yeasts[i];
}

static size_t count_unpriced(const struct wf_store *shop)
{
    size_t count = 0;
    for (size_t i = 0; i < shop->malt_count; i++)
        count += isfinite(shop->malts[i].price_per_kg) ? 0 : 1;
    for (size_t i = 0; i < shop->hop_count; i++)
        count += isfinite(shop->hops[i].price_per_kg) ? 0 : 1;
    for (size_t i = 0; i < shop->yeast_count; i++)
        count += isfinite(shop->yeasts[i].price) ? 0 : 1;
    return count;
}

bool wf_buy_join(const struct wf_store *s, const struct wf_store *shop, struct wf_arena *arena,
                 struct wf_store *out, size_t *unpriced)
{
    *out = (struct wf_store){.name = s->name, .currency = shop->currency, .note = shop->note};
    out->malts = wf_arena_alloc(arena, s->malt_count + shop->malt_count, sizeof *out->malts);
    out->hops = wf_arena_alloc(arena, s->hop_count + shop->hop_count, sizeof *out->hops);
    out->yeasts = wf_arena_alloc(arena, s->yeast_count + shop->yeast_count, sizeof *out->yeasts);
    if (out->malts == NULL || out->hops == NULL || out->yeasts == NULL)
        return false;
    join_malts(s, shop, out);
    join_hops(s, shop, out);
    join_yeasts(s, shop, out);
    *unpriced = count_unpriced(shop);
    return true;
}

/* ---- Yeasts ---------------------------------------------------------------------------------- */

static int by_price_then_rank(const void *a, const void *b)
{
    const struct wf_pick_yeast *x = a, *y = b;
    if (x->price < y->price || x->price > y->price)
        return x->price < y->price ? -1 : 1;
    if (x->rank != y->rank)
        return x->rank < y->rank ? -1 : 1;
    return strcmp(x->lot->id, y->lot->id);
}

void wf_buy_level_yeasts(struct wf_problem *p)
{
    qsort(p->yeasts, p->yeast_count, sizeof *p->yeasts, by_price_then_rank);
    for (size_t i = 0; i < p->yeast_count; i++)
        p->yeasts[i].rank = 0;
}

/* ---- The basket ------------------------------------------------------------------------------ */

/* What is paid for: whole packs, where it is sold in packs. */
static void fill_amount(struct wf_purchase *b, double used, double pack, double price)
{
    b->used = used;
    b->pack = pack;
    b->amount = isfinite(pack) && pack > 0 ? pack * ceil(used / pack - 1e-9) : used;
    b->cost = b->amount * price;
}

static double grams_of(const struct wf_problem *p, const struct wf_answer *a, size_t hop)
{
    double grams = 0;
    for (size_t i = 0; i < p->place_count; i++)
        if (p->places[i].hop == hop)
            grams += a->grams[i];
    return grams;
}

/* The heaviest malt first, so that what matters is read first. */
static void heaviest_first(struct wf_purchase *b, size_t count)
{
    for (size_t i = 1; i < count; i++) {
        struct wf_purchase one = b[i];
        size_t at = i;
        for (; at > 0 && b[at - 1].amount < one.amount; at--)
            b[at] = b[at - 1];
        b[at] = one;
    }
}

static size_t add_malts(const struct wf_problem *p, const struct wf_answer *a,
                        const struct wf_store *s, struct wf_purchase *out)
{
    size_t count = 0;
    for (size_t i = 0; i < p->malt_count; i++) {
        const struct wf_malt *m = p->malts[i].lot;
        if (!(a->kg[i] > 0) || m < p->store->malts + s->malt_count)
            continue;
        out[count] = (struct wf_purchase){.kind = WF_KIND_MALT, .id = m->id, .name = m->name};
        fill_amount(&out[count++], a->kg[i], m->pack_kg, m->price_per_kg);
    }
    heaviest_first(out, count);
    return count;
}

static size_t add_hops(const struct wf_problem *p, const struct wf_answer *a,
                       const struct wf_store *s, struct wf_purchase *out)
{
    size_t count = 0;
    for (size_t i = 0; i < p->hop_count; i++) {
        const struct wf_hop *h = p->hops[i].lot;
        double grams = grams_of(p, a, i);
        if (!(grams > 0) || h < p->store->hops + s->hop_count)
            continue;
        out[count] = (struct wf_purchase){.kind = WF_KIND_HOP, .id = h->id, .name = h->name};
        fill_amount(&out[count++], grams, h->pack_kg * 1000, h->price_per_kg / 1000);
    }
    heaviest_first(out, count);
    return count;
}

static size_t add_yeast(const struct wf_problem *p, const struct wf_answer *a,
                        const struct wf_store *s, struct wf_purchase *out)
{
    const struct wf_yeast *y = a->yeast != NULL ? a->yeast->lot : NULL;
    if (y == NULL || y < p->store->yeasts + s->yeast_count)
        return 0;
    *out = (struct wf_purchase){.kind = WF_KIND_YEAST, .id = y->id, .name = y->name};
    fill_amount(out, 1, NAN, y->price);
    return 1;
}

enum wf_status wf_buy_basket(const struct wf_problem *p, const struct wf_answer *a,
                             const struct wf_store *s, struct wf_purchase **out, size_t *count,
                             struct wf_error *e)
{
    struct wf_purchase *list = wf_alloc(p->malt_count + p->hop_count + 1, sizeof *list);
    if (list == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    *count = add_malts(p, a, s, list);
    *count += add_hops(p, a, s, list + *count);
    *count += add_yeast(p, a, s, list + *count);
    *out = list;
    return WF_OK;
}

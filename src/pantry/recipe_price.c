/* recipe_price.c: what a recipe costs in a store. */
#include "pantry/recipe_lines.h"

#include "base/alloc.h"

#include <math.h>
#include <string.h>

static bool is_told(const char *currency)
{
    return currency && *currency;
}

/* A cost that the store does not know stays only where it is the same money. */
static bool same_money(const struct wf_recipe *r, const struct wf_store *s)
{
    return !is_told(r->currency) || !is_told(s->currency) || strcmp(r->currency, s->currency) == 0;
}

static void price_malts(struct wf_recipe *r, const struct wf_store *s, bool keep)
{
    for (size_t i = 0; i < r->malt_count; i++) {
        struct wf_recipe_malt *m = &r->malts[i];
        const struct wf_malt *lot = wf_store_malt(s, m->id);
        double total = 0;
        for (size_t k = 0; k < r->malt_count; k++)
            total += strcmp(r->malts[k].id, m->id) == 0 ? r->malts[k].kg : 0;
        if (lot)
            m->cost = wf_recipe_cost(lot->price_per_kg, lot->pack_kg, m->kg, total);
        else if (!keep)
            m->cost = (double)NAN;
    }
}

static void price_hops(struct wf_recipe *r, const struct wf_store *s, bool keep)
{
    for (size_t i = 0; i < r->hop_count; i++) {
        struct wf_recipe_hop *h = &r->hops[i];
        const struct wf_hop *lot = wf_store_hop(s, h->id);
        double total = 0;
        for (size_t k = 0; k < r->hop_count; k++)
            total += strcmp(r->hops[k].id, h->id) == 0 ? r->hops[k].grams : 0;
        if (lot)
            h->cost =
                wf_recipe_cost(lot->price_per_kg, lot->pack_kg, h->grams / 1000, total / 1000);
        else if (!keep)
            h->cost = (double)NAN;
    }
}

static void price_yeast(struct wf_recipe *r, const struct wf_store *s, bool keep)
{
    const struct wf_yeast *lot = wf_store_yeast(s, r->yeast.id);
    if (lot)
        r->yeast.cost = lot->price;
    else if (!keep)
        r->yeast.cost = (double)NAN;
}

enum wf_status wf_recipe_price(struct wf_recipe *r, const struct wf_store *s, struct wf_error *e)
{
    bool keep = same_money(r, s);
    price_malts(r, s, keep);
    price_hops(r, s, keep);
    price_yeast(r, s, keep);
    if (is_told(s->currency) || !r->currency)
        r->currency = wf_arena_string(r->arena, s->currency ? s->currency : "");
    r->price_note = wf_arena_string(r->arena, s->note);
    if (!r->currency || (s->note && !r->price_note))
        return wf_error_add(e, WF_MEMORY, "out of memory");
    return wf_recipe_predict(r, e);
}

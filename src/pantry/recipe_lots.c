/* recipe_lots.c: what a recipe has as lots: see revise.h. */
#include "wortfit/revise.h"

#include "base/alloc.h"

#include <math.h>
#include <string.h>

static struct wf_malt malt_lot(const struct wf_recipe_malt *m)
{
    struct wf_malt lot = {
        .id = m->id,
        .of = m->of,
        .name = m->name,
        .class = m->class,
        .fine_dry = (double)NAN,
        .moisture = (double)NAN,
        .grain = m->grain,
        .usual_most = m->usual_most,
        .allergens = "",
        .have_kg = INFINITY,
        .price_per_kg = m->kg > 0 ? m->cost / m->kg : (double)NAN,
        .pack_kg = (double)NAN,
        .step_kg = (double)NAN,
        .most = (double)NAN,
        .packed = WF_NO_DATE,
        .opened = WF_NO_DATE,
    };
    memcpy(lot.character, m->character, sizeof lot.character);
    return lot;
}

static struct wf_hop hop_lot(const struct wf_recipe_hop *h)
{
    struct wf_hop lot = {
        .id = h->id,
        .of = h->of,
        .name = h->name,
        .alpha = h->addition.alpha,
        .alpha_low = h->addition.alpha,
        .alpha_high = h->addition.alpha,
        .whole = h->whole,
        .have_g = INFINITY,
        .price_per_kg = h->grams > 0 ? 1000 * h->cost / h->grams : (double)NAN,
        .pack_kg = (double)NAN,
        .step_kg = (double)NAN,
        .packed = WF_NO_DATE,
        .opened = WF_NO_DATE,
        .kept_celsius = 20,
    };
    memcpy(lot.character, h->character, sizeof lot.character);
    return lot;
}

static struct wf_yeast yeast_lot(const struct wf_recipe *r)
{
    return (struct wf_yeast){
        .id = r->yeast.id,
        .of = r->yeast.of,
        .name = r->yeast.name,
        .family = r->yeast.family,
        .ester = r->yeast.ester,
        .phenol = r->yeast.phenol,
        .attenuation_low = r->yeast.attenuation,
        .attenuation_high = r->yeast.attenuation,
        .have = INFINITY,
        .price = r->yeast.cost,
        .packed = WF_NO_DATE,
        .opened = WF_NO_DATE,
    };
}

/* The recipe's own lot stands for what the shop sells by its id or as its entry. */
static bool is_own(const char *own_id, const char *own_of, const char *id)
{
    return strcmp(own_id, id) == 0 || (own_of && strcmp(own_of, id) == 0);
}

static void add_malts(struct wf_store *to, const struct wf_recipe *r, const struct wf_store *shop)
{
    for (size_t i = 0; i < r->malt_count; i++)
        if (r->malts[i].kg > 0 && !wf_store_malt(to, r->malts[i].id))
            to->malts[to->malt_count++] = malt_lot(&r->malts[i]);
    size_t own = to->malt_count;
    for (size_t i = 0; shop && i < shop->malt_count; i++) {
        bool known = false;
        for (size_t k = 0; k < own; k++)
            known = known || is_own(to->malts[k].id, to->malts[k].of, shop->malts[i].id);
        if (!known)
            to->malts[to->malt_count++] = shop->malts[i];
        for (size_t k = 0; k < own; k++)
            if (is_own(to->malts[k].id, to->malts[k].of, shop->malts[i].id) &&
                isnan(to->malts[k].price_per_kg))
                to->malts[k].price_per_kg = shop->malts[i].price_per_kg;
    }
}

static void add_hops(struct wf_store *to, const struct wf_recipe *r, const struct wf_store *shop)
{
    for (size_t i = 0; i < r->hop_count; i++)
        if (r->hops[i].grams > 0 && !wf_store_hop(to, r->hops[i].id))
            to->hops[to->hop_count++] = hop_lot(&r->hops[i]);
    size_t own = to->hop_count;
    for (size_t i = 0; shop && i < shop->hop_count; i++) {
        bool known = false;
        for (size_t k = 0; k < own; k++)
            known = known || is_own(to->hops[k].id, to->hops[k].of, shop->hops[i].id);
        if (!known)
            to->hops[to->hop_count++] = shop->hops[i];
        for (size_t k = 0; k < own; k++)
            if (is_own(to->hops[k].id, to->hops[k].of, shop->hops[i].id) &&
                isnan(to->hops[k].price_per_kg))
                to->hops[k].price_per_kg = shop->hops[i].price_per_kg;
    }
}

static void add_yeasts(struct wf_store *to, const struct wf_recipe *r, const struct wf_store *shop)
{
    if (!r->yeast.id)
        return; /* a recipe without one is revised without one */
    to->yeasts[to->yeast_count++] = yeast_lot(r);
    for (size_t i = 0; shop && i < shop->yeast_count; i++)
        if (!is_own(r->yeast.id, r->yeast.of, shop->yeasts[i].id))
            to->yeasts[to->yeast_count++] = shop->yeasts[i];
}

enum wf_status wf_recipe_lots(const struct wf_recipe *r, const struct wf_store *shop,
                              struct wf_store **out, struct wf_error *e)
{
    struct wf_arena *arena = wf_arena_new();
    struct wf_store *s = arena ? wf_arena_alloc(arena, 1, sizeof *s) : NULL;
    *out = NULL;
    if (s) {
        *s = (struct wf_store){
            .arena = arena,
            .name = "the recipe's own",
            .currency = r->currency && *r->currency ? r->currency
                        : shop                      ? shop->currency
                                                    : "",
            .note = shop ? shop->note : r->price_note,
        };
        s->malts =
            wf_arena_alloc(arena, r->malt_count + (shop ? shop->malt_count : 0), sizeof *s->malts);
        s->hops =
            wf_arena_alloc(arena, r->hop_count + (shop ? shop->hop_count : 0), sizeof *s->hops);
        s->yeasts = wf_arena_alloc(arena, 1 + (shop ? shop->yeast_count : 0), sizeof *s->yeasts);
    }
    if (!s || !s->malts || !s->hops || !s->yeasts) {
        wf_arena_free(arena);
        return wf_error_add(e, WF_MEMORY, "out of memory");
    }
    add_malts(s, r, shop);
    add_hops(s, r, shop);
    add_yeasts(s, r, shop);
    *out = s;
    return WF_OK;
}

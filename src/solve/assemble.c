#include "solve/assemble.h"

#include "base/alloc.h"
#include "base/try.h"
#include "solve/wishes.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- Costs ----------------------------------------------------------------------------------- */

/* What so much of a lot costs: by weight, or in whole packs. */
static double lot_cost(double kg, double price_per_kg, double pack_kg)
{
    if (!isfinite(price_per_kg))
        return NAN;
    if (isfinite(pack_kg) && pack_kg > 0)
        return price_per_kg * pack_kg * ceil(kg / pack_kg - 1e-9);
    return price_per_kg * kg;
}

/* A hop that goes into several slots comes out of the same packs: each slot bears its part by
 * weight. */
static double hop_cost(const struct wf_problem *p, const struct wf_answer *a, size_t place)
{
    size_t hop = p->places[place].hop;
    double grams = 0;
    for (size_t i = 0; i < p->place_count; i++)
        if (p->places[i].hop == hop)
            grams += a->grams[i];
    const struct wf_hop *lot = p->hops[hop].lot;
    return lot_cost(grams / 1000, lot->price_per_kg, lot->pack_kg) * a->grams[place] / grams;
}

/* ---- Ingredients ----------------------------------------------------------------------------- */

static int heaviest_first(const void *a, const void *b)
{
    const struct wf_recipe_malt *x = a, *y = b;
    if (x->kg < y->kg || x->kg > y->kg)
        return x->kg > y->kg ? -1 : 1;
    return strcmp(x->id, y->id);
}

static enum wf_status add_malts(struct wf_recipe *r, const struct wf_problem *p,
                                const struct wf_answer *a)
{
    r->malts = wf_arena_alloc(r->arena, p->malt_count, sizeof *r->malts);
    if (r->malts == NULL)
        return WF_MEMORY;
    for (size_t i = 0; i < p->malt_count; i++) {
        const struct wf_malt *lot = p->malts[i].lot;
        if (!(a->kg[i] > 0))
            continue;
        struct wf_recipe_malt *m = &r->malts[r->malt_count++];
        *m = (struct wf_recipe_malt){.id = wf_arena_string(r->arena, lot->id),
                                     .of = wf_arena_string(r->arena, lot->of),
                                     .name = wf_arena_string(r->arena, lot->name),
                                     .class = lot->class,
                                     .grain = lot->grain,
                                     .kg = a->kg[i],
                                     .usual_most = lot->usual_most,
                                     .cost = lot_cost(a->kg[i], lot->price_per_kg, lot->pack_kg)};
        memcpy(m->character, lot->character, sizeof m->character);
        if (m->id == NULL || m->name == NULL || (lot->of != NULL && m->of == NULL))
            return WF_MEMORY;
    }
    qsort(r->malts, r->malt_count, sizeof *r->malts, heaviest_first);
    return WF_OK;
}

/* First wort, boil from long to short, stand, dry; then the heaviest. */
static int in_boil_order(const void *a, const void *b)
{
    const struct wf_recipe_hop *x = a, *y = b;
    if (x->addition.use != y->addition.use)
        return x->addition.use < y->addition.use ? -1 : 1;
    double later = y->addition.minutes - x->addition.minutes;
    if (later < 0 || later > 0)
        return later < 0 ? -1 : 1;
    if (x->grams < y->grams || x->grams > y->grams)
        return x->grams > y->grams ? -1 : 1;
    return strcmp(x->id, y->id);
}

static enum wf_status add_hops(struct wf_recipe *r, const struct wf_problem *p,
                               const struct wf_answer *a)
{
    r->hops = wf_arena_alloc(r->arena, p->place_count, sizeof *r->hops);
    if (r->hops == NULL)
        return WF_MEMORY;
    for (size_t i = 0; i < p->place_count; i++) {
        const struct wf_place *place = &p->places[i];
        const struct wf_hop *lot = p->hops[place->hop].lot;
        if (!(a->grams[i] > 0))
            continue;
        struct wf_recipe_hop *h = &r->hops[r->hop_count++];
        *h = (struct wf_recipe_hop){.id = wf_arena_string(r->arena, lot->id),
                                    .of = wf_arena_string(r->arena, lot->of),
                                    .name = wf_arena_string(r->arena, lot->name),
                                    .addition = place->addition,
                                    .whole = lot->whole,
                                    .grams = a->grams[i],
                                    .days = p->target->slots[place->slot].days,
                                    .cost = hop_cost(p, a, i)};
        h->addition.minutes = place->addition.use == WF_HOP_BOIL
                                  ? fmin(place->addition.minutes, p->kettle.boil_minutes)
                                  : place->addition.minutes;
        memcpy(h->character, lot->character, sizeof h->character);
        if (h->id == NULL || h->name == NULL || (lot->of != NULL && h->of == NULL))
            return WF_MEMORY;
    }
    qsort(r->hops, r->hop_count, sizeof *r->hops, in_boil_order);
    return WF_OK;
}

static enum wf_status add_yeast(struct wf_recipe *r, const struct wf_pick_yeast *y)
{
    r->yeast.attenuation = r->yeast.cost = r->yeast.ester = r->yeast.phenol = NAN;
    if (y == NULL)
        return WF_OK;
    r->yeast.id = wf_arena_string(r->arena, y->lot->id);
    r->yeast.of = wf_arena_string(r->arena, y->lot->of);
    r->yeast.name = wf_arena_string(r->arena, y->lot->name);
    r->yeast.family = wf_arena_string(r->arena, y->lot->family);
    r->yeast.attenuation = y->attenuation;
    r->yeast.ester = y->lot->ester;
    r->yeast.phenol = y->lot->phenol;
    r->yeast.cost = y->lot->price;
    return r->yeast.id == NULL || r->yeast.name == NULL ? WF_MEMORY : WF_OK;
}

/* ---- The recipe ------------------------------------------------------------------------------ */

static enum wf_status fill(struct wf_recipe *r, const struct wf_problem *p,
                           const struct wf_answer *a, struct wf_error *e)
{
    r->kettle = p->kettle;
    r->stand_length = p->stand.minutes > 0 ? p->stand.minutes : (double)NAN;
    r->stand_celsius = p->stand.minutes > 0 ? p->stand.celsius : (double)NAN;
    r->name = wf_arena_string(r->arena, p->target->name);
    r->currency = wf_arena_string(r->arena, p->store->currency != NULL ? p->store->currency : "");
    r->price_note = wf_arena_string(r->arena, p->store->note);
    if (r->name == NULL || r->currency == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    if (add_malts(r, p, a) != WF_OK || add_hops(r, p, a) != WF_OK ||
        add_yeast(r, a->yeast) != WF_OK)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    WF_TRY(wf_recipe_predict(r, e));
    return wf_wishes_fill(r, p->target, p->brewhouse->step_hop_g, p->store->yeast_count > 0, e);
}

enum wf_status wf_recipe_assemble(const struct wf_problem *p, const struct wf_answer *a,
                                  struct wf_recipe **out, struct wf_error *e)
{
    struct wf_arena *arena = wf_arena_new();
    struct wf_recipe *r = arena == NULL ? NULL : wf_arena_alloc(arena, 1, sizeof *r);
    if (r == NULL) {
        wf_arena_free(arena);
        return wf_error_add(e, WF_MEMORY, "out of memory");
    }
    r->arena = arena;
    enum wf_status status = fill(r, p, a, e);
    if (status == WF_OK)
        *out = r;
    else
        wf_arena_free(arena);
    return status;
}

/* ---- The store's side ------------------------------------------------------------------------ */

static bool whole(double weight, double step)
{
    return fabs(weight / step - round(weight / step)) < 1e-6;
}

static enum wf_status verify_malts(const struct wf_problem *p, const double *kg, struct wf_error *e)
{
    double total = 0;
    for (size_t i = 0; i < p->malt_count; i++)
        total += kg[i];
    for (size_t i = 0; i < p->malt_count; i++) {
        const struct wf_pick_malt *m = &p->malts[i];
        bool good =
            kg[i] <= 0 || (kg[i] <= m->lot->have_kg + 1e-9 && kg[i] >= m->least_kg - 1e-9 &&
                           whole(kg[i], m->step_kg) && kg[i] <= m->share_most * total + 1e-6);
        if (!good)
            return wf_error_add(e, WF_INTERNAL,
                                "internal error: the search gave %.6f kg of \"%s\", which its lot "
                                "does not allow",
                                kg[i], m->lot->id);
    }
    return WF_OK;
}

static enum wf_status verify_hops(const struct wf_problem *p, const double *grams,
                                  struct wf_error *e)
{
    for (size_t h = 0; h < p->hop_count; h++) {
        const struct wf_pick_hop *hop = &p->hops[h];
        double total = 0;
        bool good = true;
        for (size_t i = 0; i < p->place_count; i++) {
            if (p->places[i].hop != h || grams[i] <= 0)
                continue;
            total += grams[i];
            good = good && grams[i] >= hop->least_g - 1e-6 && whole(grams[i], hop->step_g);
        }
        if (!good || total > hop->lot->have_g + 1e-6)
            return wf_error_add(e, WF_INTERNAL,
                                "internal error: the search gave %.6f g of \"%s\", which its lot "
                                "does not allow",
                                total, hop->lot->id);
    }
    return WF_OK;
}

enum wf_status wf_weights_verify(const struct wf_problem *p, const struct wf_answer *a,
                                 struct wf_error *e)
{
    WF_TRY(verify_malts(p, a->kg, e));
    return verify_hops(p, a->grams, e);
}

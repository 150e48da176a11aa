/* change_lots.c: lots added, stock and prices; and the same problem told in another order. */
#include "drawn/change.h"

#include "support/generate_parts.h"

#include <math.h>
#include <string.h>

static size_t below(struct dice *d, size_t count)
{
    return (size_t)dice_whole(d, 0, (long)count - 1);
}

/* ---- More ------------------------------------------------------------------------------------ */

static bool malt_added(struct gen *base, struct dice *d, struct changed *c)
{
    size_t count = base->store.malt_count;
    struct wf_malt *m = &c->g.store.malts[count];
    *m = base->store.malts[below(d, count)];
    m->id = m->name = "more-malt";
    m->price_per_kg = dice_chance(d, 10) ? (double)NAN : dice_decimal(d, 0, 400, 100);
    m->have_kg = dice_chance(d, 50) ? (double)INFINITY : dice_decimal(d, 0, 500, 100);
    m->pack_kg = dice_chance(d, 20) ? dice_decimal(d, 1, 50, 2) : (double)NAN;
    m->grain.lovibond = fmin(750, m->grain.lovibond * dice_decimal(d, 5, 20, 10));
    c->g.store.malt_count++;
    return true;
}

static bool hop_added(struct gen *base, struct dice *d, struct changed *c)
{
    size_t count = base->store.hop_count;
    struct wf_hop *h = &c->g.store.hops[count];
    *h = base->store.hops[below(d, count)];
    h->id = h->name = "more-hop";
    h->price_per_kg = dice_decimal(d, 0, 60, 1);
    h->have_g = dice_chance(d, 50) ? (double)INFINITY : dice_decimal(d, 0, 90, 1);
    h->alpha = h->alpha_low = h->alpha_high = dice_decimal(d, 0, 200, 1000);
    c->g.store.hop_count++;
    return true;
}

/* Not where the target ranks yeasts: one that is preferred is taken though it costs more. And the
 * first yeast of a store must be bought. */
static bool yeast_added(struct gen *base, struct dice *d, struct changed *c)
{
    size_t count = base->store.yeast_count;
    if (count == 0 || base->target.yeasts != NULL)
        return false;
    struct wf_yeast *y = &c->g.store.yeasts[count];
    *y = base->store.yeasts[below(d, count)];
    y->id = y->name = "more-yeast";
    y->price = dice_decimal(d, 0, 80, 10);
    y->attenuation_low = dice_decimal(d, 55, 90, 100);
    y->attenuation_high = y->attenuation_low;
    c->g.store.yeast_count++;
    return true;
}

static bool more_stock(struct gen *base, struct dice *d, struct changed *c)
{
    struct wf_malt *m = &c->g.store.malts[below(d, base->store.malt_count)];
    struct wf_hop *h = &c->g.store.hops[below(d, base->store.hop_count)];
    bool malt = isfinite(m->have_kg), hop = isfinite(h->have_g);
    m->have_kg = dice_chance(d, 50) ? (double)INFINITY : m->have_kg + dice_decimal(d, 1, 400, 100);
    h->have_g = dice_chance(d, 50) ? (double)INFINITY : h->have_g + dice_decimal(d, 1, 60, 1);
    if (isfinite(m->most))
        m->most = fmin(1, m->most * 2);
    return malt || hop;
}

static bool cheaper(struct gen *base, struct dice *d, struct changed *c)
{
    struct wf_malt *m = &c->g.store.malts[below(d, base->store.malt_count)];
    struct wf_hop *h = &c->g.store.hops[below(d, base->store.hop_count)];
    if (isfinite(m->price_per_kg))
        m->price_per_kg *= dice_decimal(d, 0, 9, 10);
    if (isfinite(h->price_per_kg))
        h->price_per_kg *= dice_decimal(d, 0, 9, 10);
    return true;
}

/* ---- The same in other words ----------------------------------------------------------------- */

static void shuffle(struct dice *d, void *list, size_t count, size_t size, size_t *lots)
{
    char kept[1024];
    for (size_t i = count; i > 1; i--) {
        size_t k = below(d, i);
        char *a = (char *)list + (i - 1) * size, *b = (char *)list + k * size;
        memcpy(kept, a, size);
        memcpy(a, b, size);
        memcpy(b, kept, size);
        if (lots != NULL) {
            size_t lot = lots[i - 1];
            lots[i - 1] = lots[k];
            lots[k] = lot;
        }
    }
}
_Static_assert(sizeof(struct wf_malt) <= 1024 && sizeof(struct wf_hop) <= 1024, "kept has room");

static bool order(struct gen *base, struct dice *d, struct changed *c)
{
    struct wf_store *s = &c->g.store;
    struct wf_target *t = &c->g.target;
    (void)base;
    shuffle(d, s->malts, s->malt_count, sizeof *s->malts, c->malt);
    shuffle(d, s->hops, s->hop_count, sizeof *s->hops, c->hop);
    shuffle(d, s->yeasts, s->yeast_count, sizeof *s->yeasts, c->yeast);
    shuffle(d, (void *)(uintptr_t)t->rules, t->rule_count, sizeof *t->rules, NULL);
    shuffle(d, (void *)(uintptr_t)t->wishes, t->wish_count, sizeof *t->wishes, NULL);
    c->both = true;
    return true;
}

/* Lots that cannot be used: none left of one, and of the other less than is worth adding. */
static bool empty_lots(struct gen *base, struct dice *d, struct changed *c)
{
    struct wf_store *s = &c->g.store;
    struct wf_malt *m = &s->malts[s->malt_count];
    struct wf_hop *h = &s->hops[s->hop_count];
    *m = s->malts[below(d, s->malt_count++)];
    m->id = m->name = "no-malt";
    m->have_kg = 0;
    m->price_per_kg = 0;
    *h = s->hops[below(d, s->hop_count++)];
    h->id = h->name = "no-hop";
    h->have_g = base->brewhouse.step_hop_g / 2;
    h->price_per_kg = 0;
    c->both = true;
    return true;
}

/* A rule told twice, or one that says nothing. */
static bool idle_rule(struct gen *base, struct dice *d, struct changed *c)
{
    struct wf_target *t = &c->g.target;
    struct wf_rule *rules = (struct wf_rule *)(uintptr_t)t->rules;
    size_t count = t->rule_count++;
    if (count > 0 && dice_chance(d, 50))
        rules[count] = rules[below(d, count)];
    else
        rules[count] = (struct wf_rule){.who = {.all = true},
                                        .share = {dice_decimal(d, 0, 1, 1), 1, (double)NAN},
                                        .least = (int)dice_whole(d, -1, 1),
                                        .most = dice_chance(d, 50) ? 99 : -1,
                                        .words = "malts"};
    (void)base;
    c->both = true;
    return true;
}

static const char *const *renamed(struct gen *g, const char *const *ids, const struct changed *c)
{
    size_t count = 0;
    while (ids != NULL && ids[count] != NULL)
        count++;
    if (ids == NULL)
        return NULL;
    const char **names = gen_room(g, count + 1, sizeof *names);
    for (size_t i = 0; i < count; i++) {
        names[i] = ids[i]; /* a yeast's family stays */
        for (size_t k = 0; k < g->store.malt_count; k++)
            if (strcmp(g->store.malts[k].id, ids[i]) == 0)
                names[i] = c->g.store.malts[k].id;
        for (size_t k = 0; k < g->store.hop_count; k++)
            if (strcmp(g->store.hops[k].id, ids[i]) == 0)
                names[i] = c->g.store.hops[k].id;
    }
    return names;
}

/* Names that sort the other way round. */
static bool names(struct gen *base, struct dice *d, struct changed *c)
{
    struct wf_store *s = &c->g.store;
    struct wf_target *t = &c->g.target;
    struct wf_rule *rules = (struct wf_rule *)(uintptr_t)t->rules;
    struct wf_slot *slots = (struct wf_slot *)(uintptr_t)t->slots;
    (void)d;
    for (size_t i = 0; i < s->malt_count; i++)
        s->malts[i].id = s->malts[i].name = gen_text(base, "grain-%03zu", 999 - i);
    for (size_t i = 0; i < s->hop_count; i++)
        s->hops[i].id = s->hops[i].name = gen_text(base, "a-hop-%03zu", 999 - i);
    for (size_t i = 0; i < t->rule_count; i++)
        rules[i].who.ids = renamed(base, rules[i].who.ids, c);
    for (size_t i = 0; i < t->slot_count; i++)
        slots[i].hops = renamed(base, slots[i].hops, c);
    t->use = renamed(base, t->use, c);
    t->avoid = renamed(base, t->avoid, c);
    c->both = true;
    return true;
}

const struct change lot_changes[] = {
    {"a malt added", malt_added, true},
    {"a hop added", hop_added, true},
    {"a yeast added", yeast_added, true},
    {"more stock", more_stock, true},
    {"cheaper lots", cheaper, true},
    {"another order", order, true},
    {"lots that are used up", empty_lots, true},
    {"an idle rule", idle_rule, true},
    {"other names", names, true},
    {NULL, NULL, false},
};

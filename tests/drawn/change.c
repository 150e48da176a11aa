/* change.c: copies of problems, and recipes carried from one to the other. */
#include "drawn/change.h"

#include "support/generate_parts.h"

#include <string.h>

void *change_copy(struct gen *g, const void *list, size_t count, size_t size, size_t more)
{
    void *copy = gen_room(g, count + more, size);
    if (count > 0)
        memcpy(copy, list, count * size);
    return copy;
}

/* 0, 1, 2, ..., and room for a few more, which are new. */
static size_t *same_lots(struct gen *g, size_t count)
{
    size_t *lots = gen_room(g, count + 2, sizeof *lots);
    for (size_t i = 0; i < count + 2; i++)
        lots[i] = i < count ? i : CHANGE_NO_LOT;
    return lots;
}

void change_start(struct gen *base, struct changed *c)
{
    struct wf_store *s = &c->g.store;
    struct wf_target *t = &c->g.target;
    *c = (struct changed){.g = *base, .factor = 1};
    s->malts = change_copy(base, s->malts, s->malt_count, sizeof *s->malts, 1);
    s->hops = change_copy(base, s->hops, s->hop_count, sizeof *s->hops, 1);
    s->yeasts = change_copy(base, s->yeasts, s->yeast_count, sizeof *s->yeasts, 1);
    t->rules = change_copy(base, t->rules, t->rule_count, sizeof *t->rules, 1);
    t->wishes = change_copy(base, t->wishes, t->wish_count, sizeof *t->wishes, 1);
    t->slots = change_copy(base, t->slots, t->slot_count, sizeof *t->slots, 0);
    c->malt = same_lots(base, s->malt_count);
    c->hop = same_lots(base, s->hop_count);
    c->yeast = same_lots(base, s->yeast_count);
}

struct gen_recipe change_forth(struct changed *c, const struct gen_recipe *base)
{
    struct gen_recipe r = gen_recipe_new(&c->g);
    const struct wf_store *s = &c->g.store;
    size_t hops = 0;
    for (size_t i = 0; i < s->malt_count; i++)
        r.kg[i] = c->malt[i] == CHANGE_NO_LOT ? 0 : c->factor * base->kg[c->malt[i]];
    for (size_t h = 0; h < s->hop_count; h++)
        hops += c->hop[h] != CHANGE_NO_LOT; /* that the base has */
    for (size_t i = 0; i < c->g.target.slot_count; i++)
        for (size_t h = 0; h < s->hop_count; h++)
            if (c->hop[h] != CHANGE_NO_LOT)
                r.grams[i * s->hop_count + h] = c->factor * base->grams[i * hops + c->hop[h]];
    for (size_t y = 0; y < s->yeast_count; y++)
        if (c->yeast[y] != CHANGE_NO_LOT && c->yeast[y] == base->yeast)
            r.yeast = y;
    return r;
}

struct gen_recipe change_back(struct gen *base, const struct changed *c,
                              const struct gen_recipe *changed)
{
    struct gen_recipe r = gen_recipe_new(base);
    const struct wf_store *s = &c->g.store;
    size_t hops = base->store.hop_count;
    for (size_t i = 0; i < s->malt_count; i++)
        if (c->malt[i] != CHANGE_NO_LOT)
            r.kg[c->malt[i]] = changed->kg[i] / c->factor;
    for (size_t i = 0; i < c->g.target.slot_count; i++)
        for (size_t h = 0; h < s->hop_count; h++)
            if (c->hop[h] != CHANGE_NO_LOT)
                r.grams[i * hops + c->hop[h]] = changed->grams[i * s->hop_count + h] / c->factor;
    if (changed->yeast != GEN_NO_YEAST)
        r.yeast = c->yeast[changed->yeast];
    return r;
}

bool change_exact_dose(const struct gen *g)
{
    for (size_t i = 0; i < g->target.slot_count; i++)
        if (g->target.slots[i].dosed &&
            (g->target.slots[i].dose.high - g->target.slots[i].dose.low) * g->brewhouse.batch_l <
                g->brewhouse.step_hop_g)
            return true;
    return false;
}

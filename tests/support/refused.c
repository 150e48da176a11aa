/* refused.c: see refused.h. */
#include "support/refused.h"

#include "support/generate_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The generator's lists are its own to write to. */
static void *writable(const void *p)
{
    return (void *)(uintptr_t)p;
}

static size_t length(const char *const *list)
{
    size_t n = 0;
    while (list && list[n])
        n++;
    return n;
}

static bool is_named(const char *const *list, const char *id)
{
    for (; list && *list; list++)
        if (strcmp(*list, id) == 0)
            return true;
    return false;
}

/* A list with one more, or without one. */
static const char *const *changed(struct gen *g, const char *const *list, const char *more,
                                  const char *less)
{
    const char **out = gen_room(g, length(list) + 2, sizeof *out);
    size_t n = 0;
    for (; list && *list; list++)
        if (!less || strcmp(*list, less) != 0)
            out[n++] = *list;
    if (more)
        out[n] = more;
    return out;
}

/* ---- Spoiling -------------------------------------------------------------------------------- */

static void lighter(struct gen *g, struct dice *d)
{
    double by = dice_decimal(d, 40, 80, 100);
    g->target.colour =
        (struct wf_range){g->target.colour.low * by / 2, g->target.colour.high * by, (double)NAN};
}

static void darker(struct gen *g, struct dice *d)
{
    double by = dice_decimal(d, 12, 25, 10);
    g->target.colour.low = round(g->target.colour.low * by * 10) / 10;
    g->target.colour.high = round(g->target.colour.high * by * 10) / 10;
}

static void stronger(struct gen *g, struct dice *d)
{
    double by = dice_decimal(d, 10, 40, 1000);
    g->target.og.low += by;
    g->target.og.high += by;
}

static void less_malt(struct gen *g, struct dice *d)
{
    for (size_t i = 0; i < g->store.malt_count; i++)
        g->store.malts[i].have_kg =
            round(fmax(g->drawn.kg[i], 0.2) * dice_decimal(d, 30, 110, 100) * 100) / 100;
}

static void less_hops(struct gen *g, struct dice *d)
{
    for (size_t i = 0; i < g->store.hop_count; i++)
        g->store.hops[i].have_g = (double)dice_whole(d, 0, 12);
}

static void fewer_belong(struct gen *g, struct dice *d)
{
    const char **ids = gen_room(g, g->store.malt_count + 1, sizeof *ids);
    size_t n = 0;
    for (size_t i = 0; i < g->store.malt_count; i++)
        if (dice_chance(d, 40))
            ids[n++] = g->store.malts[i].id;
    ids[n] = n == 0 ? "no-malt-at-all" : NULL;
    g->target.only = (struct wf_malt_set){.ids = ids};
}

static void avoid_one(struct gen *g, struct dice *d)
{
    bool hop = dice_chance(d, 30);
    size_t lot =
        (size_t)dice_whole(d, 0, (long)(hop ? g->store.hop_count : g->store.malt_count) - 1);
    const char *id = hop ? g->store.hops[lot].id : g->store.malts[lot].id;
    if (!is_named(g->target.use, id))
        g->target.avoid = changed(g, g->target.avoid, id, NULL);
}

static void use_another(struct gen *g, struct dice *d)
{
    const struct wf_malt *m = &g->store.malts[dice_whole(d, 0, (long)g->store.malt_count - 1)];
    if (!is_named(g->target.avoid, m->id))
        g->target.use = changed(g, g->target.use, m->id, NULL);
}

static void other_counts(struct gen *g, struct dice *d)
{
    for (size_t i = 0; i < g->target.rule_count; i++) {
        struct wf_rule *r = writable(&g->target.rules[i]);
        if (r->most > 1 && dice_chance(d, 60))
            r->most = 1;
        if (r->most > 1 && r->least > r->most)
            r->least = r->most;
        if (r->least > r->most && r->most >= 0)
            r->least = r->most;
    }
}

static void other_shares(struct gen *g, struct dice *d)
{
    for (size_t i = 0; i < g->target.rule_count; i++) {
        struct wf_rule *r = writable(&g->target.rules[i]);
        double by = dice_decimal(d, 8, 20, 100);
        if (isfinite(r->share.low) && isfinite(r->share.high) && dice_chance(d, 50)) {
            r->share.low = fmin(1, r->share.low + by);
            r->share.high = fmin(1, r->share.high + by);
        }
    }
}

static void more_character(struct gen *g, struct dice *d)
{
    for (size_t i = 0; i < g->target.wish_count; i++) {
        struct wf_word_wish *w = writable(&g->target.wishes[i]);
        double by = dice_decimal(d, 3, 15, 10);
        w->index.low = fmax(w->index.low, 0) + by;
        w->index.high += by;
    }
}

static void dose(struct gen *g, struct dice *d)
{
    struct wf_slot *s = writable(&g->target.slots[0]);
    double low = dice_decimal(d, 10, 40, 10);
    s->dosed = true;
    s->dose = (struct wf_range){low, low + 0.4, (double)NAN};
}

static void name_hops(struct gen *g, struct dice *d)
{
    struct wf_slot *s = writable(&g->target.slots[g->target.slot_count - 1]);
    const char *hop = g->store.hops[dice_whole(d, 0, (long)g->store.hop_count - 1)].id;
    s->hops = changed(g, NULL, dice_chance(d, 50) ? hop : "no-hop-at-all", NULL);
    s->origins = dice_chance(d, 30) ? changed(g, NULL, "Nowhere", NULL) : NULL;
    s->dosed = true;
    s->dose = (struct wf_range){0.5, (double)INFINITY, (double)NAN};
}

static void name_yeasts(struct gen *g, struct dice *d)
{
    if (dice_chance(d, 50))
        g->target.yeasts = changed(g, NULL, "no-yeast-at-all", NULL);
    else
        g->target.attenuation = (struct wf_range){0.83, 0.9, (double)NAN};
}

static void more_enzymes(struct gen *g, struct dice *d)
{
    g->target.diastatic += (double)dice_whole(d, 15, 60);
}

static void spoil(struct gen *g, struct dice *d)
{
    static void (*const ways[])(struct gen *, struct dice *) = {
        lighter,      darker,    stronger,    less_malt,    less_hops,
        fewer_belong, avoid_one, use_another, other_counts, other_shares,
        dose,         name_hops, name_yeasts, more_enzymes, more_character};
    size_t count = (size_t)dice_whole(d, 1, 2);
    for (size_t i = 0; i < count; i++)
        ways[dice_whole(d, 0, (long)(sizeof ways / sizeof *ways) - 1)](g, d);
}

/* ---- Problems -------------------------------------------------------------------------------- */

static struct gen *make_shop(uint64_t seed, const struct gen *g)
{
    struct gen *shop = gen_make(&(struct gen_options){.seed = seed + 100000,
                                                      .malts = 4,
                                                      .hops = 2,
                                                      .yeasts = g->store.yeast_count > 0 ? 2 : 0,
                                                      .slots = 1,
                                                      .scale = g->options.scale,
                                                      .planted = true});
    for (size_t i = 0; i < shop->store.malt_count; i++) {
        struct wf_malt *m = &shop->store.malts[i];
        m->id = m->name = gen_text(shop, "sold-%s", m->id);
        m->have_kg = (double)INFINITY;
        m->price_per_kg = dice_decimal(&(struct dice){seed + i}, 100, 900, 100);
    }
    for (size_t i = 0; i < shop->store.hop_count; i++) {
        struct wf_hop *h = &shop->store.hops[i];
        h->id = h->name = gen_text(shop, "sold-%s", h->id);
        h->have_g = (double)INFINITY;
    }
    for (size_t i = 0; i < shop->store.yeast_count; i++)
        shop->store.yeasts[i].id = shop->store.yeasts[i].name =
            gen_text(shop, "sold-%s", shop->store.yeasts[i].id);
    shop->store.currency = "EUR";
    shop->store.note = "invented";
    return shop;
}

struct refused refused_make(uint64_t seed, bool tiny)
{
    struct dice d = {seed * 7919 + 17};
    const struct gen_options o = {.seed = seed,
                                  .malts = tiny ? 3 : (size_t)dice_whole(&d, 3, 7),
                                  .hops = tiny ? 2 : (size_t)dice_whole(&d, 2, 4),
                                  .yeasts = (size_t)dice_whole(&d, 0, tiny ? 1 : 3),
                                  .slots = (size_t)dice_whole(&d, 1, tiny ? 1 : 3),
                                  .scale = tiny ? GEN_TINY : GEN_COARSE,
                                  .planted = true,
                                  .tight = dice_chance(&d, 50),
                                  .aims = dice_chance(&d, 50),
                                  .fermented = dice_chance(&d, 70)};
    struct refused r = {.g = gen_make(&o), .seed = seed, .tiny = tiny};
    spoil(r.g, &d);
    r.shop = make_shop(seed, r.g);
    return r;
}

void refused_free(struct refused *r)
{
    gen_free(r->g);
    gen_free(r->shop);
}

/* ---- Demands --------------------------------------------------------------------------------- */

struct out {
    struct wf_demand *list;
    size_t count, room;
};

static void add(struct out *o, enum wf_demand_kind kind, size_t index, size_t part, bool figure)
{
    static const enum wf_demand_end ends[] = {WF_END_LEAST, WF_END_MOST};
    for (size_t i = 0; i < (figure ? 2 : 1); i++) {
        if (o->count == o->room)
            abort();
        o->list[o->count++] = (struct wf_demand){
            .kind = kind, .end = figure ? ends[i] : WF_END_NONE, .index = index, .part = part};
    }
}

size_t refused_demands(const struct refused *r, struct wf_demand *list, size_t room)
{
    const struct wf_target *t = &r->g->target;
    struct out o = {list, 0, room};
    for (int k = WF_DEMAND_OG; k <= WF_DEMAND_ABV; k++)
        add(&o, (enum wf_demand_kind)k, 0, 0, true);
    for (size_t i = 0; i < t->rule_count; i++) {
        add(&o, WF_DEMAND_SHARE, i, 0, true);
        add(&o, WF_DEMAND_COUNT, i, 0, true);
    }
    for (size_t i = 0; i < t->wish_count; i++)
        add(&o, WF_DEMAND_WORD, i, 0, true);
    for (size_t i = length(t->use); i-- > 0;) /* the last first: places in the list stay */
        add(&o, WF_DEMAND_USE, i, 0, false);
    add(&o, WF_DEMAND_AVOID, 0, 0, false);
    add(&o, WF_DEMAND_ONLY, 0, 0, false);
    add(&o, WF_DEMAND_YEAST, 0, 0, false);
    for (size_t i = 0; i < t->slot_count; i++) {
        add(&o, WF_DEMAND_DOSE, i, 0, true);
        add(&o, WF_DEMAND_SLOT_HOPS, i, 0, false);
        add(&o, WF_DEMAND_ORIGINS, i, 0, false);
        add(&o, WF_DEMAND_VARIETIES, i, 0, true);
        for (size_t k = 0; k < t->slots[i].wish_count; k++)
            add(&o, WF_DEMAND_SLOT_WORD, i, k, true);
    }
    add(&o, WF_DEMAND_ATTENUATION, 0, 0, true);
    add(&o, WF_DEMAND_DIASTATIC, 0, 0, true);
    for (size_t i = 0; i < r->g->store.malt_count; i++)
        add(&o, WF_DEMAND_LOT_SHARE, i, 0, true);
    add(&o, WF_DEMAND_USUAL_SHARES, 0, 0, false);
    add(&o, WF_DEMAND_MALTS, 0, 0, false);
    add(&o, WF_DEMAND_HOPS, 0, 0, false);
    add(&o, WF_DEMAND_YEASTS, 0, 0, false);
    return o.count;
}

bool refused_same(const struct wf_demand *a, const struct wf_demand *b)
{
    return a->kind == b->kind && a->end == b->end && a->index == b->index && a->part == b->part;
}

/* ---- Moving ends ----------------------------------------------------------------------------- */

static struct wf_range *range_of(struct wf_target *t, enum wf_demand_kind k)
{
    struct wf_range *const ranges[] = {&t->og,         &t->colour, &t->ratio,
                                       &t->bitterness, &t->fg,     &t->abv};
    return k == WF_DEMAND_ATTENUATION ? &t->attenuation : ranges[k - WF_DEMAND_OG];
}

static void set_end(struct wf_range *r, const struct wf_demand *d, double to)
{
    if (d->end == WF_END_MOST)
        r->high = fmax(r->high, to);
    else
        r->low = fmin(r->low, to);
    if (isinf(r->low) && isinf(r->high))
        r->aim = (double)NAN;
}

/* A least share above a malt's usual greatest one has lifted that, and goes on to; and a greatest
 * one that stood in for it goes up to all of the grist. */
static void set_share(struct refused *r, const struct wf_demand *d, double to)
{
    struct wf_rule *rule = writable(&r->g->target.rules[d->index]);
    double low = rule->share.low;
    set_end(&rule->share, d, to);
    rule->share.high = d->end == WF_END_MOST ? fmin(rule->share.high, 1) : rule->share.high;
    for (size_t i = 0; i < r->g->store.malt_count; i++) {
        const struct wf_malt *m = &r->g->store.malts[i];
        if (is_named(rule->who.ids, m->id) && isinf(rule->share.high) && low > m->usual_most)
            rule->share.high = 1;
    }
}

static void set_count(struct wf_rule *rule, const struct wf_demand *d, double to)
{
    int count = isfinite(to) ? (int)round(to) : -1;
    if (d->end == WF_END_MOST)
        rule->most = count;
    else
        rule->least = count;
}

void refused_move(struct refused *r, const struct wf_demand *d, double to)
{
    struct wf_target *t = &r->g->target;
    struct wf_slot *slot = t->slot_count > d->index ? writable(&t->slots[d->index]) : NULL;
    if (d->kind <= WF_DEMAND_ABV || d->kind == WF_DEMAND_ATTENUATION)
        set_end(range_of(t, d->kind), d, to);
    else if (d->kind == WF_DEMAND_SHARE)
        set_share(r, d, to);
    else if (d->kind == WF_DEMAND_COUNT)
        set_count(writable(&t->rules[d->index]), d, to);
    else if (d->kind == WF_DEMAND_WORD)
        set_end(&((struct wf_word_wish *)writable(&t->wishes[d->index]))->index, d, to);
    else if (d->kind == WF_DEMAND_DOSE && slot->dosed)
        set_end(&slot->dose, d, to);
    else if (d->kind == WF_DEMAND_SLOT_WORD)
        set_end(&((struct wf_word_wish *)writable(&slot->wishes[d->part]))->index, d, to);
    else if (d->kind == WF_DEMAND_VARIETIES && d->end == WF_END_MOST)
        slot->most = isfinite(to) ? (int)round(to) : 100;
    else if (d->kind == WF_DEMAND_DIASTATIC && d->end == WF_END_LEAST)
        t->diastatic = fmax(0, to);
    else if (d->kind == WF_DEMAND_LOT_SHARE && d->end == WF_END_MOST &&
             isfinite(r->g->store.malts[d->index].most))
        r->g->store.malts[d->index].most = fmin(to, 1);
}

/* ---- Leaving out ----------------------------------------------------------------------------- */

static void open_malts(struct refused *r)
{
    struct wf_store *s = &r->g->store, *shop = &r->shop->store;
    struct wf_malt *all = gen_room(r->g, s->malt_count + shop->malt_count, sizeof *all);
    memcpy(all, s->malts, s->malt_count * sizeof *all);
    memcpy(all + s->malt_count, shop->malts, shop->malt_count * sizeof *all);
    s->malts = all;
    s->malt_count += shop->malt_count;
    for (size_t i = 0; i < s->malt_count; i++)
        all[i].have_kg = (double)INFINITY;
}

static void open_hops(struct refused *r)
{
    struct wf_store *s = &r->g->store, *shop = &r->shop->store;
    struct wf_hop *all = gen_room(r->g, s->hop_count + shop->hop_count, sizeof *all);
    memcpy(all, s->hops, s->hop_count * sizeof *all);
    memcpy(all + s->hop_count, shop->hops, shop->hop_count * sizeof *all);
    s->hops = all;
    s->hop_count += shop->hop_count;
    for (size_t i = 0; i < s->hop_count; i++)
        all[i].have_g = (double)INFINITY;
}

static void open_yeasts(struct refused *r)
{
    struct wf_store *s = &r->g->store, *shop = &r->shop->store;
    struct wf_yeast *all = gen_room(r->g, s->yeast_count + shop->yeast_count, sizeof *all);
    memcpy(all, s->yeasts, s->yeast_count * sizeof *all);
    memcpy(all + s->yeast_count, shop->yeasts, shop->yeast_count * sizeof *all);
    s->yeasts = all;
    s->yeast_count += shop->yeast_count;
    for (size_t i = 0; i < s->yeast_count; i++)
        all[i].have = (double)INFINITY;
}

/* The usual greatest shares of the store's own malts; a shop's keep theirs. */
static void lift_usual(struct refused *r)
{
    for (size_t i = 0; i < r->g->store.malt_count; i++) {
        struct wf_malt *m = &r->g->store.malts[i];
        if (!isfinite(m->most) && strncmp(m->id, "sold-", 5) != 0)
            m->most = 1;
    }
}

static void drop_use(struct refused *r, const char *id)
{
    struct wf_target *t = &r->g->target;
    t->use = changed(r->g, t->use, NULL, id);
    for (size_t i = 0; i < r->g->store.yeast_count; i++)
        if (strcmp(r->g->store.yeasts[i].id, id) == 0 && length(t->yeasts) > 0)
            t->yeasts = changed(r->g, t->yeasts, id, NULL);
}

void refused_drop(struct refused *r, const struct wf_demand *d)
{
    struct wf_target *t = &r->g->target;
    struct wf_slot *slot = t->slot_count > d->index ? writable(&t->slots[d->index]) : NULL;
    if (d->end != WF_END_NONE)
        refused_move(r, d,
                     d->end == WF_END_LEAST        ? -(double)INFINITY
                     : d->kind == WF_DEMAND_COLOUR ? 150
                                                   : (double)INFINITY);
    else if (d->kind == WF_DEMAND_USE)
        drop_use(r, t->use[d->index]);
    else if (d->kind == WF_DEMAND_AVOID)
        t->avoid = NULL;
    else if (d->kind == WF_DEMAND_ONLY)
        t->only.all = true;
    else if (d->kind == WF_DEMAND_YEAST)
        t->yeasts = NULL;
    else if (d->kind == WF_DEMAND_SLOT_HOPS)
        slot->hops = NULL;
    else if (d->kind == WF_DEMAND_ORIGINS)
        slot->origins = NULL;
    else if (d->kind == WF_DEMAND_USUAL_SHARES)
        lift_usual(r);
    else if (d->kind == WF_DEMAND_MALTS)
        open_malts(r);
    else if (d->kind == WF_DEMAND_HOPS)
        open_hops(r);
    else
        open_yeasts(r);
}

/* ---- Changes --------------------------------------------------------------------------------- */

/* A lot of the shop comes into the store, with none of it yet. */
static void take_in(struct refused *r, const struct wf_shift *s)
{
    struct wf_store *own = &r->g->store, *shop = &r->shop->store;
    struct wf_malt *malts = gen_room(r->g, own->malt_count + 1, sizeof *malts);
    struct wf_hop *hops = gen_room(r->g, own->hop_count + 1, sizeof *hops);
    struct wf_yeast *yeasts = gen_room(r->g, own->yeast_count + 1, sizeof *yeasts);
    if (s->demand.kind == WF_DEMAND_MALTS) {
        memcpy(malts, own->malts, own->malt_count * sizeof *malts);
        malts[own->malt_count] = shop->malts[s->lot];
        malts[own->malt_count++].have_kg = 0;
        own->malts = malts;
    } else if (s->demand.kind == WF_DEMAND_HOPS) {
        memcpy(hops, own->hops, own->hop_count * sizeof *hops);
        hops[own->hop_count] = shop->hops[s->lot];
        hops[own->hop_count++].have_g = 0;
        own->hops = hops;
    } else {
        memcpy(yeasts, own->yeasts, own->yeast_count * sizeof *yeasts);
        yeasts[own->yeast_count] = shop->yeasts[s->lot];
        yeasts[own->yeast_count++].have = 0;
        own->yeasts = yeasts;
    }
}

static void get(struct refused *r, const struct wf_shift *s, double more)
{
    struct wf_store *own = &r->g->store;
    if (s->shop)
        take_in(r, s);
    if (s->demand.kind == WF_DEMAND_MALTS)
        own->malts[s->shop ? own->malt_count - 1 : s->lot].have_kg += more;
    else if (s->demand.kind == WF_DEMAND_HOPS)
        own->hops[s->shop ? own->hop_count - 1 : s->lot].have_g += 1000 * more;
    else
        own->yeasts[s->shop ? own->yeast_count - 1 : s->lot].have += more;
}

static void let_in(struct refused *r, const struct wf_shift *s, double to)
{
    struct wf_target *t = &r->g->target;
    const struct wf_demand *d = &s->demand;
    struct wf_slot *slot = t->slot_count > d->index ? writable(&t->slots[d->index]) : NULL;
    if (d->kind == WF_DEMAND_AVOID)
        t->avoid = changed(r->g, t->avoid, NULL, s->id);
    else if (d->kind == WF_DEMAND_ONLY)
        t->only.ids = changed(r->g, t->only.ids, s->id, NULL);
    else if (d->kind == WF_DEMAND_YEAST)
        t->yeasts = changed(r->g, t->yeasts, s->id, NULL);
    else if (d->kind == WF_DEMAND_SLOT_HOPS)
        slot->hops = changed(r->g, slot->hops, s->id, NULL);
    else if (d->kind == WF_DEMAND_ORIGINS)
        slot->origins = changed(r->g, slot->origins, s->name, NULL);
    else
        r->g->store.malts[s->lot].most = to;
}

void refused_shift(struct refused *r, const struct wf_shift *s, double to, double more)
{
    if (!isnan(s->more))
        get(r, s, more);
    else if (s->id)
        let_in(r, s, to);
    else if (isnan(to))
        refused_drop(r, &s->demand);
    else
        refused_move(r, &s->demand, to);
}

/* ---- Solving --------------------------------------------------------------------------------- */

enum wf_status refused_solve(const struct refused *r)
{
    static struct wf_error e;
    const struct wf_solve_options o = {.today = GEN_TODAY, .gap = 1};
    struct wf_recipe *recipe = NULL;
    wf_error_clear(&e);
    enum wf_status status =
        wf_solve(&r->g->target, &r->g->store, &r->g->brewhouse, &o, &recipe, &e);
    wf_recipe_free(recipe);
    return status;
}

#include "solve/eases.h"

#include "base/alloc.h"
#include "base/try.h"
#include "model/problem.h"

#include <math.h>
#include <string.h>

#define MORE_MALT_KG 1.0
#define MORE_HOP_KG  0.1
#define MORE_SHARE   0.01
#define NEARLY_ALL   0.95 /* of a lot: it is all but used up */
#define SAME         1e-9

struct list {
    struct wf_recipe *r;
    const struct wf_target *t;
    const struct wf_store *s, *shop;
    enum wf_goal goal;
    struct wf_ease *items;
    size_t count;
    bool failed;
};

static void add(struct list *l, const struct wf_ease *ease)
{
    struct wf_ease *item = &l->items[l->count++];
    *item = *ease;
    item->lean.what = wf_arena_string(l->r->arena, ease->lean.what);
    item->lean.id = wf_arena_string(l->r->arena, ease->lean.id);
    l->failed |= item->lean.what == NULL || (ease->lean.id != NULL && item->lean.id == NULL);
}

/* ---- Wishes ---------------------------------------------------------------------------------- */

/* A notch, and how far wishes of the kind may go; a notch of 0: the wish is left as it is. */
struct notch {
    double size, least, most;
};
static const struct notch notches[WF_WISH_KIND_COUNT] = {
    [WF_WISH_OG] = {0.001, 1.002, WF_GRAVITY_MOST},
    [WF_WISH_COLOUR] = {1, 0, 100},
    [WF_WISH_RATIO] = {0.02, 0, 5},
    [WF_WISH_BITTERNESS] = {1, 0, 200},
    [WF_WISH_FG] = {0.001, WF_GRAVITY_LEAST, 1.1},
    [WF_WISH_ABV] = {0.002, 0, 0.2},
    [WF_WISH_DIASTATIC] = {5, 0, 300},
    [WF_WISH_SHARE] = {0.01, 0, 1},
    [WF_WISH_COUNT] = {1, 0, 1000},
    [WF_WISH_WORD] = {0.25, 0, 100},
    [WF_WISH_DOSE] = {0.1, 0, 50},
    [WF_WISH_HOP_WORD] = {1, 0, 5},
    [WF_WISH_USE] = {1, 0, 1},
};

/* Under the goal `closest` a window is what closeness is measured by. */
static bool is_measure(const struct list *l, const struct wf_wish_result *w)
{
    return l->goal == WF_GOAL_CLOSEST && isfinite(w->wanted.aim) &&
           (w->kind == WF_WISH_OG || w->kind == WF_WISH_COLOUR || w->kind == WF_WISH_RATIO ||
            w->kind == WF_WISH_BITTERNESS);
}

static void add_end(struct list *l, const struct wf_wish_result *w, bool high)
{
    const struct notch *n = &notches[w->kind];
    double from = high ? w->wanted.high : w->wanted.low;
    double to = high ? fmin(from + n->size, n->most) : fmax(from - n->size, n->least);
    if (!isfinite(from) || n->size <= 0 || (high ? to <= from + SAME : to >= from - SAME))
        return;
    const struct wf_ease ease = {.lean = {.kind = WF_LEAN_WISH,
                                          .what = w->wish,
                                          .dimension = w->dimension,
                                          .high = high,
                                          .from = from,
                                          .to = to,
                                          .price = NAN},
                                 .tight = fabs(w->got - from) <= n->size * (1 + SAME) ||
                                          w->kind == WF_WISH_USE,
                                 .wish = w->kind,
                                 .index = w->index,
                                 .part = w->part,
                                 .wanted = w->wanted};
    add(l, &ease);
}

static void add_wishes(struct list *l)
{
    for (size_t i = 0; i < l->r->wish_count; i++) {
        const struct wf_wish_result *w = &l->r->wishes[i];
        if (is_measure(l, w))
            continue;
        add_end(l, w, false);
        add_end(l, w, true);
    }
}

/* ---- Lots of the store ----------------------------------------------------------------------- */

static double malt_used(const struct wf_recipe *r, const char *id)
{
    double kg = 0;
    for (size_t i = 0; i < r->malt_count; i++)
        kg += strcmp(r->malts[i].id, id) == 0 ? r->malts[i].kg : 0;
    return kg;
}

static double hop_used_kg(const struct wf_recipe *r, const char *id)
{
    double grams = 0;
    for (size_t i = 0; i < r->hop_count; i++)
        grams += strcmp(r->hops[i].id, id) == 0 ? r->hops[i].grams : 0;
    return grams / 1000;
}

static void add_stock(struct list *l, bool hop, size_t lot, const char *id, const char *name,
                      double have_kg, double used_kg)
{
    const struct wf_ease ease = {.lean = {.kind = WF_LEAN_STOCK,
                                          .what = name,
                                          .id = id,
                                          .dimension = WF_DIM_MASS,
                                          .high = true,
                                          .from = have_kg,
                                          .to = have_kg + (hop ? MORE_HOP_KG : MORE_MALT_KG),
                                          .price = NAN},
                                 .tight = used_kg >= NEARLY_ALL * have_kg,
                                 .hop = hop,
                                 .lot = lot};
    if (isfinite(have_kg))
        add(l, &ease);
}

static void add_stocks(struct list *l)
{
    for (size_t i = 0; i < l->s->malt_count; i++) {
        const struct wf_malt *m = &l->s->malts[i];
        add_stock(l, false, i, m->id, m->name, m->have_kg, malt_used(l->r, m->id));
    }
    for (size_t i = 0; i < l->s->hop_count; i++) {
        const struct wf_hop *h = &l->s->hops[i];
        add_stock(l, true, i, h->id, h->name, h->have_g / 1000, hop_used_kg(l->r, h->id));
    }
}

static double share_used(const struct wf_recipe *r, const char *id)
{
    double share = 0;
    for (size_t i = 0; i < r->malt_count; i++)
        share += strcmp(r->malts[i].id, id) == 0 ? r->malts[i].share : 0;
    return share;
}

/* Greatest shares, as the problem has them: the lot's own, a rule's or the usual one. */
static void add_limits(struct list *l, const struct wf_problem *p)
{
    for (size_t i = 0; i < p->malt_count; i++) {
        const struct wf_malt *m = p->malts[i].lot;
        double from = p->malts[i].share_most, to = fmin(1, from + MORE_SHARE);
        const struct wf_ease ease = {.lean = {.kind = WF_LEAN_SHARE,
                                              .what = m->name,
                                              .id = m->id,
                                              .dimension = WF_DIM_SHARE,
                                              .high = true,
                                              .from = from,
                                              .to = to,
                                              .price = NAN},
                                     .tight = share_used(l->r, m->id) >= from - MORE_SHARE,
                                     .lot = (size_t)(m - l->s->malts)};
        if (to > from + SAME)
            add(l, &ease);
    }
}

/* ---- A shop's lots --------------------------------------------------------------------------- */

static bool is_same(const char *id, const char *of, const char *other_id, const char *other_of)
{
    return strcmp(of != NULL ? of : id, other_of != NULL ? other_of : other_id) == 0;
}

static bool has_malt(const struct wf_store *s, const struct wf_malt *m)
{
    for (size_t i = 0; i < s->malt_count; i++)
        if (is_same(m->id, m->of, s->malts[i].id, s->malts[i].of))
            return true;
    return false;
}

static bool has_hop(const struct wf_store *s, const struct wf_hop *h)
{
    for (size_t i = 0; i < s->hop_count; i++)
        if (is_same(h->id, h->of, s->hops[i].id, s->hops[i].of))
            return true;
    return false;
}

static void add_shop_lot(struct list *l, bool hop, size_t lot, const char *id, const char *name,
                         double have_kg, double price)
{
    const struct wf_ease ease = {.lean = {.kind = WF_LEAN_SHOP,
                                          .what = name,
                                          .id = id,
                                          .dimension = WF_DIM_MASS,
                                          .high = true,
                                          .from = 0,
                                          .to = have_kg,
                                          .price = price},
                                 .hop = hop,
                                 .lot = lot};
    add(l, &ease);
}

static void add_shop_malts(struct list *l)
{
    for (size_t i = 0; l->shop != NULL && i < l->shop->malt_count; i++) {
        const struct wf_malt *m = &l->shop->malts[i];
        if (!has_malt(l->s, m) && !wf_id_listed(l->t->avoid, m->id, m->of) &&
            wf_malt_set_has(&l->t->only, m))
            add_shop_lot(l, false, i, m->id, m->name, m->have_kg, m->price_per_kg);
    }
}

static void add_shop_hops(struct list *l)
{
    for (size_t i = 0; l->shop != NULL && i < l->shop->hop_count; i++) {
        const struct wf_hop *h = &l->shop->hops[i];
        if (!has_hop(l->s, h) && !wf_id_listed(l->t->avoid, h->id, h->of))
            add_shop_lot(l, true, i, h->id, h->name, h->have_g / 1000, h->price_per_kg);
    }
}

/* ---- All of it ------------------------------------------------------------------------------- */

static size_t room_for(const struct list *l)
{
    size_t room = 2 * l->r->wish_count + 2 * l->s->malt_count + l->s->hop_count;
    return room + (l->shop != NULL ? l->shop->malt_count + l->shop->hop_count : 0);
}

/* Tight ones first, each part in its order. */
static void tight_first(struct list *l, struct wf_ease *to)
{
    size_t n = 0;
    for (int tight = 1; tight >= 0; tight--)
        for (size_t i = 0; i < l->count; i++)
            if (l->items[i].tight == tight)
                to[n++] = l->items[i];
}

enum wf_status wf_eases_list(struct wf_recipe *r, const struct wf_target *t,
                             const struct wf_store *s, const struct wf_brewhouse *b, long today,
                             enum wf_goal goal, const struct wf_store *shop, struct wf_arena *arena,
                             struct wf_ease_list *out, struct wf_error *e)
{
    struct list l = {.r = r, .t = t, .s = s, .shop = shop, .goal = goal};
    struct wf_problem p;
    size_t room = room_for(&l);
    l.items = wf_arena_alloc(arena, room, sizeof *l.items);
    out->items = wf_arena_alloc(arena, room, sizeof *out->items);
    if (l.items == NULL || out->items == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    WF_TRY(wf_problem_make(t, s, b, today, &p, e));
    add_wishes(&l);
    add_stocks(&l);
    add_limits(&l, &p);
    wf_problem_free(&p);
    tight_first(&l, out->items);
    out->tight = out->others = 0;
    for (size_t i = 0; i < l.count; i++)
        out->tight += l.items[i].tight;
    out->others = l.count - out->tight;
    add_shop_malts(&l);
    out->shop_malts = l.count - out->tight - out->others;
    add_shop_hops(&l);
    out->shop_hops = l.count - out->tight - out->others - out->shop_malts;
    size_t mine = out->tight + out->others;
    memcpy(out->items + mine, l.items + mine, (l.count - mine) * sizeof *l.items);
    return l.failed ? wf_error_add(e, WF_MEMORY, "out of memory") : WF_OK;
}

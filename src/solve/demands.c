/*
 * What stands in a recipe's way, from a target and a store. The order is that in which a brewer
 * would want to be told: where one of two will do to explain, the first is named.
 */
#include "solve/relax.h"

#include "base/alloc.h"
#include "base/try.h"
#include "model/problem.h"

#include <math.h>
#include <string.h>

static const char *const words[] = {
#define WF_X(id, word) [WF_DEMAND_##id] = word,
    WF_DEMAND_LIST(WF_X)
#undef WF_X
};

const char *wf_demand_word(enum wf_demand_kind k)
{
    return words[k];
}

/* 0.001 oz/gal, as g/L */
#define US_DOSE_STEP (WF_KG_PER_OZ / WF_L_PER_US_GAL)

/* Notches are those of the elastic models; what is not of a figure counts WF_NOTCHES_NO_FIGURE. */
static const struct wf_demand_scale scales[WF_DEMAND_COUNT_OF] = {
    [WF_DEMAND_OG] = {WF_DIM_GRAVITY, 0.001, 0.001, 0.001, 1.004, WF_GRAVITY_MOST},
    [WF_DEMAND_COLOUR] = {WF_DIM_BEER_COLOUR, 0.1, 0.1, 1, 0, 150},
    [WF_DEMAND_RATIO] = {WF_DIM_NUMBER, 0.01, 0.01, 0.02, 0, 10},
    [WF_DEMAND_BITTERNESS] = {WF_DIM_BITTERNESS, 0.1, 0.1, 1, 0, 500},
    [WF_DEMAND_FG] = {WF_DIM_GRAVITY, 0.001, 0.001, 0.001, WF_GRAVITY_LEAST, 1.130},
    [WF_DEMAND_ABV] = {WF_DIM_SHARE, 0.001, 0.001, 0.002, 0, 0.25},
    [WF_DEMAND_SHARE] = {WF_DIM_SHARE, 0.001, 0.001, 0.01, 0, 1},
    [WF_DEMAND_COUNT] = {WF_DIM_NUMBER, 1, 1, 0.5, 0, 1000},
    [WF_DEMAND_WORD] = {WF_DIM_NUMBER, 0.01, 0.01, 0.25, 0, 200},
    [WF_DEMAND_DOSE] = {WF_DIM_DOSE, 0.01, US_DOSE_STEP, 0.1, 0, 100},
    [WF_DEMAND_SLOT_WORD] = {WF_DIM_NUMBER, 0.01, 0.01, 0.25, 0, 5},
    [WF_DEMAND_VARIETIES] = {WF_DIM_NUMBER, 1, 1, 0.5, 0, 100},
    [WF_DEMAND_ATTENUATION] = {WF_DIM_SHARE, 0.001, 0.001, 0.01, 0, 1},
    [WF_DEMAND_DIASTATIC] = {WF_DIM_DIASTATIC, 1, 1, 5, 0, 300},
    [WF_DEMAND_LOT_SHARE] = {WF_DIM_SHARE, 0.001, 0.001, 0.01, 0, 1},
    [WF_DEMAND_USUAL_SHARES] = {WF_DIM_SHARE, 0.001, 0.001, 0.01, 0, 1},
    [WF_DEMAND_MALTS] = {.dimension = WF_DIM_MASS},
    [WF_DEMAND_HOPS] = {.dimension = WF_DIM_MASS},
    [WF_DEMAND_YEASTS] = {.dimension = WF_DIM_NUMBER},
};

const struct wf_demand_scale *wf_demand_scale(enum wf_demand_kind k)
{
    return &scales[k];
}

/* ---- Lots of any kind ------------------------------------------------------------------------ */

size_t wf_lots(const struct wf_store *s, enum wf_lot_kind kind)
{
    const size_t count[] = {s->malt_count, s->hop_count, s->yeast_count};
    return count[kind];
}

struct wf_lot_ids wf_lot_ids(const struct wf_store *s, enum wf_lot_kind kind, size_t i)
{
    if (kind == WF_LOT_MALT)
        return (struct wf_lot_ids){s->malts[i].id, s->malts[i].of, s->malts[i].name};
    if (kind == WF_LOT_HOP)
        return (struct wf_lot_ids){s->hops[i].id, s->hops[i].of, s->hops[i].name};
    return (struct wf_lot_ids){s->yeasts[i].id, s->yeasts[i].of, s->yeasts[i].name};
}

bool wf_find_lot(const struct wf_store *s, const char *id, struct wf_lot_ids *out)
{
    const char *one[] = {id, NULL};
    for (int kind = 0; kind < WF_LOT_KINDS; kind++)
        for (size_t i = 0; i < wf_lots(s, (enum wf_lot_kind)kind); i++) {
            struct wf_lot_ids lot = wf_lot_ids(s, (enum wf_lot_kind)kind, i);
            if (!wf_id_listed(one, lot.id, lot.of))
                continue;
            *out = lot;
            return true;
        }
    return false;
}

/* The same catalogue entry, or the same name. */
static bool same(struct wf_lot_ids a, struct wf_lot_ids b)
{
    return strcmp(a.of != NULL ? a.of : a.id, b.of != NULL ? b.of : b.id) == 0 ||
           strcmp(a.id, b.id) == 0;
}

enum wf_lot_kind wf_relax_part(const struct wf_relax *r, size_t demand)
{
    enum wf_demand_kind k = r->demands[demand].kind;
    return k == WF_DEMAND_MALTS ? WF_LOT_MALT : k == WF_DEMAND_HOPS ? WF_LOT_HOP : WF_LOT_YEAST;
}

/* ---- The list -------------------------------------------------------------------------------- */

struct list {
    const struct wf_target *t;
    const struct wf_store *s;
    struct wf_arena *arena;
    struct wf_relax *r;
    struct wf_demand *items;
    size_t count;
    bool failed;
};

static void add(struct list *l, struct wf_demand d)
{
    l->failed |= d.subject == NULL;
    if (d.end == WF_END_NONE)
        d.bound = NAN;
    d.dimension = scales[d.kind].dimension;
    l->items[l->count++] = d;
}

/* Each end of a wanted figure that asks something. */
static void add_ends(struct list *l, struct wf_demand d, struct wf_range wanted)
{
    const struct wf_demand_scale *scale = &scales[d.kind];
    d.end = WF_END_LEAST;
    d.bound = wanted.low;
    if (isfinite(wanted.low) && wanted.low > scale->least)
        add(l, d);
    d.end = WF_END_MOST;
    d.bound = wanted.high;
    if (isfinite(wanted.high) && wanted.high < scale->most)
        add(l, d);
}

static struct wf_demand demand(enum wf_demand_kind kind, size_t index, const char *subject)
{
    return (struct wf_demand){.kind = kind, .index = index, .subject = subject};
}

/* ---- Wishes ---------------------------------------------------------------------------------- */

static void add_figures(struct list *l)
{
    const struct wf_target *t = l->t;
    const struct {
        enum wf_demand_kind kind;
        const char *subject;
        struct wf_range wanted;
        bool of_yeast; /* of no account where the store has no yeasts at all */
    } rows[] = {
        {WF_DEMAND_OG, "original gravity", t->og, false},
        {WF_DEMAND_COLOUR, "colour", t->colour, false},
        {WF_DEMAND_RATIO, "bitterness ratio", t->ratio, false},
        {WF_DEMAND_BITTERNESS, "bitterness", t->bitterness, false},
        {WF_DEMAND_FG, "final gravity", t->fg, true},
        {WF_DEMAND_ABV, "alcohol", t->abv, true},
    };
    for (size_t i = 0; i < WF_COUNT_OF(rows); i++)
        if (!rows[i].of_yeast || l->s->yeast_count > 0)
            add_ends(l, demand(rows[i].kind, 0, rows[i].subject), rows[i].wanted);
}

static void add_rules(struct list *l)
{
    for (size_t i = 0; i < l->t->rule_count; i++) {
        const struct wf_rule *rule = &l->t->rules[i];
        const struct wf_range count = {rule->least, rule->most >= 0 ? rule->most : (double)INFINITY,
                                       NAN};
        const char *share = wf_arena_print(l->arena, "share of %s", rule->words);
        const char *number = wf_arena_print(l->arena, "number of %s", rule->words);
        add_ends(l, demand(WF_DEMAND_SHARE, i, share), rule->share);
        add_ends(l, demand(WF_DEMAND_COUNT, i, number), count);
    }
}

static void add_character(struct list *l)
{
    for (size_t i = 0; i < l->t->wish_count; i++) {
        const struct wf_word_wish *w = &l->t->wishes[i];
        add_ends(l,
                 demand(WF_DEMAND_WORD, i,
                        wf_arena_print(l->arena, "%s character", wf_word_name(w->word))),
                 w->index);
    }
}

static void add_ids(struct list *l)
{
    const struct wf_target *t = l->t;
    for (size_t i = 0; t->use != NULL && t->use[i] != NULL; i++)
        add(l, demand(WF_DEMAND_USE, i, wf_arena_string(l->arena, t->use[i])));
    if (t->avoid != NULL && t->avoid[0] != NULL)
        add(l, demand(WF_DEMAND_AVOID, 0, "things to avoid"));
    if (!t->only.all)
        add(l, demand(WF_DEMAND_ONLY, 0, "malts that belong in it"));
    if (t->yeasts != NULL && t->yeasts[0] != NULL && l->s->yeast_count > 0)
        add(l, demand(WF_DEMAND_YEAST, 0, "yeasts that are named for it"));
}

static void add_slot(struct list *l, size_t i)
{
    const struct wf_slot *s = &l->t->slots[i];
    const struct wf_range most = {-(double)INFINITY, s->most, NAN};
    if (s->dosed)
        add_ends(l, demand(WF_DEMAND_DOSE, i, wf_arena_print(l->arena, "hops at %s", s->at)),
                 s->dose);
    if (s->hops != NULL)
        add(l,
            demand(WF_DEMAND_SLOT_HOPS, i, wf_arena_print(l->arena, "hops named for %s", s->at)));
    if (s->origins != NULL)
        add(l, demand(WF_DEMAND_ORIGINS, i,
                      wf_arena_print(l->arena, "origins named for the hops at %s", s->at)));
    for (size_t k = 0; k < s->wish_count; k++) {
        struct wf_demand d = demand(
            WF_DEMAND_SLOT_WORD, i,
            wf_arena_print(l->arena, "%s hops at %s", wf_word_name(s->wishes[k].word), s->at));
        d.part = k;
        add_ends(l, d, s->wishes[k].index);
    }
    add_ends(
        l,
        demand(WF_DEMAND_VARIETIES, i, wf_arena_print(l->arena, "varieties of hops at %s", s->at)),
        most);
}

static void add_process(struct list *l)
{
    const struct wf_target *t = l->t;
    if (l->s->yeast_count > 0)
        add_ends(l, demand(WF_DEMAND_ATTENUATION, 0, "attenuation of the yeast"), t->attenuation);
    add_ends(l, demand(WF_DEMAND_DIASTATIC, 0, "diastatic power"),
             (struct wf_range){t->diastatic, INFINITY, NAN});
}

/* ---- The store ------------------------------------------------------------------------------- */

static void add_greatest_shares(struct list *l)
{
    bool usual = false;
    for (size_t i = 0; i < l->s->malt_count; i++) {
        const struct wf_malt *m = &l->s->malts[i];
        usual |= !isfinite(m->most) && m->usual_most < 1;
        if (isfinite(m->most))
            add_ends(
                l, demand(WF_DEMAND_LOT_SHARE, i, wf_arena_print(l->arena, "share of %s", m->name)),
                (struct wf_range){-(double)INFINITY, m->most, NAN});
    }
    if (usual)
        add(l, demand(WF_DEMAND_USUAL_SHARES, 0, "usual greatest shares"));
}

static void add_stock(struct list *l)
{
    bool short_of[WF_LOT_KINDS];
    for (int kind = 0; kind < WF_LOT_KINDS; kind++)
        short_of[kind] = l->r->lacking_count[kind] > 0;
    for (size_t i = 0; i < l->s->malt_count; i++)
        short_of[WF_LOT_MALT] |= isfinite(l->s->malts[i].have_kg);
    for (size_t i = 0; i < l->s->hop_count; i++)
        short_of[WF_LOT_HOP] |= isfinite(l->s->hops[i].have_g);
    for (size_t i = 0; i < l->s->yeast_count; i++)
        short_of[WF_LOT_YEAST] |= l->s->yeasts[i].have < 1;
    l->r->stock = l->count;
    if (short_of[WF_LOT_MALT])
        add(l, demand(WF_DEMAND_MALTS, 0, "the malts in the store"));
    if (short_of[WF_LOT_HOP])
        add(l, demand(WF_DEMAND_HOPS, 0, "the hops in the store"));
    if (short_of[WF_LOT_YEAST] && l->s->yeast_count > 0)
        add(l, demand(WF_DEMAND_YEASTS, 0, "the yeasts in the store"));
}

/* ---- All of it ------------------------------------------------------------------------------- */

static size_t length(const char *const *list)
{
    size_t n = 0;
    while (list != NULL && list[n] != NULL)
        n++;
    return n;
}

static size_t room_for(const struct list *l)
{
    const struct wf_target *t = l->t;
    size_t room = 12 + 4 * t->rule_count + 2 * t->wish_count + 8 * t->slot_count;
    for (size_t i = 0; i < t->slot_count; i++)
        room += 2 * t->slots[i].wish_count;
    return room + length(t->use) + 9 + l->s->malt_count + 4;
}

/* A dose narrower than a step is met to the nearest step: what is demanded is that. */
static bool widen_doses(struct list *l, const struct wf_brewhouse *b)
{
    const struct wf_target *t = l->t;
    double batch = isfinite(t->batch_l) && !b->batch_given ? t->batch_l : b->batch_l;
    double step = b->step_hop_g / batch;
    struct wf_target *target = wf_arena_alloc(l->arena, 1, sizeof *target);
    struct wf_slot *slots = wf_arena_alloc(l->arena, t->slot_count, sizeof *slots);
    if (target == NULL || slots == NULL)
        return false;
    for (size_t i = 0; i < t->slot_count; i++) {
        struct wf_slot *s = &slots[i];
        *s = t->slots[i];
        if (!s->dosed || !(s->dose.high - s->dose.low < step))
            continue;
        double nearest = round((s->dose.low + s->dose.high) / 2 / step) * step;
        s->dose.low = fmin(s->dose.low, nearest);
        s->dose.high = fmax(s->dose.high, nearest);
    }
    *target = *t;
    target->slots = slots;
    l->t = target;
    return true;
}

/* Which of the shop's lots the store has not. */
static bool list_lacking(struct list *l, enum wf_lot_kind kind)
{
    const struct wf_store *shop = l->r->shop;
    size_t sold = shop != NULL ? wf_lots(shop, kind) : 0;
    size_t *lacking = wf_arena_alloc(l->arena, sold, sizeof *lacking), count = 0;
    if (lacking == NULL)
        return false;
    for (size_t i = 0; i < sold; i++) {
        struct wf_lot_ids lot = wf_lot_ids(shop, kind, i);
        bool has = false;
        for (size_t k = 0; k < wf_lots(l->s, kind); k++)
            has |= same(lot, wf_lot_ids(l->s, kind, k));
        if (!has)
            lacking[count++] = i;
    }
    l->r->lacking[kind] = lacking;
    l->r->lacking_count[kind] = count;
    return true;
}

enum wf_status wf_relax_make(const struct wf_target *t, const struct wf_store *s,
                             const struct wf_store *shop, const struct wf_brewhouse *b,
                             struct wf_arena *arena, struct wf_relax *out, struct wf_error *e)
{
    struct list l = {.t = t, .s = s, .arena = arena, .r = out};
    *out = (struct wf_relax){.s = s, .shop = shop};
    l.items = wf_arena_alloc(arena, room_for(&l), sizeof *l.items);
    if (l.items == NULL || !widen_doses(&l, b))
        return wf_error_add(e, WF_MEMORY, "out of memory");
    for (int kind = 0; kind < WF_LOT_KINDS; kind++)
        if (!list_lacking(&l, (enum wf_lot_kind)kind))
            return wf_error_add(e, WF_MEMORY, "out of memory");
    add_figures(&l);
    add_rules(&l);
    add_character(&l);
    add_ids(&l);
    for (size_t i = 0; i < t->slot_count; i++)
        add_slot(&l, i);
    add_process(&l);
    add_greatest_shares(&l);
    add_stock(&l);
    out->t = l.t;
    out->demands = l.items;
    out->count = l.count;
    return l.failed ? wf_error_add(e, WF_MEMORY, "out of memory") : WF_OK;
}

#include "solve/relax.h"

#include "base/alloc.h"
#include "base/try.h"
#include "model/problem.h"

#include <math.h>
#include <string.h>

/* The copies, to write to. */
struct work {
    const struct wf_relax *r;
    struct wf_relaxed *out;
    struct wf_rule *rules;
    struct wf_word_wish *wishes;
    struct wf_slot *slots;
    struct wf_word_wish **slot_wishes; /* one list a slot */
    bool failed;
};

/* ---- Copies ---------------------------------------------------------------------------------- */

static void *copy(struct work *w, const void *from, size_t count, size_t size, size_t more)
{
    void *to = wf_arena_alloc(w->out->arena, count + more, size);
    if (to != NULL && count > 0)
        memcpy(to, from, count * size);
    w->failed |= to == NULL;
    return to;
}

static void copy_target(struct work *w)
{
    const struct wf_target *t = w->r->t;
    w->out->target = *t;
    w->out->target.rules = w->rules = copy(w, t->rules, t->rule_count, sizeof *w->rules, 0);
    w->out->target.wishes = w->wishes = copy(w, t->wishes, t->wish_count, sizeof *w->wishes, 0);
    w->out->target.slots = w->slots = copy(w, t->slots, t->slot_count, sizeof *w->slots, 0);
    w->slot_wishes = copy(w, NULL, 0, sizeof *w->slot_wishes, t->slot_count);
    for (size_t i = 0; !w->failed && i < t->slot_count; i++) {
        w->slot_wishes[i] =
            copy(w, t->slots[i].wishes, t->slots[i].wish_count, sizeof *w->slot_wishes[i], 0);
        w->slots[i].wishes = w->slot_wishes[i];
    }
}

static void copy_store(struct work *w)
{
    const struct wf_store *s = w->r->s;
    const size_t *more = w->r->lacking_count;
    struct wf_store *to = &w->out->store;
    *to = *s;
    to->malts = copy(w, s->malts, s->malt_count, sizeof *s->malts, more[WF_LOT_MALT]);
    to->hops = copy(w, s->hops, s->hop_count, sizeof *s->hops, more[WF_LOT_HOP]);
    to->yeasts = copy(w, s->yeasts, s->yeast_count, sizeof *s->yeasts, more[WF_LOT_YEAST]);
}

/* ---- Lists of ids ---------------------------------------------------------------------------- */

static size_t length(const char *const *list)
{
    size_t n = 0;
    while (list != NULL && list[n] != NULL)
        n++;
    return n;
}

static const char *const *with(struct work *w, const char *const *list, const char *id)
{
    size_t n = length(list);
    const char **to = copy(w, list, n, sizeof *to, 2);
    if (to != NULL)
        to[n] = id;
    return to;
}

static const char *const *without(struct work *w, const char *const *list, const char *id)
{
    const char **to = copy(w, NULL, 0, sizeof *to, length(list) + 1);
    size_t n = 0;
    for (; to != NULL && list != NULL && *list != NULL; list++)
        if (strcmp(*list, id) != 0)
            to[n++] = *list;
    return to;
}

/* ---- Ends of figures ------------------------------------------------------------------------- */

/* Where an end goes: to a figure, or away. */
static double aside(const struct wf_demand *d, const struct wf_give *g)
{
    if (g->lot == WF_GIVE_END)
        return g->to;
    if (d->kind == WF_DEMAND_COLOUR && d->end == WF_END_MOST)
        return wf_demand_scale(d->kind)->most; /* the law of colour ends not far from there */
    return d->end == WF_END_MOST ? (double)INFINITY : -(double)INFINITY;
}

static void move_end(struct wf_range *r, const struct wf_demand *d, const struct wf_give *g)
{
    double to = aside(d, g);
    if (d->end == WF_END_MOST)
        r->high = fmax(r->high, to);
    else
        r->low = fmin(r->low, to);
    if (isinf(r->low) && isinf(r->high))
        r->aim = NAN;
}

static void give_figure(struct work *w, const struct wf_demand *d, const struct wf_give *g)
{
    struct wf_target *t = &w->out->target;
    struct wf_range *const range[WF_DEMAND_COUNT_OF] = {
        [WF_DEMAND_OG] = &t->og,
        [WF_DEMAND_COLOUR] = &t->colour,
        [WF_DEMAND_RATIO] = &t->ratio,
        [WF_DEMAND_BITTERNESS] = &t->bitterness,
        [WF_DEMAND_FG] = &t->fg,
        [WF_DEMAND_ABV] = &t->abv,
        [WF_DEMAND_ATTENUATION] = &t->attenuation,
    };
    move_end(range[d->kind], d, g);
}

static void give_diastatic(struct work *w, const struct wf_demand *d, const struct wf_give *g)
{
    w->out->target.diastatic = fmax(0, aside(d, g));
}

/* A greatest share stands in for a malt's usual one where a rule names the malt, and so it stays,
 * at all of the grist; likewise a least share beyond the usual one goes on lifting that. */
static void give_share(struct work *w, const struct wf_demand *d, const struct wf_give *g)
{
    struct wf_rule *rule = &w->rules[d->index];
    double before = rule->share.low;
    move_end(&rule->share, d, g);
    if (d->end == WF_END_MOST)
        rule->share.high = fmin(rule->share.high, 1);
    for (size_t i = 0; d->end == WF_END_LEAST && i < w->r->s->malt_count; i++) {
        const struct wf_malt *m = &w->r->s->malts[i];
        if (isinf(rule->share.high) && wf_id_listed(rule->who.ids, m->id, m->of) &&
            before > m->usual_most)
            rule->share.high = 1;
    }
}

static void give_count(struct work *w, const struct wf_demand *d, const struct wf_give *g)
{
    struct wf_rule *rule = &w->rules[d->index];
    int to = g->lot == WF_GIVE_ALL ? -1 : (int)g->to;
    if (d->end == WF_END_MOST)
        rule->most = to;
    else
        rule->least = to;
}

static void give_word(struct work *w, const struct wf_demand *d, const struct wf_give *g)
{
    move_end(&w->wishes[d->index].index, d, g);
}

static void give_dose(struct work *w, const struct wf_demand *d, const struct wf_give *g)
{
    struct wf_slot *slot = &w->slots[d->index];
    move_end(&slot->dose, d, g);
    slot->dosed = isfinite(slot->dose.low) || isfinite(slot->dose.high);
}

static void give_slot_word(struct work *w, const struct wf_demand *d, const struct wf_give *g)
{
    move_end(&w->slot_wishes[d->index][d->part].index, d, g);
}

static void give_varieties(struct work *w, const struct wf_demand *d, const struct wf_give *g)
{
    w->slots[d->index].most = g->lot == WF_GIVE_ALL ? (int)w->r->s->hop_count + 1 : (int)g->to;
}

/* ---- Things let in or left out --------------------------------------------------------------- */

/* A yeast that need not be used may still be, though the list does not name it. */
static void give_use(struct work *w, const struct wf_demand *d, const struct wf_give *g)
{
    struct wf_target *t = &w->out->target;
    (void)g;
    t->use = without(w, t->use, d->subject);
    const char *one[] = {d->subject, NULL};
    for (size_t i = 0; i < w->r->s->yeast_count; i++) {
        const struct wf_yeast *y = &w->r->s->yeasts[i];
        if (wf_id_listed(one, y->id, y->of) && length(t->yeasts) > 0)
            t->yeasts = with(w, t->yeasts, y->id);
    }
}

static void give_avoid(struct work *w, const struct wf_demand *d, const struct wf_give *g)
{
    struct wf_target *t = &w->out->target;
    (void)d;
    t->avoid = g->lot == WF_GIVE_ALL
                   ? NULL
                   : without(w, t->avoid, wf_relax_thing(w->r, g->demand, g->lot).id);
}

static void give_only(struct work *w, const struct wf_demand *d, const struct wf_give *g)
{
    struct wf_malt_set *only = &w->out->target.only;
    (void)d;
    if (g->lot == WF_GIVE_ALL)
        only->all = true;
    else
        only->ids = with(w, only->ids, w->r->s->malts[g->lot].id);
}

static void give_yeast(struct work *w, const struct wf_demand *d, const struct wf_give *g)
{
    struct wf_target *t = &w->out->target;
    (void)d;
    t->yeasts = g->lot == WF_GIVE_ALL ? NULL : with(w, t->yeasts, w->r->s->yeasts[g->lot].id);
}

static void give_slot_hops(struct work *w, const struct wf_demand *d, const struct wf_give *g)
{
    struct wf_slot *slot = &w->slots[d->index];
    slot->hops = g->lot == WF_GIVE_ALL ? NULL : with(w, slot->hops, w->r->s->hops[g->lot].id);
}

static void give_origins(struct work *w, const struct wf_demand *d, const struct wf_give *g)
{
    struct wf_slot *slot = &w->slots[d->index];
    slot->origins =
        g->lot == WF_GIVE_ALL ? NULL : with(w, slot->origins, w->r->s->hops[g->lot].origin);
}

/* ---- The store ------------------------------------------------------------------------------- */

static void give_lot_share(struct work *w, const struct wf_demand *d, const struct wf_give *g)
{
    w->out->store.malts[d->index].most = fmin(1, aside(d, g));
}

static void give_usual_shares(struct work *w, const struct wf_demand *d, const struct wf_give *g)
{
    (void)d;
    for (size_t i = 0; i < w->r->s->malt_count; i++) {
        struct wf_malt *m = &w->out->store.malts[i];
        if (g->lot == i)
            m->most = g->to;
        else if (g->lot == WF_GIVE_ALL && !isfinite(w->r->s->malts[i].most))
            m->most = 1;
    }
}

/* A lot of the shop joins the store, with `to` of it. */
static void give_malts(struct work *w, const struct wf_demand *d, const struct wf_give *g)
{
    struct wf_store *s = &w->out->store;
    size_t own = w->r->s->malt_count;
    (void)d;
    for (size_t i = 0; i < own + w->r->lacking_count[WF_LOT_MALT]; i++) {
        if (g->lot != WF_GIVE_ALL && g->lot != i)
            continue;
        struct wf_malt *m = i < own ? &s->malts[i] : &s->malts[s->malt_count++];
        if (i >= own)
            *m = w->r->shop->malts[w->r->lacking[WF_LOT_MALT][i - own]];
        m->have_kg = g->lot == WF_GIVE_ALL ? (double)INFINITY : g->to;
    }
}

static void give_hops(struct work *w, const struct wf_demand *d, const struct wf_give *g)
{
    struct wf_store *s = &w->out->store;
    size_t own = w->r->s->hop_count;
    (void)d;
    for (size_t i = 0; i < own + w->r->lacking_count[WF_LOT_HOP]; i++) {
        if (g->lot != WF_GIVE_ALL && g->lot != i)
            continue;
        struct wf_hop *h = i < own ? &s->hops[i] : &s->hops[s->hop_count++];
        if (i >= own)
            *h = w->r->shop->hops[w->r->lacking[WF_LOT_HOP][i - own]];
        h->have_g = g->lot == WF_GIVE_ALL ? (double)INFINITY : g->to * 1000;
    }
}

static void give_yeasts(struct work *w, const struct wf_demand *d, const struct wf_give *g)
{
    struct wf_store *s = &w->out->store;
    size_t own = w->r->s->yeast_count;
    (void)d;
    for (size_t i = 0; i < own + w->r->lacking_count[WF_LOT_YEAST]; i++) {
        if (g->lot != WF_GIVE_ALL && g->lot != i)
            continue;
        struct wf_yeast *y = i < own ? &s->yeasts[i] : &s->yeasts[s->yeast_count++];
        if (i >= own)
            *y = w->r->shop->yeasts[w->r->lacking[WF_LOT_YEAST][i - own]];
        y->have = g->lot == WF_GIVE_ALL ? (double)INFINITY : g->to;
    }
}

/* ---- The whole ------------------------------------------------------------------------------- */

typedef void give(struct work *, const struct wf_demand *, const struct wf_give *);

static give *const by_kind[WF_DEMAND_COUNT_OF] = {
    [WF_DEMAND_OG] = give_figure,           [WF_DEMAND_COLOUR] = give_figure,
    [WF_DEMAND_RATIO] = give_figure,        [WF_DEMAND_BITTERNESS] = give_figure,
    [WF_DEMAND_FG] = give_figure,           [WF_DEMAND_ABV] = give_figure,
    [WF_DEMAND_ATTENUATION] = give_figure,  [WF_DEMAND_DIASTATIC] = give_diastatic,
    [WF_DEMAND_SHARE] = give_share,         [WF_DEMAND_COUNT] = give_count,
    [WF_DEMAND_WORD] = give_word,           [WF_DEMAND_USE] = give_use,
    [WF_DEMAND_AVOID] = give_avoid,         [WF_DEMAND_ONLY] = give_only,
    [WF_DEMAND_YEAST] = give_yeast,         [WF_DEMAND_DOSE] = give_dose,
    [WF_DEMAND_SLOT_HOPS] = give_slot_hops, [WF_DEMAND_ORIGINS] = give_origins,
    [WF_DEMAND_SLOT_WORD] = give_slot_word, [WF_DEMAND_VARIETIES] = give_varieties,
    [WF_DEMAND_LOT_SHARE] = give_lot_share, [WF_DEMAND_USUAL_SHARES] = give_usual_shares,
    [WF_DEMAND_MALTS] = give_malts,         [WF_DEMAND_HOPS] = give_hops,
    [WF_DEMAND_YEASTS] = give_yeasts,
};

/* A wish of which both ends are away is none. */
static void drop_empty_words(struct wf_word_wish *list, size_t *count)
{
    size_t kept = 0;
    for (size_t i = 0; i < *count; i++)
        if (!wf_range_is_any(list[i].index))
            list[kept++] = list[i];
    *count = kept;
}

enum wf_status wf_relaxed_make(const struct wf_relax *r, const struct wf_give *gives, size_t count,
                               struct wf_relaxed *out, struct wf_error *e)
{
    struct work w = {.r = r, .out = out};
    *out = (struct wf_relaxed){.arena = wf_arena_new()};
    if (out->arena == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    copy_target(&w);
    copy_store(&w);
    for (size_t i = 0; !w.failed && i < count; i++)
        by_kind[r->demands[gives[i].demand].kind](&w, &r->demands[gives[i].demand], &gives[i]);
    if (w.failed)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    drop_empty_words(w.wishes, &out->target.wish_count);
    for (size_t i = 0; i < out->target.slot_count; i++)
        drop_empty_words(w.slot_wishes[i], &w.slots[i].wish_count);
    return WF_OK;
}

void wf_relaxed_free(struct wf_relaxed *r)
{
    wf_arena_free(r->arena);
    r->arena = NULL;
}

/* ---- Things kept out ------------------------------------------------------------------------- */

static bool not_belonging(const struct wf_relax *r, const struct wf_demand *d, size_t i)
{
    (void)d;
    return !wf_malt_set_has(&r->t->only, &r->s->malts[i]);
}

static bool usually_less(const struct wf_relax *r, const struct wf_demand *d, size_t i)
{
    const struct wf_malt *m = &r->s->malts[i];
    (void)d;
    return !isfinite(m->most) && m->usual_most < 1;
}

static bool not_named_here(const struct wf_relax *r, const struct wf_demand *d, size_t i)
{
    const struct wf_hop *h = &r->s->hops[i];
    return !wf_id_listed(r->t->slots[d->index].hops, h->id, h->of);
}

/* Each origin is let in once, by its first hop. */
static bool of_other_origin(const struct wf_relax *r, const struct wf_demand *d, size_t i)
{
    const char *origin = r->s->hops[i].origin;
    if (origin == NULL || wf_id_listed(r->t->slots[d->index].origins, origin, NULL))
        return false;
    for (size_t k = 0; k < i; k++)
        if (r->s->hops[k].origin != NULL && strcmp(r->s->hops[k].origin, origin) == 0)
            return false;
    return true;
}

static bool yeast_not_named(const struct wf_relax *r, const struct wf_demand *d, size_t i)
{
    const struct wf_yeast *y = &r->s->yeasts[i];
    (void)d;
    return y->have >= 1 && !wf_id_listed(r->t->yeasts, y->id, y->of) &&
           (y->family == NULL || !wf_id_listed(r->t->yeasts, y->family, NULL));
}

static bool avoided(const struct wf_relax *r, const struct wf_demand *d, size_t i)
{
    (void)r;
    (void)d;
    (void)i;
    return true;
}

static const struct {
    enum wf_lot_kind lots; /* of the store; AVOID: of no account */
    bool (*keeps_out)(const struct wf_relax *, const struct wf_demand *, size_t);
} keeper[WF_DEMAND_COUNT_OF] = {
    [WF_DEMAND_AVOID] = {WF_LOT_KINDS, avoided},
    [WF_DEMAND_ONLY] = {WF_LOT_MALT, not_belonging},
    [WF_DEMAND_USUAL_SHARES] = {WF_LOT_MALT, usually_less},
    [WF_DEMAND_SLOT_HOPS] = {WF_LOT_HOP, not_named_here},
    [WF_DEMAND_ORIGINS] = {WF_LOT_HOP, of_other_origin},
    [WF_DEMAND_YEAST] = {WF_LOT_YEAST, yeast_not_named},
};

size_t wf_relax_things(const struct wf_relax *r, size_t demand)
{
    enum wf_demand_kind k = r->demands[demand].kind;
    if (keeper[k].keeps_out == NULL)
        return 0;
    return k == WF_DEMAND_AVOID ? length(r->t->avoid) : wf_lots(r->s, keeper[k].lots);
}

struct wf_lot_ids wf_relax_thing(const struct wf_relax *r, size_t demand, size_t i)
{
    enum wf_demand_kind k = r->demands[demand].kind;
    if (k != WF_DEMAND_AVOID)
        return wf_lot_ids(r->s, keeper[k].lots, i);
    const char *id = r->t->avoid[length(r->t->avoid) - 1 - i];
    struct wf_lot_ids found = {id, NULL, id};
    if (!wf_find_lot(r->s, id, &found) && r->shop != NULL)
        wf_find_lot(r->shop, id, &found);
    return (struct wf_lot_ids){id, NULL, found.name};
}

bool wf_relax_keeps_out(const struct wf_relax *r, size_t demand, size_t i)
{
    const struct wf_demand *d = &r->demands[demand];
    return keeper[d->kind].keeps_out(r, d, i);
}

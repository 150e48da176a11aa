#include "solve/loosen.h"

#include "base/alloc.h"
#include "base/try.h"
#include "model/problem.h"
#include "solve/beer_figure.h"

#include <math.h>
#include <string.h>

/* The copies, to write to. */
struct work {
    struct wf_loose *l;
    struct wf_rule *rules;
    struct wf_word_wish *wishes;
    struct wf_slot *slots;
    struct wf_word_wish **slot_wishes; /* one list a slot */
    const char **use;                  /* a NULL within the list: taken out */
    size_t use_count;
};

/* ---- Copies ---------------------------------------------------------------------------------- */

static void *copy(struct wf_loose *l, const void *from, size_t count, size_t size, size_t more)
{
    void *to = wf_arena_alloc(l->arena, count + more, size);
    if (to != NULL && count > 0)
        memcpy(to, from, count * size);
    return to;
}

static bool copy_slots(struct work *w)
{
    const struct wf_target *t = w->l->t;
    w->slots = copy(w->l, t->slots, t->slot_count, sizeof *w->slots, 0);
    w->slot_wishes = wf_arena_alloc(w->l->arena, t->slot_count, sizeof *w->slot_wishes);
    if (w->slots == NULL || w->slot_wishes == NULL)
        return false;
    for (size_t i = 0; i < t->slot_count; i++) {
        w->slot_wishes[i] =
            copy(w->l, t->slots[i].wishes, t->slots[i].wish_count, sizeof *w->slot_wishes[i], 0);
        if (w->slot_wishes[i] == NULL)
            return false;
        w->slots[i].wishes = w->slot_wishes[i];
    }
    return true;
}

static bool copy_target(struct work *w)
{
    const struct wf_target *t = w->l->t;
    while (t->use != NULL && t->use[w->use_count] != NULL)
        w->use_count++;
    w->rules = copy(w->l, t->rules, t->rule_count, sizeof *w->rules, 0);
    w->wishes = copy(w->l, t->wishes, t->wish_count, sizeof *w->wishes, 0);
    w->use = copy(w->l, t->use, w->use_count, sizeof *w->use, 1);
    w->l->target = *t;
    w->l->target.rules = w->rules;
    w->l->target.wishes = w->wishes;
    w->l->target.use = w->use;
    if (w->rules == NULL || w->wishes == NULL || w->use == NULL || !copy_slots(w))
        return false;
    w->l->target.slots = w->slots;
    return true;
}

static bool copy_store(struct work *w, size_t more)
{
    const struct wf_store *s = w->l->s;
    w->l->store = *s;
    w->l->store.malts = copy(w->l, s->malts, s->malt_count, sizeof *s->malts, more);
    w->l->store.hops = copy(w->l, s->hops, s->hop_count, sizeof *s->hops, more);
    return w->l->store.malts != NULL && w->l->store.hops != NULL;
}

/* ---- Wishes ---------------------------------------------------------------------------------- */

static void move_end(struct wf_range *r, const struct wf_lean *lean)
{
    if (lean->high)
        r->high = fmax(r->high, lean->to);
    else
        r->low = fmin(r->low, lean->to);
}

static void loosen_figure(struct work *w, const struct wf_ease *ease)
{
    for (size_t f = 0; f < WF_BEER_WISHES; f++)
        if (wf_beer_figures[f].kind == ease->wish)
            move_end(wf_beer_figure_wish(&wf_beer_figures[f], &w->l->target), &ease->lean);
}

static void loosen_diastatic(struct work *w, const struct wf_ease *ease)
{
    w->l->target.diastatic = fmin(w->l->target.diastatic, ease->lean.to);
}

/* A rule that asks for more of a malt than its usual greatest share lifts that limit, which stays
 * lifted here. */
static void loosen_share(struct work *w, const struct wf_ease *ease)
{
    struct wf_rule *rule = &w->rules[ease->index];
    double before = rule->share.low;
    move_end(&rule->share, &ease->lean);
    for (size_t i = 0; i < w->l->store.malt_count; i++) {
        struct wf_malt *m = &w->l->store.malts[i];
        bool lifted = wf_id_listed(rule->who.ids, m->id, m->of) && !isfinite(m->most) &&
                      !isfinite(rule->share.high) && before > m->usual_most;
        if (lifted && !(rule->share.low > m->usual_most))
            m->most = 1;
    }
}

static void loosen_count(struct work *w, const struct wf_ease *ease)
{
    struct wf_rule *rule = &w->rules[ease->index];
    if (ease->lean.high)
        rule->most = (int)ease->lean.to;
    else
        rule->least = (int)ease->lean.to;
}

static void loosen_word(struct work *w, const struct wf_ease *ease)
{
    move_end(&w->wishes[ease->index].index, &ease->lean);
}

/* A dose of one value was judged to the nearest step: what is loosened is that. */
static void loosen_dose(struct work *w, const struct wf_ease *ease)
{
    struct wf_range *dose = &w->slots[ease->index].dose;
    dose->low = fmin(dose->low, ease->wanted.low);
    dose->high = fmax(dose->high, ease->wanted.high);
    move_end(dose, &ease->lean);
}

static void loosen_hop_word(struct work *w, const struct wf_ease *ease)
{
    move_end(&w->slot_wishes[ease->index][ease->part].index, &ease->lean);
}

static void loosen_use(struct work *w, const struct wf_ease *ease)
{
    w->use[ease->index] = NULL;
}

static void loosen_wish(struct work *w, const struct wf_ease *ease)
{
    static void (*const by_kind[WF_WISH_KIND_COUNT])(struct work *, const struct wf_ease *) = {
        [WF_WISH_OG] = loosen_figure,
        [WF_WISH_COLOUR] = loosen_figure,
        [WF_WISH_RATIO] = loosen_figure,
        [WF_WISH_BITTERNESS] = loosen_figure,
        [WF_WISH_FG] = loosen_figure,
        [WF_WISH_ABV] = loosen_figure,
        [WF_WISH_DIASTATIC] = loosen_diastatic,
        [WF_WISH_SHARE] = loosen_share,
        [WF_WISH_COUNT] = loosen_count,
        [WF_WISH_WORD] = loosen_word,
        [WF_WISH_DOSE] = loosen_dose,
        [WF_WISH_HOP_WORD] = loosen_hop_word,
        [WF_WISH_USE] = loosen_use,
    };
    if (by_kind[ease->wish] != NULL)
        by_kind[ease->wish](w, ease);
}

/* ---- Lots ------------------------------------------------------------------------------------ */

static void loosen_limit(struct work *w, const struct wf_ease *ease)
{
    w->l->store.malts[ease->lot].most = ease->lean.to;
}

static void loosen_stock(struct work *w, const struct wf_ease *ease)
{
    if (ease->hop)
        w->l->store.hops[ease->lot].have_g = 1000 * ease->lean.to;
    else
        w->l->store.malts[ease->lot].have_kg = ease->lean.to;
}

static void add_lot(struct work *w, const struct wf_ease *ease)
{
    struct wf_store *s = &w->l->store;
    if (ease->hop)
        s->hops[s->hop_count++] = w->l->shop->hops[ease->lot];
    else
        s->malts[s->malt_count++] = w->l->shop->malts[ease->lot];
}

/* ---- The whole ------------------------------------------------------------------------------- */

/* Closes the gaps that loosen_use left. */
static void close_use(struct work *w)
{
    size_t kept = 0;
    for (size_t i = 0; i < w->use_count; i++)
        if (w->use[i] != NULL)
            w->use[kept++] = w->use[i];
    w->use[kept] = NULL;
}

enum wf_status wf_loose_make(struct wf_loose *l, const struct wf_ease *eases, size_t count,
                             struct wf_error *e)
{
    static void (*const by_kind[WF_LEAN_KIND_COUNT])(struct work *, const struct wf_ease *) = {
        [WF_LEAN_WISH] = loosen_wish,
        [WF_LEAN_SHARE] = loosen_limit,
        [WF_LEAN_STOCK] = loosen_stock,
        [WF_LEAN_SHOP] = add_lot,
    };
    struct work w = {.l = l};
    l->arena = wf_arena_new();
    if (l->arena == NULL || !copy_target(&w) || !copy_store(&w, count))
        return wf_error_add(e, WF_MEMORY, "out of memory");
    for (size_t i = 0; i < count; i++)
        by_kind[eases[i].lean.kind](&w, &eases[i]);
    close_use(&w);
    return WF_OK;
}

void wf_loose_free(struct wf_loose *l)
{
    wf_arena_free(l->arena);
    l->arena = NULL;
}

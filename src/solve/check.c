/* check.c: a recipe of any origin against a target. */
#include "wortfit/check.h"

#include "base/alloc.h"
#include "base/try.h"
#include "model/problem.h"
#include "solve/wishes.h"

#include <math.h>
#include <string.h>

/* Wishes under way: those that a search tells, and room for what only a brewer does. */
struct list {
    struct wf_recipe *r;
    const struct wf_target *t;
    const struct wf_catalogue *c;
    struct wf_wish_result *rows;
    size_t count, room;
    bool failed;
};

static void add_missed(struct list *l, const char *wish, enum wf_dimension d,
                       struct wf_range wanted, double got)
{
    if (!wish || l->count == l->room) {
        l->failed = true;
        return;
    }
    l->rows[l->count++] =
        (struct wf_wish_result){.wish = wish,
                                .dimension = d,
                                .wanted = wanted,
                                .got = got,
                                .missed_by = fmax(wanted.low - got, got - wanted.high)};
}

/* Something that should not be there, in the amount that it is. */
static void add_intruder(struct list *l, const char *why, const char *name, enum wf_dimension d,
                         double got)
{
    const struct wf_range none = {-(double)INFINITY, 0, (double)NAN};
    if (got > 0)
        add_missed(l, wf_arena_print(l->r->arena, "%s: %s", why, name), d, none, got);
}

/* ---- Malts ----------------------------------------------------------------------------------- */

static void judge_malts(struct list *l)
{
    for (size_t i = 0; i < l->r->malt_count; i++) {
        const struct wf_recipe_malt *m = &l->r->malts[i];
        if (wf_id_listed(l->t->avoid, m->id, m->of))
            add_intruder(l, "to be avoided", m->name, WF_DIM_SHARE, m->share);
    }
}

/* ---- Hops ------------------------------------------------------------------------------------ */

static bool is_from(const struct list *l, const struct wf_recipe_hop *h, const char *const *origins)
{
    const struct wf_hop *entry = wf_catalogue_hop(l->c, h->of ? h->of : h->id);
    return !origins || !l->c ||
           (entry && entry->origin && wf_id_listed(origins, entry->origin, NULL));
}

static bool may_go_into(const struct list *l, const struct wf_recipe_hop *h,
                        const struct wf_slot *s)
{
    return (!s->hops || wf_id_listed(s->hops, h->id, h->of)) && is_from(l, h, s->origins);
}

/* True if no line before this one is the same variety in the same slot. */
static bool is_first_in(const struct list *l, size_t hop, const struct wf_slot *s)
{
    const struct wf_recipe_hop *h = l->r->hops;
    for (size_t k = 0; k < hop; k++)
        if (strcmp(h[k].id, h[hop].id) == 0 && wf_slot_has(s, &h[k].addition, &l->r->kettle))
            return false;
    return true;
}

static void judge_slot(struct list *l, const struct wf_slot *s)
{
    const struct wf_range most = {-(double)INFINITY, s->most, (double)NAN};
    double litres = l->r->kettle.batch_l, varieties = 0;
    for (size_t i = 0; i < l->r->hop_count; i++) {
        const struct wf_recipe_hop *h = &l->r->hops[i];
        if (!wf_slot_has(s, &h->addition, &l->r->kettle) || !(h->grams > 0))
            continue;
        varieties += is_first_in(l, i, s);
        if (!may_go_into(l, h, s))
            add_intruder(l, wf_arena_print(l->r->arena, "not at %s", s->at), h->name, WF_DIM_DOSE,
                         h->grams / litres);
    }
    if (varieties > s->most)
        add_missed(l, wf_arena_print(l->r->arena, "varieties at %s", s->at), WF_DIM_NUMBER, most,
                   varieties);
}

static void judge_hops(struct list *l)
{
    for (size_t i = 0; i < l->r->hop_count; i++) {
        const struct wf_recipe_hop *h = &l->r->hops[i];
        if (wf_id_listed(l->t->avoid, h->id, h->of))
            add_intruder(l, "to be avoided", h->name, WF_DIM_DOSE, h->grams / l->r->kettle.batch_l);
    }
    for (size_t i = 0; i < l->t->slot_count; i++)
        judge_slot(l, &l->t->slots[i]);
}

/* ---- Yeast ----------------------------------------------------------------------------------- */

static void judge_yeast(struct list *l)
{
    struct wf_range attenuation = l->t->attenuation;
    double got = l->r->yeast.attenuation;
    if (got < attenuation.low - 1e-9 || got > attenuation.high + 1e-9)
        add_missed(l, "attenuation of the yeast", WF_DIM_SHARE, attenuation, got);
}

/* ---- The whole ------------------------------------------------------------------------------- */

/* Copies the wishes that a search tells to where the others find room after them. */
static void make_room(struct list *l)
{
    l->room = l->r->wish_count + l->r->malt_count + l->r->hop_count * (1 + l->t->slot_count) +
              l->t->slot_count + 1;
    l->rows = wf_arena_alloc(l->r->arena, l->room, sizeof *l->rows);
    l->failed = !l->rows;
    for (; !l->failed && l->count < l->r->wish_count; l->count++)
        l->rows[l->count] = l->r->wishes[l->count];
}

static enum wf_status tell(const struct wf_recipe *r, const struct wf_target *t, struct wf_error *e)
{
    size_t missed = 0;
    for (size_t i = 0; i < r->wish_count; i++)
        missed += !r->wishes[i].met;
    if (missed == 0)
        return WF_OK;
    return wf_error_add(e, WF_NO_RECIPE, "%zu of the %zu wishes for \"%s\" %s missed", missed,
                        r->wish_count, t->name, missed == 1 ? "is" : "are");
}

enum wf_status wf_recipe_check(struct wf_recipe *r, const struct wf_target *t,
                               const struct wf_catalogue *c, double hop_step_g, struct wf_error *e)
{
    struct list l = {.r = r, .t = t, .c = c};
    r->status = WF_RECIPE_UNPROVED;
    r->proofs = NULL;
    r->wishes = NULL;
    r->proof_count = r->wish_count = 0;
    if (!t)
        return WF_OK;
    WF_TRY(wf_wishes_fill(r, t, hop_step_g, r->yeast.id != NULL, e));
    make_room(&l);
    if (!l.failed) {
        judge_malts(&l);
        judge_hops(&l);
        if (r->yeast.id)
            judge_yeast(&l);
    }
    if (l.failed)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    r->wishes = l.rows;
    r->wish_count = l.count;
    return tell(r, t, e);
}

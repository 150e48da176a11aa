#include "solve/region.h"

#include "base/alloc.h"
#include "wortfit/choices.h"

#include <string.h>

/* ---- As a problem ---------------------------------------------------------------------------- */

struct filling {
    const struct wf_region *r;
    const struct wf_kinds *k;
    struct wf_arena *arena;
    struct wf_problem *p;
    struct wf_limit *limits;
};

static bool take_out(struct filling *f, const struct wf_problem *p)
{
    struct wf_pick_malt *malts = wf_arena_alloc(f->arena, p->malt_count, sizeof *malts);
    struct wf_pick_hop *hops = wf_arena_alloc(f->arena, p->hop_count, sizeof *hops);
    if (malts == NULL || hops == NULL)
        return false;
    for (size_t i = 0; i < p->malt_count; i++) {
        malts[i] = p->malts[i];
        if (f->r->fate[f->k->of_malt[i]] == WF_FATE_OUT)
            malts[i].most_kg = 0;
    }
    for (size_t i = 0; i < p->hop_count; i++) {
        hops[i] = p->hops[i];
        if (f->r->fate[f->k->of_hop[i]] == WF_FATE_OUT)
            hops[i].most_g = 0;
    }
    f->p->malts = malts;
    f->p->hops = hops;
    return true;
}

/* A limit on one kind, or on those of a set. */
static bool add_limit(struct filling *f, struct wf_limit limit, size_t kind,
                      const struct wf_set *set)
{
    const size_t *of = limit.of_hops ? f->k->of_place : f->k->of_malt;
    const double *part = limit.of_hops ? f->k->place_part : f->k->malt_part;
    size_t count = limit.of_hops ? f->p->place_count : f->p->malt_count;
    double *parts = wf_arena_alloc(f->arena, count, sizeof *parts);
    if (parts == NULL)
        return false;
    for (size_t i = 0; i < count; i++)
        if (set != NULL ? set->in[of[i]] : of[i] == kind)
            parts[i] = part[i] / (1 - WF_NOTICED_ROOM / 2); /* inside what passes for noticed */
    limit.part = parts;
    f->limits[f->p->limit_count++] = limit;
    return true;
}

static bool add_limits(struct filling *f)
{
    for (size_t kind = 0; kind < f->k->count; kind++) {
        struct wf_limit some = {.kind = WF_LIMIT_SOME, .of_hops = kind >= f->k->malts};
        if (f->r->fate[kind] == WF_FATE_IN && !add_limit(f, some, kind, NULL))
            return false;
    }
    for (const struct wf_set *s = f->r->sets; s != NULL; s = s->next) {
        struct wf_limit limit = {.kind = s->not_all ? WF_LIMIT_FEW : WF_LIMIT_AMOUNT,
                                 .of_hops = s->of_hops,
                                 .most = (int)s->count - 1};
        if (!add_limit(f, limit, 0, s))
            return false;
    }
    return true;
}

bool wf_region_problem(const struct wf_region *r, const struct wf_kinds *k,
                       const struct wf_problem *p, struct wf_arena *arena, struct wf_problem *out)
{
    struct filling f = {.r = r, .k = k, .arena = arena, .p = out};
    size_t most = k->count;
    for (const struct wf_set *s = r->sets; s != NULL; s = s->next)
        most++;
    *out = *p;
    out->limit_count = 0;
    out->limits = f.limits = wf_arena_alloc(arena, most, sizeof *f.limits);
    return f.limits != NULL && take_out(&f, p) && add_limits(&f);
}

/* ---- Cutting --------------------------------------------------------------------------------- */

struct cutting {
    const struct wf_region *from;
    const struct wf_kinds *k;
    struct wf_arena *arena;
    size_t recipe;
    const double *amount;
    enum wf_fate *fate; /* of what is still to be cut up */
    struct wf_region **list;
};

struct wf_region *wf_region_whole(const struct wf_kinds *k, struct wf_arena *arena)
{
    struct wf_region *r = wf_arena_alloc(arena, 1, sizeof *r);
    enum wf_fate *fate = wf_arena_alloc(arena, k->count, sizeof *fate);
    if (r == NULL || fate == NULL)
        return NULL;
    r->fate = fate;
    return r;
}

static bool add_region(struct cutting *c, const enum wf_fate *fate, const struct wf_set *sets)
{
    struct wf_region *r = wf_arena_alloc(c->arena, 1, sizeof *r);
    if (r == NULL)
        return false;
    *r = (struct wf_region){.next = *c->list,
                            .fate = fate,
                            .sets = sets,
                            .apart = c->from->apart | UINT64_C(1) << c->recipe};
    memcpy(r->bound, c->from->bound, sizeof r->bound);
    *c->list = r;
    return true;
}

/* The fates so far, and one kind out of it; k->count: none. */
static const enum wf_fate *fates(const struct cutting *c, size_t out)
{
    enum wf_fate *fate = wf_arena_alloc(c->arena, c->k->count, sizeof *fate);
    if (fate == NULL)
        return NULL;
    memcpy(fate, c->fate, c->k->count * sizeof *fate);
    if (out < c->k->count)
        fate[out] = WF_FATE_OUT;
    return fate;
}

/* A region without this kind; what is left to cut up has it. */
static bool without(struct cutting *c, size_t kind)
{
    const enum wf_fate *fate = fates(c, kind);
    c->fate[kind] = WF_FATE_IN;
    return fate != NULL && add_region(c, fate, c->from->sets);
}

static bool with_set(struct cutting *c, const struct wf_set *set)
{
    struct wf_set *copy = wf_arena_alloc(c->arena, 1, sizeof *copy);
    const enum wf_fate *fate = fates(c, c->k->count);
    if (copy == NULL || fate == NULL)
        return false;
    *copy = *set;
    copy->next = c->from->sets;
    copy->apart = c->recipe;
    return add_region(c, fate, copy);
}

static size_t side_start(const struct wf_kinds *k, bool hops)
{
    return hops ? k->malts : 0;
}

static size_t side_end(const struct wf_kinds *k, bool hops)
{
    return hops ? k->count : k->malts;
}

/* The models count lots: kinds of one lot can be counted together, others are taken one by one. */
static bool cut_not_all(struct cutting *c, bool hops)
{
    bool *in = wf_arena_alloc(c->arena, c->k->count, sizeof *in);
    struct wf_set set = {.in = in, .of_hops = hops, .not_all = true};
    size_t last = 0;
    if (in == NULL)
        return false;
    for (size_t i = side_start(c->k, hops); i < side_end(c->k, hops); i++) {
        if (!wf_amount_noticed(c->amount[i]) || c->fate[i] != WF_FATE_OPEN)
            continue;
        if (c->k->lots[i] > 1 && !without(c, i))
            return false;
        if (c->k->lots[i] > 1)
            continue;
        in[i] = true;
        last = i;
        set.count++;
    }
    if (set.count == 1)
        return without(c, last);
    if (set.count > 1 && !with_set(c, &set))
        return false;
    for (size_t i = 0; i < c->k->count; i++)
        if (in[i])
            c->fate[i] = WF_FATE_IN;
    return true;
}

static bool cut_one_more(struct cutting *c, bool hops)
{
    bool *in = wf_arena_alloc(c->arena, c->k->count, sizeof *in);
    struct wf_set set = {.in = in, .of_hops = hops};
    if (in == NULL)
        return false;
    for (size_t i = side_start(c->k, hops); i < side_end(c->k, hops); i++) {
        in[i] = !(c->amount[i] > 0) && c->fate[i] != WF_FATE_OUT;
        set.count += in[i];
    }
    return set.count == 0 || with_set(c, &set);
}

bool wf_region_cut(const struct wf_region *r, const struct wf_kinds *k, struct wf_arena *arena,
                   size_t recipe, const double *amount, struct wf_region **list)
{
    struct cutting c = {
        .from = r, .k = k, .arena = arena, .recipe = recipe, .amount = amount, .list = list};
    c.fate = wf_arena_alloc(arena, k->count, sizeof *c.fate);
    if (c.fate == NULL)
        return false;
    memcpy(c.fate, r->fate, k->count * sizeof *c.fate);
    return cut_not_all(&c, false) && cut_not_all(&c, true) && cut_one_more(&c, false) &&
           cut_one_more(&c, true);
}

/* ---- Sums ------------------------------------------------------------------------------------ */

static const struct wf_set *sum_of(const struct wf_region *r, size_t recipe)
{
    const struct wf_set *s = r->sets;
    while (s != NULL && (s->not_all || s->apart != recipe || s->count < 2))
        s = s->next;
    return s;
}

/* The region's sets with one of them changed to hold only this kind, or all but this. */
static const struct wf_set *changed(const struct cutting *c, const struct wf_set *sum, size_t kind,
                                    bool only)
{
    const struct wf_set *sets = NULL;
    for (const struct wf_set *s = c->from->sets; s != NULL; s = s->next) {
        struct wf_set *copy = wf_arena_alloc(c->arena, 1, sizeof *copy);
        bool *in = wf_arena_alloc(c->arena, c->k->count, sizeof *in);
        if (copy == NULL || in == NULL)
            return NULL;
        *copy = *s;
        if (s == sum) {
            memcpy(in, s->in, c->k->count * sizeof *in);
            for (size_t i = 0; i < c->k->count; i++)
                in[i] = in[i] && only == (i == kind);
            copy->in = in;
            copy->count = only ? 1 : s->count - 1;
        }
        copy->next = sets;
        sets = copy;
    }
    return sets;
}

bool wf_region_cut_sum(const struct wf_region *r, const struct wf_kinds *k, struct wf_arena *arena,
                       size_t recipe, const double *found, struct wf_region **list, bool *cut)
{
    struct cutting c = {.from = r, .k = k, .arena = arena, .recipe = recipe, .list = list};
    const struct wf_set *sum = sum_of(r, recipe);
    size_t most = k->count;
    *cut = sum != NULL;
    if (sum == NULL)
        return true;
    for (size_t i = 0; i < k->count; i++)
        if (sum->in[i] && (most == k->count || found[i] > found[most]))
            most = i;
    for (int only = 0; only < 2; only++) {
        const struct wf_set *sets = changed(&c, sum, most, only != 0);
        if (sets == NULL || !add_region(&c, r->fate, sets))
            return false;
    }
    return true;
}

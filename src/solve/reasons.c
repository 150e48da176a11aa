/*
 * Why there is no recipe: first a conflict, then what of it gives a recipe by itself. Only where no
 * one wish does are there further conflicts to look for, each apart from those before it, and then
 * changes of several wishes together.
 */
#include "wortfit/reasons.h"

#include "base/alloc.h"
#include "base/try.h"
#include "solve/conflict.h"
#include "solve/remedy.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define CONFLICTS_MOST 16

struct account {
    struct wf_inquiry q;
    struct wf_reasons *r;
    struct wf_conflict *conflicts;
    bool *member;      /* of the conflict in hand; one a demand, as the others */
    bool *aside;       /* wishes of the conflicts so far */
    bool *parts;       /* parts of the store that are in every conflict so far */
    bool store_in_all; /* each conflict has some part of the store */
    struct wf_remedies remedies;
};

/* ---- Conflicts ------------------------------------------------------------------------------- */

static enum wf_status keep_conflict(struct account *a, bool irreducible)
{
    const struct wf_relax *relax = &a->q.relax;
    struct wf_demand *demands = wf_arena_alloc(a->q.arena, relax->count, sizeof *demands);
    struct wf_conflict *c = &a->conflicts[a->r->conflict_count];
    if (demands == NULL)
        return wf_error_add(a->q.e, WF_MEMORY, "out of memory");
    *c = (struct wf_conflict){.demands = demands, .irreducible = irreducible};
    bool store = false;
    for (size_t i = 0; i < relax->count; i++) {
        if (a->member[i])
            demands[c->demand_count++] = relax->demands[i];
        a->aside[i] |= a->member[i] && i < relax->stock;
        a->parts[i] &= a->member[i];
        store |= a->member[i] && i >= relax->stock;
    }
    a->store_in_all &= store;
    a->r->conflict_count++;
    return WF_OK;
}

static enum wf_status next_conflict(struct account *a)
{
    bool irreducible;
    WF_TRY(wf_conflict_find(&a->q, a->aside, a->member, &irreducible));
    return keep_conflict(a, irreducible);
}

/* All wishes held but those aside, and the store. */
static enum wf_status ask_without_aside(struct account *a, enum wf_exists *exists)
{
    for (size_t i = 0; i < a->q.relax.count; i++)
        a->member[i] = !a->aside[i];
    return wf_conflict_ask(&a->q, a->member, exists);
}

static bool has_wishes(const struct account *a)
{
    for (size_t i = 0; i < a->q.relax.stock; i++)
        if (a->member[i])
            return true;
    return false;
}

/* Until the wishes set aside leave a recipe, or it is the store that must change. */
static enum wf_status other_conflicts(struct account *a, enum wf_exists *exists)
{
    *exists = WF_EXISTS_NO;
    while (a->r->conflict_count < CONFLICTS_MOST) {
        WF_TRY(ask_without_aside(a, exists));
        if (*exists != WF_EXISTS_NO)
            return WF_OK;
        WF_TRY(next_conflict(a));
        if (!has_wishes(a))
            return WF_OK;
    }
    return ask_without_aside(a, exists);
}

/* ---- Remedies -------------------------------------------------------------------------------- */

static double rank(const struct wf_remedy *r)
{
    if (!r->bought)
        return r->notches;
    return isnan(r->cost) ? HUGE_VAL : r->cost;
}

static int least_first(const void *a, const void *b)
{
    const struct wf_remedy *x = a, *y = b;
    if (x->bought != y->bought)
        return x->bought ? 1 : -1;
    return (rank(x) > rank(y)) - (rank(x) < rank(y));
}

static enum wf_status wish_remedies(struct account *a)
{
    for (size_t i = 0; i < a->q.relax.stock; i++)
        if (a->member[i])
            WF_TRY(wf_remedy_of_wish(&a->q, i, &a->remedies));
    if (a->remedies.count > 0 || !has_wishes(a))
        return WF_OK;
    enum wf_exists exists;
    WF_TRY(other_conflicts(a, &exists));
    return exists == WF_EXISTS_YES ? wf_remedy_of_several(&a->q, a->aside, &a->remedies) : WF_OK;
}

static enum wf_status explain(struct account *a)
{
    enum wf_exists exists;
    WF_TRY(wf_inquiry_ask(&a->q, NULL, 0, &exists));
    if (exists != WF_EXISTS_NO)
        return WF_OK;
    WF_TRY(next_conflict(a));
    WF_TRY(wish_remedies(a));
    if (a->store_in_all)
        WF_TRY(wf_remedy_of_store(&a->q, a->parts, &a->remedies));
    if (a->remedies.count > 1)
        qsort(a->remedies.items, a->remedies.count, sizeof *a->remedies.items, least_first);
    return WF_OK;
}

/* ---- The whole ------------------------------------------------------------------------------- */

static enum wf_status prepare(struct account *a, const struct wf_target *t,
                              const struct wf_store *s, const struct wf_store *shop)
{
    WF_TRY(wf_relax_make(t, s, shop, a->q.b, a->q.arena, &a->q.relax, a->q.e));
    size_t n = a->q.relax.count;
    a->r->batch_l = isfinite(t->batch_l) && !a->q.b->batch_given ? t->batch_l : a->q.b->batch_l;
    a->r->target = wf_arena_string(a->q.arena, t->name);
    a->conflicts = wf_arena_alloc(a->q.arena, CONFLICTS_MOST + 1, sizeof *a->conflicts);
    a->member = wf_arena_alloc(a->q.arena, n, sizeof *a->member);
    a->aside = wf_arena_alloc(a->q.arena, n, sizeof *a->aside);
    a->parts = wf_arena_alloc(a->q.arena, n, sizeof *a->parts);
    if (a->conflicts == NULL || a->member == NULL || a->aside == NULL || a->parts == NULL ||
        a->r->target == NULL)
        return wf_error_add(a->q.e, WF_MEMORY, "out of memory");
    for (size_t i = a->q.relax.stock; i < n; i++)
        a->parts[i] = true;
    return WF_OK;
}

static void hand_over(struct account *a, struct wf_reasons **out)
{
    a->r->conflicts = a->conflicts;
    a->r->remedies = a->remedies.items;
    a->r->remedy_count = a->remedies.count;
    a->r->complete = a->q.complete;
    a->r->solves = a->q.solves;
    a->r->seconds = wf_clock_seconds(&a->q.clock);
    *out = a->r;
}

enum wf_status wf_solve_reasons(const struct wf_target *t, const struct wf_store *s,
                                const struct wf_store *shop, const struct wf_brewhouse *b,
                                const struct wf_solve_options *o, enum wf_units units,
                                struct wf_reasons **out, struct wf_error *e)
{
    struct account a = {.q = {.b = b, .o = o, .units = units, .e = e, .complete = true},
                        .store_in_all = true};
    enum wf_status status = WF_MEMORY;
    *out = NULL;
    wf_inquiry_start(&a.q);
    a.q.arena = wf_arena_new();
    a.r = a.q.arena != NULL ? wf_arena_alloc(a.q.arena, 1, sizeof *a.r) : NULL;
    if (a.r == NULL) {
        wf_error_add(e, WF_MEMORY, "out of memory");
        goto done;
    }
    a.r->arena = a.q.arena;
    WF_TRY_GOTO(prepare(&a, t, s, shop));
    WF_TRY_GOTO(explain(&a));
    hand_over(&a, out);
    return WF_OK;
done:
    wf_arena_free(a.q.arena);
    return status;
}

void wf_reasons_free(struct wf_reasons *r)
{
    if (r != NULL)
        wf_arena_free(r->arena);
}

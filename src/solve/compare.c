/* compare.c: two recipes side by side. */
#include "wortfit/check.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- Malts ----------------------------------------------------------------------------------- */

static struct wf_compared_malt *malt_row(struct wf_comparison *c, const struct wf_recipe_malt *m)
{
    for (size_t i = 0; i < c->malt_count; i++)
        if (strcmp(c->malts[i].id, m->id) == 0)
            return &c->malts[i];
    struct wf_compared_malt *row = &c->malts[c->malt_count++];
    row->id = m->id;
    row->name = m->name;
    return row;
}

static void add_malts(struct wf_comparison *c, int which)
{
    const struct wf_recipe *r = c->recipe[which];
    for (size_t i = 0; i < r->malt_count; i++) {
        struct wf_compared_malt *row = malt_row(c, &r->malts[i]);
        row->kg[which] += r->malts[i].kg;
        row->share[which] += r->malts[i].share;
    }
}

static int greatest_share_first(const void *a, const void *b)
{
    const struct wf_compared_malt *x = a, *y = b;
    double in_x = fmax(x->share[0], x->share[1]), in_y = fmax(y->share[0], y->share[1]);
    if (in_x < in_y || in_x > in_y)
        return in_x > in_y ? -1 : 1;
    return strcmp(x->id, y->id);
}

/* ---- Hops ------------------------------------------------------------------------------------ */

/* The figures of an addition that its time is made of. */
static bool is_timed(enum wf_hop_use use)
{
    return use == WF_HOP_BOIL || use == WF_HOP_STAND;
}

static bool same_time(const struct wf_compared_hop *row, const struct wf_addition *a)
{
    return row->use == a->use && (!is_timed(a->use) || fabs(row->minutes - a->minutes) < 1e-6) &&
           (a->use != WF_HOP_STAND || fabs(row->celsius - a->celsius) < 1e-6);
}

static struct wf_compared_hop *hop_row(struct wf_comparison *c, const struct wf_recipe_hop *h)
{
    for (size_t i = 0; i < c->hop_count; i++)
        if (strcmp(c->hops[i].id, h->id) == 0 && same_time(&c->hops[i], &h->addition))
            return &c->hops[i];
    struct wf_compared_hop *row = &c->hops[c->hop_count++];
    *row = (struct wf_compared_hop){.id = h->id,
                                    .name = h->name,
                                    .use = h->addition.use,
                                    .minutes = h->addition.minutes,
                                    .celsius = h->addition.celsius,
                                    .days = h->days};
    return row;
}

static void add_hops(struct wf_comparison *c, int which)
{
    const struct wf_recipe *r = c->recipe[which];
    for (size_t i = 0; i < r->hop_count; i++) {
        struct wf_compared_hop *row = hop_row(c, &r->hops[i]);
        row->grams[which] += r->hops[i].grams;
        row->dose[which] += r->hops[i].grams / r->kettle.batch_l;
        row->ibu[which] += r->hops[i].ibu;
    }
}

/* First wort, boil from long to short, stand, dry. */
static int in_boil_order(const void *a, const void *b)
{
    const struct wf_compared_hop *x = a, *y = b;
    if (x->use != y->use)
        return x->use < y->use ? -1 : 1;
    if (is_timed(x->use) && (x->minutes < y->minutes || x->minutes > y->minutes))
        return x->minutes > y->minutes ? -1 : 1;
    return strcmp(x->id, y->id);
}

/* ---- The whole ------------------------------------------------------------------------------- */

enum wf_status wf_compare(const struct wf_recipe *first, const struct wf_recipe *second,
                          struct wf_comparison **out, struct wf_error *e)
{
    struct wf_arena *arena = wf_arena_new();
    struct wf_comparison *c = arena ? wf_arena_alloc(arena, 1, sizeof *c) : NULL;
    size_t malts = first->malt_count + second->malt_count;
    size_t hops = first->hop_count + second->hop_count;
    *out = NULL;
    if (c) {
        c->malts = wf_arena_alloc(arena, malts, sizeof *c->malts);
        c->hops = wf_arena_alloc(arena, hops, sizeof *c->hops);
    }
    if (!c || !c->malts || !c->hops) {
        wf_arena_free(arena);
        return wf_error_add(e, WF_MEMORY, "out of memory");
    }
    c->arena = arena;
    c->recipe[0] = first;
    c->recipe[1] = second;
    for (int which = 0; which < 2; which++) {
        add_malts(c, which);
        add_hops(c, which);
    }
    qsort(c->malts, c->malt_count, sizeof *c->malts, greatest_share_first);
    qsort(c->hops, c->hop_count, sizeof *c->hops, in_boil_order);
    *out = c;
    return WF_OK;
}

void wf_comparison_free(struct wf_comparison *c)
{
    if (c)
        wf_arena_free(c->arena);
}

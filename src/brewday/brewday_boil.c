/* brewday_boil.c: the gravity before the boil, and what goes into the kettle when. */
#include "brewday/brewday_parts.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>
#include <stdlib.h>

/* Order of the day: before the boil, first wort, the boil's clock, the stand, the fermenter. */
static int phase(const struct wf_brewday_addition *a)
{
    static const int of_hop[] = {
        [WF_HOP_FIRST_WORT] = 1, [WF_HOP_BOIL] = 2, [WF_HOP_STAND] = 3, [WF_HOP_DRY] = 4};
    return a->what == WF_ADD_EXTRACT ? 0 : a->what == WF_ADD_SUGAR ? 2 : of_hop[a->use];
}

/* Stands are ranked by what is to go: who stands longest goes in first; so are days. */
static double rank(const struct wf_brewday_addition *a)
{
    return phase(a) == 4 ? -(isnan(a->days) ? 0 : a->days) : -a->to_go;
}

static int by_clock(const void *left, const void *right)
{
    const struct wf_brewday_addition *a = left, *b = right;
    int before = phase(a) - phase(b);
    if (before != 0)
        return before;
    if (rank(a) != rank(b))
        return rank(a) < rank(b) ? -1 : 1;
    return (a->kg < b->kg) - (a->kg > b->kg);
}

static void put_malt(const struct wf_recipe *r, const struct wf_recipe_malt *m, double boil,
                     struct wf_brewday_addition *a)
{
    bool late = wf_way_in(r, m) == WF_IN_LATE;
    double to_go = late ? fmin(WF_SUGAR_MINUTES, boil) : boil;
    *a = (struct wf_brewday_addition){
        .what = late ? WF_ADD_SUGAR : WF_ADD_EXTRACT,
        .name = m->name,
        .kg = m->kg,
        .ibu = (double)NAN,
        .use = WF_HOP_BOIL,
        .clock = boil - to_go,
        .to_go = to_go,
        .celsius = (double)NAN,
        .days = (double)NAN,
    };
}

static void put_hop(const struct wf_recipe_hop *h, double boil, struct wf_brewday_addition *a)
{
    enum wf_hop_use use = h->addition.use;
    double to_go = use == WF_HOP_FIRST_WORT ? boil : h->addition.minutes;
    *a = (struct wf_brewday_addition){
        .what = WF_ADD_HOP,
        .name = h->name,
        .kg = h->grams / 1000,
        .ibu = h->ibu,
        .use = use,
        .clock = use == WF_HOP_BOIL ? boil - to_go : 0,
        .to_go = use == WF_HOP_DRY ? 0 : to_go,
        .celsius = use == WF_HOP_STAND ? h->addition.celsius : (double)NAN,
        .days = use == WF_HOP_DRY ? h->days : (double)NAN,
        .whole = h->whole,
    };
}

static enum wf_status list_additions(struct wf_planning *p)
{
    struct wf_brewday *d = p->day;
    const struct wf_recipe *r = p->recipe;
    double boil = r->kettle.boil_minutes;
    d->additions = wf_arena_alloc(d->arena, r->malt_count + r->hop_count + 1, sizeof *d->additions);
    if (!d->additions)
        return wf_error_add(p->e, WF_MEMORY, "out of memory while planning a brew day");
    for (size_t i = 0; i < r->malt_count; i++)
        if (!r->malts[i].grain.mashed)
            put_malt(r, &r->malts[i], boil, &d->additions[d->addition_count++]);
    for (size_t i = 0; i < r->hop_count; i++)
        put_hop(&r->hops[i], boil, &d->additions[d->addition_count++]);
    qsort(d->additions, d->addition_count, sizeof *d->additions, by_clock);
    for (size_t i = 0; i < d->addition_count; i++)
        if (d->additions[i].what == WF_ADD_HOP && d->additions[i].use == WF_HOP_DRY)
            d->dry_hop_g_l += 1000 * d->additions[i].kg / d->water.fermenter_l;
    return WF_OK;
}

enum wf_status wf_plan_boil(struct wf_planning *p)
{
    struct wf_brewday *d = p->day;
    double mash, early;
    d->boil_minutes = p->recipe->kettle.boil_minutes;
    d->evaporation_l_h = p->recipe->kettle.evaporation_l_h;
    d->after_sg = p->recipe->predicted.og;
    WF_TRY(wf_extract_of(p->recipe, WF_IN_MASH, &mash));
    WF_TRY(wf_extract_of(p->recipe, WF_IN_EARLY, &early));
    WF_TRY(wf_gravity_from_extract((mash + early) / d->water.before_boil_l, &d->before_sg));
    return list_additions(p);
}

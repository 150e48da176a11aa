/* scale_wishes.c: what scaling was to keep, as wishes, and what became of it. */
#include "solve/scale_parts.h"

#include "base/alloc.h"
#include "solve/wishes.h"

#include <math.h>
#include <string.h>

#define FIGURES      6   /* wishes for the beer's own figures, at most */
#define ADDITION_IBU 1.0 /* tolerance of one addition */

struct list {
    struct wf_recipe *to;
    const struct wf_recipe *from;
    const struct wf_store *store;
    struct wf_wish_result *rows;
    size_t count;
    bool failed;
};

static void add(struct list *l, const char *wish, enum wf_dimension d, struct wf_range wanted,
                double got)
{
    if (isnan(got) || isnan(wanted.high))
        return;
    if (!wish) {
        l->failed = true;
        return;
    }
    double missed = fmax(0, fmax(wanted.low - got, got - wanted.high));
    bool met = missed <= wf_wish_slack(d, got);
    l->rows[l->count++] = (struct wf_wish_result){.wish = wish,
                                                  .dimension = d,
                                                  .wanted = wanted,
                                                  .got = got,
                                                  .met = met,
                                                  .missed_by = met ? 0 : missed};
}

static struct wf_range around(double aim, double tolerance)
{
    return (struct wf_range){aim - tolerance, aim + tolerance, aim};
}

static void add_figures(struct list *l)
{
    const struct wf_beer *was = &l->from->predicted, *is = &l->to->predicted;
    add(l, "original gravity", WF_DIM_GRAVITY, around(was->og, WF_TOLERANCE_GRAVITY), is->og);
    add(l, "final gravity", WF_DIM_GRAVITY, around(was->fg, WF_TOLERANCE_GRAVITY), is->fg);
    add(l, "alcohol", WF_DIM_SHARE, around(was->abv, WF_TOLERANCE_ABV), is->abv);
    add(l, "colour", WF_DIM_BEER_COLOUR, around(was->srm, WF_TOLERANCE_COLOUR), is->srm);
    add(l, "bitterness", WF_DIM_BITTERNESS, around(was->ibu, WF_TOLERANCE_BITTERNESS), is->ibu);
    add(l, "bitterness ratio", WF_DIM_NUMBER, around(was->ratio, WF_TOLERANCE_RATIO), is->ratio);
}

static void add_malts(struct list *l)
{
    const struct wf_recipe_malt *is = l->to->malts;
    for (size_t i = 0; i < l->from->malt_count; i++) {
        const struct wf_recipe_malt *was = &l->from->malts[i];
        if (!(was->kg > 0))
            continue;
        add(l, wf_arena_print(l->to->arena, "share of %s", was->name), WF_DIM_SHARE,
            around(was->share, WF_TOLERANCE_SHARE), is->share);
        is++;
    }
}

/* "Magnum, boil 60 min" */
static const char *addition_name(struct wf_arena *a, const struct wf_recipe_hop *h)
{
    switch (h->addition.use) {
    case WF_HOP_FIRST_WORT:
        return wf_arena_print(a, "%s, first wort", h->name);
    case WF_HOP_BOIL:
        return wf_arena_print(a, "%s, boil %.4g min", h->name, h->addition.minutes);
    case WF_HOP_STAND:
        return wf_arena_print(a, "%s, stand %.4g min", h->name, h->addition.minutes);
    case WF_HOP_DRY:
    case WF_HOP_USE_COUNT:
        break;
    }
    return wf_arena_print(a, "%s, dry", h->name);
}

static void add_hops(struct list *l)
{
    const struct wf_recipe_hop *is = l->to->hops;
    for (size_t i = 0; i < l->from->hop_count; i++) {
        const struct wf_recipe_hop *was = &l->from->hops[i];
        if (!(was->grams > 0))
            continue;
        const char *name = addition_name(l->to->arena, was);
        if (wf_scale_keeps_dose(was))
            add(l, name, WF_DIM_DOSE, around(was->grams / l->from->kettle.batch_l, WF_SCALE_DOSE),
                is->grams / l->to->kettle.batch_l);
        else
            add(l, name, WF_DIM_BITTERNESS, around(was->ibu, ADDITION_IBU), is->ibu);
        is++;
    }
}

/* ---- Stock ----------------------------------------------------------------------------------- */

static void add_stock(struct list *l, const char *name, double have_kg, double kg)
{
    const struct wf_range wanted = {-(double)INFINITY, have_kg, (double)NAN};
    if (kg > have_kg + 1e-9)
        add(l, wf_arena_print(l->to->arena, "stock of %s", name), WF_DIM_MASS, wanted, kg);
}

/* A lot is looked at where it first appears. */
static void add_stocks(struct list *l)
{
    const struct wf_recipe *r = l->to;
    for (size_t i = 0; i < r->malt_count; i++) {
        const struct wf_malt *lot = wf_store_malt(l->store, r->malts[i].id);
        double kg = 0;
        bool first = true;
        for (size_t k = 0; k < r->malt_count; k++) {
            bool same = strcmp(r->malts[k].id, r->malts[i].id) == 0;
            kg += same ? r->malts[k].kg : 0;
            first = first && (!same || k >= i);
        }
        if (lot && first)
            add_stock(l, lot->name, lot->have_kg, kg);
    }
    for (size_t i = 0; i < r->hop_count; i++) {
        const struct wf_hop *lot = wf_store_hop(l->store, r->hops[i].id);
        double grams = 0;
        bool first = true;
        for (size_t k = 0; k < r->hop_count; k++) {
            bool same = strcmp(r->hops[k].id, r->hops[i].id) == 0;
            grams += same ? r->hops[k].grams : 0;
            first = first && (!same || k >= i);
        }
        if (lot && first)
            add_stock(l, lot->name, lot->have_g / 1000, grams / 1000);
    }
}

enum wf_status wf_scale_wishes(struct wf_recipe *to, const struct wf_recipe *from,
                               const struct wf_store *s, struct wf_error *e)
{
    struct list l = {.to = to, .from = from, .store = s};
    l.rows =
        wf_arena_alloc(to->arena, FIGURES + 2 * (to->malt_count + to->hop_count), sizeof *l.rows);
    l.failed = !l.rows;
    if (!l.failed) {
        add_figures(&l);
        add_malts(&l);
        add_hops(&l);
        add_stocks(&l);
    }
    if (l.failed)
        return wf_error_add(e, WF_MEMORY, "out of memory while scaling a recipe");
    to->wishes = l.rows;
    to->wish_count = l.count;
    return WF_OK;
}

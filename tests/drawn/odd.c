/* odd.c: a problem of the generator's, with a few of its figures made odd. */
#include "drawn/odd.h"

#include "pantry/limits.h"
#include "support/generate_parts.h"

#include <math.h>

static size_t below(struct dice *d, size_t count)
{
    return (size_t)dice_whole(d, 0, (long)count - 1);
}

enum wf_goal odd_goal(uint64_t seed)
{
    static const enum wf_goal goals[] = {WF_GOAL_COST, WF_GOAL_COST,   WF_GOAL_COST,
                                         WF_GOAL_COST, WF_GOAL_FEWEST, WF_GOAL_COST,
                                         WF_GOAL_COST, WF_GOAL_CLOSEST};
    return goals[seed % (sizeof goals / sizeof *goals)];
}

/* ---- Oddities -------------------------------------------------------------------------------- */

typedef void oddity(struct gen *g, struct dice *d);

static void malt_figure(struct gen *g, struct dice *d)
{
    struct wf_malt *m = &g->store.malts[below(d, g->store.malt_count)];
    switch (dice_whole(d, 0, 4)) {
    case 0:
        m->grain.lovibond = dice_chance(d, 50) ? 0 : WF_MOST_LOVIBOND;
        return;
    case 1:
        m->fine_dry = dice_decimal(d, 1, 100, 100); /* chaff or sugar */
        m->grain.yield = m->fine_dry * (1 - m->moisture);
        return;
    case 2:
        m->grain.lintner = dice_chance(d, 50) ? 0 : WF_MOST_LINTNER;
        return;
    case 3:
        m->grain.fermentability = dice_chance(d, 50) ? 0 : 1;
        return;
    default:
        m->usual_most = dice_decimal(d, 1, 100, 100);
    }
}

static void malt_lot(struct gen *g, struct dice *d)
{
    struct wf_malt *m = &g->store.malts[below(d, g->store.malt_count)];
    static const double prices[] = {0, 0.0001, WF_MOST_PRICE};
    switch (dice_whole(d, 0, 4)) {
    case 0:
        m->have_kg = gen_step_kg(g, m) * dice_decimal(d, 0, 8, 2);
        return;
    case 1:
        m->price_per_kg = prices[below(d, 3)];
        return;
    case 2:
        m->pack_kg = dice_chance(d, 50) ? WF_LEAST_PACK_KG : 25;
        return;
    case 3:
        m->step_kg = dice_chance(d, 50) ? 0.001 : 1;
        return;
    default:
        m->most = dice_decimal(d, 0, 10, 10);
    }
}

static void hop_lot(struct gen *g, struct dice *d)
{
    struct wf_hop *h = &g->store.hops[below(d, g->store.hop_count)];
    switch (dice_whole(d, 0, 3)) {
    case 0:
        h->alpha = h->alpha_low = h->alpha_high = dice_chance(d, 50) ? 0 : WF_MOST_ALPHA;
        return;
    case 1:
        h->have_g = g->brewhouse.step_hop_g * dice_decimal(d, 0, 20, 2);
        return;
    case 2:
        h->packed = GEN_TODAY - (dice_chance(d, 50) ? 3600 : -100);
        h->six_month_loss = dice_decimal(d, 0, 95, 100);
        return;
    default:
        h->price_per_kg = dice_chance(d, 50) ? 0 : WF_MOST_PRICE;
    }
}

/* Two lots that differ in nothing but their names. */
static void twins(struct gen *g, struct dice *d)
{
    struct wf_malt *a = &g->store.malts[below(d, g->store.malt_count)];
    struct wf_malt *b = &g->store.malts[below(d, g->store.malt_count)];
    const char *id = b->id;
    *b = *a;
    b->id = b->name = id;
}

static void brewhouse(struct gen *g, struct dice *d)
{
    static const double litres[] = {1, 3, 100, 2500};
    struct wf_brewhouse *b = &g->brewhouse;
    switch (dice_whole(d, 0, 4)) {
    case 0:
        b->batch_l = litres[below(d, 4)];
        return;
    case 1:
        b->efficiency = dice_chance(d, 50) ? 1 : dice_decimal(d, 10, 60, 100);
        return;
    case 2:
        b->evaporation_l_h = dice_chance(d, 50) ? 0 : 2 * b->batch_l;
        return;
    case 3:
        b->least_malt_kg = dice_chance(d, 50) ? 0 : 0.8;
        return;
    default:
        b->least_hop_g = dice_chance(d, 50) ? 0 : 25;
    }
}

/* A narrow window, or one with one end, or to the end of its range. */
static void window(struct gen *g, struct dice *d)
{
    struct wf_target *t = &g->target;
    const struct {
        struct wf_range *figure;
        double least, most;
    } rows[] = {{&t->og, WF_LEAST_OG, WF_MOST_OG},
                {&t->colour, 0, WF_MOST_SRM},
                {&t->ratio, 0, WF_MOST_RATIO},
                {&t->fg, WF_LEAST_FG, WF_MOST_FG},
                {&t->abv, 0, WF_MOST_ABV}};
    size_t i = below(d, sizeof rows / sizeof *rows);
    struct wf_range *r = rows[i].figure;
    if (!isfinite(r->low) || !isfinite(r->high))
        return;
    double narrow = (r->high - r->low) / 10;
    switch (dice_whole(d, 0, 3)) {
    case 0:
        *r = (struct wf_range){r->low + 4 * narrow, r->high - 4 * narrow, (double)NAN};
        return;
    case 1:
        *r = (struct wf_range){-(double)INFINITY, r->high, (double)NAN};
        return;
    case 2:
        *r = (struct wf_range){r->low, i == 0 ? rows[i].most : (double)INFINITY, (double)NAN};
        return;
    default:
        *r = dice_chance(d, 50) ? (struct wf_range){rows[i].least, r->low, (double)NAN}
                                : (struct wf_range){r->high, rows[i].most, (double)NAN};
    }
}

static void yeast(struct gen *g, struct dice *d)
{
    if (g->store.yeast_count == 0)
        return;
    struct wf_yeast *y = &g->store.yeasts[below(d, g->store.yeast_count)];
    y->attenuation_low = y->attenuation_high = dice_decimal(d, 20, 100, 100);
    y->price = dice_chance(d, 50) ? (double)NAN : 0;
}

static oddity *const oddities[] = {malt_figure, malt_lot,  malt_lot, hop_lot,
                                   twins,       brewhouse, window,   yeast};

/* ---- The whole ------------------------------------------------------------------------------- */

struct gen *odd_make(uint64_t seed)
{
    struct dice d = {.state = seed * 2654435761u};
    const struct gen_options o = {.seed = dice_next(&d),
                                  .malts = (size_t)dice_whole(&d, 2, 6),
                                  .hops = (size_t)dice_whole(&d, 1, 4),
                                  .yeasts = (size_t)dice_whole(&d, 0, 3),
                                  .slots = (size_t)dice_whole(&d, 1, 3),
                                  .scale = (enum gen_scale)dice_whole(&d, GEN_TINY, GEN_FINE),
                                  .planted = dice_chance(&d, 92),
                                  .tight = dice_chance(&d, 40),
                                  .aims = odd_goal(seed) == WF_GOAL_CLOSEST || dice_chance(&d, 20),
                                  .fermented = false};
    struct gen_options with = o;
    with.fermented = o.yeasts > 0 && dice_chance(&d, 60);
    struct gen *g = gen_make(&with);
    g->options.seed = seed;
    if (dice_chance(&d, 50))
        for (long i = dice_whole(&d, 1, 3); i > 0; i--)
            oddities[below(&d, sizeof oddities / sizeof *oddities)](g, &d);
    return g;
}

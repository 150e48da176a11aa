/* sure.c: recipes whose ranges meet the wishes; see sure.h. */
#include "wortfit/sure.h"

#include "base/alloc.h"
#include "base/try.h"
#include "solve/beer_figure.h"
#include "solve/clock.h"
#include "solve/closeness.h"
#include "solve/search.h"
#include "solve/wishes.h"
#include "solve/yeast_place.h"

#include <math.h>
#include <string.h>

#define ROUNDS      6    /* of narrowing and solving, for one probability */
#define HALVINGS    6    /* of the probability, where the one asked for is too much */
#define LEAST_GAIN  0.01 /* of sureness, that is worth another halving */
#define DEFAULT_GAP 1e-4
/* Of a time that the user set: what the plain recipe may take, and the least for any other. */
#define PLAIN_SHARE   0.4
#define LEAST_SECONDS 0.05

struct hunt {
    const struct wf_target *t;
    const struct wf_store *s;
    const struct wf_brewhouse *b;
    const struct wf_solve_options *o;
    struct wf_clock clock;
    struct wf_recipe *plain; /* the best one whose middles meet the wishes */
    struct wf_recipe *best;  /* the surest yet; may be the plain one */
    struct wf_error *e;
};

/* How far ranges reach below and above what is predicted, by figure. */
struct reach {
    double below[WF_BEER_WISHES], above[WF_BEER_WISHES];
};

static void widen(struct reach *reach, const struct wf_recipe *r)
{
    for (size_t f = 0; f < WF_BEER_WISHES; f++) {
        const struct wf_beer_figure *figure = &wf_beer_figures[f];
        double middle = wf_beer_figure_value(figure, &r->predicted);
        double low = wf_beer_figure_value(figure, &r->ranges->low);
        double high = wf_beer_figure_value(figure, &r->ranges->high);
        reach->below[f] = fmax(reach->below[f], middle - low); /* fmax leaves a NaN out */
        reach->above[f] = fmax(reach->above[f], high - middle);
    }
}

/* False: a wish is narrower than the range. */
static bool narrow(struct wf_target *t, const struct reach *reach)
{
    for (size_t f = 0; f < WF_BEER_WISHES; f++) {
        struct wf_range *wish = wf_beer_figure_wish(&wf_beer_figures[f], t);
        wish->low += reach->below[f];
        wish->high -= reach->above[f];
        if (wish->low > wish->high)
            return false;
        wish->aim = isnan(wish->aim) ? wish->aim : fmin(fmax(wish->aim, wish->low), wish->high);
    }
    return true;
}

static bool within(const struct wf_beer_figure *figure, double x, struct wf_range wish)
{
    double slack = wf_wish_slack(figure->dimension, x);
    return x >= wish.low - slack && x <= wish.high + slack;
}

static bool ranges_fit(const struct wf_target *t, const struct wf_ranges *ranges)
{
    for (size_t f = 0; f < WF_BEER_WISHES; f++) {
        const struct wf_beer_figure *figure = &wf_beer_figures[f];
        struct wf_range wish = wf_beer_figure_wanted(figure, t);
        double low = wf_beer_figure_value(figure, &ranges->low);
        double high = wf_beer_figure_value(figure, &ranges->high);
        if (!isnan(low) && !(within(figure, low, wish) && within(figure, high, wish)))
            return false;
    }
    return true;
}

/* ---- Search ---------------------------------------------------------------------------------- */

static bool out_of_time(const struct hunt *h)
{
    return h->o->seconds > 0 && wf_clock_seconds(&h->clock) >= h->o->seconds;
}

/* *out NULL: there is none, or none was found in the time. */
static enum wf_status solve(struct hunt *h, const struct wf_target *t, struct wf_recipe **out)
{
    struct wf_solve_options o = *h->o;
    struct wf_error e = {0};
    if (o.seconds > 0)
        o.seconds = fmax(LEAST_SECONDS, (o.seconds - wf_clock_seconds(&h->clock)) / 2);
    enum wf_status status = wf_solve(t, h->s, h->b, &o, out, &e);
    if (status == WF_OK)
        return WF_OK;
    wf_recipe_free(*out);
    *out = NULL;
    if (status == WF_NO_RECIPE || status == WF_UNDECIDED)
        return WF_OK;
    return wf_error_add(h->e, status, "%s", e.text);
}

/* Keeps the surer of the two; one that is as sure as was asked in any case. */
static void keep(struct hunt *h, struct wf_recipe *r, bool found)
{
    if (!found && !(r->ranges->each > h->best->ranges->each)) {
        wf_recipe_free(r);
        return;
    }
    if (h->best != h->plain)
        wf_recipe_free(h->best);
    h->best = r;
}

/* Solves with the wishes narrowed by the reach, which grows by that of the recipe found. */
static enum wf_status try_reach(struct hunt *h, double probability, struct reach *reach,
                                bool *found, bool *over)
{
    struct wf_target t = *h->t;
    struct wf_recipe *r = NULL;
    if (!narrow(&t, reach)) {
        *over = true;
        return WF_OK;
    }
    WF_TRY(solve(h, &t, &r));
    if (r == NULL) {
        *over = true;
        return WF_OK;
    }
    enum wf_status status = wf_recipe_add_ranges(r, h->t, &h->b->spread, probability, h->e);
    if (status != WF_OK) {
        wf_recipe_free(r);
        return status;
    }
    widen(reach, r);
    *over = *found = ranges_fit(h->t, r->ranges);
    keep(h, r, *found);
    return WF_OK;
}

/* One probability, from the plain recipe's reach on. */
static enum wf_status attempt(struct hunt *h, double probability, bool *found)
{
    struct reach reach = {{0}, {0}};
    bool over = false;
    *found = false;
    WF_TRY(wf_recipe_add_ranges(h->plain, h->t, &h->b->spread, probability, h->e));
    widen(&reach, h->plain);
    for (int round = 0; round < ROUNDS && !over && !out_of_time(h); round++)
        WF_TRY(try_reach(h, probability, &reach, found, &over));
    return WF_OK;
}

/* Where the probability asked for is too much: how much can be had, by halving. */
static enum wf_status find_surest(struct hunt *h, double probability)
{
    double high = probability;
    for (int i = 0; i < HALVINGS && !out_of_time(h); i++) {
        double low = h->best->ranges->each, middle = (low + high) / 2;
        bool found;
        if (!(high - low > LEAST_GAIN))
            break;
        WF_TRY(attempt(h, middle, &found));
        if (!found)
            high = middle;
    }
    return WF_OK;
}

/* ---- Result ---------------------------------------------------------------------------------- */

/* A wish for a range: what it gives is the end that is nearest to its wish, or furthest past. */
static struct wf_wish_result range_wish(struct wf_arena *arena, const struct wf_beer_figure *figure,
                                        struct wf_range wish, const struct wf_ranges *ranges)
{
    double low = wf_beer_figure_value(figure, &ranges->low);
    double high = wf_beer_figure_value(figure, &ranges->high);
    double got = wish.high - high < low - wish.low ? high : low;
    double missed = fmax(0, fmax(wish.low - got, got - wish.high));
    bool met = within(figure, got, wish);
    return (struct wf_wish_result){
        .wish = wf_arena_print(arena, "%s, %.3g %% range", figure->wish, 100 * ranges->probability),
        .dimension = figure->dimension,
        .wanted = wish,
        .got = got,
        .met = met,
        .missed_by = met ? 0 : missed};
}

/* The wishes as they stand, and after them one for each range. */
static enum wf_status add_wishes(const struct hunt *h, struct wf_recipe *r)
{
    WF_TRY(wf_wishes_fill(r, h->t, h->b->step_hop_g, h->s->yeast_count > 0, h->e));
    struct wf_wish_result *rows =
        wf_arena_alloc(r->arena, r->wish_count + WF_BEER_WISHES, sizeof *rows);
    bool good = rows != NULL;
    if (good && r->wish_count > 0)
        memcpy(rows, r->wishes, r->wish_count * sizeof *rows);
    for (size_t f = 0; good && f < WF_BEER_WISHES; f++) {
        struct wf_range wish = wf_beer_figure_wanted(&wf_beer_figures[f], h->t);
        if (wf_range_is_any(wish) ||
            isnan(wf_beer_figure_value(&wf_beer_figures[f], &r->predicted)))
            continue;
        rows[r->wish_count] = range_wish(r->arena, &wf_beer_figures[f], wish, r->ranges);
        good = rows[r->wish_count++].wish != NULL;
    }
    if (!good)
        return wf_error_add(h->e, WF_MEMORY, "out of memory");
    r->wishes = rows;
    return WF_OK;
}

/* The narrowed wishes' proof says nothing of the wishes as they stand, but the plain recipe's bound
 * does: for the first goal, and for yeasts of the same place. */
static void set_proof(const struct hunt *h, struct wf_recipe *r)
{
    enum wf_goal goal = h->o->goal_count > 0 ? h->o->goals[0] : WF_GOAL_COST;
    struct wf_proof *p = &r->proofs[0];
    bool same_place = wf_yeast_place(h->t, r) == wf_yeast_place(h->t, h->plain);
    if (goal == WF_GOAL_CLOSEST)
        p->value = wf_closeness(h->t, &r->predicted);
    p->bound = same_place ? fmin(h->plain->proofs[0].bound, p->value) : -(double)INFINITY;
    double unit = fmax(fabs(p->value), wf_goal_least_unit(goal));
    p->gap = p->value - p->bound <= wf_goal_room(goal) ? 0 : (p->value - p->bound) / unit;
    r->proof_count = 1;
    r->status = !isfinite(p->bound)                                   ? WF_RECIPE_UNPROVED
                : p->gap <= (h->o->gap > 0 ? h->o->gap : DEFAULT_GAP) ? WF_RECIPE_OPTIMAL
                                                                      : WF_RECIPE_GOOD;
}

/* The first range that does not fit, in words. */
static enum wf_status refuse(const struct hunt *h, const struct wf_recipe *r)
{
    const struct wf_ranges *ranges = r->ranges;
    char wanted[64] = "", range[64] = "";
    const char *what = "";
    for (size_t f = WF_BEER_WISHES; f-- > 0;) {
        const struct wf_beer_figure *figure = &wf_beer_figures[f];
        struct wf_range wish = wf_beer_figure_wanted(figure, h->t);
        struct wf_range ends = {wf_beer_figure_value(figure, &ranges->low),
                                wf_beer_figure_value(figure, &ranges->high), NAN};
        if (isnan(ends.low) || (within(figure, ends.low, wish) && within(figure, ends.high, wish)))
            continue;
        what = figure->wish;
        wf_range_print(figure->dimension, wish, WF_UNITS_METRIC, wanted, sizeof wanted);
        wf_range_print(figure->dimension, ends, WF_UNITS_METRIC, range, sizeof range);
    }
    return wf_error_add(
        h->e, WF_NO_RECIPE,
        "no recipe for \"%s\" was found that is %.3g %% sure; the surest is %.0f %% "
        "sure: the wish for %s is %s, its range %s",
        h->t->name, 100 * ranges->probability, floor(100 * ranges->each), what, wanted, range);
}

static enum wf_status conclude(struct hunt *h, double probability, struct wf_recipe **out)
{
    struct wf_recipe *r = h->best;
    WF_TRY(wf_recipe_add_ranges(r, h->t, &h->b->spread, probability, h->e));
    bool sure = ranges_fit(h->t, r->ranges);
    WF_TRY(add_wishes(h, r));
    if (!sure) {
        r->status = WF_RECIPE_NONE;
        r->proof_count = 0;
    } else if (r != h->plain) {
        set_proof(h, r);
    }
    r->seconds = wf_clock_seconds(&h->clock);
    *out = r;
    return sure ? WF_OK : refuse(h, r);
}

static enum wf_status hunt(struct hunt *h, double probability, struct wf_recipe **out)
{
    bool found;
    h->best = h->plain;
    WF_TRY(wf_recipe_add_ranges(h->plain, h->t, &h->b->spread, probability, h->e));
    found = ranges_fit(h->t, h->plain->ranges);
    if (!found)
        WF_TRY(attempt(h, probability, &found));
    if (!found)
        WF_TRY(find_surest(h, probability));
    return conclude(h, probability, out);
}

enum wf_status wf_solve_sure(const struct wf_target *t, const struct wf_store *s,
                             const struct wf_brewhouse *b, const struct wf_solve_options *o,
                             double probability, struct wf_recipe **out, struct wf_error *e)
{
    struct hunt h = {.t = t, .s = s, .b = b, .o = o, .clock = wf_clock_start(o), .e = e};
    struct wf_solve_options first = *o;
    *out = NULL;
    first.seconds *= PLAIN_SHARE;
    enum wf_status status = wf_solve(t, s, b, &first, &h.plain, e);
    if (status != WF_OK) {
        *out = h.plain; /* the nearest recipe, or NULL */
        return status;
    }
    status = hunt(&h, probability, out);
    if (h.best != h.plain && h.best != *out)
        wf_recipe_free(h.best);
    if (h.plain != *out)
        wf_recipe_free(h.plain);
    return status;
}

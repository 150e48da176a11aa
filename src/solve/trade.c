/*
 * Cost against number of ingredients.
 *
 * At most n ingredients are at most a malts and b hops with a + b = n, less one for the yeast: a
 * search with two counts. What one search proves bounds all that allow no more than it: so from the
 * lowest cost of all downwards, most pairs are settled before they are looked at.
 */
#include "wortfit/choices.h"

#include "base/alloc.h"
#include "base/try.h"
#include "solve/solve_parts.h"
#include "solve/tries.h"

#include <math.h>
#include <string.h>

/* What is known of recipes of at most so many malts and hops. */
struct pair {
    size_t malts, hops;
    double bound; /* of their cost; +inf: there is none */
};

struct trading {
    const struct wf_problem *p;
    const struct wf_search_options *o;
    size_t
        yeast; /* ingredients that are neither malts nor hops: 1, or 0 in a store without yeast */
    struct pair *pairs;
    size_t pair_count, pair_room;
    struct wf_answer *best; /* one a number of ingredients but the yeast: the cheapest of as many */
    double *bound;          /* likewise, of as many or fewer */
    double *all_malts, *all_places; /* ones */
    size_t most;
    bool complete;
    struct wf_error *e;
};

static enum wf_status out_of_memory(struct trading *t)
{
    return wf_error_add(t->e, WF_MEMORY, "out of memory");
}

/* ---- What is known --------------------------------------------------------------------------- */

static size_t count_malts(const struct wf_problem *p, const struct wf_answer *a)
{
    size_t count = 0;
    for (size_t i = 0; i < p->malt_count; i++)
        count += a->kg[i] > 0;
    return count;
}

static size_t count_hops(const struct wf_problem *p, const struct wf_answer *a)
{
    size_t count = 0;
    for (size_t hop = 0; hop < p->hop_count; hop++) {
        bool used = false;
        for (size_t i = 0; i < p->place_count; i++)
            used |= p->places[i].hop == hop && a->grams[i] > 0;
        count += used;
    }
    return count;
}

static double room_of(const struct trading *t, double value)
{
    return fmax(t->o->gap * fabs(value), wf_goal_room(WF_GOAL_COST));
}

static bool learn(struct trading *t, size_t malts, size_t hops, double bound)
{
    if (t->pair_count == t->pair_room) {
        size_t wider = t->pair_room == 0 ? 32 : 2 * t->pair_room;
        struct pair *pairs = wf_realloc(t->pairs, wider, sizeof *pairs);
        if (pairs == NULL)
            return false;
        t->pairs = pairs;
        t->pair_room = wider;
    }
    t->pairs[t->pair_count++] = (struct pair){malts, hops, bound};
    return true;
}

/* The best bound known: that of any pair which allows as much. */
static double bound_of(const struct trading *t, size_t malts, size_t hops)
{
    double bound = -INFINITY;
    for (size_t i = 0; i < t->pair_count; i++)
        if (t->pairs[i].malts >= malts && t->pairs[i].hops >= hops)
            bound = fmax(bound, t->pairs[i].bound);
    return bound;
}

/* The least cost known of at most n; NaN: none. */
static double value_at(const struct trading *t, size_t n)
{
    double value = NAN;
    for (size_t i = 0; i <= n; i++)
        if (t->best[i].kg != NULL)
            value = fmin(value, t->best[i].value[0]); /* fmin leaves NaN out */
    return value;
}

/* Keeps the answer if it is the cheapest of its number of ingredients. */
static void keep(struct trading *t, struct wf_answer *a)
{
    size_t n = a->kg == NULL ? 0 : count_malts(t->p, a) + count_hops(t->p, a);
    struct wf_answer *at = &t->best[n < t->most ? n : t->most];
    if (a->kg != NULL && (at->kg == NULL || a->value[0] < at->value[0])) {
        wf_answer_clear(at);
        *at = *a;
    } else {
        wf_answer_clear(a);
    }
    *a = (struct wf_answer){0};
}

/* ---- Searches -------------------------------------------------------------------------------- */

/* At most so many malts and hops, for less than the cutoff. */
static enum wf_status search_pair(struct trading *t, size_t malts, size_t hops, double cutoff,
                                  int number)
{
    const struct wf_limit limits[] = {
        {.kind = WF_LIMIT_FEW, .part = t->all_malts, .most = (int)malts},
        {.kind = WF_LIMIT_FEW, .of_hops = true, .part = t->all_places, .most = (int)hops},
    };
    struct wf_search_options o = *t->o;
    struct wf_clock clock = wf_try_clock(t->o->clock, number);
    struct wf_problem p = *t->p;
    struct wf_answer a = {0};
    p.limits = limits;
    p.limit_count = WF_COUNT_OF(limits);
    o.clock = &clock;
    o.cutoff = cutoff;
    enum wf_status status = wf_solve_search(&p, &o, &a, t->e);
    double bound = a.bound[0];
    t->o->clock->work += clock.work;
    if (status == WF_OK && !learn(t, malts, hops, bound))
        status = out_of_memory(t);
    if (status == WF_OK)
        keep(t, &a);
    wf_answer_clear(&a);
    return status;
}

/* Whether nothing cheaper than `value`, the least cost known (NaN: none), can be among these. */
static bool settled(const struct trading *t, size_t malts, size_t hops, double value)
{
    double bound = bound_of(t, malts, hops);
    return isnan(value) ? isinf(bound) && bound > 0 : bound >= value - room_of(t, value);
}

/* At most n malts and hops together: each way to part them is tried briefly, then longer. */
static enum wf_status search_number(struct trading *t, size_t n)
{
    double bound = INFINITY;
    for (int number = 0; number < WF_TRIES; number++)
        for (size_t hops = 0; hops <= n && hops <= WF_HOPS_MOST; hops++) {
            double value = value_at(t, n);
            if (settled(t, n - hops, hops, value))
                continue;
            if (wf_clock_left(t->o->clock) <= 0)
                break;
            WF_TRY(search_pair(t, n - hops, hops, value, number));
        }
    for (size_t hops = 0; hops <= n && hops <= WF_HOPS_MOST; hops++)
        bound = fmin(bound, bound_of(t, n - hops, hops));
    double value = value_at(t, n);
    t->bound[n] = fmin(bound, isnan(value) ? (double)INFINITY : value);
    t->complete = t->complete && (!isnan(value) || isinf(bound));
    return WF_OK;
}

/* From one fewer than the cheapest recipe of all has, down to where there is none. */
static enum wf_status search_all(struct trading *t, size_t first)
{
    for (size_t n = first; n-- > 0;) {
        if (wf_clock_cancelled(t->o->clock))
            return wf_error_add(t->e, WF_CANCELLED, "stopped");
        WF_TRY(search_number(t, n));
        if (isinf(t->bound[n]) && t->bound[n] > 0)
            break;
    }
    return WF_OK;
}

/* ---- The points ------------------------------------------------------------------------------ */

static enum wf_status add_point(struct trading *t, size_t n, struct wf_trade *out)
{
    struct wf_answer a = t->best[n];
    struct wf_trade_point *point = &out->points[out->count];
    a.bound[0] = fmin(t->bound[n], a.value[0]);
    WF_TRY(wf_solve_found(t->p, &a, t->o, &point->recipe, t->e));
    point->ingredients = n + t->yeast;
    point->cost = a.value[0];
    point->bound = a.bound[0];
    out->count++;
    return WF_OK;
}

/* Those that cost less than all of fewer ingredients. */
static enum wf_status add_points(struct trading *t, size_t last, struct wf_trade *out)
{
    double least = INFINITY;
    for (size_t n = 0; n <= last; n++) {
        const struct wf_answer *a = &t->best[n];
        if (a->kg == NULL || (isfinite(least) && a->value[0] >= least - room_of(t, a->value[0])))
            continue;
        least = a->value[0];
        WF_TRY(add_point(t, n, out));
    }
    return WF_OK;
}

/* ---- The whole ------------------------------------------------------------------------------- */

static bool open_trading(struct trading *t, struct wf_trade *out)
{
    size_t room = t->most + 1;
    t->best = wf_alloc(room, sizeof *t->best);
    t->bound = wf_alloc(room, sizeof *t->bound);
    t->all_malts = wf_alloc(t->p->malt_count, sizeof *t->all_malts);
    t->all_places = wf_alloc(t->p->place_count, sizeof *t->all_places);
    out->points = wf_arena_alloc(out->arena, room, sizeof *out->points);
    if (t->best == NULL || t->bound == NULL || t->all_malts == NULL || t->all_places == NULL ||
        out->points == NULL)
        return false;
    for (size_t i = 0; i < t->p->malt_count; i++)
        t->all_malts[i] = 1;
    for (size_t i = 0; i < t->p->place_count; i++)
        t->all_places[i] = 1;
    return true;
}

static void close_trading(struct trading *t)
{
    for (size_t i = 0; t->best != NULL && i <= t->most; i++)
        wf_answer_clear(&t->best[i]);
    wf_free(t->best);
    wf_free(t->bound);
    wf_free(t->all_malts);
    wf_free(t->all_places);
    wf_free(t->pairs);
}

static enum wf_status trade_from(const struct wf_problem *p, const struct wf_search_options *o,
                                 struct wf_answer *cheapest, struct wf_trade *out,
                                 struct wf_error *e)
{
    struct wf_problem same_yeasts = *p;
    struct trading t = {
        .p = &same_yeasts, .o = o, .yeast = cheapest->yeast != NULL, .complete = true, .e = e};
    double bound = cheapest->bound[0];
    enum wf_status status = WF_MEMORY;
    wf_solve_keep_place(&same_yeasts, cheapest->yeast);
    t.most = count_malts(p, cheapest) + count_hops(p, cheapest);
    if (!open_trading(&t, out) || !learn(&t, p->malt_count, p->hop_count, bound)) {
        out_of_memory(&t);
        goto done;
    }
    keep(&t, cheapest);
    wf_tries_start(o->clock);
    t.bound[t.most] = bound;
    WF_TRY_GOTO(search_all(&t, t.most));
    WF_TRY_GOTO(add_points(&t, t.most, out));
    out->complete = t.complete;
done:
    close_trading(&t);
    return status;
}

static struct wf_trade *new_trade(void)
{
    struct wf_arena *arena = wf_arena_new();
    struct wf_trade *t = arena == NULL ? NULL : wf_arena_alloc(arena, 1, sizeof *t);
    if (t == NULL) {
        wf_arena_free(arena);
        return NULL;
    }
    *t = (struct wf_trade){.arena = arena};
    return t;
}

static enum wf_status trade(const struct wf_problem *p, const struct wf_search_options *o,
                            struct wf_trade *out, struct wf_error *e)
{
    struct wf_answer cheapest;
    struct wf_recipe *first = NULL;
    enum wf_status status = wf_solve_first(p, o, &cheapest, &first, e);
    if (status == WF_NO_RECIPE)
        out->nearest = first;
    else
        wf_recipe_free(first); /* it comes again as the last point */
    if (status == WF_OK)
        status = trade_from(p, o, &cheapest, out, e);
    wf_answer_clear(&cheapest);
    return status;
}

enum wf_status wf_solve_trade(const struct wf_target *t, const struct wf_store *s,
                              const struct wf_brewhouse *b, const struct wf_solve_options *o,
                              struct wf_trade **out, struct wf_error *e)
{
    struct wf_solve_options by_cost = *o;
    struct wf_clock clock = wf_clock_start(&by_cost);
    enum wf_goal goals[WF_GOAL_COUNT];
    by_cost.goal_count = 0;
    struct wf_search_options options = wf_solve_search_options(&by_cost, goals, &clock);
    struct wf_problem p;
    *out = NULL;
    WF_TRY(wf_solve_problem(t, s, b, o, &p, e));
    struct wf_trade *made = new_trade();
    enum wf_status status =
        made == NULL ? wf_error_add(e, WF_MEMORY, "out of memory") : trade(&p, &options, made, e);
    if (status == WF_OK || status == WF_NO_RECIPE)
        *out = made;
    else
        wf_trade_free(made);
    wf_problem_free(&p);
    return status;
}

void wf_trade_free(struct wf_trade *t)
{
    if (t == NULL)
        return;
    for (size_t i = 0; i < t->count; i++)
        wf_recipe_free(t->points[i].recipe);
    wf_recipe_free(t->nearest);
    wf_arena_free(t->arena);
}

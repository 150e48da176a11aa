#include "solve/plan_column.h"

#include "base/alloc.h"
#include "base/try.h"
#include "solve/region.h" /* enum wf_fate */

#include <math.h>
#include <string.h>

/* Linear programs spent on a recipe at most. */
#define COLUMN_WORK 30000

static enum wf_status no_memory(struct wf_error *e)
{
    return wf_error_add(e, WF_MEMORY, "out of memory");
}

/* ---- The beer -------------------------------------------------------------------------------- */

enum wf_status wf_plan_sub_open(struct wf_plan_sub *s, const struct wf_market *m,
                                const struct wf_target *t, const struct wf_brewhouse *b, long today,
                                struct wf_error *e)
{
    *s = (struct wf_plan_sub){.market = m, .place = -1};
    WF_TRY(wf_problem_make(t, &m->store, b, today, &s->problem, e));
    const struct wf_problem *p = &s->problem;
    s->yeast_count = p->yeast_count;
    s->yeasts = wf_alloc(p->yeast_count, sizeof *s->yeasts);
    s->malt_most = wf_alloc(p->malt_count, sizeof *s->malt_most);
    s->hop_most = wf_alloc(p->hop_count, sizeof *s->hop_most);
    if (s->yeasts == NULL || s->malt_most == NULL || s->hop_most == NULL) {
        wf_plan_sub_close(s);
        return no_memory(e);
    }
    for (size_t i = 0; i < p->yeast_count; i++)
        s->yeasts[i] = p->yeasts[i];
    for (size_t i = 0; i < p->malt_count; i++)
        s->malt_most[i] = p->malts[i].most_kg;
    for (size_t i = 0; i < p->hop_count; i++)
        s->hop_most[i] = p->hops[i].most_g;
    return WF_OK;
}

void wf_plan_sub_close(struct wf_plan_sub *s)
{
    wf_problem_free(&s->problem);
    wf_free(s->yeasts);
    wf_free(s->malt_most);
    wf_free(s->hop_most);
    *s = (struct wf_plan_sub){0};
}

void wf_plan_sub_most(const struct wf_plan_sub *s, double *most)
{
    const struct wf_problem *p = &s->problem;
    memset(most, 0, s->market->count * sizeof *most);
    for (size_t i = 0; i < p->malt_count; i++)
        most[wf_market_malt(s->market, p->malts[i].lot)] = s->malt_most[i];
    for (size_t i = 0; i < p->hop_count; i++)
        most[wf_market_hop(s->market, p->hops[i].lot)] = s->hop_most[i];
    for (size_t i = 0; i < s->yeast_count; i++)
        most[wf_market_yeast(s->market, s->yeasts[i].lot)] = 1;
}

/* ---- Prices and limits of one search --------------------------------------------------------- */

/* The greatest whole number of steps within a limit. */
static double limited(double most, double left, double step)
{
    return left >= most ? most : fmax(0, floor(left / step + 1e-6)) * step;
}

/* What may be taken of a lot. */
static double left_of(const struct wf_plan_column_search *o, size_t lot)
{
    if (o->fate != NULL && o->fate[lot] == WF_FATE_OUT)
        return 0;
    return o->left != NULL ? o->left[lot] : (double)INFINITY;
}

static void set_malt(struct wf_plan_sub *s, const struct wf_plan_column_search *o, size_t i)
{
    struct wf_pick_malt *m = &s->problem.malts[i];
    size_t lot = wf_market_malt(s->market, m->lot);
    m->price = o->price[lot];
    m->pack_price = o->pack_price != NULL ? o->pack_price[lot] : 0;
    m->pack_kg = m->pack_price > 0 ? s->market->lots[lot].pack : (double)NAN;
    m->most_kg = limited(s->malt_most[i], left_of(o, lot), m->step_kg);
}

static void set_hop(struct wf_plan_sub *s, const struct wf_plan_column_search *o, size_t i)
{
    struct wf_pick_hop *h = &s->problem.hops[i];
    size_t lot = wf_market_hop(s->market, h->lot);
    h->price = o->price[lot];
    h->pack_price = o->pack_price != NULL ? o->pack_price[lot] : 0;
    h->pack_g = h->pack_price > 0 ? s->market->lots[lot].pack : (double)NAN;
    h->most_g = limited(s->hop_most[i], left_of(o, lot), h->step_g);
}

/* Another yeast must be used than this. */
static bool is_barred(const struct wf_plan_sub *s, const unsigned char *fate, size_t lot)
{
    size_t first = s->market->store.malt_count + s->market->store.hop_count;
    for (size_t l = first; fate != NULL && l < s->market->count; l++)
        if (fate[l] == WF_FATE_IN && l != lot)
            return true;
    return false;
}

static void set_yeasts(struct wf_plan_sub *s, const struct wf_plan_column_search *o)
{
    struct wf_problem *p = &s->problem;
    p->yeast_count = 0;
    for (size_t i = 0; i < s->yeast_count; i++) {
        size_t lot = wf_market_yeast(s->market, s->yeasts[i].lot);
        bool here = s->place < 0 || s->yeasts[i].rank == (size_t)s->place;
        if (!here || left_of(o, lot) < 1 - 1e-6 || is_barred(s, o->fate, lot))
            continue;
        p->yeasts[p->yeast_count] = s->yeasts[i];
        p->yeasts[p->yeast_count].rank = 0;
        p->yeasts[p->yeast_count++].price = o->price[lot];
    }
}

/* A lot that must be used, as a limit of the problem. */
static void add_limit(struct wf_plan_sub *s, struct wf_limit *limit, double *part, size_t lot)
{
    struct wf_problem *p = &s->problem;
    bool hop = s->market->lots[lot].kind == WF_KIND_HOP;
    for (size_t i = 0; !hop && i < p->malt_count; i++)
        part[i] = wf_market_malt(s->market, p->malts[i].lot) == lot;
    for (size_t i = 0; hop && i < p->place_count; i++)
        part[i] = wf_market_hop(s->market, p->hops[p->places[i].hop].lot) == lot;
    *limit = (struct wf_limit){.kind = WF_LIMIT_SOME, .of_hops = hop, .part = part};
}

/* The limits of a search, in the arena; none where no lot must be used. */
static enum wf_status set_limits(struct wf_plan_sub *s, const struct wf_plan_column_search *o,
                                 struct wf_arena *arena, struct wf_error *e)
{
    struct wf_problem *p = &s->problem;
    size_t count = 0, made = 0, room = p->malt_count + p->place_count + 1;
    size_t lots = s->market->store.malt_count + s->market->store.hop_count;
    for (size_t l = 0; o->fate != NULL && l < lots; l++)
        count += o->fate[l] == WF_FATE_IN;
    p->limits = NULL;
    p->limit_count = 0;
    if (count == 0)
        return WF_OK;
    struct wf_limit *limits = wf_arena_alloc(arena, count, sizeof *limits);
    double *parts = wf_arena_alloc(arena, count * room, sizeof *parts);
    if (limits == NULL || parts == NULL)
        return no_memory(e);
    for (size_t l = 0; l < lots; l++)
        if (o->fate[l] == WF_FATE_IN) {
            add_limit(s, &limits[made], parts + made * room, l);
            made++;
        }
    p->limits = limits;
    p->limit_count = count;
    return WF_OK;
}

static enum wf_status set_search(struct wf_plan_sub *s, const struct wf_plan_column_search *o,
                                 struct wf_arena *arena, struct wf_error *e)
{
    for (size_t i = 0; i < s->problem.malt_count; i++)
        set_malt(s, o, i);
    for (size_t i = 0; i < s->problem.hop_count; i++)
        set_hop(s, o, i);
    set_yeasts(s, o);
    return set_limits(s, o, arena, e);
}

/* ---- The recipe ------------------------------------------------------------------------------ */

static const struct wf_pick_yeast *own_yeast(const struct wf_plan_sub *s,
                                             const struct wf_pick_yeast *y)
{
    for (size_t i = 0; y != NULL && i < s->yeast_count; i++)
        if (s->yeasts[i].lot == y->lot)
            return &s->yeasts[i];
    return NULL;
}

static void fill_use(const struct wf_plan_sub *s, struct wf_plan_column *c)
{
    const struct wf_problem *p = &s->problem;
    const struct wf_answer *a = &c->answer;
    for (size_t i = 0; i < p->malt_count; i++)
        c->use[wf_market_malt(s->market, p->malts[i].lot)] += a->kg[i];
    for (size_t i = 0; i < p->place_count; i++)
        c->use[wf_market_hop(s->market, p->hops[p->places[i].hop].lot)] += a->grams[i];
    if (a->yeast != NULL)
        c->use[wf_market_yeast(s->market, a->yeast->lot)] = 1;
}

/* Takes the answer's arrays. */
static enum wf_status make_column(const struct wf_plan_sub *s, struct wf_answer *a,
                                  struct wf_plan_column **out, struct wf_error *e)
{
    struct wf_plan_column *c = wf_alloc(1, sizeof *c);
    double *use = wf_alloc(s->market->count, sizeof *use);
    if (c == NULL || use == NULL) {
        wf_free(c);
        wf_free(use);
        return no_memory(e);
    }
    c->use = use;
    c->answer = *a;
    *a = (struct wf_answer){0};
    c->answer.yeast = own_yeast(s, c->answer.yeast);
    fill_use(s, c);
    *out = c;
    return WF_OK;
}

void wf_plan_column_free(struct wf_plan_column *c)
{
    if (c == NULL)
        return;
    wf_answer_clear(&c->answer);
    wf_free(c->use);
    wf_free(c);
}

enum wf_status wf_plan_sub_solve(struct wf_plan_sub *s, const struct wf_plan_column_search *o,
                                 struct wf_plan_column **out, double *bound, struct wf_error *e)
{
    static const enum wf_goal cost = WF_GOAL_COST;
    struct wf_solve_options mine = *o->options;
    mine.progress = NULL;
    mine.seconds = 0; /* its patience is measured in work, whatever the whole's */
    struct wf_clock clock = wf_clock_start(&mine);
    clock.limit = fmax(0.05, wf_clock_left(o->clock));
    clock.enough = COLUMN_WORK;
    const struct wf_search_options search = {.goals = &cost,
                                             .goal_count = 1,
                                             .asked = 1,
                                             .clock = &clock,
                                             .gap = o->gap,
                                             .cutoff = NAN,
                                             .floor = -(double)INFINITY};
    struct wf_answer a = {0};
    *out = NULL;
    struct wf_arena *arena = wf_arena_new();
    if (arena == NULL)
        return no_memory(e);
    enum wf_status status = set_search(s, o, arena, e);
    if (status == WF_OK)
        status = wf_solve_search(&s->problem, &search, &a, e);
    s->problem.limits = NULL;
    s->problem.limit_count = 0;
    wf_arena_free(arena);
    o->clock->work += clock.work;
    if (status != WF_OK)
        return status;
    *bound = a.outcome == WF_OUTCOME_INFEASIBLE ? (double)INFINITY : a.bound[0];
    if (a.kg != NULL) {
        /* A yeast whose bound lies within the gap is not tried. */
        *bound = fmin(a.bound[0], a.value[0] - o->gap * fabs(a.value[0]));
        status = make_column(s, &a, out, e);
    }
    wf_answer_clear(&a);
    return status;
}

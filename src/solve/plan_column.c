#include "solve/plan_column.h"

#include "base/alloc.h"
#include "base/try.h"

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
    return fmin(most, fmax(0, floor(left / step + 1e-6)) * step);
}

static void set_search(struct wf_plan_sub *s, const struct wf_plan_column_search *o)
{
    struct wf_problem *p = &s->problem;
    for (size_t i = 0; i < p->malt_count; i++) {
        size_t lot = wf_market_malt(s->market, p->malts[i].lot);
        p->malts[i].price = o->price[lot];
        p->malts[i].pack_price = o->pack_price != NULL ? o->pack_price[lot] : 0;
        p->malts[i].pack_kg = p->malts[i].pack_price > 0 ? s->market->lots[lot].pack : (double)NAN;
        p->malts[i].most_kg = s->malt_most[i];
        if (o->left != NULL)
            p->malts[i].most_kg = limited(s->malt_most[i], o->left[lot], p->malts[i].step_kg);
    }
    for (size_t i = 0; i < p->hop_count; i++) {
        size_t lot = wf_market_hop(s->market, p->hops[i].lot);
        p->hops[i].price = o->price[lot];
        p->hops[i].pack_price = o->pack_price != NULL ? o->pack_price[lot] : 0;
        p->hops[i].pack_g = p->hops[i].pack_price > 0 ? s->market->lots[lot].pack : (double)NAN;
        p->hops[i].most_g = s->hop_most[i];
        if (o->left != NULL)
            p->hops[i].most_g = limited(s->hop_most[i], o->left[lot], p->hops[i].step_g);
    }
    p->yeast_count = 0;
    for (size_t i = 0; i < s->yeast_count; i++) {
        size_t lot = wf_market_yeast(s->market, s->yeasts[i].lot);
        bool here = s->place < 0 || s->yeasts[i].rank == (size_t)s->place;
        if (!here || (o->left != NULL && o->left[lot] < 1 - 1e-6))
            continue;
        p->yeasts[p->yeast_count] = s->yeasts[i];
        p->yeasts[p->yeast_count].rank = 0;
        p->yeasts[p->yeast_count++].price = o->price[lot];
    }
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
    set_search(s, o);
    enum wf_status status = wf_solve_search(&s->problem, &search, &a, e);
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

#include "solve/plan_search.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>

/* Rounds of prices, at most. */
#define ROUNDS_MOST 80
/* Worth that is added to every price, so that of recipes that are free the cheap ones are found. */
#define TIE 1e-6
/* Part of the prices of the best bound in those that are tried. */
#define BEST_PART 0.5
/* A column is new where it is cheaper than the known ones by more than this part. */
#define NEWS 1e-6

/* No recipe of the beer is worth more. */
static double worth_most(const struct wf_plan_sub *s)
{
    const struct wf_problem *p = &s->problem;
    const struct wf_market_lot *lots = s->market->lots;
    double malt = 0, hop = 0, yeast = 0;
    for (size_t i = 0; i < p->malt_count; i++)
        malt = fmax(malt, lots[wf_market_malt(s->market, p->malts[i].lot)].worth);
    for (size_t i = 0; i < p->hop_count; i++)
        hop = fmax(hop, lots[wf_market_hop(s->market, p->hops[i].lot)].worth * s->hop_most[i]);
    for (size_t i = 0; i < s->yeast_count; i++)
        yeast = fmax(yeast, lots[wf_market_yeast(s->market, s->yeasts[i].lot)].worth);
    return malt * p->grist_most_kg + hop * WF_HOPS_MOST + yeast;
}

struct generate {
    struct wf_plan_search *s;
    const struct wf_plan_aim *aim;
    const struct wf_plan_limits *limits;
    struct wf_prices best, at; /* prices of the best bound, and those that are tried */
    double *amount;            /* what a recipe is charged at these, one a lot */
    double bound;              /* of the last round */
    double gap, tie;
    size_t added;
};

/* Prices for the beers' own searches, with a trace of each lot's worth. */
static void set_amounts(struct generate *g)
{
    const struct wf_plan_search *s = g->s;
    for (size_t l = 0; l < s->market->count; l++)
        g->amount[l] =
            wf_prices_amount(&g->at, &s->master, g->aim, l) + g->tie * s->market->lots[l].worth;
}

/* What a column costs at the prices of the linear program. */
static double cost_of(const struct generate *g, const struct wf_plan_column *c)
{
    const struct wf_plan_search *s = g->s;
    const struct wf_prices *p = &s->answer.prices;
    double sum = 0;
    for (size_t l = 0; l < s->market->count; l++) {
        double pack = p->pack[c->beer * s->market->count + l];
        sum += wf_prices_amount(p, &s->master, g->aim, l) * c->use[l];
        if (pack > 0)
            sum += pack * ceil(c->use[l] / s->market->lots[l].pack - 1e-9);
    }
    return sum;
}

/* Keeps the column if the linear program would take it. */
static enum wf_status offer(struct generate *g, struct wf_plan_column *c)
{
    double known = g->s->answer.beer[c->beer];
    if (cost_of(g, c) >= known - NEWS * fmax(1, fabs(known))) {
        wf_plan_column_free(c);
        return WF_OK;
    }
    g->added++;
    return wf_master_add(&g->s->master, c, g->s->e);
}

/* One search a beer, and the bound that they give together. */
static enum wf_status one_round(struct generate *g)
{
    struct wf_plan_search *s = g->s;
    struct wf_plan_column_search o = {
        .price = g->amount, .gap = g->gap, .clock = s->clock, .options = s->options};
    g->bound = wf_prices_fixed(&g->at, &s->master, g->aim, g->limits);
    g->added = 0;
    set_amounts(g);
    for (size_t b = 0; b < s->beer_count; b++) {
        struct wf_plan_column *c = NULL;
        double least = (double)INFINITY;
        o.pack_price = &g->at.pack[b * s->market->count];
        o.fate = &g->limits->fate[b * s->market->count];
        if (s->possible[b])
            WF_TRY(wf_plan_sub_solve(&s->subs[b], &o, &c, &least, s->e));
        least -= g->tie > 0 ? g->tie * worth_most(&s->subs[b]) : 0;
        g->bound += fmin(least, wf_prices_without(&g->at, g->aim));
        if (c == NULL)
            continue;
        c->beer = b;
        WF_TRY(offer(g, c));
    }
    return WF_OK;
}

static bool has_recipe(const struct generate *g, size_t beer)
{
    const struct wf_master *m = &g->s->master;
    for (size_t i = 0; i < m->count; i++)
        if (m->columns[i]->beer == beer && wf_plan_limits_allow(g->limits, m, m->columns[i]))
            return true;
    return false;
}

/* A recipe in this part for each beer that has none yet; *none: one that must be brewed has none.
 */
static enum wf_status first_recipes(struct generate *g, bool *none)
{
    struct wf_plan_search *s = g->s;
    struct wf_plan_column_search o = {
        .price = g->amount, .gap = g->gap, .clock = s->clock, .options = s->options};
    *none = false;
    for (size_t l = 0; l < s->market->count; l++)
        g->amount[l] = s->market->lots[l].worth;
    for (size_t b = 0; b < s->beer_count && !*none; b++) {
        struct wf_plan_column *c = NULL;
        double least;
        if (!s->possible[b] || has_recipe(g, b))
            continue;
        o.fate = &g->limits->fate[b * s->market->count];
        WF_TRY(wf_plan_sub_solve(&s->subs[b], &o, &c, &least, s->e));
        *none = c == NULL && isinf(least) && least > 0 && !g->aim->optional;
        if (c == NULL)
            continue;
        c->beer = b;
        WF_TRY(wf_master_add(&s->master, c, s->e));
    }
    return WF_OK;
}

static bool is_over(const struct wf_plan_search *s)
{
    return wf_clock_left(s->clock) <= 0 || wf_clock_cancelled(s->clock);
}

/*
 * Rounds until the bound is good enough or nothing new is found. The prices that are tried lie
 * between those of the best bound and the linear program's (Wentges, Computational Optimization and
 * Applications 8, 1997): the program's alone jump about. Where these find nothing new, the
 * program's are tried as they are, and then each recipe is proved better.
 */
static enum wf_status rounds(struct generate *g, double enough, double *bound, bool *feasible)
{
    struct wf_plan_search *s = g->s;
    double part = 0; /* of the best in the mix: none yet */
    bool none;
    WF_TRY(first_recipes(g, &none));
    if (none) {
        *bound = INFINITY;
        return WF_OK;
    }
    for (int round = 0; round < ROUNDS_MOST; round++) {
        WF_TRY(wf_master_price(&s->master, g->aim, g->limits, &s->answer, s->e));
        *feasible = s->answer.feasible;
        if (!*feasible || is_over(s))
            return WF_OK;
        wf_prices_lift(&s->answer.prices, &s->master, g->aim, g->limits);
        wf_prices_mix(&g->at, &g->best, &s->answer.prices, part);
        WF_TRY(one_round(g));
        if (g->bound > *bound || round == 0)
            wf_prices_mix(&g->best, &g->at, &g->at, 1);
        *bound = fmax(*bound, g->bound);
        if (*bound >= enough ||
            *bound >= s->answer.value - wf_plan_room(s, g->aim->goal, s->answer.value))
            return WF_OK;
        if (g->added == 0 && part == 0 && g->gap <= WF_PLAN_LAST_GAP)
            return WF_OK;
        if (g->added == 0 && part == 0)
            g->gap = fmax(WF_PLAN_LAST_GAP, g->gap / 8);
        part = g->added == 0 ? 0 : BEST_PART;
    }
    return WF_OK;
}

enum wf_status wf_plan_generate(struct wf_plan_search *s, const struct wf_plan_aim *aim,
                                const struct wf_plan_limits *limits, double enough, double *bound,
                                bool *feasible)
{
    struct generate g = {.s = s,
                         .aim = aim,
                         .limits = limits,
                         .gap = WF_PLAN_FIRST_GAP,
                         .tie = aim->goal == WF_PLAN_WORTH ? 0 : TIE};
    enum wf_status status;
    *feasible = false;
    WF_TRY_GOTO(wf_prices_open(&g.best, &s->master, s->e));
    WF_TRY_GOTO(wf_prices_open(&g.at, &s->master, s->e));
    g.amount = wf_alloc(s->market->count, sizeof *g.amount);
    status = g.amount != NULL ? rounds(&g, enough, bound, feasible)
                              : wf_error_add(s->e, WF_MEMORY, "out of memory");
done:
    wf_prices_close(&g.best);
    wf_prices_close(&g.at);
    wf_free(g.amount);
    return status;
}

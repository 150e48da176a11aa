/* plan_program.c: the plan as a program over known recipes. */
#include "solve/plan_master.h"

#include "base/alloc.h"

#include <math.h>

/* What a lack costs where it only bridges to recipes that fit. */
#define DEAR 1000.0

double wf_lack_notch(enum wf_kind kind)
{
    static const double notch[WF_KIND_COUNT] = {2, 0.05, 4};
    return notch[kind];
}

double wf_master_buy_most(const struct wf_master *m, size_t lot)
{
    const struct wf_market_lot *l = &m->market->lots[lot];
    return fmin(l->buy_most, fmax(0, m->most[lot] - l->hand));
}

double wf_master_packs_most(const struct wf_master *m, size_t lot)
{
    const struct wf_market_lot *l = &m->market->lots[lot];
    double sold = isfinite(l->buy_most) ? floor(l->buy_most / l->pack + 1e-9) : (double)INFINITY;
    return fmin(sold, ceil(wf_master_buy_most(m, lot) / l->pack - 1e-9));
}

void wf_master_program_close(struct wf_master_program *g)
{
    wf_model_free(g->model);
    wf_free(g->row);
    wf_free(g->buy);
    wf_free(g->lack);
    wf_free(g->brewed);
    wf_free(g->own);
}

static bool is_used(const struct wf_master *m, size_t lot)
{
    for (size_t i = 0; i < m->count; i++)
        if (m->columns[i]->use[lot] > 0)
            return true;
    return false;
}

static double worth_of(const struct wf_master *m, const struct wf_plan_column *c)
{
    double worth = 0;
    for (size_t l = 0; l < m->market->count; l++)
        worth += c->use[l] * m->market->lots[l].worth;
    return worth;
}

static bool is_allowed(const struct wf_master_program *g, const struct wf_plan_column *c)
{
    return g->limits == NULL || wf_plan_limits_allow(g->limits, g->m, c);
}

static void add_beers(struct wf_master_program *g)
{
    const struct wf_master *m = g->m;
    for (size_t i = 0; i < m->count; i++)
        wf_model_column(g->model, 0, is_allowed(g, m->columns[i]) ? 1 : 0,
                        g->aim->goal == WF_PLAN_WORTH ? worth_of(m, m->columns[i]) : 0, true, "");
    g->left_out_row = isfinite(g->aim->left_out)
                          ? wf_model_row(g->model, -(double)INFINITY, g->aim->left_out, "left out")
                          : -1;
    for (size_t b = 0; b < m->beer_count; b++) {
        g->brewed[b] = wf_model_row(g->model, 1, 1, "one recipe");
        if (!g->aim->optional)
            continue;
        int without = wf_model_column(g->model, 0, 1, g->aim->goal == WF_PLAN_LEFT_OUT ? 1 : 0,
                                      true, "left out");
        wf_model_term(g->model, g->brewed[b], without, 1);
        if (g->left_out_row >= 0)
            wf_model_term(g->model, g->left_out_row, without, 1);
    }
    for (size_t i = 0; i < m->count; i++)
        wf_model_term(g->model, g->brewed[m->columns[i]->beer], (int)i, 1);
}

/* What is bought of a lot: whole packs, or a weight. */
static void add_buy(struct wf_master_program *g, size_t l)
{
    const struct wf_market_lot *lot = &g->m->market->lots[l];
    bool whole = isfinite(lot->pack);
    double unit = whole ? lot->pack : 1, low = 0;
    double high = whole ? wf_master_packs_most(g->m, l) : wf_master_buy_most(g->m, l);
    if (whole && g->limits != NULL) {
        low = g->limits->low[l];
        high = g->limits->high[l];
    }
    if (!(high > 0))
        return;
    g->buy[l] = wf_model_column(
        g->model, low, high, g->aim->goal == WF_PLAN_MONEY ? unit * lot->price : 0, whole, lot->id);
    wf_model_term(g->model, g->row[l], g->buy[l], -unit);
    if (g->money_row >= 0)
        wf_model_term(g->model, g->money_row, g->buy[l], unit * lot->price);
}

/* Packs that a beer alone would open. */
static double packs_of(const struct wf_market_lot *lot, double use)
{
    return ceil(use / lot->pack - 1e-9);
}

/* No fewer packs are bought than one beer alone opens. It says nothing new of whole packs, and much
 * to the linear program. */
static void add_own_packs(struct wf_master_program *g, size_t l)
{
    const struct wf_master *m = g->m;
    const struct wf_market_lot *lot = &m->market->lots[l];
    if (g->buy[l] < 0 || !isfinite(lot->pack) || lot->hand > 0)
        return;
    for (size_t i = 0; i < m->count; i++) {
        const struct wf_plan_column *c = m->columns[i];
        int *row = &g->own[c->beer * m->market->count + l];
        if (!(c->use[l] > 0))
            continue;
        if (*row < 0) {
            *row = wf_model_row(g->model, -(double)INFINITY, 0, "packs of one beer");
            wf_model_term(g->model, *row, g->buy[l], -1);
        }
        wf_model_term(g->model, *row, (int)i, packs_of(lot, c->use[l]));
    }
}

/* What a lot is short of. In a part of all plans, where the known recipes may not fit together
 * while others do, it is allowed for whatever the aim, and dear. */
static void add_lack(struct wf_master_program *g, size_t l)
{
    const struct wf_market_lot *lot = &g->m->market->lots[l];
    bool shortage = g->aim->goal == WF_PLAN_SHORTAGE;
    if (!shortage && g->limits == NULL)
        return;
    g->lack[l] = wf_model_column(g->model, 0, g->m->most[l] + 1,
                                 wf_lack_notch(lot->kind) * (shortage ? 1 : DEAR), false, lot->id);
    wf_model_term(g->model, g->row[l], g->lack[l], -1);
}

static void add_money(struct wf_master_program *g)
{
    g->money_row = -1;
    if (!isfinite(g->aim->money))
        return;
    g->money_row = wf_model_row(g->model, -(double)INFINITY, g->aim->money, "money");
    if (g->limits != NULL)
        wf_model_term(g->model, g->money_row,
                      wf_model_column(g->model, 0, 1e6, DEAR, false, "more money"), -1);
}

static void add_lots(struct wf_master_program *g)
{
    const struct wf_market *market = g->m->market;
    add_money(g);
    for (size_t l = 0; l < market->count; l++) {
        const struct wf_market_lot *lot = &market->lots[l];
        g->row[l] = g->buy[l] = g->lack[l] = -1;
        if (!is_used(g->m, l))
            continue;
        g->row[l] = wf_model_row(g->model, -(double)INFINITY, lot->hand, lot->id);
        for (size_t i = 0; i < g->m->count; i++)
            wf_model_term(g->model, g->row[l], (int)i, g->m->columns[i]->use[l]);
        add_buy(g, l);
        add_own_packs(g, l);
        add_lack(g, l);
    }
}

enum wf_status wf_master_program_open(struct wf_master_program *g, const struct wf_master *m,
                                      const struct wf_plan_aim *aim,
                                      const struct wf_plan_limits *limits, struct wf_error *e)
{
    size_t lots = m->market->count;
    *g = (struct wf_master_program){.m = m, .aim = aim, .limits = limits};
    g->model = wf_model_new();
    g->row = wf_alloc(lots, sizeof *g->row);
    g->buy = wf_alloc(lots, sizeof *g->buy);
    g->lack = wf_alloc(lots, sizeof *g->lack);
    g->brewed = wf_alloc(m->beer_count, sizeof *g->brewed);
    g->own = wf_alloc(m->beer_count * lots, sizeof *g->own);
    if (!g->model || !g->row || !g->buy || !g->lack || !g->brewed || !g->own)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    for (size_t i = 0; i < m->beer_count * lots; i++)
        g->own[i] = -1;
    add_beers(g);
    add_lots(g);
    return wf_model_check(g->model, e);
}

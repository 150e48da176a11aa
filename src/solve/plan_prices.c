/* plan_prices.c: prices of the lots, and what they prove. */
#include "solve/plan_master.h"

#include "base/alloc.h"
#include "base/try.h"
#include "solve/solver.h"

#include <math.h>
#include <string.h>

static enum wf_status no_memory(struct wf_error *e)
{
    return wf_error_add(e, WF_MEMORY, "out of memory");
}

enum wf_status wf_prices_open(struct wf_prices *p, const struct wf_master *m, struct wf_error *e)
{
    size_t lots = m->market->count;
    *p = (struct wf_prices){.lot_count = lots, .pack_count = m->beer_count * lots};
    p->lot = wf_alloc(lots, sizeof *p->lot);
    p->pack = wf_alloc(p->pack_count, sizeof *p->pack);
    if (p->lot != NULL && p->pack != NULL)
        return WF_OK;
    wf_prices_close(p);
    return no_memory(e);
}

void wf_prices_close(struct wf_prices *p)
{
    wf_free(p->lot);
    wf_free(p->pack);
    *p = (struct wf_prices){0};
}

static double mixed(double a, double b, double part)
{
    return part * a + (1 - part) * b;
}

void wf_prices_mix(struct wf_prices *to, const struct wf_prices *a, const struct wf_prices *b,
                   double part)
{
    for (size_t i = 0; i < to->lot_count; i++)
        to->lot[i] = mixed(a->lot[i], b->lot[i], part);
    for (size_t i = 0; i < to->pack_count; i++)
        to->pack[i] = mixed(a->pack[i], b->pack[i], part);
    to->money = mixed(a->money, b->money, part);
    to->left_out = mixed(a->left_out, b->left_out, part);
}

/* ---- The bound ------------------------------------------------------------------------------- */

/* What a pack, or a unit, that is bought costs beyond what the prices bring in for it. */
static double bought_each(const struct wf_prices *p, const struct wf_master *m,
                          const struct wf_plan_aim *aim, size_t l)
{
    const struct wf_market_lot *lot = &m->market->lots[l];
    double unit = isfinite(lot->pack) ? lot->pack : 1;
    double each =
        ((aim->goal == WF_PLAN_MONEY ? 1 : 0) + p->money) * unit * lot->price - unit * p->lot[l];
    for (size_t b = 0; b < m->beer_count; b++)
        each -= p->pack[b * p->lot_count + l];
    return each;
}

/* What is bought of a lot, at the end that its price favours. */
static double bought_part(const struct wf_prices *p, const struct wf_master *m,
                          const struct wf_plan_aim *aim, const struct wf_plan_limits *limits,
                          size_t l)
{
    const struct wf_market_lot *lot = &m->market->lots[l];
    bool whole = isfinite(lot->pack);
    double low = whole && limits != NULL ? limits->low[l] : 0;
    double high = !whole           ? wf_master_buy_most(m, l)
                  : limits != NULL ? limits->high[l]
                                   : wf_master_packs_most(m, l);
    double each = bought_each(p, m, aim, l);
    return high > 0 ? fmin(each * low, each * high) : 0;
}

/*
 * Of the prices that prove the linear program's value it picks any: often 0 for a lot that no known
 * recipe has. What is all bought is charged what it costs, since that lowers no bound: by the
 * amount, or in packs half by the amount and half by the packs that each beer opens.
 */
void wf_prices_lift(struct wf_prices *p, const struct wf_master *m, const struct wf_plan_aim *aim,
                    const struct wf_plan_limits *limits)
{
    double beers = (double)m->beer_count;
    for (size_t l = 0; l < p->lot_count; l++) {
        const struct wf_market_lot *lot = &m->market->lots[l];
        double each = bought_each(p, m, aim, l);
        bool whole = isfinite(lot->pack);
        if (lot->hand > 0 || !(each > 0) || (whole && limits != NULL && limits->low[l] > 0))
            continue;
        double by_pack = !whole ? 0 : m->beer_count == 1 ? each : each / 2;
        p->lot[l] += (each - by_pack) / (whole ? lot->pack : 1);
        for (size_t b = 0; whole && b < m->beer_count; b++)
            p->pack[b * p->lot_count + l] += by_pack / beers;
    }
}

double wf_prices_fixed(const struct wf_prices *p, const struct wf_master *m,
                       const struct wf_plan_aim *aim, const struct wf_plan_limits *limits)
{
    double sum = 0;
    if (isfinite(aim->money))
        sum -= p->money * aim->money;
    if (isfinite(aim->left_out))
        sum -= p->left_out * aim->left_out;
    for (size_t l = 0; l < p->lot_count; l++) {
        const struct wf_market_lot *lot = &m->market->lots[l];
        sum += bought_part(p, m, aim, limits, l) - p->lot[l] * lot->hand;
        if (aim->goal == WF_PLAN_SHORTAGE)
            sum += fmin(0, wf_lack_notch(lot->kind) - p->lot[l]) * (m->most[l] + 1);
    }
    return sum;
}

double wf_prices_without(const struct wf_prices *p, const struct wf_plan_aim *aim)
{
    if (!aim->optional)
        return INFINITY;
    return (aim->goal == WF_PLAN_LEFT_OUT ? 1 : 0) + p->left_out;
}

double wf_prices_amount(const struct wf_prices *p, const struct wf_master *m,
                        const struct wf_plan_aim *aim, size_t lot)
{
    return p->lot[lot] + (aim->goal == WF_PLAN_WORTH ? m->market->lots[lot].worth : 0);
}

/* ---- The linear program ---------------------------------------------------------------------- */

enum wf_status wf_master_answer_open(struct wf_master_answer *a, const struct wf_master *m,
                                     struct wf_error *e)
{
    *a = (struct wf_master_answer){0};
    WF_TRY(wf_prices_open(&a->prices, m, e));
    a->packs = wf_alloc(m->market->count, sizeof *a->packs);
    a->use = wf_alloc(m->beer_count * m->market->count, sizeof *a->use);
    a->beer = wf_alloc(m->beer_count, sizeof *a->beer);
    if (a->packs != NULL && a->use != NULL && a->beer != NULL)
        return WF_OK;
    wf_master_answer_close(a);
    return no_memory(e);
}

void wf_master_answer_close(struct wf_master_answer *a)
{
    wf_prices_close(&a->prices);
    wf_free(a->packs);
    wf_free(a->use);
    wf_free(a->beer);
    *a = (struct wf_master_answer){0};
}

/* The price that a row says: of a limit from above, whose dual is 0 or less. */
static double price_of(const struct wf_solution *s, int row)
{
    return row >= 0 ? fmax(0, -s->dual[row]) : 0;
}

static void read_use(const struct wf_master_program *g, const struct wf_solution *s, double *use)
{
    size_t lots = g->m->market->count;
    memset(use, 0, g->m->beer_count * lots * sizeof *use);
    for (size_t i = 0; i < g->m->count; i++)
        for (size_t l = 0; l < lots; l++)
            if (g->m->columns[i]->use[l] > 0)
                use[g->m->columns[i]->beer * lots + l] += s->x[i];
}

static void read_answer(const struct wf_master_program *g, const struct wf_solution *s,
                        struct wf_master_answer *out)
{
    const struct wf_market *market = g->m->market;
    out->value = s->value;
    for (size_t l = 0; l < market->count; l++) {
        out->prices.lot[l] = price_of(s, g->row[l]);
        out->packs[l] = g->buy[l] >= 0 && isfinite(market->lots[l].pack) ? s->x[g->buy[l]] : 0;
    }
    for (size_t i = 0; i < out->prices.pack_count; i++)
        out->prices.pack[i] = price_of(s, g->own[i]);
    out->prices.money = price_of(s, g->money_row);
    out->prices.left_out = price_of(s, g->left_out_row);
    read_use(g, s, out->use);
    for (size_t b = 0; b < g->m->beer_count; b++)
        out->beer[b] = s->dual[g->brewed[b]];
}

enum wf_status wf_master_price(const struct wf_master *m, const struct wf_plan_aim *aim,
                               const struct wf_plan_limits *limits, struct wf_master_answer *out,
                               struct wf_error *e)
{
    const struct wf_solver_options o = {.relax = true, .cutoff = (double)NAN};
    struct wf_solution s = {0};
    struct wf_master_program g;
    enum wf_status status;
    out->feasible = false;
    WF_TRY_GOTO(wf_master_program_open(&g, m, aim, limits, e));
    WF_TRY_GOTO(wf_solver_run(g.model, &o, &s, e));
    out->feasible = s.outcome == WF_OUTCOME_OPTIMAL && s.dual != NULL;
    if (out->feasible)
        read_answer(&g, &s, out);
done:
    wf_solution_clear(&s);
    wf_master_program_close(&g);
    return status;
}

#include "model/plan_model.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>

struct build {
    const struct wf_plan_model_beer *beers;
    size_t count;
    const struct wf_plan_model_lot *lots;
    size_t lot_count;
    bool money;
    struct wf_model *m;
    int *row;     /* one a lot */
    double *most; /* what all beers can take of it */
};

/* So much of a lot for each unit of a column. */
static void take(const struct build *b, int column, size_t lot, double amount)
{
    wf_model_term(b->m, b->row[lot], column, amount);
    if (!b->money)
        wf_model_set_cost(b->m, column, amount * b->lots[lot].worth);
    b->most[lot] += amount * wf_model_high(b->m, column);
}

static void take_all(const struct build *b, const struct wf_plan_model_beer *beer, int start,
                     const int *malts, const int *places)
{
    const struct wf_problem *p = beer->problem;
    const struct wf_store *s = p->store;
    for (size_t i = 0; i < p->malt_count; i++)
        take(b, start + malts[i], (size_t)(p->malts[i].lot - s->malts), p->malts[i].step_kg);
    for (size_t i = 0; i < p->place_count; i++) {
        const struct wf_pick_hop *hop = &p->hops[p->places[i].hop];
        take(b, start + places[i], s->malt_count + (size_t)(hop->lot - s->hops), hop->step_g);
    }
    if (beer->yeast == NULL)
        return;
    int pack = wf_model_column(b->m, 1, 1, 0, true, beer->yeast->lot->id);
    take(b, pack, s->malt_count + s->hop_count + (size_t)(beer->yeast->lot - s->yeasts), 1);
}

static enum wf_status add_beer(const struct build *b, const struct wf_plan_model_beer *beer,
                               struct wf_error *e)
{
    const struct wf_problem *p = beer->problem;
    int *malts = wf_alloc(p->malt_count, sizeof *malts);
    int *places = wf_alloc(p->place_count, sizeof *places);
    struct wf_model *block = NULL;
    enum wf_status status = WF_MEMORY;
    if (malts == NULL || places == NULL) {
        wf_error_add(e, WF_MEMORY, "out of memory");
        goto done;
    }
    WF_TRY_GOTO(wf_joint_model_block(p, beer->yeast, WF_GOAL_COST, &block, malts, places, e));
    wf_model_clear_costs(block);
    int start = wf_model_append(b->m, block, -1);
    if (start < 0 || wf_model_columns(b->m) < start + wf_model_columns(block))
        status = wf_error_add(e, WF_MEMORY, "out of memory");
    else
        take_all(b, beer, start, malts, places);
done:
    wf_model_free(block);
    wf_free(malts);
    wf_free(places);
    return status;
}

static void add_purchase(const struct build *b, size_t l)
{
    const struct wf_plan_model_lot *lot = &b->lots[l];
    bool whole = isfinite(lot->pack);
    double unit = whole ? lot->pack : 1;
    double most = fmin(lot->buy_most, fmax(0, b->most[l] - lot->hand));
    if (!(most > 0))
        return;
    if (whole)
        most = most < lot->buy_most ? ceil(most / unit - 1e-9) : floor(most / unit + 1e-9);
    int column = wf_model_column(b->m, 0, most, b->money ? unit * lot->price : 0, whole, lot->id);
    wf_model_term(b->m, b->row[l], column, -unit);
}

static enum wf_status fill(const struct build *b, struct wf_error *e)
{
    for (size_t l = 0; l < b->lot_count; l++)
        b->row[l] = wf_model_row(b->m, -(double)INFINITY, b->lots[l].hand, b->lots[l].id);
    for (size_t i = 0; i < b->count; i++)
        WF_TRY(add_beer(b, &b->beers[i], e));
    for (size_t l = 0; l < b->lot_count; l++)
        add_purchase(b, l);
    return wf_model_check(b->m, e);
}

enum wf_status wf_plan_model_make(const struct wf_plan_model_beer *beers, size_t count,
                                  const struct wf_plan_model_lot *lots, size_t lot_count,
                                  bool money, struct wf_model **out, struct wf_error *e)
{
    struct build b = {.beers = beers,
                      .count = count,
                      .lots = lots,
                      .lot_count = lot_count,
                      .money = money,
                      .m = wf_model_new(),
                      .row = wf_alloc(lot_count, sizeof *b.row),
                      .most = wf_alloc(lot_count, sizeof *b.most)};
    enum wf_status status = b.m != NULL && b.row != NULL && b.most != NULL
                                ? fill(&b, e)
                                : wf_error_add(e, WF_MEMORY, "out of memory");
    wf_free(b.row);
    wf_free(b.most);
    if (status == WF_OK)
        *out = b.m;
    else
        wf_model_free(b.m);
    return status;
}

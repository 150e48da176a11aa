#include "solve/plan_yeasts.h"

#include "base/alloc.h"
#include "base/try.h"
#include "solve/solver.h"

#include <limits.h>
#include <math.h>

#define PLACES_MOST (sizeof(unsigned long) * CHAR_BIT)

struct deal {
    struct wf_plan_sub *subs;
    size_t beers;
    const unsigned long *barred;
    struct wf_model *model;
};

static bool may(const struct deal *d, size_t beer, size_t yeast)
{
    size_t rank = d->subs[beer].yeasts[yeast].rank;
    return rank >= PLACES_MOST || (d->barred[beer] >> rank & 1) == 0;
}

/* A column a beer and yeast, at the yeast's place as its cost; one yeast a beer; no more packs than
 * may be had. */
static void fill(const struct deal *d)
{
    const struct wf_market *market = d->subs[0].market;
    size_t first = market->store.malt_count + market->store.hop_count;
    for (size_t l = first; l < market->count; l++) {
        double packs = floor(market->lots[l].hand + market->lots[l].buy_most + 1e-9);
        wf_model_row(d->model, -(double)INFINITY, packs, market->lots[l].id);
    }
    for (size_t b = 0; b < d->beers; b++) {
        const struct wf_plan_sub *s = &d->subs[b];
        int row = wf_model_row(d->model, s->yeast_count > 0 ? 1 : 0, 1, "one yeast");
        for (size_t y = 0; y < s->yeast_count; y++) {
            int column = wf_model_column(d->model, 0, may(d, b, y) ? 1 : 0,
                                         (double)s->yeasts[y].rank, true, "");
            wf_model_term(d->model, row, column, 1);
            wf_model_term(d->model, (int)(wf_market_yeast(market, s->yeasts[y].lot) - first),
                          column, 1);
        }
    }
}

static bool any_yeast(const struct deal *d)
{
    for (size_t b = 0; b < d->beers; b++)
        if (d->subs[b].yeast_count > 0)
            return true;
    return false;
}

static void read_places(const struct deal *d, const double *x)
{
    int column = 0;
    for (size_t b = 0; b < d->beers; b++)
        for (size_t y = 0; y < d->subs[b].yeast_count; y++)
            if (x[column++] > 0.5)
                d->subs[b].place = (long)d->subs[b].yeasts[y].rank;
}

enum wf_status wf_plan_yeasts(struct wf_plan_sub *subs, size_t beers, const unsigned long *barred,
                              bool *found, struct wf_error *e)
{
    const struct wf_solver_options o = {.cutoff = (double)NAN, .nodes = 1000};
    struct deal d = {subs, beers, barred, wf_model_new()};
    struct wf_solution s = {0};
    enum wf_status status = WF_OK;
    *found = true;
    for (size_t b = 0; b < beers; b++)
        subs[b].place = -1;
    if (d.model == NULL) {
        status = wf_error_add(e, WF_MEMORY, "out of memory");
        goto done;
    }
    fill(&d);
    if (!any_yeast(&d)) /* then none is looked at */
        goto done;
    WF_TRY_GOTO(wf_solver_run(d.model, &o, &s, e));
    *found = s.x != NULL;
    if (*found)
        read_places(&d, s.x);
done:
    wf_solution_clear(&s);
    wf_model_free(d.model);
    return status;
}

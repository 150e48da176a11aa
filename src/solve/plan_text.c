/* plan_text.c: the model of a plan, for others. */
#include "wortfit/plan.h"

#include "base/alloc.h"
#include "base/try.h"
#include "model/plan_model.h"
#include "solve/plan_market.h"

#include <string.h>

struct writing {
    struct wf_market market;
    struct wf_problem *problems; /* one a beer that is brewed */
    struct wf_plan_model_beer *beers;
    struct wf_plan_model_lot *lots;
    size_t count;
};

static enum wf_status writing_open(struct writing *w, size_t beers, struct wf_error *e)
{
    w->problems = wf_alloc(beers, sizeof *w->problems);
    w->beers = wf_alloc(beers, sizeof *w->beers);
    w->lots = wf_alloc(w->market.count, sizeof *w->lots);
    if (w->problems == NULL || w->beers == NULL || w->lots == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    for (size_t l = 0; l < w->market.count; l++) {
        const struct wf_market_lot *lot = &w->market.lots[l];
        w->lots[l] = (struct wf_plan_model_lot){.id = lot->id,
                                                .hand = lot->hand,
                                                .buy_most = lot->buy_most,
                                                .pack = lot->pack,
                                                .price = lot->price,
                                                .worth = lot->worth};
    }
    return WF_OK;
}

static void writing_close(struct writing *w)
{
    for (size_t b = 0; w->problems != NULL && b < w->count; b++)
        wf_problem_free(&w->problems[b]);
    wf_free(w->problems);
    wf_free(w->beers);
    wf_free(w->lots);
    wf_market_close(&w->market);
}

static const struct wf_pick_yeast *yeast_of(const struct wf_problem *p, const struct wf_recipe *r)
{
    for (size_t i = 0; r->yeast.id != NULL && i < p->yeast_count; i++)
        if (strcmp(p->yeasts[i].lot->id, r->yeast.id) == 0)
            return &p->yeasts[i];
    return NULL;
}

static enum wf_status add_beers(struct writing *w, const struct wf_plan_beer *beers, size_t count,
                                const struct wf_plan *p, long today, struct wf_error *e)
{
    for (size_t b = 0; b < count; b++) {
        struct wf_problem *problem = &w->problems[w->count];
        if (p->beers[b].recipe == NULL)
            continue;
        WF_TRY(wf_problem_make(beers[b].target, &w->market.store, beers[b].brewhouse, today,
                               problem, e));
        w->beers[w->count++] =
            (struct wf_plan_model_beer){problem, yeast_of(problem, p->beers[b].recipe)};
    }
    return WF_OK;
}

enum wf_status wf_plan_model_text(const struct wf_plan_beer *beers, size_t count,
                                  const struct wf_store *store, const struct wf_store *shop,
                                  const struct wf_plan *p, long today, char **text,
                                  struct wf_error *e)
{
    struct writing w = {0};
    struct wf_model *m = NULL;
    enum wf_status status;
    *text = NULL;
    WF_TRY_GOTO(wf_market_open(&w.market, store, shop, p->as_many, e));
    WF_TRY_GOTO(writing_open(&w, count, e));
    WF_TRY_GOTO(add_beers(&w, beers, count, p, today, e));
    WF_TRY_GOTO(wf_plan_model_make(w.beers, w.count, w.lots, w.market.count, p->money > 0, &m, e));
    status = wf_model_write_lp(m, "several beers from one store", text, e);
done:
    wf_model_free(m);
    writing_close(&w);
    return status;
}

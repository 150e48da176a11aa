/*
 * Which one thing would do, got alone. Wares are looked at from the cheapest on, each only up to
 * the amount that costs no more than the best ones found so far: most are settled by one search,
 * and whole groups of them by one too.
 */
#include "solve/wares.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>
#include <stdlib.h>

struct tour {
    struct wf_inquiry *q;
    struct wf_wares wares;
    struct wf_give *gives;           /* of a group */
    double best[WF_REMEDIES_BOUGHT]; /* costs, least first; +inf: none yet */
    struct wf_remedies *out;
};

/* As much of it as costs no more than the dearest of those that are kept; any amount until enough
 * are. */
static double affordable(const struct tour *t, const struct wf_ware *w)
{
    double purse = t->best[WF_REMEDIES_BOUGHT - 1];
    if (isinf(purse) || w->price <= 0)
        return w->most;
    if (isnan(w->price))
        return w->give.to;
    double kg = purse / w->price;
    if (isfinite(w->pack) && w->pack > 0)
        kg = floor(kg / w->pack + 1e-9) * w->pack;
    return fmin(w->most, w->give.to + kg);
}

static void keep_cost(struct tour *t, double cost)
{
    size_t i = WF_REMEDIES_BOUGHT - 1;
    if (!(cost < t->best[i]))
        return;
    for (; i > 0 && t->best[i - 1] > cost; i--)
        t->best[i] = t->best[i - 1];
    t->best[i] = cost;
}

static enum wf_status take(struct tour *t, const struct wf_ware *w)
{
    struct wf_give g = w->give;
    struct wf_stair stair = wf_ware_stair(w, affordable(t, w));
    bool found, least;
    WF_TRY(wf_remedy_least(t->q, &g, 1, 0, &stair, &found, &least));
    if (!found)
        return WF_OK;
    struct wf_shift shift = wf_ware_shift(t->q, w, g.to, least);
    keep_cost(t, shift.cost);
    return wf_wares_remedy(t->q, &shift, 1, w->shop_price, t->out);
}

/* Of the wares first .. first + count, those that do alone. */
static enum wf_status look_at(struct tour *t, size_t first, size_t count)
{
    enum wf_exists exists;
    if (count == 0)
        return WF_OK;
    for (size_t i = 0; i < count; i++) {
        t->gives[i] = t->wares.items[first + i].give;
        t->gives[i].to = affordable(t, &t->wares.items[first + i]);
    }
    WF_TRY(wf_inquiry_ask(t->q, t->gives, count, &exists));
    if (exists != WF_EXISTS_YES)
        return WF_OK;
    if (count == 1)
        return take(t, &t->wares.items[first]);
    WF_TRY(look_at(t, first, count / 2));
    return look_at(t, first + count / 2, count - count / 2);
}

static double cost_rank(const struct wf_remedy *r)
{
    return isfinite(r->cost) ? r->cost : HUGE_VAL;
}

static int least_cost_first(const void *a, const void *b)
{
    double x = cost_rank(a), y = cost_rank(b);
    return (x > y) - (x < y);
}

static enum wf_status go_round(struct wf_inquiry *q, size_t demand, struct wf_remedies *out)
{
    struct tour t = {.q = q, .out = out};
    size_t before = out->count;
    enum wf_status status;
    for (size_t i = 0; i < WF_REMEDIES_BOUGHT; i++)
        t.best[i] = INFINITY;
    WF_TRY_GOTO(wf_wares_list(q, demand, &t.wares));
    t.gives = wf_alloc(t.wares.count, sizeof *t.gives);
    status = t.gives == NULL ? wf_error_add(q->e, WF_MEMORY, "out of memory")
                             : look_at(&t, 0, t.wares.count);
    size_t found = out->count - before;
    if (found > 1)
        qsort(out->items + before, found, sizeof *out->items, least_cost_first);
    if (found > WF_REMEDIES_BOUGHT)
        out->count = before + WF_REMEDIES_BOUGHT;
done:
    wf_free(t.gives);
    wf_wares_free(&t.wares);
    return status;
}

enum wf_status wf_remedy_of_store(struct wf_inquiry *q, const bool *parts, struct wf_remedies *out)
{
    size_t before = out->count;
    for (size_t i = q->relax.stock; i < q->relax.count; i++)
        if (parts[i])
            WF_TRY(go_round(q, i, out));
    return out->count > before ? WF_OK : wf_remedy_of_basket(q, out);
}

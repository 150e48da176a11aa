#include "solve/plan_search.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>
#include <stdint.h>

#define ORDERS_MOST 4

struct fit {
    struct wf_plan_search *s;
    double *left, *price;
};

static enum wf_status fit_open(struct fit *f, struct wf_plan_search *s)
{
    f->s = s;
    f->left = wf_alloc(s->market->count, sizeof *f->left);
    f->price = wf_alloc(s->market->count, sizeof *f->price);
    return f->left != NULL && f->price != NULL ? WF_OK
                                               : wf_error_add(s->e, WF_MEMORY, "out of memory");
}

static void fit_close(struct fit *f)
{
    wf_free(f->left);
    wf_free(f->price);
}

/* The last prices of the master, and a trace of worth where a lot has none. */
static void master_prices(const struct fit *f)
{
    for (size_t l = 0; l < f->s->market->count; l++)
        f->price[l] = f->s->answer.prices.lot[l] + 0.01 * f->s->market->lots[l].worth;
}

/* A recipe of one beer from what is left; *made NULL: there is none. */
static enum wf_status fit_one(struct fit *f, size_t beer, struct wf_plan_column **made)
{
    struct wf_plan_search *s = f->s;
    const struct wf_plan_column_search o = {.price = f->price,
                                            .left = f->left,
                                            .gap = WF_PLAN_FIT_GAP,
                                            .clock = s->clock,
                                            .options = s->options};
    double bound;
    struct wf_plan_column *c = NULL;
    *made = NULL;
    if (!s->possible[beer])
        return WF_OK;
    WF_TRY(wf_plan_sub_solve(&s->subs[beer], &o, &c, &bound, s->e));
    if (c == NULL)
        return WF_OK;
    c->beer = beer;
    WF_TRY(wf_master_add(&s->master, c, s->e));
    *made = c;
    return WF_OK;
}

static void have_all(const struct fit *f)
{
    for (size_t l = 0; l < f->s->market->count; l++) {
        const struct wf_market_lot *lot = &f->s->market->lots[l];
        double more = lot->buy_most; /* what may be bought of it, in whole packs */
        if (isfinite(more) && isfinite(lot->pack))
            more = floor(more / lot->pack + 1e-9) * lot->pack;
        f->left[l] = lot->hand + more;
    }
}

/* The orders: as given, backwards, and both from the middle. */
static size_t in_order(size_t i, size_t count, int order)
{
    size_t at = order < 2 ? i : (i + count / 2) % count;
    return order % 2 == 0 ? at : count - 1 - at;
}

enum wf_status wf_plan_fit_in_turn(struct wf_plan_search *s)
{
    struct fit f = {0};
    enum wf_status status;
    WF_TRY_GOTO(fit_open(&f, s));
    master_prices(&f);
    for (int order = 0; order < ORDERS_MOST && s->beer_count > 1; order++) {
        have_all(&f);
        for (size_t i = 0; i < s->beer_count && wf_clock_left(s->clock) > 0; i++) {
            struct wf_plan_column *c;
            WF_TRY_GOTO(fit_one(&f, in_order(i, s->beer_count, order), &c));
            for (size_t l = 0; c != NULL && l < s->market->count; l++)
                f.left[l] -= c->use[l];
        }
    }
done:
    fit_close(&f);
    return status;
}

/* What the others leave in hand is free, but for a trace; the rest costs what it is bought for. */
static void leave(const struct fit *f, const struct wf_plan_choice *c, size_t beer, bool buying)
{
    const struct wf_plan_search *s = f->s;
    have_all(f);
    for (size_t l = 0; l < s->market->count; l++) {
        const struct wf_market_lot *lot = &s->market->lots[l];
        double use = wf_plan_choice_use(&s->master, c, l, beer), over = use - lot->hand;
        double whole = over > 0 && isfinite(lot->pack) ? ceil(over / lot->pack - 1e-9) * lot->pack
                                                       : fmax(0, over);
        double open = fmax(0, lot->hand + whole - use); /* paid for, by these others */
        f->left[l] = buying ? fmax(0, f->left[l] - use) : open;
        f->price[l] =
            0.01 * lot->worth + (open < 0.5 * s->master.most[l] && buying ? lot->price : 0);
    }
}

enum wf_status wf_plan_fit_each(struct wf_plan_search *s, const struct wf_plan_choice *c)
{
    struct fit f = {0};
    enum wf_status status;
    WF_TRY_GOTO(fit_open(&f, s));
    for (size_t b = 0; b < s->beer_count; b++)
        for (int way = 0; way < 3 && wf_clock_left(s->clock) > 0; way++) {
            struct wf_plan_column *made;
            leave(&f, c, b, way > 0);
            if (way == 2)
                master_prices(&f);
            WF_TRY_GOTO(fit_one(&f, b, &made));
        }
done:
    fit_close(&f);
    return status;
}

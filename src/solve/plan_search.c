#include "solve/plan_search.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>
#include <stdint.h>

/* Parts of all plans that are looked at. */
#define PARTS_MOST 80
/* Linear programs, some 20 microseconds each, after which a gap of 0.1 % and of 0.5 % will do. */
#define SHORT_WORK 40000
#define LONG_WORK  120000
/* Times that the choice is bettered beer by beer. */
#define BETTER_MOST 6

enum wf_status wf_plan_search_open(struct wf_plan_search *s, const struct wf_market *market,
                                   struct wf_plan_sub *subs, size_t beers, struct wf_clock *clock,
                                   struct wf_error *e)
{
    *s = (struct wf_plan_search){.market = market,
                                 .subs = subs,
                                 .beer_count = beers,
                                 .clock = clock,
                                 .options = clock->options,
                                 .e = e};
    WF_TRY(wf_master_open(&s->master, market, subs, beers, e));
    WF_TRY(wf_master_answer_open(&s->answer, &s->master, e));
    WF_TRY(wf_plan_choice_open(&s->choice, &s->master, e));
    s->possible = wf_alloc(beers, sizeof *s->possible);
    return s->possible != NULL ? WF_OK : wf_error_add(e, WF_MEMORY, "out of memory");
}

void wf_plan_search_close(struct wf_plan_search *s)
{
    wf_master_answer_close(&s->answer);
    wf_plan_choice_close(&s->choice);
    wf_master_close(&s->master);
    wf_free(s->possible);
    *s = (struct wf_plan_search){0};
}

double wf_plan_room(const struct wf_plan_search *s, enum wf_plan_goal goal, double value)
{
    long work = wf_clock_patience(s->clock);
    double asked = s->options->gap > 0 ? s->options->gap : 1e-4;
    double gap = work > LONG_WORK    ? fmax(asked, 5e-3)
                 : work > SHORT_WORK ? fmax(asked, 1e-3)
                                     : asked;
    static const double least[] = {[WF_PLAN_SHORTAGE] = 1e-4,
                                   [WF_PLAN_LEFT_OUT] = 0.999, /* a whole number is wanted */
                                   [WF_PLAN_MONEY] = 1e-3,
                                   [WF_PLAN_WORTH] = 1e-3};
    return fmax(gap * fabs(value), least[goal]);
}

/* ---- The start ------------------------------------------------------------------------------- */

enum wf_status wf_plan_search_start(struct wf_plan_search *s)
{
    for (size_t l = 0; l < s->market->count; l++)
        s->answer.prices.lot[l] = s->market->lots[l].worth;
    const struct wf_plan_column_search o = {.price = s->answer.prices.lot,
                                            .gap = WF_PLAN_FIRST_GAP,
                                            .clock = s->clock,
                                            .options = s->options};
    for (size_t b = 0; b < s->beer_count; b++) {
        struct wf_plan_column *c = NULL;
        double bound;
        WF_TRY(wf_plan_sub_solve(&s->subs[b], &o, &c, &bound, s->e));
        s->possible[b] = c != NULL || !(isinf(bound) && bound > 0);
        if (c == NULL)
            continue;
        c->beer = b;
        WF_TRY(wf_master_add(&s->master, c, s->e));
    }
    return wf_plan_fit_in_turn(s);
}

/* ---- One aim --------------------------------------------------------------------------------- */

struct part {
    struct wf_plan_limits limits;
    double bound;
};

struct parts {
    struct part open[PARTS_MOST + 2];
    size_t count, looked_at;
    double closed; /* the least bound of the parts that are done with */
};

static double enough(const struct wf_plan_search *s, const struct wf_plan_aim *aim)
{
    if (aim->goal == WF_PLAN_SHORTAGE) /* that there is any: how much may be as it was found */
        return WF_PLAN_LACK;
    return isnan(s->choice.value) ? (double)INFINITY
                                  : s->choice.value - wf_plan_room(s, aim->goal, s->choice.value);
}

/* Betters the choice, with recipes from what its others leave. */
static enum wf_status better_choice(struct wf_plan_search *s, const struct wf_plan_aim *aim)
{
    WF_TRY(wf_master_choose(&s->master, aim, s->clock, &s->choice, s->e));
    for (int i = 0; i < BETTER_MOST && !isnan(s->choice.value); i++) {
        double before = s->choice.value;
        if (s->bound >= enough(s, aim) || wf_clock_left(s->clock) <= 0)
            break;
        WF_TRY(wf_plan_fit_each(s, &s->choice));
        WF_TRY(wf_master_choose(&s->master, aim, s->clock, &s->choice, s->e));
        if (!(s->choice.value < before - 1e-9))
            break;
    }
    return WF_OK;
}

/* What keeps a part open: packs of a lot that are not whole, or a beer that uses a lot in part. */
struct broken {
    bool any, of_use;
    size_t lot, beer;
    double by; /* how far it is from whole */
};

static void consider(struct broken *k, double value, size_t lot, size_t beer, bool of_use)
{
    double part = value - floor(value), by = fmin(part, 1 - part);
    if (by > 1e-4 && by > k->by)
        *k = (struct broken){true, of_use, lot, beer, by};
}

/* The farthest of the packs; else of the uses. */
static struct broken most_broken(const struct wf_plan_search *s)
{
    size_t lots = s->market->count;
    struct broken k = {0};
    for (size_t l = 0; l < lots; l++)
        consider(&k, s->answer.packs[l], l, 0, false);
    for (size_t b = 0; !k.any && b < s->beer_count; b++)
        for (size_t l = 0; l < lots; l++)
            consider(&k, s->answer.use[b * lots + l], l, b, true);
    return k;
}

static enum wf_status push(struct wf_plan_search *s, struct parts *t, const struct part *of,
                           const struct broken *k, double at, bool up)
{
    struct part *p = &t->open[t->count];
    WF_TRY(wf_plan_limits_open(&p->limits, &s->master, &of->limits, s->e));
    t->count++;
    p->bound = of->bound;
    if (k->of_use)
        p->limits.fate[k->beer * s->market->count + k->lot] = up ? WF_FATE_IN : WF_FATE_OUT;
    else if (up)
        p->limits.low[k->lot] = at + 1;
    else
        p->limits.high[k->lot] = at;
    return WF_OK;
}

/* Bounds one part, and leaves it in two where whole packs keep it open. */
static enum wf_status look_at(struct wf_plan_search *s, const struct wf_plan_aim *aim,
                              struct parts *t, struct part *p)
{
    bool feasible;
    WF_TRY(wf_plan_generate(s, aim, &p->limits, enough(s, aim), &p->bound, &feasible));
    struct broken k = feasible ? most_broken(s) : (struct broken){0};
    if (feasible && p->bound < enough(s, aim)) {
        if (t->looked_at < 3)
            WF_TRY(wf_plan_fit_in_turn(s));
        WF_TRY(better_choice(s, aim));
    }
    if (p->bound >= enough(s, aim) || !k.any || t->count + 2 > PARTS_MOST) {
        t->closed = fmin(t->closed, p->bound);
        return WF_OK;
    }
    double at = floor(s->answer.packs[k.lot]);
    WF_TRY(push(s, t, p, &k, at, false));
    return push(s, t, p, &k, at, true);
}

static struct part pop_least(struct parts *t)
{
    size_t least = 0;
    for (size_t i = 1; i < t->count; i++)
        if (t->open[i].bound < t->open[least].bound)
            least = i;
    struct part p = t->open[least];
    t->open[least] = t->open[--t->count];
    return p;
}

/* There is no lack. */
static bool is_enough(const struct wf_plan_search *s, const struct wf_plan_aim *aim)
{
    return aim->goal == WF_PLAN_SHORTAGE && s->choice.value < WF_PLAN_LACK;
}

static enum wf_status search_parts(struct wf_plan_search *s, const struct wf_plan_aim *aim,
                                   struct parts *t)
{
    t->open[0].bound = 0; /* nothing costs less than nothing */
    WF_TRY(wf_plan_limits_open(&t->open[0].limits, &s->master, NULL, s->e));
    t->count = 1;
    while (t->count > 0 && t->looked_at < PARTS_MOST && !is_enough(s, aim)) {
        struct part p = pop_least(t);
        if (wf_clock_cancelled(s->clock)) {
            wf_plan_limits_close(&p.limits);
            return wf_error_add(s->e, WF_CANCELLED, "stopped");
        }
        enum wf_status status = WF_OK;
        if (p.bound >= enough(s, aim) || wf_clock_left(s->clock) <= 0)
            t->closed = fmin(t->closed, p.bound);
        else
            status = look_at(s, aim, t, &p);
        t->looked_at++;
        wf_plan_limits_close(&p.limits);
        WF_TRY(status);
    }
    return WF_OK;
}

/* Of the choice. */
static double worth_of(const struct wf_plan_search *s)
{
    double worth = 0;
    for (size_t l = 0; l < s->market->count; l++)
        worth += s->market->lots[l].worth * wf_plan_choice_use(&s->master, &s->choice, l, SIZE_MAX);
    return worth;
}

enum wf_status wf_plan_search_aim(struct wf_plan_search *s, const struct wf_plan_aim *aim,
                                  bool start)
{
    struct parts t = {.closed = (double)INFINITY};
    s->choice.value = start ? worth_of(s) : (double)NAN;
    s->bound = 0;
    WF_TRY(better_choice(s, aim));
    enum wf_status status = search_parts(s, aim, &t);
    for (size_t i = 0; i < t.count; i++) {
        t.closed = fmin(t.closed, t.open[i].bound);
        wf_plan_limits_close(&t.open[i].limits);
    }
    s->bound = fmin(t.closed, isnan(s->choice.value) ? (double)INFINITY : s->choice.value);
    return status;
}

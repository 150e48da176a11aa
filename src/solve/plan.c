/*
 * The driver of plans: market, beers, yeasts, aims in order, recipes, proof.
 */
#include "solve/plan_parts.h"

#include "base/alloc.h"
#include "base/try.h"
#include "solve/plan_yeasts.h"

#include <math.h>
#include <string.h>

/* What money and worth may be off for rounding. */
#define MONEY_ROUNDING 1e-6
/* Work of one aim, in linear programs of some 20 microseconds; and the part of the time that is
 * left for it, where the user set one. Time alone ends only what is long past that. */
#define AIM_WORK   200000
#define WORTH_WORK 100000 /* of worth, which only chooses between equals */
#define AIM_TIME   0.6

static struct wf_plan_aim aim_of(enum wf_plan_goal goal)
{
    return (struct wf_plan_aim){
        .goal = goal, .left_out = (double)INFINITY, .money = (double)INFINITY};
}

/* One aim, in its part of the work. */
static enum wf_status search(struct wf_planning *p, const struct wf_plan_aim *aim, bool start)
{
    struct wf_clock *c = p->clock;
    double limit = c->limit, now = wf_clock_seconds(c);
    c->enough = c->work + (aim->goal == WF_PLAN_WORTH ? WORTH_WORK : AIM_WORK);
    if (c->options->seconds > 0)
        c->limit = now + AIM_TIME * (limit - now);
    enum wf_status status = wf_plan_search_aim(&p->search, aim, start);
    c->limit = limit;
    return status;
}

static bool all_possible(const struct wf_plan_search *s)
{
    for (size_t b = 0; b < s->beer_count; b++)
        if (!s->possible[b])
            return false;
    return true;
}

static void open_places(struct wf_planning *p)
{
    for (size_t b = 0; b < p->beer_count; b++)
        p->subs[b].place = -1;
}

/* ---- Yeasts ---------------------------------------------------------------------------------- */

/* Gives each beer a place of yeast with which there is a recipe of it. *open: there is no such
 * deal, and yeasts of all places are looked at. */
static enum wf_status deal_yeasts(struct wf_planning *p, bool *open)
{
    unsigned long *barred = wf_alloc(p->beer_count, sizeof *barred);
    enum wf_status status = WF_OK;
    bool found = true, changed = true;
    if (barred == NULL)
        return wf_error_add(p->e, WF_MEMORY, "out of memory");
    while (found && changed) {
        changed = false;
        WF_TRY_GOTO(wf_plan_yeasts(p->subs, p->beer_count, barred, &found, p->e));
        if (!found)
            break;
        WF_TRY_GOTO(wf_plan_search_start(&p->search));
        for (size_t b = 0; b < p->beer_count; b++) {
            long place = p->subs[b].place;
            if (p->search.possible[b] || place < 0 || place >= (long)(8 * sizeof *barred))
                continue;
            barred[b] |= 1ul << place;
            changed = true;
        }
    }
    *open = !found;
    if (*open) {
        open_places(p);
        status = wf_plan_search_start(&p->search);
    }
done:
    wf_free(barred);
    return status;
}

/* ---- All of some beers ----------------------------------------------------------------------- */

/* Whether the beers fit together at all; p->found is set. */
static enum wf_status fit_together(struct wf_planning *p)
{
    struct wf_plan_aim money = aim_of(WF_PLAN_MONEY), shortage = aim_of(WF_PLAN_SHORTAGE);
    p->found = WF_PLAN_FOUND_NONE;
    if (!all_possible(&p->search))
        return WF_OK;
    p->search.choice.value = NAN;
    WF_TRY(wf_master_choose(&p->search.master, &money, p->clock, &p->search.choice, p->e));
    if (isnan(p->search.choice.value)) {
        WF_TRY(search(p, &shortage, false));
        p->found = p->search.choice.value < WF_PLAN_LACK ? WF_PLAN_FOUND
                   : p->search.bound >= WF_PLAN_LACK     ? WF_PLAN_FOUND_NONE
                                                         : WF_PLAN_FOUND_UNDECIDED;
        return WF_OK;
    }
    p->found = WF_PLAN_FOUND;
    return WF_OK;
}

static void add_proof(struct wf_planning *p, const char *goal, double value, double bound)
{
    double room = 1e-3, over = value - bound;
    double gap = over <= room ? 0 : over / fmax(fabs(value), 1e-9);
    p->proofs[p->proof_count++] = (struct wf_proof){goal, value, bound, gap};
}

/* The least money, then the least worth for no more of it. */
static enum wf_status make_small(struct wf_planning *p)
{
    struct wf_plan_aim money = aim_of(WF_PLAN_MONEY), worth = aim_of(WF_PLAN_WORTH);
    WF_TRY(search(p, &money, false));
    if (isnan(p->search.choice.value)) {
        p->found = WF_PLAN_FOUND_UNDECIDED;
        return WF_OK;
    }
    p->money = p->search.choice.value;
    add_proof(p, "money", p->money, p->search.bound);
    worth.money = p->money + MONEY_ROUNDING * fmax(1, p->money);
    WF_TRY(search(p, &worth, true));
    p->worth = p->search.choice.value;
    add_proof(p, "worth", p->worth, p->search.bound);
    return WF_OK;
}

static enum wf_status plan_all(struct wf_planning *p)
{
    bool open;
    WF_TRY(deal_yeasts(p, &open));
    WF_TRY(fit_together(p));
    if (p->found != WF_PLAN_FOUND && !open && all_possible(&p->search)) {
        open_places(p);
        WF_TRY(wf_plan_search_start(&p->search));
        WF_TRY(fit_together(p));
    }
    return p->found == WF_PLAN_FOUND ? make_small(p) : WF_OK;
}

/* ---- As many as can -------------------------------------------------------------------------- */

/* Leaves only the beers of the choice; those left out go behind. */
static enum wf_status keep_chosen(struct wf_planning *p)
{
    size_t kept = 0;
    for (size_t b = 0; b < p->beer_count; b++) {
        if (p->search.choice.column[b] < 0)
            continue;
        struct wf_plan_sub sub = p->subs[b];
        size_t given = p->given[b];
        p->subs[b] = p->subs[kept];
        p->given[b] = p->given[kept];
        p->subs[kept] = sub;
        p->given[kept++] = given;
    }
    for (size_t b = 0; b < p->beer_count; b++)
        p->possible[b] = p->search.possible[b];
    wf_plan_search_close(&p->search);
    p->beer_count = kept;
    return wf_plan_search_open(&p->search, &p->market, p->subs, kept, p->clock, p->e);
}

static enum wf_status most_beers(struct wf_planning *p)
{
    struct wf_plan_aim left_out = aim_of(WF_PLAN_LEFT_OUT), worth = aim_of(WF_PLAN_WORTH);
    left_out.optional = worth.optional = true;
    WF_TRY(wf_plan_search_start(&p->search));
    WF_TRY(search(p, &left_out, false));
    if (isnan(p->search.choice.value)) {
        p->found = WF_PLAN_FOUND_UNDECIDED;
        return WF_OK;
    }
    double value = round(p->search.choice.value), bound = ceil(p->search.bound - 1e-6);
    add_proof(p, "beers left out", value, fmin(bound, value));
    worth.left_out = value;
    p->found = WF_PLAN_FOUND;
    WF_TRY(search(p, &worth, true));
    return keep_chosen(p);
}

static enum wf_status plan_most(struct wf_planning *p)
{
    WF_TRY(most_beers(p));
    if (p->found == WF_PLAN_FOUND_UNDECIDED)
        return WF_OK;
    p->found = WF_PLAN_FOUND_NONE;
    return p->beer_count > 0 ? plan_all(p) : WF_OK;
}

/* ---- The whole ------------------------------------------------------------------------------- */

static enum wf_status open_beers(struct wf_planning *p, const struct wf_plan_beer *beers,
                                 const struct wf_plan_options *o)
{
    p->subs = wf_alloc(p->all, sizeof *p->subs);
    p->given = wf_alloc(p->all, sizeof *p->given);
    p->possible = wf_alloc(p->all, sizeof *p->possible);
    if (p->subs == NULL || p->given == NULL || p->possible == NULL)
        return wf_error_add(p->e, WF_MEMORY, "out of memory");
    for (size_t b = 0; b < p->all; b++) {
        WF_TRY(wf_plan_sub_open(&p->subs[b], &p->market, beers[b].target, beers[b].brewhouse,
                                o->search.today, p->e));
        p->given[b] = b;
    }
    return wf_plan_search_open(&p->search, &p->market, p->subs, p->all, p->clock, p->e);
}

static void planning_close(struct wf_planning *p)
{
    wf_plan_search_close(&p->search);
    for (size_t b = 0; p->subs != NULL && b < p->all; b++)
        wf_plan_sub_close(&p->subs[b]);
    wf_free(p->subs);
    wf_free(p->given);
    wf_free(p->possible);
    wf_market_close(&p->market);
}

static enum wf_status check_count(size_t count, struct wf_error *e)
{
    return count >= 1 && count <= WF_PLAN_BEERS_MOST
               ? WF_OK
               : wf_error_add(e, WF_USAGE, "%zu beers: from 1 to %d can be planned at once", count,
                              WF_PLAN_BEERS_MOST);
}

enum wf_status wf_plan_make(const struct wf_plan_beer *beers, size_t count,
                            const struct wf_store *store, const struct wf_store *shop,
                            const struct wf_plan_options *o, struct wf_plan **out,
                            struct wf_error *e)
{
    struct wf_clock clock = wf_clock_start(&o->search);
    struct wf_planning p = {.all = count, .beer_count = count, .clock = &clock, .e = e};
    enum wf_status status;
    *out = NULL;
    WF_TRY(check_count(count, e));
    WF_TRY_GOTO(wf_market_open(&p.market, store, shop, o->as_many, e));
    WF_TRY_GOTO(open_beers(&p, beers, o));
    WF_TRY_GOTO(o->as_many ? plan_most(&p) : plan_all(&p));
    if (wf_clock_cancelled(&clock))
        status = wf_error_add(e, WF_CANCELLED, "stopped");
    else
        status = wf_plan_result(&p, beers, shop, o, out);
done:
    planning_close(&p);
    return status;
}

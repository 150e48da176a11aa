/*
 * Alternatives: the best recipe, and then, again and again, the best of those that differ from all
 * before it.
 *
 * What is left is kept as regions (region.h), each with a bound. The best recipe known is shown
 * once no region's bound is below its value; then its region is cut up around it. A region's recipe
 * that is like one shown before, which another region gave, cuts its region too. When the time is
 * over, what is known is shown all the same, and the bound says that it may not be the next best.
 */
#include "base/alloc.h"
#include "base/try.h"
#include "solve/apart.h"
#include "solve/region.h"
#include "solve/solve_parts.h"
#include "solve/tries.h"

#include <math.h>
#include <string.h>

struct hunt {
    struct wf_problem p; /* not its own */
    const struct wf_search_options *o;
    struct wf_kinds kinds;
    struct wf_arena *arena;
    struct wf_region *regions;
    struct wf_shown *shown;
    size_t shown_count, wanted; /* both with the first recipe */
    bool late;                  /* out of time: what is known is shown, and no more looked for */
    struct wf_alternatives *out;
    struct wf_error *e;
};

static enum wf_status out_of_memory(struct hunt *h)
{
    return wf_error_add(h->e, WF_MEMORY, "out of memory");
}

static double *amounts_of(struct hunt *h, const struct wf_answer *a)
{
    double *amount = wf_arena_alloc(h->arena, h->kinds.count, sizeof *amount);
    if (amount != NULL)
        wf_kinds_amounts(&h->kinds, &h->p, a, amount);
    return amount;
}

/* ---- Regions --------------------------------------------------------------------------------- */

/* Of goals that only choose between equals. */
#define UNASKED_GAP 5e-3

static double room_of(const struct hunt *h, size_t goal, double value)
{
    double gap = goal < h->o->asked ? h->o->gap : UNASKED_GAP;
    return fmax(gap * fabs(value), fmax(wf_goal_room(h->o->goals[goal]), 1e-9));
}

static bool better(const struct hunt *h, const struct wf_answer *a, const struct wf_answer *b)
{
    for (size_t k = 0; k < h->o->goal_count; k++) {
        double x = a->value[k], y = b->value[k];
        if (fabs(x - y) > 1e-9 * fmax(1, fabs(y)))
            return x < y;
    }
    return false;
}

/* The region of the best recipe known; NULL: none is. */
static struct wf_region *best_known(const struct hunt *h)
{
    struct wf_region *best = NULL;
    for (struct wf_region *r = h->regions; r != NULL; r = r->next)
        if (r->answer.kg != NULL && (best == NULL || better(h, &r->answer, &best->answer)))
            best = r;
    return best;
}

/* Whether these bounds leave room for something better than these values, goal by goal. */
static bool may_be_better(const struct hunt *h, const double *bound, const double *value,
                          size_t goals)
{
    for (size_t k = 0; k < goals; k++) {
        double room = room_of(h, k, value[k]);
        if (!(bound[k] >= value[k] - room))
            return true;
        if (bound[k] > value[k] + room)
            return false;
    }
    return false;
}

/* The region of least bound that must be looked at before `best` may be shown, its own included;
 * NULL: none. */
static struct wf_region *in_the_way(const struct hunt *h, const struct wf_region *best)
{
    struct wf_region *least = NULL;
    for (struct wf_region *r = h->regions; r != NULL; r = r->next) {
        if (r->done ||
            (best != NULL && !may_be_better(h, r->bound, best->answer.value, h->o->goal_count)))
            continue;
        if (least == NULL || r->bound[0] < least->bound[0])
            least = r;
    }
    return least;
}

/* Takes the region out of the list; its answer is the caller's. */
static void take_out(struct hunt *h, const struct wf_region *region)
{
    struct wf_region **at = &h->regions;
    while (*at != region)
        at = &(*at)->next;
    *at = region->next;
}

/* Replaces the region, whose recipe is like this one shown before, by what of it is not. */
static enum wf_status cut_around(struct hunt *h, struct wf_region *r, size_t like)
{
    bool cut = true, done;
    take_out(h, r);
    if ((r->apart >> like & 1) == 0) {
        done = wf_region_cut(r, &h->kinds, h->arena, like, h->shown[like].amount, &h->regions);
    } else {
        const double *found = amounts_of(h, &r->answer);
        done = found != NULL &&
               wf_region_cut_sum(r, &h->kinds, h->arena, like, found, &h->regions, &cut);
    }
    wf_answer_clear(&r->answer);
    if (!done)
        return out_of_memory(h);
    return cut ? WF_OK
               : wf_error_add(h->e, WF_INTERNAL,
                              "internal error: an alternative is like one that it is held apart "
                              "from");
}

/* The recipe shown before that this answer's is like; shown_count: none. */
static enum wf_status find_like(struct hunt *h, const struct wf_answer *a, size_t *like)
{
    const double *amount = amounts_of(h, a);
    if (amount == NULL)
        return out_of_memory(h);
    *like = 0;
    while (*like < h->shown_count && !wf_kinds_alike(&h->kinds, amount, h->shown[*like].amount))
        ++*like;
    return WF_OK;
}

/* ---- Solving a region ------------------------------------------------------------------------ */

/* Past this value; where there are later goals, as good as it is of interest. */
static double cutoff_after(const struct hunt *h, double value)
{
    if (h->o->goal_count == 1)
        return value;
    return h->o->goals[0] == WF_GOAL_FEWEST ? value + 0.5 : value + 2 * room_of(h, 0, value);
}

/* The value of the recipe that will be shown last, if all that are known are shown: worse ones are
 * of no interest yet. */
static double cutoff_of(const struct hunt *h)
{
    size_t wanted = h->wanted - h->shown_count;
    for (const struct wf_region *r = h->regions; r != NULL; r = r->next) {
        size_t before = 0;
        if (r->answer.kg == NULL)
            continue;
        for (const struct wf_region *q = h->regions; q != NULL; q = q->next)
            before += q != r && q->answer.kg != NULL && !better(h, &r->answer, &q->answer);
        if (before + 1 == wanted)
            return cutoff_after(h, r->answer.value[0]);
    }
    return (double)NAN;
}

/* Takes what a search of the region showed. */
static void learn(struct hunt *h, struct wf_region *r, struct wf_answer *a)
{
    double bound = fmax(r->bound[0], a->bound[0]);
    if (a->kg != NULL)
        memcpy(r->bound, a->bound, sizeof r->bound);
    r->bound[0] = bound;
    if (a->kg != NULL && (r->answer.kg == NULL || better(h, a, &r->answer))) {
        wf_answer_clear(&r->answer);
        r->answer = *a;
        *a = (struct wf_answer){0};
    }
    wf_answer_clear(a);
}

/* Whether there is no more to be learned of the region. */
static bool is_done(const struct hunt *h, const struct wf_region *r, bool ended, bool cut_off)
{
    bool proved = r->answer.kg != NULL && !may_be_better(h, r->bound, r->answer.value, h->o->asked);
    return proved || r->tries == WF_TRIES || (ended && !cut_off);
}

/* Its best recipe, or a higher bound, or out with it. */
static enum wf_status solve_region(struct hunt *h, struct wf_region *r)
{
    struct wf_arena *arena = wf_arena_new();
    struct wf_search_options o = *h->o;
    struct wf_clock clock = wf_try_clock(h->o->clock, r->tries);
    struct wf_answer a = {0};
    struct wf_problem p;
    enum wf_status status = WF_MEMORY;
    o.clock = &clock;
    o.cutoff = r->cut_off ? (double)NAN : cutoff_of(h);
    if (arena == NULL || !wf_region_problem(r, &h->kinds, &h->p, arena, &p))
        out_of_memory(h);
    else
        status = wf_solve_search(&p, &o, &a, h->e);
    wf_arena_free(arena);
    if (status != WF_OK) {
        wf_answer_clear(&a);
        return status;
    }
    bool ended = wf_clock_left(&clock) > 0, found = a.kg != NULL;
    h->o->clock->work += clock.work;
    learn(h, r, &a);
    r->tries += !ended;
    r->cut_off = ended && isfinite(o.cutoff) && !found;
    r->done = is_done(h, r, ended, r->cut_off);
    if (isinf(r->bound[0]) && r->bound[0] > 0 && r->answer.kg == NULL)
        take_out(h, r);
    return WF_OK;
}

/* ---- Showing --------------------------------------------------------------------------------- */

/* The answer's bounds, of its own region, made to hold for all regions: of a later goal, for those
 * that may be as good in every earlier one. */
static void widen_bounds(const struct hunt *h, struct wf_answer *a)
{
    for (const struct wf_region *r = h->regions; r != NULL; r = r->next)
        for (size_t k = 0; k < h->o->goal_count; k++) {
            a->bound[k] = fmin(fmin(a->bound[k], a->value[k]), r->bound[k]);
            if (r->bound[k] > a->value[k] + room_of(h, k, a->value[k]))
                break;
        }
}

static enum wf_status keep(struct hunt *h, struct wf_answer *a, struct wf_recipe *recipe)
{
    struct wf_choice *choice = &h->out->list[h->out->count];
    struct wf_shown *s = &h->shown[h->shown_count];
    *choice = (struct wf_choice){.recipe = recipe};
    h->out->count++;
    *s = (struct wf_shown){.answer = *a, .amount = amounts_of(h, a)};
    *a = (struct wf_answer){0};
    h->shown_count++;
    if (s->amount == NULL ||
        !wf_changes_make(&h->kinds, &h->p, h->shown, h->shown_count, h->out->arena, choice))
        return out_of_memory(h);
    return WF_OK;
}

static enum wf_status show(struct hunt *h, struct wf_region *r)
{
    struct wf_answer a = r->answer;
    struct wf_recipe *recipe = NULL;
    enum wf_status status;
    r->answer = (struct wf_answer){0};
    memcpy(a.bound, r->bound, sizeof a.bound);
    take_out(h, r);
    widen_bounds(h, &a);
    status = wf_solve_found(&h->p, &a, h->o, &recipe, h->e);
    if (status == WF_OK)
        status = keep(h, &a, recipe);
    wf_answer_clear(&a);
    WF_TRY(status);
    if (!wf_region_cut(r, &h->kinds, h->arena, h->shown_count - 1,
                       h->shown[h->shown_count - 1].amount, &h->regions))
        return out_of_memory(h);
    return WF_OK;
}

/* ---- The whole ------------------------------------------------------------------------------- */

/* One step: a recipe shown, or a region solved or cut. *on false: there is nothing left to do. */
static enum wf_status step(struct hunt *h, bool *on)
{
    struct wf_region *best = best_known(h), *first;
    size_t like = 0;
    if (best != NULL) {
        WF_TRY(find_like(h, &best->answer, &like));
        if (like < h->shown_count)
            return cut_around(h, best, like);
    }
    first = in_the_way(h, best);
    h->late = h->late || (first != NULL && !(wf_clock_left(h->o->clock) > 0));
    if (best != NULL && (first == NULL || h->late))
        return show(h, best); /* late: the best that is known, with the bound of all regions */
    *on = first != NULL && !h->late;
    h->out->complete = *on || (first == NULL && h->regions == NULL && !h->late);
    return *on ? solve_region(h, first) : WF_OK;
}

static enum wf_status hunt_open(struct hunt *h, struct wf_answer *first, struct wf_recipe *recipe)
{
    wf_solve_keep_place(&h->p, first->yeast);
    h->arena = wf_arena_new();
    h->shown = wf_alloc(h->wanted, sizeof *h->shown);
    if (h->arena == NULL || h->shown == NULL || !wf_kinds_make(&h->p, h->arena, &h->kinds)) {
        wf_recipe_free(recipe);
        return out_of_memory(h);
    }
    struct wf_region *whole = wf_region_whole(&h->kinds, h->arena);
    if (whole != NULL)
        memcpy(whole->bound, first->bound, sizeof whole->bound);
    WF_TRY(keep(h, first, recipe));
    if (whole == NULL ||
        !wf_region_cut(whole, &h->kinds, h->arena, 0, h->shown[0].amount, &h->regions))
        return out_of_memory(h);
    return WF_OK;
}

static void hunt_close(struct hunt *h)
{
    for (struct wf_region *r = h->regions; r != NULL; r = r->next)
        wf_answer_clear(&r->answer);
    for (size_t i = 0; i < h->shown_count; i++)
        wf_answer_clear(&h->shown[i].answer);
    wf_free(h->shown);
    wf_arena_free(h->arena);
}

static enum wf_status find_all(const struct wf_problem *p, const struct wf_search_options *o,
                               size_t wanted, struct wf_alternatives *out, struct wf_error *e)
{
    struct hunt h = {.p = *p, .o = o, .wanted = wanted, .out = out, .e = e};
    struct wf_answer first;
    struct wf_recipe *recipe = NULL;
    bool on = true;
    enum wf_status status = wf_solve_first(p, o, &first, &recipe, e);
    if (status == WF_OK)
        status = hunt_open(&h, &first, recipe);
    else if (recipe != NULL)
        out->list[out->count++].recipe = recipe;
    wf_answer_clear(&first);
    wf_tries_start(o->clock);
    out->complete = status == WF_OK;
    while (status == WF_OK && on && h.shown_count < h.wanted)
        status = step(&h, &on);
    out->complete = out->complete && !h.late;
    hunt_close(&h);
    return status;
}

static struct wf_alternatives *new_alternatives(size_t most)
{
    struct wf_arena *arena = wf_arena_new();
    struct wf_alternatives *a = arena == NULL ? NULL : wf_arena_alloc(arena, 1, sizeof *a);
    struct wf_choice *list = a == NULL ? NULL : wf_arena_alloc(arena, most, sizeof *list);
    if (list == NULL) {
        wf_arena_free(arena);
        return NULL;
    }
    *a = (struct wf_alternatives){.list = list, .wanted = most, .arena = arena};
    return a;
}

enum wf_status wf_solve_alternatives(const struct wf_target *t, const struct wf_store *s,
                                     const struct wf_brewhouse *b, const struct wf_solve_options *o,
                                     size_t wanted, struct wf_alternatives **out,
                                     struct wf_error *e)
{
    struct wf_clock clock = wf_clock_start(o);
    enum wf_goal goals[WF_GOAL_COUNT];
    struct wf_search_options options = wf_solve_search_options(o, goals, &clock);
    struct wf_alternatives *a;
    struct wf_problem p;
    *out = NULL;
    if (wanted > WF_ALTERNATIVES_MOST)
        return wf_error_add(e, WF_USAGE, "%zu alternatives: at most %d", wanted,
                            WF_ALTERNATIVES_MOST);
    WF_TRY(wf_solve_problem(t, s, b, o, &p, e));
    a = new_alternatives(wanted + 1);
    enum wf_status status = a == NULL ? wf_error_add(e, WF_MEMORY, "out of memory")
                                      : find_all(&p, &options, wanted + 1, a, e);
    if (a != NULL && (status == WF_OK || (status == WF_NO_RECIPE && a->count > 0)))
        *out = a;
    else
        wf_alternatives_free(a);
    wf_problem_free(&p);
    return status;
}

void wf_alternatives_free(struct wf_alternatives *a)
{
    if (a == NULL)
        return;
    for (size_t i = 0; i < a->count; i++)
        wf_recipe_free(a->list[i].recipe);
    wf_arena_free(a->arena);
}

#include "solve/joint.h"

#include "base/alloc.h"
#include "base/try.h"
#include "model/wish_rows.h"

#include <math.h>
#include <string.h>

/* Windows looked at, at most, and the narrowest that is split: a tenth of what a hydrometer shows.
 */
#define SPANS_MOST  40
#define PARTS_MOST  68 /* windows to start from, and room for two more */
#define SPAN_LEAST  1e-6
#define SPAN_MARGIN 1e-7

struct span {
    double low, high;            /* SG */
    double bound[WF_GOAL_COUNT]; /* over this window; of a later goal: for recipes no worse than the
                                    best in every earlier one */
};

struct joint {
    const struct wf_problem *p;
    const struct wf_pick_yeast *yeast;
    const struct wf_search_options *o;
    struct wf_answer
        best; /* its arrays stand from the start; `found` says whether they are filled */
    bool found;
    double *kg, *grams; /* of the window in hand */
    struct wf_error *e;
    struct span open[SPANS_MOST + PARTS_MOST], closed[3 * (SPANS_MOST + PARTS_MOST)];
    size_t open_count, closed_count, looked_at;
    size_t parts; /* windows at the start: see open_windows */
};

static bool has_goal(const struct joint *j, enum wf_goal goal)
{
    for (size_t k = 0; k < j->o->goal_count; k++)
        if (j->o->goals[k] == goal)
            return true;
    return false;
}

/* What the two parts and the step from window to gravity may each leave of the gap. */
#define PART_GAP 0.6
#define STEP_GAP 0.3

static struct wf_search_options part_options(const struct joint *j)
{
    struct wf_search_options o = *j->o;
    o.gap *= PART_GAP;
    return o;
}

/* ---- The two parts --------------------------------------------------------------------------- */

struct grist_self {
    struct wf_grist_model *g;
    const struct wf_problem *p;
};

static void set_grist_goal(void *self, enum wf_goal goal)
{
    struct grist_self *s = self;
    wf_grist_model_goal(s->g, s->p, goal);
}

static enum wf_status search_grist(struct joint *j, const struct span *s, double cutoff,
                                   struct wf_part_answer *out)
{
    struct wf_grist_options g = {.og_low = s->low,
                                 .og_high = s->high,
                                 .yeast = j->yeast,
                                 .any_yeast = true,
                                 .aims = has_goal(j, WF_GOAL_CLOSEST),
                                 .change = has_goal(j, WF_GOAL_CHANGE)};
    struct wf_grist_model m;
    struct wf_search_options o = part_options(j);
    WF_TRY(wf_grist_model_make(j->p, &g, &m, j->e));
    struct grist_self self = {&m, j->p};
    struct wf_part part = {m.model, m.items, m.item_count, m.total, true, set_grist_goal, &self};
    o.cutoff = cutoff;
    enum wf_status status = wf_search(&part, &o, out, j->e);
    if (status == WF_OK && out->x != NULL)
        wf_grist_model_weights(&m, out->x, j->kg);
    wf_grist_model_free(&m);
    return status;
}

struct hop_self {
    struct wf_hop_model *h;
    const struct wf_problem *p;
};

static void set_hop_goal(void *self, enum wf_goal goal)
{
    struct hop_self *s = self;
    wf_hop_model_goal(s->h, s->p, goal);
}

static enum wf_status search_hops(struct joint *j, double low, double high,
                                  struct wf_part_answer *out, double *grams)
{
    struct wf_hop_options h = {.og_low = low,
                               .og_high = high,
                               .aims = has_goal(j, WF_GOAL_CLOSEST),
                               .change = has_goal(j, WF_GOAL_CHANGE),
                               .counted = has_goal(j, WF_GOAL_FEWEST)};
    struct wf_hop_model m;
    struct wf_search_options o = part_options(j);
    WF_TRY(wf_hop_model_make(j->p, &h, &m, j->e));
    struct hop_self self = {&m, j->p};
    struct wf_part part = {m.model, m.items, m.item_count, -1, true, set_hop_goal, &self};
    o.cutoff = NAN;
    enum wf_status status = wf_search(&part, &o, out, j->e);
    if (status == WF_OK && out->x != NULL && grams != NULL)
        wf_hop_model_grams(&m, out->x, grams);
    wf_hop_model_free(&m);
    return status;
}

/* ---- Windows --------------------------------------------------------------------------------- */

static double room_of(const struct joint *j, size_t k)
{
    struct wf_search_options o = *j->o;
    o.least_room = wf_goal_room(j->o->goals[k]);
    return wf_search_room(&o, j->best.value[k]);
}

/* Whether a window of these bounds holds nothing better than the best, goal by goal. */
static bool settled(const struct joint *j, const double *bound)
{
    if (!j->found)
        return isfinite(j->o->cutoff) && bound[0] >= j->o->cutoff;
    for (size_t k = 0; k < j->o->asked; k++) {
        double over = bound[k] - j->best.value[k];
        if (over < -room_of(j, k))
            return false;
        if (over > room_of(j, k))
            return true;
    }
    return true;
}

static void close_span(struct joint *j, const struct span *s)
{
    if (j->closed_count < WF_COUNT_OF(j->closed))
        j->closed[j->closed_count++] = *s;
}

static void push(struct joint *j, double low, double high, const double *bound)
{
    if (high < low)
        return;
    struct span s = {.low = low, .high = high};
    bool full = j->open_count + j->looked_at >= SPANS_MOST + j->parts - 1;
    bool narrow = high - low < SPAN_LEAST; /* as long as there is no recipe, it may have the one */
    memcpy(s.bound, bound, sizeof s.bound);
    if (settled(j, bound) || (narrow && j->found) || full)
        close_span(j, &s);
    else
        j->open[j->open_count++] = s;
}

static struct span pop_least(struct joint *j)
{
    size_t least = 0;
    for (size_t i = 1; i < j->open_count; i++)
        if (j->open[i].bound[0] < j->open[least].bound[0])
            least = i;
    struct span s = j->open[least];
    j->open[least] = j->open[--j->open_count];
    j->looked_at++;
    return s;
}

/* ---- Better recipes -------------------------------------------------------------------------- */

static bool is_better(const struct joint *j, const double *value)
{
    for (size_t k = 0; j->found && k < j->o->goal_count; k++) {
        double room = fmax(wf_goal_room(j->o->goals[k]), 1e-9 * fabs(j->best.value[k]));
        if (fabs(value[k] - j->best.value[k]) > room)
            return value[k] < j->best.value[k];
    }
    return !j->found;
}

static double own_value(const struct joint *j, size_t k)
{
    return wf_yeast_value(j->yeast, j->o->goals[k]);
}

/* Keeps the recipe in hand if it is the best yet. */
static void keep(struct joint *j, double og, const struct wf_part_answer *grist,
                 const struct wf_part_answer *hops)
{
    double value[WF_GOAL_COUNT] = {0}, *kg = j->best.kg, *grams = j->best.grams;
    for (size_t k = 0; k < j->o->goal_count; k++)
        value[k] = grist->value[k] + hops->value[k] + own_value(j, k);
    if (!is_better(j, value))
        return;
    j->best.kg = j->kg;
    j->best.grams = j->grams;
    j->kg = kg;
    j->grams = grams;
    j->best.og = og;
    j->found = true;
    wf_clock_answer(j->o->clock);
    j->o->clock->best = value[0];
    memcpy(j->best.value, value, sizeof value);
}

/*
 * Bounds over a window from those of its two parts. A part's bound of a later goal holds while the
 * part is no worse in the earlier goals than it was found to be; a recipe no worse than the best in
 * an earlier goal keeps each part to that if the best is no more than one part's value and the
 * other's bound together. Else nothing is claimed.
 */
static void bounds_of(const struct joint *j, const struct wf_part_answer *grist,
                      const struct wf_part_answer *hops, const double *at_least, double *bound)
{
    bool holds = true;
    for (size_t k = 0; k < j->o->goal_count; k++) {
        double own = own_value(j, k);
        bound[k] =
            holds ? fmax(at_least[k], grist->bound[k] + hops->bound[k] + own) : -(double)INFINITY;
        double most = fmin(grist->value[k] + hops->bound[k], grist->bound[k] + hops->value[k]);
        holds =
            holds && grist->x != NULL && hops->x != NULL && j->found &&
            j->best.value[k] <=
                most + own + fmax(WF_PART_ROOM * wf_goal_room(j->o->goals[k]), 1e-6 * fabs(most));
    }
}

/* No point at all: a search that was cut off has a finite bound. */
static bool impossible(const struct wf_part_answer *a)
{
    return a->x == NULL && isinf(a->bound[0]) && a->bound[0] > 0;
}

/* ---- One window ------------------------------------------------------------------------------ */

/*
 * The lowest gravity from which on, up to og, the hops cost what they cost at og: their cost rises
 * with the gravity by the step of the scale, so most of a window below og is often settled by this
 * alone.
 */
static enum wf_status same_hops_from(struct joint *j, double low, double og,
                                     const struct wf_part_answer *at, double *from)
{
    *from = og;
    while (og - low > SPAN_LEAST && *from - low > SPAN_LEAST) {
        double middle = (low + *from) / 2;
        struct wf_part_answer over = {0};
        WF_TRY(search_hops(j, middle, og, &over, NULL));
        bool same = true;
        for (size_t k = 0; k < j->o->asked; k++)
            same = same && over.bound[k] >= at->bound[k] - STEP_GAP * room_of(j, k);
        wf_part_answer_clear(&over);
        if (same)
            *from = middle;
        else
            low = middle;
    }
    return WF_OK;
}

/*
 * How far from og on, towards the end, no hops at all do: most of a window is often settled by this
 * where the bitterness that is wanted falls between two steps of the scale.
 */
static enum wf_status no_hops_until(struct joint *j, double og, double end, double *until)
{
    double middle = end, beyond = end;
    *until = og;
    do {
        struct wf_part_answer over = {0};
        WF_TRY(search_hops(j, fmin(og, middle), fmax(og, middle), &over, NULL));
        if (impossible(&over))
            *until = middle;
        else
            beyond = middle;
        wf_part_answer_clear(&over);
        middle = (*until + beyond) / 2;
    } while (fabs(beyond - *until) > SPAN_LEAST);
    return WF_OK;
}

/* What is left of a window once a grist of gravity og was found in it: below that, and above.
 * Above, the grist costs no less, and the hops what they cost from there on. */
static enum wf_status split(struct joint *j, const struct span *s, double og,
                            const struct wf_part_answer *grist, const struct wf_part_answer *at,
                            const double *bound)
{
    struct wf_part_answer above = {0};
    double bounds[WF_GOAL_COUNT], from = og, to = og;
    struct span here = {.low = og, .high = og};
    if (at->x != NULL) {
        WF_TRY(same_hops_from(j, s->low, og, at, &from));
    } else if (impossible(at)) {
        WF_TRY(no_hops_until(j, fmax(og, s->low), s->low, &from));
        WF_TRY(no_hops_until(j, fmin(og, s->high), s->high, &to));
    }
    if (at->x != NULL || from > s->low)
        push(j, s->low, fmin(from, og - SPAN_MARGIN), bound);
    WF_TRY(search_hops(j, fmin(to, s->high), s->high, &above, NULL));
    bounds_of(j, grist, &above, bound, bounds);
    if (!impossible(&above) && (at->x != NULL || to < s->high))
        push(j, fmax(og + SPAN_MARGIN, to), s->high, bounds);
    bounds_of(j, grist, at, bound, here.bound);
    for (size_t k = 0; k < j->o->asked; k++)
        here.bound[k] -= STEP_GAP * room_of(j, k) * (from < og);
    if (!impossible(at))
        close_span(j, &here);
    wf_part_answer_clear(&above);
    return WF_OK;
}

/* A grist of interest leaves, with the least that hops cost in the window, something better than
 * the best; or, where there are goals to come, as good. */
static double grist_cutoff(const struct joint *j, const struct wf_part_answer *over)
{
    double most =
        j->found ? j->best.value[0] + (j->o->asked > 1 ? 1 : -1) * room_of(j, 0) : j->o->cutoff;
    return most - over->bound[0] - own_value(j, 0);
}

static enum wf_status with_grist(struct joint *j, const struct span *s,
                                 const struct wf_part_answer *over,
                                 const struct wf_part_answer *grist)
{
    struct wf_part_answer at = {0};
    struct span whole = *s;
    double og;
    enum wf_status status = WF_OK;
    if (grist->x != NULL) {
        WF_TRY_GOTO(wf_grist_gravity(j->p, j->kg, &og));
        WF_TRY_GOTO(search_hops(j, og, og, &at, j->grams));
        if (at.x != NULL)
            keep(j, og, grist, &at);
    }
    bounds_of(j, grist, over, s->bound, whole.bound);
    if (grist->x == NULL || settled(j, whole.bound) || s->high - s->low < SPAN_LEAST)
        close_span(j, &whole);
    else
        status = split(j, s, og, grist, &at, whole.bound);
done:
    wf_part_answer_clear(&at);
    return status;
}

/* Of the time that is left, what the first grist may take where the user set it: its hops need some
 * as well. */
#define FIRST_GRIST 0.7

static enum wf_status grist_in_time(struct joint *j, const struct span *s, double cutoff,
                                    struct wf_part_answer *grist)
{
    struct wf_clock *clock = j->o->clock;
    double limit = clock->limit;
    if (!j->found && clock->options->seconds > 0)
        clock->limit = wf_clock_seconds(clock) + FIRST_GRIST * wf_clock_left(clock);
    enum wf_status status = search_grist(j, s, cutoff, grist);
    clock->limit = limit;
    return status;
}

static enum wf_status look_at(struct joint *j, const struct span *s)
{
    struct wf_part_answer grist = {0}, over = {0};
    enum wf_status status;
    bool free =
        !j->found && !isfinite(j->o->cutoff); /* nothing to beat: then the grist comes first */
    if (free)
        WF_TRY_GOTO(grist_in_time(j, s, NAN, &grist));
    if (free && impossible(&grist))
        goto done;
    WF_TRY_GOTO(search_hops(j, s->low, s->high, &over, NULL));
    double cutoff = impossible(&over) ? (double)NAN : grist_cutoff(j, &over);
    if (!free)
        WF_TRY_GOTO(grist_in_time(j, s, cutoff, &grist));
    if (impossible(&grist))
        goto done;
    j->best.grist_fits = true;
    if (!impossible(&over))
        status = with_grist(j, s, &over, &grist);
done:
    wf_part_answer_clear(&grist);
    wf_part_answer_clear(&over);
    return status;
}

/* Numbers of ingredients are whole; a bound less its gap is this close to one, or well above it. */
#define COUNT_MARGIN 0.05

/* ---- The whole ------------------------------------------------------------------------------- */

/* The least bound of a goal over the windows that tie with the best in every earlier goal. */
static double least_bound(const struct joint *j, size_t goal)
{
    double least = INFINITY;
    for (size_t i = 0; i < j->closed_count; i++) {
        bool ties = true;
        for (size_t k = 0; k < goal; k++)
            ties = ties && j->closed[i].bound[k] <= j->best.value[k] + 1e-9;
        if (ties)
            least = fmin(least, j->closed[i].bound[goal]);
    }
    return least;
}

static void conclude(struct joint *j)
{
    while (j->open_count > 0)
        close_span(j, &j->open[--j->open_count]);
    for (size_t k = 0; k < j->o->goal_count; k++) {
        j->best.bound[k] = fmax(0, least_bound(j, k)); /* no goal is ever below 0 */
        if (j->o->goals[k] == WF_GOAL_FEWEST && isfinite(j->best.bound[k]))
            j->best.bound[k] = ceil(j->best.bound[k] - COUNT_MARGIN);
        if (j->found)
            j->best.bound[k] = fmin(j->best.bound[k], j->best.value[k]);
    }
    bool none = isinf(j->best.bound[0]) && j->best.bound[0] > 0;
    if (!j->found)
        j->best.outcome = none ? WF_OUTCOME_INFEASIBLE : WF_OUTCOME_UNKNOWN;
    else
        j->best.outcome = settled(j, j->best.bound) ? WF_OUTCOME_OPTIMAL : WF_OUTCOME_FEASIBLE;
}

/* The window of the wish; where the yeast's wishes are no straight lines over it, in parts over
 * which they are. */
static enum wf_status open_windows(struct joint *j)
{
    const struct wf_target *t = j->p->target;
    const struct wf_range og = j->p->og;
    j->parts = 1;
    if (j->p->yeast_count > 0)
        WF_TRY(wf_residue_parts(t->fg, t->abv, og.low, og.high, &j->parts));
    for (size_t i = 0; i < j->parts; i++) {
        double width = (og.high - og.low) / (double)j->parts;
        struct span s = {.low = og.low + width * (double)i,
                         .high = i + 1 < j->parts ? og.low + width * (double)(i + 1) : og.high};
        for (size_t k = 0; k < WF_GOAL_COUNT; k++)
            s.bound[k] = k == 0 ? j->o->floor : -(double)INFINITY;
        j->open[j->open_count++] = s;
    }
    return WF_OK;
}

static enum wf_status search_windows(struct joint *j)
{
    WF_TRY(open_windows(j));
    while (j->open_count > 0 && (j->looked_at == 0 || wf_clock_left(j->o->clock) > 0)) {
        if (wf_clock_cancelled(j->o->clock))
            return wf_error_add(j->e, WF_CANCELLED, "stopped");
        struct span s = pop_least(j);
        if (settled(j, s.bound))
            close_span(j, &s);
        else
            WF_TRY(look_at(j, &s));
    }
    conclude(j);
    return WF_OK;
}

enum wf_status wf_joint_solve(const struct wf_problem *p, const struct wf_pick_yeast *yeast,
                              const struct wf_search_options *o, struct wf_answer *out,
                              struct wf_error *e)
{
    struct joint j = {.p = p, .yeast = yeast, .o = o, .e = e};
    enum wf_status status = WF_MEMORY;
    j.best.yeast = yeast;
    j.best.kg = wf_alloc(p->malt_count, sizeof(double));
    j.best.grams = wf_alloc(p->place_count, sizeof(double));
    j.kg = wf_alloc(p->malt_count, sizeof(double));
    j.grams = wf_alloc(p->place_count, sizeof(double));
    if (j.best.kg == NULL || j.best.grams == NULL || j.kg == NULL || j.grams == NULL)
        wf_error_add(e, WF_MEMORY, "out of memory");
    else
        status = search_windows(&j);
    wf_free(j.kg);
    wf_free(j.grams);
    if (status != WF_OK || !j.found) {
        wf_free(j.best.kg);
        wf_free(j.best.grams);
        j.best.kg = j.best.grams = NULL;
    }
    *out = j.best;
    return status;
}

#include "solve/joint_parts.h"

#include "base/alloc.h"
#include "base/try.h"
#include "model/wish_rows.h"

#include <math.h>
#include <string.h>

#define SPAN_MARGIN 1e-7 /* SG: between a gravity that is settled and the windows beside it */

/* ---- Windows --------------------------------------------------------------------------------- */

/* Whether a window of these bounds holds nothing better than the best, goal by goal. */
static bool settled(const struct wf_joint *j, const double *bound)
{
    if (!j->found)
        return isfinite(j->o->cutoff) && bound[0] >= j->o->cutoff;
    for (size_t k = 0; k < j->o->asked; k++) {
        double over = bound[k] - j->best.value[k];
        if (over < -wf_joint_room(j, k))
            return false;
        if (over > wf_joint_room(j, k))
            return true;
    }
    return true;
}

static void close_span(struct wf_joint *j, const struct wf_span *s)
{
    if (j->closed_count < WF_COUNT_OF(j->closed))
        j->closed[j->closed_count++] = *s;
}

static void push(struct wf_joint *j, double low, double high, const double *bound)
{
    if (high < low)
        return;
    struct wf_span s = {.low = low, .high = high};
    bool full = j->open_count + j->looked_at >= WF_SPANS_MOST + j->parts - 1;
    memcpy(s.bound, bound, sizeof s.bound);
    if (settled(j, bound) || full)
        close_span(j, &s);
    else
        j->open[j->open_count++] = s;
}

static struct wf_span pop_least(struct wf_joint *j)
{
    size_t least = 0;
    for (size_t i = 1; i < j->open_count; i++)
        if (j->open[i].bound[0] < j->open[least].bound[0])
            least = i;
    struct wf_span s = j->open[least];
    j->open[least] = j->open[--j->open_count];
    j->looked_at++;
    return s;
}

/* ---- Better recipes -------------------------------------------------------------------------- */

static bool is_better(const struct wf_joint *j, const double *value)
{
    for (size_t k = 0; j->found && k < j->o->goal_count; k++) {
        double room = fmax(wf_goal_room(j->o->goals[k]), 1e-9 * fabs(j->best.value[k]));
        if (fabs(value[k] - j->best.value[k]) > room)
            return value[k] < j->best.value[k];
    }
    return !j->found;
}

static double own_value(const struct wf_joint *j, size_t k)
{
    return wf_yeast_value(j->yeast, j->o->goals[k]);
}

/* Keeps the recipe in hand if it is the best yet. */
static void keep(struct wf_joint *j, double og, const struct wf_part_answer *grist,
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
    j->best.yeast = j->yeast;
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
static void bounds_of(const struct wf_joint *j, const struct wf_part_answer *grist,
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

/* ---- One window ------------------------------------------------------------------------------ */

/* What is left of a window once a grist of gravity og was found in it: below that, and above.
 * Above, the grist costs no less, and the hops what they cost from there on. */
static enum wf_status split(struct wf_joint *j, const struct wf_span *s, double og,
                            const struct wf_part_answer *grist, const struct wf_part_answer *at,
                            const double *bound)
{
    struct wf_part_answer above = {0};
    double bounds[WF_GOAL_COUNT], from = og, to = og;
    struct wf_span here = {.low = og, .high = og};
    if (at->x != NULL) {
        WF_TRY(wf_joint_same_hops_from(j, s->low, og, at, &from));
    } else if (wf_joint_impossible(at)) {
        WF_TRY(wf_joint_no_hops_until(j, fmax(og, s->low), s->low, &from));
        WF_TRY(wf_joint_no_hops_until(j, fmin(og, s->high), s->high, &to));
    }
    if (from > s->low)
        push(j, s->low, fmin(from, og - SPAN_MARGIN), bound);
    WF_TRY(wf_joint_hops(j, fmin(to, s->high), s->high, &above));
    bounds_of(j, grist, &above, bound, bounds);
    if (!wf_joint_impossible(&above) && (at->x != NULL || to < s->high))
        push(j, fmax(og + SPAN_MARGIN, to), s->high, bounds);
    bounds_of(j, grist, at, bound, here.bound);
    for (size_t k = 0; k < j->o->asked; k++)
        here.bound[k] -= WF_JOINT_STEP_GAP * wf_joint_room(j, k) * (from < og);
    if (!wf_joint_impossible(at))
        close_span(j, &here);
    wf_part_answer_clear(&above);
    return WF_OK;
}

/* A grist of interest leaves, with the least that hops cost in the window, something better than
 * the best; or, where there are goals to come, as good. */
static double grist_cutoff(const struct wf_joint *j, const struct wf_part_answer *over)
{
    double most = j->found ? j->best.value[0] + (j->o->asked > 1 ? 1 : -1) * wf_joint_room(j, 0)
                           : j->o->cutoff;
    return most - over->bound[0] - own_value(j, 0);
}

static enum wf_status with_grist(struct wf_joint *j, const struct wf_span *s,
                                 const struct wf_part_answer *over,
                                 const struct wf_part_answer *grist)
{
    struct wf_part_answer at = {0};
    struct wf_span whole = *s;
    double og;
    enum wf_status status = WF_OK;
    if (grist->x != NULL) {
        WF_TRY_GOTO(wf_grist_gravity(j->p, j->kg, &og));
        WF_TRY_GOTO(wf_joint_hops(j, og, og, &at));
        if (at.x != NULL)
            keep(j, og, grist, &at);
    }
    bounds_of(j, grist, over, s->bound, whole.bound);
    if (grist->x == NULL || settled(j, whole.bound) || s->high - s->low < WF_SPAN_LEAST ||
        wf_clock_left(j->o->clock) <= 0) /* what splitting asks would be asked for nothing */
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

static enum wf_status grist_in_time(struct wf_joint *j, const struct wf_span *s, double cutoff,
                                    struct wf_part_answer *grist)
{
    struct wf_clock *clock = j->o->clock;
    double limit = clock->limit;
    if (!j->found && clock->options->seconds > 0)
        clock->limit = wf_clock_seconds(clock) + FIRST_GRIST * wf_clock_left(clock);
    enum wf_status status = wf_joint_grist(j, s, cutoff, grist);
    clock->limit = limit;
    return status;
}

static enum wf_status look_at(struct wf_joint *j, const struct wf_span *s)
{
    struct wf_part_answer grist = {0}, over = {0};
    enum wf_status status;
    bool free =
        !j->found && !isfinite(j->o->cutoff); /* nothing to beat: then the grist comes first */
    if (free)
        WF_TRY_GOTO(grist_in_time(j, s, NAN, &grist));
    if (free && wf_joint_impossible(&grist))
        goto done;
    WF_TRY_GOTO(wf_joint_hops(j, s->low, s->high, &over));
    double cutoff = wf_joint_impossible(&over) ? (double)NAN : grist_cutoff(j, &over);
    if (!free)
        WF_TRY_GOTO(grist_in_time(j, s, cutoff, &grist));
    if (wf_joint_impossible(&grist))
        goto done;
    j->best.grist_fits = true;
    if (!wf_joint_impossible(&over))
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
static double least_bound(const struct wf_joint *j, size_t goal)
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

static void conclude(struct wf_joint *j)
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
static enum wf_status open_windows(struct wf_joint *j)
{
    const struct wf_target *t = j->p->target;
    const struct wf_range og = j->p->og;
    j->parts = 1;
    if (j->p->yeast_count > 0)
        WF_TRY(wf_residue_parts(t->fg, t->abv, og.low, og.high, &j->parts));
    for (size_t i = 0; i < j->parts; i++) {
        double width = (og.high - og.low) / (double)j->parts;
        struct wf_span s = {.low = og.low + width * (double)i,
                            .high = i + 1 < j->parts ? og.low + width * (double)(i + 1) : og.high};
        for (size_t k = 0; k < WF_GOAL_COUNT; k++)
            s.bound[k] = k == 0 ? j->o->floor : -(double)INFINITY;
        j->open[j->open_count++] = s;
    }
    return WF_OK;
}

static enum wf_status search_windows(struct wf_joint *j)
{
    WF_TRY(open_windows(j));
    while (j->open_count > 0 && (j->looked_at < j->parts || wf_clock_left(j->o->clock) > 0)) {
        if (wf_clock_cancelled(j->o->clock))
            return wf_error_add(j->e, WF_CANCELLED, "stopped");
        struct wf_span s = pop_least(j);
        if (settled(j, s.bound))
            close_span(j, &s);
        else
            WF_TRY(look_at(j, &s));
    }
    conclude(j);
    return WF_OK;
}

static void start_from(struct wf_joint *j, const struct wf_answer *known)
{
    memcpy(j->best.kg, known->kg, j->p->malt_count * sizeof *known->kg);
    memcpy(j->best.grams, known->grams, j->p->place_count * sizeof *known->grams);
    memcpy(j->best.value, known->value, sizeof known->value);
    j->best.og = known->og;
    j->best.yeast = known->yeast;
    j->best.grist_fits = true;
    j->found = true;
}

enum wf_status wf_joint_solve(const struct wf_problem *p, const struct wf_pick_yeast *yeast,
                              const struct wf_search_options *o, const struct wf_answer *known,
                              struct wf_answer *out, struct wf_error *e)
{
    struct wf_joint j = {.p = p, .yeast = yeast, .o = o, .e = e};
    enum wf_status status = WF_OK;
    j.best.yeast = yeast;
    j.best.kg = wf_alloc(p->malt_count, sizeof(double));
    j.best.grams = wf_alloc(p->place_count, sizeof(double));
    j.kg = wf_alloc(p->malt_count, sizeof(double));
    j.grams = wf_alloc(p->place_count, sizeof(double));
    if (j.best.kg == NULL || j.best.grams == NULL || j.kg == NULL || j.grams == NULL)
        status = wf_error_add(e, WF_MEMORY, "out of memory");
    if (status == WF_OK && known != NULL)
        start_from(&j, known);
    if (status == WF_OK)
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

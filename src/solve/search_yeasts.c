/*
 * Which yeast. The target lists its yeasts in order of preference; the best recipe is looked for
 * among those of the first place that gives any, and the proof is for yeasts of that place. Since
 * only final gravity and alcohol depend on the yeast, the search is done at first with none in
 * particular: for every yeast with which that grist ferments as wished, it is the optimum but for
 * the yeast's own price, and for the others a bound.
 */
#include "solve/solve_parts.h"

#include "base/alloc.h"
#include "base/try.h"
#include "solve/assemble.h"
#include "solve/hop_notes.h"
#include "solve/wishes.h"

#include <math.h>
#include <string.h>

/* ---- One yeast ----------------------------------------------------------------------------------
 */

/* Whether this answer's grist ferments as wished with that yeast: by the forward path. */
static enum wf_status ferments(const struct wf_problem *p, const struct wf_answer *a,
                               const struct wf_pick_yeast *y, bool *well, struct wf_error *e)
{
    struct wf_answer with = *a;
    struct wf_recipe *r;
    struct wf_error none = {0};
    with.yeast = y;
    enum wf_status status = wf_recipe_assemble(p, &with, &r, &none);
    *well = false;
    if (status == WF_OUT_OF_RANGE) /* a wort of sugar, say, that leaves less than the laws know */
        return WF_OK;
    if (status != WF_OK)
        return wf_error_add(e, status, "%s", none.text);
    *well = wf_wishes_missed(r) == NULL;
    wf_recipe_free(r);
    return WF_OK;
}

static bool better(const struct wf_answer *a, const struct wf_answer *b, size_t goals)
{
    for (size_t k = 0; k < goals; k++) {
        double room = 1e-9 * fmax(1, fabs(b->value[k]));
        if (fabs(a->value[k] - b->value[k]) > room)
            return a->value[k] < b->value[k];
    }
    return false;
}

static enum wf_status copy_answer(const struct wf_problem *p, const struct wf_answer *a,
                                  struct wf_answer *out, struct wf_error *e)
{
    struct wf_answer c = *a;
    c.kg = wf_alloc(p->malt_count, sizeof(double));
    c.grams = wf_alloc(p->place_count, sizeof(double));
    if (c.kg == NULL || c.grams == NULL) {
        wf_answer_clear(&c);
        return wf_error_add(e, WF_MEMORY, "out of memory");
    }
    memcpy(c.kg, a->kg, p->malt_count * sizeof(double));
    memcpy(c.grams, a->grams, p->place_count * sizeof(double));
    *out = c;
    return WF_OK;
}

/* Takes the candidate if it is the best yet; the bound of a place is the least over its yeasts. */
static void take(struct wf_answer *best, struct wf_answer *candidate, size_t goals)
{
    double bound[WF_GOAL_COUNT] = {
        0}; /* of goals that are not asked for, too: it is copied whole */
    bool first = best->kg == NULL && best->outcome == WF_OUTCOME_COUNT;
    for (size_t k = 0; k < goals; k++)
        bound[k] = first ? candidate->bound[k] : fmin(best->bound[k], candidate->bound[k]);
    if (candidate->kg != NULL && (best->kg == NULL || better(candidate, best, goals))) {
        wf_answer_clear(best);
        *best = *candidate;
        *candidate = (struct wf_answer){0};
    } else if (best->kg == NULL && (first || candidate->outcome != WF_OUTCOME_INFEASIBLE)) {
        best->outcome = candidate->outcome;
    }
    memcpy(best->bound, bound, sizeof bound);
    wf_answer_clear(candidate);
}

static void add_yeast(struct wf_answer *a, const struct wf_pick_yeast *y,
                      const struct wf_search_options *o)
{
    a->yeast = y;
    for (size_t k = 0; k < o->goal_count; k++) {
        a->value[k] += wf_yeast_value(y, o->goals[k]);
        a->bound[k] += wf_yeast_value(y, o->goals[k]);
    }
}

/*
 * The best recipe with one yeast, or another's, `best`, if it has none that is better. The best of
 * no yeast in particular, `any`, is a bound; and if its grist ferments as wished it is a recipe to
 * start from, and where it was proved the answer.
 */
static enum wf_status with_yeast(const struct wf_problem *p, const struct wf_answer *any,
                                 const struct wf_pick_yeast *y, const struct wf_answer *best,
                                 const struct wf_search_options *o, struct wf_answer *out,
                                 struct wf_error *e)
{
    struct wf_search_options with = *o;
    struct wf_answer start = {0};
    bool well = false;
    enum wf_status status = WF_OK;
    if (any->kg != NULL)
        WF_TRY(ferments(p, any, y, &well, e));
    if (well) {
        WF_TRY(copy_answer(p, any, &start, e));
        add_yeast(&start, y, o);
        wf_clock_answer(o->clock);
        if (any->outcome == WF_OUTCOME_OPTIMAL) {
            *out = start;
            return WF_OK;
        }
        if (best->kg == NULL || better(&start, best, o->goal_count))
            best = &start;
    }
    with.floor = any->bound[0] + wf_yeast_value(y, o->goals[0]);
    WF_TRY_GOTO(wf_joint_solve(p, y, &with, best->kg != NULL ? best : NULL, out, e));
done:
    wf_answer_clear(&start);
    return status;
}

/* A yeast that adds no less to the first goal than what is found, or than is of interest, need not
 * be tried. */
static bool worth_trying(const struct wf_answer *any, const struct wf_answer *best,
                         const struct wf_pick_yeast *y, const struct wf_search_options *o)
{
    double bound = any->bound[0] + wf_yeast_value(y, o->goals[0]);
    if (best->kg == NULL)
        return !(bound >= o->cutoff);
    double room = o->gap * fmax(fabs(best->value[0]), 1e-9);
    return bound <
           best->value[0] + (o->asked > 1 ? room : -room); /* as good will do for more goals */
}

/* What a yeast that was not tried could better is within the gap, or of no interest, but it is a
 * bound all the same. */
static void leave_out(const struct wf_answer *any, const struct wf_pick_yeast *y, enum wf_goal goal,
                      struct wf_answer *best)
{
    double bound = any->bound[0] + wf_yeast_value(y, goal);
    bool first = best->outcome == WF_OUTCOME_COUNT;
    best->bound[0] = first ? bound : fmin(best->bound[0], bound);
    if (first)
        best->outcome = WF_OUTCOME_UNKNOWN;
}

/* Of the yeasts after `last` in the order of what they add to the first goal, the first; NULL:
 * none.
 */
static const struct wf_pick_yeast *next_yeast(const struct wf_problem *p,
                                              const struct wf_pick_yeast *last, enum wf_goal goal)
{
    const struct wf_pick_yeast *next = NULL;
    for (const struct wf_pick_yeast *y = p->yeasts; y < p->yeasts + p->yeast_count; y++) {
        double value = wf_yeast_value(y, goal);
        bool after = last == NULL || value > wf_yeast_value(last, goal) ||
                     (y > last && !(value < wf_yeast_value(last, goal)));
        if (after && (next == NULL || value < wf_yeast_value(next, goal)))
            next = y;
    }
    return next;
}

/* With one yeast, of which others may still come: it gets half of what is left, so that a hard one
 * does not leave the rest without a bound. */
static enum wf_status with_yeast_among(const struct wf_problem *p, const struct wf_answer *any,
                                       const struct wf_pick_yeast *y, const struct wf_answer *best,
                                       const struct wf_search_options *o, struct wf_answer *out,
                                       struct wf_error *e)
{
    const struct wf_pick_yeast *next = next_yeast(p, y, o->goals[0]);
    if (next == NULL || !worth_trying(any, best, next, o))
        return with_yeast(p, any, y, best, o, out, e);
    struct wf_clock_ends ends = wf_clock_halve(o->clock);
    enum wf_status status = with_yeast(p, any, y, best, o, out, e);
    wf_clock_restore(o->clock, ends);
    return status;
}

/* The best over the problem's yeasts, which are all of one place in the target's list. */
static enum wf_status over_yeasts(const struct wf_problem *p, const struct wf_answer *any,
                                  const struct wf_search_options *o, struct wf_answer *best,
                                  struct wf_error *e)
{
    const struct wf_pick_yeast *y = NULL;
    *best = (struct wf_answer){.outcome = WF_OUTCOME_COUNT};
    while ((y = next_yeast(p, y, o->goals[0])) != NULL) {
        struct wf_answer candidate = {0};
        if (!worth_trying(any, best, y, o)) {
            leave_out(any, y, o->goals[0], best);
            continue;
        }
        WF_TRY(with_yeast_among(p, any, y, best, o, &candidate, e));
        take(best, &candidate, o->goal_count);
    }
    return WF_OK;
}

void wf_solve_keep_place(struct wf_problem *p, const struct wf_pick_yeast *y)
{
    size_t first = 0, count = 0;
    if (y == NULL)
        return;
    while (p->yeasts[first].rank != y->rank)
        first++;
    while (first + count < p->yeast_count && p->yeasts[first + count].rank == y->rank)
        count++;
    p->yeasts += first;
    p->yeast_count = count;
}

/* ---- One place, and all -----------------------------------------------------------------------
 */

/* What the search with no yeast in particular may take: of the work, and of the time that is left
 * where the user set it. What it does not settle is settled for each yeast. */
#define ANY_WORK 20000
#define ANY_TIME 0.2

static enum wf_status search_any(const struct wf_problem *p, const struct wf_search_options *o,
                                 struct wf_answer *any, struct wf_error *e)
{
    struct wf_clock *clock = o->clock;
    long enough = clock->enough;
    double limit = clock->limit;
    if (clock->options->seconds > 0)
        clock->limit = wf_clock_seconds(clock) + ANY_TIME * wf_clock_left(clock);
    else if (enough - clock->work > ANY_WORK)
        clock->enough = clock->work + ANY_WORK;
    enum wf_status status = wf_joint_solve(p, NULL, o, NULL, any, e);
    clock->enough = enough;
    clock->limit = limit;
    clock->answered = false; /* not before a yeast is found that ferments it as wished */
    clock->best = (double)NAN;
    return status;
}

/* With the yeasts of one place in the target's list; where they are several, at first with none of
 * them in particular. */
static enum wf_status search_place(const struct wf_problem *p, const struct wf_search_options *o,
                                   struct wf_answer *out, struct wf_error *e)
{
    struct wf_answer any;
    if (p->yeast_count == 1)
        return wf_joint_solve(p, &p->yeasts[0], o, NULL, out, e);
    WF_TRY(search_any(p, o, &any, e));
    if (any.outcome == WF_OUTCOME_INFEASIBLE) {
        *out = any;
        return WF_OK;
    }
    enum wf_status status = over_yeasts(p, &any, o, out, e);
    wf_answer_clear(&any);
    return status;
}

/* Whether no yeast whatever could help. */
static enum wf_status beyond_yeasts(const struct wf_problem *p, const struct wf_search_options *o,
                                    bool *beyond, struct wf_error *e)
{
    struct wf_problem without = *p;
    struct wf_answer any;
    without.yeast_count = 0;
    WF_TRY(wf_joint_solve(&without, NULL, o, NULL, &any, e));
    *beyond = any.outcome == WF_OUTCOME_INFEASIBLE;
    wf_answer_clear(&any);
    return WF_OK;
}

/* The places in their order: the first that gives a recipe is the answer's. */
static enum wf_status search_places(const struct wf_problem *p, const struct wf_search_options *o,
                                    struct wf_answer *out, struct wf_error *e)
{
    bool none = true, beyond = false;
    for (size_t first = 0, next; first < p->yeast_count && !beyond; first = next) {
        struct wf_problem place = *p;
        wf_solve_keep_place(&place, &p->yeasts[first]);
        next = first + place.yeast_count;
        WF_TRY(search_place(&place, o, out, e));
        if (out->kg != NULL)
            return WF_OK;
        none = none && out->outcome == WF_OUTCOME_INFEASIBLE;
        if (first == 0 && none && next < p->yeast_count)
            WF_TRY(beyond_yeasts(p, o, &beyond, e));
    }
    out->outcome = none ? WF_OUTCOME_INFEASIBLE : WF_OUTCOME_UNKNOWN;
    return WF_OK;
}

enum wf_status wf_solve_search(const struct wf_problem *p, const struct wf_search_options *o,
                               struct wf_answer *out, struct wf_error *e)
{
    struct wf_hop_notes notes = wf_hop_notes_of(p, o);
    struct wf_search_options with = *o;
    enum wf_status status;
    *out = (struct wf_answer){.outcome = WF_OUTCOME_INFEASIBLE};
    with.hops = &notes;
    if (p->store->yeast_count == 0)
        status = wf_joint_solve(p, NULL, &with, NULL, out, e);
    else /* of a store with yeasts, none of which suits: none */
        status = search_places(p, &with, out, e);
    wf_hop_notes_clear(&notes);
    return status;
}

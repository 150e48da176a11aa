#include "solve/search.h"

#include "base/alloc.h"
#include "base/try.h"
#include "solve/branch.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* With more lots than this it pays to lower their greatest weights first. */
#define MANY_LOTS 16
/* Lots in the quick first model: more gives better first recipes, fewer quicker ones. */
#define FIRST_LOTS 16
/* Models with no more lots than this go to the solver whole. */
#define FEW_LOTS 18
/* Share of the time that is left that the quick first model may take. */
#define FIRST_TIME 0.3
/* Nodes of the solver's own search, some 0.1 to 0.3 ms each, after which to stop where the user set
 * no time: by then it betters little, and what time ends differs from machine to machine. */
#define NODES_MOST 5000
/* Of goals that only choose between equals. */
#define UNASKED_GAP  2e-3
#define UNASKED_WORK 8000
/* Of the cheap recipe that a search for the closest starts from. */
#define CHEAP_GAP 0.05

struct ranked {
    size_t item;
    double regret; /* how much worse than the relaxation a recipe with it is, at least */
};

static int by_regret(const void *a, const void *b)
{
    const struct ranked *x = a, *y = b;
    if (x->regret < y->regret || x->regret > y->regret)
        return x->regret < y->regret ? -1 : 1;
    return x->item < y->item ? -1 : 1;
}

/* By the relaxation's duals any point costs at least its value + reduced . x, so one that uses the
 * lot, at its least weight or more, costs at least this much more. */
static double regret_of(const struct wf_item *item, const struct wf_solution *relaxed)
{
    double w = fmax(0, relaxed->reduced[item->weight]), u = fmax(0, relaxed->reduced[item->use]);
    return w * fmax(1, item->least) + u;
}

static void strike_out(struct wf_model *m, const struct wf_item *item)
{
    wf_model_set_bounds(m, item->weight, 0, 0);
    wf_model_set_bounds(m, item->use, 0, 0);
    if (item->pack >= 0)
        wf_model_set_bounds(m, item->pack, 0, 0);
}

static struct wf_solver_options solver_options(const struct wf_search_options *o, double time_share,
                                               double cutoff)
{
    const struct wf_solve_options *s = o->clock->options;
    return (struct wf_solver_options){.seconds = fmax(0.001, time_share * wf_clock_left(o->clock)),
                                      .nodes = s->seconds > 0 ? 0 : NODES_MOST,
                                      .gap = o->gap,
                                      .cutoff = cutoff,
                                      .cancel = s->cancel};
}

/* The integer model over the lots of least regret. */
static enum wf_status first_recipe(const struct wf_model *m, const struct wf_item *items,
                                   const struct ranked *rank, size_t count,
                                   const struct wf_search_options *o, struct wf_solution *out,
                                   struct wf_error *e)
{
    struct wf_model *small = wf_model_copy(m);
    if (small == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    for (size_t i = FIRST_LOTS; i < count; i++)
        strike_out(small, &items[rank[i].item]);
    struct wf_solver_options s = solver_options(o, FIRST_TIME, o->cutoff);
    enum wf_status status = wf_solver_run(small, &s, out, e);
    wf_model_free(small);
    return status;
}

/* Whether a point this good is good enough, given what is proved. */
static bool close_enough(double value, double bound, double gap)
{
    return value - bound <= gap * fmax(fabs(value), 1e-9);
}

/* All that may still be in a better point than `first`; the better of both is left in *out. */
static enum wf_status improve(const struct wf_model *m, const struct wf_item *items,
                              const struct ranked *rank, size_t count, double root_bound,
                              struct wf_solution *first, const struct wf_search_options *o,
                              struct wf_solution *out, struct wf_error *e)
{
    double cutoff = first->x != NULL ? first->value : o->cutoff;
    struct wf_model *rest = wf_model_copy(m);
    if (rest == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    for (size_t i = 0; i < count; i++)
        if (isfinite(cutoff) && root_bound + rank[i].regret >= cutoff)
            strike_out(rest, &items[rank[i].item]);
    struct wf_solver_options s = solver_options(o, 1, cutoff);
    enum wf_status status = wf_solver_run(rest, &s, out, e);
    wf_model_free(rest);
    if (status != WF_OK || first->x == NULL)
        return status;
    /* What was struck out, and what the cutoff cut, costs no less than the first recipe. */
    double bound = fmin(out->bound, first->value);
    if (out->x == NULL || out->value >= first->value) {
        wf_solution_clear(out);
        *out = *first;
        *first = (struct wf_solution){0};
    }
    out->bound = fmin(out->value, fmax(bound, root_bound));
    out->outcome =
        close_enough(out->value, out->bound, o->gap) ? WF_OUTCOME_OPTIMAL : WF_OUTCOME_FEASIBLE;
    return WF_OK;
}

static enum wf_status staged(const struct wf_model *m, const struct wf_item *items, size_t count,
                             const struct wf_search_options *o, const struct wf_solution *relaxed,
                             struct wf_solution *out, struct wf_error *e)
{
    struct wf_solution first = {0};
    struct ranked *rank = wf_alloc(count, sizeof *rank);
    enum wf_status status;
    if (rank == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    for (size_t i = 0; i < count; i++) {
        double regret = regret_of(&items[i], relaxed);
        rank[i] = (struct ranked){i, relaxed->x[items[i].weight] > 1e-9 ? 0 : regret};
    }
    qsort(rank, count, sizeof *rank, by_regret);
    WF_TRY_GOTO(first_recipe(m, items, rank, count, o, &first, e));
    if (first.x != NULL && close_enough(first.value, relaxed->value, o->gap)) {
        first.bound = fmin(first.value, relaxed->value);
        first.outcome = WF_OUTCOME_OPTIMAL;
        *out = first;
        first = (struct wf_solution){0};
        goto done;
    }
    status = improve(m, items, rank, count, relaxed->value, &first, o, out, e);
done:
    wf_solution_clear(&first);
    wf_free(rank);
    return status;
}

/* Through the solver's own branch and bound, in stages. */
static enum wf_status by_solver(const struct wf_part *part, const struct wf_search_options *o,
                                struct wf_solution *out, struct wf_error *e)
{
    struct wf_solver_options s = solver_options(o, 1, NAN);
    struct wf_solution relaxed = {0};
    enum wf_status status;
    s.relax = true;
    WF_TRY_GOTO(wf_solver_run(part->model, &s, &relaxed, e));
    if (relaxed.outcome != WF_OUTCOME_OPTIMAL || relaxed.reduced == NULL) {
        *out = relaxed; /* infeasible, or stopped */
        relaxed = (struct wf_solution){0};
        wf_free(out->x);
        out->x = NULL;
        out->value = NAN;
        goto done;
    }
    if (isfinite(o->cutoff) && relaxed.value >= o->cutoff) {
        *out = (struct wf_solution){
            .outcome = WF_OUTCOME_UNKNOWN, .value = NAN, .bound = relaxed.value};
        goto done;
    }
    if (part->item_count > FEW_LOTS) {
        status = staged(part->model, part->items, part->item_count, o, &relaxed, out, e);
        goto done;
    }
    s = solver_options(o, 1, o->cutoff);
    status = wf_solver_run(part->model, &s, out, e);
    if (status == WF_OK && out->x != NULL)
        out->bound = fmin(out->value, fmax(out->bound, relaxed.value));
done:
    wf_solution_clear(&relaxed);
    return status;
}

enum wf_status wf_search_model(const struct wf_part *part, const struct wf_search_options *o,
                               struct wf_solution *out, struct wf_error *e)
{
    return part->of_lots ? wf_branch(part, o, out, e) : by_solver(part, o, out, e);
}

/* ---- Goals in order -------------------------------------------------------------------------- */

/* The costs as they are may not pass this value from now on, but by what nobody could tell. */
static void hold_goal(struct wf_model *m, double value, double least_room)
{
    double room = fmax(least_room, 1e-7 * fmax(1, fabs(value)));
    int row = wf_model_row(m, -(double)INFINITY, value - wf_model_offset(m) + room, "earlier goal");
    for (int j = 0; j < wf_model_columns(m); j++)
        wf_model_term(m, row, j, wf_model_cost(m, j));
}

/* A recipe to start from, where the first goal gives little to go by: a cheap one, quickly. */
static enum wf_status cheap_start(const struct wf_part *part, const struct wf_search_options *o,
                                  struct wf_part_answer *out, struct wf_error *e)
{
    struct wf_search_options loose = *o;
    struct wf_solution s = {0};
    loose.gap = CHEAP_GAP;
    loose.cutoff = NAN;
    loose.start = NULL;
    part->set_goal(part->self, WF_GOAL_COST);
    WF_TRY(wf_search_model(part, &loose, &s, e));
    out->x = s.x;
    s.x = NULL;
    wf_solution_clear(&s);
    return WF_OK;
}

/* One goal after the others: its point and bound into *out. */
static enum wf_status search_goal(const struct wf_part *part, struct wf_search_options *o, size_t k,
                                  struct wf_part_answer *out, struct wf_error *e)
{
    struct wf_solution s = {0};
    part->set_goal(part->self, o->goals[k]);
    o->least_room = WF_PART_ROOM * wf_goal_room(o->goals[k]);
    struct wf_search_options now = *o;
    struct wf_clock clock = *o->clock;
    now.clock = &clock;
    now.start = out->x;
    if (out->x != NULL)
        wf_clock_answer(&clock);
    if (k >= o->asked) {
        now.gap = fmax(o->gap, UNASKED_GAP);
        clock.enough = clock.work + UNASKED_WORK;
    }
    enum wf_status status = wf_search_model(part, &now, &s, e);
    o->clock->work = clock.work;
    WF_TRY(status);
    out->bound[k] = s.bound;
    if (k == 0)
        out->outcome = s.outcome;
    else if (s.outcome != WF_OUTCOME_OPTIMAL)
        out->outcome = WF_OUTCOME_FEASIBLE;
    if (s.x != NULL) { /* else the earlier goals' point stands */
        wf_free(out->x);
        out->x = s.x;
        s.x = NULL;
    }
    wf_solution_clear(&s);
    return WF_OK;
}

/* A later goal leaves the distances of an earlier one as loose as they may be held: brings them to
 * what the weights say. */
static enum wf_status settle_distances(const struct wf_part *part, enum wf_goal goal, double *x,
                                       struct wf_error *e)
{
    struct wf_solver_options o = {.relax = true, .cutoff = (double)NAN};
    struct wf_solution s = {0};
    enum wf_status status;
    part->set_goal(part->self, goal);
    struct wf_model *fixed = wf_model_copy(part->model);
    if (fixed == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    for (int j = 0; j < wf_model_columns(fixed); j++)
        if (wf_model_integer(fixed, j))
            wf_model_set_bounds(fixed, j, round(x[j]), round(x[j]));
    WF_TRY_GOTO(wf_solver_run(fixed, &o, &s, e));
    for (int j = 0; s.x != NULL && j < wf_model_columns(fixed); j++)
        if (!wf_model_integer(fixed, j))
            x[j] = s.x[j];
done:
    wf_solution_clear(&s);
    wf_model_free(fixed);
    return status;
}

/* Each goal's value at the point. */
static enum wf_status take_values(const struct wf_part *part, const struct wf_search_options *o,
                                  struct wf_part_answer *out, struct wf_error *e)
{
    for (size_t k = 0; k < o->goal_count; k++) {
        bool by_distance = o->goals[k] == WF_GOAL_CLOSEST || o->goals[k] == WF_GOAL_CHANGE;
        if (o->goal_count > 1 && by_distance)
            WF_TRY(settle_distances(part, o->goals[k], out->x, e));
        part->set_goal(part->self, o->goals[k]);
        out->value[k] = wf_model_value(part->model, out->x);
    }
    return WF_OK;
}

static enum wf_status search_goals(const struct wf_part *part, struct wf_search_options *now,
                                   struct wf_part_answer *out, struct wf_error *e)
{
    for (size_t k = 0; k < now->goal_count; k++) {
        WF_TRY(search_goal(part, now, k, out, e));
        if (out->x == NULL)
            return WF_OK;
        if (k + 1 < now->goal_count) {
            hold_goal(part->model, wf_model_value(part->model, out->x), now->least_room);
            WF_TRY(wf_model_check(part->model, e));
        }
        now->cutoff = NAN;
    }
    return take_values(part, now, out, e);
}

enum wf_status wf_search(const struct wf_part *part, const struct wf_search_options *o,
                         struct wf_part_answer *out, struct wf_error *e)
{
    struct wf_search_options now = *o;
    *out = (struct wf_part_answer){.outcome = WF_OUTCOME_UNKNOWN};
    bool changed;
    if (part->of_lots && part->item_count > MANY_LOTS)
        WF_TRY(wf_branch_tighten(part, (double)INFINITY, &changed, e));
    if (o->goals[0] == WF_GOAL_CLOSEST && !isfinite(o->cutoff))
        WF_TRY(cheap_start(part, o, out, e));
    enum wf_status status = search_goals(part, &now, out, e);
    if (status != WF_OK)
        wf_part_answer_clear(out);
    return status;
}

void wf_part_answer_clear(struct wf_part_answer *a)
{
    wf_free(a->x);
    *a = (struct wf_part_answer){0};
}

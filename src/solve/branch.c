#include "solve/branch.h"

#include "base/alloc.h"
#include "base/try.h"
#include "solve/branch_tree.h"

#include <math.h>
#include <string.h>

/* Lots in the first, quick search, and its nodes. */
#define FIRST_LOTS  16
#define FIRST_NODES 300
/* Of a borrowed start. */
#define BORROWED_GAP   0.05
#define BORROWED_NODES 200
/* More lots than this make a linear program that is worth making smaller; nodes before that is
 * tried. */
#define MANY_LOTS   60
#define ROUND_NODES 500
/* Part of the gap that a better value must close for the lots' greatest weights to be lowered anew.
 */
#define NARROWED_BY 0.2

/* Root, quick search, the rest. */
struct stages {
    const struct wf_part *whole;
    struct wf_part narrowed;    /* a copy whose greatest weights are those of better points */
    const struct wf_part *part; /* one of the two */
    const struct wf_search_options *o;
    struct wf_error *e;
    double *x, *regret;
    bool *keep;
    size_t *order; /* items, least regret first */
    double value, bound;
    double below; /* the narrowed part has all points below this */
};

static enum wf_status stages_open(struct stages *g)
{
    size_t items = g->whole->item_count + 1;
    g->x = wf_alloc((size_t)wf_model_columns(g->whole->model), sizeof *g->x);
    g->regret = wf_alloc(items, sizeof *g->regret);
    g->keep = wf_alloc(items, sizeof *g->keep);
    g->order = wf_alloc(items, sizeof *g->order);
    g->value = NAN;
    g->part = g->whole;
    g->below = INFINITY;
    if (g->x != NULL && g->o->start != NULL) {
        memcpy(g->x, g->o->start, (size_t)wf_model_columns(g->whole->model) * sizeof *g->x);
        g->value = wf_model_value(g->whole->model, g->x);
    }
    if (g->x == NULL || g->regret == NULL || g->keep == NULL || g->order == NULL)
        return wf_error_add(g->e, WF_MEMORY, "out of memory");
    return WF_OK;
}

static void stages_close(struct stages *g)
{
    wf_model_free(g->narrowed.model);
    wf_free(g->x);
    wf_free(g->regret);
    wf_free(g->keep);
    wf_free(g->order);
}

/* Keeps the lots of least regret: an insertion sort up to the number wanted. */
static void keep_least(struct stages *g, size_t wanted)
{
    size_t kept = 0;
    for (size_t i = 0; i < g->part->item_count; i++) {
        size_t at = kept < wanted ? kept++ : wanted;
        if (at == wanted && !(g->regret[i] < g->regret[g->order[wanted - 1]]))
            continue;
        at = at == wanted ? wanted - 1 : at;
        for (; at > 0 && g->regret[i] < g->regret[g->order[at - 1]]; at--)
            g->order[at] = g->order[at - 1];
        g->order[at] = i;
    }
    for (size_t i = 0; i < g->part->item_count; i++)
        g->keep[i] = false;
    for (size_t i = 0; i < kept; i++)
        g->keep[g->order[i]] = true;
}

static enum wf_status stage(struct stages *g, const bool *keep, long nodes_most, bool want_regret,
                            struct wf_tree_result *r)
{
    r->x = g->x;
    r->regret = want_regret ? g->regret : NULL;
    WF_TRY(
        wf_tree_search(g->part, keep, nodes_most, g->o, isfinite(g->value) ? g->x : NULL, r, g->e));
    if (isfinite(r->value))
        g->value = r->value;
    return WF_OK;
}

/* What a better point must be below. */
static double wanted_below(const struct stages *g)
{
    if (!isfinite(g->value))
        return isfinite(g->o->cutoff) ? g->o->cutoff : (double)INFINITY;
    return g->value - wf_search_room(g->o, g->value);
}

/* Keeps the lots that may be in a better point than the best so far; *struck: what one with any
 * other costs at least. */
static size_t keep_possible(struct stages *g, double root_value, double *struck)
{
    size_t kept = 0;
    double below = wanted_below(g);
    *struck = INFINITY;
    for (size_t i = 0; i < g->part->item_count; i++) {
        g->keep[i] = root_value + g->regret[i] < below;
        kept += g->keep[i];
        if (!g->keep[i])
            *struck = fmin(*struck, root_value + g->regret[i]);
    }
    return kept;
}

/* The solver's own search over the lots that are kept, for a recipe to start from where our dives
 * found none. */
static enum wf_status borrow_start(struct stages *g)
{
    struct wf_solver_options o = {.cutoff = g->o->cutoff,
                                  .gap = BORROWED_GAP,
                                  .seconds = wf_clock_left(g->o->clock) + 0.01,
                                  .nodes = BORROWED_NODES,
                                  .cancel = g->o->clock->options->cancel};
    struct wf_solution s = {0};
    enum wf_status status = WF_MEMORY;
    struct wf_model *small = wf_model_copy(g->part->model);
    if (small == NULL)
        return wf_error_add(g->e, WF_MEMORY, "out of memory");
    for (size_t i = 0; i < g->part->item_count; i++) {
        if (g->keep[i])
            continue;
        wf_model_set_bounds(small, g->part->items[i].weight, 0, 0);
        wf_model_set_bounds(small, g->part->items[i].use, 0, 0);
    }
    WF_TRY_GOTO(wf_solver_run(small, &o, &s, g->e));
    if (s.x != NULL) {
        memcpy(g->x, s.x, (size_t)wf_model_columns(small) * sizeof *g->x);
        g->value = s.value;
    }
done:
    wf_solution_clear(&s);
    wf_model_free(small);
    return status;
}

/* From here on the part is a copy that may be narrowed. */
static enum wf_status copy_part(struct stages *g)
{
    if (g->narrowed.model != NULL)
        return WF_OK;
    g->narrowed = *g->whole;
    g->narrowed.model = wf_model_copy(g->whole->model);
    if (g->narrowed.model == NULL)
        return wf_error_add(g->e, WF_MEMORY, "out of memory");
    g->part = &g->narrowed;
    return WF_OK;
}

/* Lowers the greatest weights to those of points better than the best so far, where that is
 * promising, and bounds the whole anew. */
static enum wf_status narrow(struct stages *g, double *root_value)
{
    struct wf_tree_result root = {0};
    double below = wanted_below(g), struck;
    bool first = isinf(g->below) && isfinite(below), changed;
    if (!first && !(g->below - below > NARROWED_BY * (g->below - *root_value)))
        return WF_OK;
    if (keep_possible(g, *root_value, &struck) < MANY_LOTS)
        return WF_OK;
    WF_TRY(copy_part(g));
    WF_TRY(wf_branch_tighten(g->part, below, &changed, g->e));
    g->below = fmin(g->below, below);
    if (!changed)
        return WF_OK;
    WF_TRY(stage(g, NULL, 1, true, &root));
    *root_value = fmax(*root_value, root.root_value);
    g->bound = fmax(g->bound, fmin(*root_value, below));
    return WF_OK;
}

/* Quick searches over few lots, then over more, until the value of a recipe leaves few that are
 * possible. */
static enum wf_status search_few(struct stages *g, double *root_value)
{
    double struck;
    for (size_t few = FIRST_LOTS; few < keep_possible(g, *root_value, &struck); few *= 3) {
        struct wf_tree_result quick = {0};
        if (isfinite(g->value) && few > FIRST_LOTS &&
            keep_possible(g, *root_value, &struck) < MANY_LOTS)
            break;
        keep_least(g, few);
        WF_TRY(stage(g, g->keep, FIRST_NODES, false, &quick));
        if (!isfinite(g->value) && !quick.finished && wf_clock_left(g->o->clock) > 0)
            WF_TRY(borrow_start(g));
        WF_TRY(narrow(g, root_value));
    }
    return WF_OK;
}

/* All that are possible, anew from the start where a better recipe has struck out enough of them to
 * pay for it. */
static enum wf_status search_all(struct stages *g, double *root_value)
{
    size_t kept = 0, before;
    double struck;
    for (long nodes = ROUND_NODES;; nodes *= 4) {
        struct wf_tree_result rest = {0};
        before = kept;
        WF_TRY(narrow(g, root_value));
        kept = keep_possible(g, *root_value, &struck);
        bool last = kept < MANY_LOTS || (before > 0 && 3 * kept > 2 * before);
        WF_TRY(stage(g, g->keep, last ? WF_TREE_NODES_MOST : nodes, false, &rest));
        g->bound = fmax(g->bound, fmin(g->below, fmin(rest.bound, struck)));
        if (last || rest.finished)
            return WF_OK;
    }
}

static enum wf_status run_stages(struct stages *g)
{
    struct wf_tree_result root = {0};
    bool few = g->part->item_count <= FIRST_LOTS; /* then one search does it all */
    WF_TRY(stage(g, NULL, few ? WF_TREE_NODES_MOST : 1, !few, &root));
    g->bound = root.bound;
    if (few || root.bound >= wanted_below(g) || !isfinite(root.root_value))
        return WF_OK;
    g->bound = root.root_value;
    WF_TRY(search_few(g, &root.root_value));
    return search_all(g, &root.root_value);
}

enum wf_status wf_branch(const struct wf_part *part, const struct wf_search_options *o,
                         struct wf_solution *out, struct wf_error *e)
{
    struct stages g = {.whole = part, .o = o, .e = e};
    enum wf_status status;
    WF_TRY_GOTO(stages_open(&g));
    WF_TRY_GOTO(run_stages(&g));
    *out = (struct wf_solution){.outcome = WF_OUTCOME_UNKNOWN, .value = NAN, .bound = g.bound};
    if (isfinite(g.value)) {
        out->x = g.x;
        g.x = NULL;
        out->value = g.value;
        out->bound = fmin(g.bound, g.value);
        bool close = g.value - out->bound <= wf_search_room(o, g.value) * (1 + 1e-9) + 1e-9;
        out->outcome = close ? WF_OUTCOME_OPTIMAL : WF_OUTCOME_FEASIBLE;
    } else if (g.bound >= (isfinite(o->cutoff) ? o->cutoff : (double)INFINITY)) {
        out->outcome = WF_OUTCOME_INFEASIBLE;
    }
done:
    stages_close(&g);
    return status;
}

/*
 * One search over some of the lots: nodes from the root on until the time, the nodes or the gap say
 * enough.
 */
#include "solve/branch_tree.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>
#include <string.h>

/* Work that one search may do on bettering a point that it has, where the user set no time. */
#define SEARCH_WORK 200000
/* The root is solved whatever is left of the time, so that there is a bound: hundreds of times what
 * it takes. */
#define ROOT_SECONDS 1.0
/* Nodes are closed a hair within the room, so that a bound's distance from its value, summed over
 * the parts and compared with the room, does not pass it by rounding. */
#define ROOM_USED (1 - 1e-6)
/* Of values that are whole numbers. */
#define WHOLE_MARGIN 1e-4

/* ---- Values ---------------------------------------------------------------------------------- */

/* Where every value is whole, a better one is better by one. */
double wf_tree_cutoff(const struct wf_tree *t)
{
    if (!isfinite(t->best_value))
        return isfinite(t->o->cutoff) ? t->o->cutoff : (double)INFINITY;
    if (t->s->whole_value)
        return t->best_value - 1 + WHOLE_MARGIN;
    return t->best_value - ROOM_USED * wf_search_room(t->o, t->best_value);
}

static double rounded_bound(const struct wf_tree *t, double bound)
{
    return t->s->whole_value && isfinite(bound) ? ceil(bound - WHOLE_MARGIN / 2) : bound;
}

/* ---- Memory ---------------------------------------------------------------------------------- */

static double *doubles(struct wf_shape *s, int count)
{
    return wf_arena_alloc(s->arena, (size_t)count + 1, sizeof(double));
}

static enum wf_status tree_open(struct wf_tree *t)
{
    struct wf_shape *s = t->s;
    int columns = wf_model_columns(s->lp), whole = wf_model_columns(s->whole);
    double **arrays[] = {&t->low,       &t->high,         &t->lp_low,    &t->lp_high, &t->root_low,
                         &t->root_high, &t->root_reduced, &t->root_from, &t->x,       &t->reduced,
                         &t->trial,     &t->polished,     &t->terms};
    bool failed = false;
    for (size_t i = 0; i < WF_COUNT_OF(arrays); i++)
        failed = (*arrays[i] = doubles(s, columns)) == NULL || failed;
    failed = (t->best = doubles(s, whole)) == NULL || failed;
    failed = (t->offered = doubles(s, whole)) == NULL || failed;
    failed = (t->activity = doubles(s, s->rows)) == NULL || failed;
    t->state = wf_arena_alloc(s->arena, (size_t)s->lot_count + 1, sizeof *t->state);
    t->gains = wf_arena_alloc(s->arena, 4 * (size_t)columns, sizeof *t->gains);
    t->unit_in = wf_arena_alloc(s->arena, (size_t)s->unit_count + 1, sizeof *t->unit_in);
    t->unit_moved = wf_arena_alloc(s->arena, (size_t)s->unit_count + 1, sizeof *t->unit_moved);
    t->settled = wf_arena_alloc(s->arena, (size_t)s->unit_count + 1, sizeof *t->settled);
    failed = failed || t->settled == NULL || t->unit_in == NULL || t->unit_moved == NULL;
    if (failed || t->state == NULL || t->gains == NULL)
        return wf_error_add(t->e, WF_MEMORY, "out of memory");
    for (int j = 0; j < columns; j++) {
        t->root_low[j] = t->lp_low[j] = wf_model_low(s->lp, j);
        t->root_high[j] = t->lp_high[j] = wf_model_high(s->lp, j);
    }
    t->began = wf_clock_patience(t->o->clock);
    t->best_value = t->closed_bound = INFINITY;
    return wf_lp_open(s->lp, &t->lp, t->e);
}

static void tree_close(struct wf_tree *t)
{
    wf_lp_close(t->lp);
    wf_free(t->nodes);
    wf_free(t->heap);
}

/* ---- Better points --------------------------------------------------------------------------- */

/* By the root's reduced costs: what a lot adds at least, once it is used, and so which are out for
 * good. */
static void tighten_root(struct wf_tree *t)
{
    double cutoff = wf_tree_cutoff(t);
    for (int k = 0; k < t->s->lot_count; k++) {
        double d = t->root_reduced[k], from = t->root_from[k];
        if (t->root_high[k] <= 0 || !(d > 0))
            continue;
        double most = from + floor((cutoff - t->root_value) / d + 1e-9);
        if (from <= 0 && most < t->s->lots[k].least)
            t->root_high[k] = t->root_low[k];
        else
            t->root_high[k] = fmin(t->root_high[k], fmax(most, t->root_low[k]));
    }
}

bool wf_tree_offer(struct wf_tree *t, const double *lp_x)
{
    wf_shape_expand(t->s, lp_x, t->offered);
    double value = wf_model_value(t->s->whole, t->offered);
    bool good = value < t->best_value && !(value >= t->o->cutoff) &&
                wf_model_violation(t->s->whole, t->offered, NULL) <= WF_SOLVER_TOLERANCE;
    if (!good)
        return false;
    memcpy(t->best, t->offered, (size_t)wf_model_columns(t->s->whole) * sizeof *t->best);
    t->best_value = value;
    t->improved = true;
    if (isfinite(t->root_value))
        tighten_root(t);
    return true;
}

/* ---- Nodes ----------------------------------------------------------------------------------- */

static void close_node(struct wf_tree *t, double bound)
{
    t->closed_bound = fmin(t->closed_bound, rounded_bound(t, bound));
}

/* Solves the node in hand. *open: something better may be below it, at *bound. */
static enum wf_status bound_node(struct wf_tree *t, double *bound, bool *open)
{
    double cutoff = wf_tree_cutoff(t);
    struct wf_lp_answer a = {.x = t->x, .reduced = t->reduced};
    WF_TRY(wf_tree_set_lp(t));
    WF_TRY(wf_lp_solve(t->lp, cutoff - t->fixed_charge, &a, t->e));
    *open = a.outcome == WF_OUTCOME_OPTIMAL;
    *bound = a.outcome == WF_OUTCOME_INFEASIBLE ? fmax(cutoff, a.value + t->fixed_charge)
                                                : a.value + t->fixed_charge;
    if (a.outcome == WF_OUTCOME_UNBOUNDED || a.outcome == WF_OUTCOME_UNKNOWN)
        *bound = -INFINITY;
    if (*open && rounded_bound(t, *bound) >= cutoff)
        *open = false;
    return WF_OK;
}

/* A side on which a trial found nothing better is closed at once. */
static enum wf_status add_children(struct wf_tree *t, int node, struct wf_node child[2], int *next)
{
    for (int i = 0; i < 2; i++) {
        int index;
        child[i].parent = node;
        if (isinf(child[i].gain)) {
            close_node(t, child[i].bound);
            continue;
        }
        WF_TRY(wf_tree_add(t, child[i], &index));
        if (*next < 0)
            *next = index;
        else
            WF_TRY(wf_tree_push(t, index));
    }
    return WF_OK;
}

/* One node: its bound, points near it, its children. *next: the child to dive into, or -1. */
static enum wf_status look_at(struct wf_tree *t, int node, int *next)
{
    double bound = node < 0 ? -(double)INFINITY : t->nodes[node].bound, here;
    struct wf_node child[2];
    bool open, splits;
    *next = -1;
    t->looked_at++;
    t->o->clock->work += wf_lp_work(t->lp);
    if (!wf_tree_set_node(t, node))
        return WF_OK; /* nothing is there: no bound is needed */
    WF_TRY(bound_node(t, &here, &open));
    if (node >= 0 && open && t->nodes[node].column < wf_model_columns(t->s->lp))
        wf_tree_learn(t, &t->nodes[node], t->nodes[node].at, here - bound);
    bound = fmax(bound, here);
    if (node < 0) {
        t->root_value = here;
        size_t columns = (size_t)wf_model_columns(t->s->lp);
        memcpy(t->root_reduced, t->reduced, columns * sizeof(double));
        memcpy(t->root_from, t->low, columns * sizeof(double));
    }
    if (!open) {
        close_node(t, bound);
        return WF_OK;
    }
    wf_tree_round(t);
    wf_tree_polish(t);
    if (rounded_bound(t, bound) >= wf_tree_cutoff(t)) {
        close_node(t, bound);
        return WF_OK;
    }
    WF_TRY(wf_tree_pick(t, bound, child, &splits));
    if (!splits) {
        wf_tree_offer(t, t->x);
        close_node(t, bound);
        return WF_OK;
    }
    return add_children(t, node, child, next);
}

static bool may_go_on(const struct wf_tree *t, long nodes_most)
{
    long worked = wf_clock_patience(t->o->clock);
    wf_clock_tell(t->o->clock);
    return t->looked_at < nodes_most && t->node_count < WF_TREE_NODES_MOST &&
           (!isfinite(t->best_value) || worked - t->began < SEARCH_WORK) &&
           wf_clock_left(t->o->clock) > 0 && !wf_clock_cancelled(t->o->clock);
}

static enum wf_status grow_tree(struct wf_tree *t, long nodes_most)
{
    int node = -1;
    t->root_value = -INFINITY;
    WF_TRY(look_at(t, -1, &node));
    while (may_go_on(t, nodes_most) && (node >= 0 || t->heap_count > 0)) {
        if (node < 0) {
            node = wf_tree_pop(t);
            if (rounded_bound(t, t->nodes[node].bound) >= wf_tree_cutoff(t)) {
                close_node(t, t->nodes[node].bound);
                node = -1;
                continue;
            }
        }
        int next;
        WF_TRY(look_at(t, node, &next));
        node = next;
    }
    t->finished = node < 0 && t->heap_count == 0;
    if (node >= 0)
        close_node(t, t->nodes[node].bound);
    while (t->heap_count > 0)
        close_node(t, t->nodes[wf_tree_pop(t)].bound);
    return WF_OK;
}

/* ---- One search over some of the lots -------------------------------------------------------- */

/* What the root's point uses comes first. */
static void fill_regret(const struct wf_tree *t, const struct wf_part *part, double *regret)
{
    for (size_t i = 0; i < part->item_count; i++) {
        regret[i] = INFINITY; /* not in this search */
        for (int k = 0; k < t->s->lot_count; k++)
            if (t->s->lots[k].weight == part->items[i].weight)
                regret[i] = t->x[k] > 1e-9 || t->root_from[k] > 0
                                ? -1e-6
                                : fmax(0, t->root_reduced[k]) * fmax(1, part->items[i].least);
    }
}

enum wf_status wf_tree_search(const struct wf_part *part, const bool *keep, long nodes_most,
                              const struct wf_search_options *o, const double *start,
                              struct wf_tree_result *r, struct wf_error *e)
{
    struct wf_tree t = {.o = o, .e = e};
    enum wf_status status;
    WF_TRY(wf_shape_make(part, keep, &t.s, e));
    WF_TRY_GOTO(tree_open(&t));
    if (start != NULL) {
        memcpy(t.best, start, (size_t)wf_model_columns(part->model) * sizeof(double));
        t.best_value = wf_model_value(part->model, start);
    }
    t.improved = start != NULL;
    wf_tree_polish(&t);
    wf_lp_limit(t.lp, fmax(ROOT_SECONDS, wf_clock_left(o->clock)));
    WF_TRY_GOTO(grow_tree(&t, nodes_most));
    r->root_value = t.root_value;
    r->finished = t.finished;
    r->value = isfinite(t.best_value) ? t.best_value : (double)NAN;
    r->bound = fmin(t.closed_bound, t.best_value);
    if (r->regret != NULL)
        fill_regret(&t, part, r->regret);
    if (isfinite(t.best_value) && r->x != NULL)
        memcpy(r->x, t.best, (size_t)wf_model_columns(part->model) * sizeof(double));
done:
    tree_close(&t);
    wf_shape_free(t.s);
    return status;
}

#include "solve/branch.h"

#include "base/alloc.h"
#include "base/try.h"
#include "solve/branch_tree.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define WHOLE_TOLERANCE 1e-6
/* Of values that are whole numbers. */
#define WHOLE_MARGIN 1e-4
/* Nodes kept at most: some 40 MB would be more than a recipe is worth. */
#define NODES_MOST 200000
/* Nodes between two words to whoever waits. */
#define TELL_NODES 512
/* Lots in the first, quick search, and its nodes. */
#define FIRST_LOTS  16
#define FIRST_NODES 300

/* ---- Values ---------------------------------------------------------------------------------- */

/* Where every value is whole, a better one is better by one. */
double wf_tree_cutoff(const struct wf_tree *t)
{
    if (!isfinite(t->best_value))
        return isfinite(t->o->cutoff) ? t->o->cutoff : (double)INFINITY;
    if (t->s->whole_value)
        return t->best_value - 1 + WHOLE_MARGIN;
    return t->best_value - wf_search_room(t->o, t->best_value);
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
    double **arrays[] = {&t->low,      &t->high,      &t->lp_low,       &t->lp_high,
                         &t->root_low, &t->root_high, &t->root_reduced, &t->x,
                         &t->reduced,  &t->trial,     &t->polished};
    bool failed = false;
    for (size_t i = 0; i < WF_COUNT_OF(arrays); i++)
        failed = (*arrays[i] = doubles(s, columns)) == NULL || failed;
    failed = (t->best = doubles(s, whole)) == NULL || failed;
    failed = (t->activity = doubles(s, s->rows)) == NULL || failed;
    t->state = wf_arena_alloc(s->arena, (size_t)s->lot_count + 1, sizeof *t->state);
    t->gains = wf_arena_alloc(s->arena, 4 * (size_t)columns, sizeof *t->gains);
    if (failed || t->state == NULL || t->gains == NULL)
        return wf_error_add(t->e, WF_MEMORY, "out of memory");
    for (int j = 0; j < columns; j++) {
        t->root_low[j] = t->lp_low[j] = wf_model_low(s->lp, j);
        t->root_high[j] = t->lp_high[j] = wf_model_high(s->lp, j);
    }
    t->best_value = t->closed_bound = INFINITY;
    return wf_lp_open(s->lp, &t->lp, t->e);
}

static void tree_close(struct wf_tree *t)
{
    wf_lp_close(t->lp);
    wf_free(t->nodes);
    wf_free(t->heap);
}

static enum wf_status grow(void **array, int *room, int count, size_t size, struct wf_error *e)
{
    if (count < *room)
        return WF_OK;
    int wider = *room < 64 ? 64 : 2 * *room;
    void *p = wf_realloc(*array, (size_t)wider, size);
    if (p == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    *array = p;
    *room = wider;
    return WF_OK;
}

/* ---- Open nodes: a heap by bound ------------------------------------------------------------- */

static bool before(const struct wf_tree *t, int a, int b)
{
    return t->nodes[a].bound < t->nodes[b].bound ||
           (t->nodes[a].bound <= t->nodes[b].bound && a > b); /* of equals the deeper */
}

static enum wf_status heap_push(struct wf_tree *t, int node)
{
    void *heap = t->heap;
    WF_TRY(grow(&heap, &t->heap_room, t->heap_count, sizeof *t->heap, t->e));
    t->heap = heap;
    int at = t->heap_count++;
    while (at > 0 && before(t, node, t->heap[(at - 1) / 2])) {
        t->heap[at] = t->heap[(at - 1) / 2];
        at = (at - 1) / 2;
    }
    t->heap[at] = node;
    return WF_OK;
}

static int heap_pop(struct wf_tree *t)
{
    int top = t->heap[0], last = t->heap[--t->heap_count], at = 0;
    for (;;) {
        int child = 2 * at + 1;
        if (child >= t->heap_count)
            break;
        if (child + 1 < t->heap_count && before(t, t->heap[child + 1], t->heap[child]))
            child++;
        if (!before(t, t->heap[child], last))
            break;
        t->heap[at] = t->heap[child];
        at = child;
    }
    t->heap[at] = last;
    return top;
}

static enum wf_status new_node(struct wf_tree *t, struct wf_node node, int *index)
{
    void *nodes = t->nodes;
    WF_TRY(grow(&nodes, &t->node_room, t->node_count, sizeof *t->nodes, t->e));
    t->nodes = nodes;
    *index = t->node_count;
    t->nodes[t->node_count++] = node;
    return WF_OK;
}

/* ---- The node in hand ------------------------------------------------------------------------ */

static void decide(struct wf_tree *t, int lot, enum wf_lot_state state)
{
    t->state[lot] = state;
    if (state == WF_LOT_IN)
        t->low[lot] = fmax(t->low[lot], t->s->lots[lot].least);
    else if (state == WF_LOT_OUT)
        t->high[lot] = 0;
}

static void apply(struct wf_tree *t, int node)
{
    if (node < 0)
        return;
    const struct wf_node *n = &t->nodes[node];
    apply(t, n->parent);
    t->low[n->column] = fmax(t->low[n->column], n->low);
    t->high[n->column] = fmin(t->high[n->column], n->high);
    if (n->column < t->s->lot_count && n->state != WF_LOT_OPEN)
        decide(t, n->column, n->state);
}

enum wf_lot_state wf_tree_unit(const struct wf_tree *t, int unit)
{
    const struct wf_unit *u = &t->s->units[unit];
    bool all_out = true;
    for (int k = 0; k < u->count; k++) {
        if (t->state[u->lots[k]] == WF_LOT_IN)
            return WF_LOT_IN;
        all_out = all_out && t->state[u->lots[k]] == WF_LOT_OUT;
    }
    return all_out ? WF_LOT_OUT : WF_LOT_OPEN;
}

/* An open unit is out if all its lots are; that it is in says which lot only where there is but
 * one. */
static void decide_unit(struct wf_tree *t, int unit, enum wf_lot_state state, bool *changed)
{
    const struct wf_unit *u = &t->s->units[unit];
    int open = 0;
    for (int k = 0; k < u->count; k++)
        open += t->state[u->lots[k]] == WF_LOT_OPEN;
    for (int k = 0; k < u->count; k++) {
        if (t->state[u->lots[k]] != WF_LOT_OPEN || (state == WF_LOT_IN && open > 1))
            continue;
        decide(t, u->lots[k], state);
        *changed = true;
    }
}

/* What the counts say of units not yet decided; false: they cannot hold. */
static bool propagate_count(struct wf_tree *t, const struct wf_count_row *c, bool *changed)
{
    int in = 0, open = 0;
    for (int k = 0; k < c->count; k++) {
        enum wf_lot_state state = wf_tree_unit(t, c->units[k]);
        in += state == WF_LOT_IN;
        open += state == WF_LOT_OPEN;
    }
    if (in > c->high + 1e-9 || in + open < c->low - 1e-9)
        return false;
    bool full = in >= c->high - 1e-9, all = in + open <= c->low + 1e-9;
    if (open == 0 || (!full && !all))
        return true;
    for (int k = 0; k < c->count; k++)
        if (wf_tree_unit(t, c->units[k]) == WF_LOT_OPEN)
            decide_unit(t, c->units[k], full ? WF_LOT_OUT : WF_LOT_IN, changed);
    return true;
}

static bool propagate(struct wf_tree *t)
{
    bool changed = true;
    while (changed) {
        changed = false;
        for (int i = 0; i < t->s->count_rows; i++)
            if (!propagate_count(t, &t->s->counts[i], &changed))
                return false;
    }
    for (int k = 0; k < t->s->lot_count; k++)
        if (t->low[k] > t->high[k])
            return false;
    return true;
}

/* Sets bounds and states from the path to the node; false: by logic alone nothing is there. */
static bool set_node(struct wf_tree *t, int node)
{
    int columns = wf_model_columns(t->s->lp);
    memcpy(t->low, t->root_low, (size_t)columns * sizeof(double));
    memcpy(t->high, t->root_high, (size_t)columns * sizeof(double));
    for (int k = 0; k < t->s->lot_count; k++)
        t->state[k] = t->root_high[k] <= 0                    ? WF_LOT_OUT
                      : t->root_low[k] >= t->s->lots[k].least ? WF_LOT_IN
                                                              : WF_LOT_OPEN;
    apply(t, node);
    for (int k = 0; k < t->s->lot_count; k++) {
        const struct wf_lot *lot = &t->s->lots[k];
        if (t->state[k] == WF_LOT_OPEN && t->high[k] < lot->least)
            decide(t, k, WF_LOT_OUT);
        else if (t->state[k] == WF_LOT_OPEN && t->low[k] >= 1)
            decide(t, k, WF_LOT_IN);
    }
    return propagate(t);
}

/* What is in is charged whole; what is undecided by the step. */
static void set_charges(struct wf_tree *t)
{
    for (int u = 0; u < t->s->unit_count; u++) {
        const struct wf_unit *unit = &t->s->units[u];
        if (unit->charge == 0)
            continue;
        bool open = wf_tree_unit(t, u) == WF_LOT_OPEN;
        t->fixed_charge += wf_tree_unit(t, u) == WF_LOT_IN ? unit->charge : 0;
        for (int k = 0; k < unit->count; k++) {
            int lot = unit->lots[k];
            double spread = open ? wf_shape_spread(t->s, lot, t->high[lot]) : 0;
            wf_lp_cost(t->lp, t->s->lots[lot].column, t->s->lots[lot].step_cost + spread);
        }
    }
}

/* Brings the linear program to the node's bounds and charges. */
static void set_lp(struct wf_tree *t)
{
    t->fixed_charge = 0;
    for (int j = 0; j < wf_model_columns(t->s->lp); j++) {
        if (t->low[j] != t->lp_low[j] || t->high[j] != t->lp_high[j])
            wf_lp_bounds(t->lp, j, t->low[j], t->high[j]);
        t->lp_low[j] = t->low[j];
        t->lp_high[j] = t->high[j];
    }
    if (t->s->charged)
        set_charges(t);
}

/* The bound with one more change to the node in hand; its point is left as it is. */
enum wf_status wf_tree_try(struct wf_tree *t, const struct wf_node *n, double *bound)
{
    int j = n->column;
    double low = fmax(t->low[j], n->low), high = fmin(t->high[j], n->high);
    if (n->state == WF_LOT_IN)
        low = fmax(low, t->s->lots[j].least);
    if (n->state == WF_LOT_OUT)
        high = 0;
    *bound = INFINITY;
    if (low > high)
        return WF_OK;
    struct wf_lp_answer a = {0};
    wf_lp_bounds(t->lp, j, low, high);
    enum wf_status status = wf_lp_solve(t->lp, wf_tree_cutoff(t) - t->fixed_charge, &a, t->e);
    wf_lp_bounds(t->lp, j, t->low[j], t->high[j]);
    bool known = a.outcome == WF_OUTCOME_OPTIMAL || a.outcome == WF_OUTCOME_INFEASIBLE;
    *bound = known ? a.value + t->fixed_charge : -(double)INFINITY;
    return status;
}

/* ---- Better points --------------------------------------------------------------------------- */

/* By the root's reduced costs: what a lot adds at least, once it is used, and so which are out for
 * good. */
static void tighten_root(struct wf_tree *t)
{
    double cutoff = wf_tree_cutoff(t);
    for (int k = 0; k < t->s->lot_count; k++) {
        double d = t->root_reduced[k];
        if (t->root_high[k] <= 0 || !(d > 0))
            continue;
        double most = floor((cutoff - t->root_value) / d + 1e-9);
        if (most < t->s->lots[k].least)
            t->root_high[k] = t->root_low[k];
        else
            t->root_high[k] = fmin(t->root_high[k], fmax(most, t->root_low[k]));
    }
}

bool wf_tree_offer(struct wf_tree *t, const double *lp_x)
{
    double *x = wf_alloc((size_t)wf_model_columns(t->s->whole), sizeof *x);
    if (x == NULL)
        return false; /* a point less; the search goes on */
    wf_shape_expand(t->s, lp_x, x);
    double value = wf_model_value(t->s->whole, x);
    bool good = value < t->best_value && !(value >= t->o->cutoff) &&
                wf_model_violation(t->s->whole, x, NULL) <= WF_SOLVER_TOLERANCE;
    if (good) {
        memcpy(t->best, x, (size_t)wf_model_columns(t->s->whole) * sizeof *x);
        t->best_value = value;
        if (isfinite(t->root_value))
            tighten_root(t);
    }
    wf_free(x);
    t->improved = t->improved || good;
    return good;
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
    set_lp(t);
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
static enum wf_status add_children(struct wf_tree *t, int node, double bound,
                                   struct wf_node child[2], int *next)
{
    for (int i = 0; i < 2; i++) {
        int index;
        child[i].parent = node;
        child[i].bound = bound;
        if (isinf(child[i].gain)) {
            close_node(t, wf_tree_cutoff(t));
            continue;
        }
        WF_TRY(new_node(t, child[i], &index));
        if (*next < 0)
            *next = index;
        else
            WF_TRY(heap_push(t, index));
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
    if (!set_node(t, node))
        return WF_OK; /* nothing is there: no bound is needed */
    WF_TRY(bound_node(t, &here, &open));
    if (node >= 0 && open)
        wf_tree_learn(t, &t->nodes[node], t->nodes[node].at, here - bound);
    bound = fmax(bound, here);
    if (node < 0) {
        t->root_value = here;
        memcpy(t->root_reduced, t->reduced, (size_t)wf_model_columns(t->s->lp) * sizeof(double));
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
    return add_children(t, node, bound, child, next);
}

static bool may_go_on(const struct wf_tree *t, long nodes_most)
{
    if (t->looked_at % TELL_NODES == 0)
        wf_clock_tell(t->o->clock);
    return t->looked_at < nodes_most && t->node_count < NODES_MOST &&
           wf_clock_left(t->o->clock) > 0 && !wf_clock_cancelled(t->o->clock);
}

static enum wf_status grow_tree(struct wf_tree *t, long nodes_most)
{
    int node = -1;
    t->root_value = -INFINITY;
    WF_TRY(look_at(t, -1, &node));
    while (may_go_on(t, nodes_most) && (node >= 0 || t->heap_count > 0)) {
        if (node < 0) {
            node = heap_pop(t);
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
    if (node >= 0)
        close_node(t, t->nodes[node].bound);
    while (t->heap_count > 0)
        close_node(t, t->nodes[heap_pop(t)].bound);
    return WF_OK;
}

/* ---- One search over some of the lots -------------------------------------------------------- */

struct result {
    double *x; /* the whole model's; NULL: none */
    double value, bound;
    double root_value;
    double *regret; /* of each item: what it adds at least, by the root's reduced costs; NULL: not
                       wanted */
};

static void fill_regret(const struct wf_tree *t, const struct wf_part *part, double *regret)
{
    for (size_t i = 0; i < part->item_count; i++) {
        regret[i] = INFINITY; /* not in this search */
        for (int k = 0; k < t->s->lot_count; k++)
            if (t->s->lots[k].weight == part->items[i].weight)
                regret[i] = fmax(0, t->root_reduced[k]) * fmax(1, part->items[i].least);
    }
}

static enum wf_status search_lots(const struct wf_part *part, const bool *keep, long nodes_most,
                                  const struct wf_search_options *o, const double *start,
                                  struct result *r, struct wf_error *e)
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
    wf_lp_limit(t.lp, fmax(0.001, wf_clock_left(o->clock)));
    WF_TRY_GOTO(grow_tree(&t, nodes_most));
#ifdef WF_PROF
    fprintf(stderr, "  lots %d rows %d nodes %ld time %.3f value %.5f bound %.5f root %.5f\n",
            t.s->lot_count, t.s->rows, t.looked_at, wf_clock_seconds(o->clock), t.best_value,
            t.closed_bound, t.root_value);
#endif
    r->root_value = t.root_value;
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

/* ---- The whole: root, quick search, the rest ------------------------------------------------- */

struct stages {
    const struct wf_part *part;
    const struct wf_search_options *o;
    struct wf_error *e;
    double *x, *regret;
    bool *keep;
    size_t *order; /* items, least regret first */
    double value, bound;
};

static enum wf_status stages_open(struct stages *g)
{
    size_t items = g->part->item_count + 1;
    g->x = wf_alloc((size_t)wf_model_columns(g->part->model), sizeof *g->x);
    g->regret = wf_alloc(items, sizeof *g->regret);
    g->keep = wf_alloc(items, sizeof *g->keep);
    g->order = wf_alloc(items, sizeof *g->order);
    g->value = NAN;
    if (g->x != NULL && g->o->start != NULL) {
        memcpy(g->x, g->o->start, (size_t)wf_model_columns(g->part->model) * sizeof *g->x);
        g->value = wf_model_value(g->part->model, g->x);
    }
    if (g->x == NULL || g->regret == NULL || g->keep == NULL || g->order == NULL)
        return wf_error_add(g->e, WF_MEMORY, "out of memory");
    return WF_OK;
}

static void stages_close(struct stages *g)
{
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
                            struct result *r)
{
    r->x = g->x;
    r->regret = want_regret ? g->regret : NULL;
    WF_TRY(search_lots(g->part, keep, nodes_most, g->o, isfinite(g->value) ? g->x : NULL, r, g->e));
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

static enum wf_status run_stages(struct stages *g)
{
    struct result root = {0}, quick = {0}, rest = {0};
    WF_TRY(stage(g, NULL, 1, true, &root));
    g->bound = root.bound;
    if (root.bound >= wanted_below(g) || !isfinite(root.root_value))
        return WF_OK;
    if (g->part->item_count > FIRST_LOTS) {
        keep_least(g, FIRST_LOTS);
        WF_TRY(stage(g, g->keep, FIRST_NODES, false, &quick));
    }
    double below = wanted_below(g), struck = INFINITY;
    for (size_t i = 0; i < g->part->item_count; i++) {
        g->keep[i] = root.root_value + g->regret[i] < below;
        if (!g->keep[i])
            struck = fmin(struck, root.root_value + g->regret[i]);
    }
    WF_TRY(stage(g, g->keep, NODES_MOST, false, &rest));
    g->bound = fmax(root.root_value, fmin(rest.bound, struck));
    return WF_OK;
}

enum wf_status wf_branch(const struct wf_part *part, const struct wf_search_options *o,
                         struct wf_solution *out, struct wf_error *e)
{
    struct stages g = {.part = part, .o = o, .e = e};
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

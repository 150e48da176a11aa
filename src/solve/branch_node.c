/*
 * The node in hand: bounds and states from the path to it, what the counts say of them, and the
 * linear program brought to both.
 */
#include "solve/branch_split.h"

#include "base/alloc.h"
#include "base/try.h"

#include <math.h>
#include <string.h>

static void decide(struct wf_tree *t, int lot, enum wf_lot_state state)
{
    t->state[lot] = state;
    if (state == WF_LOT_IN)
        t->low[lot] = fmax(t->low[lot], t->s->lots[lot].least);
    else if (state == WF_LOT_OUT)
        t->high[lot] = 0;
}

static void leave_out(void *self, int lot)
{
    decide(self, lot, WF_LOT_OUT);
}

static void apply(struct wf_tree *t, int node)
{
    if (node < 0)
        return;
    const struct wf_node *n = &t->nodes[node];
    apply(t, n->parent);
    if (n->column >= wf_model_columns(t->s->lp)) {
        wf_tree_leave_out(t, n, leave_out, t);
        return;
    }
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
bool wf_tree_set_node(struct wf_tree *t, int node)
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
    for (int u = 0; u < t->s->unit_count; u++)
        t->settled[u] = wf_tree_unit(t, u) == WF_LOT_IN;
    return propagate(t);
}

/* Spread: an undecided unit's charge is borne by the steps of its lots. */
static void charge_steps(struct wf_tree *t, const struct wf_unit *u, bool spread)
{
    for (int k = 0; k < u->count; k++) {
        int lot = u->lots[k];
        double part = spread ? wf_shape_spread(t->s, lot, t->high[lot]) : 0;
        wf_lp_cost(t->lp, t->s->lots[lot].column, t->s->lots[lot].step_cost + part);
    }
}

/* What is in is charged whole; what is undecided by the step. */
static void set_charges(struct wf_tree *t)
{
    for (int u = 0; u < t->s->unit_count; u++) {
        const struct wf_unit *unit = &t->s->units[u];
        if (unit->charge == 0)
            continue;
        t->fixed_charge += wf_tree_unit(t, u) == WF_LOT_IN ? unit->charge : 0;
        charge_steps(t, unit, wf_tree_unit(t, u) == WF_LOT_OPEN);
    }
}

/* A unit that is in counts whole, and then its weight tells nothing. */
static enum wf_status set_size(struct wf_tree *t, const struct wf_size *z)
{
    int in = 0;
    for (int i = 0; i < z->count; i++) {
        const struct wf_unit *u = &t->s->units[z->units[i]];
        bool counted = t->unit_in[z->units[i]];
        in += counted;
        for (int k = 0; k < u->count; k++)
            t->terms[t->s->lots[u->lots[k]].column] =
                counted ? 0 : wf_shape_presence(t->s, u, u->lots[k]);
    }
    t->terms[z->column] = -1;
    wf_lp_row(t->lp, z->row, -(double)INFINITY, -in);
    return wf_lp_terms(t->lp, z->row, t->terms, t->e);
}

static enum wf_status set_sizes(struct wf_tree *t)
{
    const struct wf_shape *s = t->s;
    for (int u = 0; u < s->unit_count; u++) {
        bool in = wf_tree_unit(t, u) == WF_LOT_IN;
        t->unit_moved[u] = in != t->unit_in[u];
        t->unit_in[u] = in;
    }
    for (int i = 0; i < s->size_count; i++) {
        bool moved = false;
        for (int k = 0; k < s->sizes[i].count; k++)
            moved = moved || t->unit_moved[s->sizes[i].units[k]];
        if (moved)
            WF_TRY(set_size(t, &s->sizes[i]));
    }
    return WF_OK;
}

/* Brings the linear program to the node's bounds, charges and counts. */
enum wf_status wf_tree_set_lp(struct wf_tree *t)
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
    return t->s->size_count > 0 ? set_sizes(t) : WF_OK;
}

static void try_out(void *self, int lot)
{
    struct wf_tree *t = self;
    wf_lp_bounds(t->lp, lot, 0, 0);
}

static void put_back(void *self, int lot)
{
    struct wf_tree *t = self;
    wf_lp_bounds(t->lp, lot, t->low[lot], t->high[lot]);
}

/* `charge`: beyond what the node has. */
static enum wf_status bound_trial(struct wf_tree *t, double charge, double *bound)
{
    struct wf_lp_answer a = {0};
    double fixed = t->fixed_charge + charge;
    t->o->clock->work += wf_lp_work(t->lp);
    WF_TRY(wf_lp_solve(t->lp, wf_tree_cutoff(t) - fixed, &a, t->e));
    bool known = a.outcome == WF_OUTCOME_OPTIMAL || a.outcome == WF_OUTCOME_INFEASIBLE;
    *bound = known ? a.value + fixed : -(double)INFINITY;
    return WF_OK;
}

/* The undecided unit whose charge a lot brings that is in; NULL: none. */
static const struct wf_unit *brings_charge(const struct wf_tree *t, const struct wf_node *n)
{
    int unit = n->state == WF_LOT_IN ? t->s->lots[n->column].charged : -1;
    return unit >= 0 && wf_tree_unit(t, unit) == WF_LOT_OPEN ? &t->s->units[unit] : NULL;
}

/* The bound with one more change to the node in hand; its point is left as it is. */
enum wf_status wf_tree_try(struct wf_tree *t, const struct wf_node *n, double *bound)
{
    int j = n->column;
    if (j >= wf_model_columns(t->s->lp)) {
        wf_tree_leave_out(t, n, try_out, t);
        enum wf_status tried = bound_trial(t, 0, bound);
        wf_tree_leave_out(t, n, put_back, t);
        return tried;
    }
    double low = fmax(t->low[j], n->low), high = fmin(t->high[j], n->high);
    if (n->state == WF_LOT_IN)
        low = fmax(low, t->s->lots[j].least);
    if (n->state == WF_LOT_OUT)
        high = 0;
    *bound = INFINITY;
    if (low > high)
        return WF_OK;
    const struct wf_unit *charged = brings_charge(t, n);
    wf_lp_bounds(t->lp, j, low, high);
    if (charged != NULL)
        charge_steps(t, charged, false);
    enum wf_status status = bound_trial(t, charged != NULL ? charged->charge : 0, bound);
    if (charged != NULL)
        charge_steps(t, charged, true);
    wf_lp_bounds(t->lp, j, t->low[j], t->high[j]);
    return status;
}

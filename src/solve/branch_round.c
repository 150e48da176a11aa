/*
 * Recipes near a point of the linear program. Of the lots that it uses, all but one are set to the
 * steps below and above; for the last, of the finest effect on the cost, the rows leave an
 * interval, whose cheap end is taken. So each combination costs a few dozen operations and no
 * linear program.
 */
#include "solve/branch_tree.h"

#include <math.h>

/* Lots that a neighbourhood may span: 2 to this power of combinations at most. */
#define NEAR_LOTS 9
/* Steps that are tried for the last lot, at most. */
#define TRIED_STEPS 10
/* A better point is polished by moves of so many steps, so often. */
#define POLISH_STEPS  3
#define POLISH_PASSES 8

struct near {
    struct wf_tree *t;
    const double *low, *high; /* of each lot's steps */
    int lots[NEAR_LOTS];      /* the last is the one that is fitted */
    int count;
    double cost; /* of what is set so far */
};

static const double *effect(const struct near *n, int row)
{
    return &n->t->s->dense[(size_t)row * (size_t)n->t->s->lot_count];
}

static void set_steps(struct near *n, int lot, double steps)
{
    struct wf_tree *t = n->t;
    double by = steps - t->trial[lot];
    if (by == 0)
        return;
    const struct wf_lot *l = &t->s->lots[lot];
    for (int r = 0; r < t->s->rows; r++)
        t->activity[r] += by * effect(n, r)[lot];
    n->cost += by * l->step_cost;
    t->trial[lot] = steps;
}

/* The interval of the lot's steps that its bounds and every row leave, the others as they are. */
static bool interval(const struct near *n, int lot, double *low, double *high)
{
    const struct wf_tree *t = n->t;
    *low = n->high[lot] <= 0 ? 0 : fmax(n->low[lot], t->s->lots[lot].least);
    *high = n->high[lot];
    for (int r = 0; r < t->s->rows && *low <= *high; r++) {
        double a = effect(n, r)[lot], act = t->activity[r] - a * t->trial[lot];
        double room = 1e-9 * fmax(1, fabs(act));
        if (fabs(a) < 1e-13) {
            if (act < t->s->row_low[r] - room || act > t->s->row_high[r] + room)
                return false;
            continue;
        }
        double p = (t->s->row_low[r] - room - act) / a, q = (t->s->row_high[r] + room - act) / a;
        *low = fmax(*low, fmin(p, q));
        *high = fmin(*high, fmax(p, q));
    }
    *low = ceil(*low - 1e-9);
    *high = floor(*high + 1e-9);
    return *low <= *high;
}

static bool present(const struct wf_tree *t, const struct wf_unit *u)
{
    for (int k = 0; k < u->count; k++)
        if (t->trial[u->lots[k]] > 0)
            return true;
    return false;
}

static double charges(const struct wf_tree *t)
{
    double sum = 0;
    for (int u = 0; t->s->charged && u < t->s->unit_count; u++)
        if (t->s->units[u].charge != 0 && present(t, &t->s->units[u]))
            sum += t->s->units[u].charge;
    return sum;
}

/* What the weights as they are cost with all that is tied to them; +inf: they do not fit. */
static double value_of(struct near *n)
{
    struct wf_tree *t = n->t;
    return n->cost + charges(t) + wf_model_offset(t->s->whole) +
           wf_shape_complete(t->s, t->activity, t->trial);
}

static void offer(struct near *n)
{
    struct wf_tree *t = n->t;
    if (value_of(n) >= wf_tree_cutoff(t))
        return;
    if (t->s->total >= 0) {
        double total = 0;
        for (int k = 0; k < t->s->lot_count; k++)
            total += t->trial[k] * t->s->lots[k].in_total;
        t->trial[t->s->total] = total;
    }
    wf_tree_offer(t, t->trial);
}

/* The steps in the interval that may be best: its ends, and where the lot meets an aim. */
static int candidates(const struct near *n, int lot, double low, double high, double *steps)
{
    const struct wf_tree *t = n->t;
    int count = 0;
    steps[count++] = low;
    if (high > low)
        steps[count++] = high;
    for (int i = 0; i < t->s->tied_count && count + 2 <= TRIED_STEPS; i++) {
        const struct wf_tied *tied = &t->s->tied[i];
        double a = effect(n, tied->row)[lot];
        if (tied->whole || fabs(a) < 1e-13)
            continue;
        double meets = t->trial[lot] + (tied->low - t->activity[tied->row]) / a;
        steps[count++] = fmin(fmax(floor(meets), low), high);
        steps[count++] = fmin(fmax(floor(meets) + 1, low), high);
    }
    return count;
}

/* Sets the lot to the best steps that the others leave it, if there are any, offers the point, and
 * sets it back. */
static void fit(struct near *n, int lot)
{
    double low, high, before = n->t->trial[lot], steps[TRIED_STEPS], best = INFINITY, at = 0;
    if (!interval(n, lot, &low, &high))
        return;
    int count = candidates(n, lot, low, high, steps);
    for (int i = 0; i < count; i++) {
        set_steps(n, lot, steps[i]);
        double value = value_of(n);
        if (value < best) {
            best = value;
            at = steps[i];
        }
    }
    if (isfinite(best)) {
        set_steps(n, lot, at);
        offer(n);
    }
    set_steps(n, lot, before);
}

static void try_lot(struct near *n, int k)
{
    struct wf_tree *t = n->t;
    if (k == n->count - 1) {
        fit(n, n->lots[k]);
        return;
    }
    int lot = n->lots[k];
    double least = fmax(n->low[lot], fmin(t->s->lots[lot].least, n->high[lot]));
    double below = floor(t->x[lot] + 1e-9);
    for (int up = 0; up < 2; up++) {
        double steps = fmin(fmax(below + up, least), n->high[lot]);
        if (up == 1 && steps == fmin(fmax(below, least), n->high[lot]))
            break;
        set_steps(n, lot, steps);
        try_lot(n, k + 1);
    }
}

static bool counts_hold(const struct wf_tree *t)
{
    for (int i = 0; i < t->s->count_rows; i++) {
        const struct wf_count_row *c = &t->s->counts[i];
        int used = 0;
        for (int k = 0; k < c->count; k++)
            used += present(t, &t->s->units[c->units[k]]);
        if (used < c->low - 1e-9 || used > c->high + 1e-9)
            return false;
    }
    return true;
}

static bool finer(const struct wf_lot *a, const struct wf_lot *b)
{
    return a->step_cost < b->step_cost || (a->step_cost <= b->step_cost && a->step < b->step);
}

/* The used lots, the one whose step costs least last. */
static bool gather(struct near *n)
{
    const struct wf_tree *t = n->t;
    for (int k = 0; k < t->s->lot_count; k++) {
        if (!(t->x[k] > 1e-7))
            continue;
        if (n->count == NEAR_LOTS)
            return false;
        n->lots[n->count++] = k;
    }
    int finest = 0;
    for (int i = 1; i < n->count; i++)
        if (finer(&t->s->lots[n->lots[i]], &t->s->lots[n->lots[finest]]))
            finest = i;
    if (n->count > 0) {
        int lot = n->lots[finest];
        n->lots[finest] = n->lots[n->count - 1];
        n->lots[n->count - 1] = lot;
    }
    return n->count > 0;
}

static void start(struct near *n, const double *steps)
{
    struct wf_tree *t = n->t;
    n->cost = 0;
    for (int r = 0; r < t->s->rows; r++)
        t->activity[r] = 0;
    for (int k = 0; k < t->s->lot_count; k++)
        t->trial[k] = 0;
    for (int k = 0; k < t->s->lot_count; k++)
        set_steps(n, k, steps == NULL ? 0 : steps[k]);
}

void wf_tree_round(struct wf_tree *t)
{
    struct near n = {.t = t, .low = t->low, .high = t->high};
    if (!t->s->plain || !gather(&n))
        return;
    start(&n, NULL);
    /* Used lots start at one step so that the counts can be judged before any combination is. */
    for (int i = 0; i < n.count; i++)
        set_steps(&n, n.lots[i], fmax(1, t->s->lots[n.lots[i]].least));
    if (counts_hold(t))
        try_lot(&n, 0);
}

/* ---- Polish ---------------------------------------------------------------------------------- */

static void best_steps(const struct wf_tree *t, double *steps)
{
    for (int k = 0; k < t->s->lot_count; k++)
        steps[k] = t->best[t->s->lots[k].weight];
}

/* Moves of one lot by a few steps, each other lot fitted to it in turn. */
static void move_lot(struct near *n, int lot)
{
    struct wf_tree *t = n->t;
    double before = t->trial[lot];
    for (int by = -POLISH_STEPS; by <= POLISH_STEPS; by++) {
        double steps = before + by;
        if (steps < t->s->lots[lot].least || steps > n->high[lot])
            continue;
        set_steps(n, lot, steps);
        for (int k = 0; k < t->s->lot_count; k++)
            if (k != lot && t->trial[k] > 0)
                fit(n, k);
    }
    set_steps(n, lot, before);
}

void wf_tree_polish(struct wf_tree *t)
{
    struct near n = {.t = t, .low = t->root_low, .high = t->root_high};
    double value = INFINITY;
    if (!t->s->plain || !t->improved)
        return;
    for (int pass = 0; pass < POLISH_PASSES && t->best_value < value; pass++) {
        value = t->best_value;
        best_steps(t, t->polished);
        start(&n, t->polished);
        for (int k = 0; k < t->s->lot_count; k++)
            if (t->trial[k] > 0)
                move_lot(&n, k);
    }
    t->improved = false;
}

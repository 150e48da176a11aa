/*
 * What to branch on. Candidates are the lots that the point leaves below their least weight, or
 * that a count leaves open, and the columns that are not whole. Each is judged by what its two
 * sides have raised the bound by so far (pseudo-costs), and while too little is known, by trying
 * both (reliability branching: Achterberg, Koch and Martin, Operations Research Letters 33, 2005).
 * A side on which nothing better can be decides the matter.
 */
#include "solve/branch_split.h"

#include "base/try.h"

#include <math.h>

#define WHOLE_TOLERANCE 1e-6
/* Tries of a side after which its mean is trusted. */
#define TRUSTED 1
/* Candidates that are tried at a node, at most, and of these splits. */
#define TRIED_MOST  8
#define SPLITS_MOST 2

struct candidate {
    int column;
    bool use;   /* decide the lot; else bound the column */
    bool split; /* of a set, by `row`, at `at` */
    int row;
    double at;       /* its value in the point */
    double urgency;  /* who is looked at first */
    double gain[2];  /* expected or tried: down or out, up or in */
    double bound[2]; /* of these sides: of one that is closed, as tried; else of the node, by which
                        the next to look at is better chosen (measured) */
};

struct pick {
    struct wf_tree *t;
    double bound; /* of the node */
    struct candidate list[TRIED_MOST];
    int count;
};

/* ---- Candidates ------------------------------------------------------------------------------ */

static void add(struct pick *p, struct candidate c)
{
    int at = p->count < TRIED_MOST ? p->count++ : TRIED_MOST - 1;
    if (at == TRIED_MOST - 1 && p->count == TRIED_MOST && p->list[at].urgency >= c.urgency &&
        p->list[at].column >= 0)
        return;
    for (; at > 0 && p->list[at - 1].urgency < c.urgency; at--)
        p->list[at] = p->list[at - 1];
    p->list[at] = c;
}

static void add_uses(struct pick *p)
{
    const struct wf_tree *t = p->t;
    for (int k = 0; k < t->s->lot_count; k++) {
        const struct wf_lot *lot = &t->s->lots[k];
        if (t->state[k] != WF_LOT_OPEN || !(t->x[k] > WHOLE_TOLERANCE))
            continue;
        bool below = t->x[k] < lot->least - WHOLE_TOLERANCE;
        bool charged = lot->charged >= 0 && wf_tree_unit(t, lot->charged) == WF_LOT_OPEN;
        if (!below && !charged)
            continue;
        double part = below ? t->x[k] / lot->least : t->x[k] / fmax(t->high[k], 1);
        add(p, (struct candidate){.column = k,
                                  .use = true,
                                  .at = t->x[k],
                                  .urgency = 10 + fmin(part, 1 - part) + charged});
    }
}

/* Whether the column says how many units of a size are in, of a count that is used up: else it is
 * not whole only because nothing moves it. */
static bool tells_count(const struct wf_tree *t, int column)
{
    const struct wf_shape *s = t->s;
    int at = column - s->sums;
    double sum = 0;
    if (at < 0 || at >= s->size_count)
        return false;
    int count = s->sizes[at].count_row;
    for (int i = 0; i < s->size_count; i++)
        if (s->sizes[i].count_row == count)
            sum += t->x[s->sizes[i].column];
    return sum >= floor(s->counts[count].high + 1e-9) - WHOLE_TOLERANCE;
}

static void add_columns(struct pick *p)
{
    const struct wf_tree *t = p->t;
    for (int j = 0; j < wf_model_columns(t->s->lp); j++) {
        double away = fabs(t->x[j] - round(t->x[j]));
        if (!wf_model_integer(t->s->lp, j) || away <= WHOLE_TOLERANCE)
            continue;
        double urgency = away * (1e-6 + fabs(wf_model_cost(t->s->lp, j)));
        if (tells_count(t, j))
            urgency = 20 + away;
        add(p, (struct candidate){.column = j, .at = t->x[j], .urgency = urgency});
    }
}

static double most_used(const struct wf_tree *t, const struct wf_unit *u, int *lot)
{
    *lot = -1;
    for (int k = 0; k < u->count; k++)
        if (*lot < 0 || t->x[u->lots[k]] > t->x[*lot])
            *lot = u->lots[k];
    return *lot < 0 ? 0 : t->x[*lot];
}

/* The most promising undecided lot of units that the point does not use; -1: none. */
static int spare_lot(const struct wf_tree *t, const struct wf_count_row *c)
{
    int spare = -1;
    for (int i = 0; i < c->count; i++) {
        const struct wf_unit *u = &t->s->units[c->units[i]];
        int lot;
        if (most_used(t, u, &lot) > WHOLE_TOLERANCE || wf_tree_unit(t, c->units[i]) != WF_LOT_OPEN)
            continue;
        for (int k = 0; k < u->count; k++)
            if (t->state[u->lots[k]] == WF_LOT_OPEN &&
                (spare < 0 || t->reduced[u->lots[k]] < t->reduced[spare]))
                spare = u->lots[k];
    }
    return spare;
}

/* Lots of units that the point uses, undecided, though with them a count is passed; or the most
 * promising that it does not use, where it falls short of one. */
static void add_count(struct pick *p, const struct wf_count_row *c)
{
    const struct wf_tree *t = p->t;
    int used = 0, lot;
    for (int i = 0; i < c->count; i++)
        used += most_used(t, &t->s->units[c->units[i]], &lot) > WHOLE_TOLERANCE;
    if (used < c->low - 1e-9 && (lot = spare_lot(t, c)) >= 0)
        add(p, (struct candidate){.column = lot, .use = true, .urgency = 5});
    for (int i = 0; used > c->high + 1e-9 && i < c->count; i++) {
        double x = most_used(t, &t->s->units[c->units[i]], &lot);
        if (wf_tree_unit(t, c->units[i]) == WF_LOT_OPEN && lot >= 0 &&
            t->state[lot] == WF_LOT_OPEN && x >= t->s->lots[lot].least - WHOLE_TOLERANCE)
            add(p, (struct candidate){
                       .column = lot, .use = true, .at = x, .urgency = 5 + 1 / (1 + x)});
    }
}

static void add_splits(struct pick *p)
{
    struct wf_split best[SPLITS_MOST];
    int count = wf_tree_splits(p->t, best, SPLITS_MOST);
    for (int i = 0; i < count; i++)
        add(p, (struct candidate){.column = wf_model_columns(p->t->s->lp) + best[i].set,
                                  .split = true,
                                  .row = best[i].row,
                                  .at = best[i].at,
                                  .urgency = 30 + best[i].apart});
}

/* ---- The two sides --------------------------------------------------------------------------- */

static struct wf_node side(const struct candidate *c, int up)
{
    struct wf_node n = {
        .column = c->column, .row = c->row, .low = -(double)INFINITY, .high = INFINITY};
    if (c->split)
        *(up ? &n.low : &n.high) = c->at;
    else if (c->use)
        n.state = up ? WF_LOT_IN : WF_LOT_OUT;
    else if (up)
        n.low = floor(c->at + WHOLE_TOLERANCE) + 1;
    else
        n.high = floor(c->at + WHOLE_TOLERANCE);
    return n;
}

/* How far the side moves the column, in which its gains are measured. */
static double distance(const struct candidate *c, int up)
{
    if (c->use)
        return 1;
    double part = c->at - floor(c->at);
    return fmax(up ? 1 - part : part, 1e-3);
}

static struct wf_gain *gains(const struct wf_tree *t, const struct candidate *c, int up)
{
    return &t->gains[4 * c->column + 2 * (c->use ? 1 : 0) + up];
}

void wf_tree_learn(struct wf_tree *t, const struct wf_node *n, double at, double gain)
{
    struct candidate c = {.column = n->column, .use = n->state != WF_LOT_OPEN, .at = at};
    int up = c.use ? n->state == WF_LOT_IN : isfinite(n->low);
    struct wf_gain *g = gains(t, &c, up);
    g->sum += fmax(gain, 0) / distance(&c, up);
    g->count++;
}

/* ---- Judgement ------------------------------------------------------------------------------- */

/* Tries the side: what it raises the bound by; +inf: nothing better is there. */
static enum wf_status try_side(struct pick *p, struct candidate *c, int up)
{
    struct wf_tree *t = p->t;
    struct wf_node n = side(c, up);
    double bound, *gain = &c->gain[up];
    WF_TRY(wf_tree_try(t, &n, &bound));
    *gain = bound >= wf_tree_cutoff(t) ? (double)INFINITY : fmax(0, bound - p->bound);
    if (isinf(*gain))
        c->bound[up] = fmax(bound, p->bound);
    if (isfinite(*gain) && !c->split)
        wf_tree_learn(t, &n, c->at, *gain);
    return WF_OK;
}

static enum wf_status judge(struct pick *p, struct candidate *c, bool *decided)
{
    for (int up = 0; up < 2; up++) {
        const struct wf_gain *g = c->split ? NULL : gains(p->t, c, up);
        bool known = g != NULL && g->count >= TRUSTED;
        if (known)
            c->gain[up] = g->count > 0 ? g->sum / g->count * distance(c, up) : c->urgency;
        else
            WF_TRY(try_side(p, c, up));
        *decided = *decided || isinf(c->gain[up]);
    }
    return WF_OK;
}

/* The weaker side counts most; the factor is the usual one of that literature. */
static double score(const struct candidate *c)
{
    double least = fmin(c->gain[0], c->gain[1]), most = fmax(c->gain[0], c->gain[1]);
    return least + fmin(most, 1) / 6;
}

/* The children, the one that raises the bound less first. */
static void children(const struct pick *p, const struct candidate *c, struct wf_node child[2])
{
    int first = c->gain[1] < c->gain[0] ? 1 : 0;
    if (c->use && c->gain[0] == c->gain[1])
        first = c->at >= 0.5 * p->t->s->lots[c->column].least;
    child[0] = side(c, first);
    child[1] = side(c, 1 - first);
    child[0].gain = c->gain[first];
    child[1].gain = c->gain[1 - first];
    child[0].at = child[1].at = c->at;
    child[0].bound = c->bound[first];
    child[1].bound = c->bound[1 - first];
}

enum wf_status wf_tree_pick(struct wf_tree *t, double bound, struct wf_node child[2], bool *found)
{
    struct pick p = {.t = t, .bound = bound};
    bool decided = false;
    int best = 0;
    add_splits(&p);
    add_uses(&p);
    for (int i = 0; i < t->s->count_rows; i++)
        add_count(&p, &t->s->counts[i]);
    add_columns(&p);
    *found = p.count > 0;
    for (int i = 0; i < p.count && !decided; i++) {
        p.list[i].bound[0] = p.list[i].bound[1] = bound;
        if (p.count > 1)
            WF_TRY(judge(&p, &p.list[i], &decided));
        if (decided || score(&p.list[i]) > score(&p.list[best]))
            best = i;
    }
    if (*found)
        children(&p, &p.list[best], child);
    return WF_OK;
}

/*
 * branch_tree.h: the search in hand, shared by branch_tree.c (the search), branch_node.c (bounds
 * and states), branch_heap.c (open nodes), branch_pick.c (what to branch on) and branch_round.c
 * (recipes near a point).
 */
#ifndef WF_BRANCH_TREE_H
#define WF_BRANCH_TREE_H

#include "solve/branch_shape.h"

enum wf_lot_state { WF_LOT_OPEN, WF_LOT_IN, WF_LOT_OUT };

/* One change to its parent's bounds: a lot decided, or a whole column bounded. */
struct wf_node {
    int parent; /* -1: the root */
    int column; /* of the lp; past them: a set, split by a row (branch_split.h) */
    int row;    /* of a split */
    double low, high;
    enum wf_lot_state state; /* of the column's lot from here on, if it is one */
    double bound;
    double at;   /* the column's value in the parent's point */
    double gain; /* what this side was expected to raise the bound by */
};

/* What one side of branching on a column has raised the bound by, a unit. */
struct wf_gain {
    double sum;
    int count;
};

struct wf_tree {
    struct wf_shape *s;
    struct wf_lp *lp;
    const struct wf_search_options *o;
    struct wf_error *e;

    struct wf_node *nodes;
    int node_count, node_room;
    int *heap; /* open nodes, least bound first */
    int heap_count, heap_room;

    /* the node in hand */
    double *low, *high;       /* of each lp column */
    double *lp_low, *lp_high; /* as the lp has them */
    enum wf_lot_state *state;
    bool *settled;              /* units that are in by the path and the bounds alone */
    bool *unit_in, *unit_moved; /* as the lp counts units, and whether that is new */
    double *terms;              /* scratch: one an lp column */
    double fixed_charge; /* of the lots that are in: whole, less what their steps no longer bear */
    double *x, *reduced;

    double *root_low, *root_high;     /* tightened as better points are found */
    double *root_reduced, *root_from; /* reduced costs, and the bounds that they count from */
    double root_value;

    double *best;    /* whole model's point; filled if best_value is finite */
    double *offered; /* scratch */
    double best_value;
    double closed_bound;
    long looked_at;
    bool finished; /* no open node was left */
    long began;    /* the clock's work when it did */

    struct wf_gain *gains; /* [4 column + 2 use + up] */

    /* scratch of branch_round.c */
    double *activity;
    double *trial;
    double *polished;
    bool improved; /* a better point was found since the last polish */
};

/* How far below the best value a node must promise to be to be looked at. */
double wf_tree_cutoff(const struct wf_tree *t);

/* Takes the lp's point, its weights whole, if it is better than the best and the whole model
 * accepts it. */
bool wf_tree_offer(struct wf_tree *t, const double *lp_x);

/* The bound with one more change to the node in hand (its bounds and state; parent is not looked
 * at). */
enum wf_status wf_tree_try(struct wf_tree *t, const struct wf_node *n, double *bound) WF_MUST_USE;

/* Of all its lots together. */
enum wf_lot_state wf_tree_unit(const struct wf_tree *t, int unit);

/* Takes note that a side raised the bound by so much, from a column that stood at `at`. */
void wf_tree_learn(struct wf_tree *t, const struct wf_node *n, double at, double gain);

/* The two sides to branch on from the node in hand, the better dive first; *found false: its point
 * is one of the model, but for what its counts may say. */
enum wf_status wf_tree_pick(struct wf_tree *t, double bound, struct wf_node child[2],
                            bool *found) WF_MUST_USE;

/* Looks for points on the grid near t->x, within the node's bounds and states. */
void wf_tree_round(struct wf_tree *t);

/* Betters the best point by small moves of its own lots, if it can. */
void wf_tree_polish(struct wf_tree *t);

/* ---- branch_heap.c --------------------------------------------------------------------------- */

enum wf_status wf_tree_add(struct wf_tree *t, struct wf_node node, int *index) WF_MUST_USE;
enum wf_status wf_tree_push(struct wf_tree *t, int node) WF_MUST_USE;
int wf_tree_pop(struct wf_tree *t); /* of the least bound; the heap must not be empty */

/* ---- branch_node.c --------------------------------------------------------------------------- */

/* Sets bounds and states from the path to the node (-1: the root); false: by logic alone nothing is
 * there. */
bool wf_tree_set_node(struct wf_tree *t, int node);
/* Brings the linear program to the node's bounds, charges and counts. */
enum wf_status wf_tree_set_lp(struct wf_tree *t) WF_MUST_USE;

/* ---- branch_tree.c --------------------------------------------------------------------------- */

/* Nodes kept at most: more than some 20 MB of them would be more than a recipe is worth. */
#define WF_TREE_NODES_MOST 200000

struct wf_tree_result {
    double *x; /* the whole model's; NULL: none */
    double value, bound;
    double root_value;
    bool finished;  /* not stopped by nodes, work or time */
    double *regret; /* of each item: what it adds at least, by the root's reduced costs; NULL: not
                       wanted */
};

/* Of the part's lots only those with keep[i]; NULL: all. `start`: a point of the whole model to
 * better, or NULL. */
enum wf_status wf_tree_search(const struct wf_part *part, const bool *keep, long nodes_most,
                              const struct wf_search_options *o, const double *start,
                              struct wf_tree_result *r, struct wf_error *e) WF_MUST_USE;

#endif

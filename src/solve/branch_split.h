/* branch_split.h: to branch on which of many units is the one that a count leaves room for. */
#ifndef WF_BRANCH_SPLIT_H
#define WF_BRANCH_SPLIT_H

#include "solve/branch_tree.h"

struct wf_split {
    int set;      /* a count row, or after these a size */
    int row;      /* by what a kilogram adds to this row of the lp; -1: to the cost */
    double at;    /* the one is below this, or not */
    double apart; /* how far the parts of the point lie apart in it, of all that are open: 0..1 */
};

/* The most promising splits of the node in hand, best first; returns how many there are. */
int wf_tree_splits(const struct wf_tree *t, struct wf_split best[], int room);

/* Calls out for each lot that the side leaves out: a node whose column is the lp's number of
 * columns and the set, and which keeps units of low <= key < high. What the node in hand has in
 * stays. */
void wf_tree_leave_out(const struct wf_tree *t, const struct wf_node *side,
                       void (*out)(void *self, int lot), void *self);

#endif

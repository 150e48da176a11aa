/*
 * branch_shaping.h: a shape while it is made, shared by branch_shape.c (columns), branch_rows.c
 * (rows), branch_counts.c (counts) and branch_tied.c (tied columns and the dense picture).
 */
#ifndef WF_BRANCH_SHAPING_H
#define WF_BRANCH_SHAPING_H

#include "solve/branch_shape.h"

/* What a column of the whole model is. */
enum wf_role { WF_ROLE_OTHER, WF_ROLE_WEIGHT, WF_ROLE_USE, WF_ROLE_PRESENT };

struct wf_shaping {
    const struct wf_part *part;
    struct wf_shape *s;
    enum wf_role *role; /* of each column of the whole model */
    int *lot_of;        /* weight and use columns: the lot; -1: not taken */
    int *unit_of;       /* use and present columns: the unit; -1: not taken */
    int *kind_of;       /* use and present columns: the present column; -1: none */
    int *column_in_lp;  /* -1: not there */
    int *columns;       /* room for a row's terms */
    double *values;
    bool failed;
};

/* False: the model does not suit, or memory ran out (failed). */
bool wf_shape_rows(struct wf_shaping *w);
/* False: memory ran out. */
bool wf_shape_counts(struct wf_shaping *w);
bool wf_shape_tie(struct wf_shaping *w);
bool wf_shape_dense(struct wf_shaping *w);

#endif

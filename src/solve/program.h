/*
 * program.h: a linear program as plain arrays, and what points and duals prove about it.
 *
 *     minimise offset + cost x,  row_low <= A x <= row_high,  low <= x <= high
 *
 * By weak duality any duals y, however they were found, prove a lower bound: with d = cost - y A,
 *     cost x = y A x + d x >= sum min(y row_low, y row_high) + sum min(d low, d high).
 * With all costs 0 every point has the value 0: duals that prove more prove that there is no point
 * (Farkas). So a solver need not be believed, only checked.
 */
#ifndef WF_PROGRAM_H
#define WF_PROGRAM_H

#include "model/model.h"

struct wf_program {
    int rows, columns;
    double offset;
    double *cost, *low, *high;  /* one a column */
    double *row_low, *row_high; /* one a row */
    int *start;                 /* the terms of row i are start[i] .. start[i + 1] - 1 */
    int *index;                 /* the column of a term */
    double *value;              /* its coefficient */
};

/* The model without its whole numbers. False: out of memory, and *p is empty. */
bool wf_program_init(struct wf_program *p, const struct wf_model *m);
void wf_program_clear(struct wf_program *p); /* a zeroed one is allowed */

/* As wf_model_violation_relaxed. */
double wf_program_violation(const struct wf_program *p, const double *x);

/* The lower bound that the duals prove, but for rounding; -inf: none. Duals whose sign proves
 * nothing are set to 0. Fills reduced with d. */
double wf_program_bound(const struct wf_program *p, double *dual, double *reduced);

/* Whether the duals prove that there is no point. Both arrays are used up. */
bool wf_program_refuted(const struct wf_program *p, double *dual, double *scratch);

#endif

/*
 * solver.h: the one interface to a solver of linear and mixed-integer models; no types of any solver.
 *
 * The form and its signs are those of model.h: minimise; a row's dual is the change of the optimal value
 * for one more unit of its active bound; a column's reduced cost is cost - duals . column, so at an
 * optimum it is >= 0 where the column rests at its lower bound.
 *
 * Three things, never mixed: the call's status (enum wf_status), what is known about the model
 * (enum wf_outcome), and whether there is a point (x != NULL). Before the call the model is checked by
 * wf_model_check(); after it the integers are rounded and every row is recomputed from the model: a
 * point that then violates the model by more than WF_SOLVER_TOLERANCE is not a point, and if the
 * solver called it optimal the call fails with WF_INTERNAL.
 */
#ifndef WF_SOLVER_H
#define WF_SOLVER_H

#include "model/model.h"

#define WF_SOLVER_TOLERANCE 1e-6

enum wf_outcome {
    WF_OUTCOME_OPTIMAL,    /* x is proved, to the gap that was asked for */
    WF_OUTCOME_FEASIBLE,   /* stopped by time, cancel: x is a point, bound is proved */
    WF_OUTCOME_INFEASIBLE, /* proved: no point */
    WF_OUTCOME_UNBOUNDED,
    WF_OUTCOME_UNKNOWN,    /* stopped without a point; bound may hold */
    WF_OUTCOME_COUNT
};

struct wf_solver_options {
    bool relax;                  /* ignore that columns are whole */
    double seconds;              /* about; 0: no limit */
    double gap;                  /* relative, of branch and bound; 0: prove the optimum */
    double cutoff;               /* only points better than this are of interest; NaN: all */
    const volatile bool *cancel; /* NULL: never */
    void (*progress)(void *data, double value, double bound); /* NULL: none */
    void *progress_data;
};

struct wf_solution {
    enum wf_outcome outcome;
    double *x;       /* one a column, NULL: no point; integers exactly whole */
    double value;    /* wf_model_value(x); NaN without a point */
    double bound;    /* proved lower bound on every point's value; -inf: none */
    double *dual;    /* one a row; only of a relaxed, optimal solve, else NULL */
    double *reduced; /* one a column; likewise */
};

/* Solves. *out is filled on WF_OK and must be cleared by wf_solution_clear. */
enum wf_status wf_solver_run(const struct wf_model *m, const struct wf_solver_options *o,
                             struct wf_solution *out, struct wf_error *e) WF_MUST_USE;
void wf_solution_clear(struct wf_solution *s); /* NULL pointers after it; a zeroed one is allowed */

#endif

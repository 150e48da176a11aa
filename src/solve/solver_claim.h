/*
 * solver_claim.h: what solver.c asks of the solver beyond wf_lp_*: branch and bound. What the
 * solver says of it is a claim: solver.c believes nothing before it has recomputed it from the
 * model.
 */
#ifndef WF_SOLVER_CLAIM_H
#define WF_SOLVER_CLAIM_H

#include "solve/solver.h"

struct wf_claim {
    enum wf_outcome outcome; /* never UNBOUNDED: the relaxation was optimal */
    double bound;            /* lower bound on every point's value, or the cutoff */
    double *x;               /* room for one a column; filled where the outcome has a point */
};

/*
 * After a wf_lp_solve that was optimal, within the limit of wf_lp_limit. `cutoff` is an upper bound
 * on the values of interest; +INFINITY: none. `careful` takes another way, for where the first did
 * not stand up: no presolve, and a number must be very nearly whole to count as whole.
 */
enum wf_status wf_lp_search(struct wf_lp *lp, const struct wf_solver_options *o, bool careful,
                            double cutoff, struct wf_claim *c, struct wf_error *e) WF_MUST_USE;

#endif

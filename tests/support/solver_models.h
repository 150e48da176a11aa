/*
 * solver_models.h: small models that bring a solver to each of its ends.
 */
#ifndef WF_SOLVER_MODELS_H
#define WF_SOLVER_MODELS_H

#include "model/model.h"

struct wf_model *easy(void);                 /* whole optimum -13 at (2, 0, 1), relaxed too */
struct wf_model *hard(int rows, bool slack); /* no end in minutes from four rows on */
struct wf_model *lp_infeasible(void);        /* no point, relaxed either */
struct wf_model *parity(double most);        /* points, but none that are whole; columns 0..most */
struct wf_model *parity_easy(void);
struct wf_model *between(void); /* likewise, which presolve sees */
struct wf_model *unbounded(void);
struct wf_model *unbounded_empty(void); /* unbounded relaxed, no whole point */
struct wf_model *fixed(void);           /* easy() with a whole column fixed */
struct wf_model *split(void);           /* hard, with no point in sight */
struct wf_model *split_slack(void);     /* hard, with points at once */

#endif

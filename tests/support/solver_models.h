/*
 * solver_models.h: small models that bring a solver to each of its ends.
 */
#ifndef WF_SOLVER_MODELS_H
#define WF_SOLVER_MODELS_H

#include "model/model.h"

struct wf_model *easy(void);
struct wf_model *hard(int rows, bool slack);
struct wf_model *lp_infeasible(void);
struct wf_model *parity(double most);
struct wf_model *parity_easy(void);
struct wf_model *between(void);
struct wf_model *unbounded(void);
struct wf_model *unbounded_empty(void);
struct wf_model *fixed(void);
struct wf_model *split(void);
struct wf_model *split_slack(void);

#endif

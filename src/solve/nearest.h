/*
 * nearest.h: where no recipe meets every wish, the one that misses them least.
 *
 * Both models in their elastic form: each wish may be missed, at a cost that grows with how many
 * notches it is missed by (a gravity point, 1 SRM, 1 % of the grist, 1 IBU, ...). Stock, scale and
 * least weights hold.
 */
#ifndef WF_NEAREST_H
#define WF_NEAREST_H

#include "solve/joint.h"

/* outcome INFEASIBLE, and no arrays: not even that (no malt can be used at all). */
enum wf_status wf_nearest_solve(const struct wf_problem *p, const struct wf_search_options *o,
                                struct wf_answer *out, struct wf_error *e) WF_MUST_USE;

#endif

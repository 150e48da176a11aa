/* lp.h: what solver.c asks of an open linear program beyond solver.h. */
#ifndef WF_LP_H
#define WF_LP_H

#include "solve/engine.h"

/* Branch and bound on the program as it is, within its time limit; what comes of it is a claim. */
enum wf_status wf_lp_search(struct wf_lp *lp, struct wf_engine_search *s,
                            struct wf_error *e) WF_MUST_USE;

#endif

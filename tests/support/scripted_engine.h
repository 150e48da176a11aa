/*
 * scripted_engine.h: an engine that claims what it is told to claim. A test that is linked with it
 * does not take the library's own.
 *
 * Its model is min 2 x + y, x + y >= 1.5, 0 <= x <= 10, y whole 0..3. Relaxed: 1.5 at (0, 1.5),
 * dual 1. Whole: 2 at (0, 2) or (0.5, 1).
 */
#ifndef WF_SCRIPTED_ENGINE_H
#define WF_SCRIPTED_ENGINE_H

#include "solve/engine.h"

#define SCRIPT_MOST 8
#define BREAKS      WF_OUTCOME_COUNT /* an outcome that stands for giving up */

struct lp_claim {
    bool unknown;
    enum wf_outcome outcome;
    bool at_cutoff;
    double value, x[2], dual;
};

struct search_claim {
    enum wf_outcome outcome;
    double bound, x[2];
};

struct script {
    const struct lp_claim *lp; /* what is claimed, call by call */
    const struct search_claim *search;
    int lp_calls, searches; /* what was asked */
    int way[SCRIPT_MOST];
    bool careful[SCRIPT_MOST];
    int opened, closed;
    bool lost;
};
extern struct script script;

struct wf_model *scripted_model(void);

#define TRUE_OPTIMUM                                                                               \
    {                                                                                              \
        .outcome = WF_OUTCOME_OPTIMAL, .value = 1.5, .x = {0, 1.5}, .dual = 1                      \
    }

#endif

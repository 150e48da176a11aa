/* plan_parts.h: a plan in the making, shared by plan.c and plan_result.c. */
#ifndef WF_PLAN_PARTS_H
#define WF_PLAN_PARTS_H

#include "solve/plan_search.h"
#include "wortfit/plan.h"

enum wf_plan_found { WF_PLAN_FOUND_UNDECIDED, WF_PLAN_FOUND_NONE, WF_PLAN_FOUND };

struct wf_planning {
    struct wf_market market;
    struct wf_plan_sub *subs; /* those that are planned come first */
    size_t *given;            /* the place among the beers given */
    bool *possible;           /* of the beers as given; only with as_many */
    size_t all, beer_count;
    struct wf_plan_search search;
    struct wf_clock *clock;
    enum wf_plan_found found;
    double money, worth;
    struct wf_proof proofs[3];
    size_t proof_count;
    struct wf_error *e;
};

/* What wf_plan_make returns, from what was found. */
enum wf_status wf_plan_result(const struct wf_planning *g, const struct wf_plan_beer *beers,
                              const struct wf_store *shop, const struct wf_plan_options *o,
                              struct wf_plan **out) WF_MUST_USE;

#endif

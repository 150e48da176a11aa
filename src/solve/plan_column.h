/*
 * plan_column.h: one beer of a plan, and recipes of it: a recipe is a column of the plan's master
 * program (plan_master.h), which knows of it only what it takes of each lot.
 */
#ifndef WF_PLAN_COLUMN_H
#define WF_PLAN_COLUMN_H

#include "solve/plan_market.h"
#include "solve/solve_parts.h"

struct wf_plan_sub {
    const struct wf_market *market;
    struct wf_problem problem;    /* its prices and greatest weights are those of the last search */
    struct wf_pick_yeast *yeasts; /* those that may ferment it */
    double *malt_most, *hop_most;
    size_t yeast_count;
    long place; /* only yeasts of this place in the target's list; -1: all, as if of one place */
};

enum wf_status wf_plan_sub_open(struct wf_plan_sub *s, const struct wf_market *m,
                                const struct wf_target *t, const struct wf_brewhouse *b, long today,
                                struct wf_error *e) WF_MUST_USE;
void wf_plan_sub_close(struct wf_plan_sub *s); /* a zeroed one is allowed */

/* The most of each lot that it can take. */
void wf_plan_sub_most(const struct wf_plan_sub *s, double *most);

struct wf_plan_column {
    size_t beer;
    struct wf_answer answer; /* its yeast points into the sub's */
    double *use;             /* one a lot of the market */
};
void wf_plan_column_free(struct wf_plan_column *c); /* NULL allowed */

struct wf_plan_column_search {
    const double *price;       /* one a lot */
    const double *pack_price;  /* one a lot: of each pack that it takes some of; NULL: none */
    const unsigned char *fate; /* one a lot, enum wf_fate (region.h): must, must not; NULL: may */
    const double *left;        /* no more than this of each; NULL: all that may be had */
    double gap;
    struct wf_clock *clock; /* of the whole plan; its work grows */
    const struct wf_solve_options *options;
};

/* The recipe of least price; *out NULL: none found. *bound: none costs less; +inf: there is none.
 */
enum wf_status wf_plan_sub_solve(struct wf_plan_sub *s, const struct wf_plan_column_search *o,
                                 struct wf_plan_column **out, double *bound,
                                 struct wf_error *e) WF_MUST_USE;

#endif

/*
 * plan_search.h: the search for a plan, one aim after the other.
 *
 * Columns are generated at the master's prices until these find none that is better. What whole
 * packs leave open is branched on. Recipes that fit together are made by giving each beer what the
 * others leave.
 */
#ifndef WF_PLAN_SEARCH_H
#define WF_PLAN_SEARCH_H

#include "solve/plan_master.h"

struct wf_plan_search {
    const struct wf_market *market;
    struct wf_plan_sub *subs;
    size_t beer_count;
    struct wf_master master;
    struct wf_clock *clock;
    const struct wf_solve_options *options;
    bool *possible;                 /* one a beer: there is a recipe of it alone */
    struct wf_master_answer answer; /* the last of the linear program */
    struct wf_plan_choice choice;   /* the best plan of the last aim; value NaN: none */
    double bound;                   /* of the last aim */
    struct wf_error *e;
};

enum wf_status wf_plan_search_open(struct wf_plan_search *s, const struct wf_market *market,
                                   struct wf_plan_sub *subs, size_t beers, struct wf_clock *clock,
                                   struct wf_error *e) WF_MUST_USE;
void wf_plan_search_close(struct wf_plan_search *s); /* a zeroed one is allowed */

/* A first recipe of each beer, as if it were alone; fills `possible`. */
enum wf_status wf_plan_search_start(struct wf_plan_search *s) WF_MUST_USE;

/* Sets choice and bound for one aim. `start`, of worth only: choice is a plan already that meets
 * the aim, and what is better is looked for. */
enum wf_status wf_plan_search_aim(struct wf_plan_search *s, const struct wf_plan_aim *aim,
                                  bool start) WF_MUST_USE;

/* How far above its bound a value may be and pass for the best. */
double wf_plan_room(const struct wf_plan_search *s, enum wf_plan_goal goal, double value);

/* A lack below this, in about what it would cost, is none. */
#define WF_PLAN_LACK 5e-3

/* How well the first recipes are proved, and the last. */
#define WF_PLAN_FIRST_GAP 2e-3
#define WF_PLAN_FIT_GAP   2e-4
#define WF_PLAN_LAST_GAP  3e-5

/* ---- plan_generate.c ------------------------------------------------------------------------- */

/* Columns at the master's prices until they find no better; *bound: of all plans within the limits.
 * Stops early where the bound reaches `enough`. *feasible false: the known columns do not fit. */
enum wf_status wf_plan_generate(struct wf_plan_search *s, const struct wf_plan_aim *aim,
                                const struct wf_plan_limits *limits, double enough, double *bound,
                                bool *feasible) WF_MUST_USE;

/* ---- plan_fit.c ------------------------------------------------------------------------------ */

/* Recipes that fit together: beers in several orders, each from what those before it leave, at the
 * last prices. */
enum wf_status wf_plan_fit_in_turn(struct wf_plan_search *s) WF_MUST_USE;

/* New recipes of each beer from what the others of the choice leave. */
enum wf_status wf_plan_fit_each(struct wf_plan_search *s,
                                const struct wf_plan_choice *c) WF_MUST_USE;

#endif

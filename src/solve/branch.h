/*
 * branch.h: our own branch and bound for models of lots, around the solver's linear programs.
 *
 * A lot is a weight in whole steps that is nothing, or at least the least worth adding. The models
 * say so with a 0-1 column a lot and two rows to tie it to the weight, which triples a linear
 * program and tells it next to nothing. Here these columns and rows are left out: a lot is
 * undecided (0..most), in (least..most) or out (0), counts of lots are looked after by logic, and
 * what use costs is charged by the step while a lot is undecided (charge / most: never too much)
 * and whole once it is in. What remains is a small linear program, some ten microseconds a node.
 *
 * Branching decides on use before weight. At each node a neighbourhood of the linear program's
 * point on the grid is searched for recipes (branch_round.c). Nodes are taken depth first, and
 * after each dive from the least bound. Every bound is that of the whole model.
 */
#ifndef WF_BRANCH_H
#define WF_BRANCH_H

#include "solve/part.h"

/* Lowers the greatest weights of the part's model to what its rows leave, and points whose value by
 * the model's costs is at most the cutoff (+INFINITY: whatever it is). *changed: some were lower.
 */
enum wf_status wf_branch_tighten(const struct wf_part *part, double cutoff, bool *changed,
                                 struct wf_error *e) WF_MUST_USE;

/* Costs as they are in the model. `out` as wf_solver_run gives it. */
enum wf_status wf_branch(const struct wf_part *part, const struct wf_search_options *o,
                         struct wf_solution *out, struct wf_error *e) WF_MUST_USE;

#endif

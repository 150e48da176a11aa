/*
 * solve_parts.h: what one solve (solve.c) and searches for several recipes have in common.
 */
#ifndef WF_SOLVE_PARTS_H
#define WF_SOLVE_PARTS_H

#include "solve/joint.h"

/* `goals` is filled with those that were asked for and after them cost, so that of equals the
 * cheaper is taken; it must outlive what is returned, as must the clock. */
struct wf_search_options wf_solve_search_options(const struct wf_solve_options *o,
                                                 enum wf_goal goals[WF_GOAL_COUNT],
                                                 struct wf_clock *clock);

/* The best grist, hops and yeast; out->kg NULL: none, for the reason in out->outcome. */
enum wf_status wf_solve_search(const struct wf_problem *p, const struct wf_search_options *o,
                               struct wf_answer *out, struct wf_error *e) WF_MUST_USE;

/* The recipe of an answer, with its proofs, checked by the forward path. */
enum wf_status wf_solve_found(const struct wf_problem *p, const struct wf_answer *a,
                              const struct wf_search_options *o, struct wf_recipe **out,
                              struct wf_error *e) WF_MUST_USE;

/* wf_solve, by this clock, whose work it leaves there for the caller to read. */
enum wf_status wf_solve_by(const struct wf_target *t, const struct wf_store *s,
                           const struct wf_brewhouse *b, const struct wf_solve_options *o,
                           struct wf_clock *clock, struct wf_recipe **out,
                           struct wf_error *e) WF_MUST_USE;

/* What an answer comes to: its recipe, or the nearest one, or that nothing was decided. */
enum wf_status wf_solve_conclude(const struct wf_problem *p, const struct wf_search_options *o,
                                 const struct wf_answer *a, struct wf_recipe **out,
                                 struct wf_error *e) WF_MUST_USE;

/* The search and its recipe, as wf_solve gives it; the answer is left to the caller, to
 * wf_answer_clear. */
enum wf_status wf_solve_first(const struct wf_problem *p, const struct wf_search_options *o,
                              struct wf_answer *a, struct wf_recipe **out,
                              struct wf_error *e) WF_MUST_USE;

/* Leaves the problem, a copy that does not own its lists, only the yeasts of the place in the
 * target's list that this one is of: those that a proof speaks of. NULL: as they are. */
void wf_solve_keep_place(struct wf_problem *p, const struct wf_pick_yeast *y);

/* The problem of a call, with the recipe to keep close to. WF_USAGE: the goal of least change
 * without a recipe. */
enum wf_status wf_solve_problem(const struct wf_target *t, const struct wf_store *s,
                                const struct wf_brewhouse *b, const struct wf_solve_options *o,
                                struct wf_problem *out, struct wf_error *e) WF_MUST_USE;

#endif

/*
 * assemble.h: from the weights that a search found to a recipe, predicted forwards and held against
 * its wishes, the stock and the scale.
 */
#ifndef WF_ASSEMBLE_H
#define WF_ASSEMBLE_H

#include "solve/joint.h"

/* The whole recipe but its status and proofs. */
enum wf_status wf_recipe_assemble(const struct wf_problem *p, const struct wf_answer *a,
                                  struct wf_recipe **out, struct wf_error *e) WF_MUST_USE;

/* Checks weights against the store's own data: whole steps, least weights, stock, greatest shares.
 * A fault is WF_INTERNAL. */
enum wf_status wf_weights_verify(const struct wf_problem *p, const struct wf_answer *a,
                                 struct wf_error *e) WF_MUST_USE;

#endif

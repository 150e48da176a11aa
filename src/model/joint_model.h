/*
 * joint_model.h: grist and hops in one integer model, for an independent solver.
 *
 * The bitterness that is wanted, moved to one reference gravity, is a convex curve of the extract.
 * The model takes it by straight lines on its safe side: the chord over the window for the least
 * bitterness, the tangent at the window's middle for the greatest. So whatever the model accepts is
 * a recipe; over a window of
 * two gravity points the lines lie within 0.03 % of the curve. The distance of the bitterness from
 * its aim (WF_GOAL_CLOSEST) is that over the whole window: at most a recipe's own.
 */
#ifndef WF_JOINT_MODEL_H
#define WF_JOINT_MODEL_H

#include "model/hop_model.h"

/* The model of one goal with one yeast (NULL: none). Its value is the whole recipe's, the yeast's
 * part included. *out is the caller's to wf_model_free. */
enum wf_status wf_joint_model_make(const struct wf_problem *p, const struct wf_pick_yeast *yeast,
                                   enum wf_goal goal, struct wf_model **out,
                                   struct wf_error *e) WF_MUST_USE;

/* The same, as a block of a larger model: the columns of its weights, in whole steps, one a malt of
 * the problem and one a place. */
enum wf_status wf_joint_model_block(const struct wf_problem *p, const struct wf_pick_yeast *yeast,
                                    enum wf_goal goal, struct wf_model **out, int *malts,
                                    int *places, struct wf_error *e) WF_MUST_USE;

/* Appends src's columns, costs and rows, but for one row (-1: all), to dst. Returns where its
 * columns start, or -1: out of memory. */
int wf_model_append(struct wf_model *dst, const struct wf_model *src, int but);

/* What a yeast adds to a goal's value: its price, one ingredient, or its change; 0 for NULL. */
double wf_yeast_value(const struct wf_pick_yeast *y, enum wf_goal goal);

#endif

/*
 * joint.h: grist and hops together, for one yeast.
 *
 * The two are coupled by the gravity alone: it sets the bitterness that the ratio wants and,
 * through the boil gravity, what the hops give. Both rise with it, so over a window of gravities
 * the hops cost at least what they cost where the bitterness wanted is anything from that at its
 * low end to that at its high end. The search takes the window whole: the best grist, the hops for
 * its gravity, and the two bounds. Where value and bound differ, it splits the window at that
 * grist's gravity and goes on, always in the part of least bound. The bound that is returned is of
 * the whole recipe.
 */
#ifndef WF_JOINT_H
#define WF_JOINT_H

#include "model/joint_model.h"
#include "solve/search.h"

struct wf_answer {
    enum wf_outcome outcome;
    double *kg;    /* one a malt of the problem; NULL: no recipe */
    double *grams; /* one a place of the problem */
    double og;
    const struct wf_pick_yeast *yeast; /* NULL: none chosen */
    double value[WF_GOAL_COUNT], bound[WF_GOAL_COUNT];
    bool grist_fits; /* a grist meets its wishes, whatever the hops */
};

/* `yeast` NULL: none is chosen, and the wishes for final gravity and alcohol are as loose as the
 * problem's yeasts together make them; without any they are not looked at. `cutoff`: of the first
 * goal's value, with the yeast's part; NaN: none. `known`: a recipe of any yeast, to be bettered,
 * and else returned itself; NULL: none. The bound is of recipes with this yeast, and no more than
 * the value returned. */
enum wf_status wf_joint_solve(const struct wf_problem *p, const struct wf_pick_yeast *yeast,
                              const struct wf_search_options *o, const struct wf_answer *known,
                              struct wf_answer *out, struct wf_error *e) WF_MUST_USE;
void wf_answer_clear(struct wf_answer *a);

/* The gravity that these weights give. */
enum wf_status wf_grist_gravity(const struct wf_problem *p, const double *kg,
                                double *og) WF_MUST_USE;

#endif

/*
 * joint_parts.h: the search over windows of gravity in hand (joint.c), and what it asks of one part
 * of a recipe, grist or hops, over a window (joint_parts.c).
 */
#ifndef WF_JOINT_PARTS_H
#define WF_JOINT_PARTS_H

#include "solve/joint.h"

/* Windows looked at, at most, and the narrowest that is split: a tenth of what a hydrometer shows.
 */
#define WF_SPANS_MOST 40
#define WF_PARTS_MOST 68 /* windows to start from, and room for two more */
#define WF_SPAN_LEAST 1e-6

struct wf_span {
    double low, high;            /* SG */
    double bound[WF_GOAL_COUNT]; /* over this window; of a later goal: for recipes no worse than the
                                    best in every earlier one */
};

struct wf_joint {
    const struct wf_problem *p;
    const struct wf_pick_yeast *yeast;
    const struct wf_search_options *o;
    struct wf_answer
        best; /* its arrays stand from the start; `found` says whether they are filled */
    bool found;
    double *kg, *grams; /* of the window in hand */
    struct wf_error *e;
    struct wf_span open[WF_SPANS_MOST + WF_PARTS_MOST], closed[3 * (WF_SPANS_MOST + WF_PARTS_MOST)];
    size_t open_count, closed_count, looked_at;
    size_t parts; /* windows at the start: see open_windows */
};

/* What the step from a window to a gravity may leave of the gap; the parts leave the rest. */
#define WF_JOINT_STEP_GAP 0.3

/* The best grist of a gravity in the window, its weights in j->kg. */
enum wf_status wf_joint_grist(struct wf_joint *j, const struct wf_span *s, double cutoff,
                              struct wf_part_answer *out) WF_MUST_USE;

/* The best hops where the bitterness wanted is anything from that at `low` to that at `high`, their
 * weights in j->grams. */
enum wf_status wf_joint_hops(struct wf_joint *j, double low, double high,
                             struct wf_part_answer *out) WF_MUST_USE;

/* How far above its bound the best value of a goal may be by now. */
double wf_joint_room(const struct wf_joint *j, size_t k);

/* No point at all: a search that was cut off has a finite bound. */
bool wf_joint_impossible(const struct wf_part_answer *a);

/*
 * The lowest gravity from which on, up to og, the hops cost what they cost at og: their cost rises
 * with the gravity by the step of the scale, so most of a window below og is often settled by this
 * alone.
 */
enum wf_status wf_joint_same_hops_from(struct wf_joint *j, double low, double og,
                                       const struct wf_part_answer *at, double *from) WF_MUST_USE;

/*
 * How far from og on, towards the end, no hops at all do: most of a window is often settled by this
 * where the bitterness that is wanted falls between two steps of the scale.
 */
enum wf_status wf_joint_no_hops_until(struct wf_joint *j, double og, double end,
                                      double *until) WF_MUST_USE;

#endif

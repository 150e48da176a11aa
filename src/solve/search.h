/*
 * search.h: branch and bound on one model of grist or hops, with what its structure gives.
 *
 * 1. The linear relaxation: a bound, and a reduced cost for each lot.
 * 2. The integer model over the lots of least reduced cost only: a good first recipe, quickly.
 * 3. Lots that by their reduced cost cannot be in a better recipe are struck out: a lot that is
 * used at all is used at its least weight or more.
 * 4. The integer model over what is left, only for points better than the first recipe.
 *
 * Every bound that is returned holds for the whole model.
 */
#ifndef WF_SEARCH_H
#define WF_SEARCH_H

#include "model/grist_model.h"
#include "solve/clock.h"
#include "solve/solver.h"

/* The goals in order, on one model; `goal` sets the model's costs. Each later goal keeps the
 * earlier ones' values. out->value and bound are then arrays, one a goal. */
struct wf_part {
    struct wf_model *model;
    const struct wf_item *items;
    size_t item_count;
    int total;    /* a column that is the sum of step x weight over the items; -1: none */
    bool of_lots; /* the use columns stand only in the rows that tie them to their own weight, in
                     rows of nothing but use columns with coefficient 1, and in the costs: see
                     branch.h */
    void (*set_goal)(void *self, enum wf_goal goal);
    void *self;
};

struct wf_part_answer {
    enum wf_outcome outcome; /* of the first goal; OPTIMAL only if all goals were proved */
    double *x;               /* NULL: no point */
    double value[WF_GOAL_COUNT], bound[WF_GOAL_COUNT];
};

struct wf_search_options {
    const enum wf_goal *goals;
    size_t goal_count;
    size_t asked; /* goals that must be proved; those after them only choose between equals */
    struct wf_clock *clock;
    double gap;
    double least_room;   /* in units of the first goal: see wf_search_room */
    const double *start; /* a point of the model to better; NULL: none */
    double cutoff;       /* of the first goal: only better points are of interest; NaN: all */
};

enum wf_status wf_search(const struct wf_part *part, const struct wf_search_options *o,
                         struct wf_part_answer *out, struct wf_error *e) WF_MUST_USE;
void wf_part_answer_clear(struct wf_part_answer *a);

/* One search, the model's costs as they are. */
enum wf_status wf_search_model(const struct wf_part *part, const struct wf_search_options *o,
                               struct wf_solution *out, struct wf_error *e) WF_MUST_USE;

/* What of a goal's value nobody could tell, in its own unit; half of it may be lost in each part.
 */
double wf_goal_room(enum wf_goal goal);
#define WF_PART_ROOM 0.4

/* How far above its bound a value may be by now and still pass for the best: the gap, or what of
 * the goal in hand nobody could tell. */
double wf_search_room(const struct wf_search_options *o, double value);

/* The gap that will do by now. What was asked for at first; where no time was set by the user, a
 * tenth of a per cent after a moment and half a per cent after a second: nobody waits longer for a
 * cent. */
double wf_search_gap(const struct wf_search_options *o);

#endif

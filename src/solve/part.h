/*
 * part.h: a part of a recipe, grist or hops, as a model that is searched: what is handed from
 * search.c to the searches themselves, and how good is good enough by now (room.c).
 */
#ifndef WF_PART_H
#define WF_PART_H

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

struct wf_hop_notes;

struct wf_search_options {
    const enum wf_goal *goals;
    size_t goal_count;
    size_t asked; /* goals that must be proved; those after them only choose between equals */
    struct wf_clock *clock;
    double gap;
    double least_room;         /* in units of the first goal: see wf_search_room */
    const double *start;       /* a point of the model to better; NULL: none */
    double cutoff;             /* of the first goal: only better points are of interest; NaN: all */
    struct wf_hop_notes *hops; /* of this problem and these goals; NULL: not kept */
    double floor; /* a bound of the first goal's value that is known beforehand; -INFINITY: none */
};

/* What of a goal's value nobody could tell, in its own unit; the two parts may each lose so much of
 * it, and the step between them the rest (joint_parts.h). */
double wf_goal_room(enum wf_goal goal);
#define WF_PART_ROOM 0.35
/* Of a value below this a gap is told as if it were this much. */
double wf_goal_least_unit(enum wf_goal goal);

/* How far above its bound a value may be by now and still pass for the best: the gap, or what of
 * the goal in hand nobody could tell. */
double wf_search_room(const struct wf_search_options *o, double value);

/* The gap that will do by now. What was asked for at first; where no time was set by the user, a
 * tenth of a per cent after a moment and half a per cent after a second: nobody waits longer for a
 * cent. */
double wf_search_gap(const struct wf_search_options *o);

#endif

/*
 * grist_model.h: the integer model of the grist.
 *
 * A column of whole steps for each lot's weight, a 0-1 column for its use, and one of whole packs
 * where it is bought so. Rows: extract, colour, shares and counts of the rules, greatest shares,
 * character, diastatic power, `use`, and, by the yeast, the residue that final gravity and
 * alcohol allow. In the elastic form each wish may be missed, at a cost in units of what a
 * brewer would call one notch (1 gravity point, 1 SRM, 1 % of the grist, ...): its optimum is the
 * nearest recipe.
 */
#ifndef WF_GRIST_MODEL_H
#define WF_GRIST_MODEL_H

#include "model/change.h"
#include "model/model.h"
#include "model/problem.h"
#include "wortfit/solve.h"

/* Columns of one lot in a model; -1: none. */
struct wf_item {
    int weight, use, pack;
    int present;  /* of all lots of its kind together, such as a hop in several slots; -1: none */
    double step;  /* kg or g a unit of the weight column */
    double least; /* units, once used */
    int group;    /* lots that much the same rules speak of, such as those of a class */
};

struct wf_grist_options {
    double og_low, og_high;            /* SG: the window, or a part of it */
    const struct wf_pick_yeast *yeast; /* NULL: none chosen */
    bool any_yeast; /* none chosen: final gravity and alcohol as loose as the problem's yeasts
                       together make them; else there are no rows for them */
    bool elastic;
    bool
        aims; /* with columns for the distance from the aims: for WF_GOAL_CLOSEST; not if elastic */
    bool change; /* with columns for the distance from the problem's `from`: for WF_GOAL_CHANGE; not
                    if elastic */
};

struct wf_grist_model {
    struct wf_model *model;
    struct wf_item *items; /* one a pick of the problem */
    size_t item_count;
    int total;           /* column of the grist's weight in kg */
    int deviation[2][2]; /* of gravity and colour from the aim, below and above; -1: no aim */
    struct wf_charges change;
};

enum wf_status wf_grist_model_make(const struct wf_problem *p, const struct wf_grist_options *o,
                                   struct wf_grist_model *out, struct wf_error *e) WF_MUST_USE;
void wf_grist_model_free(struct wf_grist_model *g);

/* Sets the costs of one goal; elastic models keep theirs and have no goal. */
void wf_grist_model_goal(struct wf_grist_model *g, const struct wf_problem *p, enum wf_goal goal);

/* The weights in kg of a point of the model, one a pick. */
void wf_grist_model_weights(const struct wf_grist_model *g, const double *x, double *kg);

#endif

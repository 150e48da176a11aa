/*
 * hop_model.h: the integer model of the hops, given the gravity.
 *
 * A column of whole steps and a 0-1 column for each hop in each slot, and a 0-1 column for each
 * hop's presence anywhere. Rows: bitterness, doses, varieties a slot, stock, hop character, `use`.
 *
 * Utilisation is a function of the boil gravity times one of the addition, by either law; so the
 * rows are written at one reference gravity, and a wish at another gravity is moved there: that
 * makes the bitterness wanted over a whole window of gravities two bounds on one row.
 */
#ifndef WF_HOP_MODEL_H
#define WF_HOP_MODEL_H

#include "model/grist_model.h"

/* No beer is given more varieties than this (common practice). */
#define WF_HOPS_MOST 4

struct wf_hop_options {
    double og_low, og_high; /* bitterness wanted somewhere in this window; equal: at this gravity */
    bool elastic;
    bool aims;    /* as in the grist's options */
    bool change;  /* likewise */
    bool counted; /* with a column for each hop's presence: for WF_GOAL_FEWEST */
};

struct wf_hop_model {
    struct wf_model *model;
    struct wf_item *items; /* one a place of the problem */
    size_t item_count;
    int *present; /* one a hop of the problem; -1: presence is not counted */
    bool counted;
    int *packs; /* likewise; -1: by weight */
    size_t hop_count;
    int bitterness_row; /* -1: bitterness is not wished */
    int deviation[2];   /* of bitterness from the aim; -1: no aim */
    struct wf_charges change;
};

/* The bitterness that is wanted somewhere between two gravities, moved to a reference gravity, and
 * its aim at the two. */
enum wf_status wf_hop_wanted(const struct wf_problem *p, double reference, double og_low,
                             double og_high, struct wf_range *out, double aim[2]) WF_MUST_USE;

/* The bitterness that these weights, one a place, would give at the reference gravity. */
enum wf_status wf_hop_given(const struct wf_problem *p, double reference, const double *grams,
                            double *ibu) WF_MUST_USE;

enum wf_status wf_hop_model_make(const struct wf_problem *p, const struct wf_hop_options *o,
                                 struct wf_hop_model *out, struct wf_error *e) WF_MUST_USE;
void wf_hop_model_free(struct wf_hop_model *h);
void wf_hop_model_goal(struct wf_hop_model *h, const struct wf_problem *p, enum wf_goal goal);
void wf_hop_model_grams(const struct wf_hop_model *h, const double *x, double *grams);

#endif

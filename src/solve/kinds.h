/*
 * kinds.h: what a problem's recipes consist of, as a drinker sees it: kinds of malt and of hop,
 * each in units of the amount that is noticed (choices.h).
 *
 * The amount of a kind is linear in the weights, for malts once it is multiplied by the weight of
 * the grist, so that "in an amount that is noticed" is a row of the models.
 */
#ifndef WF_KINDS_H
#define WF_KINDS_H

#include "solve/joint.h"

struct wf_kinds {
    size_t count, malts;                 /* kinds of malt come first, then those of hop */
    size_t *of_malt, *of_hop, *of_place; /* kind of each malt, each hop and each place's hop */
    size_t *lots;                        /* in the problem, one a kind */
    double *malt_part;                   /* amount that a malt adds, a kg and kg of grist */
    double *place_part;                  /* amount that a hop adds in a place, a gram */
};

/* In the arena. False: out of memory. */
bool wf_kinds_make(const struct wf_problem *p, struct wf_arena *arena, struct wf_kinds *out);

/* The amount of each kind in a recipe: 0 absent, 1 and more noticed. */
void wf_kinds_amounts(const struct wf_kinds *k, const struct wf_problem *p,
                      const struct wf_answer *a, double *amount);

bool wf_amount_noticed(double amount);
/* One has it in an amount that is noticed and the other lacks it. */
bool wf_amounts_differ(double a, double b);
/* No kind differs. */
bool wf_kinds_alike(const struct wf_kinds *k, const double *a, const double *b);

#endif

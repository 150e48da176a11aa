/*
 * change.h: the goal of least change (revise.h) as columns and costs of a model.
 *
 * Each ingredient of the recipe gets the distance of its weight from what it was, below and above,
 * and, since a lot is nothing or at least its least weight, how far it is below the least weight of
 * its lots: by that the charge for one that goes is linear. A lot that the recipe has not costs by
 * the step and by its use. What no lot can be is lost: a constant.
 */
#ifndef WF_CHANGE_H
#define WF_CHANGE_H

#include "model/model.h"
#include "model/problem.h"

struct wf_item;

struct wf_charge {
    int column;
    double cost;
};

struct wf_charges {
    struct wf_charge *list; /* NULL: none */
    size_t count;
    double offset;
};

/* Adds columns and rows for the problem's `from`; items are one a malt or one a place. *out is the
 * caller's to wf_charges_free, also after a failure. False: out of memory. */
bool wf_change_malts(struct wf_model *m, const struct wf_problem *p, const struct wf_item *items,
                     struct wf_charges *out);
bool wf_change_hops(struct wf_model *m, const struct wf_problem *p, const struct wf_item *items,
                    struct wf_charges *out);
void wf_charges_set(const struct wf_charges *c, struct wf_model *m);
void wf_charges_free(struct wf_charges *c);

/* ---- The measure, for models and for wf_recipe_change ---------------------------------------- */

/* The recipe's line that an ingredient is: the first of that kind; -1: none. */
int wf_change_malt_of(const struct wf_recipe *r, const struct wf_recipe_malt *m);
/* Of a hop also at that time of a boil so long. */
int wf_change_hop_of(const struct wf_recipe *r, const struct wf_recipe_hop *h, double boil_minutes);

/* The line that a lot is; whether one is that line, whatever the time. */
int wf_change_malt_lot(const struct wf_recipe *r, const struct wf_malt *lot);
bool wf_change_hop_lot(const struct wf_recipe *r, const struct wf_hop *lot, int line);

/* A line of the recipe: what all lines of its kind weigh together at that batch. */
double wf_change_malt_was(const struct wf_recipe *r, int line, double batch_l);
double wf_change_hop_was(const struct wf_recipe *r, int line, double batch_l, double boil_minutes);

double wf_change_per_kg(const struct wf_recipe *r, double batch_l);
double wf_change_per_gram(const struct wf_addition *a, double batch_l);
/* What a unit of one that comes counts by its likeness. */
double wf_change_malt_unlike(const struct wf_recipe *r, const struct wf_recipe_malt *m);
double wf_change_hop_unlike(const struct wf_recipe *r, const struct wf_recipe_hop *h);
/* The charge for one that comes; less for one like what is gone. */
double wf_change_malt_comes(const struct wf_recipe *r, double unlike);
double wf_change_hop_comes(const struct wf_recipe *r, double unlike);
/* `attenuation`: the one that the lot is reckoned with. */
double wf_change_yeast(const struct wf_recipe *r, const struct wf_yeast *y, double attenuation);

#endif

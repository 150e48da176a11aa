/*
 * refit_parts.h: what the parts of a refit share: the places of the schedule and what may go into
 * them (refit_places.c), the search (refit.c), the new recipe (refit_recipe.c).
 */
#ifndef WF_REFIT_PARTS_H
#define WF_REFIT_PARTS_H

#include "model/refit_model.h"
#include "wortfit/refit.h"

/* A hop as it is now: its lot, or the bag's alpha acid, or else as the recipe has it. */
struct wf_refit_hop {
    const char *id, *of, *name;
    double alpha;
    bool whole;
    const double *character;
    double have_g, step_g;
    double price_per_g; /* as the recipe has it; NaN: none, or the store's */
};

/* What a choice stands for. */
struct wf_refit_pick {
    size_t hop;
    struct wf_addition addition;
    double days;
};

struct wf_refit_work {
    const struct wf_recipe *from;
    const struct wf_refit_options *o;
    struct wf_arena *arena;  /* of the refit */
    struct wf_kettle kettle; /* with the stand of the new schedule */
    double stand_celsius, stand_length;
    struct wf_refit_hop *hops;
    size_t hop_count, hop_room, any_count; /* the first so many may go where none is named */
    struct wf_refit_place *places;
    size_t *line;               /* one a place: what was here, or WF_NO_LINE */
    bool *fixed;                /* one a place */
    struct wf_refit_pick *stay; /* one a place: what was here, as it is now */
    struct wf_refit_choice *choices;
    struct wf_refit_pick *picks; /* one a choice */
    size_t place_count, choice_count, choice_room;
    double *lot_most_g; /* one a hop */
    struct wf_refit_problem problem;
    double *x;                          /* the point that was chosen */
    double changed, change;             /* values of the two goals */
    double changed_bound, change_bound; /* and their bounds */
    struct wf_error *e;
};

/* Fills hops: the recipe's, or the store's, where that has none: what may go where no hop is named;
 * after them what the schedule names. (refit_hops.c) */
enum wf_status wf_refit_list_hops(struct wf_refit_work *w) WF_MUST_USE;
/* The hop of an addition of the recipe; the one of that id or full name. */
size_t wf_refit_hop_of_line(struct wf_refit_work *w, const struct wf_recipe_hop *h);
enum wf_status wf_refit_hop_called(struct wf_refit_work *w, const char *name,
                                   size_t *out) WF_MUST_USE;
bool wf_refit_is_called(const char *name, const char *id, const char *of, const char *full);

/* Fills all but the window of the problem. */
enum wf_status wf_refit_places(struct wf_refit_work *w) WF_MUST_USE;

/* The new recipe and what became of each addition, from the point. */
enum wf_status wf_refit_recipe(struct wf_refit_work *w, struct wf_refit *f) WF_MUST_USE;

/* "boil 60 min", as in messages. */
const char *wf_refit_at(struct wf_arena *a, const struct wf_addition *addition, double days);

#endif

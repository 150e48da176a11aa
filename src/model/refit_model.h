/*
 * refit_model.h: hop additions that may change, so that the bitterness is as wanted.
 *
 * Each place of the schedule holds what it held before, to the gram; or one of its choices (a hop
 * at a time) in whole steps; or, unless it must be used, nothing.
 *
 *     stay[i] + sum over its choices of use[c] <= 1,   least use[c] <= steps[c] <= most use[c]
 *
 * The gravity is given, so the bitterness is linear in the weights. Goals: the number of places
 * that change; the change itself, |bitterness - aim| in IBU plus, in units of `notch_g`, what each
 * place's weight changes by, a hop that is replaced being taken out whole; and the least and the
 * greatest bitterness that there is.
 */
#ifndef WF_REFIT_MODEL_H
#define WF_REFIT_MODEL_H

#include "model/model.h"

struct wf_refit_place {
    const char *label;
    double before_g;   /* 0: nothing was here */
    double before_ibu; /* by the gram, with the alpha acid of now */
    bool may_stay;     /* what was here is one of the choices */
    bool must;         /* may not be left empty */
    int lot;           /* what was here is of, as in lot_most_g; -1: none */
};

struct wf_refit_choice {
    size_t place;
    const char *label;
    double step_g, least, most; /* steps */
    double ibu;                 /* by the gram */
    bool same_hop;              /* as what was here */
    int lot;                    /* -1: as much as is wanted */
};

struct wf_refit_problem {
    const struct wf_refit_place *places;
    const struct wf_refit_choice *choices;
    size_t place_count, choice_count;
    const double *lot_most_g; /* what of each lot is left for these places */
    size_t lot_count;
    double ibu_low, ibu_high, ibu_aim; /* of these places together; aim NaN: none */
    double notch_g;
};

enum wf_refit_goal {
    WF_REFIT_FEWEST, /* places that change */
    WF_REFIT_LEAST,  /* change */
    WF_REFIT_LOWEST, /* bitterness, whatever is wanted */
    WF_REFIT_HIGHEST /* less the bitterness, likewise */
};

/* *out is yours to wf_model_free. `fewest`: no more places than this may change; NaN: any. */
enum wf_status wf_refit_model_make(const struct wf_refit_problem *p, enum wf_refit_goal goal,
                                   double fewest, struct wf_model **out,
                                   struct wf_error *e) WF_MUST_USE;

/* What a point means. */
bool wf_refit_stays(const struct wf_refit_problem *p, const double *x, size_t place);
double wf_refit_steps(const struct wf_refit_problem *p, const double *x, size_t choice);

#endif

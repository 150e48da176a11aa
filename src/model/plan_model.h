/*
 * plan_model.h: several beers in one integer model, for an independent solver: the joint model of
 * each, and a row a lot that holds what they take of it together to what is there and bought.
 */
#ifndef WF_PLAN_MODEL_H
#define WF_PLAN_MODEL_H

#include "model/joint_model.h"

/* In kg of malt, g of hops, packs of yeast; prices for one of them. */
struct wf_plan_model_lot {
    const char *id;
    double hand, buy_most;
    double pack; /* bought in whole packs of this; NaN: by weight */
    double price, worth;
};

struct wf_plan_model_beer {
    const struct wf_problem *problem;  /* all of one store, whose lots are the lots, kind by kind */
    const struct wf_pick_yeast *yeast; /* NULL: none */
};

/* Of the money for what is bought, or of the worth of what is used. *out is yours to
 * wf_model_free. */
enum wf_status wf_plan_model_make(const struct wf_plan_model_beer *beers, size_t count,
                                  const struct wf_plan_model_lot *lots, size_t lot_count,
                                  bool money, struct wf_model **out,
                                  struct wf_error *e) WF_MUST_USE;

#endif

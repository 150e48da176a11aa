/*
 * scale_model.h: whole steps next to given weights, such that sums of them come near to what they
 * were with the exact weights.
 *
 *     minimise  sum |steps[i] - exact[i]| / notch[i]  +  sum |sum per_step[i] steps[i] - wanted| /
 * notch
 *
 * over the two whole numbers next to each exact one. A column says which of the two, so the first
 * sum is linear; each further sum is an elastic row.
 */
#ifndef WF_SCALE_MODEL_H
#define WF_SCALE_MODEL_H

#include "model/model.h"

struct wf_scale_item {
    double exact;      /* steps */
    double notch;      /* steps; finite, above 0 */
    const char *label; /* of its column */
};

struct wf_scale_sum {
    const double *per_step; /* one an item */
    double wanted, notch;
    const char *label;
};

/* *out is yours to wf_model_free; one item at least. Columns 0 .. count - 1 are the items'. */
enum wf_status wf_scale_model_make(const struct wf_scale_item *items, size_t count,
                                   const struct wf_scale_sum *sums, size_t sum_count,
                                   struct wf_model **out, struct wf_error *e) WF_MUST_USE;

/* The steps that a point of the model stands for. */
void wf_scale_model_steps(const struct wf_scale_item *items, size_t count, const double *x,
                          double *steps);

#endif

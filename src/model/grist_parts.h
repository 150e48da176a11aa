/* grist_parts.h: what the files of the grist's model share. */
#ifndef WF_GRIST_PARTS_H
#define WF_GRIST_PARTS_H

#include "model/grist_model.h"

struct wf_grist_build {
    const struct wf_problem *p;
    const struct wf_grist_options *o;
    struct wf_grist_model *g;
    double extract_low, extract_high; /* kg in the batch */
    double grist_kg;                  /* about: for the notches of shares */
    double attenuation[2];            /* least and greatest, of the yeasts in question */
};

/* So much of a kg of lot i in a row. */
static inline void wf_grist_term(const struct wf_grist_build *b, int row, size_t i, double per_kg)
{
    wf_model_term(b->g->model, row, b->g->items[i].weight, per_kg * b->p->malts[i].step_kg);
}

enum wf_status wf_grist_add_residue(struct wf_grist_build *b) WF_MUST_USE; /* grist_residue.c */

#endif

/*
 * search.h: branch and bound on one model of grist or hops, with what its structure gives.
 *
 * 1. The linear relaxation: a bound, and a reduced cost for each lot.
 * 2. The integer model over the lots of least reduced cost only: a good first recipe, quickly.
 * 3. Lots that by their reduced cost cannot be in a better recipe are struck out: a lot that is
 * used at all is used at its least weight or more.
 * 4. The integer model over what is left, only for points better than the first recipe.
 *
 * Every bound that is returned holds for the whole model.
 */
#ifndef WF_SEARCH_H
#define WF_SEARCH_H

#include "solve/part.h"

enum wf_status wf_search(const struct wf_part *part, const struct wf_search_options *o,
                         struct wf_part_answer *out, struct wf_error *e) WF_MUST_USE;
void wf_part_answer_clear(struct wf_part_answer *a);

/* One search, the model's costs as they are. */
enum wf_status wf_search_model(const struct wf_part *part, const struct wf_search_options *o,
                               struct wf_solution *out, struct wf_error *e) WF_MUST_USE;

#endif

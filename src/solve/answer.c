/* answer.c: what is asked of an answer of the search (joint.h). */
#include "solve/joint.h"

#include "base/alloc.h"

enum wf_status wf_grist_gravity(const struct wf_problem *p, const double *kg, double *og)
{
    double extract = 0;
    for (size_t i = 0; i < p->malt_count; i++)
        extract += kg[i] * p->malts[i].extract;
    return wf_gravity_from_extract(extract / p->kettle.batch_l, og);
}

void wf_answer_clear(struct wf_answer *a)
{
    wf_free(a->kg);
    wf_free(a->grams);
    *a = (struct wf_answer){0};
}

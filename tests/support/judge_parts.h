/* judge_parts.h: what the files of the judge share. */
#ifndef WF_JUDGE_PARTS_H
#define WF_JUDGE_PARTS_H

#include "support/judge.h"

const struct wf_yeast *judge_yeast(const struct gen *g, const struct gen_recipe *r); /* or NULL */
double judge_attenuation(const struct wf_yeast *y);                                  /* NULL: NaN */

/* The beer; hops false: without hops and yeast. False: the laws do not cover it. */
bool judge_predict(const struct gen *g, const struct gen_recipe *r, bool hops, struct wf_beer *b);

/* Fills the values of the goals; the beer must have been predicted. */
void judge_reckon(const struct gen *g, const struct gen_recipe *r, struct verdict *v);

#endif

/* reason_words.h: demands and changes of them in a brewer's words. */
#ifndef WF_REASON_WORDS_H
#define WF_REASON_WORDS_H

#include "report/style.h"
#include "wortfit/reasons.h"

/* "colour at most 3.5 SRM", "only the malts that belong in it" */
void wf_words_of_demand(struct wf_text *out, const struct wf_demand *d, enum wf_units units);

/* "colour at most 3.5 SRM and the malts in the store cannot hold together" */
void wf_words_of_conflict(struct wf_text *out, const struct wf_conflict *c, enum wf_units units);

/* "colour up to 5.1 SRM", "450 g more of Pilsner malt: 0.77 EUR" */
void wf_words_of_shift(struct wf_text *out, const struct wf_shift *s, enum wf_units units);
/* "in all 1.73 EUR" where several things must be got; or nothing */
void wf_words_of_sum(struct wf_text *out, const struct wf_remedy *r);
/* All of it, with "; " between. */
void wf_words_of_remedy(struct wf_text *out, const struct wf_remedy *r, enum wf_units units);

#endif

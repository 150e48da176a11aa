/*
 * glass.h: what the reports that set two recipes side by side share. Titles are the heads of their
 * two columns.
 */
#ifndef WF_GLASS_H
#define WF_GLASS_H

#include "report/style.h"
#include "wortfit/check.h"

/* How much more the second figure is: "+0.3 SRM", "-12 g"; "same" where both are shown alike; "-"
 * where one is NaN. Returns buffer. */
char *wf_glass_difference(enum wf_dimension d, double first, double second, enum wf_units units,
                          char *buffer, size_t size);

/* Whether both recipes are of one batch, so that their weights can be compared as they are. */
bool wf_glass_same_batch(const struct wf_comparison *c);

/* Each writes whole lines and starts with an empty one. Grist and hops by weight where the batch is
 * the same, else by share and by grams in a litre. */
void wf_glass_grist(struct wf_text *out, const struct wf_comparison *c, const char *const title[2],
                    const struct wf_report_style *s);
void wf_glass_hops(struct wf_text *out, const struct wf_comparison *c, const char *const title[2],
                   const struct wf_report_style *s);
/* Gravity, colour, bitterness and the rest. */
void wf_glass_figures(struct wf_text *out, const struct wf_comparison *c,
                      const char *const title[2], const struct wf_report_style *s);
void wf_glass_character(struct wf_text *out, const struct wf_comparison *c,
                        const char *const title[2], const struct wf_report_style *s);

#endif

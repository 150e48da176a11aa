/* report_beer.h: the part of the page about a beer that fields cannot say. */
#ifndef WF_REPORT_BEER_H
#define WF_REPORT_BEER_H

#include "report/style.h"

/* What a target wants beside what the guideline gives, its rules for the grist, its hop schedule,
 * its yeasts. `item` is a struct wf_target. */
void wf_beer_more(struct wf_text *out, const void *item, const struct wf_report_style *s);

#endif

/*
 * report_in_short.h: a recipe in a line or two, for lists of recipes.
 */
#ifndef WF_REPORT_IN_SHORT_H
#define WF_REPORT_IN_SHORT_H

#include "report/style.h"

/* "Pale ale malt 4.3 kg, Crystal malt 40 Lov 250 g; 60 min Magnum 17 g; Clean ale yeast" */
void wf_short_recipe(struct wf_text *out, const struct wf_recipe *r, enum wf_units units);

/* "biscuit malt 4.0 % instead of crystal malt 120 Lov" */
void wf_short_changes(struct wf_text *out, const struct wf_choice *c, enum wf_units units);

/* "0.35 EUR dearer than the first" */
void wf_short_difference(struct wf_text *out, double more, const char *currency);

#endif

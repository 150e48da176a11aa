/* basis.h: what the figures of a recipe rest on. */
#ifndef WF_BASIS_H
#define WF_BASIS_H

#include "report/style.h"

/* Labels of this width stand before the lines below a recipe: "Reckoned", "Mash". */
#define WF_BASIS_LABEL 8

/* The system that a recipe was reckoned for, after an empty line: one typed by hand leaves much of
 * it to the brewhouse. */
void wf_basis_add(struct wf_text *out, const struct wf_recipe *r, const struct wf_report_style *s);

#endif

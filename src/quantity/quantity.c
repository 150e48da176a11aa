/* quantity.c: one figure with its unit, and what the dimensions are called. */
#include "wortfit/quantity.h"

#include "quantity/figure.h"

bool wf_quantity_parse(enum wf_dimension d, const char *text, double *out, char why[WF_REASON_MAX])
{
    char trimmed[WF_FIGURE_TEXT_MOST + 1];
    struct wf_figure f;
    return wf_figure_trim(d, text, trimmed, why) && wf_figure_read(d, trimmed, &f, why) &&
           wf_figure_value(d, &f, out, why);
}

bool wf_dimension_is_bare(enum wf_dimension d)
{
    return wf_dimension_table[d].bare;
}

const char *wf_dimension_called(enum wf_dimension d)
{
    return wf_dimension_table[d].called;
}

const char *wf_dimension_example(enum wf_dimension d)
{
    return wf_dimension_table[d].example;
}

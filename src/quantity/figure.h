/*
 * figure.h: one figure as written, before its unit is settled: in "8..12 SRM" the 8 gets its unit
 * from the other end. The functions say in `why` what is wrong with the text read (see quantity.h).
 */
#ifndef WF_FIGURE_H
#define WF_FIGURE_H

#include "quantity/unit_table.h"

#define WF_FIGURE_TEXT_MOST 64 /* bytes of one quantity or range */

struct wf_figure {
    double number;
    const struct wf_unit *unit; /* NULL: none is written */
    double rest;                /* internal unit: the ounces of "9 lb 9.5 oz", else 0 */
};

/* The whole of text is one figure of this dimension. */
bool wf_figure_read(enum wf_dimension d, const char *text, struct wf_figure *f,
                    char why[WF_REASON_MAX]);
/* Its value in the internal unit, within the dimension's limits. */
bool wf_figure_value(enum wf_dimension d, const struct wf_figure *f, double *out,
                     char why[WF_REASON_MAX]);

/* Copies text without the blanks round it; false where it is empty or longer than the most. */
bool wf_figure_trim(enum wf_dimension d, const char *text, char out[WF_FIGURE_TEXT_MOST + 1],
                    char why[WF_REASON_MAX]);

/* ---- Refusals (figure_refuse.c): each writes `why` and returns false ------------------------- */

bool wf_figure_refuse(char why[WF_REASON_MAX], const char *format, ...)
    __attribute__((format(printf, 2, 3)));
bool wf_figure_refuse_start(enum wf_dimension d, char why[WF_REASON_MAX]);
bool wf_figure_refuse_unit(enum wf_dimension d, double number, const char *unit,
                           char why[WF_REASON_MAX]);
bool wf_figure_refuse_bare(enum wf_dimension d, double number, char why[WF_REASON_MAX]);
bool wf_figure_refuse_limits(enum wf_dimension d, char why[WF_REASON_MAX]);

#endif

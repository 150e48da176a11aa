/*
 * svg_parts.h: what the drawings of a sheet are made of. A drawing is 340 units wide, as a phone
 * is, and its text is 12 high: the caption says in words what is drawn.
 */
#ifndef WF_SVG_PARTS_H
#define WF_SVG_PARTS_H

#include "report/html_put.h"

#define WF_SVG_WIDTH 340.0
#define WF_SVG_ROW   34.0 /* a label and a bar below it */

/* Ink and fills: each at least 4.5:1 on white (WCAG 2.1, 1.4.3). */
#define WF_SVG_INK   "#1f2328"
#define WF_SVG_BAR   "#1b5e83"
#define WF_SVG_PALE  "#b5d3e3" /* behind text only */
#define WF_SVG_FAINT "#6b7280"

enum wf_svg_anchor { WF_SVG_START, WF_SVG_MIDDLE, WF_SVG_END };

/* A figure with a drawing named `title`; ended by its caption. */
void wf_svg_begin(struct wf_html *h, const char *title, double height);
void wf_svg_end(struct wf_html *h, const char *caption);

void wf_svg_text(struct wf_html *h, double x, double y, enum wf_svg_anchor anchor,
                 const char *text);
void wf_svg_rect(struct wf_html *h, double x, double y, double width, double height,
                 const char *fill);
void wf_svg_line(struct wf_html *h, double x1, double y1, double x2, double y2, const char *ink);
void wf_svg_dot(struct wf_html *h, double x, double y, const char *fill);
/* A label, the figure at the right, and a bar of `share` (0..1) of the width below; row 0 is the
 * first. */
void wf_svg_bar(struct wf_html *h, size_t row, const char *label, const char *figure, double share);

#endif
